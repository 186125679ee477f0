"""Visits of plans side by side along many paths: when they are, what is done at them, and what that costs.

The times, the tasks and their booking are the walk's and the booking's own functions.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, Factors, factors_at, no_factors, year_of
from model.compiling import compiled
from model.elementary import sum_over_middle
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.pace import meters_at_end
from model.uncertainty.calendars import Calendars
from model.uncertainty.outcomes import DOWNTIME, FUEL, LABOUR, PARTS, VISITS, Lives, Outcome
from model.visit_times import Times, Timing, most_visits, no_times, visit_times
from model.walk import Marks, TaskCounts, mark_task

Amounts = NDArray[np.float64]


@compiled
def _timing(numbers: Amounts) -> Timing:
    """A timing from its numbers."""
    return Timing(
        numbers[0], numbers[1], numbers[2], numbers[3], numbers[4] > 0.0, numbers[5], numbers[6], numbers[7] > 0.0
    )


BLOCK = 64
"""Paths walked before their visits are priced: few enough to stay near the processor, enough to share the calls."""


class Room(NamedTuple):
    """Room for the visits of a block of paths, side by side."""

    times: Times
    """When they are."""
    t: Amounts
    """The same in years, none behind the sale, shape (visit, path). [year]"""
    in_year: NDArray[np.uint64]
    """Ownership year of each, shape (visit, path)."""
    factors: Factors
    """What prices are multiplied by at each, shape (visit x path,)."""
    marks: Marks
    """Tasks done at each, shape (group, visit, path)."""


@compiled
def _room(visits: int, groups: int, is_discounted: bool) -> Room:
    """Room for so many visits of each path."""
    t, in_year = np.empty((visits, BLOCK)), np.empty((visits, BLOCK), np.uint64)
    marks, factors = np.empty((groups, visits, BLOCK), np.uint64), no_factors(visits * BLOCK, is_discounted)
    return Room(no_times(BLOCK, visits, True), t, in_year, factors, marks)


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
    end = (booking.years, calendar.ending)
    years, in_cash, by_year = lives.hours.shape[1], outcome.cash.size > 0, np.zeros(lives.hours.shape[1])
    meters = meters_at_end(lives.hours, booking.years)
    groups, most, room = (calendar.groups[1:] - calendar.groups[:-1]).max(), 0, _room(0, 0, not in_cash)
    for number in range(calendar.times.shape[0]):
        timing, plans = _timing(calendar.times[number]), range(calendar.plans[number], calendar.plans[number + 1])
        is_workshop = calendar.is_workshop[plans.start : plans.stop].any()
        by_year[:] = 0.0
        for begin in range(0, lives.hours.shape[0], BLOCK):
            rows, at_end = lives.hours[begin : begin + BLOCK], meters[begin : begin + BLOCK]
            needed = most_visits(at_end, booking.years, timing)
            if needed > most:
                most = needed + needed // 2
                room = _room(most, groups, not in_cash)
            here = _for_paths(room, rows.shape[0], in_cash and calendar.in_series[number])
            here = _first_visits(here, visit_times(rows, at_end, end, timing, here.times) - 1)
            _mark_tasks((calendar, number), here)
            here = _with_factors(booking, years, here)
            if in_cash:
                for plan in plans:
                    _price_in_cash(begin, lives.prices, (calendar, number, plan), here, outcome.cash)
                continue
            if is_workshop:
                _count(here, by_year)
            for plan in plans:
                _price(begin, lives.prices, (calendar, number, plan), here, outcome)
        for plan in plans:
            if calendar.is_workshop[plan]:
                outcome.counts_by_year[calendar.engines[plan], VISITS] += by_year


@compiled
def _for_paths(room: Room, paths: int, in_series: bool) -> Room:
    """The room for no more than that many paths, for visits in series or not."""
    months, meter, made, first, more, apart = room.times
    told = months.shape[0] if in_series else 0
    times = Times(months, meter, made[:paths], first[:paths], more[:told], apart[:told])
    return Room(times, room.t, room.in_year, room.factors, room.marks)


@compiled
def _first_visits(room: Room, visits: int) -> Room:
    """The room for no more than that many visits of each path."""
    return Room(room.times, room.t[:visits], room.in_year[:visits], room.factors, room.marks)


@compiled
def _count(room: Room, by_year: Amounts) -> None:
    """Count the visits of each year."""
    for path, made in enumerate(room.times.made):
        for visit in range(made):
            by_year[room.in_year[np.uint64(visit), np.uint64(path)]] += 1.0


@compiled
def _mark_tasks(at: tuple[Calendars, int], room: Room) -> None:
    """Fill in which tasks of a timing are done at each visit."""
    calendar, timing = at
    starts_counts = calendar.times[timing, 4] > 0.0
    for group in range(calendar.groups[timing], calendar.groups[timing + 1]):
        marks = room.marks[group - calendar.groups[timing], : room.t.shape[0]]
        marks[:] = 0
        for task in range(calendar.sizes[group]):
            one = calendar.counts[group, task]
            counts = TaskCounts(one[0], one[1], one[2], one[3], one[4] > 0.0)
            mark_task(counts, starts_counts, room.times, np.uint64(1) << np.uint64(task), marks)


@compiled
def _with_factors(booking: Booking, years: int, room: Room) -> Room:
    """With year and factors of each visit; also for what stands behind a path's last, which nobody asks."""
    times, t, in_year = room.times, room.t.ravel(), room.in_year.ravel()
    months = times.months.ravel()
    for visit in range(t.size):
        t[visit] = min(months[visit] / MONTHS_IN_A_YEAR, booking.years)
    for visit in range(t.size):
        in_year[visit] = year_of(t[visit], years)
    more, apart = times.more.ravel(), times.apart.ravel()
    if more.size > 0:  # a series is of one year, and so is its middle
        for visit in range(t.size):
            t[visit] -= 0.5 * more[visit] * apart[visit] / MONTHS_IN_A_YEAR
    factors = factors_at(t, booking, room.factors)
    if more.size > 0:
        rate = 0.0 if booking.year_end else booking.parts / MONTHS_IN_A_YEAR
        _sum_series(more, apart, rate, factors.parts)
    return Room(times, room.t, room.in_year, factors, room.marks)


