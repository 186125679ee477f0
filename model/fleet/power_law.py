"""Failures of a log as a power law: scale and shape with their intervals, and mean cumulative repairs.

A minimal-repair mode is a Poisson process whose expected failures by age x are (x / scale)^shape: the power-law model
of reliability growth (Crow, "Reliability analysis for complex, repairable systems", 1974; MIL-HDBK-189C, 6.2). A part
renewed at each repair lives a Weibull life; written life by life, some of them unfinished, its likelihood is the same.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Amounts = NDArray[np.float64]

FEWEST_FAILURES = 3
"""Failures from which on scale and shape are fitted."""

MOST = 600.0
"""Natural logarithm of the largest factor by which failures are counted. [-]"""

SHAPES = (0.02, 50.0)
"""Between these a shape is looked for. [-]"""


@dataclass(frozen=True)
class PowerLaw:
    """A power law fitted by maximum likelihood."""

    scale: float
    """Age at which one failure is expected. [h or year]"""
    shape: float
    """1 = constant, above 1 = wears. [-]"""
    scale_interval: tuple[float, float]
    """Profile likelihood interval. [h or year]"""
    shape_interval: tuple[float, float]
    """Profile likelihood interval. [-]"""
    failures: int
    """Failures it rests on."""


@dataclass(frozen=True)
class Observed:
    """Failures and the spans within which they would have been seen."""

    ages: Amounts
    """Age at each failure, shape (failure,). [h or year]"""
    begins: Amounts
    """Age at which each span begins, shape (span,). [h or year]"""
    ends: Amounts
    """Age at which each span ends, shape (span,). [h or year]"""

    def spanned(self, shape: float) -> float:
        """Sum over spans of end^shape - begin^shape."""
        return float(np.sum(self.ends**shape - self.begins**shape))

    def log_likelihood(self, shape: float, scale: float) -> float:
        """Logarithm of the likelihood, a constant left out."""
        n, at_scale = self.ages.size, shape * float(np.log(scale))
        # A scale far below all ages would have more failures than a float holds: any such number is as unlikely.
        failures = self.spanned(shape) * float(np.exp(min(-at_scale, MOST)))
        return float(n * np.log(shape) - n * at_scale + (shape - 1.0) * np.log(self.ages).sum() - failures)

    def profile(self, shape: float) -> float:
        """Logarithm of the likelihood at a shape and the best scale for it, the same constant left out."""
        n = self.ages.size
        return float(n * np.log(shape * n / self.spanned(shape)) + (shape - 1.0) * np.log(self.ages).sum() - n)

    def best_scale(self, shape: float) -> float:
        """The scale with the highest likelihood at a shape. [h or year]"""
        return float((self.spanned(shape) / self.ages.size) ** (1.0 / shape))


def observed(ages: ArrayLike, begins: ArrayLike, ends: ArrayLike) -> Observed:
    """
    Failures and spans as arrays.

    Parameters
    ----------
    ages : array_like, shape (failure,)
        Age at each failure, above 0. [h or year]
    begins, ends : array_like, shape (span,)
        Ages between which a system was watched. [h or year]

    Returns
    -------
    Observed
    """
    return Observed(*(np.asarray(values, dtype=float) for values in (ages, begins, ends)))


def fit_power_law(seen: Observed, coverage: float = 0.95) -> PowerLaw | None:
    """
    Scale and shape with the highest likelihood, and their profile likelihood intervals.

    Parameters
    ----------
    seen : Observed
    coverage : float
        Of the intervals. [-]

    Returns
    -------
    PowerLaw or None
        None with fewer than three failures, or where the likelihood has no highest point (all failures at one end).
    """
    from scipy.optimize import brentq

    n, unit = seen.ages.size, float(np.max(seen.ends, initial=0.0))
    if n < FEWEST_FAILURES or unit <= 0.0 or not np.all(seen.ages > 0.0):
        return None
    inside = Observed(seen.ages / unit, seen.begins / unit, seen.ends / unit)
    if _slope(inside, SHAPES[0]) <= 0.0 or _slope(inside, SHAPES[1]) >= 0.0:
        return None
    shape = float(brentq(lambda shape: _slope(inside, shape), *SHAPES, xtol=1e-14, rtol=1e-14))
    scale = inside.best_scale(shape)
    at_best = inside.profile(shape)
    shapes = _interval(lambda b: inside.profile(b) - at_best, (shape, SHAPES), coverage)
    scales = _interval(lambda s: _best_at_scale(inside, s) - at_best, (scale, (0.0, np.inf)), coverage)
    return PowerLaw(scale * unit, shape, (scales[0] * unit, scales[1] * unit), shapes, n)


def _slope(seen: Observed, shape: float) -> float:
    """Slope of the profile likelihood over the shape: n / b + sum of logs - n (sum of end^b log end ...) / spanned."""
    with np.errstate(divide="ignore", invalid="ignore"):
        weighted = [np.where(x > 0.0, x**shape * np.log(x), 0.0) for x in (seen.ends, seen.begins)]
    n = seen.ages.size
    mean_log = float(np.sum(weighted[0] - weighted[1])) / seen.spanned(shape)
    return float(n / shape + np.log(seen.ages).sum() - n * mean_log)


def _best_at_scale(seen: Observed, scale: float) -> float:
    """The highest log-likelihood at a scale, whatever the shape."""
    from scipy.optimize import minimize_scalar

    found = minimize_scalar(
        lambda log_shape: -seen.log_likelihood(float(np.exp(log_shape)), scale),
        bounds=(np.log(SHAPES[0]), np.log(SHAPES[1])),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return -float(found.fun)


def _interval(
    below_best: Callable[[float], float], around: tuple[float, tuple[float, float]], coverage: float
) -> tuple[float, float]:
    """
    Where the log-likelihood has fallen by half the chi-square quantile of one degree of freedom, on either side.

    It is looked for around the best value and within limits; 0 or infinite where it has not fallen so far there.
    """
    from scipy.optimize import brentq
    from scipy.stats import chi2

    fall = 0.5 * float(chi2.ppf(coverage, 1))
    best, (least, most) = around

    def above(value: float) -> float:
        return below_best(value) + fall

    edges = []
    for factor, last in ((0.5, 0.0), (2.0, np.inf)):
        far = best
        for _ in range(40):
            far *= factor
            if not least <= far <= most:
                edges.append(last)
                break
            if above(far) < 0.0:
                edges.append(float(brentq(above, *sorted((far, far / factor)), xtol=1e-12 * best)))
                break
        else:
            edges.append(last)
    return edges[0], edges[1]


def mean_cumulative_repairs(ages: ArrayLike, begins: ArrayLike, ends: ArrayLike) -> tuple[Amounts, Amounts]:
    """
    Repairs a system expects by an age, whatever their law: one step for each repair, over the systems watched then.

    Nelson, "Graphical analysis of system repair data", Journal of Quality Technology 20 (1988): each repair adds
    1 / number watched; systems that end at the very age of a repair still count.

    Parameters
    ----------
    ages : array_like, shape (repair,)
        Ages at repairs. [h or year]
    begins, ends : array_like, shape (system,)
        Ages between which each system was watched. [h or year]

    Returns
    -------
    (ndarray, ndarray), shape (repair,)
        Ages, rising, and mean cumulative repairs just after each. [h or year, -]
    """
    ages = np.sort(np.asarray(ages, dtype=float))
    begins, ends = np.asarray(begins, dtype=float), np.asarray(ends, dtype=float)
    watched = np.sum((begins[None, :] <= ages[:, None]) & (ages[:, None] <= ends[None, :]), axis=1)
    return ages, np.cumsum(1.0 / np.maximum(watched, 1))
