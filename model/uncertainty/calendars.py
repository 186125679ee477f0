"""Service over many paths at once: plans whose visits fall at the same times share the walk to them.

Visits depend on the hours and on the intervals of a plan, not on the engine: the engines of a comparison mostly share
them. The times, the tasks and their booking are the walk's and the booking's own functions.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, Factors, factors_at, no_factors, year_of
from model.compiling import compiled
from model.elements.service import VisitPrices, VisitTerms, visit_price
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.uncertainty.outcomes import DOWNTIME, LABOUR, PARTS, VISITS, Lives, Outcome
from model.visit_times import Times, Timing, most_visits, no_times, visit_times
from model.walk import Marks, TaskCounts, WalkPlan, mark_task, task_counts, timing_of

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
    at_handover: bool
    """Whether a visit that falls on the sale is made."""
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
        any(plan.terms.at_handover for plan in plans),
        np.array([[plan.terms.prices.visit_labour, plan.terms.prices.days_lost] for plan in ordered]).reshape(-1, 2).T,
        prices,
    )


def _tasks(plan: WalkPlan) -> list[TaskCounts]:
    """The tasks of a plan as the choice of their visits needs them."""
    return [task_counts(plan, task) for task in range(plan.task_hours.size)]


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


@compiled
def _timing(numbers: Amounts) -> Timing:
    """A timing from its numbers."""
    return Timing(
        numbers[0], numbers[1], numbers[2], numbers[3], numbers[4] > 0.0, numbers[5], numbers[6], numbers[7] > 0.0
    )


BLOCK = 64
"""Paths walked before their visits are priced: few enough to stay near the processor, enough to share the calls."""


TURNS = 4
"""Sums that visits are added to in turn: to the same one again and again, each addition would wait for the last."""


class Room(NamedTuple):
    """Room for the visits of a block of paths."""

    times: Times
    """When they are."""
    t: Amounts
    """The same in years, none behind the sale, shape (visit,). [year]"""
    in_year: NDArray[np.uint64]
    """Ownership year of each, shape (visit,)."""
    factors: Factors
    """What prices are multiplied by at each."""
    marks: Marks
    """Tasks done at each, shape (group, visit)."""


@compiled
def _room(visits: int, groups: int) -> Room:
    """Room for that many visits."""
    marks, in_year = np.empty((groups, visits), np.uint64), np.empty(visits, np.uint64)
    return Room(no_times(BLOCK, visits), np.empty(visits), in_year, no_factors(visits), marks)


@compiled
def _first_paths(room: Room, paths: int) -> Room:
    """The room with no more than that many paths."""
    times = room.times
    fewer = Times(times.months, times.meter, times.begin[:paths], times.made[:paths], times.first[:paths])
    return Room(fewer, room.t, room.in_year, room.factors, room.marks)


@compiled
def add_service(lives: Lives, calendar: Calendars, booking: Booking, outcome: Outcome) -> None:
    """
    Add the visits of all plans, and the times of tasks that owners do.

    Parameters
    ----------
    lives : Lives
    calendar : Calendars
    booking : Booking
    outcome : Outcome
        Of all engines; added to.
    """
    groups, most, room = (calendar.groups[1:] - calendar.groups[:-1]).max(), 0, _room(0, 0)
    years, by_year = outcome.by_year.shape[2], np.zeros(outcome.by_year.shape[2])
    for number in range(calendar.times.shape[0]):
        timing, plans = _timing(calendar.times[number]), range(calendar.plans[number], calendar.plans[number + 1])
        is_workshop = calendar.is_workshop[plans.start : plans.stop].any()
        by_year[:] = 0.0
        for begin in range(0, outcome.present.shape[1], BLOCK):
            rows = lives.hours[begin : begin + BLOCK]
            needed = most_visits(rows, booking.years, timing)
            if needed > most:
                most = needed + needed // 2
                room = _room(most, groups)
            here = _first_paths(room, rows.shape[0])
            visits = visit_times(rows, (booking.years, calendar.at_handover), timing, here.times)
            _mark_tasks((calendar, number), visits, here)
            here = _with_factors(visits, booking, years, here)
            if is_workshop:
                _count(here, by_year)
            for plan in plans:
                _price(begin, lives.prices, (calendar, number, plan), here, outcome)
        for plan in plans:
            if calendar.is_workshop[plan]:
                outcome.counts_by_year[calendar.engines[plan], VISITS] += by_year


@compiled
def _count(room: Room, by_year: Amounts) -> None:
    """Count the visits of each year."""
    for begin, made in zip(room.times.begin, room.times.made):  # noqa: B905  (numba knows no strict)
        for visit in range(begin, begin + made):
            by_year[room.in_year[np.uint64(visit)]] += 1.0


@compiled
def _mark_tasks(at: tuple[Calendars, int], visits: int, room: Room) -> None:
    """Fill in which tasks of a timing are done at so many visits."""
    calendar, timing = at
    starts_counts = calendar.times[timing, 4] > 0.0
    for group in range(calendar.groups[timing], calendar.groups[timing + 1]):
        marks = room.marks[group - calendar.groups[timing]]
        marks[:visits] = 0
        for task in range(calendar.sizes[group]):
            one = calendar.counts[group, task]
            counts = TaskCounts(one[0], one[1], one[2], one[3], one[4] > 0.0)
            mark_task(counts, starts_counts, room.times, np.uint64(1) << np.uint64(task), marks)


@compiled
def _with_factors(visits: int, booking: Booking, years: int, room: Room) -> Room:
    """With year and factors of each visit; also for what stands behind a path's last, which nobody asks."""
    months, t, in_year = room.times.months, room.t[:visits], room.in_year
    for visit in range(visits):
        t[visit] = min(months[visit] / MONTHS_IN_A_YEAR, booking.years)
    for visit in range(visits):
        in_year[visit] = year_of(t[visit], years)
    return Room(room.times, room.t, in_year, factors_at(t, booking, room.factors), room.marks)


