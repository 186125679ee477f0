"""Values on screen become a scenario; what is wrong is told at its field."""

import math
from typing import Any

import pytest

from dashboard import answers, text
from dashboard.form import FUEL, HABITS, HOURS, LABOUR, SPREAD, YEARS, check, fields_of, number_typed
from dashboard.habits import marks_of, shares_of
from dashboard.scenarios import scenario_of, start
from dashboard.work import Work
from model.inputs.scenario import Scenario
from model.language import speaking
from tests.front.works import tiny_work
from tests.tolerances import IDENTITY, half_last_digit

WORK = tiny_work()
"""The tiny comparison as it is."""


class TestCheck:
    def test_what_the_file_says_is_sound(self) -> None:
        typed = {field.key: field.value for field in fields_of(WORK)}

        checked = check(WORK, typed)

        assert (checked.work, checked.problems) == (WORK, {})

    @pytest.mark.parametrize("typed", [150, 150.0, "150", "150,0", " 150 "])
    def test_a_number_may_be_typed_many_ways(self, typed: object) -> None:
        checked = check(WORK, {HOURS: typed})

        assert checked.problems == {}
        assert checked.work.values() == {"use.hours_per_year": 150.0}

    @pytest.mark.parametrize("typed", [None, "", "-", "abc", True, math.nan, math.inf, [1], {"value": 1}, "1" * 99])
    def test_what_is_no_number_is_told(self, typed: object) -> None:
        checked = check(WORK, {HOURS: typed})

        assert (checked.work, checked.problems) == (WORK, {HOURS: text.NOT_A_NUMBER})

    @pytest.mark.parametrize("typed", [-1, 8767, 1e308])
    def test_what_cannot_be_is_told_in_the_models_words(self, typed: float) -> None:
        checked = check(WORK, {HOURS: typed})

        assert checked.work == WORK
        assert checked.problems[HOURS].startswith("Allowed: a number, 0 or more")

    def test_the_end_of_the_slider_is_not_the_end_of_the_world(self) -> None:
        assert check(WORK, {HOURS: 1500}).problems == {}

    def test_every_wrong_field_is_told_and_the_sound_ones_count(self) -> None:
        checked = check(WORK, {YEARS: 0, FUEL: "x", LABOUR: 77, "engines": []})

        assert set(checked.problems) == {YEARS, FUEL, "engines"}
        assert checked.problems["engines"] == text.NO_ENGINE
        assert checked.work.values() == {"prices.labour": 77.0}

    @pytest.mark.parametrize("chosen", [[], None, "Two-stroke", ["Nobody's"], {"Two-stroke": 1}])
    def test_at_least_one_engine_stays(self, chosen: object) -> None:
        assert check(WORK, {"engines": chosen}).problems == {"engines": text.NO_ENGINE}

    def test_all_engines_is_what_the_file_says(self) -> None:
        assert check(WORK, {"engines": ["Four-stroke", "Two-stroke", "Nobody's"]}).work == WORK


class TestSpread:
    def test_is_the_files_own(self) -> None:
        work = tiny_work(use={"spread": {"shape": "gamma", "variation": 0.6, "owner_share": 0.5}})

        assert {field.key: field.value for field in fields_of(work)}[SPREAD] == 60.0
        changed = check(work, {SPREAD: 30}).work

        assert changed.values() == {"use.spread": {"shape": "gamma", "variation": 0.3, "owner_share": 0.5}}
        assert check(changed, {SPREAD: 60}).work == work

    def test_of_another_shape_is_that_of_its_hours(self) -> None:
        work = tiny_work(use={"spread": {"shape": "uniform", "low": 40.0, "high": 160.0}})

        (spread,) = [field.value for field in fields_of(work) if field.key == SPREAD]

        assert spread == pytest.approx(120.0 / math.sqrt(12.0), abs=half_last_digit(3))

    def test_none_is_none(self) -> None:
        assert check(tiny_work(), {SPREAD: 0}).work == tiny_work()
        assert scenario_of(check(tiny_work(), {SPREAD: 40}).work).use.spread is not None


