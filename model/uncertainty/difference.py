"""How the difference between two engines is spread over the trials, in bins ready to be drawn."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.uncertainty.intervals import symmetric
from model.uncertainty.summary import SAME
from model.uncertainty.trials import TrialRun

Amounts = NDArray[np.float64]

BINS = 36
"""How many bins there are at most, the outermost apart."""

OUTSIDE = 0.005
"""Share of the trials on either side that may lie beyond the outermost edges. [-]"""


@dataclass(frozen=True)
class Difference:
    """What one engine costs more than another over the trials, present value."""

    cheaper: str
    """The engine that is taken off."""
    other: str
    """The one it is taken from."""
    edges: Amounts
    """Edges of the bins, even steps, zero one of them where it is in sight, shape (n + 1,). [money]"""
    shares: Amounts
    """Share of the trials in each bin; the outermost hold what lies beyond them, shape (n,). [-]"""
    share_cheaper: float
    """Share of the trials in which the first engine costs less, ties shared. [-]"""
    median: float
    """Half of the trials lie below. [money]"""
    interval: tuple[float, float]
    """Ends of the interval that holds 80 % of the trials. [money]"""


def difference(run: TrialRun, cheaper: int, other: int) -> Difference:
    """
    What one engine costs more than another in each trial, summed up in bins.

    Parameters
    ----------
    run : TrialRun
    cheaper, other : int
        Positions of two engines; the first is taken off the second, so that above 0 the first costs less.

    Returns
    -------
    Difference
    """
    apart = run.present[other] - run.present[cheaper]
    smallest = SAME * np.maximum(1.0, np.abs(run.present[cheaper]))
    wins = (apart > smallest).mean() + 0.5 * (np.abs(apart) <= smallest).mean()
    ordered = np.sort(apart)
    edges = bin_edges(*(float(end) for end in np.quantile(ordered, [OUTSIDE, 1.0 - OUTSIDE])))
    counts, _ = np.histogram(np.clip(apart, edges[0], edges[-1]), edges)
    low, high = symmetric(ordered, 0.8)
    return Difference(
        run.names[cheaper],
        run.names[other],
        edges,
        counts / run.trials,
        float(wins),
        float(np.median(ordered)),
        (low, high),
    )


def bin_edges(low: float, high: float) -> Amounts:
    """
    Even edges from below one amount to above another, at whole steps of 1, 2 or 5 times a power of ten.

    Parameters
    ----------
    low, high : float
        Ends to be held. [money]

    Returns
    -------
    ndarray
        At least two; zero is one of them where it lies between them. [money]

    >>> bin_edges(-130.0, 240.0)[[0, 1, -1]].tolist()
    [-140.0, -120.0, 240.0]
    """
    step = round_step((high - low) / BINS)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return np.asarray(step * np.arange(first, max(last, first + 1) + 1, dtype=float))


def round_step(least: float) -> float:
    """
    The smallest of 1, 2 and 5 times a power of ten that is not below a step; 1 for no step at all.

    >>> round_step(10.3), round_step(0.3), round_step(0.0)
    (20.0, 0.5, 1.0)
    """
    if least <= 0.0:
        return 1.0
    unit = 10.0 ** math.floor(math.log10(least))
    return next((times * unit for times in (1.0, 2.0, 5.0) if least <= times * unit * (1.0 + 1e-9)), 10.0 * unit)
