"""One ownership as dated rows: when, which element, which part or task, how much of it, at what price, and who pays.

The items of `model/entries.py` written out, a row for each time at which one is booked.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np

from model import money
from model.case import Case
from model.entries import Entry, entries
from model.inputs.terms import Element, Payer
from model.language import Spoken, spoken
from model.measures import EngineCost
from model.usage import date_at, meter_at


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
        The owner's rows sum to the element totals; the warranty's say what the cover was worth. At one time stands
        first what is paid at no visit.
    """
    return _ledger(cost, spoken())


@lru_cache(maxsize=16)
def _ledger(cost: EngineCost, _: Spoken) -> tuple[Row, ...]:
    """The same, kept by cost and by the language of its words."""
    found = entries(cost)
    days = _days(cost.case, {t for entry in found for t in entry.when.t.tolist()})
    rows = [row for entry in found for row in _rows(cost.case, entry, days)]
    return tuple(sorted(rows, key=_order))


def _order(row: Row) -> tuple[float, int]:
    """By time; what is paid at visits booked at one time, visit by visit."""
    return row.t_years, -1 if row.visit is None else row.visit


def _days(case: Case, times: set[float]) -> dict[float, date]:
    """The days on which times fall: many rows share few of them. [year -> -]"""
    return {t: date_at(t, case.scenario.ownership.delivery) for t in times}


def _rows(case: Case, entry: Entry, days: dict[float, date]) -> Iterator[Row]:
    """An item written out, without the times at which there is none of it or it is free."""
    when = entry.when
    meters = meter_at(when.t, np.array(case.scenario.hours()), case.years, case.start[0])
    present = entry.nominal * money.discount_factor(case.rules.discount_rate, when.t)
    visits = [None] * when.t.size if when.visits is None else when.visits.tolist()
    columns = (when.t, meters, entry.quantity, entry.unit_price, entry.nominal, present, when.years)
    for t, meter, quantity, price, nominal, worth, year, visit in zip(
        *(column.tolist() for column in columns), visits, strict=True
    ):
        if quantity and price:
            paid = (quantity, entry.unit, price, nominal, worth, entry.payer)
            through = year if when.flows else None
            yield Row(t, days[t], meter, entry.element, entry.item, *paid, year, through, visit)
