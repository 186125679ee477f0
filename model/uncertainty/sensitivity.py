"""Which uncertain input moves the answer: the difference in total cost between the two engines it is about.

Two questions. How far does the difference swing when one input goes from its 10 % to its 90 % point, all others as
stated? And what share of the difference's variance over the trials is an input's, alone and with all it takes part in?
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.inputs.owner import TrialTerms
from model.inputs.scenario import Scenario
from model.levels import AS_STATED, Levels
from model.uncertainty.chunks import Ready, outcome_of, outcomes_of_chunk, ready, together
from model.uncertainty.drawing import arrivals
from model.uncertainty.intervals import Estimate, symmetric
from model.uncertainty.sampling import hours_at, is_spread, lognormal_level, sample
from model.uncertainty.sobol import indices
from model.uncertainty.streams import CHUNK, Input, Source, Streams
from model.usage import hours_run

Amounts = NDArray[np.float64]

TENTH = 1.2815515655446004
"""Standard normal of the 90 % point, and less its sign of the 10 % point. [-]"""

CHUNKS = 4
"""Chunks of trials for each estimate."""


@dataclass(frozen=True)
class Swing:
    """The difference at two points of one input, all others as stated."""

    low: float | None
    """The input's 10 % point: hours, or a level; None for failures, which are no single number."""
    high: float | None
    """Its 90 % point."""
    at_low: float
    """Difference there; of failures, the 10 % point of the difference itself. [money]"""
    at_high: float
    """Difference there. [money]"""

    @property
    def width(self) -> float:
        """How far the difference swings. [money]"""
        return abs(self.at_high - self.at_low)


@dataclass(frozen=True)
class InputSensitivity:
    """What one uncertain input does to the difference."""

    input: Input
    """The input."""
    swing: Swing
    """Between its 10 % and 90 % points."""
    first_order: Estimate
    """Share of the variance that is this input's alone. [-]"""
    total: Estimate
    """The same with all that it takes part in. [-]"""


@dataclass(frozen=True)
class Sensitivity:
    """What the uncertain inputs of a scenario do to the difference between two engines."""

    baseline: str
    """The engine with the lowest price and fit-up."""
    challenger: str
    """The cheapest of the others."""
    difference: Estimate
    """Challenger less baseline over the trials, present value. [money]"""
    standard_deviation: float
    """Of the difference over the trials. [money]"""
    inputs: tuple[InputSensitivity, ...]
    """The widest swing first."""


@dataclass(frozen=True)
class Swings:
    """How far the difference between two engines swings, input by input."""

    baseline: str
    """The engine with the lowest price and fit-up."""
    challenger: str
    """The cheapest of the others."""
    stated: float
    """Challenger less baseline on the stated hours and expected repairs, present value. [money]"""
    inputs: tuple[tuple[Input, Swing], ...]
    """The widest swing first."""


def swings(scenario: Scenario, seed: int = 1) -> Swings | None:
    """
    How far the difference swings when one uncertain input goes from its 10 % to its 90 % point.

    The swings of `sensitivity`, without its shares of the variance, which take many trials.

    Parameters
    ----------
    scenario : Scenario
    seed : int

    Returns
    -------
    Swings or None
        None with a single engine.
    """
    if len(scenario.engines) < 2:
        return None
    pair = _pair(scenario)
    base, other = (_stated(engine) for engine in pair)
    found = [(one, _swing(scenario, pair, one, seed)) for one in uncertain_inputs(scenario, pair)]
    names = [engine.case.engine.name for engine in pair]
    return Swings(names[0], names[1], other - base, tuple(sorted(found, key=lambda one: -one[1].width)))


def _stated(engine: Ready) -> float:
    """Present value of an engine on the stated hours and expected repairs. [money]"""
    return float(outcome_of(engine, np.array([engine.case.scenario.hours()]), AS_STATED, None).present[0])


def sensitivity(scenario: Scenario, seed: int = 1, chunks: int = CHUNKS) -> Sensitivity | None:
    """
    What every uncertain input does to the difference between two engines.

    Parameters
    ----------
    scenario : Scenario
    seed : int
    chunks : int
        Chunks of trials for each estimate.

    Returns
    -------
    Sensitivity or None
        None with a single engine.
    """
    if len(scenario.engines) < 2:
        return None
    pair = _pair(scenario)
    uncertain = list(uncertain_inputs(scenario, pair))
    streams = Streams(seed), Streams(seed, dict.fromkeys(uncertain, seed + 1))
    first, second = (_differences(pair, one, chunks) for one in streams)
    found = []
    for one in uncertain:
        mixed = _differences(pair, Streams(seed, {one: seed + 1}), chunks)
        shares = indices(first, second, mixed)
        found.append(InputSensitivity(one, _swing(scenario, pair, one, seed), shares.first_order, shares.total))
    both = np.concatenate([first, second])
    deviation = float(both.std(ddof=1))
    return Sensitivity(
        pair[0].case.engine.name,
        pair[1].case.engine.name,
        Estimate(float(both.mean()), deviation / math.sqrt(both.size)),
        deviation,
        tuple(sorted(found, key=lambda one: -one.swing.width)),
    )


