"""Hours -> what every cost element comes to: the one place that knows them all.

Hours have shape (..., year): one row for the ledger, many for trials, the same functions for both.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import money
from model.case import Case
from model.elements import capital, cover, oil, service
from model.elements.service import VisitTerms
from model.inputs.terms import Element, Servicing
from model.levels import AS_STATED, Levels
from model.pace import meters_at_end
from model.repairs_and_cover import ExpectedRepairs, expected_repairs
from model.running import RunningRates, running_rates
from model.usage import hours_run, meter_at_year_starts

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Booked:
    """Amounts by year, in money of the day and discounted to the delivery day."""

    nominal: Amounts
    """Shape (..., year), delivery-day amounts in the first year, the sale in the last. [money]"""
    present_value: Amounts
    """Shape (..., year). [money]"""


@dataclass(frozen=True)
class Ownership:
    """One engine owned over rows of hours."""

    elements: Mapping[Element, Booked]
    """The owner's amounts."""
    paid_by_warranty: Booked
    """What the warranty paid, less the excess; shown, never counted."""
    fuel_litres: Amounts
    """Fuel burned, shape (..., year). [L]"""
    oil_litres: Amounts
    """Two-stroke oil burned, shape (..., year). [L]"""
    visits: Amounts
    """Workshop visits, shape (..., year). [-]"""
    repairs: ExpectedRepairs
    """Repairs by mode."""
    hours: Amounts
    """Hours run, shape (..., year). [h]"""


def own(case: Case, hours: ArrayLike, levels: Levels = AS_STATED) -> Ownership:
    """
    What owning an engine costs, element by element.

    Parameters
    ----------
    case : Case
        One engine in one scenario.
    hours : array_like, shape (..., year)
        Hours of a full year, for each begun year. [h/year]
    levels : Levels
        Price and burn levels of the rows.

    Returns
    -------
    Ownership
    """
    hours = np.asarray(hours, dtype=float)
    run = hours_run(hours, case.years)
    burn = np.asarray(levels.fuel_burn)[..., None]
    litres = run * case.litres_an_hour * case.count * burn
    oil_run = oil.oil_hours(meter_at_year_starts(hours, case.years, case.start[0]), case.oil)
    oil_litres = oil_run * case.oil_litres_an_hour * case.count * burn
    rates = running_rates(case)
    parts, labour, days, visits = _servicing(case, hours, levels)
    top_up = run * np.asarray(levels.parts)[..., None]
    fixed = expected_repairs(case, hours, levels)
    failure_days = np.einsum("...my,m->...y", fixed.failures, case.days_lost) * case.day_cost
    bought = fixed_elements(case, run)
    elements = {
        **bought,
        Element.RESALE: _in_last_year(sale(case, hours, levels), run),
        Element.FUEL: _fuel(rates, run, levels),
        Element.TWO_STROKE_OIL: _at_rates(rates.oil, oil_run * burn),
        Element.SERVICE_PARTS: _sum(parts, _at_rates(rates.top_up, top_up)),
        Element.SERVICE_LABOUR: labour,
        Element.REPAIRS: _at_flow_times(case, fixed.owner.sum(axis=-2)),
        Element.WARRANTY_COVER: _sum(bought[Element.WARRANTY_COVER], _at_flow_times(case, fixed.excess.sum(axis=-2))),
        Element.DOWNTIME: _sum(days, flowing(case, failure_days, case.rules.growth.downtime)),
    }
    paid = _at_flow_times(case, (fixed.covered - fixed.excess).sum(axis=-2))
    ordered = {element: elements[element] for element in Element}
    return Ownership(ordered, paid, litres, oil_litres, visits, fixed, run)


def fuel(case: Case, run: Amounts, levels: Levels = AS_STATED) -> Booked:
    """
    What the fuel comes to: the one element that the price of fuel is part of.

    Parameters
    ----------
    case : Case
    run : ndarray, shape (..., year)
        Hours run, from `usage.hours_run`. [h]
    levels : Levels

    Returns
    -------
    Booked
    """
    return _fuel(running_rates(case), run, levels)


def _fuel(rates: RunningRates, run: Amounts, levels: Levels) -> Booked:
    """The same, from the rates of a running hour."""
    return _at_rates(rates.fuel, run * np.asarray(levels.fuel_burn)[..., None] * np.asarray(levels.fuel))


def flowing(case: Case, at_delivery_prices: Amounts, growth: float) -> Booked:
    """Book what flows through each year, from delivery-day prices, shape (..., year)."""
    return _at_flow_times(case, at_delivery_prices * case.rules.at_flow_times(growth))


def _at_flow_times(case: Case, nominal: Amounts) -> Booked:
    """Book nominal amounts at the years' flow times."""
    return Booked(nominal, nominal * case.rules.flow_discount)


