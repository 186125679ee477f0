"""The fleet's page without a browser: its ids, its controls, what is opened, what is shown while a run goes on."""

import io
import json
import math
import zipfile
from dataclasses import replace
from typing import Any

import pytest
from dash import dcc, html
from flask.testing import FlaskClient

from dashboard import fleet_ids as ids
from dashboard import fleet_tables
from dashboard.app import build_app, layout
from dashboard.fleet_answers import FleetAnswer, ready, work_out
from dashboard.fleet_controls import counted_changes, filled
from dashboard.fleet_work import (
    HORIZON,
    LIMIT,
    POLICY,
    FleetWork,
    files_of,
    fleet_of,
    fleet_work_of,
    start,
    stored_fleet,
)  # fmt: skip
from dashboard.jobs import JOBS, Job
from dashboard.pages import fleet as page
from model.inputs.problems import InputError
from tests.front.asking import ask
from tests.front.test_app import TINY, ids_of
from tests.small_fleet import ENGINE, FLEET, REGISTER

BOATS = FleetWork("hire-boats")


@pytest.fixture(scope="module")
def answer() -> FleetAnswer:
    """The hire boats, worked out whole."""
    work_out(BOATS, Job(BOATS, asked=math.inf))
    found = ready(BOATS)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    """The application as a browser reaches it."""
    return build_app().server.test_client()


def own(fleet: str = FLEET, register: str = REGISTER, **more: Any) -> dict[str, Any]:
    """The smallest fleet as a browser sends it, its engine within the file."""
    engine = "[[engines]]\n" + ENGINE.replace("format = 1\n", "").replace("\n[fuel]", "\n[engines.fuel]")
    engine = engine.replace("[[repair]]", "[[engines.repair]]").replace("[resale]", "[engines.resale]")
    return {"name": "mine.toml", "text": fleet.replace('[[engines]]\nfile = "four.toml"\n', engine),
            "tables": {"units.csv": register}, **more}  # fmt: skip


def test_every_id_is_somewhere(answer: FleetAnswer) -> None:
    parts = [layout(build_app()), *page.layout(TINY), *filled(start()), *page.drawn(answer, "light")[1]]
    drawn = {ids.BUDGET, ids.CALENDAR, ids.AGES, ids.POLICIES, ids.LOG}  # pictures, whose parts have ids made of theirs

    assert {name for name in vars(ids).values() if isinstance(name, str)} - set(vars(ids)["__builtins__"]) - drawn - {
        vars(ids)[name] for name in ("__name__", "__doc__", "__package__", "__file__", "__cached__")
    } <= set(ids_of(*parts))


class TestWhatTheBrowserSends:
    @pytest.mark.parametrize(
        "sent",
        [
            None, [], {"name": "no-such-fleet"}, {"name": "../hire-boats"}, {"name": "x", "text": 3},
            {"name": "x", "text": "a = 1", "tables": {"a.csv": 3}}, {"name": "x", "text": "a" * 1_000_001},
            {"name": "x", "text": "a = 1", "tables": {str(number): "" for number in range(9)}},
        ],
    )  # fmt: skip
    def test_what_has_no_form_is_the_start(self, sent: object) -> None:
        assert stored_fleet(sent) is None
        assert fleet_work_of(sent) == start()

    def test_only_what_the_page_changes_is_taken(self) -> None:
        sent = {"name": "hire-boats", "changes": {"fleet.register": '"/etc/passwd"', HORIZON: "5", LIMIT: "1 2"}}

        assert stored_fleet(sent) == FleetWork("hire-boats", changes=((HORIZON, "5"),))

    def test_changes_that_do_not_hold_are_left_out(self) -> None:
        assert fleet_work_of({"name": "hire-boats", "changes": {HORIZON: "500"}}) == BOATS

    def test_it_comes_back_as_it_was_sent(self) -> None:
        work = BOATS.changed(POLICY, {"at_age": 5}).changed(LIMIT, "")

        assert stored_fleet(json.loads(json.dumps(work.as_data()))) == work

    def test_a_fleet_of_ones_own_is_read(self) -> None:
        work = stored_fleet(own())

        assert work is not None
        assert [unit.name for unit in fleet_of(work).units] == ["A", "B"]

    @pytest.mark.parametrize("name", ["/etc/passwd", "../../requirements.txt"])
    def test_no_name_of_theirs_is_a_path(self, name: str) -> None:
        work = stored_fleet(own(FLEET.replace('"units.csv"', f'"{name}"')))

        assert work is not None
        with pytest.raises(InputError, match=r"fleet\.register"):
            fleet_of(work)


