"""Coverage intervals of trials, and how far the trials may be off: Monte Carlo standard errors.

Source: JCGM 101:2008, Propagation of distributions using a Monte Carlo method, 7.5 to 7.7.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

Amounts = NDArray[np.float64]

SHARES = (0.5, 0.8, 0.95)
"""Shares of the trials that the intervals hold. [-]"""

Interval = tuple[float, float]
"""Lower and upper end."""


@dataclass(frozen=True)
class Estimate:
    """A figure from trials."""

    value: float
    """The figure."""
    standard_error: float
    """Standard deviation that it would have over runs of as many other trials."""


@dataclass(frozen=True)
class Distribution:
    """How a figure is spread over the trials."""

    mean: Estimate
    """Mean."""
    median: Estimate
    """Median."""
    standard_deviation: float
    """Standard deviation."""
    intervals: Mapping[float, Interval]
    """Probabilistically symmetric coverage intervals, by share."""
    interval_errors: Mapping[float, Interval]
    """Standard errors of their ends."""
    shortest: Mapping[float, Interval]
    """Shortest coverage intervals, by share."""


def distribution(values: ArrayLike) -> Distribution:
    """
    Summarise one value from each trial.

    Parameters
    ----------
    values : array_like, shape (trial,)
        Independent values; infinite ones stand for "never", and then only quantiles are finite.

    Returns
    -------
    Distribution
    """
    values = np.asarray(values, dtype=float)
    ordered, mean = np.sort(values), mean_of(values)
    pairs = {share: symmetric_places(share, ordered.size) for share in SHARES}
    return Distribution(
        mean,
        Estimate(median_of(ordered), quantile_error(ordered, 0.5)),
        mean.standard_error * values.size**0.5,
        {share: (float(ordered[low]), float(ordered[high])) for share, (low, high) in pairs.items()},
        {
            share: (quantile_error(ordered, 0.5 * (1.0 - share)), quantile_error(ordered, 0.5 * (1.0 + share)))
            for share in SHARES
        },
        {share: shortest(ordered, share) for share in SHARES},
    )


def mean_of(values: ArrayLike) -> Estimate:
    """Mean of independent values and its standard error, s / sqrt(n); infinite where a value is."""
    values = np.asarray(values, dtype=float)
    if np.isinf(values).any():
        return Estimate(float("inf"), float("nan"))
    spread = float(values.std(ddof=1)) if values.size > 1 else 0.0
    return Estimate(float(values.mean()), spread / values.size**0.5)


def median_of(ordered: Amounts) -> float:
    """Middle of ordered values, the mean of the two in the middle of an even number."""
    low, high = ordered[(ordered.size - 1) // 2], ordered[ordered.size // 2]
    return float(low if low == high else 0.5 * (low + high))


def symmetric_places(share: float, number: int) -> tuple[int, int]:
    """
    Places of the ends of the probabilistically symmetric interval among ordered values, from 0.

    Source: JCGM 101, 7.7.2: q = p M rounded, r = (M - q) / 2 rounded, ends y(r) and y(r + q), counted from 1.

    >>> symmetric_places(0.95, 1_000_000)
    (24999, 974999)
    """
    held = min(int(share * number + 0.5), number - 1)
    first = max((number - held + 1) // 2, 1)
    return first - 1, min(first + held, number) - 1


def symmetric(ordered: Amounts, share: float) -> Interval:
    """The probabilistically symmetric coverage interval of ordered values."""
    low, high = symmetric_places(share, ordered.size)
    return float(ordered[low]), float(ordered[high])


def shortest(ordered: Amounts, share: float) -> Interval:
    """
    The shortest coverage interval of ordered values.

    Source: JCGM 101, 7.7.3: the r* for which y(r* + q) - y(r*) is least.
    """
    held = min(int(share * ordered.size + 0.5), ordered.size - 1)
    with np.errstate(invalid="ignore"):  # infinite less infinite: both ends never
        widths = ordered[held:] - ordered[: ordered.size - held]
    if not np.isfinite(widths[0]):
        return float(ordered[0]), float(ordered[held])
    first = int(np.argmin(widths))
    return float(ordered[first]), float(ordered[first + held])


def quantile_error(ordered: Amounts, share: float) -> float:
    """
    Standard error of a quantile, as a bootstrap of endless length would give it.

    Source: Maritz and Jarrett, "A note on estimating the variance of the sample median", Journal of the American
    Statistical Association 73 (1978): the order statistics weighted by the chance that each is the quantile of a
    resample, a beta distribution about the share.

    Parameters
    ----------
    ordered : ndarray, shape (trial,)
        Ordered values.
    share : float
        Which quantile. [-]

    Returns
    -------
    float
        Not a number where infinite values come into it.
    """
    first, weights = _weights(ordered.size, share)
    near = ordered[first : first + weights.size]
    if not np.isfinite(near[-1]):
        return float("nan")
    near = near - near[0]
    mean = float(weights @ near)
    return float(max(weights @ near**2 - mean**2, 0.0) ** 0.5)


@lru_cache(maxsize=64)
def _weights(number: int, share: float) -> tuple[int, Amounts]:
    """Place of the first order statistic with a weight that counts, and the weights from there on."""
    a, b = share * (number + 1), (1.0 - share) * (number + 1)
    reach = 9.0 * (share * (1.0 - share) * number) ** 0.5 + 3.0
    first, last = max(int(share * number - reach), 0), min(int(share * number + reach) + 1, number)
    middle = (np.arange(first, last) + 0.5) / number
    log = (a - 1.0) * np.log(middle) + (b - 1.0) * np.log1p(-middle)
    weights = np.exp(log - log.max())
    return first, np.asarray(weights / weights.sum())
