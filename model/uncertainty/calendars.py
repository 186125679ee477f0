"""Service plans side by side, for many paths at once: plans whose visits fall at the same times share the walk to them.

Visits depend on the hours and on the intervals of a plan, not on the engine: the engines of a comparison mostly share
them.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.elements.service import VisitPrices, VisitTerms, visit_price
from model.visit_times import SOLD, Timing
from model.walk import TaskCounts, WalkPlan, timing_of

Amounts = NDArray[np.float64]
Places = NDArray[np.int64]


class Plan(NamedTuple):
    """One plan of one engine, or one task that its owner does."""

    engine: int
    """Position of the engine."""
    terms: VisitTerms
    """Plan and prices."""
    is_workshop: bool
    """Whether its visits are visits to the workshop."""


NO_TASK = TaskCounts(np.inf, np.inf, 0.0, 0.0, False)
"""Stands where a group has no task: never done."""

MARKS = 8
"""Tasks that are marked together: few enough for a table of what every choice of them costs."""


class Calendars(NamedTuple):
    """Plans side by side, those with the same times behind one another, and the different tasks of each timing."""

    times: Amounts
    """Of each timing: the numbers of `Timing`, shape (timing, 8). [h, month, -]"""
    plans: Places
    """First plan of each timing, and the number of plans behind the last, shape (timing + 1,)."""
    groups: Places
    """First group of tasks of each timing, and the number of groups behind the last, shape (timing + 1,)."""
    counts: Amounts
    """Of each task: the numbers of `TaskCounts`, shape (group, task in it, 5). [h, month, -]"""
    sizes: Places
    """Tasks in each group, shape (group,)."""
    engines: Places
    """Engine of each plan, shape (plan,)."""
    is_workshop: NDArray[np.bool_]
    """Whether its visits are visits to the workshop, shape (plan,)."""
    in_series: NDArray[np.bool_]
    """Whether each timing's tasks are owners' own and due at every visit, so that even visits may be told and priced in
    series, shape (timing,)."""
    ending: int
    """How the period ends: one of `visit_times`' ways."""
    visit_prices: Amounts
    """Labour and lost days of a visit itself, shape (2, plan). [money]"""
    prices: Amounts
    """Parts and labour of every choice of a group's tasks in each plan, shape (plan, group, 2, choice). [money]"""


def calendars(plans: Sequence[Plan]) -> Calendars:
    """
    Plans side by side. Tasks with the same interval and counts come together, in whichever plans of a timing they are.

    Parameters
    ----------
    plans : sequence of Plan

    Returns
    -------
    Calendars
    """
    by_times: dict[Timing, list[Plan]] = {}
    for plan in plans:
        by_times.setdefault(Timing(*timing_of(plan.terms.plan)), []).append(plan)
    ordered = [plan for together in by_times.values() for plan in together]
    groups, first = list[tuple[Timing, list[TaskCounts]]](), [0]
    for timing, together in by_times.items():
        tasks = list(dict.fromkeys(task for plan in together for task in _tasks(plan.terms.plan)))
        groups += [(timing, tasks[begin : begin + MARKS]) for begin in range(0, max(1, len(tasks)), MARKS)]
        first.append(len(groups))
    prices = np.zeros((len(ordered), len(groups), 2, 1 << MARKS))
    for plan, of_plan in zip(ordered, prices, strict=True):
        for (timing, tasks), of_group in zip(groups, of_plan, strict=True):
            if Timing(*timing_of(plan.terms.plan)) == timing:
                _fill_prices(_prices_of(plan.terms, tasks), of_group)
    return Calendars(
        np.array([[float(number) for number in timing] for timing in by_times]).reshape(-1, len(Timing._fields)),
        np.cumsum([0, *(len(together) for together in by_times.values())]),
        np.array(first),
        np.array([tasks + [NO_TASK] * (MARKS - len(tasks)) for _, tasks in groups], dtype=float).reshape(-1, MARKS, 5),
        np.array([len(tasks) for _, tasks in groups], dtype=np.int64),
        np.array([plan.engine for plan in ordered], dtype=np.int64),
        np.array([plan.is_workshop for plan in ordered], dtype=np.bool_),
        np.array([_comes_in_series(*of_timing) for of_timing in by_times.items()], dtype=np.bool_),
        max((plan.terms.ending for plan in plans), default=SOLD),
        np.array([[plan.terms.prices.visit_labour, plan.terms.prices.days_lost] for plan in ordered]).reshape(-1, 2).T,
        prices,
    )


def _comes_in_series(timing: Timing, plans: Sequence[Plan]) -> bool:
    """Whether a timing is of owners' tasks alone, each of which has the interval and the counts of the visits."""
    at_every_visit = (timing.base_hours, timing.base_months, timing.since_hours, timing.since_months)
    tasks = [tuple(task)[:4] for plan in plans for task in _tasks(plan.terms.plan)]
    has_first = min(timing.first_hours, timing.first_months) < np.inf
    return not has_first and not any(plan.is_workshop for plan in plans) and set(tasks) == {at_every_visit}


def _tasks(plan: WalkPlan) -> list[TaskCounts]:
    """The tasks of a plan as the choice of their visits needs them."""
    columns = (plan.task_hours, plan.task_months, plan.task_since_hours, plan.task_since_months, plan.task_first)
    return [TaskCounts(*task) for task in zip(*(column.tolist() for column in columns), strict=True)]


def _prices_of(terms: VisitTerms, tasks: Sequence[TaskCounts]) -> VisitPrices:
    """What tasks with the given counts cost in a plan: several may have the same, or none."""
    parts, labour = np.zeros((2, len(tasks)))
    for place, task in enumerate(_tasks(terms.plan)):
        if task in tasks:
            parts[tasks.index(task)] += terms.prices.task_parts[place]
            labour[tasks.index(task)] += terms.prices.task_labour[place]
    return VisitPrices(parts, labour, 0.0, 0.0)


@compiled
def _fill_prices(prices: VisitPrices, filled: Amounts) -> None:
    """Fill in parts and labour of every choice of tasks, shape (2, choice)."""
    for choice in range(filled.shape[1]):
        filled[0, choice], filled[1, choice] = visit_price(choice, prices)
