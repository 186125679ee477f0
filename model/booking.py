"""When amounts are booked: at their own time and in mid-year, or all at the end of their year."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS, Timing

Amounts = NDArray[np.float64]


STEPS_IN_A_MONTH = 16
"""Steps of the tables of compound growth in one month."""


class Compounding(NamedTuple):
    """(1 + rate)^t without a power for each event: a table by steps, and the rest of a step by a short series."""

    by_step: Amounts
    """(1 + rate)^t at steps of a sixteenth of a month from the delivery on, shape (step,). [-]"""
    log_a_step: float
    """ln(1 + rate) / (12 x 16). [1/step]"""


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
    steps_in_a_year = MONTHS_IN_A_YEAR * STEPS_IN_A_MONTH
    log_a_step = math.log1p(rate) / steps_in_a_year
    return Compounding(np.exp(log_a_step * np.arange(int(years * steps_in_a_year) + 3)), log_a_step)


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
        (1 + rate)^t; |ln(1 + rate)| / (12 x 16) is at most 0.0037 for the rates there may be, and 0.0037^5 / 5! is
        6e-15. [-]
    """
    step, rest = step_of(t)
    return float(growth.by_step[step] * within_step(rest * growth.log_a_step))


@compiled
def step_of(t: float) -> tuple[int, float]:
    """The step of the tables that a time falls in, and the rest of it. [year -> -, step]"""
    steps = t * (MONTHS_IN_A_YEAR * STEPS_IN_A_MONTH)
    step = int(steps)
    return step, steps - step


@compiled
def within_step(x: float) -> float:
    """exp(x) for the rest of a step. [-]"""
    return 1.0 + x * (1.0 + x * (0.5 + x * (1.0 / 6.0 + x * (1.0 / 24.0))))


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
