"""Trials of a fleet: a season and prices that all units share, hours and failures that are each unit's own.

The trials of one unit are those of a single comparison (`model.uncertainty`), stay by stay. The schedule is the plan
that was made on mean hours; every trial follows it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.case import Case, prepare
from model.fleet.budget import GroupCash, Part, Scheduled
from model.fleet.cash import ELEMENTS, RESALE, Cases, value_got
from model.fleet.fleet_file import FleetFile
from model.fleet.register import Unit
from model.fleet.stays import Stay, hours_of, levels_of
from model.inputs.owner import Spread
from model.inputs.terms import HOURS_IN_A_YEAR, SpreadShape
from model.levels import Levels
from model.ownership import sale
from model.uncertainty.chunks import Together, outcome_of, ready_case, together
from model.uncertainty.drawing import Arrivals
from model.uncertainty.sampling import hours_at, lognormal_level, sample
from model.uncertainty.streams import CHUNK, Source, Streams

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
    """What all units of a fleet live through in the trials of one chunk."""

    season: Amounts
    """Hours of each year over their mean, shape (trial, year) or (1, year). [-]"""
    levels: dict[str, Levels]
    """Levels of prices over the horizon, and of burn and value, by engine."""


def shared_of(file: FleetFile, streams: Streams, at: tuple[int, int]) -> Shared:
    """
    Draw season, prices and the engines' levels of one chunk.

    Parameters
    ----------
    file : FleetFile
    streams : Streams
    at : (int, int)
        Number of the chunk, and trials wanted of it.

    Returns
    -------
    Shared
    """
    chunk, trials = at
    # The hours of each unit are drawn by itself, so none are drawn here.
    plain = file.changed({("use", "spread"): None})
    sampled = sample([prepare(plain, engine) for engine in file.engines], streams, chunk)
    levels = {engine.name: level.first(trials) for engine, level in zip(file.engines, sampled.levels, strict=True)}
    horizon, variation = file.fleet.horizon, file.fleet.season_variation
    if variation == 0.0:
        return Shared(np.ones((1, horizon)), levels)
    normals = streams.generator(SEASON, chunk).standard_normal((horizon, CHUNK))[:, :trials]
    return Shared(lognormal_level(normals, variation).T, levels)


def unit_hours(file: FleetFile, unit: Unit, streams: Streams, at: tuple[int, int]) -> Amounts:
    """
    Draw the hours of one unit, the season apart.

    Parameters
    ----------
    file : FleetFile
        `[use.spread]` gives the shape (lognormal where there is none) and the correlation between years.
    unit : Unit
    streams : Streams
    at : (int, int)
        Number of the chunk, and trials wanted of it.

    Returns
    -------
    ndarray, shape (trial, year)
        Hours of each budget year. [h/year]
    """
    (chunk, trials), horizon = at, file.fleet.horizon
    stated, spread = np.full(horizon, unit.hours_per_year), spread_of(file, unit)
    if spread is None:
        return np.broadcast_to(stated, (trials, horizon))
    normals = streams.generator((Source.HOURS, unit.name), chunk).standard_normal((1 + horizon, CHUNK))[:, :trials]
    share = spread.owner_share
    return hours_at(spread, stated, (math.sqrt(share) * normals[0] + math.sqrt(1.0 - share) * normals[1:]).T)


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
        Means and totals of every trial by site and technology.
    """
    cases, streams, chunks = Cases(file), Streams(terms.seed), terms.chunks()
    shared = [shared_of(file, streams, at) for at in chunks]
    by_part, totals = dict[Part, Amounts](), dict[Part, Amounts]()
    for unit, schedule in group:
        hours = []
        for lived, at in zip(shared, chunks, strict=True):
            hours.append(np.minimum(unit_hours(file, unit, streams, at) * lived.season, HOURS_IN_A_YEAR))
        if not schedule[0].is_held:
            _add_first_trade_in(cases, unit, shared, (terms.trials, by_part, totals))
        for stay in schedule:
            case, nominal = cases.of(unit, stay), np.zeros((len(ELEMENTS), file.fleet.horizon))
            engine, failures = together([ready_case(case)], None), failures_of(case, streams, (unit, stay))
            part = (unit.site, file.engine(stay.engine).technology.value)
            total = totals.setdefault(part, np.zeros((terms.trials, file.fleet.horizon)))
            for place, (chunk, trials) in enumerate(chunks):
                rows = total[chunk * CHUNK : chunk * CHUNK + trials]
                drawn = None if failures is None else failures._replace(first=chunk * CHUNK)
                levels = levels_of(file, stay, shared[place].levels[stay.engine])
                nominal += _add_stay(engine, stay, (hours[place], levels, drawn), rows)
            by_part[part] = by_part.get(part, 0.0) + nominal / terms.trials
    return GroupCash(by_part, totals)


def _add_stay(engine: Together, stay: Stay, lived: tuple[Amounts, Levels, Arrivals | None], totals: Amounts) -> Amounts:
    """Add one stay in the trials of one chunk to their totals; its sums by element and budget year. [money]"""
    hours, levels, failures = hours_of(lived[0], stay), lived[1], lived[2]
    outcome = outcome_of(engine, hours, levels, failures, asks_nominal=True)
    nominal = np.zeros((len(ELEMENTS), totals.shape[1]))
    nominal[:, stay.begin : stay.end] = outcome.nominal
    totals[:, stay.begin : stay.end] += outcome.by_year
    if stay.end < totals.shape[1]:
        got = np.broadcast_to(sale(engine.engines[0].case, hours, levels).nominal, totals.shape[0])
        totals[:, stay.end] += got
        nominal[RESALE, stay.end] = got.sum()
    return nominal


def _add_first_trade_in(
    cases: Cases, unit: Unit, shared: Sequence[Shared], sums: tuple[int, dict[Part, Amounts], dict[Part, Amounts]]
) -> None:
    """Add what is got on the first budget day for an engine that is replaced at once."""
    (trials, by_part, totals), horizon = sums, cases.file.fleet.horizon
    sizes = [min(CHUNK, trials - CHUNK * place) for place in range(len(shared))]
    values = [value_got(cases, unit, lived.levels[unit.engine]) for lived in shared]
    got = np.concatenate([np.broadcast_to(value, size) for value, size in zip(values, sizes, strict=True)])
    part = (unit.site, cases.file.engine(unit.engine).technology.value)
    totals.setdefault(part, np.zeros((trials, horizon)))[:, 0] -= got
    nominal = np.zeros((len(ELEMENTS), horizon))
    nominal[RESALE, 0] = -got.mean()
    by_part[part] = by_part.get(part, 0.0) + nominal
