"""Engines added to a work, renamed, taken out: in the form, in the saved file, in what the browser keeps."""

import json

import pytest

from dashboard.edits import Edited, edited
from dashboard.engine_edits import ADD, AS_FILE, COPY, TAKE_OUT, Changed, edited_engines
from dashboard.engines import new_name, path_of_name
from dashboard.lineup import MOST_ENGINES, engine_files, lineup_of
from dashboard.pages import numbers
from dashboard.saving import file_of
from dashboard.scenarios import counted, scenario_of, start, work_of
from dashboard.work import Work
from tests.front.works import tiny_work

WORK = start()
FOUR, TWO, OLD = (engine.name for engine in scenario_of(WORK).engines)
LIBRARY = "four-stroke-90kw"


def names(work: Work) -> list[str]:
    """Engines of a work in their order."""
    return [engine.name for engine in scenario_of(work).engines]


def done(does: str, name: str = "", work: Work = WORK) -> Changed:
    """A work after one change of its engines."""
    found = edited_engines(work, {}, {"does": does, "path": "", "name": name})
    assert found is not None
    return found


def called(work: Work, old: str, new: object) -> Edited:
    """A work after an engine was given another name."""
    return edited(work, {}, {"does": "set", "path": path_of_name(old), "raw": new, "kind": "text"})


def price(work: Work, name: str) -> float:
    """What an engine costs."""
    return scenario_of(work).engine(name).price


class TestACopy:
    def test_it_costs_what_the_engine_costs_with_its_changes(self) -> None:
        found = done(COPY, FOUR, WORK.changed({f'engines["{FOUR}"].price': 9000}))

        assert names(found.edited.work) == [FOUR, TWO, OLD, f"{FOUR} 2"]
        assert price(found.edited.work, f"{FOUR} 2") == 9000
        assert (found.part, found.told) == ("3", "")

    def test_it_is_changed_alone(self) -> None:
        work = done(COPY, FOUR).edited.work.changed({f'engines["{FOUR} 2"].price': 100})

        assert price(work, f"{FOUR} 2") == 100
        assert price(work, FOUR) == price(WORK, FOUR)

    def test_it_is_compared_where_some_are_not(self) -> None:
        work = done(COPY, FOUR, Work(WORK.name, engines=(TWO, OLD))).edited.work

        assert names(work) == [TWO, OLD, f"{FOUR} 2"]

    def test_there_is_a_most(self) -> None:
        work = WORK
        for _ in range(MOST_ENGINES):
            work = done(COPY, FOUR, work).edited.work

        assert len(names(work)) == MOST_ENGINES
        assert json.loads(numbers.form(Edited(work, {}, {})))["engines"]["isFull"]


class TestAnEngineOfTheLibrary:
    def test_it_stands_under_its_own_name(self) -> None:
        work = done(ADD, LIBRARY).edited.work

        assert names(work)[-1] == engine_files()[LIBRARY][0]

    def test_it_comes_into_an_opened_file(self) -> None:
        work = done(ADD, LIBRARY, tiny_work()).edited.work

        assert names(work)[-1] == engine_files()[LIBRARY][0]

    def test_twice_it_has_another_name(self) -> None:
        work = done(ADD, LIBRARY, done(ADD, LIBRARY).edited.work).edited.work

        assert names(work)[-1] == f"{engine_files()[LIBRARY][0]} 2"

    def test_one_that_the_scenario_cannot_take_is_told(self) -> None:
        no_oil = Work("mine.toml", file_of(done(TAKE_OUT, OLD, done(TAKE_OUT, TWO).edited.work).edited.work)[1])
        plain = no_oil.text.replace("[prices.two_stroke_oil]", "[prices.unused]").split("[prices.unused]")
        without_price = Work("mine.toml", plain[0] + "[" + plain[1].split("[", 1)[1])

        found = done(ADD, "two-stroke-carburetted-15kw", without_price)

        assert "prices.two_stroke_oil" in found.told
        assert found.edited.work == without_price

    @pytest.mark.parametrize("name", ["", "../../etc/passwd", "four-stroke-90kw.toml"])
    def test_no_other_file_is_read(self, name: str) -> None:
        assert done(ADD, name).edited.work == WORK


