"""What pictures ask of the model over whole ranges, kept under as much of the work as it depends on.

A map over hours is the same whatever the hours are set to: what is swept is taken back to the file before it is a key,
so that moving its slider costs nothing.
"""

import numpy as np
from numpy.typing import NDArray

from dashboard.answers import comparison, hours_in_sight, names_of, without
from dashboard.form import FUEL, HOURS, SPREAD, YEARS
from dashboard.keeping import kept
from dashboard.scenarios import scenario_of
from dashboard.trials import SEED, run_of
from dashboard.work import Work
from model.cheapest import YEARS_FINE, sweep_over_years
from model.inputs.scenario import Scenario
from model.inputs.terms import SpreadShape
from model.maps import CostMap, costs_over_fuel_price, map_over_fuel_price, map_over_years
from model.sweep import Stretch, stretches, swept
from model.uncertainty.bands import ChanceCurve, chance_over_hours
from model.uncertainty.difference import Difference, difference
from model.uncertainty.flip_points import FlipPoint, flip_points
from model.uncertainty.sensitivity import Swings, swings
from model.uncertainty.streams import CHUNK
from model.uncertainty.trials import something_varies

COARSE, FINE = (17, 9), (33, 20)
"""Points of the map over years across and upwards: while a slider moves, and once it stands still."""

PRICES = (33, 21)
"""The same of the map over fuel prices, which costs next to nothing."""

PRICE_FINE = 0.0005
"""To which a change over the fuel price is found. [money/L]"""

IN_PROPORTION = (SpreadShape.LOGNORMAL, SpreadShape.GAMMA, SpreadShape.FIXED)
"""Shapes of yearly hours that grow in proportion with their mean."""

QUICKLY, FINELY = (9, 1024), (17, CHUNK)
"""Points of the chance over hours and trials at each: while a slider moves, and once it stands still."""


Span = tuple[float, float]
"""Ends of a range."""


def span_of_hours(work: Work) -> tuple[float, float]:
    """Hours that a picture over hours reaches to. [h/year]"""
    scenario = scenario_of(work)
    return scenario.range.hours_per_year[0], hours_in_sight(scenario, scenario.mean_hours())


def map_by_years(work: Work, is_fine: bool) -> CostMap:
    """The map of the cheapest over hours and ownership years."""
    scenario = scenario_of(work)
    low, high = scenario.range.ownership_years
    years = scenario.ownership.years
    span = min(low, years), max(high, years)
    base = without(work, SPREAD) if scenario.use.hours_by_year else without(work, HOURS, YEARS, SPREAD)
    return _map_by_years(base, span_of_hours(work), span, FINE if is_fine else COARSE)


@kept
def _map_by_years(work: Work, hours: Span, years: Span, points: tuple[int, int]) -> CostMap:
    """The map of a work that says nothing of hours and years itself."""
    across, upwards = points
    return map_over_years(scenario_of(work), np.linspace(*hours, across), np.linspace(*years, upwards))


def map_by_fuel_price(work: Work) -> CostMap:
    """The map of the cheapest over hours and the fuel price."""
    scenario = scenario_of(work)
    base = without(work, FUEL, SPREAD) if scenario.use.hours_by_year else without(work, HOURS, FUEL, SPREAD)
    return _map_by_fuel_price(base, span_of_hours(work), span_of_prices(work))


def span_of_prices(work: Work) -> tuple[float, float]:
    """Fuel prices that a picture over them reaches to: twice the file's, or somewhat beyond today's. [money/L]"""
    stated, today = scenario_of(without(work, FUEL)).prices.fuel, scenario_of(work).prices.fuel
    highest = 2.0 * stated if today <= 1.9 * stated else 1.25 * today
    return 0.0, highest or 4.0


@kept
def _map_by_fuel_price(work: Work, hours: Span, prices: Span) -> CostMap:
    """The map of a work that says nothing of hours and the fuel price itself."""
    return map_over_fuel_price(scenario_of(work), np.linspace(*hours, PRICES[0]), np.linspace(*prices, PRICES[1]))


def stretches_by_years(work: Work) -> tuple[Stretch, ...]:
    """The cheapest engine over ownership years at the hours as set, as the command line tells it."""
    base = without(work, SPREAD) if scenario_of(work).use.hours_by_year else without(work, YEARS, SPREAD)
    return _stretches_by_years(base)


@kept
def _stretches_by_years(work: Work) -> tuple[Stretch, ...]:
    """Those of a work that says nothing of years itself."""
    scenario = scenario_of(work)
    return stretches(sweep_over_years(scenario), YEARS_FINE, names_of(scenario))


@kept
def stretches_by_fuel_price(work: Work) -> tuple[Stretch, ...]:
    """The cheapest engine over the fuel price, at the hours as set."""
    scenario = scenario_of(work)
    grid = np.linspace(*span_of_prices(work), 101)
    return stretches(swept(costs_over_fuel_price(scenario), grid), PRICE_FINE, names_of(scenario))


def chances(work: Work, is_fine: bool) -> ChanceCurve | None:
    """The chance of being the cheapest over hours a year; None where nothing varies."""
    scenario = scenario_of(work)
    if not something_varies(scenario):
        return None
    spread = scenario.use.spread
    in_proportion = spread is None or spread.shape in IN_PROPORTION
    base = without(work, HOURS) if in_proportion and not scenario.use.hours_by_year else without(work)
    low, high = span_of_hours(work)
    return _chances(base, (max(low, 0.01 * high), high), is_fine)


@kept
def _chances(work: Work, hours: tuple[float, float], is_fine: bool) -> ChanceCurve:
    """The chances of a work whose own hours do not matter."""
    points, trials = FINELY if is_fine else QUICKLY
    return chance_over_hours(scenario_of(work), _denser_below(*hours, points), SEED, trials=trials)


def _denser_below(low: float, high: float, points: int) -> NDArray[np.float64]:
    """Points that lie closer where hours are few, since chances change most there."""
    return low + (high - low) * np.linspace(0.0, 1.0, points) ** 1.5


@kept
def difference_of(work: Work) -> Difference | None:
    """What the next cheapest engine costs more than the cheapest over the trials; None where nothing varies."""
    run, found = run_of(work), comparison(work)
    if run is None or len(found.engines) < 2:
        return None
    order = sorted(range(len(found.engines)), key=lambda place: found.engines[place].total.present_value)
    return difference(run, order[0], order[1])


@kept
def swings_of(work: Work) -> Swings | None:
    """What swings the difference between the two engines of the answer; None with one, or where nothing varies."""
    scenario = scenario_of(work)
    return swings(scenario, SEED) if something_varies(scenario) else None


@kept
def flips_of(work: Work) -> tuple[FlipPoint, ...]:
    """The flip point of every input."""
    return flip_points(scenario_of(work))


def is_alone(scenario: Scenario) -> bool:
    """Whether there is a single engine, with nothing to compare."""
    return len(scenario.engines) < 2
