"""Curves for pictures: costs over hours a year, and when one curve of cost since delivery stays below another."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.break_even import SAME_TIME, Cumulative, pays_from
from model.sweep import Sweep

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class HoursCurve:
    """Total cost of ownership in present value over hours a year."""

    hours: Amounts
    """Mean hours a year, rising, shape (n,). [h/year]"""
    costs: Amounts
    """Of each engine, shape (engine, n). [money]"""

    @property
    def above_cheapest(self) -> Amounts:
        """What each engine costs more than the cheapest at the same hours, shape (engine, n). [money]"""
        return np.asarray(self.costs - self.costs.min(axis=0))


def hours_curve(sweep: Sweep, high: float, points: int) -> HoursCurve:
    """
    Costs of every engine over hours a year, out of a sweep.

    Parameters
    ----------
    sweep : Sweep
        From `cheapest.sweep_over_hours`.
    high : float
        How far the curve goes, beyond the sweep too. [h/year]
    points : int
        How many points a picture needs, about.

    Returns
    -------
    HoursCurve
        At points of the sweep's grid where it has that many, from its begin on to `high`.
    """
    inside = np.flatnonzero(sweep.grid <= high)
    if 2 * inside.size < points:
        hours = np.linspace(sweep.grid[0], high, points)
        return HoursCurve(hours, sweep.between(hours))
    seen = np.unique(np.linspace(0, inside[-1], min(points, inside.size)).round().astype(int))
    hours, costs = sweep.grid[seen], sweep.costs[:, seen]
    if hours[-1] < high:
        steps = math.ceil((high - hours[-1]) / (hours[1] - hours[0]))
        beyond = np.linspace(hours[-1], high, steps + 1)[1:]
        hours, costs = np.append(hours, beyond), np.hstack([costs, sweep.between(beyond)])
    return HoursCurve(hours, costs)


def stays_below_from(challenger: Cumulative, baseline: Cumulative) -> float | None:
    """
    The earliest time from which one curve stays at or below another to the end of both.

    The break-even of `break_even.break_even_years`, for curves that are there already.

    Parameters
    ----------
    challenger, baseline : Cumulative
        Cost since delivery.

    Returns
    -------
    float or None
        0 from the start, None for never within the period. [year]
    """
    times = np.sort(np.concatenate([challenger.t, baseline.t]))
    times = times[np.append(True, np.diff(times) > SAME_TIME)]
    (before, after), (base_before, base_after) = challenger.at(times), baseline.at(times)
    return pays_from(times, before - base_before, after - base_after)
