"""Failures drawn: what each costs whom."""

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, factors_at, no_factors, year_of
from model.case import prepare
from model.compiling import compiled
from model.elements import cover
from model.elements.cover import CoverTable
from model.inputs.problems import Problem
from model.inputs.scenario import Scenario
from model.repairs_and_cover import expected_repairs
from model.uncertainty.drawing import Arrivals, Failures, FailureTerms, draw
from model.uncertainty.outcomes import COVER, DOWNTIME, FAILURES, FUEL, OWNER_PAID, REPAIRS, Lives, Outcome

Amounts = NDArray[np.float64]

MOST_FAILURES = 1_000
"""Failures of one mode expected on the stated hours, above which they are not drawn one by one. [-]"""


def problems_of_drawing(scenario: Scenario, file: str) -> list[Problem]:
    """
    Failure modes that fail too often to be drawn one by one.

    Parameters
    ----------
    scenario : Scenario
    file : str
        What problems call it.

    Returns
    -------
    list of Problem
    """
    if scenario.trials.repairs != "drawn":
        return []
    found = []
    for engine in scenario.engines:
        failures = expected_repairs(prepare(scenario, engine), np.array(scenario.hours())).failures.sum(axis=-1)
        for mode, number in zip(engine.repair, failures.tolist(), strict=True):
            if number > MOST_FAILURES:
                key = f'engines["{engine.name}"].repair["{mode.name}"].scale'
                allowed = f'a scale of at most {MOST_FAILURES:,d} failures, or trials.repairs = "expected"'
                found.append(Problem(file, key, f"{mode.scale:g}, {number:,.0f} failures expected", allowed))
    return found


PATHS, BLOCK = 1024, 1024
"""Paths whose failures are drawn together, and failures whose factors are: few enough to stay near the processor."""


@compiled
def owner_s_part(
    t: float, price: tuple[float, float, float], table: CoverTable, start_age: float, ends: tuple[float, float]
) -> tuple[float, float, bool]:
    """
    What a failure costs the owner.

    Parameters
    ----------
    t : float
        When, since delivery. [year]
    price : (float, float, float)
        Parts, labour and charges never covered, nominal. [money]
    table : CoverTable
    start_age : float
        Age of the engine at delivery. [year]
    ends : (float, float)
        When base cover and extension end. [year]

    Returns
    -------
    (float, float, bool)
        The repair less what is covered; the excess; whether the warranty pays everything. [money, money, -]
    """
    parts, labour, charges = price
    whole = parts + labour + charges
    span = cover.span_at(t, table, start_age, ends)
    if span < 0:
        return whole, 0.0, False
    covered, excess = cover.covered_amount(span, table, start_age, (parts, labour), (1.0, t))
    in_full = charges == 0.0 and cover.is_paid_in_full(parts + labour, 1.0, covered, excess)
    return whole - covered, excess, in_full


@compiled
def add_failures(lives: Lives, terms: FailureTerms, booking: Booking, drawn: Arrivals, outcome: Outcome) -> None:
    """
    Draw, date and book the failures of every trial.

    Parameters
    ----------
    lives : Lives
    terms : FailureTerms
    booking : Booking
    drawn : Arrivals
    outcome : Outcome
        Of this engine; added to.
    """
    ends = _cover_ends(lives.hours, terms)
    for first in range(0, lives.hours.shape[0], PATHS):
        of_block = Arrivals(drawn.keys, drawn.first + first)
        found, number = draw(lives.hours[first : first + PATHS], terms, of_block)
        _book((found, number, first), ends, terms, (booking, lives.prices), outcome)


@compiled
def _cover_ends(hours: Amounts, terms: FailureTerms) -> Amounts:
    """When base cover and extension end on each path, shape (2, path). [year]"""
    warranty, (start_meter, start_age), ends = terms.cover, terms.start, np.empty((2, hours.shape[0]))
    ends[0], ends[1] = cover.cover_ends(hours, 0, start_meter, start_age, warranty)
    if cover.ends_by_hours(start_meter, warranty):
        for path in range(hours.shape[0]):
            ends[0, path], ends[1, path] = cover.cover_ends(hours, path, start_meter, start_age, warranty)
    return ends


@compiled
def _book(
    drawn: tuple[Failures, int, int],
    ends: Amounts,
    terms: FailureTerms,
    money: tuple[Booking, Amounts],
    outcome: Outcome,
) -> None:
    """Book so many failures on paths from the first on: what the owner pays, the excess, the lost days."""
    (booking, levels), ((paths, modes, times), found, first), prices = money, drawn, terms.prices
    by_year, present, counts, by_years = outcome.by_year, outcome.present, outcome.counts, outcome.counts_by_year
    cash, in_cash, years = outcome.cash, outcome.cash.size > 0, outcome.counts_by_year.shape[1]
    room = no_factors(BLOCK, not in_cash)
    repaired, excesses, lost = 0.0, 0.0, 0.0
    for failure in range(found):
        place = failure % BLOCK
        if place == 0:
            factors = factors_at(times[failure : min(failure + BLOCK, found)], booking, room)
        path, mode, t = np.uint64(first + paths[failure]), np.uint64(modes[failure]), times[failure]
        of_parts, of_labour = levels[0, path] * factors.parts[place], levels[1, path] * factors.labour[place]
        year = np.uint64(year_of(t, years))
        price = (prices[0, mode] * of_parts, prices[1, mode] * of_labour, prices[2, mode] * of_labour)
        owner, excess, in_full = price[0] + price[1] + price[2], 0.0, False
        if t <= max(ends[0, path], ends[1, path]):
            owner, excess, in_full = owner_s_part(t, price, terms.cover, terms.start[1], (ends[0, path], ends[1, path]))
        days = prices[3, mode] * factors.days[place]
        if in_cash:
            cash[path, year, REPAIRS - FUEL] += owner
            cash[path, year, COVER - FUEL] += excess
            cash[path, year, DOWNTIME - FUEL] += days
            continue
        discount = factors.discount[place]
        by_year[path, year] += owner + excess + days
        present[path] += (owner + excess + days) * discount
        repaired += owner * discount
        excesses += excess * discount
        lost += days * discount
        counts[FAILURES, path] += 1.0
        by_years[FAILURES, year] += 1.0
        paid = 0.0 if in_full else 1.0
        counts[OWNER_PAID, path] += paid
        by_years[OWNER_PAID, year] += paid
    outcome.elements[REPAIRS] += repaired
    outcome.elements[COVER] += excesses
    outcome.elements[DOWNTIME] += lost
