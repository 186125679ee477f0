"""The walk from visit to visit along one path of hours: when the boat goes to the workshop, and for which tasks.

One plain compiled loop serves the ledger and every trial. Counters are carried, not recomputed from the clock: a visit
set off by hours stands exactly H after the one before, one set off by months exactly M. Meter and months here count
from delivery; what stood on the counters then is a position before it (negative).
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.usage import meter_at_end, when_due


class WalkPlan(NamedTuple):
    """A service plan as the walk needs it; limits that do not exist are infinite."""

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
    task_hours: NDArray[np.float64]
    """Intervals, shape (task,). [h]"""
    task_months: NDArray[np.float64]
    """Intervals, shape (task,). [month]"""
    task_first: NDArray[np.bool_]
    """Done at the first visit as well, shape (task,)."""
    since_hours: float
    """On the routine count at delivery. [h]"""
    since_months: float
    """On the routine count at delivery. [month]"""
    task_since_hours: NDArray[np.float64]
    """On the tasks' counts at delivery, shape (task,). [h]"""
    task_since_months: NDArray[np.float64]
    """On the tasks' counts at delivery, shape (task,). [month]"""


class Visits(NamedTuple):
    """The visits of one path, in order."""

    months: NDArray[np.float64]
    """When, since delivery, shape (visit,). [month]"""
    meter: NDArray[np.float64]
    """Hours run since delivery, shape (visit,). [h]"""
    tasks: NDArray[np.int64]
    """Tasks done, task k as bit k, shape (visit,)."""
    is_first: NDArray[np.bool_]
    """Whether it is the first visit of a new engine, ahead of the routine ones, shape (visit,)."""


@compiled
def overruns(
    task: int,
    plan: WalkPlan,
    done_months: NDArray[np.float64],
    done_meter: NDArray[np.float64],
    months: float,
    meter: float,
) -> bool:
    """Whether a task left undone since its last time would overrun its own interval by then."""
    too_many_hours = meter - done_meter[task] > plan.task_hours[task] + SMALLEST_HOURS
    too_many_months = months - done_months[task] > plan.task_months[task] + SMALLEST_MONTHS
    return bool(too_many_hours or too_many_months)


@compiled
def walk(
    hours: NDArray[np.float64], years: float, at_handover: bool, plan: WalkPlan, visits: Visits
) -> tuple[int, float, float]:
    """
    Walk from visit to visit along one path.

    Parameters
    ----------
    hours : ndarray, shape (year,)
        Hours of a full year. [h/year]
    years : float
        Length of the ownership period. [year]
    at_handover : bool
        Whether a visit that falls on the sale is made.
    plan : WalkPlan
    visits : Visits
        Filled in; long enough for `most_visits`.

    Returns
    -------
    (int, float, float)
        Visits made; months and meter of the last routine count (the position that the next visit counts from).
    """
    tasks = plan.task_hours.shape[0]
    done_months = -plan.task_since_months
    done_meter = -plan.task_since_hours
    routine_months, routine_meter = -plan.since_months, -plan.since_hours
    end_months, end_meter = 12.0 * years, meter_at_end(hours, years)
    count = 0
    months, meter = when_due(routine_meter + plan.base_hours, routine_months + plan.base_months, hours)
    months, meter = max(months, 0.0), max(meter, 0.0)
    first_is_routine = False
    if plan.first_hours < np.inf or plan.first_months < np.inf:
        first_months, first_meter = when_due(plan.first_hours, plan.first_months, hours)
        first_is_routine = not first_months < months - SMALLEST_MONTHS
        if not first_is_routine and _is_made(first_months, end_months, at_handover):
            visits.months[0], visits.meter[0], visits.tasks[0], visits.is_first[0] = (
                first_months,
                first_meter,
                0,
                True,
            )
            count = 1
            for task in range(tasks):
                if plan.task_first[task]:
                    visits.tasks[0] |= np.int64(1) << np.int64(task)
                if plan.task_first[task] or plan.counts_from_first:
                    done_months[task], done_meter[task] = first_months, first_meter
            if plan.counts_from_first:
                routine_months, routine_meter = first_months, first_meter
                months, meter = when_due(first_meter + plan.base_hours, first_months + plan.base_months, hours)
    elif count == 0 and months > 0.0 and end_months > 0.0:
        for task in range(tasks):  # a used engine may come with an overdue task: that is a visit at delivery
            if overruns(task, plan, done_months, done_meter, 0.0, 0.0):
                months, meter = 0.0, 0.0
    while _is_made(months, end_months, at_handover):
        next_months, next_meter = when_due(meter + plan.base_hours, months + plan.base_months, hours)
        until_months, until_meter = next_months, next_meter
        if end_months < next_months and months < end_months - SMALLEST_MONTHS:
            until_months, until_meter = end_months, end_meter
        did = np.int64(0)
        for task in range(tasks):
            also_first = first_is_routine and plan.task_first[task]
            if also_first or overruns(task, plan, done_months, done_meter, until_months, until_meter):
                did |= np.int64(1) << np.int64(task)
                done_months[task], done_meter[task] = months, meter
            elif first_is_routine and plan.counts_from_first:
                done_months[task], done_meter[task] = months, meter
        first_is_routine = False
        visits.months[count], visits.meter[count], visits.tasks[count] = months, meter, did
        visits.is_first[count] = False
        count += 1
        routine_months, routine_meter = months, meter
        months, meter = next_months, next_meter
    return count, routine_months, routine_meter


@compiled
def _is_made(months: float, end_months: float, at_handover: bool) -> bool:
    """Whether a visit is this owner's: before the sale, or on it with service at handover."""
    return months < end_months - SMALLEST_MONTHS or (at_handover and months <= end_months + SMALLEST_MONTHS)


@compiled
def most_visits(hours: NDArray[np.float64], years: float, base_hours: float, base_months: float) -> int:
    """More visits than one path can hold: each but a few uses up a whole base interval of hours or of months."""
    return int(meter_at_end(hours, years) / base_hours) + int(12.0 * years / base_months) + 4


@compiled
def empty_visits(most: int) -> Visits:
    """Room for that many visits."""
    return Visits(np.empty(most), np.empty(most), np.empty(most, np.int64), np.empty(most, np.bool_))
