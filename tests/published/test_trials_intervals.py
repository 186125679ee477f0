"""Coverage intervals of the additive model of JCGM 101 (9.2.2, 9.2.3), by the functions that summarise trials."""

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from model.uncertainty.intervals import Distribution, distribution
from tests.published.figures import check

TRIALS = 1_000_000

EXACT = {"E-M01": 2.0 * 1.959963984540054, "E-M02": 2.0 * 3.0**0.5 * (2.0 - 0.6**0.25)}
"""Upper end of the 95 % interval in closed form: 1.96 standard deviations; 2 sqrt 3 (2 - (3/5)^(1/4))."""

Draw = Callable[[np.random.Generator], NDArray[np.float64]]

INPUTS: dict[str, Draw] = {
    "E-M01": lambda generator: generator.standard_normal((4, TRIALS)),
    "E-M02": lambda generator: generator.uniform(-(3.0**0.5), 3.0**0.5, (4, TRIALS)),
}
"""Four inputs of mean 0 and standard deviation 1."""


def summed(key: str) -> Distribution:
    """Summary of the sum of the four inputs."""
    return distribution(INPUTS[key](np.random.default_rng(101)).sum(axis=0))


@pytest.mark.parametrize("key", ["E-M01", "E-M02"])
def test_mean_and_standard_deviation(key: str) -> None:
    _, answer, _ = check(key)
    found = summed(key)

    assert found.mean.value == pytest.approx(answer["y"], abs=4 * found.mean.standard_error)
    # The standard error of a standard deviation is at most s / sqrt(2 n) where tails are no longer than a normal's.
    assert found.standard_deviation == pytest.approx(answer["u"], abs=4 * answer["u"] / (2 * TRIALS) ** 0.5)


@pytest.mark.parametrize("key", ["E-M01", "E-M02"])
def test_symmetric_interval(key: str) -> None:
    found = summed(key)

    for end, error, sign in zip(found.intervals[0.95], found.interval_errors[0.95], (-1.0, 1.0), strict=True):
        assert end == pytest.approx(sign * EXACT[key], abs=4 * error)


@pytest.mark.parametrize("key", ["E-M01", "E-M02"])
def test_the_closed_form_is_what_the_source_prints(key: str) -> None:
    _, answer, tolerance = check(key)

    assert [-EXACT[key], EXACT[key]] == pytest.approx(answer["interval"], abs=tolerance)


@pytest.mark.parametrize("key", ["E-M01", "E-M02"])
def test_shortest_interval_is_no_longer_and_near(key: str) -> None:
    found = summed(key)
    low, high = found.shortest[0.95]

    # The least width of many is a little below the exact one, and its place is known worse than an end.
    assert high - low <= found.intervals[0.95][1] - found.intervals[0.95][0]
    assert high - low == pytest.approx(2 * EXACT[key], abs=8 * max(found.interval_errors[0.95]))
