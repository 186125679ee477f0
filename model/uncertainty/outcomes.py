"""One engine over one chunk of trials: the ownership's own functions, path by path, added up as they go.

Nothing is kept by path and element as `ownership.own` keeps it; what the summary needs is kept by trial: present value
in all, money of the day by year, and a few counts.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking
from model.compiling import compiled
from model.elements.oil import weighted_hours
from model.elements.service import ServiceSums, VisitRates, VisitTerms, book_visits
from model.inputs.terms import Element
from model.running import RunningRates
from model.walk import empty_visits, most_visits, walk

Amounts = NDArray[np.float64]

PLACES = {element: place for place, element in enumerate(Element)}
"""Where each element stands in the sums by element."""

FUEL, OIL = PLACES[Element.FUEL], PLACES[Element.TWO_STROKE_OIL]
PARTS, LABOUR = PLACES[Element.SERVICE_PARTS], PLACES[Element.SERVICE_LABOUR]
REPAIRS, COVER, DOWNTIME = PLACES[Element.REPAIRS], PLACES[Element.WARRANTY_COVER], PLACES[Element.DOWNTIME]

VISITS, FAILURES, OWNER_PAID = 0, 1, 2
"""Where each kind of event stands in the counts."""


class Lives(NamedTuple):
    """What the trials of a chunk live through with one engine; the trials of a year side by side in memory."""

    hours: Amounts
    """Hours of a full year, shape (year, trial). [h/year]"""
    fuel: Amounts
    """Level of the fuel price, shape (year, trial). [-]"""
    prices: Amounts
    """Levels of parts and labour prices, shape (2, trial). [-]"""
    burn: Amounts
    """Level of the fuel burn, shape (trial,). [-]"""


class Outcome(NamedTuple):
    """What owning one engine came to in each trial of a chunk."""

    by_year: Amounts
    """Money of the day without the value at sale, shape (year, trial). [money]"""
    present: Amounts
    """Total cost of ownership in present value, shape (trial,). [money]"""
    counts: Amounts
    """Visits, failures, failures not paid in full by the warranty, shape (3, trial). [-]"""
    counts_by_year: Amounts
    """The same, summed over the trials, shape (3, year). [-]"""
    elements: Amounts
    """Present value by cost element, summed over the trials, shape (element,). [money]"""
    nominal: Amounts
    """Money of the day by cost element and year, without the value at sale, summed over the trials, shape (element,
    year); no rows where nobody asks for it. [money]"""


def no_outcome(years: int, trials: int, asks_nominal: bool = False) -> Outcome:
    """An outcome that nothing has been added to."""
    return Outcome(
        np.zeros((years, trials)),
        np.zeros(trials),
        np.zeros((3, trials)),
        np.zeros((3, years)),
        np.zeros(len(PLACES)),
        np.zeros((len(PLACES) if asks_nominal else 0, years)),
    )


class RunningTerms(NamedTuple):
    """What flows through the years, and what is the same in every trial."""

    rates: RunningRates
    """Cost of a running hour."""
    shares: Amounts
    """Share of each year within the ownership period, shape (year,). [-]"""
    start_meter: float
    """Meter hours at delivery. [h]"""
    break_in: tuple[float, float]
    """Hours of the break-in and the factor on its oil. [h, -]"""
    dated: Amounts
    """Parts and labour of tasks at the same times in every trial, money of the day and present value, at level 1,
    shape (2, 2, year). [money]"""


@compiled
def add_running(lives: Lives, terms: RunningTerms, outcome: Outcome) -> None:
    """
    Add fuel, two-stroke oil, top-ups and the tasks that have the same times in every trial.

    Parameters
    ----------
    lives : Lives
    terms : RunningTerms
    outcome : Outcome
        Added to.
    """
    rates, dated, (limit, factor) = terms.rates, terms.dated, terms.break_in
    by_year, present = outcome.by_year, outcome.present
    for path in range(present.shape[0]):
        meter, burn = terms.start_meter, lives.burn[path]
        parts_level, labour_level = lives.prices[0, path], lives.prices[1, path]
        fuel, oil, parts, labour = 0.0, 0.0, 0.0, 0.0
        for year in range(by_year.shape[0]):
            run = lives.hours[year, path] * terms.shares[year]
            burned = run * burn * lives.fuel[year, path]
            oiled = weighted_hours(meter, meter + run, limit, factor) * burn
            topped = run * parts_level
            meter += run
            fuel += burned * rates.fuel[1, year]
            oil += oiled * rates.oil[1, year]
            parts += topped * rates.top_up[1, year] + parts_level * dated[0, 1, year]
            labour += labour_level * dated[1, 1, year]
            by_year[year, path] += (
                burned * rates.fuel[0, year]
                + oiled * rates.oil[0, year]
                + topped * rates.top_up[0, year]
                + parts_level * dated[0, 0, year]
                + labour_level * dated[1, 0, year]
            )
            if outcome.nominal.shape[0] > 0:
                outcome.nominal[FUEL, year] += burned * rates.fuel[0, year]
                outcome.nominal[OIL, year] += oiled * rates.oil[0, year]
                outcome.nominal[PARTS, year] += topped * rates.top_up[0, year] + parts_level * dated[0, 0, year]
                outcome.nominal[LABOUR, year] += labour_level * dated[1, 0, year]
        present[path] += fuel + oil + parts + labour
        outcome.elements[FUEL] += fuel
        outcome.elements[OIL] += oil
        outcome.elements[PARTS] += parts
        outcome.elements[LABOUR] += labour


@compiled
def add_service(lives: Lives, terms: VisitTerms, booking: Booking, counts: bool, outcome: Outcome) -> None:
    """
    Add the visits of a plan, or the times of a task that the owner does.

    Parameters
    ----------
    lives : Lives
    terms : VisitTerms
    booking : Booking
    counts : bool
        Whether they are visits to the workshop.
    outcome : Outcome
        Added to.
    """
    years, plan = outcome.by_year.shape[0], terms.plan
    row, room = np.empty(years), np.zeros((7, 1, years))
    sums = ServiceSums(room[0], room[1], room[2], room[3], room[4], room[5], room[6])
    most = 0
    visits = empty_visits(most)
    for path in range(outcome.present.shape[0]):
        for year in range(years):
            row[year] = lives.hours[year, path]
        needed = most_visits(row, booking.years, plan.base_hours, plan.base_months)
        if needed > most:
            most = 2 * needed
            visits = empty_visits(most)
        count = walk(row, booking.years, terms.at_handover, plan, visits)
        levels = (lives.prices[0, path], lives.prices[1, path])
        book_visits((0, count), visits, VisitRates(terms.prices, levels, booking), sums)
        _take_over(path, sums, counts, outcome)


@compiled
def _take_over(path: int, sums: ServiceSums, counts: bool, outcome: Outcome) -> None:
    """Add one path's service sums, and leave them empty."""
    parts, labour, days = 0.0, 0.0, 0.0
    for year in range(outcome.by_year.shape[0]):
        outcome.by_year[year, path] += sums.parts[0, year] + sums.labour[0, year] + sums.days[0, year]
        if outcome.nominal.shape[0] > 0:
            outcome.nominal[PARTS, year] += sums.parts[0, year]
            outcome.nominal[LABOUR, year] += sums.labour[0, year]
            outcome.nominal[DOWNTIME, year] += sums.days[0, year]
        parts += sums.parts_present[0, year]
        labour += sums.labour_present[0, year]
        days += sums.days_present[0, year]
        if counts:
            outcome.counts[VISITS, path] += sums.visits[0, year]
            outcome.counts_by_year[VISITS, year] += sums.visits[0, year]
        for column in sums:
            column[0, year] = 0.0
    outcome.present[path] += parts + labour + days
    outcome.elements[PARTS] += parts
    outcome.elements[LABOUR] += labour
    outcome.elements[DOWNTIME] += days
