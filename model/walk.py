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
from model.pace import meters_at_end
from model.visit_times import FIRST_AHEAD, FIRST_IS_ROUTINE, NO_FIRST, Times, Timing, most_visits, no_times, visit_times

Amounts = NDArray[np.float64]

Marks = NDArray[np.uint64]
"""Tasks done at each visit, a bit for each task, shape (visit, path)."""


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


class TaskCounts(NamedTuple):
    """One task as the choice of its visits needs it."""

    every_hours: float
    """Interval; infinite if there is none. [h]"""
    every_months: float
    """Interval; infinite if there is none. [month]"""
    since_hours: float
    """On its count at delivery. [h]"""
    since_months: float
    """On its count at delivery. [month]"""
    at_first: bool
    """Whether it is done at a first visit as well."""


@compiled
def task_counts(plan: WalkPlan, task: int) -> TaskCounts:
    """One task of a plan."""
    return TaskCounts(
        plan.task_hours[task],
        plan.task_months[task],
        plan.task_since_hours[task],
        plan.task_since_months[task],
        plan.task_first[task],
    )


@compiled
def mark_task(task: TaskCounts, starts_counts: bool, times: Times, bit: np.uint64, marks: Marks) -> None:
    """
    Mark the visits at which a task is done: left undone, it would overrun its interval before the next or the sale.

    Parameters
    ----------
    task : TaskCounts
    starts_counts : bool
        Whether all counts start at a first visit.
    times : Times
        The visits of some paths.
    bit : uint64
        Stands for the task.
    marks : ndarray, shape (visit, path)
        The visits' bits, added to; behind a path's last they mean nothing.
    """
    every_months, every_hours = task.every_months + SMALLEST_MONTHS, task.every_hours + SMALLEST_HOURS
    due_months, due_hours = np.empty((2, times.made.size))
    due_months[:], due_hours[:] = every_months - task.since_months, every_hours - task.since_hours
    _mark_first(task, starts_counts, times, (bit, marks), (due_months, due_hours))
    months, meter = times.months, times.meter
    for visit in range(1, marks.shape[0]):
        for path in range(due_months.size):
            # Nothing but choices between values, so that a processor takes several paths together.
            is_here = (months[visit + 1, path] > due_months[path]) | (meter[visit + 1, path] > due_hours[path])
            then_months, then_hours = months[visit, path] + every_months, meter[visit, path] + every_hours
            due_months[path] = then_months if is_here else due_months[path]
            due_hours[path] = then_hours if is_here else due_hours[path]
            marks[visit, path] |= bit if is_here else np.uint64(0)


@compiled
def _mark_first(
    task: TaskCounts, starts_counts: bool, times: Times, marked: tuple[np.uint64, Marks], due: tuple[Amounts, Amounts]
) -> None:
    """Mark each path's first visit, and put on when the task is due behind it."""
    (bit, marks), (due_months, due_hours), months, meter = marked, due, times.months, times.meter
    for path in range(due_months.size if marks.shape[0] > 0 else 0):
        is_here = bool((months[1, path] > due_months[path]) | (meter[1, path] > due_hours[path]))
        starts = is_here
        if times.first[path] != NO_FIRST:
            is_here = task.at_first or (times.first[path] == FIRST_IS_ROUTINE and is_here)
            starts = is_here or starts_counts
        marks[0, path] |= bit if is_here else np.uint64(0)
        if starts:
            due_months[path] = months[0, path] + (task.every_months + SMALLEST_MONTHS)
            due_hours[path] = meter[0, path] + (task.every_hours + SMALLEST_HOURS)


@compiled
def walks(rows: Amounts, years: float, ending: int, plan: WalkPlan) -> tuple[Times, Marks]:
    """
    The visits of some paths.

    Parameters
    ----------
    rows : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    years : float
        Ownership period. [year]
    ending : int
        How the period ends: one of `visit_times`' ways.
    plan : WalkPlan

    Returns
    -------
    (Times, ndarray)
        When they are, and the tasks done at each.
    """
    timing, meters = timing_of(plan), meters_at_end(rows, years)
    times = no_times(rows.shape[0], most_visits(meters, years, timing), False)
    used = visit_times(rows, meters, (years, ending), timing, times)
    marks = np.zeros((max(used - 1, 0), rows.shape[0]), np.uint64)
    for task in range(plan.task_hours.shape[0]):
        mark_task(task_counts(plan, task), plan.counts_from_first, times, np.uint64(1) << np.uint64(task), marks)
    return times, marks


@compiled
def visits_of(hours: NDArray[np.float64], years: float, ending: int, plan: WalkPlan) -> Visits:
    """
    The visits of one path: when each is, and which tasks are done at it.

    Parameters
    ----------
    hours : ndarray, shape (year,)
        Hours of a full year. [h/year]
    years : float
        Ownership period. [year]
    ending : int
        How the period ends: one of `visit_times`' ways.
    plan : WalkPlan

    Returns
    -------
    Visits
    """
    times, marks = walks(hours.copy().reshape((1, hours.size)), years, ending, plan)
    made = times.made[0]
    is_first = np.zeros(made, np.bool_)
    is_first[:1] = times.first[0] == FIRST_AHEAD
    return Visits(times.months[:made, 0], times.meter[:made, 0], marks[:made, 0].astype(np.int64), is_first)
