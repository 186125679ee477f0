"""Maps of the cheapest engine: every point is what `compare` says of it."""

import numpy as np
import pytest

from model.cheapest import at_ownership_years, costs_over_hours
from model.inputs.scenario import Scenario
from model.maps import CostMap, costs_over_fuel_price, map_over_fuel_price, map_over_years, stretches_at
from model.measures import compare
from tests.tiny import two_engines
from tests.tolerances import REGRESSION

HOURS = np.array([0.0, 40.0, 100.0, 260.0])


def totals(scenario: Scenario) -> list[float]:
    """Present value of every engine."""
    return [cost.total.present_value for cost in compare(scenario).engines]


def at_hours(scenario: Scenario, hours: float) -> Scenario:
    """The scenario at other yearly hours."""
    return scenario.changed({("use", "hours_per_year"): hours})


def test_points_over_years_are_those_of_compare(tiny: Scenario) -> None:
    years = np.array([1.0, 2.5, 6.0])

    found = map_over_years(tiny, HOURS, years)

    assert found.costs.shape == (2, 3, 4)
    for row, year in enumerate(years.tolist()):
        for column, hours in enumerate(HOURS.tolist()):
            exact = totals(at_ownership_years(at_hours(tiny, hours), year))
            assert found.costs[:, row, column] == pytest.approx(exact, rel=REGRESSION)


def test_points_over_fuel_price_are_those_of_compare() -> None:
    scenario = two_engines(money={"inflation": 0.02, "discount_rate": 0.05, "growth": {"fuel": 0.04}})
    prices = np.array([0.0, 1.3, 4.0])

    found = map_over_fuel_price(scenario, HOURS, prices)

    for row, price in enumerate(prices.tolist()):
        for column, hours in enumerate(HOURS.tolist()):
            exact = totals(at_hours(scenario, hours).changed({("prices", "fuel"): price}))
            assert found.costs[:, row, column] == pytest.approx(exact, rel=REGRESSION)
    today = costs_over_fuel_price(scenario)(np.array([2.0]))[:, 0]
    assert today == pytest.approx(totals(scenario), rel=REGRESSION)


def test_uneven_hours_are_scaled_as_on_the_command_line() -> None:
    scenario = two_engines(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 80.0, 120.0]})

    found = map_over_years(scenario, HOURS, np.array([4.0]))

    assert found.costs[:, 0] == pytest.approx(costs_over_hours(scenario)(HOURS), rel=REGRESSION)


def test_lead_and_margin_tell_the_cheapest() -> None:
    costs = np.array([[[1.0, 5.0, 9.0]], [[4.0, 5.0, 6.0]], [[7.0, 7.0, 2.0]]])
    found = CostMap(np.array([0.0, 1.0, 2.0]), np.array([3.0]), costs)

    assert found.cheapest.tolist() == [[0, 0, 2]]
    assert found.margin.tolist() == [[3.0, 0.0, 4.0]]
    assert found.lead(0).tolist() == [[3.0, 0.0, -7.0]]
    assert found.lead(2).tolist() == [[-6.0, -2.0, 4.0]]


def test_borders_lie_where_the_costs_are_equal(tiny: Scenario) -> None:
    # The four-stroke costs 1,000 more and saves 3 L/h and the oil: equal at some hours in each of these years.
    found = map_over_fuel_price(tiny, np.linspace(0.0, 300.0, 31), np.array([1.0, 2.0, 4.0]))

    for hours, price in found.borders():
        left, right = np.searchsorted(found.hours, hours) - 1, np.searchsorted(found.hours, hours)
        row = found.other.tolist().index(price)
        apart = found.costs[0, row] - found.costs[1, row]
        assert np.interp(hours, found.hours[[left, right]], apart[[left, right]]) == pytest.approx(
            0.0, abs=REGRESSION * found.costs.max()
        )
    assert found.borders()


def test_a_single_engine_leads_by_nothing(tiny: Scenario) -> None:
    alone = tiny.changed({("engines",): tiny.engines[:1]})

    found = map_over_years(alone, HOURS, np.array([2.0]))

    assert not found.margin.any()
    assert found.borders() == ()


def test_stretches_read_off_a_map_are_straight_between_its_points() -> None:
    # At 50 h half-way between the columns: 4 - y against 1, equal at y = 3.
    costs = np.array([[[6.0, 2.0], [2.0, -2.0]], [[1.0, 1.0], [1.0, 1.0]]])
    found = CostMap(np.array([0.0, 100.0]), np.array([0.0, 4.0]), costs)

    below, above = stretches_at(found, 50.0, ["A", "B"])

    assert (below.engine, above.engine) == ("B", "A")
    assert (below.begin, above.end) == (0.0, 4.0)
    assert below.end == pytest.approx(3.0, abs=4e-4)  # found to a ten-thousandth of the range
    assert [stretch.engine for stretch in stretches_at(found, 0.0, ["A", "B"])] == ["B"]
