"""Flip points: by hand where costs are lines, and on every example by putting the value back into the scenario."""

from pathlib import Path

import pytest

from model.cheapest import at_ownership_years
from model.inputs.reading import read_scenario
from model.inputs.scenario import Scenario
from model.measures import compare
from model.uncertainty.flip_points import FlipPoint, flip_points
from tests.rules.project import ROOT
from tests.tiny import two_engines
from tests.tolerances import REGRESSION

SCENARIOS = [path for path in sorted((ROOT / "scenarios").glob("*.toml")) if path.name != "sources.toml"]

BARE = {"service": None, "repair": None, "warranty": None, "resale": None}
"""Price, fit-up, fuel and oil only."""


def by_name(scenario: Scenario) -> dict[str, FlipPoint]:
    """Flip points by the input's name."""
    return {flip.input.name: flip for flip in flip_points(scenario)}


def test_by_hand() -> None:
    # Four years of 100 h: the two-stroke burns 4,000 L at 2.00 and 80 L of oil at 10.00 on a price of 5,500, in all
    # 14,300; the four-stroke 2,800 L on 6,500, in all 12,100.
    flips = by_name(two_engines(two=BARE, four=BARE, range={"hours_per_year": [0.0, 1000.0]}))

    # 14,300 - 8,000 + 4,000 p = 12,100 - 5,600 + 2,800 p, so 1,200 p = 200.
    assert flips["fuel price"].value == pytest.approx(200 / 1200, rel=REGRESSION)
    assert flips["fuel price"].cheapest_now == "Four-stroke"
    assert flips["fuel price"].cheapest_beyond == "Two-stroke"
    assert flips["price of Four-stroke"].value == pytest.approx(6000 + 2200, rel=REGRESSION)
    assert flips["price of Two-stroke"].value == pytest.approx(5000 - 2200, rel=REGRESSION)
    assert flips["two-stroke oil price"].value is None
    assert flips["oil ratio of Two-stroke"].value is None
    assert flips["labour rate"].value is None
    # 1,000 more on the price; an hour less of 3 L at 2.00 and of 0.2 L of oil at 10.00: 8 an hour.
    assert flips["hours a year"].value == pytest.approx(1000 / 8 / 4, abs=1e-6)


def test_resale_flips_by_hand() -> None:
    bare = BARE | {"resale": {"yearly_decline": 0.5}}
    flips = by_name(two_engines(two=bare, four=bare))

    # Worth 1/16 of 5,000 and 6,000 after four years: ahead by 2,200 + 375 - 312.50.
    assert flips["value at sale of Four-stroke"].value is None  # even at nothing it stays ahead
    assert flips["value at sale of Two-stroke"].input.today == pytest.approx(312.5, rel=REGRESSION)
    assert flips["value at sale of Two-stroke"].value is None  # 312.50 + 2,262.50 is above five times today's


def with_value(scenario: Scenario, flip: FlipPoint, value: float) -> Scenario | None:
    """The scenario with a value in place, for inputs that a file holds as they are."""
    name = flip.input.name
    if name == "ownership years":
        return at_ownership_years(scenario, value)
    if name == "hours a year":
        return scenario.changed({("use", "hours_per_year"): value}) if scenario.use.hours_per_year else None
    paths = {"fuel price": "fuel", "two-stroke oil price": "two_stroke_oil", "labour rate": "labour"}
    if name in paths:
        return scenario.changed({("prices", paths[name]): value})
    if name == "discount rate":
        return scenario.changed({("money", "real_discount_rate"): None, ("money", "discount_rate"): value})
    for place, engine in enumerate(scenario.engines):
        listed = engine.list_price or engine.price
        if name == f"price of {engine.name}":
            return scenario.changed({("engines", place, "price"): value, ("engines", place, "list_price"): listed})
        if name == f"oil ratio of {engine.name}" and engine.oil and engine.oil.ratio:
            return scenario.changed({("engines", place, "oil", "ratio"): value})
    return None


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.name)
def test_on_either_side_another_engine_is_the_cheapest(path: Path) -> None:
    scenario = read_scenario(path).scenario
    flips = flip_points(scenario)
    assert len(flips) > 8

    for flip in flips:
        if flip.value is None:
            continue
        away = 1e-6 * (flip.input.span[1] - flip.input.span[0]) * (1 if flip.value > flip.input.today else -1)
        inside, beyond = (with_value(scenario, flip, flip.value + side) for side in (-away, away))
        if inside is None or beyond is None:
            continue
        assert compare(inside).cheapest.name == flip.cheapest_now, flip.input.name
        assert compare(beyond).cheapest.name == flip.cheapest_beyond, flip.input.name


def test_a_single_engine_has_no_flips() -> None:
    scenario = two_engines()

    assert flip_points(scenario.changed({("engines",): scenario.engines[:1]})) == ()
