"""When amounts are booked: at their own time and in mid-year, or all at the end of their year."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.elementary import exp_of
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS, Timing

Amounts = NDArray[np.float64]


class Booking(NamedTuple):
    """How dated events are booked in the compiled sums: ln(1 + rate) of each rate, and when."""

    parts: float
    """Growth of prices of parts. [1/year]"""
    labour: float
    """Growth of the price of labour. [1/year]"""
    downtime: float
    """Growth of the cost of a lost day. [1/year]"""
    discount: float
    """Discount at the nominal rate, below 0 where that is above. [1/year]"""
    year_end: bool
    """Whether events are booked at the end of their year."""
    years: float
    """Ownership period. [year]"""


@compiled
def factor_at(t: float, log_rate: float) -> float:
    """
    What an amount is multiplied by at time t, for growth or for discount.

    Parameters
    ----------
    t : float
        Time since delivery. [year]
    log_rate : float
        ln(1 + rate). [1/year]

    Returns
    -------
    float
        (1 + rate)^t. [-]
    """
    return exp_of(t * log_rate)


class Factors(NamedTuple):
    """What the amounts of some events are multiplied by, each of shape (event,)."""

    parts: Amounts
    """Prices of parts. [-]"""
    labour: Amounts
    """Price of labour. [-]"""
    days: Amounts
    """Cost of lost days. [-]"""
    discount: Amounts
    """All of them, for their present value; of no events where nobody asks for it. [-]"""
    booked: Amounts
    """When they are booked. [year]"""


@compiled
def no_factors(events: int, is_discounted: bool) -> Factors:
    """Room for the factors of so many events, that of present values only if they are asked for."""
    room = np.empty((4, events))
    return Factors(room[0], room[1], room[2], np.empty(events if is_discounted else 0), room[3])


@compiled
def factors_at(times: Amounts, booking: Booking, room: Factors) -> Factors:
    """
    What the amounts of events are multiplied by: `factor_at` when each is booked.

    Parameters
    ----------
    times : ndarray, shape (event,)
        When they are, since delivery. [year]
    booking : Booking
    room : Factors
        Written over.

    Returns
    -------
    Factors
        Views of the room; growth at the same rate stands in the same place.
    """
    events = times.size
    parts, labour, days = room.parts[:events], room.labour[:events], room.days[:events]
    discount, booked = room.discount[:events], times
    if booking.year_end:
        booked = room.booked[:events]
        for event in range(events):
            booked[event] = booked_at(times[event], True, booking.years)
    _fill_factors(booked, booking.parts, parts)
    if booking.labour == booking.parts:
        labour = parts
    else:
        _fill_factors(booked, booking.labour, labour)
    if booking.downtime == booking.parts:
        days = parts
    else:
        _fill_factors(booked, booking.downtime, days)
    _fill_factors(booked[: discount.size], booking.discount, discount)
    return Factors(parts, labour, days, discount, booked)


@compiled
def _fill_factors(times: Amounts, log_rate: float, filled: Amounts) -> None:
    """Fill in the factors at one rate."""
    for event in range(times.size):
        filled[event] = factor_at(times[event], log_rate)


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
