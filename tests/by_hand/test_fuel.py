"""Fuel and CO2 from points and bands. The engine burns 0.5 L/h at idle (0.1) and 13.5 L/h at full throttle (1.0)."""

import pytest

from model.inputs.terms import Element
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

HOURS, PRICE = 4 * 100.0, 2.0


@pytest.mark.parametrize(
    ("bands", "litres_an_hour"),
    [
        ([(0.1, 0.5), (1.0, 0.5)], 0.5 * 0.5 + 0.5 * 13.5),
        ([(0.55, 1.0)], (0.5 + 13.5) / 2),  # half-way between the points
        ([(0.325, 1.0)], 0.5 + 13.0 / 4),  # a quarter of the way
        ([(0.05, 0.3), (0.0, 0.2), (1.0, 0.5)], 0.5 * 0.5 + 0.5 * 13.5),  # below idle burns the idle flow
    ],
)
def test_litres_are_shares_of_flows(bands: list[tuple[float, float]], litres_an_hour: float) -> None:
    use = {"band": [{"speed": speed, "share": share} for speed, share in bands]}

    cost = cost_of_one(use=use)

    assert cost.fuel_litres == pytest.approx(HOURS * litres_an_hour, rel=IDENTITY)
    assert cost.elements[Element.FUEL].nominal == pytest.approx(HOURS * litres_an_hour * PRICE, rel=IDENTITY)


def test_the_test_cycle_from_points() -> None:
    # Flow = 0.5 + 13 (speed - 0.1) / 0.9 at the cycle's speeds, idle for its idle mode.
    flows = {1.0: 13.5, 0.8: 0.5 + 13.0 * 7 / 9, 0.6: 0.5 + 13.0 * 5 / 9, 0.4: 0.5 + 13.0 * 3 / 9, 0.1: 0.5}
    mean = 0.06 * flows[1.0] + 0.14 * flows[0.8] + 0.15 * flows[0.6] + 0.25 * flows[0.4] + 0.40 * flows[0.1]

    cost = cost_of_one(use={"band": None})

    assert cost.fuel_litres == pytest.approx(HOURS * mean, rel=IDENTITY)
    assert not cost.fuel_is_estimated


def test_an_estimate_over_the_test_cycle() -> None:
    # 30 kW is 40.2 hp: 0.75 lb/hp-h for an injected four-stroke of 40 to 50 hp; 1 lb/hp-h = 608.277 g/kWh.
    litres_an_hour = 0.21 * 30.0 * 0.75 * 608.277 / 1000.0 / 0.747

    cost = cost_of_one({"fuel": {}}, use={"band": None})

    # The conversion is printed to three decimals.
    assert cost.fuel_litres == pytest.approx(HOURS * litres_an_hour, rel=0.0005 / 608.277)
    assert cost.fuel_is_estimated


def test_an_estimate_at_one_speed() -> None:
    # flow(n) = W (k + (1 - k) n^2.5), k = 0.04, W by the mean over the cycle.
    def shape(n: float) -> float:
        return 0.04 + 0.96 * n**2.5

    cycle = 0.06 * shape(1.0) + 0.14 * shape(0.8) + 0.15 * shape(0.6) + 0.25 * shape(0.4) + 0.40 * shape(0.12)
    whole = 0.21 * 30.0 * 300.0 / 1000.0 / 0.747 / cycle

    cost = cost_of_one({"fuel": {"specific_consumption": 300.0}}, use={"band": [{"speed": 0.5, "share": 1.0}]})

    assert cost.fuel_litres == pytest.approx(HOURS * whole * shape(0.5), rel=IDENTITY)


def test_co2_of_the_fuel() -> None:
    assert cost_of_one().co2_kg == pytest.approx(2800.0 * 8.887 / 3.785411784, rel=IDENTITY)


def test_the_price_of_fuel_grows_to_the_middle_of_each_year() -> None:
    cost = cost_of_one(money={"growth": {"fuel": 0.03}, "discount_rate": 0.05})
    years = [0.5, 1.5, 2.5, 3.5]

    assert cost.elements[Element.FUEL].nominal == pytest.approx(1400.0 * sum(1.03**t for t in years), rel=IDENTITY)
    assert cost.elements[Element.FUEL].present_value == pytest.approx(
        1400.0 * sum((1.03 / 1.05) ** t for t in years), rel=IDENTITY
    )
