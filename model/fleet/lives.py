"""Economic lives of a fleet's or a scenario's engines, each in its own use."""

from collections.abc import Sequence

from model.fleet.economic_life import HOURS_FACTORS, best_meter_hours, economic_lives
from model.fleet.planned_renewal import PlannedRenewal, best_planned_renewal
from model.fleet.reading import Fleet
from model.fleet.reports import EngineLife
from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.inputs.terms import AfterRepair
from model.levels import AS_STATED, Levels


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
            found[mode.name] = best_planned_renewal(mode.scale, mode.shape, planned, failed)
    return found
