"""Two whole engines by hand, their measures, and the same in nominal and in real money."""

import pytest

from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.measures import compare
from tests.tiny import cost_of_one, two_engines
from tests.tolerances import IDENTITY

TWO_STROKE_TOTAL = 5000 + 500 + 4000 * 2 + 4000 / 50 * 10 + 3 * 30 + 3 * 100 + (0.4 - 0.2) * 600 - 0.8**4 * 5000
FOUR_STROKE_TOTAL = 6000 + 500 + 2800 * 2 + 3 * 30 + 3 * 100 + (0.4 - 0.3) * 600 - 0.8**4 * 6000


def test_two_engines_by_hand(tiny: Scenario) -> None:
    comparison = compare(tiny)
    two, four = comparison.engines

    assert two.total.nominal == two.total.present_value == pytest.approx(TWO_STROKE_TOTAL, rel=IDENTITY)
    assert four.total.nominal == four.total.present_value == pytest.approx(FOUR_STROKE_TOTAL, rel=IDENTITY)
    assert comparison.cheapest is four


def test_measures_without_a_rate(tiny: Scenario) -> None:
    two = compare(tiny).engines[0]

    assert two.equivalent_annual_cost == pytest.approx(TWO_STROKE_TOTAL / 4, rel=IDENTITY)
    assert two.cost_per_hour == pytest.approx(TWO_STROKE_TOTAL / 4 / 100, rel=IDENTITY)


def test_the_equivalent_annual_cost_is_at_the_real_rate() -> None:
    # 7.1 % nominal at 2 % inflation is 5 % real: four years' annuity is worth (1 - 1.05^-4) / 0.05.
    cost = cost_of_one(
        {"fuel": {"points": [[0.1, 0.0], [1.0, 0.0]]}}, money={"inflation": 0.02, "discount_rate": 0.071}
    )

    yearly = 10000.0 * 0.05 / (1.0 - 1.05**-4)
    assert cost.equivalent_annual_cost == pytest.approx(yearly, rel=IDENTITY)
    assert cost.cost_per_hour == pytest.approx(yearly / 100.0, rel=IDENTITY)


@pytest.mark.parametrize("timing", ["mid-year", "year-end"])
def test_nominal_and_real_money_give_the_same_present_value(timing: str) -> None:
    # Every price grows with inflation: 2 % on top of a real rate of 5 %, or neither.
    nominal = compare(two_engines(money={"inflation": 0.02, "discount_rate": 1.05 * 1.02 - 1, "timing": timing}))
    real = compare(two_engines(money={"inflation": 0.0, "discount_rate": 0.05, "timing": timing}))

    for in_nominal, in_real in zip(nominal.engines, real.engines, strict=True):
        assert {element: total.present_value for element, total in in_nominal.elements.items()} == pytest.approx(
            {element: total.present_value for element, total in in_real.elements.items()}, rel=IDENTITY
        )
        assert in_nominal.equivalent_annual_cost == pytest.approx(in_real.equivalent_annual_cost, rel=IDENTITY)


@pytest.mark.parametrize("money", [{"discount_rate": 1.05 * 1.02 - 1}, {"real_discount_rate": 0.05}])
def test_fuel_in_nominal_money_by_hand(money: dict[str, float]) -> None:
    cost = cost_of_one(money={"inflation": 0.02, **money})
    years = (0.5, 1.5, 2.5, 3.5)

    fuel = cost.elements[Element.FUEL]
    assert fuel.nominal == pytest.approx(sum(1400.0 * 1.02**t for t in years), rel=IDENTITY)
    assert fuel.present_value == pytest.approx(sum(1400.0 / 1.05**t for t in years), rel=IDENTITY)