def _pair(scenario: Scenario) -> tuple[Ready, Ready]:
    """The two that the answer is about, the cheapest on the stated hours; first the one that costs less to buy."""
    first, second = sorted(ready(scenario), key=_stated)[:2]
    return (second, first) if second.first_cost < first.first_cost else (first, second)


def uncertain_inputs(scenario: Scenario, engines: Sequence[Ready]) -> Iterator[Input]:
    """
    Inputs that differ between the trials of a scenario.

    Parameters
    ----------
    scenario : Scenario
    engines : sequence of Ready
        The engines that count.

    Yields
    ------
    Input
    """
    terms, names = scenario.trials, [engine.case.engine.name for engine in engines]
    if is_spread(scenario.use.spread):
        yield Source.HOURS, ""
    for source, variation in _variations(terms).items():
        if variation > 0.0:
            of_engines = source in (Source.FUEL_BURN, Source.RESALE)
            yield from ((source, name) for name in (names if of_engines else [""]))
    if terms.repairs == "drawn":
        yield from ((Source.FAILURES, engine.case.engine.name) for engine in engines if engine.case.engine.repair)


def _variations(terms: TrialTerms) -> Mapping[Source, float]:
    """Spread of each source but hours and failures. [-]"""
    return {
        Source.FUEL_PRICE: terms.fuel_volatility,
        Source.PARTS: terms.parts_variation,
        Source.LABOUR: terms.labour_variation,
        Source.FUEL_BURN: terms.fuel_burn_variation,
        Source.RESALE: terms.resale_variation,
    }


def _differences(pair: tuple[Ready, Ready], streams: Streams, chunks: int) -> Amounts:
    """Challenger less baseline in each trial, present value, shape (trial,). [money]"""
    found, engines = [], together(pair, streams)
    for chunk in range(chunks):
        sampled = sample([engine.case for engine in pair], streams, chunk)
        base, challenger = outcomes_of_chunk(engines, sampled, chunk).present
        found.append(challenger - base)
    return np.concatenate(found)


def _swing(scenario: Scenario, pair: tuple[Ready, Ready], one: Input, seed: int) -> Swing:
    """The difference at the 10 % and 90 % points of one input."""
    source, name = one
    stated, points = np.array(scenario.hours()), np.array([-TENTH, TENTH])
    hours, levels = np.tile(stated, (2, 1)), AS_STATED
    if source is Source.FAILURES:
        return _swing_of_failures(scenario, pair, name, seed)
    if source is Source.HOURS:
        normals = np.tile(points[:, None], stated.size)
        hours = hours_at(scenario.use.spread, stated, normals, scenario.mean_hours())
        ends = hours_run(hours, scenario.ownership.years).sum(axis=-1) / scenario.ownership.years
    elif source is Source.FUEL_PRICE:
        levels = Levels(fuel=_fuel_points(pair[0], points))
        ends = scenario.prices.fuel * np.asarray(levels.fuel)[:, -1]
    else:
        ends = lognormal_level(points, _variations(scenario.trials)[source])
        key = {Source.PARTS: "parts", Source.LABOUR: "labour", Source.FUEL_BURN: "fuel_burn", Source.RESALE: "resale"}
        levels = Levels(**{key[source]: ends})
    costs = []
    for engine in pair:
        concerned = name in ("", engine.case.engine.name)
        costs.append(outcome_of(engine, hours, levels if concerned else AS_STATED, None).present)
    low, high = costs[1] - costs[0]
    return Swing(float(ends[0]), float(ends[1]), float(low), float(high))


def _fuel_points(engine: Ready, points: Amounts) -> Amounts:
    """Fuel price levels with every year's price at its own 10 % or 90 % point, shape (point, year). [-]"""
    volatility, times = engine.case.scenario.trials.fuel_volatility, engine.case.rules.flow_times
    return np.asarray(np.exp(points[:, None] * volatility * np.sqrt(times) - 0.5 * volatility**2 * times))


def _swing_of_failures(scenario: Scenario, pair: tuple[Ready, Ready], name: str, seed: int) -> Swing:
    """The 10 % and 90 % points of the difference when only the failures of one engine differ."""
    hours, costs = np.tile(scenario.hours(), (CHUNK, 1)), []
    for engine in pair:
        is_drawn = engine.case.engine.name == name
        failures = arrivals(engine.case, Streams(seed)) if is_drawn else None
        rows = hours if is_drawn else hours[:1]
        costs.append(outcome_of(engine, rows, AS_STATED, failures).present)
    low, high = symmetric(np.sort(costs[1] - costs[0]), 0.8)
    return Swing(None, None, low, high)
