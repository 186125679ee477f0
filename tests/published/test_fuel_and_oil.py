"""The marine test cycle, fuel from specific consumption, CO2 and oil mix against regulations and agency tables."""

import pytest

from model.elements.fuel import (
    E4_CYCLE,
    LOAD_FACTOR,
    PROPELLER_POWER_EXPONENT,
    co2,
    mean_flow,
    published_specific_consumption,
)
from model.elements.oil import oil_litres_an_hour
from model.inputs.engine import OilUse
from model.inputs.terms import Technology
from model.inputs.units import to_house_unit
from tests.published.figures import check

KILOGRAMS_IN_A_POUND = 0.45359237
LITRES_IN_A_US_GALLON = 3.785411784
"""Exact by definition (NIST Handbook 44, appendix C)."""


def test_the_cycle_is_the_one_of_the_regulation() -> None:
    # 40 CFR Part 1045, Appendix II (a): the cycle of the default bands, mode by mode.
    inputs = check("A-01").inputs

    assert tuple(zip(inputs["speed"], inputs["weight"], strict=True)) == E4_CYCLE


def test_mean_power_over_the_cycle() -> None:
    # 40 CFR Part 1045, Appendix II (a), weight x speed x torque; the agency's load factor is it, rounded up.
    inputs, answer, tolerance = check("A-01")
    torque = dict(zip(inputs["speed"], inputs["torque"], strict=True))

    mean_power = sum(weight * speed * torque[speed] for speed, weight in E4_CYCLE)

    assert mean_power == pytest.approx(answer["mean_power_fraction"], abs=tolerance["mean_power_fraction"])
    assert answer["load_factor_in_agency_table"] == LOAD_FACTOR
    assert pytest.approx(mean_power, abs=tolerance["load_factor_in_agency_table"]) == LOAD_FACTOR


def test_torque_follows_the_propeller_law() -> None:
    # 40 CFR Part 1045, Appendix II (a): the printed torques are speed^1.5, so power is speed^2.5.
    inputs, answer, tolerance = check("A-02")

    torque = [speed**PROPELLER_POWER_EXPONENT / speed for speed in inputs["speed"]]

    assert torque == pytest.approx(answer["torque"], abs=tolerance)


@pytest.mark.parametrize("technology", list(Technology))
def test_fuel_of_a_year_from_specific_consumption(technology: Technology) -> None:
    # US EPA nonroad data (BSFC.EMF, ACTIVITY.DAT, US.POP, nonrdprm.inc): US gallons a year at 34.8 h, with its density.
    inputs, answer, tolerance = check("A-06")
    consumption = to_house_unit(inputs["bsfc_lb_per_hp_h"][technology], "lb/hp-h", "g/kWh")
    density = inputs["density_lb_per_gal"] * KILOGRAMS_IN_A_POUND / LITRES_IN_A_US_GALLON

    flow = mean_flow(to_house_unit(inputs["hp"], "hp", "kW"), consumption, inputs["load_factor"], density)

    gallons = flow * inputs["hours"] / LITRES_IN_A_US_GALLON
    assert gallons == pytest.approx(answer["gal"][technology], abs=tolerance)


@pytest.mark.parametrize("technology", list(Technology))
def test_the_built_in_consumption_is_the_published_one(technology: Technology) -> None:
    # US EPA nonroad data, BSFC.EMF, class 50 to 100 hp.
    inputs = check("A-06").inputs
    expected = to_house_unit(inputs["bsfc_lb_per_hp_h"][technology], "lb/hp-h", "g/kWh")

    assert published_specific_consumption(technology, to_house_unit(inputs["hp"], "hp", "kW")) == expected


def test_co2_of_a_litre() -> None:
    # EPA-420-F-11-041: 8,887 g per US gallon, 2.348 kg/L.
    inputs, answer, tolerance = check("A-09")

    assert co2(inputs["litres"]) == pytest.approx(answer["kg"], abs=tolerance)


@pytest.mark.parametrize("ratio", check("A-11").inputs["ratio"])
def test_oil_mix(ratio: int) -> None:
    # Two-stroke premix chart, public workshop page: 50:1 is oil = fuel / 50, not fuel / 51.
    inputs, answer, tolerance = check("A-11")
    oil = OilUse(ratio=float(ratio))

    millilitres = [1000.0 * oil_litres_an_hour(oil, [(1.0, fuel)]) for fuel in inputs["fuel_l"]]

    assert millilitres == pytest.approx(answer[f"ml_at_{ratio}"], abs=tolerance)
