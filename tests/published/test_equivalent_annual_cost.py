"""Equivalent annual cost against textbooks: only it ranks unequal lives as chains of replacements do."""

import numpy as np
import pytest

from model import money
from model.booking import flow_times
from model.inputs.terms import Timing
from model.measures import equivalent_annual_cost
from tests.published.figures import check
from tests.tolerances import IDENTITY

INFLATION = 0.02


def present_value_of_a_life(life: dict[str, float], rate: float, growth: float = 0.0, bought: int = 0) -> float:
    """Cost less inflows of one life bought at the start of a year, prices growing, booked at year-ends."""
    ends = flow_times(Timing.YEAR_END, life["life"], int(life["life"]))
    t = np.append(0.0, ends) + bought
    amounts = np.append(life["cost"], np.full(ends.size, -life["inflow"])) * money.growth_factor(growth, t)
    return money.present_value(amounts, t, rate)


def present_value_of_a_chain(life: dict[str, float], rate: float, growth: float, years: int) -> float:
    """Lives bought one behind the other at the prices of the day."""
    return sum(present_value_of_a_life(life, rate, growth, bought) for bought in range(0, years, int(life["life"])))


def test_unequal_lives() -> None:
    # Principles of Finance 2e, section 16.5: B has the better present value, A the better chain and equal annuity.
    inputs, answer, tolerance = check("E-C01")
    rate, a, b = inputs["rate"], inputs["A"], inputs["B"]
    of_a, of_b = present_value_of_a_life(a, rate), present_value_of_a_life(b, rate)

    assert -of_a == pytest.approx(answer["npv_A"], abs=tolerance)
    assert -of_b == pytest.approx(answer["npv_B"], abs=tolerance)
    assert -present_value_of_a_chain(a, rate, 0.0, 6) == pytest.approx(answer["chain_A"], abs=tolerance)
    assert -equivalent_annual_cost(of_a, rate, 3) == pytest.approx(answer["eaa_A"], abs=tolerance)
    assert -equivalent_annual_cost(of_b, rate, 6) == pytest.approx(answer["eaa_B"], abs=tolerance)


@pytest.mark.parametrize("inflation", [0.0, INFLATION])
def test_one_life_at_the_real_rate_is_worth_what_its_chain_is(inflation: float) -> None:
    # The chain of section 16.5 in nominal money, every purchase and inflow at the prices of its day.
    inputs = check("E-C01").inputs
    nominal, a = inputs["rate"], inputs["A"]
    real = money.real_rate(nominal, inflation)

    one_life = equivalent_annual_cost(present_value_of_a_life(a, nominal, inflation), real, 3)
    chain = equivalent_annual_cost(present_value_of_a_chain(a, nominal, inflation, 6), real, 6)

    assert one_life == pytest.approx(chain, rel=IDENTITY)


@pytest.mark.parametrize("dearer", [1.01, 0.99])
def test_with_inflation_only_the_real_rate_ranks_as_the_chain_does(dearer: float) -> None:
    # One six-year life of B, a hundredth dearer or cheaper than the chain of A over the same six years: the nominal
    # rate spreads a life's cost evenly in money of the day, which is worth less a year the longer the life is.
    inputs = check("E-C01").inputs
    nominal, a = inputs["rate"], {**inputs["A"], "inflow": 0.0}
    real = money.real_rate(nominal, INFLATION)
    of_a = present_value_of_a_life(a, nominal, INFLATION)
    of_b = dearer * present_value_of_a_chain(a, nominal, INFLATION, 6)

    at_real = equivalent_annual_cost(of_b, real, 6) / equivalent_annual_cost(of_a, real, 3)
    at_nominal = equivalent_annual_cost(of_b, nominal, 6) / equivalent_annual_cost(of_a, nominal, 3)

    assert at_real == pytest.approx(dearer, rel=IDENTITY)
    assert at_nominal > 1.0  # A for the cheaper one, even where its chain is the dearer


def test_purchase_servicing_and_salvage() -> None:
    # Civil engineering course notes (FE review, Engineering Economics, problem 2).
    inputs, answer, tolerance = check("E-C02")
    t = np.append(0.0, flow_times(Timing.YEAR_END, inputs["n"], inputs["n"]))
    amounts = np.append(inputs["P"], np.full(inputs["n"], float(inputs["annual_service"])))
    amounts[-1] -= inputs["salvage"]

    found = equivalent_annual_cost(money.present_value(amounts, t, inputs["rate"]), inputs["rate"], inputs["n"])

    assert found == pytest.approx(answer, abs=tolerance)


@pytest.mark.parametrize(("drive", "printed"), [("gasoline", "gas"), ("electric", "electric")])
def test_a_petrol_engine_bought_twice_or_an_electric_motor(drive: str, printed: str) -> None:
    # Engineering-economy exercise on a public question page: the one that is dearer to buy costs less a year.
    inputs, answer, tolerance = check("E-C03")
    sold, rate = inputs[drive], inputs["rate"]
    t = np.append(0.0, flow_times(Timing.YEAR_END, sold["life"], sold["life"]))
    amounts = np.append(sold["P"], np.full(sold["life"], float(sold["op"] + sold["maint"])))
    amounts[-1] -= sold["salvage"]

    found = equivalent_annual_cost(money.present_value(amounts, t, rate), rate, sold["life"])

    assert found == pytest.approx(answer[printed], abs=tolerance)
