"""Running hours by year, meter hours, and when the meter reaches a reading.

`hours` holds the hours a full year would see, shape (..., year), the year last; within a year they are spread evenly,
and a part-year at the end of the ownership period runs at its year's hours for its share of the year.
"""

from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from dateutil.relativedelta import relativedelta
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS

Hours = NDArray[np.float64]

NEVER = np.inf
"""A limit that does not exist. [h, month or year]"""


def year_shares(years: float, begun_years: int) -> Hours:
    """
    Share of each begun year that lies within the ownership period.

    Parameters
    ----------
    years : float
        Length of the ownership period. [year]
    begun_years : int
        Ownership years that begin within it.

    Returns
    -------
    ndarray, shape (year,)
        1 for whole years, the rest for a part-year. [-]

    >>> year_shares(2.5, 3).tolist()
    [1.0, 1.0, 0.5]
    """
    return np.minimum(1.0, years - np.arange(begun_years, dtype=float))


def hours_run(hours: ArrayLike, years: float) -> Hours:
    """
    Running hours within each year of the ownership period.

    Parameters
    ----------
    hours : array_like, shape (..., year)
        Hours of a full year. [h/year]
    years : float
        Length of the ownership period. [year]

    Returns
    -------
    ndarray, shape (..., year)
        Hours run. [h]
    """
    hours = np.asarray(hours, dtype=float)
    return hours * year_shares(years, hours.shape[-1])


def meter_at_year_starts(hours: ArrayLike, years: float, start: float = 0.0) -> Hours:
    """
    Meter hours at the start of each year and at the sale.

    Parameters
    ----------
    hours : array_like, shape (..., year)
        Hours of a full year. [h/year]
    years : float
        Length of the ownership period. [year]
    start : float
        Meter hours at delivery. [h]

    Returns
    -------
    ndarray, shape (..., year + 1)
        Meter hours. [h]
    """
    run = hours_run(hours, years)
    meter = np.empty((*run.shape[:-1], run.shape[-1] + 1))
    meter[..., 0] = start
    np.cumsum(run, axis=-1, out=meter[..., 1:])
    meter[..., 1:] += start
    return meter


def meter_at(t: ArrayLike, hours: ArrayLike, years: float, start: float = 0.0) -> Hours:
    """
    Meter hours at times since delivery, for one row of hours.

    Parameters
    ----------
    t : array_like
        Times within the ownership period. [year]
    hours : array_like, shape (year,)
        Hours of a full year. [h/year]
    years : float
        Length of the ownership period. [year]
    start : float
        Meter hours at delivery. [h]

    Returns
    -------
    ndarray, shape of t
        Meter hours. [h]
    """
    meter = meter_at_year_starts(hours, years, start)
    edges = np.append(np.arange(meter.size - 1, dtype=float), years)
    return np.asarray(np.interp(np.asarray(t, dtype=float), edges, meter))


@lru_cache(maxsize=1024)
def anniversary(delivery: date, year: int) -> date:
    """The day on which an ownership year begins: 12 calendar months after the one before."""
    return delivery + relativedelta(years=year)


def date_at(t: float, delivery: date) -> date:
    """
    Day on which a time falls: year y begins 12 y calendar months after delivery, within it by days.

    Parameters
    ----------
    t : float
        Time since delivery. [year]
    delivery : date
        Day of delivery.

    Returns
    -------
    date
    """
    year = int(t + 1e-9)
    begin, end = (anniversary(delivery, year + more) for more in (0, 1))
    return begin + timedelta(days=int((t - year) * (end - begin).days + 1e-6))


def lay_up_times(month: int, delivery: date, years: float) -> list[float]:
    """
    Times of the first days of a calendar month within the ownership period.

    Parameters
    ----------
    month : int
        Month of the calendar year, 1 to 12.
    delivery : date
        Day of delivery.
    years : float
        Length of the ownership period. [year]

    Returns
    -------
    list of float
        Times since delivery, at most one in each ownership year. [year]
    """
    times = []
    for year in range(int(years) + 1):
        begin, end = (anniversary(delivery, year + more) for more in (0, 1))
        day = date(begin.year, month, 1)
        day = day if day >= begin else date(begin.year + 1, month, 1)
        t = year + (day - begin).days / (end - begin).days
        if day < end and t < years - 1e-9:
            times.append(t)
    return times


