"""Running hours by year, meter hours, and when the meter reaches a reading.

`hours` holds the hours a full year would see, shape (..., year), the year last; within a year they are spread evenly,
and a part-year at the end of the ownership period runs at its year's hours for its share of the year.
"""

from datetime import date, timedelta
from functools import lru_cache

import numpy as np
from dateutil.relativedelta import relativedelta
from numpy.typing import ArrayLike, NDArray

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
