"""When amounts are booked: at their own time and in mid-year, or all at the end of their year."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS, Timing

Amounts = NDArray[np.float64]


class Booking(NamedTuple):
    """How dated events are booked in the compiled sums."""

    parts: float
    """Growth of prices of parts. [1/year]"""
    labour: float
    """Growth of the price of labour. [1/year]"""
    downtime: float
    """Growth of the cost of a lost day. [1/year]"""
    discount: float
    """Nominal discount rate. [1/year]"""
    year_end: bool
    """Whether events are booked at the end of their year."""
    years: float
    """Ownership period. [year]"""


@compiled
def booked_at(t: float, year_end: bool, years: float) -> float:
    """When an event at t is booked: at its own time, or at the end of its year or part-year. [year]"""
    if not year_end:
        return t
    return min(math.ceil(t - SMALLEST_MONTHS / MONTHS_IN_A_YEAR), years)


def booking_time(t: ArrayLike, timing: Timing, years: float) -> Amounts:
    """
    When a dated event is booked.

    Parameters
    ----------
    t : array_like
        Times of the events since delivery. [year]
    timing : Timing
        "mid-year": at their own time. "year-end": at the end of their year or part-year, 0 staying at 0.
    years : float
        Length of the ownership period. [year]

    Returns
    -------
    ndarray, shape of t
        Booking times. [year]
    """
    t = np.asarray(t, dtype=float)
    flat = [booked_at(float(single), timing is Timing.YEAR_END, years) for single in t.ravel()]
    return np.array(flat, dtype=float).reshape(t.shape)


def flow_times(timing: Timing, years: float, begun_years: int) -> Amounts:
    """
    When what flows through each year is booked.

    Parameters
    ----------
    timing : Timing
        "mid-year": in the middle of the year or part-year. "year-end": at its end.
    years : float
        Length of the ownership period. [year]
    begun_years : int
        Ownership years that begin within it.

    Returns
    -------
    ndarray, shape (year,)
        Booking times. [year]
    """
    start = np.arange(begun_years, dtype=float)
    end = np.minimum(start + 1.0, years)
    return end if timing is Timing.YEAR_END else 0.5 * (start + end)
