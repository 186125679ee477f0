"""The form of all numbers: made from the model's tables, counted where it holds, told where it does not."""

import json
from typing import Any

import pytest

from dashboard import library
from dashboard.edits import Edited, drafts_of, edited
from dashboard.numbers import parts
from dashboard.pages import numbers
from dashboard.scenarios import scenario_of, start
from dashboard.work import Work
from model.inputs.paths import parse_path
from tests.front.works import tiny_work

FOUR = 'engines["Four-stroke 45 kW"]'
OIL = f'{FOUR}.service.task["Engine oil and filter"]'
WORK = start()


def typed(path: str, raw: object, kind: str = "number") -> dict[str, object]:
    """A change as the browser sends it."""
    return {"does": "set", "path": path, "raw": raw, "kind": kind}


def after(*changes: dict[str, object], work: Work = WORK) -> Edited:
    """The work after some changes, one after the other."""
    found = Edited(work, {}, {})
    for change in changes:
        found = edited(found.work, found.drafts, change)
    return found


class TestOneField:
    def test_a_sound_number_counts(self) -> None:
        found = after(typed(f"{OIL}.labour", "1,5"))

        assert scenario_of(found.work).engine("Four-stroke 45 kW").service.task[0].labour == 1.5
        assert (found.drafts, found.problems) == ({}, {})

    def test_nonsense_is_kept_and_told_at_its_place(self) -> None:
        found = after(typed("prices.fuel", "2.5"), typed(f"{OIL}.labour", "soon"))

        assert found.work.values() == {"prices.fuel": 2.5}
        assert found.drafts == {f"{OIL}.labour": "soon"}
        assert found.problems == {f"{OIL}.labour": "Found 'soon'. Allowed: a number, 0 or more."}

    def test_it_recovers(self) -> None:
        found = after(typed(f"{OIL}.labour", "soon"), typed("prices.fuel", 2.5), typed(f"{OIL}.labour", 2))

        assert found.work.values() == {"prices.fuel": 2.5, f"{OIL}.labour": 2}
        assert (found.drafts, found.problems) == ({}, {})

    def test_what_the_file_says_is_no_change(self) -> None:
        assert after(typed("prices.fuel", 3), typed("prices.fuel", "1.85")).work == WORK

    @pytest.mark.parametrize(
        ("path", "raw", "kind", "value"),
        [
            ("servicing", "skipped", "choice", "skipped"),
            ("own_service_keeps_cover", "true", "flag", True),
            ("ownership.service_at_handover", True, "flag", True),
            ("title", "Ours", "text", "Ours"),
        ],
    )
    def test_every_kind_of_field_counts(self, path: str, raw: object, kind: str, value: object) -> None:
        assert after(typed(path, raw, kind)).work.values() == {path: value}

    def test_a_date_counts(self) -> None:
        found = after(typed("ownership.delivery", "2028-05-01", "date"))

        assert scenario_of(found.work).ownership.delivery.year == 2028


