"""Service over many paths at once: plans whose visits fall at the same times share the walk to them.

Visits depend on the hours and on the intervals of a plan, not on the engine: the engines of a comparison mostly share
them. The times, the tasks and their booking are the walk's and the booking's own functions.
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, booked_at, step_of, within_step, year_of
from model.compiling import compiled
from model.elements.service import VisitTerms
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.uncertainty.outcomes import DOWNTIME, LABOUR, PARTS, VISITS, Lives, Outcome
from model.usage import meter_at_end
from model.visit_times import Met, Timing, most_visits, visit_times
from model.walk import is_done, overruns_beyond, stop_at, timing_of

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


class Calendars(NamedTuple):
    """Plans side by side, those with the same times behind one another, and the different tasks of each timing."""

    times: Amounts
    """Of each timing: the numbers of `Timing`, shape (timing, 8). [h, month, -]"""
    plans: Places
    """First plan of each timing, and the number of plans behind the last, shape (timing + 1,)."""
    tasks: Places
    """First task of each timing, and the number of tasks behind the last, shape (timing + 1,)."""
    engines: Places
    """Engine of each plan, shape (plan,)."""
    is_workshop: NDArray[np.bool_]
    """Whether its visits are visits to the workshop, shape (plan,)."""
    at_handover: bool
    """Whether a visit that falls on the sale is made."""
    visit_prices: Amounts
    """Labour and lost days of a visit itself, shape (2, plan). [money]"""
    task_prices: Amounts
    """Parts and labour of each task in each plan, shape (2, plan, task); 0 where a plan has it not. [money]"""
    intervals: Amounts
    """Of each task: hours, months, and both on its count at delivery, shape (4, task). [h, month]"""
    first: NDArray[np.bool_]
    """Whether it is done at the first visit as well, shape (task,)."""


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
    tasks = {
        (timing, *task): None
        for timing, together in by_times.items()
        for plan in together
        for task in _tasks(plan.terms)
    }
    places = {task: place for place, task in enumerate(tasks)}
    prices = np.zeros((2, len(ordered), len(tasks)))
    for place, plan in enumerate(ordered):
        timing, of_plan = Timing(*timing_of(plan.terms.plan)), plan.terms.prices
        for task, key in enumerate(_tasks(plan.terms)):
            prices[:, place, places[timing, *key]] += of_plan.task_parts[task], of_plan.task_labour[task]
    numbers = np.array([key[1:] for key in tasks], dtype=float).reshape(-1, 5)
    return Calendars(
        np.array([[float(number) for number in timing] for timing in by_times]).reshape(-1, len(Timing._fields)),
        np.cumsum([0, *(len(together) for together in by_times.values())]),
        np.cumsum([0, *(sum(key[0] == timing for key in tasks) for timing in by_times)]),
        np.array([plan.engine for plan in ordered], dtype=np.int64),
        np.array([plan.is_workshop for plan in ordered], dtype=np.bool_),
        any(plan.terms.at_handover for plan in plans),
        np.array([[plan.terms.prices.visit_labour, plan.terms.prices.days_lost] for plan in ordered]).reshape(-1, 2).T,
        prices,
        np.ascontiguousarray(numbers[:, :4].T),
        numbers[:, 4].astype(np.bool_),
    )


def _tasks(terms: VisitTerms) -> list[tuple[float, ...]]:
    """Interval, counts at delivery and whether a first visit's of each task of a plan."""
    plan = terms.plan
    columns = (plan.task_hours, plan.task_months, plan.task_since_hours, plan.task_since_months, plan.task_first)
    return [tuple(float(number) for number in row) for row in zip(*columns, strict=True)]


@compiled
def _timing(numbers: Amounts) -> Timing:
    """A timing from its numbers."""
    return Timing(
        numbers[0], numbers[1], numbers[2], numbers[3], numbers[4] > 0.0, numbers[5], numbers[6], numbers[7] > 0.0
    )


BLOCK = 32
"""Paths walked before their visits are priced: few enough to stay near the processor, enough to share the calls."""


