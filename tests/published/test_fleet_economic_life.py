"""Economic life against textbooks: the replacement age with the lowest equivalent annual cost."""

from typing import Any

import numpy as np
import pytest

from model import money
from model.fleet.economic_life import EconomicLife, best_meter_hours, economic_lives, life_of
from model.fleet.planned_renewal import best_planned_renewal
from model.inputs.terms import Clock
from tests.published.figures import check
from tests.tiny import one_engine
from tests.tolerances import REGRESSION

FLAT = 1e-5
"""Relative. At its lowest a curve of costs is flat: readings this close cost the same to 1e-10, so a search by costs
cannot tell them apart better than to some millionths; the printed cost is checked to all its digits."""


def life_by_year_ends(price: float, running: list[float], resale: list[float], rate: float) -> EconomicLife:
    """Economic life from yearly running cost and resale by age, all booked at year-ends as in the textbooks."""
    ages = np.arange(1.0, len(running) + 1.0)
    values = []
    for years in range(1, len(running) + 1):
        amounts = np.append(price, running[:years])
        amounts[-1] -= resale[years - 1]
        values.append(money.present_value(amounts, np.append(0.0, ages[:years]), rate))
    return life_of(ages.tolist(), values, rate)


def test_a_lift_truck() -> None:
    # Contemporary Engineering Economics (Park), Example 11.4: falling resale, rising running cost, two overhauls.
    inputs, answer, tolerance = check("E-D01")
    years = range(inputs["max_life"])
    running = [inputs["op_year1"] * (1 + inputs["op_growth"]) ** year for year in years]
    for year, cost in inputs["overhaul"].items():
        running[int(year) - 1] += cost
    resale = [inputs["resale_year1"] * (1 - inputs["resale_decline"]) ** year for year in years]

    life = life_by_year_ends(inputs["P"], running, resale, inputs["rate"])

    assert life.costs == pytest.approx(answer, abs=tolerance)
    assert life.best_age == 6.0


def test_market_values() -> None:
    # Engineering Economy (Blank and Tarquin), Example 11.2; the notes round their factors on the way.
    inputs, answer, tolerance = check("E-D03")

    life = life_by_year_ends(inputs["P"], inputs["annual_cost"], inputs["market_value"], inputs["rate"])

    assert life.costs[:3] == pytest.approx(answer, abs=tolerance)
    assert life.best_age == 3.0


def test_without_discounting() -> None:
    # Replacement model worked example 1: average yearly cost at rate 0, scrap value the same at any age.
    inputs, answer, tolerance = check("E-D07")
    running = inputs["running"]

    life = life_by_year_ends(inputs["P"], running, [inputs["scrap"]] * len(running), 0.0)

    assert life.costs == pytest.approx(answer, abs=tolerance)
    assert life.best_age == 6.0
    assert life.about_as_good == (6.0, 7.0)  # 3,171 is within 2 % of 3,167; 3,300 and 3,275 are not


def rising_cost(inputs: dict[str, Any]) -> dict[str, Any]:
    """An engine without resale whose repairs cost a first sum in year 1 and a step more in each later year."""
    # By age n they have cost first n + step n (n - 1) / 2: a mode of shape 2 and one of shape 1, scale 1 year each.
    half_step = inputs["step"] / 2
    modes = [
        {"name": "Wear", "clock": "years", "scale": 1.0, "shape": 2.0, "parts_price": half_step},
        {"name": "Rest", "clock": "years", "scale": 1.0, "shape": 1.0, "parts_price": inputs["first_year"] - half_step},
    ]
    return {"price": float(inputs["P"]), "fuel": {"points": [[0.1, 0.0], [1.0, 0.0]]}, "repair": modes}


def test_rising_cost_through_the_ownership_of_an_engine() -> None:
    # Commerce textbook question: 80,000, no resale, 5,000 in the first year and 7,000 more in each later one.
    inputs, answer, tolerance = check("E-D08")
    scenario = one_engine(rising_cost(inputs), range={"ownership_years": (1.0, float(inputs["years"]))})

    (life,) = economic_lives(scenario, scenario.engines[0], [100.0])

    assert life.best_age == answer["best_year"]
    assert min(life.costs) == pytest.approx(answer["average"], abs=tolerance)


def test_age_replacement() -> None:
    # The printed age is the best of a grid of steps of 0.3; the cost there is flat, so it is printed to its digit.
    inputs, answer, tolerance = check("R-R01")

    found = best_planned_renewal(
        Clock.HOURS, inputs["weibull_eta"], inputs["weibull_beta"], inputs["cost_preventive"], inputs["cost_failure"]
    )

    assert found.age == pytest.approx(answer["T_star"], abs=tolerance["T_star"])
    assert found.cost_rate == pytest.approx(answer["cost_rate"], abs=tolerance["cost_rate"])
    assert found.age == pytest.approx(493.0469575959622, rel=REGRESSION)  # root of the first-order condition


@pytest.mark.parametrize("hours", [50.0, 100.0, 333.0])
def test_minimal_repair_through_the_ownership_of_an_engine(hours: float) -> None:
    # T* = eta (Cr / (Cm (beta - 1)))^(1 / beta), cost rate beta / (beta - 1) Cr / T*, whatever the hours a year.
    inputs, answer, tolerance = check("R-R02")
    mode = {"name": "Wear", "clock": "hours", "scale": float(inputs["eta"]), "shape": inputs["beta"]}
    engine = {
        "price": float(inputs["cost_replacement"]),
        "fuel": {"points": [[0.1, 0.0], [1.0, 0.0]]},
        "repair": [{**mode, "parts_price": float(inputs["cost_minimal_repair"])}],
    }
    scenario = one_engine(engine, range={"ownership_years": (1.0, 40.0)})

    found = best_meter_hours(scenario, scenario.engines[0], hours)

    assert found is not None
    assert found.cost_per_hour == pytest.approx(answer["cost_rate"], abs=tolerance)
    assert found.meter_hours == pytest.approx(answer["T_star"], rel=FLAT)
