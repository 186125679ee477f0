"""Break-even in hours a year and in ownership years: the cheapest engine over a range, and where that changes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.break_even import BreakEvenYears, break_even_years, first_cost, mid_year_cost
from model.case import Case, over_another_period, prepare
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.measures import total_by_year
from model.ownership import fuel, own
from model.sweep import CUTS, Costs, Stretch, Sweep, changes, stretches, swept
from model.usage import hours_run

Amounts = NDArray[np.float64]

HOURS_STEP = 1.0
"""Grid of the search over hours a year. [h/year]"""

HOURS_FINE = 0.01
"""To which a change is found. [h/year]"""

YEARS_STEP = 0.5
"""Grid of the search over ownership years. [year]"""

YEARS_FINE = 0.01
"""To which a change is found. [year]"""


def hours_rows(scenario: Scenario, hours: Amounts) -> Amounts:
    """
    Hours by year at other yearly means, `hours_by_year` scaled in proportion.

    Parameters
    ----------
    scenario : Scenario
    hours : ndarray, shape (n,)
        Mean hours a year. [h/year]

    Returns
    -------
    ndarray, shape (n, year)
        Hours of a full year. [h/year]
    """
    stated = np.array(scenario.hours())
    mean = scenario.mean_hours()
    pattern = stated / mean if mean > 0.0 else np.ones_like(stated)
    return np.asarray(np.asarray(hours, dtype=float)[:, None] * pattern)


def present_values(cases: Sequence[Case], hours: Amounts) -> Amounts:
    """
    Total cost of ownership in present value of each engine at other yearly hours.

    Parameters
    ----------
    cases : sequence of Case
        Engines of one scenario.
    hours : ndarray, shape (n,)
        Mean hours a year. [h/year]

    Returns
    -------
    ndarray, shape (engine, n)
        Costs. [money]
    """
    rows = hours_rows(cases[0].scenario, hours)
    return np.array([total_by_year(own(case, rows)).present_value.sum(axis=-1) for case in cases])


def _fuel_values(cases: Sequence[Case], hours: Amounts) -> Amounts:
    """What the fuel of each engine comes to at other yearly hours, in present value, shape (engine, n). [money]"""
    rows = hours_rows(cases[0].scenario, hours)
    return np.array([fuel(case, hours_run(rows, case.years)).present_value.sum(axis=-1) for case in cases])


def at_ownership_years(scenario: Scenario, years: float) -> Scenario:
    """The scenario over another ownership period; the last year's hours go on."""
    longer = scenario.changed({("ownership", "years"): years})
    stated, begun = scenario.use.hours_by_year, longer.ownership.begun_years
    if stated is None:
        return longer
    by_year = (stated + (stated[-1],) * begun)[:begun]
    return longer.changed({("use", "hours_by_year"): by_year})


def hours_grid(scenario: Scenario) -> Amounts:
    """The range of hours a year in steps, its end included. [h/year]"""
    return _steps(scenario.range.hours_per_year, HOURS_STEP)


def years_grid(scenario: Scenario) -> Amounts:
    """The range of ownership years in steps, its end included. [year]"""
    return _steps(scenario.range.ownership_years, YEARS_STEP)


def _steps(ends: tuple[float, float], step: float) -> Amounts:
    """Points a step apart from one end to the other; the last step may be shorter."""
    points = np.arange(*ends, step)
    return np.append(points[points < ends[1] - 1e-9 * step], ends[1])  # rounding may have brought one too many


def costs_over_hours(scenario: Scenario) -> Costs:
    """Costs of every engine as a function of hours a year."""
    cases = _cases(scenario)
    return lambda hours: present_values(cases, hours)


def all_but_fuel_over_hours(scenario: Scenario) -> Amounts:
    """
    What everything but fuel comes to over the range of hours a year, whatever the price of fuel is.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    ndarray, shape (engine, n)
        Present values at the points of `hours_grid`. [money]
    """
    return _all_but_fuel(_cases(scenario), hours_grid(scenario))


def _all_but_fuel(cases: Sequence[Case], hours: Amounts) -> Amounts:
    """What everything but fuel of each engine comes to at other yearly hours, shape (engine, n). [money]"""
    rows = hours_rows(cases[0].scenario, hours)
    totals = (total_by_year(own(case, rows), left_out=(Element.FUEL,)) for case in cases)
    return np.array([total.present_value.sum(axis=-1) for total in totals])


