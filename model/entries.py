"""One ownership item by item, each at all of its times: what the ledger writes as rows, and what is added up over time.

The same functions of the elements that give the totals give the amounts; a test holds their sums together.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import booking, money
from model.case import Case
from model.elements import capital, cover
from model.elements.service import TaskCost
from model.inputs.terms import MONTHS_IN_A_YEAR, Element, Payer, Servicing
from model.language import Spoken, later, say, spoken
from model.measures import EngineCost
from model.ownership import resale_value
from model.usage import meter_at
from model.walk import visits_of

Amounts = NDArray[np.float64]

PIECE = later("piece")
"""What parts are counted in where a file does not say."""

LOAN_FLOWS = (later("Sum lent"), later("Loan payment"), later("Loan balance repaid"))
"""What `capital.loan_flows` calls them; the sums know no languages."""


class When(NamedTuple):
    """When an item is booked, each of shape (time,)."""

    t: Amounts
    """Booking times since delivery. [year]"""
    years: NDArray[np.int64]
    """Ownership years (from 0) that it is counted in."""
    flows: bool
    """Whether it flows through those years; otherwise it is a dated event."""
    visits: NDArray[np.int64] | None = None
    """Numbers of the visits (from 0) at which it is paid; None for what is paid at none."""

    def at(self, places: NDArray[np.bool_]) -> "When":
        """Some of the times."""
        visits = None if self.visits is None else self.visits[places]
        return When(self.t[places], self.years[places], self.flows, visits)


@dataclass(frozen=True)
class Entry:
    """One item at all of its times; costs positive, receipts negative."""

    element: Element
    """Cost element."""
    item: str
    """What it is."""
    unit: str
    """Unit of its quantity."""
    when: When
    """When it is booked."""
    quantity: Amounts
    """How much of it each time, shape (time,). [unit]"""
    unit_price: Amounts
    """Nominal price of one unit, shape (time,). [money]"""
    payer: Payer = Payer.OWNER
    """Who pays; only the owner's count."""

    @property
    def nominal(self) -> Amounts:
        """Money of the day, shape (time,). [money]"""
        return self.quantity * self.unit_price


def entries(cost: EngineCost) -> tuple[Entry, ...]:
    """
    The ownership of one engine, all engines of its kind on the boat, item by item.

    Parameters
    ----------
    cost : EngineCost
        From `measures.cost_of`.

    Returns
    -------
    tuple of Entry
        The owner's amounts sum to the element totals; the warranty's say what the cover was worth.
    """
    return _entries(cost, spoken())


@lru_cache(maxsize=32)
def _entries(cost: EngineCost, _: Spoken) -> tuple[Entry, ...]:
    """The same, kept by cost and by the language of its words."""
    case = cost.case
    hours = np.array(case.scenario.hours())
    return (
        *_bought_and_sold(case, hours),
        *_running(case, cost),
        *_at_visits(case, hours),
        *_dated(case, hours),
        *_repairs(case, cost),
    )


def _entry(element: Element, item: str, when: When, amount: tuple[ArrayLike, str, ArrayLike]) -> Entry:
    """An owner's item from when it is booked, and quantity, unit and nominal unit price."""
    quantity, unit, unit_price = amount
    times = when.t.shape
    return Entry(element, item, unit, when, np.full(times, quantity), np.full(times, unit_price))


def _events(case: Case, times: ArrayLike, are_visits: bool = False) -> When:
    """When dated events at their own times are booked. [year]"""
    own, last = np.asarray(times, dtype=float), case.scenario.ownership.begun_years
    booked = booking.booking_time(own, case.rules.timing, case.years)
    years = np.array([booking.year_of(t, last) for t in own.tolist()], dtype=np.int64)
    return When(booked, years, False, np.arange(own.size) if are_visits else None)


def _through_years(case: Case) -> When:
    """When what flows through the years is booked."""
    return When(case.rules.flow_times, np.arange(case.rules.flow_times.size), True)


def _bought_and_sold(case: Case, hours: Amounts) -> Iterator[Entry]:
    """Purchase, fit-up, extension, loan and resale."""
    engine, count, delivery = case.engine, float(case.count), _events(case, [0.0])
    yield _entry(Element.PURCHASE, engine.name, delivery, (count, say("engine"), engine.price))
    yield _entry(Element.PURCHASE, say("Discount"), delivery, (count, say("engine"), -engine.discount))
    yield _entry(Element.PURCHASE, say("Trade-in"), delivery, (count, say("engine"), -engine.trade_in))
    for fitted in engine.fit_up:
        yield _entry(Element.FIT_UP, fitted.name, delivery, (count, say("engine"), fitted.price))
    extension = cover.extension_price(case.cover_terms)
    yield _entry(Element.WARRANTY_COVER, say("Extension of cover"), delivery, (count, say("engine"), extension))
    last = case.scenario.ownership.begun_years
    for t, item, amount in capital.loan_flows(case.lent, engine.finance, case.years, not case.goes_on):
        # Loan payments are never moved: a bank knows no booking at the end of the year.
        when = When(np.array([t]), np.array([min(int(t - 1e-9), last - 1)]), False)
        yield _entry(Element.FINANCE, say(item), when, (1.0, say("payment"), amount))
    value = resale_value(case, case.years, meter_at(case.years, hours, case.years, case.start[0])) / count
    yield _entry(
        Element.RESALE, say("Value at sale"), _events(case, [case.years]), (count, say("engine"), -float(value))
    )