@compiled
def meter_at_end(hours: NDArray[np.float64], years: float) -> float:
    """Hours run by the sale. [h]"""
    run = 0.0
    for year in range(hours.shape[0]):
        run += hours[year] * min(1.0, years - year)
    return run


class Pace(NamedTuple):
    """How fast a path's meter runs in one year, and how far that goes."""

    begin: float
    """When the year begins. [month]"""
    run: float
    """Hours run by then. [h]"""
    months_an_hour: float
    """Infinite where the meter stands still. [month/h]"""
    hours_a_month: float
    """The other way round. [h/month]"""
    until_months: float
    """End of the year; infinite for the last, whose hours go on. [month]"""
    until_meter: float
    """Hours run by then, with the tolerance; infinite for the last. [h]"""


@compiled
def pace_in(year: int, run: float, hours: NDArray[np.float64]) -> Pace:
    """
    How fast a path's meter runs in one year.

    Parameters
    ----------
    year : int
    run : float
        Hours run by its begin. [h]
    hours : ndarray, shape (year,)
        Hours of a full year. [h/year]

    Returns
    -------
    Pace
    """
    rate, begin = hours[year], 12.0 * year
    months_an_hour = 12.0 / rate if rate > 0.0 else NEVER
    if year == hours.shape[0] - 1:
        return Pace(begin, run, months_an_hour, rate / 12.0, NEVER, NEVER)
    return Pace(begin, run, months_an_hour, rate / 12.0, begin + 12.0, run + rate + SMALLEST_HOURS)


@compiled
def is_later(meter: float, months: float, pace: Pace) -> bool:
    """Whether both limits lie behind the year of a pace. [h, month]"""
    return bool((meter > pace.until_meter) & (months > pace.until_months))


@compiled
def due_at(meter: float, months: float, pace: Pace) -> tuple[float, float]:
    """
    Where a path reaches a meter reading or a month, at the pace of the first year in which it may.

    Parameters
    ----------
    meter, months : float
        The limits, infinite if there is none; the reading above that at the begin of the year. [h, month]
    pace : Pace

    Returns
    -------
    (float, float)
        Months, and meter hours unless it never comes; both exactly the limit when reached together. [month, h]
    """
    by_hours = pace.begin + (meter - pace.run) * pace.months_an_hour
    at_meter = pace.run + (months - pace.begin) * pace.hours_a_month
    # Chosen value by value: which is first cannot be foreseen, and for a processor a wrong guess costs more than a
    # comparison.
    is_by_months = (months <= by_hours + SMALLEST_MONTHS) | (meter >= at_meter - SMALLEST_HOURS)
    is_by_hours = (by_hours < months + SMALLEST_MONTHS) | (at_meter >= meter - SMALLEST_HOURS)
    return months if is_by_months else by_hours, meter if is_by_hours else at_meter


@compiled
def when_due(meter: float, months: float, hours: NDArray[np.float64]) -> tuple[float, float]:
    """
    Where a path reaches a meter reading or a month, whichever is first.

    Parameters
    ----------
    meter, months : float
        The limits, infinite if there is none. [h, month]
    hours : ndarray, shape (year,)
        Hours of a full year; after the last year its hours go on. [h/year]

    Returns
    -------
    (float, float)
        Months and meter hours, both exactly the limit when reached together; at once where the meter reading is not
        above 0. [month, h]
    """
    if meter <= 0.0:
        return min(months, 0.0), meter
    year, pace = 0, pace_in(0, 0.0, hours)
    while is_later(meter, months, pace):
        year += 1
        pace = pace_in(year, pace.run + hours[year - 1], hours)
    at_months, at_meter = due_at(meter, months, pace)
    return at_months, at_meter if at_months < NEVER else NEVER
