"""A service plan for the walk, with its counts as they stand at delivery, of a new engine or a used one."""

import numpy as np
from numpy.typing import NDArray

from model.inputs.engine import UsedStart
from model.inputs.plan import Interval, ServicePlan, Task
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS, CountFrom
from model.usage import NEVER
from model.walk import WalkPlan, visits_of

Amounts = NDArray[np.float64]


def tasks_at_visits(plan: ServicePlan) -> tuple[Task, ...]:
    """The tasks that the workshop does at visits, in the order of the walk's record."""
    return tuple(task for task in plan.task if task.is_at_visits)


def _limits(every: Interval | None) -> tuple[float, float]:
    """Hours and months of an interval, infinite where there is no limit."""
    if every is None:
        return NEVER, NEVER
    return every.hours or NEVER, every.months or NEVER


def walk_plan(plan: ServicePlan, start: UsedStart | None) -> WalkPlan:
    """
    The plan as the walk needs it, its counts as they stand at delivery.

    On a used engine they are what the plan, kept from new at meter hours / age a year, would leave; `serviced = "all"`
    zeroes them and `last_done` sets some.

    Parameters
    ----------
    plan : ServicePlan
    start : UsedStart or None

    Returns
    -------
    WalkPlan
    """
    tasks = tasks_at_visits(plan)
    new = _from_new(plan.every, plan.first, tasks, plan.count_from)
    if start is None:
        return new
    return _with_counts(new, [task.name for task in tasks], start)


def owner_task_plan(task: Task, start: UsedStart | None) -> WalkPlan:
    """The walk of one task that the owner does: its own count, no visit."""
    assert task.every is not None
    new = _from_new(task.every, None, (task,), CountFrom.NEW)
    if start is None:
        return new
    used = _with_counts(new, [task.name], start)
    # The task is its own routine: what `last_done` says of it counts for both.
    return used._replace(since_hours=float(used.task_since_hours[0]), since_months=float(used.task_since_months[0]))


def _from_new(every: Interval, first: Interval | None, tasks: tuple[Task, ...], count_from: CountFrom) -> WalkPlan:
    """A plan whose counts all start at delivery."""
    limits = np.array([_limits(task.every) for task in tasks]).reshape(-1, 2)
    return WalkPlan(
        *_limits(every),
        *_limits(first),
        count_from is CountFrom.FIRST_VISIT,
        np.ascontiguousarray(limits[:, 0]),
        np.ascontiguousarray(limits[:, 1]),
        np.array([task.first for task in tasks], dtype=np.bool_),
        0.0,
        0.0,
        np.zeros(len(tasks)),
        np.zeros(len(tasks)),
    )


def _with_counts(new: WalkPlan, names: list[str], start: UsedStart) -> WalkPlan:
    """The same plan with the counts of a used engine, and no first visit."""
    since = np.zeros(2)
    task_since = np.zeros((len(names), 2))
    if start.serviced != "all":
        since, task_since = _counts_of_kept_plan(new, start)
    for index, name in enumerate(names):
        if name in start.last_done:
            done = start.last_done[name]
            task_since[index] = start.meter_hours - done.hours, (start.age - done.age) * MONTHS_IN_A_YEAR
    return new._replace(
        first_hours=NEVER,
        first_months=NEVER,
        counts_from_first=False,
        since_hours=float(since[0]),
        since_months=float(since[1]),
        task_since_hours=np.ascontiguousarray(task_since[:, 0]),
        task_since_months=np.ascontiguousarray(task_since[:, 1]),
    )


def _counts_of_kept_plan(new: WalkPlan, start: UsedStart) -> tuple[Amounts, Amounts]:
    """Counts, [h, month], that the plan kept from new leaves on the routine and on each task."""
    # Twice the age: a visit before delivery chooses its tasks by the next one, which at an even rate comes no later
    # than that; with an earlier end it would leave undone what the plan, kept on, had done.
    hours = np.full(2 * int(np.ceil(start.age)) + 1, start.meter_hours / start.age)
    years = float(hours.size)
    visits = visits_of(hours, years, False, new)
    end = np.array([start.meter_hours, start.age * MONTHS_IN_A_YEAR])
    before = int(np.count_nonzero(visits.months < end[1] - SMALLEST_MONTHS))  # they are in order
    if before == 0:
        return end, np.tile(end, (new.task_hours.size, 1))
    at = np.stack((visits.meter[:before], visits.months[:before]), axis=1)
    is_done = (visits.tasks[:before, None] >> np.arange(new.task_hours.size) & 1).astype(bool)
    if new.counts_from_first and min(new.first_hours, new.first_months) < NEVER:
        is_done[0] = True  # also where the first visit falls together with a routine one
    is_counted = ~visits.is_first[:before] | new.counts_from_first
    return end - _last(is_counted[:, None], at)[0], end - _last(is_done, at)


def _last(is_so: NDArray[np.bool_], at: Amounts) -> Amounts:
    """Where something was last so, 0 where it never was, of shapes (visit, thing) and (visit, 2); shape (thing, 2)."""
    last = is_so.shape[0] - 1 - np.argmax(is_so[::-1], axis=0)
    return np.where(is_so.any(axis=0, keepdims=True).T, at[last], 0.0)