class Room(NamedTuple):
    """Room for the visits of a block of paths."""

    months: Amounts
    """When each is, shape (path, visit). [month]"""
    meter: Amounts
    """Hours run then, shape (path, visit). [h]"""
    factors: Amounts
    """What prices of parts, labour and lost days are multiplied by, and the discount, shape (path, visit, 4). [-]"""
    in_year: Places
    """Ownership year of each, shape (path, visit)."""
    done: NDArray[np.bool_]
    """Whether each task is done at it, shape (path, visit, task)."""
    met: Places
    """Of each path: visits made, and whether the first is ahead or is the first routine one, shape (path, 3)."""
    due: Amounts
    """Month and meter beyond which each task overruns, shape (2, task). [month, h]"""


@compiled
def _room(visits: int, tasks: int) -> Room:
    """Room for that many visits of each path."""
    return Room(
        np.empty((BLOCK, visits)),
        np.empty((BLOCK, visits)),
        np.empty((BLOCK, visits, 4)),
        np.empty((BLOCK, visits), np.int64),
        np.empty((BLOCK, visits, tasks), np.bool_),
        np.empty((BLOCK, 3), np.int64),
        np.empty((2, tasks)),
    )


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
    trials, most, room = outcome.present.shape[1], 0, _room(0, 0)
    run, end_months = _hours_run(lives.hours, booking.years), MONTHS_IN_A_YEAR * booking.years
    for timing in range(calendar.times.shape[0]):
        times = _timing(calendar.times[timing])
        for begin in range(0, trials, BLOCK):
            paths = (begin, min(begin + BLOCK, trials))
            needed = most_visits(run[paths[0] : paths[1]].max(), booking.years, times.base_hours, times.base_months)
            if needed > most:
                most = needed + needed // 2
                room = _room(most, calendar.first.size)
            _walk(paths, lives.hours, (end_months, calendar.at_handover), times, room)
            _fill_factors(paths, booking, outcome.by_year.shape[2], room)
            _choose(paths, run, end_months, (calendar, timing), room)
            for plan in range(calendar.plans[timing], calendar.plans[timing + 1]):
                _price(paths, lives.prices, (calendar, timing, plan), room, outcome)


@compiled
def _hours_run(hours: Amounts, years: float) -> Amounts:
    """Hours run by the sale on each path, shape (path,). [h]"""
    run = np.empty(hours.shape[0])
    for path in range(hours.shape[0]):
        run[path] = meter_at_end(hours[path], years)
    return run


@compiled
def _walk(paths: tuple[int, int], hours: Amounts, end: tuple[float, bool], times: Timing, room: Room) -> None:
    """Fill in when the visits are; `end` are the months and whether a visit on the sale is made."""
    months, meter, met = room.months, room.meter, room.met
    for path in range(paths[0], paths[1]):
        place = path - paths[0]
        found = visit_times(hours[path], end, times, months[place], meter[place])
        met[place, 0], met[place, 1], met[place, 2] = found.made, int(found.has_first), int(found.first_is_routine)


@compiled
def _fill_factors(paths: tuple[int, int], booking: Booking, years: int, room: Room) -> None:
    """Fill in growth, discount and year of each visit."""
    months, factors, in_year, met = room.months, room.factors, room.in_year, room.met
    parts, labour, days, discount = booking.parts, booking.labour, booking.downtime, booking.discount
    parts_table, labour_table, days_table = parts.by_step, labour.by_step, days.by_step
    discount_table, is_alike = discount.by_step, parts.log_a_step == labour.log_a_step == days.log_a_step
    for place in range(paths[1] - paths[0]):
        for visit in range(met[place, 0]):
            t = months[place, visit] / MONTHS_IN_A_YEAR
            in_year[place, visit] = year_of(t, years)
            step, rest = step_of(booked_at(t, booking.year_end, booking.years))
            growth = parts_table[step] * within_step(rest * parts.log_a_step)
            factors[place, visit, 0], factors[place, visit, 1], factors[place, visit, 2] = growth, growth, growth
            if not is_alike:
                factors[place, visit, 1] = labour_table[step] * within_step(rest * labour.log_a_step)
                factors[place, visit, 2] = days_table[step] * within_step(rest * days.log_a_step)
            factors[place, visit, 3] = discount_table[step] * within_step(rest * discount.log_a_step)


