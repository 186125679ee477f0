"""Logarithm, exponential and power as plain arithmetic, against NumPy in extended precision and Python's decimals."""

from collections.abc import Callable
from decimal import Decimal, localcontext

import numpy as np
import pytest
from numpy.typing import NDArray

from model.compiling import compiled
from model.elementary import exp_of, log_of, power_of, sum_over_middle

ONE_IN_THE_LAST_PLACE = 2.0**-52
"""Relative; what the source promises as the largest error."""

Numbers = NDArray[np.float64]


@compiled
def logs(numbers: Numbers, found: Numbers) -> None:
    """Logarithms of numbers."""
    for place in range(numbers.size):
        found[place] = log_of(numbers[place])


@compiled
def exponentials(numbers: Numbers, found: Numbers) -> None:
    """Exponentials of numbers."""
    for place in range(numbers.size):
        found[place] = exp_of(numbers[place])


@compiled
def powers(numbers: Numbers, exponent: float, found: Numbers) -> None:
    """Powers of numbers."""
    for place in range(numbers.size):
        found[place] = power_of(numbers[place], exponent)


def of_all(function: Callable[[Numbers, Numbers], None], numbers: Numbers) -> Numbers:
    """What a function fills in."""
    found = np.empty_like(numbers)
    function(numbers, found)
    return found


def exact(numbers: Numbers, function: Callable[[Decimal], Decimal]) -> list[Decimal]:
    """Values to 40 digits."""
    with localcontext(prec=40):
        return [function(Decimal(float(number))) for number in numbers]


def largest_error(found: Numbers, expected: list[Decimal]) -> float:
    """Of values, relative to the expected ones."""
    with localcontext(prec=40):
        return max(
            float(abs(Decimal(float(value)) - right) / abs(right))
            for value, right in zip(found, expected, strict=True)
            if right
        )


GENERATOR = np.random.default_rng(5)
SPREAD = [
    GENERATOR.random(3_000),  # uniform numbers, as failures are drawn from
    1.0 + GENERATOR.normal(size=1_000) * 1e-6,  # next to 1, where a logarithm is small
    np.exp(GENERATOR.uniform(-700.0, 700.0, 1_000)),
]


@pytest.mark.parametrize("numbers", SPREAD)
def test_logarithms(numbers: Numbers) -> None:
    assert largest_error(of_all(logs, numbers), exact(numbers, Decimal.ln)) < ONE_IN_THE_LAST_PLACE


@pytest.mark.parametrize("reach", [1e-6, 0.5, 5.0, 700.0])
def test_exponentials(reach: float) -> None:
    numbers = GENERATOR.uniform(-reach, reach, 2_000)

    assert largest_error(of_all(exponentials, numbers), exact(numbers, Decimal.exp)) < ONE_IN_THE_LAST_PLACE


def test_a_whole_array_is_as_one_number_at_a_time() -> None:
    numbers = GENERATOR.uniform(0.01, 30.0, 1_001)

    assert np.array_equal(of_all(logs, numbers), [log_of(number) for number in numbers])
    assert np.array_equal(of_all(exponentials, numbers), [exp_of(number) for number in numbers])


def test_ends_and_exact_values() -> None:
    assert log_of(1.0) == 0.0
    assert exp_of(0.0) == 1.0
    assert exp_of(-1e9) == exp_of(-708.0) < 1e-300
    assert exp_of(1e9) == exp_of(709.0) > 1e300


@pytest.mark.parametrize("exponent", [0.05, 0.5, 1.0 / 1.7, 2.0, 20.0])
def test_powers(exponent: float) -> None:
    numbers = GENERATOR.uniform(0.001, 40.0, 2_000)
    found = np.empty_like(numbers)
    powers(numbers, exponent, found)
    # One unit for each unit of the exponential's argument, and one for itself.
    allowed = (1.0 + np.abs(exponent * np.log(numbers))) * ONE_IN_THE_LAST_PLACE

    assert (np.abs(found / numbers**exponent - 1.0) <= allowed + ONE_IN_THE_LAST_PLACE).all()
    assert power_of(0.0, exponent) == 0.0


@pytest.mark.parametrize("number", [1, 2, 3, 18, 175, 8766])
@pytest.mark.parametrize("log_of_all", [1.4, 0.1, -0.02, 1e-7, 0.0])
def test_sums_of_a_series(number: int, log_of_all: float) -> None:
    """The terms one by one, to 40 digits."""
    log_ratio = log_of_all / number
    with localcontext(prec=40):
        terms = sum((Decimal(log_ratio) * term).exp() for term in range(number))
        over_middle = terms / (Decimal(log_ratio) * (number - 1) / 2).exp()
        error = abs(Decimal(sum_over_middle(float(number), log_ratio)) / over_middle - 1)

    assert error < 4 * ONE_IN_THE_LAST_PLACE
