"""One ownership as dated rows: when, which element, which part or task, how much of it, at what price, and who pays.

The same functions of the elements that give the totals give the rows; a test holds their sums together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from model import booking, money
from model.case import Case
from model.elements import capital, cover
from model.elements.service import TaskCost
from model.inputs.terms import MONTHS_IN_A_YEAR, Element, Payer, Servicing
from model.language import Spoken, later, say, spoken
from model.measures import EngineCost
from model.ownership import resale_value
from model.usage import date_at, meter_at
from model.walk import visits_of


@dataclass(frozen=True)
class Row:
    """One row of the ledger; costs positive, receipts negative."""

    t_years: float
    """Booking time since delivery. [year]"""
    date: date
    """The day it falls on."""
    meter_hours: float
    """On the meter of one engine then. [h]"""
    element: Element
    """Cost element."""
    item: str
    """What it is."""
    quantity: float
    """How much of it. [unit]"""
    unit: str
    """Its unit."""
    unit_price: float
    """Nominal price of one unit. [money]"""
    nominal: float
    """Money of the day. [money]"""
    present_value: float
    """Discounted to the delivery day. [money]"""
    payer: Payer
    """Who pays; only the owner's rows count."""
    year: int
    """Ownership year (from 0) that it is counted in."""
    through_year: int | None = None
    """Ownership year (from 0) that it flows through; None for a dated event."""
    visit: int | None = None
    """Number of the visit (from 0) at which it is paid; None for what is paid at none."""


@dataclass(frozen=True)
class _Rows:
    """Makes rows of one case at their booking times."""

    case: Case
    hours: NDArray[np.float64]
    moments: dict[float, tuple[date, float, float]] = field(default_factory=dict)
    """Day, meter hours and discount factor of times met before: many rows share few times."""

    bookings: dict[float, float] = field(default_factory=dict)
    """When events at times met before are booked. [year -> year]"""
    growths: dict[tuple[float, float], float] = field(default_factory=dict)
    """What prices are multiplied by, by yearly growth and time. [1/year, year -> -]"""

    def moment(self, t: float) -> tuple[date, float, float]:
        """Day, meter hours and discount factor of a time. [-, h, -]"""
        if t not in self.moments:
            self.moments[t] = (
                date_at(t, self.case.scenario.ownership.delivery),
                float(meter_at(t, self.hours, self.case.years, self.case.start[0])),
                float(money.discount_factor(self.case.rules.discount_rate, t)),
            )
        return self.moments[t]

    def row(
        self,
        element: Element,
        item: str,
        t: float,
        amount: tuple[float, str, float],
        visit: int | None = None,
    ) -> Row:
        """A row from its own time, and quantity, unit and nominal unit price; loan payments are never moved."""
        last = self.case.scenario.ownership.begun_years
        if element is Element.FINANCE:
            return self._made(element, item, (t, min(int(t - 1e-9), last - 1), None, visit), amount, Payer.OWNER)
        when = (self.booked(t), booking.year_of(t, last), None, visit)
        return self._made(element, item, when, amount, Payer.OWNER)

    def _made(
        self,
        element: Element,
        item: str,
        when: tuple[float, int, int | None, int | None],
        amount: tuple[float, str, float],
        payer: Payer,
    ) -> Row:
        """A row from its booking time, the year it is counted in, the one it flows through, and its visit, if any."""
        t, year, through, visit = when
        quantity, unit, unit_price = amount
        nominal = quantity * unit_price
        day, meter, discount = self.moment(t)
        present = nominal * discount
        paid = (quantity, unit, unit_price, nominal, present, payer)
        return Row(t, day, meter, element, item, *paid, year, through, visit)

    def flow(
        self, element: Element, item: str, year: int, amount: tuple[float, str, float], payer: Payer = Payer.OWNER
    ) -> Row:
        """A row that flows through a year."""
        t = float(self.case.rules.flow_times[year])
        return self._made(element, item, (t, year, year, None), amount, payer)

    def booked(self, t: float) -> float:
        """When an event at t is booked. [year]"""
        if t not in self.bookings:
            self.bookings[t] = float(booking.booking_time(t, self.case.rules.timing, self.case.years))
        return self.bookings[t]

    def grown(self, price: float, growth: float, t: float) -> float:
        """A delivery-day price at its booking time. [money]"""
        if (growth, t) not in self.growths:
            self.growths[growth, t] = float(money.growth_factor(growth, t))
        return price * self.growths[growth, t]


