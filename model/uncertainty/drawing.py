"""Failures drawn: when each happens in a trial.

Minimal repair: a power law's failures are unit-rate arrivals at (age / scale)^shape, whatever happened before. As new:
after each repair a new Weibull life of the same scale and shape begins; the first life of a used part is one that has
come as far as the engine's age. Source: any text on repairable systems, for example Rigdon and Basu, Statistical
Methods for the Reliability of Repairable Systems (2000), sections 2 and 4.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.case import Case
from model.compiling import compiled
from model.elementary import power_of
from model.elements.cover import CoverTable
from model.elements.repairs import ModeTable
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.pace import hours_before, meters_at_end, when_read
from model.uncertainty.streams import MOST_ARRIVALS, Source, Streams, fill_exponentials

Amounts = NDArray[np.float64]


class FailureTerms(NamedTuple):
    """What drawn failures of one engine are worked out from."""

    years: float
    """Ownership period. [year]"""
    start: tuple[float, float]
    """Meter hours and age at delivery. [h, year]"""
    modes: ModeTable
    """Failure modes, without expected renewals."""
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
    return FailureTerms(case.years, case.start, case.failure_modes.lives, case.cover, prices)


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
    by_hours: bool
    """Whether it goes by meter hours (else by years)."""


class Ends(NamedTuple):
    """How far each path goes on a failure mode's clock."""

    age: Amounts
    """Age at the sale, shape (path,). [h or year]"""
    arrivals: Amounts
    """(age / scale)^shape: unit-rate arrivals by then, shape (path,). [-]"""


class Failures(NamedTuple):
    """Failures of many paths."""

    path: NDArray[np.int64]
    """Path, shape (failure,)."""
    mode: NDArray[np.int64]
    """Failure mode, shape (failure,)."""
    at: Amounts
    """Unit-rate arrivals or age by then, and in the end when, since delivery, shape (failure,). [-, h or year]"""


@compiled
def draw(hours: Amounts, terms: FailureTerms, drawn: Arrivals) -> tuple[Failures, int]:
    """
    Draw and date the failures of every path, mode by mode.

    Parameters
    ----------
    hours : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    terms : FailureTerms
    drawn : Arrivals

    Returns
    -------
    (Failures, int)
        Failures in no order, and how many they are.
    """
    modes, (start_meter, start_age), paths = terms.modes, terms.start, hours.shape[0]
    by_meter, by_age = start_meter + meters_at_end(hours, terms.years), np.full(paths, start_age + terms.years)
    run = hours_before(hours)
    found, begin, arrivals = no_failures(4 * paths), 0, np.empty(paths)
    for mode in range(modes.scale.shape[0]):
        by_hours = modes.by_hours[mode]
        start = start_meter if by_hours else start_age
        life = Life(modes.scale[mode], modes.shape[mode], modes.as_new[mode], start, by_hours)
        ends = Ends(by_meter if by_hours else by_age, arrivals)
        _fill_arrivals(life, ends)
        for unit in range(drawn.keys.shape[1]):
            found, behind = draw_mode((drawn.keys[mode, unit], drawn.first), life, ends, found, begin)
            found.mode[begin:behind] = mode
            _date((hours, run), life, terms.years, found, (begin, behind))
            begin = behind
    return found, begin


@compiled
def _fill_arrivals(life: Life, ends: Ends) -> None:
    """Fill in the unit-rate arrivals by the sale; by years all paths have the same."""
    different = ends.age.size if life.by_hours else min(1, ends.age.size)
    for path in range(different):
        ends.arrivals[path] = ends.age[path] / life.scale
    _raise(ends.arrivals[:different], life.shape)
    for path in range(different, ends.age.size):
        ends.arrivals[path] = ends.arrivals[0]


@compiled
def _raise(numbers: Amounts, exponent: float) -> None:
    """Put powers in the place of numbers; no work where the exponent is 1."""
    if exponent != 1.0:
        for place in range(numbers.size):
            numbers[place] = power_of(numbers[place], exponent)


