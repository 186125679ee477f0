"""When amounts are booked: at their own time and in mid-year, or all at the end of their year."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS, Timing

Amounts = NDArray[np.float64]


class Compounding(NamedTuple):
    """(1 + rate)^t without a power for each event: a table by month, and the rest of a month by a short series."""

    by_month: Amounts
    """(1 + rate)^(month / 12) from the delivery on, shape (month,). [-]"""
    log_a_month: float
    """ln(1 + rate) / 12. [1/month]"""


class Booking(NamedTuple):
    """How dated events are booked in the compiled sums."""

    parts: Compounding
    """Growth of prices of parts."""
    labour: Compounding
    """Growth of the price of labour."""
    downtime: Compounding
    """Growth of the cost of a lost day."""
    discount: Compounding
    """Discount at the nominal rate: 1 / (1 + rate)^t."""
    year_end: bool
    """Whether events are booked at the end of their year."""
    years: float
    """Ownership period. [year]"""


def compounding(rate: float, years: float) -> Compounding:
    """
    Compound growth at a yearly rate, for any time within an ownership period.

    Parameters
    ----------
    rate : float
        Yearly growth. [1/year]
    years : float
        Ownership period. [year]

    Returns
    -------
    Compounding
    """
    log_a_month = math.log1p(rate) / MONTHS_IN_A_YEAR
    return Compounding(np.exp(log_a_month * np.arange(int(years * MONTHS_IN_A_YEAR) + 3)), log_a_month)


def discounting(rate: float, years: float) -> Compounding:
    """Compound discount at a yearly rate: growth at 1 / (1 + rate) - 1. [1/year, year]"""
    return compounding(1.0 / (1.0 + rate) - 1.0, years)


@compiled
def factor_at(t: float, growth: Compounding) -> float:
    """
    What a delivery-day price is multiplied by at time t.

    Parameters
    ----------
    t : float
        Time since delivery, within the ownership period. [year]
    growth : Compounding

    Returns
    -------
    float
        (1 + rate)^t, to the last digits of a float: |ln(1 + rate)| / 12 is below 0.06, and 0.06^8 / 8! is 4e-15. [-]
    """
    month = int(t * MONTHS_IN_A_YEAR)
    x = (t * MONTHS_IN_A_YEAR - month) * growth.log_a_month
    series = 1.0 + x * (1.0 / 5.0) * (1.0 + x * (1.0 / 6.0) * (1.0 + x * (1.0 / 7.0)))
    series = 1.0 + x * (1.0 + x * 0.5 * (1.0 + x * (1.0 / 3.0) * (1.0 + x * 0.25 * series)))
    return float(growth.by_month[month] * series)


@compiled
def booked_at(t: float, year_end: bool, years: float) -> float:
    """When an event at t is booked: at its own time, or at the end of its year or part-year. [year]"""
    if not year_end:
        return t
    return min(math.ceil(t - SMALLEST_MONTHS / MONTHS_IN_A_YEAR), years)


@compiled
def year_of(t: float, years: int) -> int:
    """Ownership year that an event at t falls in; one on the sale, in the last. [year -> -]"""
    return min(int(t + SMALLEST_MONTHS / MONTHS_IN_A_YEAR), years - 1)


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
