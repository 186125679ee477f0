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
from model.visit_times import FIRST_AHEAD, FIRST_IS_ROUTINE, NO_FIRST, Times, Timing, most_visits, no_times, visit_times

Marks = NDArray[np.uint64]
"""Tasks done at each visit, a bit for each task."""


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
    marks : ndarray, shape (visit,)
        The visits' bits, added to.
    """
    months, meter, begins, made, first = times.months, times.meter, times.begin, times.made, times.first
    every_months, every_hours = task.every_months + SMALLEST_MONTHS, task.every_hours + SMALLEST_HOURS
    for path in range(begins.shape[0]):
        begin, behind = begins[path], begins[path] + made[path]
        due_months, due_hours = every_months - task.since_months, every_hours - task.since_hours
        if first[path] != NO_FIRST and begin < behind:
            is_due = months[begin + 1] > due_months or meter[begin + 1] > due_hours
            is_here = task.at_first or (first[path] == FIRST_IS_ROUTINE and is_due)
            marks[begin] |= bit if is_here else np.uint64(0)
            if is_here or starts_counts:
                due_months, due_hours = months[begin] + every_months, meter[begin] + every_hours
            begin += 1
        for number in range(begin, behind):
            # An index that has no sign needs no look whether it counts from the end.
            visit, next_one = np.uint64(number), np.uint64(number + 1)
            # Nothing but choices between values: whether a task is done cannot be foreseen, and for a processor a
            # wrong guess costs more than a comparison.
            is_here = (months[next_one] > due_months) | (meter[next_one] > due_hours)
            then_months, then_hours = months[visit] + every_months, meter[visit] + every_hours
            due_months = then_months if is_here else due_months
            due_hours = then_hours if is_here else due_hours
            marks[visit] |= bit if is_here else np.uint64(0)


@compiled
def walks(rows: NDArray[np.float64], years: float, ending: int, plan: WalkPlan) -> tuple[Times, Marks]:
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
    timing = timing_of(plan)
    times = no_times(rows.shape[0], most_visits(rows, years, timing), 0)
    marks = np.zeros(visit_times(rows, (years, ending), timing, times), np.uint64)
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
    return Visits(times.months[:made], times.meter[:made], marks[:made].astype(np.int64), is_first)