def _running(case: Case, cost: EngineCost) -> Iterator[Entry]:
    """Fuel, two-stroke oil and top-ups of each year."""
    prices, growth, when = case.scenario.prices, case.rules.growth, _through_years(case)
    fuel, owned = say("Fuel (estimate)") if cost.fuel_is_estimated else say("Fuel"), cost.ownership
    fuel_price = prices.fuel * money.growth_factor(growth.fuel, when.t)
    yield _entry(Element.FUEL, fuel, when, (owned.fuel_litres, "L", fuel_price))
    oil_price = (prices.two_stroke_oil or 0.0) * money.growth_factor(growth.two_stroke_oil, when.t)
    yield _entry(Element.TWO_STROKE_OIL, say("Two-stroke oil"), when, (owned.oil_litres, "L", oil_price))
    top_up = case.plan.top_up if case.plan else None
    if top_up is not None:
        topped = case.count * owned.hours * top_up.litres_per_100_hours / 100.0
        price = top_up.price * money.growth_factor(growth.parts, when.t)
        yield _entry(Element.SERVICE_PARTS, say("Oil top-up"), when, (topped, "L", price))


def _task(case: Case, cost: TaskCost, when: When) -> Iterator[Entry]:
    """Parts and labour of one task, at visits or without them."""
    growth, name, count = case.rules.growth, cost.task.name, float(case.count)
    parts, labour = money.growth_factor(growth.parts, when.t), money.growth_factor(growth.labour, when.t)
    for part, quantity, unit, price in cost.parts:
        yield _entry(Element.SERVICE_PARTS, f"{name}: {part}", when, (count * quantity, say(unit), price * parts))
    hours = (count * cost.labour_hours, "h", case.labour_rate * labour)
    yield _entry(Element.SERVICE_LABOUR, name, when, hours)
    menu = say("{task}: menu price", task=name)
    yield _entry(Element.SERVICE_LABOUR, menu, when, (count, say("engine"), cost.menu_price * labour))


def _at_visits(case: Case, hours: Amounts) -> Iterator[Entry]:
    """Visits: their tasks, their own labour and price, the days they take."""
    if case.walk is None or case.plan is None:
        return
    visits = visits_of(hours, case.years, case.ending, case.walk)
    when, growth = _events(case, visits.months / MONTHS_IN_A_YEAR, are_visits=True), case.rules.growth
    for index, cost in enumerate(case.task_costs):
        yield from _task(case, cost, when.at((visits.tasks >> index & 1).astype(bool)))
    if case.scenario.servicing is not Servicing.OWN:
        labour = money.growth_factor(growth.labour, when.t)
        own_labour = (case.visit_labour_hours, "h", case.labour_rate * labour)
        yield _entry(Element.SERVICE_LABOUR, say("Visit"), when, own_labour)
        charge = (1.0, say("visit"), case.plan.visit_price * labour)
        yield _entry(Element.SERVICE_LABOUR, say("Visit charge"), when, charge)
    day_cost = case.day_cost * money.growth_factor(growth.downtime, when.t)
    yield _entry(Element.DOWNTIME, say("Days at the workshop"), when, (case.visit_days, say("day"), day_cost))


def _dated(case: Case, hours: Amounts) -> Iterator[Entry]:
    """Tasks without a visit: the owner's own, and at lay-up."""
    for task in case.dated_tasks:
        times = list(task.times)
        if task.walk is not None:
            own = visits_of(hours, case.years, case.ending, task.walk)
            # Due as the hours end, it is left: it would not overrun before the sale.
            times += (own.months[own.tasks > 0] / MONTHS_IN_A_YEAR).tolist()
        yield from _task(case, task.cost, _events(case, times))


def _repairs(case: Case, cost: EngineCost) -> Iterator[Entry]:
    """Expected repairs of each mode and year: the owner's part, the warranty's, the excess and the days lost."""
    expected, when = cost.ownership.repairs, _through_years(case)
    day_cost = case.day_cost * money.growth_factor(case.rules.growth.downtime, when.t)
    for index, mode in enumerate(case.engine.repair):
        failures, excess = expected.failures[index], expected.excess[index]
        owner, paid, own_excess = (
            amounts / np.where(failures > 0.0, failures, 1.0)
            for amounts in (expected.owner[index], expected.covered[index] - excess, excess)
        )
        repair, of_excess = say("repair"), say("{mode}: excess", mode=mode.name)
        yield _entry(Element.REPAIRS, mode.name, when, (failures, repair, owner))
        yield Entry(Element.REPAIRS, mode.name, repair, when, failures, paid, Payer.WARRANTY)
        yield _entry(Element.WARRANTY_COVER, of_excess, when, (failures, repair, own_excess))
        lost = (failures * case.days_lost[index], say("day"), day_cost)
        yield _entry(Element.DOWNTIME, say("{mode}: days lost", mode=mode.name), when, lost)
