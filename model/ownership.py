"""Hours -> what every cost element comes to: the one place that knows them all.

Hours have shape (..., year): one row for the ledger, many for trials, the same functions for both.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import money
from model.case import Case
from model.compiling import compiled
from model.elements import capital, cover, oil, repairs, service
from model.elements.cover import CoverTable
from model.elements.repairs import ModeTable
from model.elements.service import VisitTerms
from model.inputs.terms import Element, Servicing
from model.usage import hours_run, meter_at_year_starts

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Levels:
    """What prices and burn are multiplied by on top of their stated growth; 1 is as stated. Each broadcasts."""

    fuel: ArrayLike = 1.0
    """Fuel price, shape (..., year). [-]"""
    parts: ArrayLike = 1.0
    """Prices of parts, shape (...). [-]"""
    labour: ArrayLike = 1.0
    """Price of labour, shape (...). [-]"""
    fuel_burn: ArrayLike = 1.0
    """Fuel burn of this engine, shape (...). [-]"""
    resale: ArrayLike = 1.0
    """Value of this engine at sale, shape (...). [-]"""


AS_STATED = Levels()
"""Prices and burn as the scenario states them."""


@dataclass(frozen=True)
class Booked:
    """Amounts by year, in money of the day and discounted to the delivery day."""

    nominal: Amounts
    """Shape (..., year), delivery-day amounts in the first year, the sale in the last. [money]"""
    present_value: Amounts
    """Shape (..., year). [money]"""


@dataclass(frozen=True)
class ExpectedRepairs:
    """Repairs of all engines on the boat, expected, nominal."""

    failures: Amounts
    """Shape (..., mode, year). [-]"""
    parts: Amounts
    """Shape (..., mode, year). [money]"""
    labour: Amounts
    """Shape (..., mode, year). [money]"""
    not_covered: Amounts
    """Shape (..., mode, year). [money]"""
    covered: Amounts
    """What the warranty covers, before the excess, shape (..., mode, year). [money]"""
    excess: Amounts
    """The owner's excess on it, shape (..., mode, year). [money]"""

    @property
    def owner(self) -> Amounts:
        """Repairs the owner pays, without the excess, shape (..., mode, year). [money]"""
        return self.parts + self.labour + self.not_covered - self.covered


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
    oil_litres = oil_burned(case, hours) * burn
    growth, prices = case.rules.growth, case.scenario.prices
    parts, labour, days, visits = _servicing(case, hours, levels)
    top_up = np.zeros_like(run)
    if case.plan is not None:
        top_up = service.top_up_cost(run, case.plan) * case.count * np.asarray(levels.parts)[..., None]
    fixed = expected_repairs(case, hours, levels)
    failure_days = np.einsum("...my,m->...y", fixed.failures, case.days_lost) * case.day_cost
    elements = {
        **_capital(case, hours, levels),
        Element.FUEL: flowing(case, litres * prices.fuel * np.asarray(levels.fuel), growth.fuel),
        Element.TWO_STROKE_OIL: flowing(case, oil_litres * (prices.two_stroke_oil or 0.0), growth.two_stroke_oil),
        Element.SERVICE_PARTS: _sum(parts, flowing(case, top_up, growth.parts)),
        Element.SERVICE_LABOUR: labour,
        Element.REPAIRS: _at_flow_times(case, fixed.owner.sum(axis=-2)),
        Element.WARRANTY_COVER: _sum(
            at_delivery(case, cover.extension_price(case.cover_terms) * case.count, run), _at_flow_times(case, fixed.excess.sum(axis=-2))
        ),
        Element.DOWNTIME: _sum(days, flowing(case, failure_days, growth.downtime)),
    }  # fmt: skip
    paid = _at_flow_times(case, (fixed.covered - fixed.excess).sum(axis=-2))
    ordered = {element: elements[element] for element in Element}
    return Ownership(ordered, paid, litres, oil_litres, visits, fixed, run)


