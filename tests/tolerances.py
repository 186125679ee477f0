"""How close is close enough: the only four tolerances; no test writes a bare one."""

import numpy as np
from numpy.typing import ArrayLike

IDENTITY = 1e-12
"""Relative. Two ways to the same sum (parts = total, rate 0 = plain sum, order of engines) differ only by the
rounding of floats: about 1e-16 for each of at most some thousand additions."""

REGRESSION = 1e-9
"""Relative. "Has anything moved?": loose enough for another order of additions on another machine, tight
enough that no change of a rule passes. Never evidence that a figure is right."""


def half_last_digit(decimals: int, rounded_on_the_way: bool = False) -> float:
    """
    Absolute tolerance for a value printed in a source or worked by hand.

    A printed value stands for everything that rounds to it: half a unit of its last digit either way. A
    source that rounds on the way may be off by a whole unit; the test that says so notes where it rounds.
    The billionth on top lets a value pass that lies exactly half-way, whichever way its float falls.

    Parameters
    ----------
    decimals : int
        Digits after the point in the printed value; negative if it is rounded to tens, hundreds ... [-]
    rounded_on_the_way : bool
        Whether the source rounds before its last step.

    Examples
    --------
    >>> round(half_last_digit(2), 9)
    0.005
    >>> round(half_last_digit(0, rounded_on_the_way=True), 6)
    1.0
    """
    return (1.0 if rounded_on_the_way else 0.5) * 10.0**-decimals * (1.0 + 1e-9)


def standard_errors(number: float, sample: ArrayLike) -> float:
    """
    Absolute tolerance for the mean of a Monte Carlo sample against the exact mean.

    The distance is the sample's own, so it shrinks with the trials and cannot be widened to let a test pass.
    With 4, a right program fails for 1 seed in 16,000; seeds are fixed, so it then fails always or never.
    A slow twin with 16 times the trials must come 4 times closer.

    Parameters
    ----------
    number : float
        How many standard errors; 4 unless there is a reason. [-]
    sample : array_like, shape (trial,)
        One value a trial, the trials independent.

    Examples
    --------
    >>> round(standard_errors(4, [1.0, 3.0, 1.0, 3.0]), 6)
    2.309401
    """
    values = np.asarray(sample, dtype=float)
    return float(number * values.std(ddof=1) / np.sqrt(values.size))
