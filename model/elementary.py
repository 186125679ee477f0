"""Logarithm, exponential and power as plain arithmetic: the same bits on every machine, and several at once.

A loop over an array that calls these has no call and no choice left in it, so that a processor takes several numbers
together; the ones of the machine's library take one at a time, and differ between machines in the last digit.
Source: Sun Microsystems' freely distributable library (fdlibm, files e_log.c and e_exp.c, 1993), which states the
method, the constants and errors of less than 1 unit in the last place.
"""

import math
from collections.abc import Callable
from typing import cast

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled, machine_word

LN_2_HIGH, LN_2_LOW = 6.93147180369123816490e-01, 1.90821492927058770002e-10
"""ln 2 in two parts, the first with enough zeros at its end for exact products with whole numbers."""

LOG_2_E = 1.44269504088896338700
"""1 / ln 2."""

WHOLE = 6755399441055744.0
"""1.5 x 2^52: a small number added to it is rounded to a whole one, which then stands in the last bits of the sum."""

WHOLE_BITS = 0x4338000000000000
"""The bits of that."""

ROOT_HALF_BITS = 0x3FE6A09E667F3BCD
"""The bits of the square root of 1/2."""

EXPONENT_PLACE = 52
"""Where the exponent of a float begins."""

LOWEST, HIGHEST = -708.0, 709.0
"""Beyond these an exponential is no normal number any more; it is taken there."""

OVER_FACTORIALS = tuple(1.0 / math.factorial(number) for number in range(3, 17, 2))
"""1 / 3!, 1 / 5!, and so on."""

bits_of = cast(Callable[[float], int], machine_word("float64", "int64"))
"""The bits of a float as a whole number."""

number_of = cast(Callable[[int], float], machine_word("int64", "float64"))
"""The float that has these bits."""


@compiled
def log_of(x: float) -> float:
    """
    Natural logarithm.

    Parameters
    ----------
    x : float
        Above 0, no less than the smallest normal number (2e-308), finite; of others the result means nothing.

    Returns
    -------
    float
        ln x = k ln 2 + ln (1 + f), with 1 + f between the roots of 1/2 and 2. [-]
    """
    bits = bits_of(x)
    power = (bits - ROOT_HALF_BITS) >> EXPONENT_PLACE
    k, f = number_of(power + WHOLE_BITS) - WHOLE, number_of(bits - (power << EXPONENT_PLACE)) - 1.0
    s = f / (2.0 + f)
    z = s * s
    w = z * z
    odd = w * (3.999999999940941908e-01 + w * (2.222219843214978396e-01 + w * 1.531383769920937332e-01))
    even = z * (
        6.666666666666735130e-01
        + w * (2.857142874366239149e-01 + w * (1.818357216161805012e-01 + w * 1.479819860511658591e-01))
    )
    half_square = 0.5 * f * f
    return k * LN_2_HIGH - ((half_square - (s * (half_square + odd + even) + k * LN_2_LOW)) - f)


@compiled
def exp_of(x: float) -> float:
    """
    Exponential.

    Parameters
    ----------
    x : float
        Taken at -708 below it and at 709 above it.

    Returns
    -------
    float
        e^x = 2^k e^r, with r no more than half of ln 2 either way. [-]
    """
    x = min(max(x, LOWEST), HIGHEST)
    shifted = x * LOG_2_E + WHOLE
    k = shifted - WHOLE
    r = (x - k * LN_2_HIGH) - k * LN_2_LOW
    z = r * r
    c = r - z * (
        1.66666666666666019037e-01
        + z
        * (
            -2.77777777770155933842e-03
            + z * (6.61375632143793436117e-05 + z * (-1.65339022054652515390e-06 + z * 4.13813679705723846039e-08))
        )
    )
    power = 1.0 + (r * c / (2.0 - c) + r)
    return number_of(bits_of(power) + ((bits_of(shifted) - WHOLE_BITS) << EXPONENT_PLACE))


@compiled
def power_of(base: float, exponent: float) -> float:
    """
    A power of a number not below 0: e^(exponent x ln base); 0 of 0, whatever the exponent.

    Parameters
    ----------
    base, exponent : float

    Returns
    -------
    float
        Off by 1e-16 of itself for each unit of exponent x ln base. [-]
    """
    power = exp_of(exponent * log_of(base))
    return power if base > 0.0 else 0.0


@compiled
def sum_over_middle(number: float, log_ratio: float) -> float:
    """
    Sum of a geometric series over what stands in its middle, between the first and the last; exact for ratios near 1.

    Parameters
    ----------
    number : float
        How many terms.
    log_ratio : float
        Logarithm x of the ratio of two neighbours; n x no larger than 1.4 either way where there are several terms.

    Returns
    -------
    float
        (1 + e^x + ... + e^((n - 1) x)) / e^((n - 1) x / 2) = n s(n x / 2) / s(x / 2), with s(y) = sinh(y) / y. [-]
    """
    half = 0.5 * log_ratio
    return number * (_sinh_over(number * half) / _sinh_over(half))


@compiled
def _sinh_over(y: float) -> float:
    """sinh(y) / y for y within 0.7 either way: the power series, whose next term is below 1e-17."""
    z = y * y
    high = z * (OVER_FACTORIALS[3] + z * (OVER_FACTORIALS[4] + z * (OVER_FACTORIALS[5] + z * OVER_FACTORIALS[6])))
    return 1.0 + z * (OVER_FACTORIALS[0] + z * (OVER_FACTORIALS[1] + z * (OVER_FACTORIALS[2] + high)))


def exponentials(numbers: ArrayLike, factor: float = 1.0, more: float = 0.0) -> NDArray[np.float64]:
    """
    Exponentials of many numbers.

    Parameters
    ----------
    numbers : array_like
    factor, more : float
        What they are multiplied by, and what is added then.

    Returns
    -------
    ndarray, shape of numbers
        exp(factor x number + more), in the order that the numbers have in memory. [-]
    """
    found = np.array(numbers, dtype=float, order="A")
    _fill_exponentials(found.reshape(-1, order="A"), factor, more)
    return found


@compiled
def _fill_exponentials(numbers: NDArray[np.float64], factor: float, more: float) -> None:
    """Put exponentials in the place of numbers, shape (n,)."""
    for place in range(numbers.size):
        numbers[place] = exp_of(factor * numbers[place] + more)
