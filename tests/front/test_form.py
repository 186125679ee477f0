"""Values on screen become a scenario; what is wrong is told at its field."""

import math
from typing import Any

import pytest

from dashboard import text
from dashboard.form import FUEL, HOURS, LABOUR, YEARS, Form, form_of, scenario_of
from model.inputs.scenario import Scenario
from tests.tiny import two_engines


@pytest.fixture
def form(tiny: Scenario) -> Form:
    return form_of(tiny)


def raw(form: Form, **changes: Any) -> dict[str, Any]:
    """What a browser sends, with single fields changed."""
    return {**form.start.as_data(), **changes}


class TestCheck:
    def test_what_the_file_says_is_sound(self, form: Form) -> None:
        assert form.check(form.start.as_data()) == (form.start, {})

    @pytest.mark.parametrize("typed", [150, 150.0, "150", "150,0", " 150 "])
    def test_a_number_may_be_typed_many_ways(self, form: Form, typed: object) -> None:
        values, problems = form.check(raw(form, hours=typed))

        assert problems == {}
        assert values is not None
        assert values.number(HOURS) == 150.0

    @pytest.mark.parametrize("typed", [None, "", "-", "abc", True, math.nan, math.inf, [1], {"value": 1}, "1" * 99])
    def test_what_is_no_number_is_told(self, form: Form, typed: object) -> None:
        values, problems = form.check(raw(form, hours=typed))

        assert values is None
        assert problems == {HOURS: "A number is needed: 0 to 1,000 h a year."}

    @pytest.mark.parametrize("typed", [-1, 1000.5, 1e308])
    def test_what_cannot_be_is_told(self, form: Form, typed: float) -> None:
        assert form.check(raw(form, hours=typed)) == (None, {HOURS: "Allowed: 0 to 1,000 h a year."})

    def test_every_wrong_field_is_told(self, form: Form) -> None:
        _, problems = form.check(raw(form, years=0, fuel="x", engines=[]))

        assert set(problems) == {YEARS, FUEL, "engines"}
        assert problems["engines"] == text.NO_ENGINE

    @pytest.mark.parametrize("chosen", [[], None, "Two-stroke", ["Nobody's"], {"Two-stroke": 1}])
    def test_at_least_one_engine_stays(self, form: Form, chosen: object) -> None:
        assert form.check(raw(form, engines=chosen))[0] is None

    def test_engines_come_in_the_files_order(self, form: Form) -> None:
        values, _ = form.check(raw(form, engines=["Four-stroke", "Two-stroke", "Nobody's"]))

        assert values is not None
        assert values.engines == ("Two-stroke", "Four-stroke")


class TestFields:
    def test_ranges_hold_what_the_file_says(self) -> None:
        form = form_of(two_engines(use={"hours_per_year": 1500.0}, ownership={"years": 30.0}))

        assert all(field.low <= field.start <= field.high for field in form.fields)

    def test_free_labour_can_be_made_dearer(self) -> None:
        labour = form_of(two_engines(prices={"labour": 0.0})).fields[3]

        assert (labour.key, labour.low, labour.high) == (LABOUR, 0.0, 200.0)

    def test_units_and_currency_stand_with_the_number(self) -> None:
        units = [field.unit for field in form_of(two_engines(currency="CHF")).fields]

        assert units == ["h a year", "years", "CHF a litre", "CHF an hour"]


class TestScenario:
    def scenario(self, form: Form, **changes: Any) -> Scenario:
        values, problems = form.check(raw(form, **changes))
        assert values is not None, problems
        return scenario_of(form, values)

    def test_nothing_changed_changes_nothing(self, form: Form) -> None:
        assert self.scenario(form) == form.scenario

    def test_every_number_arrives(self, form: Form) -> None:
        changed = self.scenario(form, hours=77, years=6.5, fuel=3, labour=99)

        assert changed.hours() == (77.0,) * 7
        assert (changed.ownership.years, changed.prices.fuel, changed.prices.labour) == (6.5, 3.0, 99.0)

    def test_hours_by_year_are_scaled_in_proportion_and_go_on(self) -> None:
        form = form_of(two_engines(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 100.0, 100.0]}))

        assert self.scenario(form).hours() == (50.0, 150.0, 100.0, 100.0)
        assert self.scenario(form, hours=200).hours() == pytest.approx((100.0, 300.0, 200.0, 200.0))
        assert self.scenario(form, years=6).hours() == pytest.approx((50.0, 150.0, 100.0, 100.0, 100.0, 100.0))

    def test_engines_that_were_not_chosen_are_gone(self, form: Form) -> None:
        assert [engine.name for engine in self.scenario(form, engines=["Four-stroke"]).engines] == ["Four-stroke"]
