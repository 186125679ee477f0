"""When the visits of a plan fall along paths of hours. The tasks do not move them, so plans may share them."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_HOURS, SMALLEST_MONTHS
from model.pace import Pace, due_at, is_later, pace_in, when_due


class Timing(NamedTuple):
    """When a plan's visits fall: all of it but the tasks, which do not move them."""

    base_hours: float
    """Base interval. [h]"""
    base_months: float
    """Base interval. [month]"""
    first_hours: float
    """First visit; infinite where there is none. [h]"""
    first_months: float
    """First visit; infinite where there is none. [month]"""
    counts_from_first: bool
    """Whether all counts start at the first visit."""
    since_hours: float
    """On the routine count at delivery. [h]"""
    since_months: float
    """On the routine count at delivery. [month]"""
    is_overdue: bool
    """Whether a task of a used engine is overdue, which is a visit at delivery."""


SOLD, SERVICED_AND_SOLD, GOES_ON = 0, 1, 2
"""How a period ends: with a sale; with one on which a visit is made that falls on it; with none."""

NO_FIRST, FIRST_AHEAD, FIRST_IS_ROUTINE = 0, 1, 2
"""What a path has of a first visit: none that is made, one ahead of the routine ones, or the first routine one."""


class Times(NamedTuple):
    """
    When the visits of some paths fall, the paths side by side so that sums over visits take several at once.

    Behind each path's last stands what its tasks must last until: the next visit or the sale, whichever is first; the
    next visit where the last falls on the sale, or where there is none. What stands behind that means nothing.
    """

    months: NDArray[np.float64]
    """Since delivery, shape (visit, path). [month]"""
    meter: NDArray[np.float64]
    """Hours run since delivery, shape (visit, path). [h]"""
    made: NDArray[np.int64]
    """How many visits each path has, shape (path,)."""
    first: NDArray[np.int64]
    """What it has of a first visit, shape (path,)."""
    more: NDArray[np.float64]
    """How many visits of the same year each is the last of besides itself, an even series of which it alone is told,
    shape (visit, path); of no visits where all are to be told. [-]"""
    apart: NDArray[np.float64]
    """How far these are apart, of the same shape. [month]"""


@compiled
def no_times(paths: int, visits: int, in_series: bool) -> Times:
    """Room for so many paths and visits of each, told in series or not."""
    counts, at = np.empty((2, paths), np.int64), np.empty((2, visits, paths))
    series = np.empty((2, visits if in_series else 0, paths))
    return Times(at[0], at[1], counts[0], counts[1], series[0], series[1])


@compiled
def most_visits(meters: NDArray[np.float64], years: float, timing: Timing) -> int:
    """Room that `visit_times` needs: each visit but a few uses up a whole base interval of hours or of months."""
    most = meters.max() if meters.size > 0 else 0.0
    return int(most / timing.base_hours) + int(MONTHS_IN_A_YEAR * years / timing.base_months) + 6


