"""A fleet's budget for a pocket calculator: two units over three years; a yearly limit that makes one of them wait."""

from typing import Any

import numpy as np
import pytest

from model.fleet.budget import budget_of
from model.fleet.cash import ELEMENTS
from model.fleet.fleet_file import FleetFile, PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.policy_costs import policies_compared
from model.fleet.put_off import units_put_off
from model.fleet.register import Unit
from model.fleet.replacement import FleetPlan, plan_fleet
from model.inputs.terms import Element
from tests.small_fleet import fleet_file, unit
from tests.tolerances import IDENTITY

PLAIN: dict[str, Any] = {"repair": None, "warranty": None, "resale": {"yearly_decline": 0.2}}
"""An engine of 6,000 and 500 of fit-up that loses a fifth of its value a year, without repairs."""

OIL = {
    "every": {"hours": 100.0},
    "task": [{"name": "Oil", "every": {"hours": 100.0}, "parts": [{"name": "Oil", "quantity": 4.0, "price": 15.0}]}],
}
"""60 of parts at every 100 h, no labour."""


def cash(file: FleetFile, plan: FleetPlan, units: tuple[Unit, ...]) -> dict[Element, np.ndarray[Any, Any]]:
    """The expected budget by element, each of shape (year,)."""
    found = budget_of(file, list(zip(units, plan.schedules, strict=True))).by_element
    return dict(zip(ELEMENTS, found, strict=True))


def test_two_units_over_three_years() -> None:
    # All prices grow by a tenth a year and are paid at the end of the year; half of an engine's value is got for it.
    file = fleet_file(
        {"horizon": 3, "trade_in": 0.5},
        PLAIN | {"service": OIL},
        money={"inflation": 0.1, "discount_rate": 0.0, "timing": "year-end"},
    )
    # A is five years old when the second year begins, and goes then. B is four and a half in the last one, and stays.
    units = (
        unit("A", age=4.0, meter_hours=450.0, hours_per_year=100.0),
        unit("B", age=2.5, meter_hours=125.0, hours_per_year=50.0),
    )

    plan = plan_fleet(PolicyTerms(at_age=5.0), GroupCosts(file, units))
    found = cash(file, plan, units)

    assert [(due.place, due.year) for due in plan.bought] == [(0, 1)]
    # Delivered when the second year begins, at prices of a year on: 6,000 x 1.1 and 500 x 1.1.
    assert found[Element.PURCHASE] == pytest.approx([0.0, 6600.0, 0.0], rel=IDENTITY)
    assert found[Element.FIT_UP] == pytest.approx([0.0, 550.0, 0.0], rel=IDENTITY)
    # Five years old: 0.8^5 = 0.32768 of 6,600, of which half.
    assert found[Element.RESALE] == pytest.approx([0.0, -1081.344, 0.0], rel=IDENTITY)
    # 150 h a year of both, 7 L an hour at 2.00: 2,100 at today's price.
    assert found[Element.FUEL] == pytest.approx([2310.0, 2541.0, 2795.1], rel=IDENTITY)
    # A has 50 h to go to its next 100 h, in the first year; its new engine has run 100 h when the third begins, at the
    # price of the second's end. B has 75 h to go, a year and a half.
    assert found[Element.SERVICE_PARTS] == pytest.approx([60 * 1.1, 60 * 1.21, 60 * 1.21], rel=IDENTITY)
    assert sum(found.values()) == pytest.approx([2376.0, 8682.256, 2867.7], rel=IDENTITY)


def test_an_extension_of_cover_bought_later_costs_more_as_the_engine_does() -> None:
    # 900 today, engines a tenth dearer each year: the one bought when the second year begins costs 990.
    cover = {"months": 24.0, "excess": 0.0, "extension": {"bought": True, "price": 900.0, "months": 12.0}}
    mode = {"name": "Wiring", "clock": "years", "scale": 50.0, "shape": 1.0, "parts_price": 10.0}
    file = fleet_file(
        {"horizon": 3},
        PLAIN | {"repair": [mode], "warranty": cover},
        money={"inflation": 0.0, "discount_rate": 0.0, "growth": {"engine_price": 0.1}},
    )
    units = (unit("A", age=4.0, meter_hours=400.0),)

    found = cash(file, plan_fleet(PolicyTerms(at_age=5.0), GroupCosts(file, units)), units)

    assert found[Element.PURCHASE] == pytest.approx([0.0, 6600.0, 0.0], rel=IDENTITY)
    assert found[Element.WARRANTY_COVER] == pytest.approx([0.0, 990.0, 0.0], rel=IDENTITY)