def _at_rates(rates: Amounts, hours: Amounts) -> Booked:
    """Book what flows with the hours, from rates of shape (2, year)."""
    return Booked(hours * rates[0], hours * rates[1])


def at_delivery(case: Case, amount: float, like: Amounts) -> Booked:
    """Book an amount on the delivery day, in the first year of every row."""
    nominal = np.zeros_like(like)
    nominal[..., 0] = amount
    return Booked(nominal, nominal)


def _sum(first: Booked, second: Booked) -> Booked:
    """Two bookings together."""
    return Booked(first.nominal + second.nominal, first.present_value + second.present_value)


def fixed_elements(case: Case, like: Amounts) -> dict[Element, Booked]:
    """
    What does not depend on the hours: purchase, fit-up, finance, and the extension of cover.

    Parameters
    ----------
    case : Case
    like : ndarray, shape (..., year)
        Gives the shape.

    Returns
    -------
    dict of Element to Booked
    """
    finance = [np.zeros_like(like), np.zeros_like(like)]
    for t, _, amount in capital.loan_flows(case.lent, case.engine.finance, case.years, not case.goes_on):
        year = min(int(t - 1e-9), like.shape[-1] - 1)
        finance[0][..., year] += amount
        finance[1][..., year] += amount * money.discount_factor(case.rules.discount_rate, t)
    return {
        Element.PURCHASE: at_delivery(case, case.count * capital.net_price(case.engine), like),
        Element.FIT_UP: at_delivery(case, case.count * capital.fit_up(case.engine), like),
        Element.FINANCE: Booked(*finance),
        Element.WARRANTY_COVER: at_delivery(case, cover.extension_price(case.cover_terms) * case.count, like),
    }


def sale(case: Case, hours: Amounts, levels: Levels = AS_STATED) -> Booked:
    """
    What the engines fetch at the sale, a receipt.

    Parameters
    ----------
    case : Case
    hours : ndarray, shape (..., year)
        Hours of a full year. [h/year]
    levels : Levels

    Returns
    -------
    Booked
        Shape (...), without a year.
    """
    rows = np.ascontiguousarray(hours, dtype=float).reshape(-1, hours.shape[-1])
    meter = case.start[0] + meters_at_end(rows, case.years).reshape(hours.shape[:-1])
    value = -resale_value(case, case.years, meter) * np.asarray(levels.resale)
    return Booked(value, value * money.discount_factor(case.rules.discount_rate, case.years))


def _in_last_year(booked: Booked, like: Amounts) -> Booked:
    """Amounts of rows, shape (...), as those of their last year, shape (..., year)."""
    both = np.zeros((2, *like.shape))
    both[0][..., -1], both[1][..., -1] = booked.nominal, booked.present_value
    return Booked(*both)


def resale_value(case: Case, t: ArrayLike, meter: ArrayLike) -> Amounts:
    """
    What all engines on the boat are worth at a time since delivery, nominal.

    Parameters
    ----------
    case : Case
    t : array_like
        Time since delivery. [year]
    meter : array_like
        Meter hours then. [h]

    Returns
    -------
    ndarray
        Value. [money]
    """
    share = capital.resale_share(case.engine.resale, case.start[1] + np.asarray(t, dtype=float), meter)
    neglect = case.scenario.neglect
    factor = neglect.resale_factor if case.scenario.servicing is Servicing.SKIPPED and neglect else 1.0
    return np.asarray(
        case.count * share * factor * case.list_price * money.growth_factor(case.rules.growth.engine_price, t)
    )


def _servicing(case: Case, hours: Amounts, levels: Levels) -> tuple[Booked, Booked, Booked, Amounts]:
    """Service parts, labour, lost days of all engines on the boat, and the number of visits."""
    rows = hours.reshape(-1, hours.shape[-1])
    by_row = levels.by_row(hours.shape[:-1])
    booking = case.rules.booking
    sums, without_visit = service.no_sums(*rows.shape), service.no_sums(*rows.shape)
    if case.walk is not None:
        service.add_visits(rows, by_row, VisitTerms(case.walk, case.visit_prices, case.ending), booking, sums)
    for task in case.dated_tasks:
        prices = case.task_prices(task.cost)
        if task.walk is not None:
            service.add_visits(rows, by_row, VisitTerms(task.walk, prices, case.ending), booking, without_visit)
        service.add_times(np.array(task.times), by_row, prices, booking, without_visit)
    both = [(one + other).reshape(hours.shape) for one, other in zip(sums[:6], without_visit[:6], strict=True)]
    return (
        Booked(both[0], both[1]),
        Booked(both[2], both[3]),
        Booked(both[4], both[5]),
        sums.visits.reshape(hours.shape),
    )
