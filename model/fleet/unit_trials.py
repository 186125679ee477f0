"""Trials of a fleet: a season and prices that all units share, hours and failures that are each unit's own.

The trials of one unit are those of a single comparison (`model.uncertainty`), stay by stay. The schedule is the plan
that was made on mean hours; every trial follows it.
"""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from model.case import Case, prepare
from model.fleet.adding_up import StayTerms
from model.fleet.budget import GroupCash, Scheduled, group_cash_of
from model.fleet.cash import Cases, value_got
from model.fleet.cash_sums import CashSums, Part
from model.fleet.fleet_file import FleetFile
from model.fleet.register import Unit
from model.fleet.stays import Stay, hours_of, levels_of
from model.inputs.owner import Spread
from model.inputs.terms import HOURS_IN_A_YEAR, SpreadShape
from model.levels import Levels
from model.ownership import sale
from model.uncertainty.chunks import Together, cash_of, lives_of, ready_case, together
from model.uncertainty.drawing import Arrivals
from model.uncertainty.sampling import hours_at, lognormal_level, sample
from model.uncertainty.streams import CHUNK, Source, Streams, normals_of_years

Amounts = NDArray[np.float64]

SEASON = (Source.HOURS, "\0season")
"""Stream of the seasons; no unit can have that name."""