def oil_burned(case: Case, hours: Amounts) -> Amounts:
    """Two-stroke oil of all engines on the boat, shape (..., year). [L]"""
    meter = meter_at_year_starts(hours, case.years, case.start[0])
    return oil.oil_hours(meter, case.oil) * case.oil_litres_an_hour * case.count


def flowing(case: Case, at_delivery_prices: Amounts, growth: float) -> Booked:
    """Book what flows through each year, from delivery-day prices, shape (..., year)."""
    return _at_flow_times(case, at_delivery_prices * case.rules.at_flow_times(growth))


def _at_flow_times(case: Case, nominal: Amounts) -> Booked:
    """Book nominal amounts at the years' flow times."""
    return Booked(nominal, nominal * case.rules.flow_discount)


def at_delivery(case: Case, amount: float, like: Amounts) -> Booked:
    """Book an amount on the delivery day, in the first year of every row."""
    nominal = np.zeros_like(like)
    nominal[..., 0] = amount
    return Booked(nominal, nominal)


def _sum(first: Booked, second: Booked) -> Booked:
    """Two bookings together."""
    return Booked(first.nominal + second.nominal, first.present_value + second.present_value)


def _capital(case: Case, hours: Amounts, levels: Levels) -> dict[Element, Booked]:
    """Purchase, fit-up, finance and resale."""
    run = hours_run(hours, case.years)
    finance = [np.zeros_like(run), np.zeros_like(run)]
    for t, _, amount in capital.loan_flows(case.lent, case.engine.finance, case.years):
        year = min(int(t - 1e-9), run.shape[-1] - 1)
        finance[0][..., year] += amount
        finance[1][..., year] += amount * money.discount_factor(case.rules.discount_rate, t)
    value = np.zeros_like(run)
    value[..., -1] = -resale_value(case, hours) * np.asarray(levels.resale)
    return {
        Element.PURCHASE: at_delivery(case, case.count * capital.net_price(case.engine), run),
        Element.FIT_UP: at_delivery(case, case.count * capital.fit_up(case.engine), run),
        Element.FINANCE: Booked(*finance),
        Element.RESALE: Booked(value, value * money.discount_factor(case.rules.discount_rate, case.years)),
    }


def resale_value(case: Case, hours: Amounts) -> Amounts:
    """What all engines on the boat are worth at the sale, nominal, shape (...). [money]"""
    meter = meter_at_year_starts(hours, case.years, case.start[0])[..., -1]
    share = capital.resale_share(case.engine.resale, case.start[1] + case.years, meter)
    neglect = case.scenario.neglect
    factor = neglect.resale_factor if case.scenario.servicing is Servicing.SKIPPED and neglect else 1.0
    new_then = case.list_price * money.growth_factor(case.rules.growth.engine_price, case.years)
    return np.asarray(case.count * share * factor * new_then)


def expected_repairs(case: Case, hours: ArrayLike, levels: Levels = AS_STATED) -> ExpectedRepairs:
    """
    Repairs expected by mode and year, and what the warranty covers of them.

    Parameters
    ----------
    case : Case
    hours : array_like, shape (..., year)
        Hours of a full year. [h/year]
    levels : Levels

    Returns
    -------
    ExpectedRepairs
    """
    hours = np.asarray(hours, dtype=float)
    rows, growth = hours.reshape(-1, hours.shape[-1]), case.rules.growth
    parts, labour, charges = (price[:, None] for price in case.repair_prices())
    parts = parts * case.rules.at_flow_times(growth.parts)
    labour, charges = (price * case.rules.at_flow_times(growth.labour) for price in (labour, charges))
    by_row = _levels_by_row(levels, hours.shape[:-1])
    filled = np.zeros((3, rows.shape[0], *parts.shape))
    _fill_repairs(rows, by_row, RepairTerms(case.years, *case.start, case.modes, case.cover, parts, labour), filled)
    failures, covered, excess = case.count * filled.reshape(3, *hours.shape[:-1], *parts.shape)
    parts_level, labour_level = by_row.reshape(2, *hours.shape[:-1], 1, 1)
    return ExpectedRepairs(
        failures,
        failures * parts * parts_level,
        failures * labour * labour_level,
        failures * charges * labour_level,
        covered,
        excess,
    )


