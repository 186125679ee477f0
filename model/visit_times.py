"""When the visits of a plan fall along one path of hours. The tasks do not move them, so plans may share them."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import SMALLEST_MONTHS
from model.usage import due_within, is_later, when_due


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


class Met(NamedTuple):
    """What a path met on its way."""

    made: int
    """Visits made."""
    has_first: bool
    """Whether the first of them is a first visit, ahead of the routine ones."""
    first_is_routine: bool
    """Whether the first routine visit is the first visit as well."""
    starts_counts: bool
    """Whether all counts start at the first visit."""


@compiled
def visit_times(
    hours: NDArray[np.float64],
    end: tuple[float, bool],
    timing: Timing,
    at_months: NDArray[np.float64],
    at_meter: NDArray[np.float64],
) -> Met:
    """
    Walk from visit to visit along one path.

    Parameters
    ----------
    hours : ndarray, shape (year,)
        Hours of a full year. [h/year]
    end : (float, bool)
        The sale, and whether a visit that falls on it is made. [month]
    timing : Timing
    at_months, at_meter : ndarray
        Filled in with the visits and, behind the last, where the next would be due; long enough for `most_visits`.
        [month, h]

    Returns
    -------
    Met
    """
    end_months, at_handover = end
    base_hours, base_months = timing.base_hours, timing.base_months
    count, year, run, last = 0, 0, 0.0, hours.shape[0] - 1
    months, meter = when_due(base_hours - timing.since_hours, base_months - timing.since_months, hours)
    months, meter = max(months, 0.0), max(meter, 0.0)
    if timing.is_overdue:
        months, meter = 0.0, 0.0
    first_months, first_meter = when_due(timing.first_hours, timing.first_months, hours)
    # A first visit that never falls due, for want of hours, is the first routine one too.
    has_first = min(timing.first_hours, timing.first_months) < np.inf
    is_ahead = first_months < months - SMALLEST_MONTHS
    if is_ahead and _is_made(first_months, end_months, at_handover):
        at_months[0], at_meter[0] = first_months, first_meter
        count = 1
        if timing.counts_from_first:
            months, meter = when_due(first_meter + base_hours, first_months + base_months, hours)
    while _is_made(months, end_months, at_handover):
        at_months[count], at_meter[count] = months, meter
        count += 1
        meter, months = meter + base_hours, months + base_months
        while year < last and is_later(meter, months, year, run, hours[year]):
            run += hours[year]
            year += 1
        months, meter = due_within(meter, months, (year, year == last), run, hours[year])
    at_months[count], at_meter[count] = months, meter
    is_first_made = is_ahead and _is_made(first_months, end_months, at_handover)
    return Met(count, is_first_made, has_first and not is_ahead, timing.counts_from_first)


@compiled
def _is_made(months: float, end_months: float, at_handover: bool) -> bool:
    """Whether a visit is this owner's: before the sale, or on it with service at handover."""
    return months < end_months - SMALLEST_MONTHS or (at_handover and months <= end_months + SMALLEST_MONTHS)


@compiled
def most_visits(run: float, years: float, base_hours: float, base_months: float) -> int:
    """More visits than a path can hold that runs so many hours: each but a few uses up a whole base interval."""
    return int(run / base_hours) + int(12.0 * years / base_months) + 5
