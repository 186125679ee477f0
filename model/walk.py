"""The walk from visit to visit along one path of hours: when the boat goes to the workshop, and for which tasks.

The same plain compiled loops serve the ledger and every trial. Counters are carried, not recomputed from the clock: a
visit set off by hours stands exactly H after the one before, one set off by months exactly M. Meter and months here
count from delivery; what stood on the counters then is a position before it (negative).
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.usage import meter_at_end
from model.visit_times import Met, Timing, visit_times


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
def timing_of(plan: WalkPlan) -> Timing:
    """When a plan's visits fall."""
    is_overdue = False
    for task in range(plan.task_hours.shape[0]):
        too_many_hours = plan.task_since_hours[task] > plan.task_hours[task] + SMALLEST_HOURS
        too_many_months = plan.task_since_months[task] > plan.task_months[task] + SMALLEST_MONTHS
        is_overdue = is_overdue or too_many_hours or too_many_months
    return Timing(
        plan.base_hours,
        plan.base_months,
        plan.first_hours,
        plan.first_months,
        plan.counts_from_first,
        plan.since_hours,
        plan.since_months,
        is_overdue,
    )


class Stop(NamedTuple):
    """One visit, as the choice of its tasks needs it."""

    months: float
    """When. [month]"""
    meter: float
    """Hours run. [h]"""
    until_months: float
    """The next visit or the sale, whichever is first. [month]"""
    until_meter: float
    """Hours run then. [h]"""
    is_first: bool
    """Whether it is a first visit, at which the tasks marked so are done as well."""
    starts_counts: bool
    """Whether all counts start at it."""


@compiled
def stop_at(
    now: tuple[float, float], then: tuple[float, float], end: tuple[float, float], is_0: bool, met: Met
) -> Stop:
    """
    One visit, as the choice of its tasks needs it.

    Parameters
    ----------
    now, then : (float, float)
        Months and meter of the visit and of the next, as `visit_times` gave them. [month, h]
    end : (float, float)
        Months and hours run by the sale. [month, h]
    is_0 : bool
        Whether the visit is the first of all.
    met : Met

    Returns
    -------
    Stop
    """
    until = then
    is_ahead = is_0 and met.has_first
    is_first = is_ahead or (is_0 and met.first_is_routine)
    if is_ahead:  # only the tasks marked so are done
        until = (-np.inf, -np.inf)
    elif end[0] < then[0] and now[0] < end[0] - SMALLEST_MONTHS:
        until = end
    return Stop(now[0], now[1], until[0], until[1], is_first, is_first and met.starts_counts)


@compiled
def is_done(stop: Stop, due_months: float, due_meter: float, at_first: bool) -> bool:
    """
    Whether a task is done at a visit: left undone, it would overrun its own interval before the next visit or the sale.

    Parameters
    ----------
    stop : Stop
    due_months, due_meter : float
        Beyond which the task overruns, as `overruns_beyond` gave them. [month, h]
    at_first : bool
        Whether it is done at a first visit as well.

    Returns
    -------
    bool
    """
    # Not `or`: which it is cannot be foreseen, and for a processor a wrong guess costs more than a comparison.
    overruns = (stop.until_meter > due_meter) | (stop.until_months > due_months)
    return bool(overruns | (stop.is_first & at_first))


@compiled
def overruns_beyond(months: float, meter: float, every_months: float, every_hours: float) -> tuple[float, float]:
    """Month and meter beyond which a task last done then overruns its interval. [month, h, month, h -> month, h]"""
    return months + every_months + SMALLEST_MONTHS, meter + every_hours + SMALLEST_HOURS


@compiled
def walk(hours: NDArray[np.float64], years: float, at_handover: bool, plan: WalkPlan, visits: Visits) -> int:
    """
    The visits of one path: when each is, and which tasks are done at it.

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
    int
        Visits made.
    """
    end = (12.0 * years, meter_at_end(hours, years))
    met = visit_times(hours, (end[0], at_handover), timing_of(plan), visits.months, visits.meter)
    every_months, every_hours, tasks = plan.task_months, plan.task_hours, plan.task_hours.shape[0]
    due_months, due_meter = np.empty(tasks), np.empty(tasks)
    for task in range(tasks):
        since = (-plan.task_since_months[task], -plan.task_since_hours[task])
        due_months[task], due_meter[task] = overruns_beyond(since[0], since[1], every_months[task], every_hours[task])
    for visit in range(met.made):
        now, then = (visits.months[visit], visits.meter[visit]), (visits.months[visit + 1], visits.meter[visit + 1])
        stop = stop_at(now, then, end, visit == 0, met)
        did = np.int64(0)
        for task in range(tasks):
            done = is_done(stop, due_months[task], due_meter[task], plan.task_first[task])
            if done:
                did |= np.int64(1) << np.int64(task)
            if done or stop.starts_counts:
                due_months[task], due_meter[task] = overruns_beyond(
                    stop.months, stop.meter, every_months[task], every_hours[task]
                )
        visits.tasks[visit] = did
        visits.is_first[visit] = stop.is_first and met.has_first
    return met.made


@compiled
def empty_visits(most: int) -> Visits:
    """Room for that many visits."""
    return Visits(np.empty(most), np.empty(most), np.empty(most, np.int64), np.empty(most, np.bool_))