@compiled
def visit_times(
    rows: NDArray[np.float64], meters: NDArray[np.float64], end: tuple[float, int], timing: Timing, times: Times
) -> int:
    """
    Walk from visit to visit along paths.

    Parameters
    ----------
    rows : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    meters : ndarray, shape (path,)
        Hours run by the sale: `meters_at_end`. [h]
    end : (float, int)
        Ownership period, and how it ends. [year, -]
    timing : Timing
    times : Times
        Filled in; with room for `most_visits`.

    Returns
    -------
    int
        Places used of the path that has most, with what stands behind its last.
    """
    (years, ending), used = end, 0
    end_months = MONTHS_IN_A_YEAR * years
    until = end_months + SMALLEST_MONTHS if ending == SERVICED_AND_SOLD else end_months - SMALLEST_MONTHS
    all_months, all_meter, base_hours, base_months = times.months, times.meter, timing.base_hours, timing.base_months
    to_hours, to_months = base_hours - timing.since_hours, base_months - timing.since_months
    in_series, has_first = times.more.size > 0, min(timing.first_hours, timing.first_months) < np.inf
    for path in range(rows.shape[0]):
        routine, ahead = when_due(to_hours, to_months, rows, path), (np.inf, np.inf)
        if has_first:
            ahead = when_due(timing.first_hours, timing.first_months, rows, path)
        months, meter, first = _begin(routine, ahead, until, timing)
        if first == FIRST_AHEAD and timing.counts_from_first:
            months, meter = when_due(ahead[1] + base_hours, ahead[0] + base_months, rows, path)
        all_months[0, path], all_meter[0, path] = ahead
        visit, year, pace = int(first == FIRST_AHEAD), 0, pace_in(0, 0.0, rows, path)
        is_fast = base_hours * pace.months_an_hour < base_months - SMALLEST_MONTHS
        while months < until:
            if in_series:
                months, meter, more, apart = _last_of_series((months, meter), (base_hours, is_fast), pace, until)
                times.more[visit, path], times.apart[visit, path] = more, apart
            all_months[visit, path], all_meter[visit, path] = months, meter
            visit += 1
            meter, months = meter + base_hours, months + base_months
            if is_fast and meter <= pace.until.meter:  # the year goes on, and in it the hours come first
                months = pace.begin + (meter - pace.run) * pace.months_an_hour
                continue
            while is_later(meter, months, pace.until):
                year += 1
                pace = pace_in(year, pace.run + rows[path, year - 1], rows, path)
                is_fast = base_hours * pace.months_an_hour < base_months - SMALLEST_MONTHS
            months, meter = due_at(meter, months, pace)
        is_on_the_sale = visit > 0 and all_months[visit - 1, path] >= end_months - SMALLEST_MONTHS
        if end_months < months and not is_on_the_sale and ending != GOES_ON:
            months, meter = end_months, meters[path]
        all_months[visit, path], all_meter[visit, path] = months, meter
        times.made[path], times.first[path], used = visit, first, max(used, visit + 1)
    return used


@compiled
def _last_of_series(
    at: tuple[float, float], every: tuple[float, bool], pace: Pace, until: float
) -> tuple[float, float, float, float]:
    """
    Month and meter of the last of an even series that begins with a visit, how many more it has, and months apart.

    There is one where the hours come first; it does not go close to the end of the year or the sale. A visit on the
    first day of a year stands alone: it is booked at the end of the year before.
    """
    (months, meter), (base_hours, is_fast) = at, every
    if not (is_fast and months > pace.begin + 2.0 * SMALLEST_MONTHS):
        return months, meter, 0.0, 0.0
    end = min(pace.until.months, until) - 2.0 * SMALLEST_MONTHS
    meter_then = pace.run + (end - pace.begin) * pace.hours_a_month - 2.0 * SMALLEST_HOURS
    more = int((meter_then - meter) / base_hours)
    if more <= 0:
        return months, meter, 0.0, 0.0
    apart = base_hours * pace.months_an_hour
    return months + more * apart, meter + more * base_hours, float(more), apart


@compiled
def _begin(
    routine: tuple[float, float], first: tuple[float, float], until: float, timing: Timing
) -> tuple[float, float, int]:
    """
    Month and meter of the first routine visit, and what a path has of a first one.

    Given numbers alone: compiled code counts who holds an array, and would do so here anew for every path.
    """
    months, meter = max(routine[0], 0.0), max(routine[1], 0.0)
    if timing.is_overdue:
        months, meter = 0.0, 0.0
    if not min(timing.first_hours, timing.first_months) < np.inf:
        return months, meter, NO_FIRST
    # A first visit that never falls due, for want of hours, is the first routine one too.
    if not first[0] < months - SMALLEST_MONTHS:
        return months, meter, FIRST_IS_ROUTINE
    return months, meter, FIRST_AHEAD if first[0] < until else NO_FIRST