PIECE = later("piece")
"""What parts are counted in where a file does not say."""

LOAN_FLOWS = (later("Sum lent"), later("Loan payment"), later("Loan balance repaid"))
"""What `capital.loan_flows` calls them; the sums know no languages."""


def ledger(cost: EngineCost) -> tuple[Row, ...]:
    """
    The ownership of one engine, all engines of its kind on the boat, as dated rows in order of time.

    Parameters
    ----------
    cost : EngineCost
        From `measures.cost_of`.

    Returns
    -------
    tuple of Row
        The owner's rows sum to the element totals; the warranty's say what the cover was worth.
    """
    return _ledger(cost, spoken())


@lru_cache(maxsize=16)
def _ledger(cost: EngineCost, _: Spoken) -> tuple[Row, ...]:
    """The same, kept by cost and by the language of its words."""
    case = cost.case
    rows = _Rows(case, np.array(case.scenario.hours()))
    found = [
        *_capital_rows(rows),
        *_running_rows(rows, cost),
        *_visit_rows(rows),
        *_dated_task_rows(rows),
        *_repair_rows(rows, cost),
    ]
    return tuple(sorted((row for row in found if row.quantity and row.unit_price), key=lambda row: row.t_years))


def _capital_rows(rows: _Rows) -> Iterator[Row]:
    """Purchase, fit-up, extension, loan and resale."""
    case, engine, years = rows.case, rows.case.engine, rows.case.years
    count = float(case.count)
    yield rows.row(Element.PURCHASE, engine.name, 0.0, (count, say("engine"), engine.price))
    yield rows.row(Element.PURCHASE, say("Discount"), 0.0, (count, say("engine"), -engine.discount))
    yield rows.row(Element.PURCHASE, say("Trade-in"), 0.0, (count, say("engine"), -engine.trade_in))
    for fitted in engine.fit_up:
        yield rows.row(Element.FIT_UP, fitted.name, 0.0, (count, say("engine"), fitted.price))
    extension = cover.extension_price(case.cover_terms)
    yield rows.row(Element.WARRANTY_COVER, say("Extension of cover"), 0.0, (count, say("engine"), extension))
    for t, item, amount in capital.loan_flows(case.lent, engine.finance, years):
        yield rows.row(Element.FINANCE, say(item), t, (1.0, say("payment"), amount))
    meter = meter_at(years, rows.hours, years, case.start[0])
    value = float(resale_value(case, years, meter)) / count
    yield rows.row(Element.RESALE, say("Value at sale"), years, (count, say("engine"), -value))


def _running_rows(rows: _Rows, cost: EngineCost) -> Iterator[Row]:
    """Fuel, two-stroke oil and top-ups of each year."""
    case, prices, growth = rows.case, rows.case.scenario.prices, rows.case.rules.growth
    top_up = case.plan.top_up if case.plan else None
    for year, t in enumerate(case.rules.flow_times.tolist()):
        litres, oil = float(cost.ownership.fuel_litres[year]), float(cost.ownership.oil_litres[year])
        fuel_price = rows.grown(prices.fuel, growth.fuel, t)
        oil_price = rows.grown(prices.two_stroke_oil or 0.0, growth.two_stroke_oil, t)
        yield rows.flow(
            Element.FUEL,
            say("Fuel (estimate)") if cost.fuel_is_estimated else say("Fuel"),
            year,
            (litres, "L", fuel_price),
        )
        yield rows.flow(Element.TWO_STROKE_OIL, say("Two-stroke oil"), year, (oil, "L", oil_price))
        if top_up is not None:
            topped = case.count * float(cost.ownership.hours[year]) * top_up.litres_per_100_hours / 100.0
            price = rows.grown(top_up.price, growth.parts, t)
            yield rows.flow(Element.SERVICE_PARTS, say("Oil top-up"), year, (topped, "L", price))