@compiled
def _sum_series(more: Amounts, apart: Amounts, rate: float, parts: Amounts) -> None:
    """Put what all visits of a series are multiplied by in the place of its middle's factor on parts."""
    for visit in range(parts.size):
        parts[visit] *= sum_over_middle(1.0 + more[visit], rate * apart[visit])


@compiled
def _price(first: int, levels: Amounts, at: tuple[Calendars, int, int], room: Room, outcome: Outcome) -> None:
    """Price the visits of one plan on paths from the first on, and add them to its engine's outcome."""
    (calendar, timing, plan), made = at, room.times.made
    begin, behind, engine = calendar.groups[timing], calendar.groups[timing + 1], calendar.engines[plan]
    visit_labour, visit_days, prices = calendar.visit_prices[0, plan], calendar.visit_prices[1, plan], calendar.prices
    (of_parts, of_labour, of_days, of_discount), in_year = room.factors[:4], room.in_year.ravel()
    by_year, is_workshop, sums = outcome.by_year[engine], calendar.is_workshop[plan], np.zeros(3)
    marks, parts_of, labour_of = room.marks[0].ravel(), prices[plan, begin, 0], prices[plan, begin, 1]
    for place in range(made.shape[0]):
        path = first + place
        parts_level, labour_level, all_parts, all_labour, all_days = levels[0, path], levels[1, path], 0.0, 0.0, 0.0
        of_path = by_year[path]
        for number in range(made[place]):
            visit = np.uint64(number) * np.uint64(BLOCK) + np.uint64(place)
            choice, year, discount = marks[visit], in_year[visit], of_discount[visit]
            parts, labour = parts_of[choice], visit_labour + labour_of[choice]
            for group in range(begin + 1, behind):
                more = room.marks[group - begin, number, place]
                parts += prices[plan, group, 0, more]
                labour += prices[plan, group, 1, more]
            parts *= of_parts[visit] * parts_level
            labour *= of_labour[visit] * labour_level
            days = of_days[visit] * visit_days
            of_path[year] += parts + labour + days
            all_parts += parts * discount
            all_labour += labour * discount
            all_days += days * discount
        outcome.present[engine, path] += all_parts + all_labour + all_days
        sums[0] += all_parts
        sums[1] += all_labour
        sums[2] += all_days
        outcome.counts[engine, VISITS, path] += made[place] if is_workshop else 0
    outcome.elements[engine, PARTS] += sums[0]
    outcome.elements[engine, LABOUR] += sums[1]
    outcome.elements[engine, DOWNTIME] += sums[2]


@compiled
def _price_in_cash(first: int, levels: Amounts, at: tuple[Calendars, int, int], room: Room, all_cash: Amounts) -> None:
    """Price the visits of one plan on paths from the first on, and add them to its engine's cash."""
    (calendar, timing, plan), made = at, room.times.made
    begin, behind, cash = calendar.groups[timing], calendar.groups[timing + 1], all_cash[calendar.engines[plan]]
    visit_labour, visit_days, prices = calendar.visit_prices[0, plan], calendar.visit_prices[1, plan], calendar.prices
    (of_parts, of_labour, of_days), in_year = room.factors[:3], room.in_year.ravel()
    marks, parts_of, labour_of = room.marks[0].ravel(), prices[plan, begin, 0], prices[plan, begin, 1]
    is_workshop = calendar.is_workshop[plan]
    for place in range(made.shape[0]):
        parts_level, labour_level, of_path = levels[0, first + place], levels[1, first + place], cash[first + place]
        for number in range(made[place]):
            visit = np.uint64(number) * np.uint64(BLOCK) + np.uint64(place)
            choice, year = marks[visit], in_year[visit]
            parts, labour = parts_of[choice], visit_labour + labour_of[choice]
            for group in range(begin + 1, behind):
                more = room.marks[group - begin, number, place]
                parts += prices[plan, group, 0, more]
                labour += prices[plan, group, 1, more]
            of_path[year, PARTS - FUEL] += parts * (of_parts[visit] * parts_level)
            if is_workshop:  # what owners do themselves takes parts alone
                of_path[year, LABOUR - FUEL] += labour * (of_labour[visit] * labour_level)
                of_path[year, DOWNTIME - FUEL] += of_days[visit] * visit_days