class TestHabits:
    def test_what_the_file_says_is_no_change(self) -> None:
        assert check(WORK, {HABITS: list(marks_of(scenario_of(WORK)))}).work == WORK

    @pytest.mark.parametrize("marks", [(0, 0), (0, 100), (100, 100), (20, 90), (50, 50), (33, 66)])
    def test_shares_are_as_asked_and_add_to_one(self, marks: tuple[int, int]) -> None:
        use = scenario_of(check(start(), {HABITS: list(marks)}).work).use

        slow, middle, _ = shares_of([(band.speed, band.share) for band in use.band])
        assert (round(100 * slow), round(100 * (slow + middle))) == marks
        assert sum(band.share for band in use.band) == pytest.approx(1.0, rel=IDENTITY)

    @pytest.mark.parametrize("raw", [None, "x", [1], [3, 1], [-1, 50], [0, 101], [True, 50], [{}, 1]])
    def test_nonsense_changes_nothing(self, raw: object) -> None:
        assert check(WORK, {HABITS: raw}).work == WORK


class TestFields:
    def test_ranges_hold_what_the_file_says(self) -> None:
        fields = fields_of(tiny_work(use={"hours_per_year": 1500.0}, ownership={"years": 30.0}))

        assert all(field.low <= field.value <= field.high for field in fields)

    def test_free_labour_can_be_made_dearer(self) -> None:
        labour = fields_of(tiny_work(prices={"labour": 0.0}))[-1]

        assert (labour.key, labour.low, labour.high) == (LABOUR, 0.0, 200.0)

    def test_units_and_currency_stand_with_the_number(self) -> None:
        units = [field.unit for field in fields_of(tiny_work(currency="CHF"))]

        assert units == ["h a year", "% of the mean", "years", "CHF a litre", "CHF an hour"]


class TestScenario:
    def scenario(self, work: Work = WORK, **typed: Any) -> Scenario:
        checked = check(work, typed)
        assert checked.problems == {}
        return scenario_of(checked.work)

    def test_every_number_arrives(self) -> None:
        changed = self.scenario(hours=77, years=6.5, fuel=3, labour=99)

        assert changed.hours() == (77.0,) * 7
        assert (changed.ownership.years, changed.prices.fuel, changed.prices.labour) == (6.5, 3.0, 99.0)

    def test_a_number_set_back_is_no_change(self) -> None:
        there = check(WORK, {FUEL: 3.0, HOURS: 200.0}).work

        assert check(there, {FUEL: 2.0, HOURS: 100.0}).work == WORK

    def test_hours_by_year_are_scaled_in_proportion_and_go_on(self) -> None:
        work = tiny_work(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 100.0, 100.0]})

        assert self.scenario(work, hours=200).hours() == pytest.approx((100.0, 300.0, 200.0, 200.0))
        assert self.scenario(work, years=6).hours() == pytest.approx((50.0, 150.0, 100.0, 100.0, 100.0, 100.0))
        assert check(check(work, {YEARS: 6}).work, {YEARS: 4}).work == work

    def test_engines_that_were_not_chosen_are_gone(self) -> None:
        assert [engine.name for engine in self.scenario(engines=["Four-stroke"]).engines] == ["Four-stroke"]


@pytest.mark.parametrize(
    ("language", "typed", "read"),
    [
        ("en", "9,800", 9800.0), ("en", "9,800.5", 9800.5), ("en", "-1,200", -1200.0), ("en", "0,125", 0.125),
        ("en", "2,5", 2.5), ("en", "2.5", 2.5), ("en", "9 800", 9800.0), ("en", "1,2,3", None), ("en", "9.800,5", None),
        ("es", "9.800", 9800.0), ("es", "9.800,5", 9800.5), ("es", "2.5", 2.5), ("es", "2,5", 2.5),
        ("es", "1.85", 1.85), ("es", "9\u00a0800", 9800.0), ("es", "1,234.5", None),
    ],
)  # fmt: skip
def test_thousands_are_read_as_the_language_parts_them(language: str, typed: str, read: float | None) -> None:
    with speaking(language):
        assert number_typed(typed) == read


def test_a_moved_spread_is_taken_back_from_what_sweeps_are_kept_under() -> None:
    work = start()
    moved = check(work, {"spread": 55}).work

    assert moved != work
    assert answers.without(moved, SPREAD) == answers.without(work, SPREAD)