class RepairTerms(NamedTuple):
    """What the expected repairs of one engine are worked out from."""

    years: float
    """Ownership period. [year]"""
    start_meter: float
    """Meter hours at delivery. [h]"""
    start_age: float
    """Age at delivery. [year]"""
    modes: ModeTable
    """Failure modes."""
    cover: CoverTable
    """The warranty."""
    parts: Amounts
    """Parts of one repair by mode and year, nominal, shape (mode, year). [money]"""
    labour: Amounts
    """Labour of one repair by mode and year, nominal, shape (mode, year). [money]"""


@compiled
def _fill_repairs(rows: Amounts, levels: Amounts, terms: RepairTerms, filled: Amounts) -> None:
    """Fill in failures, covered amount and excess, shape (3, path, mode, year), of one engine."""
    for path in range(rows.shape[0]):
        ends = cover.cover_ends(rows[path], terms.start_meter, terms.start_age, terms.cover)
        meter = terms.start_meter
        for year in range(rows.shape[1]):
            end, rate = min(terms.years, year + 1.0), rows[path, year]
            for mode in range(terms.modes.scale.shape[0]):
                speed = rate if terms.modes.by_hours[mode] else 1.0
                age = meter if terms.modes.by_hours[mode] else terms.start_age + year
                price = (terms.parts[mode, year] * levels[0, path], terms.labour[mode, year] * levels[1, path])
                failures = repairs.failures_between(mode, terms.modes, (age, speed), float(year), end)[0]
                filled[0, path, mode, year] = failures
                for span in range(terms.cover.begin.shape[0]):
                    begin, until = cover.span_edges(span, terms.cover, terms.start_age, ends)
                    begin, until = max(begin, float(year)), min(until, end)
                    if until <= begin:
                        continue
                    turn = cover.excess_eats_all_at(span, terms.cover, terms.start_age, price[0] + price[1])
                    turn = min(max(turn, begin), until)
                    for low, high in ((begin, turn), (turn, until)):
                        here = (age + speed * (low - year), speed)
                        expected = repairs.failures_between(mode, terms.modes, here, low, high)
                        covered, excess = cover.covered_amount(span, terms.cover, terms.start_age, price, expected)
                        filled[1, path, mode, year] += covered
                        filled[2, path, mode, year] += excess
            meter += rate * (end - year)


def _servicing(case: Case, hours: Amounts, levels: Levels) -> tuple[Booked, Booked, Booked, Amounts]:
    """Service parts, labour, lost days of all engines on the boat, and the number of visits."""
    rows = hours.reshape(-1, hours.shape[-1])
    by_row = _levels_by_row(levels, hours.shape[:-1])
    booking, handover = case.rules.booking, case.scenario.ownership.service_at_handover
    sums, without_visit = service.no_sums(*rows.shape), service.no_sums(*rows.shape)
    if case.walk is not None:
        service.add_visits(rows, by_row, VisitTerms(case.walk, case.visit_prices, handover), booking, sums)
    for task in case.dated_tasks:
        prices = case.task_prices(task.cost)
        if task.walk is not None:
            service.add_visits(rows, by_row, VisitTerms(task.walk, prices, handover), booking, without_visit)
        for t in task.times:
            for path in range(rows.shape[0]):
                price = (prices.task_parts[0] * by_row[0, path], prices.task_labour[0] * by_row[1, path], 0.0)
                service.add_event(path, t, price, booking, without_visit)
    both = [(one + other).reshape(hours.shape) for one, other in zip(sums[:6], without_visit[:6], strict=True)]
    return Booked(both[0], both[1]), Booked(both[2], both[3]), Booked(both[4], both[5]), sums.visits.reshape(hours.shape)


def _levels_by_row(levels: Levels, shape: tuple[int, ...]) -> Amounts:
    """Levels of parts and labour prices for each row of hours, shape (2, path). [-]"""
    both = [np.broadcast_to(np.asarray(level, dtype=float), shape).reshape(-1) for level in (levels.parts, levels.labour)]
    return np.array(both)
