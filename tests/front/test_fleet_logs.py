"""What a fleet's logs show on its page: the picture of repairs over age, rows behind its marks, the hour log."""

import json
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from dashboard import fleet_logs
from dashboard.drawer import behind_of
from dashboard.figures import cumulative_repairs
from dashboard.fleet_answers import FleetAnswer, _budget_of, _costs_of
from dashboard.fleet_work import FleetWork, fleet_of
from dashboard.jobs import Job
from dashboard.theme import looks
from model.fleet.logs_told import notes_of_hours
from model.fleet.repair_log import ModeFit
from tests.tolerances import IDENTITY

BOATS = FleetWork("hire-boats")


@pytest.fixture(scope="module")
def answer() -> FleetAnswer:
    """The hire boats with their logs; the budget as of the file, over few years."""
    work = BOATS.changed("fleet.horizon", 1)
    plan, budget = _budget_of(work, _costs_of(work), Job(work, asked=float("inf")))
    return FleetAnswer(fleet_of(work), plan, budget, (), None)


@pytest.fixture(scope="module")
def most(answer: FleetAnswer) -> ModeFit:
    """The failure mode with most repairs."""
    return fleet_logs.repaired_modes(answer)[0]


def drawn(answer: FleetAnswer, one: ModeFit) -> list[dict[str, Any]]:
    """Traces of the picture of a mode."""
    keys = [f"key {row}" for row in range(one.repairs)]
    look = looks(answer.fleet.file.engines)[one.engine]
    return list(cumulative_repairs.picture(answer.fleet, one, look, keys)["data"])


class TestPicture:
    def test_the_steps_are_the_logs_mean_cumulative_repairs(self, answer: FleetAnswer, most: ModeFit) -> None:
        steps, marks, *_ = drawn(answer, most)

        assert list(zip(marks["x"], marks["y"], strict=True)) == list(most.seen)
        assert steps["line"]["shape"] == "hv"
        assert steps["y"][1:-1] == marks["y"]

    def test_the_fitted_law_and_the_files_stand_beside_it(self, answer: FleetAnswer, most: ModeFit) -> None:
        *_, fitted, of_file = drawn(answer, most)
        assert most.fit is not None
        assert most.of_file is not None

        ages = np.array(fitted["x"])
        assert fitted["y"] == pytest.approx((ages / most.fit.scale) ** most.fit.shape, rel=IDENTITY)
        assert of_file["y"] == pytest.approx((ages / most.of_file.scale) ** most.of_file.shape, rel=IDENTITY)

    def test_too_few_repairs_have_no_law_and_say_so(self, answer: FleetAnswer) -> None:
        few = fleet_logs.repaired_modes(answer)[-1]

        assert few.fit is None
        assert len(drawn(answer, few)) == 3
        assert cumulative_repairs.finding(few).endswith("too few repairs to fit a law")

    @pytest.mark.parametrize(
        ("shapes", "said"), [((1.2, 3.0), "more often"), ((0.2, 0.9), "less often"), ((0.8, 2.0), "cannot be told yet")]
    )
    def test_the_finding_says_no_more_than_the_interval_holds(
        self, most: ModeFit, shapes: tuple[float, float], said: str
    ) -> None:
        assert most.fit is not None
        one = replace(most, fit=replace(most.fit, shape_interval=shapes))

        assert said in cumulative_repairs.finding(one)


class TestRows:
    def test_a_mark_opens_its_row_of_the_log(self, answer: FleetAnswer, most: ModeFit) -> None:
        told = str(fleet_logs.rows_of_log(answer, (0, 1)))

        repair = most.logged[1]
        assert f"{repair.unit}, " in told
        assert f"{repair.meter_hours:,.0f} h on the meter: {repair.cost:,.0f} EUR" in told

    def test_the_repairs_are_in_the_order_of_the_marks(self, most: ModeFit) -> None:
        ages = [repair.meter_hours for repair in most.logged]

        assert most.clock.value == "hours"
        assert ages == [age for age, _ in most.seen]

    def test_a_key_comes_back(self) -> None:
        key = f"{fleet_logs.OF_LOG}{json.dumps([2, 3])}"

        assert fleet_logs.log_row_of(key) == (2, 3)
        assert behind_of(key) is None

    @pytest.mark.parametrize("key", [None, 3, "rows:log:", "rows:log:[1]", "rows:log:[[]]", 'rows:["Four", [], 1]'])
    def test_what_is_no_key_opens_nothing(self, key: object) -> None:
        assert fleet_logs.log_row_of(key) is None

    @pytest.mark.parametrize("opened", [(99, 0), (0, 999), (-1, 0), (0, -1)])
    def test_rows_that_are_not_there_open_nothing(self, answer: FleetAnswer, opened: tuple[int, int]) -> None:
        assert fleet_logs.rows_of_log(answer, opened) is None


def test_the_hour_log_tells_its_findings_beside_the_registers_hours(answer: FleetAnswer) -> None:
    section = str(fleet_logs.sections(answer)[1])

    assert "The hour log has 5 places to look at" in section
    assert all(line in section for line in answer.fleet.hour_findings)
    (note,) = notes_of_hours(answer.fleet)
    assert note in section
    rows = json.loads(fleet_logs.hours_table(answer).to_plotly_json()["props"]["data-table"])["rows"]
    assert [row[0] for row in rows] == [unit.name for unit in answer.fleet.units]