@compiled
def _date(meters: tuple[Amounts, Amounts], life: Life, years: float, found: Failures, part: tuple[int, int]) -> None:
    """Put times since delivery in the place of ages, by the paths' hours and hours run where life goes by hours."""
    (hours, run), start, (begin, behind) = meters, life.start, part
    if not life.by_hours:
        for failure in range(begin, behind):
            found.at[failure] = min(found.at[failure] - start, years)
        return
    for failure in range(begin, behind):
        months = when_read(found.at[failure] - start, found.path[failure], hours, run)
        found.at[failure] = min(months / MONTHS_IN_A_YEAR, years)


@compiled
def draw_mode(
    stream: tuple[np.uint64, int], life: Life, ends: Ends, found: Failures, begin: int
) -> tuple[Failures, int]:
    """
    Draw the failures of a mode between delivery and the sale, on every path, an arrival of each at a time.

    A unit-rate arrival at g is a failure at scale x g^(1 / shape): of the age itself where repairs are minimal, of the
    age since the last renewal where the part is new; before the first one both begin at the engine's age.

    Parameters
    ----------
    stream : (uint64, int)
        Key of the stream and number of the first path's trial.
    life : Life
    ends : Ends
    found : Failures
        With failures before `begin`.
    begin : int

    Returns
    -------
    (Failures, int)
        The same, or what stands in their place where they had no room, with those of this mode and their ages behind;
        and how many they are together.
    """
    (key, first), behind, limits = stream, begin, ends.age if life.as_new else ends.arrivals
    left, arrival, begun = ends.age.size, 0, power_of(life.start / life.scale, life.shape)
    # Of the paths that go on: which they are, how far they have come (arrivals, or age at the last renewal), and next.
    alive, come, ahead = np.arange(left), np.full(left, 0.0 if life.as_new else begun), np.empty(left)
    while left > 0 and arrival < MOST_ARRIVALS:
        if behind + left > found.at.size:
            found = _with_room(found, behind, 2 * (behind + left))
        fill_exponentials(key, first, arrival, alive[:left], ahead)
        if life.as_new:
            for place in range(left):
                ahead[place] += begun
            _raise(ahead[:left], 1.0 / life.shape)
            for place in range(left):
                ahead[place] *= life.scale
        for place in range(left):
            ahead[place] += come[place]
        left = _keep(alive, come, ahead[:left], limits)
        found.path[behind : behind + left], found.at[behind : behind + left] = alive[:left], come[:left]
        behind, arrival, begun = behind + left, arrival + 1, 0.0
    if not life.as_new:
        _raise(found.at[begin:behind], 1.0 / life.shape)
        for failure in range(begin, behind):
            found.at[failure] *= life.scale
    return found, behind


@compiled
def _keep(alive: NDArray[np.int64], come: Amounts, ahead: Amounts, limits: Amounts) -> int:
    """Keep the paths whose next failure is within their limit, and how far they have come by it; how many they are."""
    still = 0
    for place in range(ahead.size):
        # Written in any case and overwritten if it is none: whether it is one cannot be foreseen, and for a processor a
        # wrong guess costs more than to write. An index that has no sign needs no look whether it counts from the end.
        path, at = alive[place], ahead[place]
        alive[np.uint64(still)], come[np.uint64(still)] = path, at
        still += at <= limits[np.uint64(path)]
    return still


@compiled
def no_failures(room: int) -> Failures:
    """Room for failures."""
    return Failures(np.empty(room, np.int64), np.empty(room, np.int64), np.empty(room))


@compiled
def _with_room(found: Failures, number: int, room: int) -> Failures:
    """The same failures with more room."""
    larger = no_failures(room)
    larger.path[:number], larger.mode[:number], larger.at[:number] = (
        found.path[:number],
        found.mode[:number],
        found.at[:number],
    )
    return larger
