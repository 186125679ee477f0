"""Which input moves the answer: by hand where the difference is a line, and in what holds of any scenario."""

import math

import numpy as np
import pytest

from model.inputs.scenario import Scenario
from model.uncertainty.sensitivity import TENTH, sensitivity, swings
from model.uncertainty.sobol import indices
from model.uncertainty.streams import Source
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION

BARE = {"service": None, "repair": None, "warranty": None, "resale": None, "oil": None}


def fuel_and_hours() -> Scenario:
    """Only fuel differs: the four-stroke costs 1,000 more and burns 3 L/h less."""
    return two_engines(
        two=BARE | {"technology": "four-stroke carburetted"},
        four=BARE,
        use={"spread": {"shape": "lognormal", "variation": 0.5}},
        trials={"fuel_burn_variation": 0.1},
    )


def test_swings_by_hand() -> None:
    found = sensitivity(fuel_and_hours(), chunks=1)
    assert found is not None
    swings = {one.input: one.swing for one in found.inputs}
    s = math.sqrt(math.log1p(0.25))
    low, high = (100.0 * math.exp(sign * s * TENTH - 0.5 * s**2) for sign in (-1.0, 1.0))

    hours = swings[Source.HOURS, ""]
    assert (hours.low, hours.high) == pytest.approx((low, high), rel=IDENTITY)
    assert hours.at_low == pytest.approx(1000.0 - 4 * low * 3 * 2.0, rel=REGRESSION)
    assert hours.at_high == pytest.approx(1000.0 - 4 * high * 3 * 2.0, rel=REGRESSION)
    burn = swings[Source.FUEL_BURN, "Four-stroke"]
    assert burn.at_high - burn.at_low == pytest.approx(4 * 100 * 7 * 2.0 * (burn.high - burn.low), rel=REGRESSION)
    assert [one.swing.width for one in found.inputs] == sorted((s.width for s in swings.values()), reverse=True)


def test_shares_by_hand() -> None:
    # difference = 1,000 + 800 h (7 a - 10 b) with independent h, a, b of mean 1: variances from products of means.
    found = sensitivity(fuel_and_hours(), chunks=8)
    assert found is not None
    hours, burn = 0.25, 0.01
    rest = 49 * burn + 100 * burn
    whole = (1 + hours) * (9 + rest) - 9
    exact = {
        (Source.HOURS, ""): (9 * hours / whole, hours * (9 + rest) / whole),
        (Source.FUEL_BURN, "Four-stroke"): (49 * burn / whole, 49 * burn * (1 + hours) / whole),
        (Source.FUEL_BURN, "Two-stroke"): (100 * burn / whole, 100 * burn * (1 + hours) / whole),
    }

    assert {one.input for one in found.inputs} == set(exact)
    for one in found.inputs:
        first, total = exact[one.input]
        assert one.first_order.value == pytest.approx(first, abs=4 * one.first_order.standard_error)
        assert one.total.value == pytest.approx(total, abs=4 * one.total.standard_error)
    assert found.standard_deviation == pytest.approx(800 * math.sqrt(whole), rel=0.02)


def test_failures_are_an_input_where_they_are_drawn() -> None:
    found = sensitivity(two_engines(trials={"repairs": "drawn"}), chunks=2)
    assert found is not None

    assert {one.input for one in found.inputs} == {(Source.FAILURES, "Two-stroke"), (Source.FAILURES, "Four-stroke")}
    total = sum(one.first_order.value for one in found.inputs)
    assert total == pytest.approx(1.0, abs=4 * sum(one.first_order.standard_error for one in found.inputs))


def test_nothing_differs() -> None:
    found = sensitivity(two_engines(), chunks=1)
    assert found is not None

    assert found.inputs == ()
    assert found.standard_deviation == pytest.approx(0.0, abs=REGRESSION)


def test_a_single_engine_has_no_difference() -> None:
    scenario = two_engines()

    assert sensitivity(scenario.changed({("engines",): scenario.engines[:1]})) is None


def test_a_constant_has_no_shares() -> None:
    shares = indices(np.ones(10), np.ones(10), np.ones(10))

    assert (shares.first_order.value, shares.total.value) == (0.0, 0.0)


def test_a_shift_changes_no_share() -> None:
    a, b, ab = np.random.default_rng(3).normal(size=(3, 1000))

    one, other = indices(a, b, ab), indices(a + 1e4, b + 1e4, ab + 1e4)

    assert other.first_order.value == pytest.approx(one.first_order.value, abs=REGRESSION)
    assert other.total.value == pytest.approx(one.total.value, abs=REGRESSION)


def test_swings_alone_are_those_of_the_whole() -> None:
    whole, alone = sensitivity(fuel_and_hours(), chunks=1), swings(fuel_and_hours())
    assert whole is not None
    assert alone is not None

    assert alone.inputs == tuple((one.input, one.swing) for one in whole.inputs)
    assert (alone.baseline, alone.challenger) == (whole.baseline, whole.challenger)
    assert alone.stated == pytest.approx(1000.0 - 4 * 100 * 3 * 2.0, rel=REGRESSION)


def test_a_single_engine_has_no_swings() -> None:
    scenario = fuel_and_hours()

    assert swings(scenario.changed({("engines",): scenario.engines[:1]})) is None