@compiled
def _price(first: int, levels: Amounts, at: tuple[Calendars, int, int], room: Room, outcome: Outcome) -> None:
    """Price the visits of one plan on paths from the first on, and add them to its engine's outcome."""
    (calendar, timing, plan), (begins, made) = at, room.times[2:4]
    begin, behind, engine = calendar.groups[timing], calendar.groups[timing + 1], calendar.engines[plan]
    visit_labour, visit_days, prices = calendar.visit_prices[0, plan], calendar.visit_prices[1, plan], calendar.prices
    (of_parts, of_labour, of_days, of_discount), in_year = room.factors[:4], room.in_year
    by_year, nominal = outcome.by_year[engine], outcome.nominal[engine]
    asks_nominal, is_workshop, sums = nominal.size > 0, calendar.is_workshop[plan], np.zeros(3)
    in_turn = np.zeros((TURNS if asks_nominal else 0, 3, by_year.shape[1]))
    marks, parts_of, labour_of = room.marks[0], prices[plan, begin, 0], prices[plan, begin, 1]
    for place in range(made.shape[0]):
        path = first + place
        parts_level, labour_level, all_parts, all_labour, all_days = levels[0, path], levels[1, path], 0.0, 0.0, 0.0
        of_path = by_year[path]
        for number in range(begins[place], begins[place] + made[place]):
            visit = np.uint64(number)
            choice, year, discount = marks[visit], in_year[visit], of_discount[visit]
            parts, labour = parts_of[choice], visit_labour + labour_of[choice]
            for group in range(begin + 1, behind):
                parts += prices[plan, group, 0, room.marks[group - begin, visit]]
                labour += prices[plan, group, 1, room.marks[group - begin, visit]]
            parts *= of_parts[visit] * parts_level
            labour *= of_labour[visit] * labour_level
            days = of_days[visit] * visit_days
            of_path[year] += parts + labour + days
            all_parts += parts * discount
            all_labour += labour * discount
            all_days += days * discount
            if asks_nominal:
                turn = visit % np.uint64(TURNS)
                in_turn[turn, 0, year] += parts
                in_turn[turn, 1, year] += labour
                in_turn[turn, 2, year] += days
        outcome.present[engine, path] += all_parts + all_labour + all_days
        sums[0] += all_parts
        sums[1] += all_labour
        sums[2] += all_days
        outcome.counts[engine, VISITS, path] += made[place] if is_workshop else 0
    for booked in in_turn:
        nominal[PARTS] += booked[0]
        nominal[LABOUR] += booked[1]
        nominal[DOWNTIME] += booked[2]
    outcome.elements[engine, PARTS] += sums[0]
    outcome.elements[engine, LABOUR] += sums[1]
    outcome.elements[engine, DOWNTIME] += sums[2]
