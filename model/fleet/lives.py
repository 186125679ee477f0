"""Economic lives of a fleet's or a scenario's engines, each in its own use."""

from collections.abc import Sequence
from dataclasses import replace
from math import sqrt

from model.case import money_rules
from model.cheapest import at_ownership_years
from model.fleet.economic_life import HOURS_FACTORS, best_meter_hours, economic_lives, life_of
from model.fleet.fleet_file import FleetFile
from model.fleet.life_reports import EngineLife
from model.fleet.planned_renewal import PlannedRenewal, best_planned_renewal
from model.fleet.reading import Fleet
from model.fleet.seasons import with_season
from model.inputs.engine import Engine
from model.inputs.owner import Spread
from model.inputs.scenario import Scenario
from model.inputs.terms import AfterRepair, SpreadShape
from model.levels import AS_STATED, Levels
from model.uncertainty.trials import run_trials


def hours_in_use(fleet: Fleet, engine: str) -> float:
    """
    Mean hours a year of the units that an engine drives or may come to drive.

    Parameters
    ----------
    fleet : Fleet
    engine : str
        Its name.

    Returns
    -------
    float
        Over the units that have it; where none has, over those that it may replace; else over all. [h/year]
    """
    own = [unit for unit in fleet.units if unit.engine == engine]
    able = [
        unit
        for unit in fleet.units
        if engine in [one.name for one in fleet.file.candidates_for(fleet.file.engine(unit.engine))]
    ]
    units = own or able or list(fleet.units)
    return sum(unit.hours_per_year for unit in units) / len(units)


def fleet_lives(fleet: Fleet) -> tuple[EngineLife, ...]:
    """Economic lives of a fleet's candidates, at the mean hours of the boats that they drive or may drive."""
    engines = [fleet.file.engine(name) for name in fleet.terms.candidates]
    hours = [hours_in_use(fleet, engine.name) for engine in engines]
    return _lives(fleet.file, list(zip(engines, hours, strict=True)), Levels(resale=fleet.terms.trade_in))


def scenario_lives(scenario: Scenario) -> tuple[EngineLife, ...]:
    """Economic lives of a scenario's engines, bought new, at its mean hours."""
    stated = scenario.hours()
    hours = sum(stated) / len(stated)
    return _lives(scenario, [(engine, hours) for engine in scenario.engines], AS_STATED)


def _lives(scenario: Scenario, uses: Sequence[tuple[Engine, float]], levels: Levels) -> tuple[EngineLife, ...]:
    """Economic lives of engines at hours a year."""
    found = []
    even = scenario.changed({("use", "hours_by_year"): None, ("use", "hours_per_year"): 0.0})
    for engine, hours in uses:
        new = engine.model_copy(update={"start": None})
        at = [hours * factor for factor in HOURS_FACTORS]
        lives = economic_lives(even, new, at, levels)
        by_hours = tuple((hour, life.best_age) for hour, life in zip(at, lives, strict=True))
        best = best_meter_hours(even, new, hours, levels)
        stated = lives[HOURS_FACTORS.index(1.0)]
        found.append(EngineLife(engine.name, hours, stated, by_hours, best, renewals_of(scenario, engine)))
    return tuple(found)


def renewals_of(scenario: Scenario, engine: Engine) -> dict[str, PlannedRenewal]:
    """
    When it pays to renew parts ahead of their failure, for modes whose repair renews the part.

    Parameters
    ----------
    scenario : Scenario
        Gives the price of labour and of a lost day.
    engine : Engine

    Returns
    -------
    dict of str to PlannedRenewal
        By failure mode. Planned, it costs parts and labour; after a failure also the lost days and what is never
        covered. Cover is left out: a part renewed ahead of its failure is not covered.
    """
    day_cost = 0.0 if scenario.downtime is None else scenario.downtime.day_cost
    found = {}
    for mode in engine.repair:
        planned = mode.parts_price + mode.labour * scenario.prices.labour
        failed = planned + mode.not_covered + mode.days_lost * day_cost
        if mode.after is AfterRepair.AS_NEW and planned > 0.0:
            found[mode.name] = best_planned_renewal(mode.clock, mode.scale, mode.shape, planned, failed)
    return found


def by_trials(scenario: Scenario, lives: Sequence[EngineLife], run: tuple[int, int, int]) -> tuple[EngineLife, ...]:
    """
    The same lives with the mean over trials at each age: hours, prices and failures differ as the file states.

    Parameters
    ----------
    scenario : Scenario
        Or a fleet file, whose seasons then differ too.
    lives : sequence of EngineLife
    run : (int, int, int)
        Trials, seed and workers; every age has the same seed, so that its draws are the same.

    Returns
    -------
    tuple of EngineLife
    """
    trade_in = 1.0
    if isinstance(scenario, FleetFile):
        trade_in = scenario.fleet.trade_in
        scenario = scenario.changed({("use", "spread"): _with_season(scenario)})
    return tuple(_over_trials(scenario, one, trade_in, run) for one in lives)


def _with_season(file: FleetFile) -> Spread | None:
    """The spread of a boat's hours, the season's included: coefficients of variation of a product of two factors."""
    spread, season = file.use.spread, file.fleet.season_variation
    own = 0.0 if spread is None else spread.variation or 0.0
    both = with_season(own, season)
    if spread is None or spread.shape is SpreadShape.FIXED:
        return Spread(shape=SpreadShape.LOGNORMAL, variation=both, owner_share=0.0) if both > 0.0 else None
    return spread.model_copy(update={"variation": both})


def _over_trials(scenario: Scenario, one: EngineLife, trade_in: float, run: tuple[int, int, int]) -> EngineLife:
    """The same life with the mean over trials of the equivalent annual cost by age, and its standard error."""
    engine = scenario.engine(one.name)
    # Value at sale is a share of the list price, and nothing else is: in every trial so much of it as is got.
    listed = trade_in * (engine.price if engine.list_price is None else engine.list_price)
    engine = engine.model_copy(update={"start": None, "list_price": listed})
    even = scenario.changed(
        {("engines",): (engine,), ("use", "hours_by_year"): None, ("use", "hours_per_year"): one.hours}
    )
    means, errors = list[float](), list[float]()
    for age in one.life.ages:
        found = run_trials(at_ownership_years(even, age), *run)
        means.append(float(found.present.mean()))
        errors.append(float(found.present.std(ddof=1)) / sqrt(found.trials))
    rate = money_rules(scenario).real_rate
    spread = life_of(one.life.ages, errors, rate).costs  # a cost a year is in proportion to its present value
    return replace(one, by_trials=life_of(one.life.ages, means, rate), standard_errors=spread)