class TestTakingOut:
    def test_its_changes_go_with_it(self) -> None:
        work = WORK.changed({f'engines["{FOUR}"].price': 9000, f'engines["{TWO}"].price': 8000})

        after = done(TAKE_OUT, FOUR, work).edited.work

        assert names(after) == [TWO, OLD]
        assert after.values() == {f'engines["{TWO}"].price': 8000}

    def test_the_last_one_stays(self) -> None:
        work = done(TAKE_OUT, TWO, done(TAKE_OUT, FOUR).edited.work).edited.work

        assert done(TAKE_OUT, OLD, work).edited.work == work

    def test_all_come_back_as_the_file_has_them(self) -> None:
        changed = WORK.changed({f'engines["{TWO}"].price': 8000})
        work = called(done(TAKE_OUT, FOUR, done(COPY, TWO, changed).edited.work).edited.work, TWO, "Ours").work

        assert done(AS_FILE, work=work).edited.work == changed


class TestNames:
    def test_changes_follow_the_name(self) -> None:
        found = called(WORK.changed({f'engines["{FOUR}"].price': 9000}), FOUR, "  Ours  at last ")

        assert names(found.work) == ["Ours at last", TWO, OLD]
        assert price(found.work, "Ours at last") == 9000

    def test_one_that_is_taken_is_told_and_kept(self) -> None:
        found = called(WORK, FOUR, TWO)

        assert found.work == WORK
        assert found.problems == {
            path_of_name(FOUR): f"Another engine is called {TWO}. Allowed: a name that no other engine has."
        }
        shown = json.loads(numbers.form(found, "0"))["sections"][0]["items"][0]
        assert (shown["path"], shown["value"]) == (path_of_name(FOUR), TWO)

    def test_it_counts_once_the_other_is_called_otherwise(self) -> None:
        first = called(WORK, FOUR, TWO)

        found = edited(
            first.work, first.drafts, {"does": "set", "path": path_of_name(TWO), "raw": "Other", "kind": "text"}
        )

        assert found.problems == {}
        assert names(found.work) == [TWO, "Other", OLD]

    @pytest.mark.parametrize("name", ["", "   ", "x" * 81, None, 5, "a\x07b"])
    def test_what_is_no_name_is_told(self, name: object) -> None:
        assert called(WORK, FOUR, name).problems == {path_of_name(FOUR): "Allowed: a name of 1 to 80 characters."}

    @pytest.mark.parametrize("name", ['Our "best"', "a\\b", "<b>A</b>", "it's", "engines[1].price", "ñ 45"])
    def test_any_text_is_a_name(self, name: str) -> None:
        work = edited(
            called(WORK, FOUR, name).work,
            {},
            {"does": "set", "path": path_of_name(name).replace(".name", ".price"), "raw": "9100", "kind": "number"},
        ).work

        assert price(work, name) == 9100
        assert price(Work("saved.toml", file_of(work)[1]), name) == 9100

    def test_a_new_name_is_as_long_as_a_name_may_be(self) -> None:
        assert new_name("x" * 80, ["x" * 80]) == "x" * 76 + " 2"


class TestWhatTheBrowserKeeps:
    def test_it_comes_back(self) -> None:
        work = called(done(ADD, LIBRARY, done(COPY, FOUR).edited.work).edited.work, FOUR, "Ours").work

        assert work_of(json.loads(json.dumps(work.as_data()))) == work

    @pytest.mark.parametrize("lineup", ["x", [1], [{"name": "A"}], [{"name": 1, "like": "B"}], [{"like": "B"}]])
    def test_what_is_no_lineup_is_left_out(self, lineup: object) -> None:
        assert lineup_of(lineup) == ()

    def test_a_lineup_like_nothing_falls_back_to_the_file(self) -> None:
        broken = work_of({**WORK.as_data(), "lineup": [{"name": "A", "like": "nobody"}]})

        assert counted(broken) == WORK

    def test_the_changes_list_it(self) -> None:
        work = done(COPY, FOUR).edited.work

        line = json.loads(numbers.form(Edited(work, {}, {})))["changes"][0]

        assert line == {
            "path": "Engines",
            "file": f"{FOUR}, {TWO}, {OLD}",
            "now": f"{FOUR}, {TWO}, {OLD}, {FOUR} 2",
            "does": AS_FILE,
        }
