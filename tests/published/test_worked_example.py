"""A whole comparison against a second program, written apart from the model: five uneven years of a hire launch.

The second program walks the service plan in exact fractions and integrates repairs over 3,000 cells a year.
"""

import json
from functools import cache
from pathlib import Path

import pytest

from model.inputs.reading import read_scenario
from model.inputs.terms import Element
from model.measures import EngineCost, compare
from model.service_calendar import service_visits
from tests.tolerances import half_last_digit

FOLDER = Path(__file__).parent / "worked_example"
EXPECTED = json.loads((FOLDER / "expected.json").read_text(encoding="utf-8"))["engines"]
ENGINES = list(EXPECTED)

SHARE_OF_TOTAL = 2e-5
"""The cells of the second program are good to about 1e-5 of the total, and so are its printed sums."""


@cache
def costs() -> dict[str, EngineCost]:
    """Every engine's cost by name."""
    comparison = compare(read_scenario(FOLDER / "hire-launch.toml").scenario)
    return {cost.name: cost for cost in comparison.engines}


def within(name: str) -> float:
    """Absolute tolerance of one engine's sums. [money]"""
    return SHARE_OF_TOTAL * float(EXPECTED[name]["total"]["present_value"])


@pytest.mark.parametrize("element", list(Element))
@pytest.mark.parametrize("name", ENGINES)
def test_each_element_agrees_in_nominal_and_present_value(name: str, element: Element) -> None:
    expected = EXPECTED[name]["elements"][element]
    found = costs()[name].elements[element]

    assert found.nominal == pytest.approx(expected["nominal"], abs=within(name))
    assert found.present_value == pytest.approx(expected["present_value"], abs=within(name))


@pytest.mark.parametrize("measure", ["total", "paid_by_warranty"])
@pytest.mark.parametrize("name", ENGINES)
def test_each_sum_agrees_in_nominal_and_present_value(name: str, measure: str) -> None:
    expected = EXPECTED[name][measure]
    found = getattr(costs()[name], measure)

    assert found.nominal == pytest.approx(expected["nominal"], abs=within(name))
    assert found.present_value == pytest.approx(expected["present_value"], abs=within(name))


@pytest.mark.parametrize("name", ENGINES)
def test_the_equivalent_annual_cost_agrees(name: str) -> None:
    expected = EXPECTED[name]["equivalent_annual_cost"]

    assert costs()[name].equivalent_annual_cost == pytest.approx(expected, rel=SHARE_OF_TOTAL)


@pytest.mark.parametrize("name", ENGINES)
def test_every_visit_agrees_in_time_meter_and_tasks(name: str) -> None:
    expected = EXPECTED[name]["visits"]
    found = service_visits(costs()[name].case)
    last_digit = half_last_digit(6)

    assert [list(visit.tasks) for visit in found] == [visit["tasks"] for visit in expected]
    assert [visit.t_years for visit in found] == pytest.approx([visit["t_years"] for visit in expected], abs=last_digit)
    assert [visit.meter_hours for visit in found] == pytest.approx(
        [visit["meter_hours"] for visit in expected], abs=last_digit
    )
