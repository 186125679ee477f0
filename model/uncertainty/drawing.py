"""Failures drawn: when each happens in a trial.

Minimal repair: a power law's failures are unit-rate arrivals at (age / scale)^shape, whatever happened before. As new:
after each repair a new Weibull life of the same scale and shape begins; the first life of a used part is one that has
come as far as the engine's age. Source: any text on repairable systems, for example Rigdon and Basu, Statistical
Methods for the Reliability of Repairable Systems (2000), sections 2 and 4.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.case import Case
from model.compiling import compiled
from model.elements import cover
from model.elements.cover import CoverTable
from model.elements.repairs import ModeTable
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.uncertainty.streams import MOST_ARRIVALS, Source, Streams, unit_exponential
from model.usage import NEVER, meter_at_end, when_due

Amounts = NDArray[np.float64]


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


class Life(NamedTuple):
    """One failure mode as its draws need it."""

    scale: float
    """Age at which one failure is expected. [h or year]"""
    shape: float
    """Shape of the power law or life. [-]"""
    as_new: bool
    """Whether a repair renews the part."""
    start: float
    """Age at delivery. [h or year]"""


@compiled
def failure_ages(stream: tuple[np.uint64, int], life: Life, end: float, most: float, ages: Amounts) -> int:
    """
    Draw the failures of a mode between delivery and the sale.

    A unit-rate arrival at g is a failure at scale x g^(1 / shape): of the age itself where repairs are minimal, of the
    age since the last renewal where the part is new; before the first one both begin at the engine's age.

    Parameters
    ----------
    stream : (uint64, int)
        Key of the stream and number of the trial.
    life : Life
    end : float
        Age of the mode at the sale. [h or year]
    most : float
        (end / scale)^shape: arrivals by then. [-]
    ages : ndarray
        Filled in as far as there is room. [h or year]

    Returns
    -------
    int
        Failures.
    """
    (key, trial), count, new_at = stream, 0, 0.0
    gathered = 0.0 if life.start == 0.0 else raised(life.start / life.scale, life.shape)
    while count < MOST_ARRIVALS:
        gathered += unit_exponential(key, trial, count)
        if gathered > most and (count == 0 or not life.as_new):
            break
        age = new_at + life.scale * raised(gathered, 1.0 / life.shape)
        if age > end:
            break
        if count < ages.shape[0]:
            ages[count] = age
        count += 1
        if life.as_new:
            new_at, gathered = age, 0.0
    return count


@compiled
def raised(base: float, exponent: float) -> float:
    """A power of a number not below 0, by logarithm and exponential; no work where the exponent is 1. [-]"""
    if exponent == 1.0 or base <= 0.0:
        return base
    return math.exp(exponent * math.log(base))


class Events(NamedTuple):
    """Failures of many paths, and when cover ends on each path."""

    path: NDArray[np.int64]
    """Path, shape (event,)."""
    mode: NDArray[np.int64]
    """Failure mode, shape (event,)."""
    t: Amounts
    """When, since delivery, shape (event,). [year]"""
    ends: Amounts
    """When base cover and extension end, shape (path, 2). [year]"""


@compiled
def draw(hours: Amounts, terms: FailureTerms, drawn: Arrivals) -> tuple[Events, int]:
    """
    Draw and date the failures of every path.

    Parameters
    ----------
    hours : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    terms : FailureTerms
    drawn : Arrivals

    Returns
    -------
    (Events, int)
        Failures, path by path, and how many they are.
    """
    modes, (start_meter, start_age), (keys, first), warranty = terms.modes, terms.start, drawn, terms.cover
    by_hours, as_new, scales, shapes = modes.by_hours, modes.as_new, modes.scale, modes.shape
    paths, ages, found, years = hours.shape[0], np.empty(64), 0, terms.years
    by_the_sale = np.empty(scales.size)
    for mode in range(scales.size):
        by_the_sale[mode] = raised((start_age + years) / scales[mode], shapes[mode])
    events = _events(paths, 4 * paths)
    ends_by_hours = min(warranty.base_hours, warranty.extension_hours) < np.inf
    ends = cover.cover_ends(hours[0], start_meter, start_age, warranty)
    for path in range(paths):
        row = hours[path]
        if ends_by_hours:
            ends = cover.cover_ends(row, start_meter, start_age, warranty)
        events.ends[path, 0], events.ends[path, 1] = ends
        end_meter = start_meter + meter_at_end(row, years)
        for mode in range(keys.shape[0]):
            start, end = (start_meter, end_meter) if by_hours[mode] else (start_age, start_age + years)
            life = Life(scales[mode], shapes[mode], as_new[mode], start)
            most = raised(end / life.scale, life.shape) if by_hours[mode] else by_the_sale[mode]
            for unit in range(keys.shape[1]):
                count = failure_ages((keys[mode, unit], first + path), life, end, most, ages)
                if count == 0:
                    continue
                if count > ages.shape[0]:
                    ages = np.empty(2 * count)
                    failure_ages((keys[mode, unit], first + path), life, end, most, ages)
                if found + count > events.t.shape[0]:
                    events = _with_room(events, found, 2 * (found + count))
                for failure in range(count):
                    t = ages[failure] - start
                    if by_hours[mode]:
                        t = when_due(t, NEVER, row)[0] / MONTHS_IN_A_YEAR
                    events.path[found], events.mode[found], events.t[found] = path, mode, min(t, years)
                    found += 1
    return events, found


@compiled
def _events(paths: int, room: int) -> Events:
    """Room for events."""
    return Events(np.empty(room, np.int64), np.empty(room, np.int64), np.empty(room), np.empty((paths, 2)))


@compiled
def _with_room(events: Events, found: int, room: int) -> Events:
    """The same events with more room."""
    larger = _events(events.ends.shape[0], room)
    larger.path[:found], larger.mode[:found], larger.t[:found] = (
        events.path[:found],
        events.mode[:found],
        events.t[:found],
    )
    larger.ends[:] = events.ends
    return larger
