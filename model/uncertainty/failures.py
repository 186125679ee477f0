"""Failures drawn: when each happens in a trial, and what it costs whom.

Minimal repair: a power law's failures are unit-rate arrivals at (age / scale)^shape, whatever happened before. As new:
after each repair a new Weibull life of the same scale and shape begins; the first life of a used part is one that has
come as far as the engine's age. Source: any text on repairable systems, for example Rigdon and Basu, Statistical
Methods for the Reliability of Repairable Systems (2000), sections 2 and 4.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking, booked_at, factor_at, year_of
from model.case import Case, prepare
from model.compiling import compiled
from model.elements import cover
from model.elements.cover import CoverTable
from model.elements.repairs import ModeTable
from model.inputs.problems import Problem
from model.inputs.scenario import Scenario
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.repairs_and_cover import expected_repairs
from model.uncertainty.outcomes import COVER, DOWNTIME, FAILURES, OWNER_PAID, REPAIRS, Lives, Outcome
from model.uncertainty.streams import MOST_ARRIVALS, Source, Streams, unit_exponential
from model.usage import NEVER, meter_at_end, when_due

Amounts = NDArray[np.float64]

MOST_FAILURES = 1_000
"""Failures of one mode expected on the stated hours, above which they are not drawn one by one. [-]"""


class FailureTerms(NamedTuple):
    """What drawn failures of one engine are worked out from."""

    years: float
    """Ownership period. [year]"""
    start: tuple[float, float]
    """Meter hours and age at delivery. [h, year]"""
    modes: ModeTable
    """Failure modes."""
    cover: CoverTable
    """The warranty."""
    prices: Amounts
    """Parts, labour, charges never covered and lost days of one repair, at delivery-day prices, shape (4, mode).
    [money]"""


def failure_terms(case: Case) -> FailureTerms:
    """
    What drawn failures of one engine are worked out from.

    Parameters
    ----------
    case : Case

    Returns
    -------
    FailureTerms
    """
    prices = np.array([*case.repair_prices(), case.days_lost * case.day_cost]).reshape(4, -1)
    return FailureTerms(case.years, case.start, case.modes, case.cover, prices)


class Arrivals(NamedTuple):
    """The failure streams of one engine."""

    keys: NDArray[np.uint64]
    """Of each mode and engine on the boat, shape (mode, engine on the boat)."""
    first: int
    """Number of the first trial, over all chunks."""


def arrivals(case: Case, streams: Streams, first: int = 0) -> Arrivals:
    """
    The failure streams of one engine: each engine on the boat and each mode has its own.

    Parameters
    ----------
    case : Case
    streams : Streams
    first : int
        Number of the first trial, over all chunks.

    Returns
    -------
    Arrivals
    """
    source = (Source.FAILURES, case.engine.name)
    names = [
        [f"{mode.name}\0{unit}" if unit else mode.name for unit in range(case.count)] for mode in case.engine.repair
    ]
    keys = [[streams.key(source, name) for name in of_mode] for of_mode in names]
    return Arrivals(np.array(keys, dtype=np.uint64).reshape(len(names), case.count), first)


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


@compiled
def next_failure(mode: int, modes: ModeTable, age: float, gathered: float) -> float:
    """
    Age at which a part fails next.

    Parameters
    ----------
    mode : int
    modes : ModeTable
    age : float
        Age at which it was as good as new: 0, or that of its last renewal. [h or year]
    gathered : float
        What its hazard has added up to by then, since `age`: unit-rate arrivals. [-]

    Returns
    -------
    float
        age + scale x gathered^(1 / shape). [h or year]
    """
    shape, scale = modes.shape[mode], modes.scale[mode]
    return float(age + scale * (gathered if shape == 1.0 else gathered ** (1.0 / shape)))


@compiled
def failure_ages(mode: int, modes: ModeTable, end: float, stream: tuple[np.uint64, int], ages: Amounts) -> int:
    """
    Draw the failures of a mode between delivery and the sale.

    Parameters
    ----------
    mode : int
    modes : ModeTable
    end : float
        Age of the mode at the sale. [h or year]
    stream : (uint64, int)
        Key of the stream and number of the trial.
    ages : ndarray
        Filled in as far as there is room. [h or year]

    Returns
    -------
    int
        Failures.
    """
    (key, trial), count, new_at = stream, 0, 0.0
    gathered = (modes.start[mode] / modes.scale[mode]) ** modes.shape[mode]
    most = (end / modes.scale[mode]) ** modes.shape[mode]
    while count < MOST_ARRIVALS:
        gathered += unit_exponential(key, trial, count)
        if not modes.as_new[mode] and gathered > most:
            break
        age = next_failure(mode, modes, new_at, gathered)
        if age > end:
            break
        if count < ages.shape[0]:
            ages[count] = age
        count += 1
        if modes.as_new[mode]:
            new_at, gathered = age, 0.0
    return count


class OneFailure(NamedTuple):
    """One drawn failure."""

    path: int
    """The trial."""
    mode: int
    """Failure mode."""
    t: float
    """When, since delivery. [year]"""
    ends: tuple[float, float]
    """When base cover and extension end on this path. [year]"""


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
        Added to.
    """
    modes, (start_meter, start_age), (keys, first) = terms.modes, terms.start, drawn
    row, ages = np.empty(outcome.by_year.shape[0]), np.empty(64)
    for path in range(outcome.present.shape[0]):
        for year in range(row.shape[0]):
            row[year] = lives.hours[year, path]
        ends = cover.cover_ends(row, start_meter, start_age, terms.cover)
        end_meter = start_meter + meter_at_end(row, terms.years)
        for mode in range(keys.shape[0]):
            end = end_meter if modes.by_hours[mode] else start_age + terms.years
            for unit in range(keys.shape[1]):
                count = failure_ages(mode, modes, end, (keys[mode, unit], first + path), ages)
                if count > ages.shape[0]:
                    ages = np.empty(2 * count)
                    failure_ages(mode, modes, end, (keys[mode, unit], first + path), ages)
                for failure in range(count):
                    since = ages[failure] - modes.start[mode]
                    t = since
                    if modes.by_hours[mode]:
                        t = when_due(since, NEVER, row)[0] / MONTHS_IN_A_YEAR
                    add_failure(OneFailure(path, mode, min(t, terms.years), ends), terms, booking, lives, outcome)


