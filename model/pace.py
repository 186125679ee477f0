"""How fast a path's meter runs from year to year, and when it reaches a reading; for the compiled sums."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.usage import NEVER


@compiled
def meters_at_end(rows: NDArray[np.float64], years: float) -> NDArray[np.float64]:
    """Hours run by the sale on each path, rows of hours of shape (path, year), shape (path,). [h]"""
    meters = np.empty(rows.shape[0])
    for path in range(rows.shape[0]):
        run = 0.0
        for year in range(rows.shape[1]):
            run += rows[path, year] * min(1.0, years - year)
        meters[path] = run
    return meters


class YearEnd(NamedTuple):
    """Up to where one year of a path goes."""

    months: float
    """Infinite for the last year, whose hours go on. [month]"""
    meter: float
    """Hours run by then, with the tolerance; infinite for the last year. [h]"""


@compiled
def year_end(year: int, run: float, rows: NDArray[np.float64], path: int) -> YearEnd:
    """Up to where a year of a path goes that begins with so many hours run, rows of shape (path, year). [h, h/year]"""
    if year == rows.shape[1] - 1:
        return YearEnd(NEVER, NEVER)
    return YearEnd(12.0 * (year + 1), run + rows[path, year] + SMALLEST_HOURS)


@compiled
def is_later(meter: float, months: float, end: YearEnd) -> bool:
    """Whether both limits lie behind the end of a year. [h, month]"""
    return bool((meter > end.meter) & (months > end.months))


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
    until: YearEnd
    """End of the year."""


@compiled
def pace_in(year: int, run: float, rows: NDArray[np.float64], path: int) -> Pace:
    """
    How fast a path's meter runs in one year.

    Parameters
    ----------
    year : int
    run : float
        Hours run by its begin. [h]
    rows : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    path : int

    Returns
    -------
    Pace
    """
    rate, until = rows[path, year], year_end(year, run, rows, path)
    return Pace(12.0 * year, run, 12.0 / rate if rate > 0.0 else NEVER, rate / 12.0, until)


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
def when_due(meter: float, months: float, rows: NDArray[np.float64], path: int) -> tuple[float, float]:
    """
    Where a path reaches a meter reading or a month, whichever is first.

    Parameters
    ----------
    meter, months : float
        The limits, infinite if there is none. [h, month]
    rows : ndarray, shape (path, year)
        Hours of a full year; after the last year its hours go on. [h/year]
    path : int

    Returns
    -------
    (float, float)
        Months and meter hours, both exactly the limit when reached together; at once where the meter reading is not
        above 0. [month, h]
    """
    if meter <= 0.0:
        return min(months, 0.0), meter
    year, run, end = 0, 0.0, year_end(0, 0.0, rows, path)
    while is_later(meter, months, end):
        run += rows[path, year]
        year += 1
        end = year_end(year, run, rows, path)
    at_months, at_meter = due_at(meter, months, pace_in(year, run, rows, path))
    return at_months, at_meter if at_months < NEVER else NEVER


@compiled
def hours_before(rows: NDArray[np.float64]) -> NDArray[np.float64]:
    """Hours that each path has run by the begin of each year, both of shape (path, year). [h/year -> h]"""
    run = np.zeros(rows.shape)
    for path in range(rows.shape[0]):
        for year in range(1, rows.shape[1]):
            run[path, year] = run[path, year - 1] + rows[path, year - 1]
    return run


@compiled
def when_read(meter: float, path: int, rows: NDArray[np.float64], run: NDArray[np.float64]) -> float:
    """
    When a path's meter reaches a reading: `when_due` for readings without number.

    Parameters
    ----------
    meter : float
        Hours since delivery, not below 0. [h]
    path : int
        Which of the rows.
    rows : ndarray, shape (path, year)
        Hours of a full year; after the last year its hours go on. [h/year]
    run : ndarray, shape (path, year)
        What `hours_before` gave. [h]

    Returns
    -------
    float
        Since delivery. [month]
    """
    year, row = 0, np.uint64(path)
    for later in range(1, run.shape[1]):
        # No early end: where it would come cannot be foreseen, and for a processor a wrong guess costs more.
        year += meter > run[row, np.uint64(later)] + SMALLEST_HOURS
    pace = pace_in(year, run[row, np.uint64(year)], rows, path)
    return pace.begin + (meter - pace.run) * pace.months_an_hour