def _task_rows(rows: _Rows, cost: TaskCost, t: float, visit: int | None = None) -> Iterator[Row]:
    """Parts and labour of one task done once, at a visit or without one."""
    case, growth = rows.case, rows.case.rules.growth
    name, count, booked = cost.task.name, rows.case.count, rows.booked(t)
    for part, quantity, unit, price in cost.parts:
        paid = rows.grown(price, growth.parts, booked)
        yield rows.row(Element.SERVICE_PARTS, f"{name}: {part}", t, (count * quantity, say(unit), paid), visit)
    labour_rate = rows.grown(case.labour_rate, growth.labour, booked)
    yield rows.row(Element.SERVICE_LABOUR, name, t, (count * cost.labour_hours, "h", labour_rate), visit)
    menu_price = rows.grown(cost.menu_price, growth.labour, booked)
    yield rows.row(
        Element.SERVICE_LABOUR,
        say("{task}: menu price", task=name),
        t,
        (float(count), say("engine"), menu_price),
        visit,
    )


def _visit_rows(rows: _Rows) -> Iterator[Row]:
    """Visits: their tasks, their own labour and price, the days they take."""
    case = rows.case
    if case.walk is None or case.plan is None:
        return
    growth, own = case.rules.growth, case.scenario.servicing is Servicing.OWN
    visits = visits_of(rows.hours, case.years, case.scenario.ownership.service_at_handover, case.walk)
    for visit, (months, tasks) in enumerate(zip(visits.months.tolist(), visits.tasks.tolist(), strict=True)):
        t = months / MONTHS_IN_A_YEAR
        booked = rows.booked(t)
        for index, cost in enumerate(case.task_costs):
            if tasks >> index & 1:
                yield from _task_rows(rows, cost, t, visit)
        if not own:
            labour_rate = rows.grown(case.labour_rate, growth.labour, booked)
            yield rows.row(Element.SERVICE_LABOUR, say("Visit"), t, (case.visit_labour_hours, "h", labour_rate), visit)
            price = rows.grown(case.plan.visit_price, growth.labour, booked)
            yield rows.row(Element.SERVICE_LABOUR, say("Visit charge"), t, (1.0, say("visit"), price), visit)
        day_cost = rows.grown(case.day_cost, growth.downtime, booked)
        yield rows.row(Element.DOWNTIME, say("Days at the workshop"), t, (case.visit_days, say("day"), day_cost), visit)


def _dated_task_rows(rows: _Rows) -> Iterator[Row]:
    """Tasks without a visit: the owner's own, and at lay-up."""
    case = rows.case
    for task in case.dated_tasks:
        times = list(task.times)
        if task.walk is not None:
            handover = case.scenario.ownership.service_at_handover
            own = visits_of(rows.hours, case.years, handover, task.walk)
            # Due as the hours end, it is left: it would not overrun before the sale.
            times += (own.months[own.tasks > 0] / MONTHS_IN_A_YEAR).tolist()
        for t in times:
            yield from _task_rows(rows, task.cost, t)


def _repair_rows(rows: _Rows, cost: EngineCost) -> Iterator[Row]:
    """Expected repairs of each mode and year: the owner's part, the warranty's, the excess and the days lost."""
    case, expected = rows.case, cost.ownership.repairs
    for index, mode in enumerate(case.engine.repair):
        for year, t in enumerate(case.rules.flow_times.tolist()):
            failures = float(expected.failures[index, year])
            if failures <= 0.0:
                continue
            excess = float(expected.excess[index, year])
            paid = float(expected.covered[index, year]) - excess
            owner = float(expected.owner[index, year])
            yield rows.flow(Element.REPAIRS, mode.name, year, (failures, say("repair"), owner / failures))
            yield rows.flow(
                Element.REPAIRS, mode.name, year, (failures, say("repair"), paid / failures), Payer.WARRANTY
            )
            yield rows.flow(
                Element.WARRANTY_COVER,
                say("{mode}: excess", mode=mode.name),
                year,
                (failures, say("repair"), excess / failures),
            )
            day_cost = rows.grown(case.day_cost, case.rules.growth.downtime, t)
            lost = failures * float(case.days_lost[index])
            yield rows.flow(
                Element.DOWNTIME, say("{mode}: days lost", mode=mode.name), year, (lost, say("day"), day_cost)
            )
