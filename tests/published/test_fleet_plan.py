"""The replacement plan against a published dynamic program, and chains of lives against their annuities."""

import itertools

import numpy as np
import pytest

from model import money
from model.fleet.best_plan import StayCosts, best_plan, cost_of_plan
from model.measures import equivalent_annual_cost
from tests.published.figures import check
from tests.tolerances import IDENTITY


def test_equipment_replacement_by_dynamic_programming() -> None:
    # A Tutorial on Dynamic Programming (Trick), Equipment Replacement: buy now, keep each machine one to three years,
    # trade it in, also at the end of the five.
    inputs, answer, tolerance = check("E-D09")
    horizon = inputs["horizon"]
    new = np.full((1, horizon, horizon + 1), np.inf)
    for begin, years in itertools.product(range(horizon), range(1, inputs["max_age"] + 1)):
        if begin + years <= horizon:
            upkeep = sum(inputs["upkeep_by_age"][:years])
            new[0, begin, years] = inputs["price"] + upkeep - inputs["trade_in_by_age"][years - 1]
    costs = StayCosts(np.append(0.0, np.full(horizon, np.inf)), new)

    plan = best_plan(costs)

    assert plan.cost == pytest.approx(answer["min_cost"], abs=tolerance)
    assert tuple(years for _, _, years in plan.bought) in {(1, 1, 3), (1, 3, 1), (3, 1, 1)}
    assert cost_of_plan(costs, plan) == plan.cost


@pytest.mark.parametrize("inflation", [0.0, 0.02, 0.05])
def test_chain_and_equivalent_annuity_agree_in_order_also_with_inflation(inflation: float) -> None:
    # Principles of Finance 2e, section 16.5: lives of three and six years. Over six years the best plan is that of the
    # life with the lower equivalent annual cost at the real rate, every purchase at the prices of its day.
    inputs = check("E-C01").inputs
    nominal = inputs["rate"]
    real = money.real_rate(nominal, inflation)

    def life(kind: str, bought: int) -> float:
        one = inputs[kind]
        t = np.arange(one["life"] + 1.0) + bought
        amounts = np.append(one["cost"], np.full(one["life"], -one["inflow"])) * money.growth_factor(inflation, t)
        return money.present_value(amounts, t, nominal)

    new = np.full((2, 6, 7), np.inf)
    for index, kind in enumerate("AB"):
        for bought in range(0, 6 - inputs[kind]["life"] + 1):
            new[index, bought, inputs[kind]["life"]] = life(kind, bought)
    plan = best_plan(StayCosts(np.append(0.0, np.full(6, np.inf)), new))

    yearly = {kind: equivalent_annual_cost(life(kind, 0), real, inputs[kind]["life"]) for kind in "AB"}
    assert yearly["A"] < yearly["B"]
    assert plan.bought == ((0, 0, 3), (0, 3, 3))
    assert equivalent_annual_cost(plan.cost, real, 6) == pytest.approx(yearly["A"], rel=IDENTITY)
