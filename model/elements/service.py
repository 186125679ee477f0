"""Service visits, owner's tasks, lay-up and top-ups: predetermined maintenance (EN 13306) in money."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, booked_at, factor_at, year_of
from model.compiling import compiled
from model.inputs.plan import ServicePlan, Task
from model.inputs.terms import MONTHS_IN_A_YEAR, DoneBy, Servicing
from model.walk import WalkPlan, walks

Amounts = NDArray[np.float64]

PATHS_AT_ONCE = 64
"""Paths that are walked together: few enough for their visits to stay in a processor's cache."""


class VisitPrices(NamedTuple):
    """What a visit costs, at delivery-day prices, for all engines on the boat."""

    task_parts: Amounts
    """Parts of each task done once, shape (task,). [money]"""
    task_labour: Amounts
    """Labour and menu price of each task done once, shape (task,). [money]"""
    visit_labour: float
    """Labour and price of the visit itself, once for the boat. [money]"""
    days_lost: float
    """Cost of the days a visit takes the boat. [money]"""


class VisitTerms(NamedTuple):
    """What a walk is priced with."""

    plan: WalkPlan
    """The plan."""
    prices: VisitPrices
    """What its visits cost."""
    ending: int
    """How the period ends: one of `visit_times`' ways."""


class ServiceSums(NamedTuple):
    """Sums of a plan's visits by path and year, each of shape (path, year); nominal and present value."""

    parts: Amounts
    parts_present: Amounts
    labour: Amounts
    labour_present: Amounts
    days: Amounts
    days_present: Amounts
    visits: Amounts


def no_sums(paths: int, years: int) -> ServiceSums:
    """Sums that nothing has been added to."""
    return ServiceSums(*np.zeros((7, paths, years)))


@dataclass(frozen=True)
class TaskCost:
    """One task done once on one engine, at delivery-day prices."""

    task: Task
    """The task as the plan states it."""
    parts: tuple[tuple[str, float, str, float], ...]
    """Name, expected quantity, unit, price of one unit. [-, unit, -, money]"""
    labour_hours: float
    """Labour charged, the plan's labour factor included. [h]"""
    menu_price: float
    """Price for parts and labour together. [money]"""

    @property
    def parts_price(self) -> float:
        """Expected parts. [money]"""
        return sum(quantity * price for _, quantity, _, price in self.parts)

    def labour_price(self, labour_rate: float) -> float:
        """Labour at a rate, and the menu price. [money]"""
        return self.labour_hours * labour_rate + self.menu_price


def task_cost(task: Task, plan: ServicePlan, servicing: Servicing) -> TaskCost:
    """
    What a task done once comes to: parts in the share of inspections that end in them, labour only at the workshop.

    Parameters
    ----------
    task : Task
    plan : ServicePlan
        Gives the labour factor.
    servicing : Servicing
        "own": parts only, no labour or menu price.

    Returns
    -------
    TaskCost
    """
    at_workshop = servicing is Servicing.KEPT and task.by is DoneBy.WORKSHOP
    labour = task.labour + task.on_condition * task.labour_if_renewed
    return TaskCost(
        task,
        tuple((part.name, part.quantity * task.on_condition, part.unit, part.price) for part in task.parts),
        labour * plan.labour_factor if at_workshop else 0.0,
        (task.menu_price or 0.0) if at_workshop else 0.0,
    )


@compiled
def visit_price(tasks: int, prices: VisitPrices) -> tuple[float, float]:
    """
    Parts and labour of one visit at delivery-day prices.

    Parameters
    ----------
    tasks : int
        Tasks done, task k as bit k; with a sign or without.
    prices : VisitPrices

    Returns
    -------
    (float, float)
        Parts; labour with menu prices and the visit's own charge. [money]
    """
    parts, labour, done = 0.0, prices.visit_labour, np.uint64(tasks)
    for task in range(prices.task_parts.shape[0]):
        if done >> np.uint64(task) & np.uint64(1):
            parts += prices.task_parts[task]
            labour += prices.task_labour[task]
    return parts, labour


@compiled
def add_event(path: int, t: float, price: tuple[float, float, float], booking: Booking, sums: ServiceSums) -> None:
    """
    Book parts, labour and lost days of one dated event.

    Parameters
    ----------
    path : int
        Row of the sums.
    t : float
        When, since delivery. [year]
    price : (float, float, float)
        Parts, labour and lost days at delivery-day prices. [money]
    booking : Booking
    sums : ServiceSums
        Added to.
    """
    booked = booked_at(t, booking.year_end, booking.years)
    year = year_of(t, sums.parts.shape[1])
    discount = factor_at(booked, booking.discount)
    parts = price[0] * factor_at(booked, booking.parts)
    labour = price[1] * factor_at(booked, booking.labour)
    sums.parts[path, year] += parts
    sums.parts_present[path, year] += parts * discount
    sums.labour[path, year] += labour
    sums.labour_present[path, year] += labour * discount
    if price[2] > 0.0:
        days = price[2] * factor_at(booked, booking.downtime)
        sums.days[path, year] += days
        sums.days_present[path, year] += days * discount


@compiled
def add_visits(rows: Amounts, levels: Amounts, terms: VisitTerms, booking: Booking, sums: ServiceSums) -> None:
    """
    Walk every path and book its visits.

    Parameters
    ----------
    rows : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    levels : ndarray, shape (2, path)
        Levels of parts and labour prices. [-]
    terms : VisitTerms
    booking : Booking
    sums : ServiceSums
        Added to.
    """
    for begin in range(0, rows.shape[0], PATHS_AT_ONCE):
        some = rows[begin : begin + PATHS_AT_ONCE]
        times, marks = walks(some, booking.years, terms.ending, terms.plan)
        for place in range(some.shape[0]):
            path = begin + place
            for visit in range(times.made[place]):
                parts, labour = visit_price(marks[visit, place], terms.prices)
                price = (parts * levels[0, path], labour * levels[1, path], terms.prices.days_lost)
                t = times.months[visit, place] / MONTHS_IN_A_YEAR
                add_event(path, t, price, booking, sums)
                sums.visits[path, year_of(t, sums.visits.shape[1])] += 1.0


@compiled
def add_times(times: Amounts, levels: Amounts, prices: VisitPrices, booking: Booking, sums: ServiceSums) -> None:
    """
    Book a task that every path has at the same times.

    Parameters
    ----------
    times : ndarray, shape (n,)
        When, since delivery. [year]
    levels : ndarray, shape (2, path)
        Levels of parts and labour prices. [-]
    prices : VisitPrices
        Of that one task.
    booking : Booking
    sums : ServiceSums
        Added to.
    """
    for path in range(levels.shape[1]):
        for t in times:
            price = (prices.task_parts[0] * levels[0, path], prices.task_labour[0] * levels[1, path], 0.0)
            add_event(path, t, price, booking, sums)