def test_what_stays_at_the_horizon_is_serviced_for_the_time_after_it() -> None:
    # Visits at 100, 200, ... h; a pump every 150 h. At 100 h it would not last to the visit at 200 h, so that it is
    # changed then, in the only year of 150 h: an engine sold at its end could have done without.
    pump = {"name": "Pump", "every": {"hours": 150.0}, "parts": [{"name": "Pump", "quantity": 1.0, "price": 80.0}]}
    service = {"every": {"hours": 100.0}, "task": [pump]}
    file = fleet_file({"horizon": 1}, PLAIN | {"service": service})
    units = (unit(age=0.0, meter_hours=0.0, hours_per_year=150.0),)

    found = cash(file, plan_fleet(PolicyTerms(keep=True), GroupCosts(file, units)), units)

    assert found[Element.SERVICE_PARTS] == pytest.approx([80.0], rel=IDENTITY)


def test_a_loan_runs_on_behind_the_horizon() -> None:
    # 6,500 lent for 24 months without interest, on the engine bought when the second and last year begins: twelve
    # payments of 6,500 / 24, and nothing paid off, since nothing is sold.
    loan = {"deposit": 0.0, "rate": 0.0, "months": 24}
    file = fleet_file({"horizon": 2}, PLAIN | {"service": None, "finance": loan})
    units = (unit(age=4.0, meter_hours=400.0),)

    found = cash(file, plan_fleet(PolicyTerms(at_age=5.0), GroupCosts(file, units)), units)

    assert found[Element.PURCHASE] + found[Element.FIT_UP] == pytest.approx([0.0, 6500.0], rel=IDENTITY)
    assert found[Element.FINANCE] == pytest.approx([0.0, 12 * 6500.0 / 24 - 6500.0], rel=IDENTITY)


def test_a_yearly_limit_makes_one_unit_wait_and_what_that_costs() -> None:
    # Expected failures grow with the square of the age, one by four years, 900 each; no growth, no discount.
    wear = [{"name": "Wear", "clock": "years", "scale": 4.0, "shape": 2.0, "parts_price": 900.0}]
    file = fleet_file(
        {"horizon": 3, "trade_in": 0.5, "yearly_limit": 7000.0, "policy": {"at_age": 5.0}},
        PLAIN | {"repair": wear, "service": None},
    )
    units = (unit("A", age=7.0), unit("B", age=6.0))
    costs = GroupCosts(file, units)

    plan, free = (plan_fleet(PolicyTerms(at_age=5.0), costs, limit) for limit in (7000.0, None))
    (waiting,) = units_put_off(costs, plan, free)

    # Both are due; 6,500 fits once, and the older goes first.
    assert [(due.place, due.year) for due in plan.bought] == [(0, 0), (1, 1)]
    assert (waiting.first.place, waiting.first.year, waiting.until, waiting.times) == (1, 0, 1, 1)
    assert cash(file, plan, units)[Element.PURCHASE] == pytest.approx([6000.0, 6000.0, 0.0], rel=IDENTITY)
    # B's old engine runs from six to seven years, (49 - 36) / 16 failures, its new one two years, 4 / 16, in place of a
    # new one for three, 9 / 16: half a failure more, 450. Half of the value is got at either end: 0.8^7 and 0.8^2 of
    # 6,000 in place of 0.8^6 and 0.8^3, which is 226.7136 more.
    assert waiting.costs == pytest.approx(450.0 - 226.7136, rel=IDENTITY)
    today = policies_compared(costs)[0]
    assert today.cost - today.cost_without_limit == pytest.approx(450.0 - 226.7136, abs=IDENTITY * today.cost)