class TestControls:
    def given(self, **changes: object) -> dict[str, Any]:
        """What stands at the controls of the hire boats, changed."""
        stands = {ids.POLICY: "0", ids.NUMBER: 10, ids.HORIZON: 8, ids.LIMIT: "", ids.TRADE_IN: 85}
        return stands | {getattr(ids, name): value for name, value in changes.items()}

    def test_what_the_file_says_is_no_change(self) -> None:
        assert counted_changes(BOATS, self.given())[0] == BOATS

    def test_what_is_sound_is_counted(self) -> None:
        work, told = counted_changes(
            BOATS, self.given(POLICY="at_meter_hours", NUMBER="1500,5", HORIZON=5, LIMIT=20000, TRADE_IN=50)
        )

        terms = fleet_of(work).terms
        assert (terms.policy.at_meter_hours, terms.horizon, terms.yearly_limit) == (1500.5, 5, 20000)
        assert terms.trade_in == 0.5
        assert not any(told.values())

    @pytest.mark.parametrize(
        ("changes", "field", "said"),
        [
            ({"HORIZON": 400}, ids.HORIZON, "at most 30"),
            ({"HORIZON": "many"}, ids.HORIZON, "A number is needed"),
            ({"LIMIT": 100}, ids.LIMIT, "at least 4,130"),
            ({"TRADE_IN": 120}, ids.TRADE_IN, "0 to 100"),
            ({"POLICY": "at_age", "NUMBER": -1}, ids.NUMBER, "above 0"),
        ],
    )
    def test_what_is_not_is_told_at_its_field(self, changes: dict[str, object], field: str, said: str) -> None:
        work, told = counted_changes(BOATS, self.given(**changes))

        assert work == BOATS
        assert said in told[field]

    def test_the_limit_can_be_taken_away(self) -> None:
        work = FleetWork("regional-operator")
        stands = {ids.POLICY: "0", ids.NUMBER: 10, ids.HORIZON: 10, ids.LIMIT: "", ids.TRADE_IN: 85}

        assert fleet_of(counted_changes(work, stands)[0]).terms.yearly_limit is None


def test_names_are_no_markup_in_the_pictures(answer: FleetAnswer) -> None:
    first, *others = answer.fleet.units
    fits = {"<b>A</b>" if name == first.name else name: fit for name, fit in answer.fleet.hour_fits.items()}
    units = (replace(first, name="<b>A</b>"), *others)
    hostile = replace(answer, fleet=replace(answer.fleet, units=units, hour_fits=fits))

    _, parts = page.drawn(hostile, "light")

    figures = str([part.figure for part in html.Div(parts)._traverse() if isinstance(part, dcc.Graph)])
    assert "&lt;b&gt;A&lt;/b&gt;" in figures
    assert "<b>A</b>" not in figures


class TestTables:
    def rows(self, table: Any) -> list[list[Any]]:
        """Rows of a table as the browser gets them."""
        return list(json.loads(table.to_plotly_json()["props"]["data-table"])["rows"])

    def test_units_by_site(self, answer: FleetAnswer) -> None:
        every, north = (self.rows(fleet_tables.units_table(answer, site)) for site in (None, "North pier"))

        assert len(every) == 24
        assert {row[1] for row in north} == {"North pier"}
        assert 0 < len(north) < 24

    def test_parts_add_up(self, answer: FleetAnswer) -> None:
        rows = self.rows(fleet_tables.parts_table(answer))

        for by in ("element", "site", "technology"):
            total = sum(row[-1][1] for row in rows if row[1] == by)
            assert total == pytest.approx(float(answer.budget.expected.sum()))

    def test_what_is_due_has_its_reason(self, answer: FleetAnswer) -> None:
        rows = self.rows(fleet_tables.due_table(answer))

        assert len(rows) == len(answer.plan.bought)
        assert "years old, limit 8" in rows[0][5]


class TestCallbacks:
    def test_an_answer_that_comes_in_time_is_shown(
        self, client: FlaskClient, answer: FleetAnswer, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(page, "PATIENCE", 300.0)  # a busy machine is not what this looks at

        told = json.dumps(ask(client, f"{ids.PARTS}.children", {ids.FLEET: BOATS.as_data()}))

        assert "are expected to cost" in told
        assert str(answer.budget.units) in told

    def test_a_run_is_followed_and_stopped(self) -> None:
        name = JOBS.start(BOATS, lambda job: job.stop.wait(20) and None)

        shown = page.state_of(name, 0, "light")
        JOBS.stop(name)

        assert shown[2:] == ({"name": name, "seen": 0}, False, "Waiting for its turn or preparing ...", False)
        ended = "This run has ended; load the page again or change a value to go on."
        assert page.state_of(name, 0, "light")[3:] == (True, ended, True)
        assert page.state_of("", 0, "light")[3:] == (True, "", True)

    def test_a_run_that_fails_is_told_in_a_fixed_sentence(self) -> None:
        def fails(_: Job) -> None:
            raise ValueError("secret")

        name = JOBS.start(BOATS, fails)
        job = JOBS.get(name)
        assert job is not None
        assert job.over.wait(5)

        assert "secret" not in str(page.state_of(name, 0, "light"))
        assert "Something went wrong" in str(page.state_of(name, 0, "light"))

    def test_files_that_cannot_be_read_are_told(self, client: FlaskClient) -> None:
        sent = own(register=REGISTER.replace("A,Four-stroke,1", "A,Four-stroke,0"))

        told = json.dumps(ask(client, f"{ids.TOLD}.children", {ids.ASKED: sent}))

        assert "row 2, count" in told

    def test_the_files_of_a_fleet_open_again(self) -> None:
        name, content = files_of(BOATS)
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            texts = {one: archive.read(one).decode("utf-8") for one in archive.namelist()}
        toml = texts.pop("hire-boats.toml")
        again = stored_fleet({"name": "hire-boats.toml", "text": toml, "tables": texts})

        assert name == "hire-boats.zip"
        assert again is not None
        assert fleet_of(again).units == fleet_of(BOATS).units