@compiled
def _choose(paths: tuple[int, int], run: Amounts, end_months: float, at: tuple[Calendars, int], room: Room) -> None:
    """Fill in which tasks of a timing are done at each visit."""
    (calendar, timing), met = at, room.met
    months, meter, done, starts_counts = room.months, room.meter, room.done, calendar.times[timing, 4] > 0.0
    begin, behind = calendar.tasks[timing], calendar.tasks[timing + 1]
    every, first, tasks = calendar.intervals[:, begin:behind], calendar.first[begin:behind], behind - begin
    due_months, due_meter, every_hours, every_months = room.due[0], room.due[1], every[0], every[1]
    for path in range(paths[0], paths[1]):
        place = path - paths[0]
        end = (end_months, run[path])
        for task in range(tasks):
            since = (-every[3, task], -every[2, task])
            due_months[task], due_meter[task] = overruns_beyond(
                since[0], since[1], every_months[task], every_hours[task]
            )
        found = Met(met[place, 0], met[place, 1] > 0, met[place, 2] > 0, starts_counts)
        for visit in range(found.made):
            now, then = (months[place, visit], meter[place, visit]), (months[place, visit + 1], meter[place, visit + 1])
            stop = stop_at(now, then, end, visit == 0, found)
            for task in range(tasks):
                # Everything is read first and written either way: whether a task is done cannot be foreseen.
                old_months, old_meter = due_months[task], due_meter[task]
                new_months, new_meter = overruns_beyond(stop.months, stop.meter, every_months[task], every_hours[task])
                is_here = is_done(stop, old_months, old_meter, first[task])
                starts = is_here | stop.starts_counts
                due_months[task] = new_months if starts else old_months
                due_meter[task] = new_meter if starts else old_meter
                done[place, visit, task] = is_here


@compiled
def _price(
    paths: tuple[int, int], levels: Amounts, at: tuple[Calendars, int, int], room: Room, outcome: Outcome
) -> None:
    """Price the visits of one plan, and add them to its engine's outcome."""
    calendar, timing, plan = at
    factors, in_year, done, met = room.factors, room.in_year, room.done, room.met
    begin, behind, engine = calendar.tasks[timing], calendar.tasks[timing + 1], calendar.engines[plan]
    task_parts, task_labour = calendar.task_prices[0, plan, begin:behind], calendar.task_prices[1, plan, begin:behind]
    visit_labour, visit_days = calendar.visit_prices[0, plan], calendar.visit_prices[1, plan]
    by_year, present, nominal, counts = outcome.by_year, outcome.present, outcome.nominal, outcome.counts_by_year
    asks_nominal, all_parts, all_labour, all_days = nominal.shape[1] > 0, 0.0, 0.0, 0.0
    for path in range(paths[0], paths[1]):
        place, parts_level, labour_level = path - paths[0], levels[0, path], levels[1, path]
        sum_parts, sum_labour, sum_days = 0.0, 0.0, 0.0
        for visit in range(met[place, 0]):
            parts, labour, year = 0.0, visit_labour, in_year[place, visit]
            for task in range(task_parts.size):
                of_parts, of_labour, is_here = task_parts[task], task_labour[task], done[place, visit, task]
                parts += of_parts if is_here else 0.0
                labour += of_labour if is_here else 0.0
            parts *= factors[place, visit, 0] * parts_level
            labour *= factors[place, visit, 1] * labour_level
            days, discount = visit_days * factors[place, visit, 2], factors[place, visit, 3]
            by_year[engine, path, year] += parts + labour + days
            sum_parts += parts * discount
            sum_labour += labour * discount
            sum_days += days * discount
            if asks_nominal:
                nominal[engine, PARTS, year] += parts
                nominal[engine, LABOUR, year] += labour
                nominal[engine, DOWNTIME, year] += days
            if calendar.is_workshop[plan]:
                counts[engine, VISITS, year] += 1.0
        present[engine, path] += sum_parts + sum_labour + sum_days
        all_parts += sum_parts
        all_labour += sum_labour
        all_days += sum_days
        if calendar.is_workshop[plan]:
            outcome.counts[engine, VISITS, path] += met[place, 0]
    outcome.elements[engine, PARTS] += all_parts
    outcome.elements[engine, LABOUR] += all_labour
    outcome.elements[engine, DOWNTIME] += all_days