@compiled
def add_failure(failure: OneFailure, terms: FailureTerms, booking: Booking, lives: Lives, outcome: Outcome) -> None:
    """
    Book one failure: what the owner pays, the excess, the lost days.

    Parameters
    ----------
    failure : OneFailure
    terms : FailureTerms
    booking : Booking
    lives : Lives
    outcome : Outcome
        Added to.
    """
    path, mode, t, ends = failure
    booked = booked_at(t, booking.year_end, booking.years)
    labour_growth = factor_at(booked, booking.labour) * lives.prices[1, path]
    parts = terms.prices[0, mode] * factor_at(booked, booking.parts) * lives.prices[0, path]
    labour, charges = terms.prices[1, mode] * labour_growth, terms.prices[2, mode] * labour_growth
    days = terms.prices[3, mode] * factor_at(booked, booking.downtime)
    covered, excess, in_full = 0.0, 0.0, False
    span = cover.span_at(t, terms.cover, terms.start[1], ends)
    if span >= 0:
        covered, excess = cover.covered_amount(span, terms.cover, terms.start[1], (parts, labour), (1.0, t))
        in_full = charges == 0.0 and cover.is_paid_in_full(parts + labour, 1.0, covered, excess)
    owner, year = parts + labour + charges - covered, year_of(t, outcome.by_year.shape[0])
    discount = factor_at(booked, booking.discount)
    outcome.by_year[year, path] += owner + excess + days
    outcome.present[path] += (owner + excess + days) * discount
    outcome.elements[REPAIRS] += owner * discount
    outcome.elements[COVER] += excess * discount
    outcome.elements[DOWNTIME] += days * discount
    if outcome.nominal.shape[0] > 0:
        outcome.nominal[REPAIRS, year] += owner
        outcome.nominal[COVER, year] += excess
        outcome.nominal[DOWNTIME, year] += days
    outcome.counts[FAILURES, path] += 1.0
    outcome.counts_by_year[FAILURES, year] += 1.0
    if not in_full:
        outcome.counts[OWNER_PAID, path] += 1.0
        outcome.counts_by_year[OWNER_PAID, year] += 1.0