@dataclass(frozen=True)
class TrialTerms:
    """Which trials are run."""

    trials: int
    """How many."""
    seed: int
    """Seed of the run."""

    def chunks(self) -> list[tuple[int, int]]:
        """Numbers of the chunks, and how many trials of each are wanted."""
        return [(start // CHUNK, min(CHUNK, self.trials - start)) for start in range(0, self.trials, CHUNK)]


@dataclass(frozen=True)
class Shared:
    """What all units of a fleet live through in the trials."""

    season: Amounts
    """Hours of each year over their mean, shape (trial, year) or (1, year). [-]"""
    levels: dict[str, Levels]
    """Levels of prices over the horizon, and of burn and value, by engine."""
    of_stays: dict[tuple[str, int, int], Levels] = field(default_factory=dict)
    """The same over stays that were asked for, by engine, first year and number of years."""

    def levels_of(self, file: FleetFile, stay: Stay) -> Levels:
        """Levels of a stay, the same for all units."""
        key = (stay.engine, stay.begin, stay.years)
        if key not in self.of_stays:
            self.of_stays[key] = levels_of(file, stay, self.levels[stay.engine])
        return self.of_stays[key]


def shared_of(file: FleetFile, streams: Streams, terms: TrialTerms) -> Shared:
    """
    Draw season, prices and the engines' levels.

    Parameters
    ----------
    file : FleetFile
    streams : Streams
    terms : TrialTerms

    Returns
    -------
    Shared
    """
    # The hours of each unit are drawn by itself, so none are drawn here.
    plain = file.changed({("use", "spread"): None})
    cases = [prepare(plain, engine) for engine in file.engines]
    sampled = [(sample(cases, streams, chunk).levels, trials) for chunk, trials in terms.chunks()]
    levels = {
        engine.name: Levels.joined([of_chunk[place].first(trials) for of_chunk, trials in sampled])
        for place, engine in enumerate(file.engines)
    }
    horizon, variation = file.fleet.horizon, file.fleet.season_variation
    if variation == 0.0:
        return Shared(np.ones((1, horizon)), levels)
    season = np.empty((horizon, terms.trials))
    for chunk, trials in terms.chunks():
        normals = streams.generator(SEASON, chunk).standard_normal((horizon, CHUNK))[:, :trials]
        season[:, chunk * CHUNK : chunk * CHUNK + trials] = lognormal_level(normals, variation)
    return Shared(season.T, levels)


def unit_hours(file: FleetFile, unit: Unit, streams: Streams, terms: TrialTerms) -> Amounts:
    """
    Draw the hours of one unit, the season apart.

    Parameters
    ----------
    file : FleetFile
        `[use.spread]` gives the shape (lognormal where there is none) and the correlation between years.
    unit : Unit
    streams : Streams
    terms : TrialTerms

    Returns
    -------
    ndarray, shape (trial, year)
        Hours of each budget year. [h/year]
    """
    horizon = file.fleet.horizon
    stated, spread = np.full(horizon, unit.hours_per_year), spread_of(file, unit)
    if spread is None:
        return np.broadcast_to(stated, (terms.trials, horizon))
    found = np.empty((horizon, terms.trials))
    for chunk, trials in terms.chunks():
        normals = streams.generator((Source.HOURS, unit.name), chunk).standard_normal((1 + horizon, CHUNK))
        years = normals_of_years(normals, spread.owner_share)
        found[:, chunk * CHUNK : chunk * CHUNK + trials] = hours_at(spread, stated, years[:, :trials].T).T
    return found.T


def spread_of(file: FleetFile, unit: Unit) -> Spread | None:
    """The spread of a unit's hours, None where they are fixed."""
    stated = file.use.spread
    if unit.variation == 0.0 or (stated is not None and stated.shape is SpreadShape.FIXED):
        return None
    if stated is None:
        return Spread(shape=SpreadShape.LOGNORMAL, variation=unit.variation)
    return stated.model_copy(update={"variation": unit.variation})


def failures_of(case: Case, streams: Streams, owner: tuple[Unit, Stay]) -> Arrivals | None:
    """
    The failure streams of one stay: every unit, stay, engine on the boat and mode has its own.

    Parameters
    ----------
    case : Case
    streams : Streams
    owner : (Unit, Stay)

    Returns
    -------
    Arrivals or None
        From the first trial on; None where repairs are expected, not drawn.
    """
    if case.scenario.trials.repairs != "drawn" or not case.engine.repair:
        return None
    unit, stay = owner
    source = (Source.FAILURES, f"{unit.name}\0{stay.engine}\0{stay.begin}\0{stay.is_held}")
    keys = [
        [streams.key(source, f"{mode.name}\0{place}") for place in range(case.count)] for mode in case.engine.repair
    ]
    return Arrivals(np.array(keys, dtype=np.uint64), 0)


class Engines:
    """Engines made ready for trials once: a new one is the same for every unit with as many of them."""

    def __init__(self, file: FleetFile) -> None:
        """Remember the file; nothing is made ready before it is asked for."""
        self.cases = Cases(file)
        self._new: dict[int, Together] = {}

    def of(self, unit: Unit, stay: Stay) -> Together:
        """The engine of a stay."""
        case = self.cases.of(unit, stay)
        if stay.is_held:
            return together([ready_case(case)], None)
        # The cases of new engines are kept as long as these are, so that no other case can have the number of one.
        if id(case) not in self._new:
            self._new[id(case)] = together([ready_case(case)], None)
        return self._new[id(case)]


class Prepared:
    """What every group of units needs of a fleet's trials: drawn and made ready once in each process."""

    def __init__(self, file: FleetFile, terms: TrialTerms) -> None:
        """Draw what all units share."""
        self.engines, self.streams = Engines(file), Streams(terms.seed)
        self.shared = shared_of(file, self.streams, terms)


_PREPARING = Lock()
"""Held while one thread makes ready what the others wait for."""

_PREPARED: deque[tuple[FleetFile, TrialTerms, Prepared]] = deque(maxlen=1)
"""The last fleet's, for the next group of it; nothing in it depends on the groups."""


def prepared(file: FleetFile, terms: TrialTerms) -> Prepared:
    """What every group of units needs of a fleet's trials."""
    with _PREPARING:
        for known_file, known_terms, known in _PREPARED:
            if known_terms == terms and known_file == file:
                return known
        found = Prepared(file, terms)
        _PREPARED.append((file, terms, found))
        return found


def group_trials(file: FleetFile, terms: TrialTerms, group: Sequence[Scheduled]) -> GroupCash:
    """
    Cash of a group of units in every trial: one task.

    Parameters
    ----------
    file : FleetFile
    terms : TrialTerms
    group : sequence of (Unit, tuple of Stay)

    Returns
    -------
    GroupCash
        Means, and totals of every trial by site and technology and by element.
    """
    ready, sums = prepared(file, terms), CashSums(terms.trials, file.fleet.horizon)
    engines, streams, shared = ready.engines, ready.streams, ready.shared
    for unit, schedule in group:
        hours = unit_hours(file, unit, streams, terms) * shared.season
        np.minimum(hours, HOURS_IN_A_YEAR, out=hours)
        if not schedule[0].is_held:
            got = value_got(engines.cases, unit, shared.levels[unit.engine])
            technology = file.engine(unit.engine).technology.value
            sums.add_resale((unit.site, technology), 0, np.broadcast_to(-got, terms.trials))
        for stay in schedule:
            engine = engines.of(unit, stay.in_cash(file.fleet.horizon))
            failures = failures_of(engine.engines[0].case, streams, (unit, stay))
            part = (unit.site, file.engine(stay.engine).technology.value)
            _add_stay(engine, (part, stay), (hours, shared.levels_of(file, stay), failures), sums)
    return group_cash_of(sums)


def _add_stay(
    engine: Together,
    where: tuple[Part, Stay],
    lived: tuple[Amounts, Levels, Arrivals | None],
    sums: CashSums,
) -> None:
    """Add one stay of a site and technology."""
    (part, stay), (unit_hours, levels, drawn) = where, lived
    hours, one = hours_of(unit_hours, stay), engine.engines[0]
    if drawn is None or engine.calendar is None:
        sums.add_stay(part, stay, (cash_of(engine, hours, levels, drawn), one.fixed[0]))
    else:
        terms = StayTerms(engine.calendar, one.booking, one.running, one.failures, one.fixed[0])
        sums.live_stay(part, stay, (lives_of(hours, levels), terms, drawn))
    if stay.end < sums.horizon:
        got = sale(engine.engines[0].case, hours, levels).nominal
        sums.add_resale(part, stay.end, np.broadcast_to(got, hours.shape[0]))
