"""Break-even in time: closed forms, a fine grid, and every answer that there can be."""

import numpy as np
import pytest
from hypothesis import given, settings

from model.break_even import (
    BreakEvenYears,
    accumulate,
    break_even_years,
    cumulative_cost,
    mid_year_cost,
    pays_from,
    sold_at,
)
from model.cheapest import break_even
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from tests import strategies
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION

BARE = {"fit_up": None, "service": None, "repair": None, "warranty": None, "resale": None, "oil": None}
GAP, YEARLY_SAVING = 1000.0, (10.0 - 7.0) * 2.0 * 100.0  # prices 6000 and 5000; 10 and 7 L/h at 2 a litre, 100 h a year


def pair(**tables: object) -> Scenario:
    """Two engines that cost nothing but price and fuel."""
    return two_engines(dict(BARE), dict(BARE), **tables)


def years_of(scenario: Scenario) -> BreakEvenYears:
    return break_even_years(mid_year_cost(scenario, "Four-stroke"), mid_year_cost(scenario, "Two-stroke"))


class TestClosedForms:
    def test_price_gap_over_yearly_saving(self) -> None:
        assert years_of(pair()).nominal == pytest.approx(GAP / YEARLY_SAVING, rel=1e-9)

    def test_discounted_saving_accrues_evenly_within_each_year(self) -> None:
        rate = 0.05
        first_year, second_year = YEARLY_SAVING / 1.05**0.5, YEARLY_SAVING / 1.05**1.5

        found = years_of(pair(money={"discount_rate": rate}))

        assert found.discounted == pytest.approx(1.0 + (GAP - first_year) / second_year, rel=1e-9)

    def test_timing_does_not_matter(self) -> None:
        money = {"discount_rate": 0.05, "inflation": 0.02}

        assert years_of(pair(money={**money, "timing": "year-end"})) == years_of(pair(money=money))

    def test_sold_then_with_values_that_fall_evenly(self) -> None:
        resale = {"by_age": [[0.0, 0.8], [10.0, 0.0]]}  # the dearer engine is worth 800 - 80 t more

        found = years_of(two_engines({**BARE, "resale": resale}, {**BARE, "resale": resale}))

        assert found.if_sold == pytest.approx((GAP - 800.0) / (YEARLY_SAVING - 80.0), rel=1e-9)

    def test_hours_a_year_are_linear(self) -> None:
        found = break_even(pair())

        assert found.pairs[0].about_equal_hours is not None
        assert found.pairs[0].about_equal_hours == pytest.approx((GAP / (3.0 * 2.0 * 4.0),) * 2, abs=0.005)

    def test_part_of_a_year_accrues_over_that_part(self) -> None:
        assert years_of(pair(ownership={"years": 1.8})).nominal == pytest.approx(GAP / YEARLY_SAVING, rel=1e-9)


class TestEveryAnswer:
    def test_never_within_the_period(self) -> None:
        assert years_of(pair(ownership={"years": 1.5})).nominal is None

    def test_from_the_start_when_nothing_is_dearer(self) -> None:
        scenario = pair()
        same = mid_year_cost(scenario, "Two-stroke")

        assert break_even_years(same, same) == BreakEvenYears(0.0, 0.0, 0.0)

    def test_on_the_day_of_an_event_that_tips_it(self) -> None:
        difference = accumulate([0.0, 0.0], 2.0, [0.0, 1.25], [100.0, -150.0])

        assert pays_from(difference.t, difference.before, difference.after) == 1.25

    def test_a_later_event_that_undoes_it_counts(self) -> None:
        difference = accumulate([-300.0, 0.0], 2.0, [0.0, 0.5, 1.5], [100.0, 60.0, -200.0])

        assert pays_from(difference.t, difference.before, difference.after) == pytest.approx(160.0 / 300.0, rel=1e-12)

    def test_a_last_event_that_undoes_it_for_good(self) -> None:
        difference = accumulate([-300.0, 0.0], 2.0, [0.0, 2.0], [100.0, 900.0])

        assert pays_from(difference.t, difference.before, difference.after) is None

    def test_a_loan_is_owed_until_it_is_repaid(self) -> None:
        finance = {"deposit": 0.0, "rate": 0.0, "months": 24}
        paid = years_of(pair())
        lent = years_of(two_engines({**BARE, "finance": finance}, {**BARE, "finance": finance}))

        # Without interest a sale at any time leaves what it leaves without a loan.
        assert lent.if_sold == pytest.approx(paid.if_sold, rel=1e-9)
        assert lent.nominal is not None
        assert lent.nominal <= paid.nominal

    def test_baseline_is_the_cheapest_to_buy_or_the_one_named(self) -> None:
        assert break_even(pair()).baseline == "Two-stroke"
        assert break_even(pair(), "Four-stroke").baseline == "Four-stroke"
        with pytest.raises(ValueError, match="Six-stroke"):
            break_even(pair(), "Six-stroke")


@settings(max_examples=25)
@given(one=strategies.engines("One"), other=strategies.engines("Two"), file=strategies.files())
def test_the_curve_ends_at_the_total_and_the_search_equals_a_fine_grid(one, other, file) -> None:  # noqa: ANN001
    scenario = strategies.scenario({**file, "engines": [one, other]})
    costs = [mid_year_cost(scenario, name) for name in ("One", "Two")]
    for cost in costs:
        without_resale = cost.total.nominal - cost.elements[Element.RESALE].nominal
        assert cumulative_cost(cost).after[-1] == pytest.approx(without_resale, rel=REGRESSION, abs=1e-6)
        assert sold_at(cost)(np.array([cost.case.years]))[1][0] == pytest.approx(cost.total.nominal, rel=1e-9, abs=1e-6)

    found = break_even_years(*costs)

    grid = np.linspace(0.0, costs[0].case.years, 20_001)
    for years, curves in (
        (found.nominal, [cumulative_cost(cost).at for cost in costs]),
        (found.discounted, [cumulative_cost(cost, discounted=True).at for cost in costs]),
        (found.if_sold, [sold_at(cost) for cost in costs]),
    ):
        difference = curves[0](grid)[1] - curves[1](grid)[1]
        tiny = 1e-6 * max(1.0, float(np.abs(difference).max()))
        above = grid[difference > tiny]
        if years is None:
            assert above.size
            assert above[-1] == pytest.approx(grid[-1], abs=2 * grid[1])
        elif above.size:
            assert above[-1] <= years + IDENTITY * years
            assert years - above[-1] < 0.05 * grid[-1] or difference[grid > above[-1]].max() > -tiny * 1e3


def test_a_curve_read_at_an_event_gives_both_sides_of_it() -> None:
    curve = accumulate([100.0], 1.0, [0.5], [7.0])

    before, after = curve.at(np.array([0.25, 0.5, 1.0]))

    assert before.tolist() == [25.0, 50.0, 107.0]
    assert after.tolist() == [25.0, 57.0, 107.0]
