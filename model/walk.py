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


class Done(NamedTuple):
    """Where each task was last done, or its count last started; each of shape (task,)."""

    months: NDArray[np.float64]
    """Since delivery. [month]"""
    meter: NDArray[np.float64]
    """Hours run since delivery. [h]"""


@compiled
def _overruns(task: int, plan: WalkPlan, done: Done, months: float, meter: float) -> bool:
    """Whether a task left undone since its last time would overrun its own interval by then."""
    too_many_hours = meter - done.meter[task] > plan.task_hours[task] + SMALLEST_HOURS
    too_many_months = months - done.months[task] > plan.task_months[task] + SMALLEST_MONTHS
    return bool(too_many_hours or too_many_months)


@compiled
def walk(hours: NDArray[np.float64], years: float, at_handover: bool, plan: WalkPlan, visits: Visits) -> int:
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
    int
        Visits made.
    """
    done = Done(-plan.task_since_months, -plan.task_since_hours)
    end_months, end_meter = 12.0 * years, meter_at_end(hours, years)
    months, meter = when_due(plan.base_hours - plan.since_hours, plan.base_months - plan.since_months, hours)
    months, meter = max(months, 0.0), max(meter, 0.0)
    for task in range(plan.task_hours.shape[0]):
        if _overruns(task, plan, done, 0.0, 0.0):  # a used engine with an overdue task: that is a visit at delivery
            months, meter = 0.0, 0.0
    first_months, first_meter = when_due(plan.first_hours, plan.first_months, hours)
    # A first visit that never falls due, for want of hours, is the first routine one too.
    has_first = min(plan.first_hours, plan.first_months) < np.inf
    first_is_routine = has_first and not first_months < months - SMALLEST_MONTHS
    count = 0
    if first_months < months - SMALLEST_MONTHS and _is_made(first_months, end_months, at_handover):
        _add_visit(count, (first_months, first_meter, True), _do_first(plan, done, first_months, first_meter), visits)
        count += 1
        if plan.counts_from_first:
            months, meter = when_due(first_meter + plan.base_hours, first_months + plan.base_months, hours)
    while _is_made(months, end_months, at_handover):
        next_months, next_meter = when_due(meter + plan.base_hours, months + plan.base_months, hours)
        until = (next_months, next_meter)
        if end_months < next_months and months < end_months - SMALLEST_MONTHS:
            until = (end_months, end_meter)
        did = _do_routine(plan, done, (months, meter), until)
        if first_is_routine:
            did |= _do_first(plan, done, months, meter)
            first_is_routine = False
        _add_visit(count, (months, meter, False), did, visits)
        count += 1
        months, meter = next_months, next_meter
    return count


@compiled
def _do_routine(plan: WalkPlan, done: Done, now: tuple[float, float], until: tuple[float, float]) -> int:
    """Do the tasks that would overrun before the next visit or the sale; months and meter of both. Which, as bits."""
    did = np.int64(0)
    for task in range(plan.task_hours.shape[0]):
        if _overruns(task, plan, done, until[0], until[1]):
            did |= np.int64(1) << np.int64(task)
            done.months[task], done.meter[task] = now
    return int(did)


@compiled
def _do_first(plan: WalkPlan, done: Done, months: float, meter: float) -> int:
    """Do the tasks of a first visit, and start there the counts that start there. Which were done, as bits."""
    did = np.int64(0)
    for task in range(plan.task_hours.shape[0]):
        if plan.task_first[task]:
            did |= np.int64(1) << np.int64(task)
        if plan.task_first[task] or plan.counts_from_first:
            done.months[task], done.meter[task] = months, meter
    return int(did)


@compiled
def _add_visit(place: int, visit: tuple[float, float, bool], tasks: int, visits: Visits) -> None:
    """Note months, meter, whether it is a first visit, and the tasks done."""
    visits.months[place], visits.meter[place], visits.is_first[place] = visit
    visits.tasks[place] = tasks


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