class TestTables:
    def test_two_shares_that_only_hold_together_are_counted_together(self) -> None:
        one = after(typed("use.band[1].share", "0.3"))
        both = edited(one.work, one.drafts, typed("use.band[2].share", "0.3"))

        assert one.work == WORK
        assert "use.band" in one.problems
        assert both.work.values() == {"use.band[1].share": 0.3, "use.band[2].share": 0.3}
        assert (both.drafts, both.problems) == ({}, {})

    def test_a_line_is_added_named_and_removed(self) -> None:
        tasks = f"{FOUR}.service.task"
        number = len(scenario_of(WORK).engine("Four-stroke 45 kW").service.task)

        added = after({"does": "add", "path": tasks})
        names = [task.name for task in scenario_of(added.work).engine("Four-stroke 45 kW").service.task]
        renamed = edited(added.work, {}, typed(f'{tasks}["{names[-1]}"].name', "Hull wash", "text"))
        labour = edited(renamed.work, {}, typed(f'{tasks}["Hull wash"].parts[1].price', 99))
        removed = edited(labour.work, {}, {"does": "remove", "path": tasks, "line": number})

        assert len(names) == number + 1
        last = scenario_of(labour.work).engine("Four-stroke 45 kW").service.task[-1]
        assert (last.name, last.parts[0].price) == ("Hull wash", 99)
        assert scenario_of(removed.work) == scenario_of(WORK)

    def test_a_first_line_states_what_it_must(self) -> None:
        found = after({"does": "add", "path": f"{FOUR}.warranty.steps"})

        assert len(scenario_of(found.work).engine("Four-stroke 45 kW").warranty.steps) == 1

    def test_a_table_that_was_not_there_is_added(self) -> None:
        found = after({"does": "add", "path": f"{FOUR}.finance"}, typed(f"{FOUR}.finance.rate", 0.07))

        assert scenario_of(found.work).engine("Four-stroke 45 kW").finance.rate == 0.07

    def test_a_field_is_left_empty(self) -> None:
        found = after({"does": "clear", "path": f"{FOUR}.service.task[1].every.months"})

        assert scenario_of(found.work).engine("Four-stroke 45 kW").service.task[0].every.months is None

    def test_one_sum_for_fit_up_becomes_a_list(self) -> None:
        found = after(typed('engines["Two-stroke"].fit_up[1].price', 700), work=tiny_work())

        assert [item.price for item in scenario_of(found.work).engines[0].fit_up] == [700]

    def test_a_change_is_taken_back(self) -> None:
        assert after(typed("prices.fuel", 3), {"does": "back", "path": "prices.fuel"}).work == WORK


@pytest.mark.parametrize(
    "edit",
    [
        None, [], "x", {}, {"path": 3}, typed("nowhere.at.all[3]", 1), typed("a" * 900, 1), typed("[", 1), typed("", 1),
        {"does": "remove", "path": "prices.fuel", "line": 0}, {"does": "add", "path": "prices.nothing"},
        {"does": "clear", "path": "title"}, {"does": "fly", "path": "prices.fuel"}, typed("engines", "x"),
        typed("prices.fuel", {"a": 1}), typed("prices.fuel", "9" * 5000), typed("use.band", 1e400),
    ],
)  # fmt: skip
def test_a_hostile_change_counts_for_nothing(edit: Any) -> None:
    found = edited(WORK, {}, edit)

    assert scenario_of(found.work) == scenario_of(WORK)
    numbers.form(found)


@pytest.mark.parametrize("stored", [None, [], {"prices.fuel": "x", "hours": 3, 5: 1, "a" * 900 + ".": 1}])
def test_drafts_are_those_of_the_form(stored: object) -> None:
    assert drafts_of(stored) == ({"prices.fuel": "x"} if stored else {})


def entries(node: Any) -> list[dict[str, Any]]:
    """Every field and cell of a form."""
    if isinstance(node, list):
        return [entry for item in node for entry in entries(item)]
    if not isinstance(node, dict):
        return []
    own = [node] if "value" in node else []
    return own + [entry for item in node.values() for entry in entries(item)]


@pytest.mark.parametrize("name", library.files())
def test_every_entry_of_every_form_can_be_set(name: str) -> None:
    work = Work(name)
    document = numbers.edits.document_of(work, {})
    for part, _ in parts(numbers.Content(document, None, "EUR")):
        found = json.loads(numbers.form(Edited(work, {}, {}), part))

        for number, entry in enumerate(entries(found["sections"])):
            assert parse_path(entry["path"])
            if number % 11 == 0 and entry["value"] is not None and "kind" in entry and entry["kind"] == "number":
                again = edited(work, {}, typed(entry["path"], entry["value"]))
                assert again.problems == {}, entry["path"]


def test_numbers_are_shown_in_house_units_as_paid() -> None:
    work = tiny_work(
        prices={"fuel": {"value": 3.785411784, "unit": "US gal", "tax": "excluded"}}, money={"tax_rate": 0.25}
    )

    found = entries(json.loads(numbers.form(Edited(work, {}, {})))["sections"])

    assert [entry["value"] for entry in found if entry["path"] == "prices.fuel"] == [pytest.approx(1.25)]
