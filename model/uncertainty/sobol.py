"""Sobol' indices: what share of a variance is an input's, alone and with all that it takes part in.

Sources: first order, Saltelli et al., "Variance based sensitivity analysis of model output", Computer Physics
Communications 181 (2010), table 2 (b); total, Jansen, "Analysis of variance designs for model output", Computer Physics
Communications 117 (1999), the same table (f).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.uncertainty.intervals import Estimate

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Indices:
    """Shares of a variance."""

    first_order: Estimate
    """Of the input alone. [-]"""
    total: Estimate
    """Of the input with all that it takes part in. [-]"""


def indices(first: ArrayLike, second: ArrayLike, mixed: ArrayLike) -> Indices:
    """
    Sobol' indices of one input from three runs of the same trials.

    Parameters
    ----------
    first, second : array_like, shape (trial,)
        Results with all inputs drawn, in two independent runs, A and B.
    mixed : array_like, shape (trial,)
        Results with the one input of B and all others of A.

    Returns
    -------
    Indices
        First order mean(B (AB - A)) / V and total mean((A - AB)^2) / 2 V, with V the variance of A and B together;
        standard errors of these ratios of means by the delta method.
    """
    a, b, ab = (np.asarray(values, dtype=float) for values in (first, second, mixed))
    centre = 0.5 * (a.mean() + b.mean())
    a, b, ab = a - centre, b - centre, ab - centre
    variance = 0.5 * (a**2 + b**2)
    if variance.mean() <= 0.0:
        return Indices(Estimate(0.0, 0.0), Estimate(0.0, 0.0))
    return Indices(_ratio(b * (ab - a), variance), _ratio(0.5 * (a - ab) ** 2, variance))


def _ratio(over: Amounts, under: Amounts) -> Estimate:
    """Ratio of two means over the same trials, and its standard error."""
    ratio = float(over.mean() / under.mean())
    influence = (over - ratio * under) / under.mean()
    return Estimate(ratio, float(influence.std(ddof=1) / np.sqrt(over.size)))