def sweep_over_hours(scenario: Scenario, all_but_fuel: Amounts | None = None) -> Sweep:
    """
    Costs of every engine over the range of hours a year, at every step of the search.

    Parameters
    ----------
    scenario : Scenario
    all_but_fuel : ndarray, shape (engine, n), optional
        From `all_but_fuel_over_hours` of the same scenario at any price of fuel, where it is known. [money]

    Returns
    -------
    Sweep
    """
    cases, grid = _cases(scenario), hours_grid(scenario)
    others = _all_but_fuel(cases, grid) if all_but_fuel is None else all_but_fuel
    return Sweep(grid, others + _fuel_values(cases, grid), lambda hours: present_values(cases, hours), CUTS)


def _cases(scenario: Scenario) -> list[Case]:
    """Every engine of a scenario, made ready."""
    return [prepare(scenario, engine) for engine in scenario.engines]


def costs_over_years(scenario: Scenario) -> Costs:
    """Costs of every engine on the stated hours as a function of ownership years."""
    cases = _cases(scenario)

    def total(years: float) -> Amounts:
        there = at_ownership_years(scenario, years)
        return present_values(_over(cases, there), np.array([there.mean_hours()]))[:, 0]

    return lambda years: np.array([total(float(year)) for year in years]).reshape(-1, len(cases)).T


def sweep_over_years(scenario: Scenario) -> Sweep:
    """Costs of every engine on the stated hours over the range of ownership years."""
    return swept(costs_over_years(scenario), years_grid(scenario), cuts=2)  # each point takes as long as the last


def costs_over_hours_and_years(scenario: Scenario) -> Callable[[Amounts, Amounts], Amounts]:
    """
    Costs of every engine as a function of hours a year and ownership years; the last year's hours go on.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    function
        Mean hours, shape (n,), and years, shape (m,) -> present values, shape (engine, m, n).
    """
    cases = _cases(scenario)

    def row(hours: Amounts, years: float) -> Amounts:
        return present_values(_over(cases, at_ownership_years(scenario, years)), hours)

    return lambda hours, years: np.stack([row(hours, float(year)) for year in years], axis=1)


def _over(cases: Sequence[Case], scenario: Scenario) -> list[Case]:
    """The same engines over the ownership period of another scenario."""
    return [over_another_period(case, scenario) for case in cases]


@dataclass(frozen=True)
class Pair:
    """A challenger against the baseline."""

    challenger: str
    """The other engine."""
    costs_more_to_buy: bool
    """Whether its price and fit-up are the higher ones; not so only against a baseline that was asked for."""
    years: BreakEvenYears
    """When it has paid back."""
    about_equal_hours: tuple[float, float] | None
    """First and last hours a year at which the two cost the same; None where they never do in the range."""


@dataclass(frozen=True)
class BreakEven:
    """Break-even of every engine of a scenario."""

    baseline: str
    """The engine with the lowest price and fit-up, or the one asked for."""
    pairs: tuple[Pair, ...]
    """Every other engine against it."""
    cheapest_by_hours: tuple[Stretch, ...]
    """Over hours a year. [h/year]"""
    cheapest_by_years: tuple[Stretch, ...]
    """Over ownership years. [year]"""


def break_even(scenario: Scenario, baseline: str | None = None) -> BreakEven:
    """
    Break-even in time, in hours a year and in ownership years.

    Parameters
    ----------
    scenario : Scenario
    baseline : str, optional
        Name of the baseline; the lowest price and fit-up of the whole boat where none is given.

    Returns
    -------
    BreakEven

    Raises
    ------
    KeyError
        If the baseline is no engine of the scenario.
    """
    names = [engine.name for engine in scenario.engines]
    costs = [mid_year_cost(scenario, name) for name in names]
    base = names.index(baseline) if baseline is not None else int(np.argmin([first_cost(cost) for cost in costs]))
    over_hours = sweep_over_hours(scenario)
    pairs = []
    for index, cost in enumerate(costs):
        if index == base:
            continue
        places = [place for place, _, _ in changes(over_hours.of(base, index), HOURS_FINE)]
        equal = (places[0], places[-1]) if places else None
        dearer = first_cost(cost) >= first_cost(costs[base])
        pairs.append(Pair(names[index], dearer, break_even_years(cost, costs[base]), equal))
    return BreakEven(
        names[base],
        tuple(pairs),
        stretches(over_hours, HOURS_FINE, names),
        stretches(sweep_over_years(scenario), YEARS_FINE, names),
    )
