"""Economic life: the replacement age with the lowest equivalent annual cost, and how it moves with hours.

Source: any textbook of engineering economics, "economic service life": the equivalent annual cost of owning an engine
for 1, 2, ... years, purchase, running, repairs, the end of cover, downtime and resale taken together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.case import Case, money_rules, prepare
from model.cheapest import at_ownership_years
from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.levels import AS_STATED, Levels
from model.measures import equivalent_annual_cost, total_by_year
from model.ownership import own

Amounts = NDArray[np.float64]

ABOUT_EQUAL = 0.02
"""Ages whose cost is within this share of the lowest are about as good. [-]"""

HOURS_FACTORS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
"""Hours a year at which the best age is told, over those stated. [-]"""

LATEST_AGE = 40.0
"""To which ages are looked at beyond a range, where those at its end are about as good as the best. [year]"""

FINEST_METER = 1e-6
"""To which the best meter reading is found, as a share of it. [-]"""


@dataclass(frozen=True)
class EconomicLife:
    """Equivalent annual cost of one engine by replacement age."""

    ages: tuple[float, ...]
    """Replacement ages, rising. [year]"""
    costs: tuple[float, ...]
    """Equivalent annual cost at each, in delivery-day money. [money/year]"""

    @property
    def best_age(self) -> float:
        """The age with the lowest cost, the first of equals. [year]"""
        return self.ages[int(np.argmin(self.costs))]

    @property
    def goes_on(self) -> bool:
        """Whether the ages looked at end within those about as good: later may be as good as well."""
        return self.about_as_good[1] == self.ages[-1]

    @property
    def about_as_good(self) -> tuple[float, float]:
        """The ages around the best whose cost is within 2 % of its. [year]"""
        best = int(np.argmin(self.costs))
        most = self.costs[best] + ABOUT_EQUAL * abs(self.costs[best])
        low = high = best
        while low > 0 and self.costs[low - 1] <= most:
            low -= 1
        while high < len(self.costs) - 1 and self.costs[high + 1] <= most:
            high += 1
        return self.ages[low], self.ages[high]


def life_of(ages: Sequence[float], present_values: ArrayLike, real_rate: float) -> EconomicLife:
    """
    Equivalent annual costs from what owning to each age comes to.

    Parameters
    ----------
    ages : sequence of float
        Replacement ages, above 0, rising. [year]
    present_values : array_like, shape (age,)
        Total cost of ownership to each age, resale taken off. [money]
    real_rate : float
        Discount rate after inflation. [1/year]

    Returns
    -------
    EconomicLife
    """
    values = np.asarray(present_values, dtype=float)
    costs = [equivalent_annual_cost(float(value), real_rate, age) for age, value in zip(ages, values, strict=True)]
    return EconomicLife(tuple(ages), tuple(costs))


def ages_of(scenario: Scenario) -> tuple[float, ...]:
    """Whole replacement ages within a scenario's range of ownership years; its ends where it holds none. [year]"""
    low, high = scenario.range.ownership_years
    return tuple(float(age) for age in range(int(np.ceil(low)), int(high) + 1)) or (low, high)


def owned_to(scenario: Scenario, engine: Engine, age: float) -> Case:
    """A new engine of a scenario owned up to an age, as a case. [year]"""
    longer = at_ownership_years(scenario, age)
    return prepare(longer, engine)


def present_values_to(
    scenario: Scenario, engine: Engine, age: float, hours: ArrayLike, levels: Levels = AS_STATED
) -> Amounts:
    """
    Total cost of ownership of a new engine up to an age.

    Parameters
    ----------
    scenario : Scenario
    engine : Engine
    age : float
        Replacement age. [year]
    hours : array_like, shape (..., year)
        Hours of a full year, for every begun year to that age at least. [h/year]
    levels : Levels
        Of the rows, fuel of shape (..., year) or (...).

    Returns
    -------
    ndarray, shape (...)
        Present value, resale taken off. [money]
    """
    case = owned_to(scenario, engine, age)
    begun = case.scenario.ownership.begun_years
    fuel = np.asarray(levels.fuel)
    own_levels = Levels(
        fuel[..., :begun] if fuel.ndim else fuel, levels.parts, levels.labour, levels.fuel_burn, levels.resale
    )
    rows = np.ascontiguousarray(np.asarray(hours, dtype=float)[..., :begun])
    return np.asarray(total_by_year(own(case, rows, own_levels)).present_value.sum(axis=-1))


def economic_lives(
    scenario: Scenario, engine: Engine, hours: ArrayLike, levels: Levels = AS_STATED
) -> tuple[EconomicLife, ...]:
    """
    Economic life of a new engine at each of several numbers of hours a year.

    Parameters
    ----------
    scenario : Scenario
        Its range of ownership years gives the ages.
    engine : Engine
    hours : array_like, shape (n,)
        Hours a year. [h/year]
    levels : Levels
        Of all rows.

    Returns
    -------
    tuple of EconomicLife
        One for each number of hours.
    """
    return _lives_to(scenario, engine, hours, levels, ages_of(scenario))


def _lives_to(
    scenario: Scenario, engine: Engine, hours: ArrayLike, levels: Levels, ages: tuple[float, ...]
) -> tuple[EconomicLife, ...]:
    """The same over any ages, rising. [year]"""
    rows = np.repeat(np.asarray(hours, dtype=float)[:, None], int(np.ceil(ages[-1])), axis=1)
    values = np.array([present_values_to(scenario, engine, age, rows, levels) for age in ages])
    real_rate = money_rules(scenario).real_rate
    return tuple(life_of(ages, values[:, row], real_rate) for row in range(rows.shape[0]))


def best_ages(
    scenario: Scenario, engine: Engine, hours: Sequence[float], levels: Levels = AS_STATED
) -> tuple[float | None, ...]:
    """
    Best replacement age of a new engine at each of several numbers of hours a year, wherever a range ends.

    Where the ages of the range end within those about as good, what follows may cost less: ages to `LATEST_AGE` are
    looked at too.

    Parameters
    ----------
    scenario : Scenario
        Its range of ownership years gives the ages that are looked at first.
    engine : Engine
    hours : sequence of float
        Hours a year. [h/year]
    levels : Levels
        Of all rows.

    Returns
    -------
    tuple of float or None
        One for each number of hours; None where cost still falls at the last age looked at. [year]
    """
    lives = dict(zip(hours, economic_lives(scenario, engine, hours, levels), strict=True))
    ages = ages_of(scenario)
    beyond = tuple(float(age) for age in range(int(ages[-1]) + 1, int(LATEST_AGE) + 1))
    open_ended = [hour for hour, life in lives.items() if life.goes_on]
    if beyond and open_ended:
        lives |= zip(open_ended, _lives_to(scenario, engine, open_ended, levels, ages + beyond), strict=True)
    return tuple(None if life.best_age == life.ages[-1] else life.best_age for life in lives.values())


@dataclass(frozen=True)
class BestMeter:
    """The replacement reading of the meter with the lowest equivalent annual cost."""

    meter_hours: float
    """The reading. [h]"""
    cost_per_hour: float
    """Equivalent annual cost over hours a year. [money/h]"""


def best_meter_hours(scenario: Scenario, engine: Engine, hours: float, levels: Levels = AS_STATED) -> BestMeter | None:
    """
    The best replacement reading of the meter at a number of hours a year, looked for between whole years too.

    Parameters
    ----------
    scenario : Scenario
        Its range of ownership years bounds the search.
    engine : Engine
    hours : float
        Hours a year. [h/year]
    levels : Levels

    Returns
    -------
    BestMeter or None
        None at zero hours.
    """
    from scipy.optimize import minimize_scalar

    if hours <= 0.0:
        return None
    real_rate = money_rules(scenario).real_rate
    low, high = scenario.range.ownership_years
    row = np.full(int(np.ceil(high)) + 1, hours)

    def yearly(age: float) -> float:
        value = float(present_values_to(scenario, engine, float(age), row, levels))
        return equivalent_annual_cost(value, real_rate, float(age))

    grid = np.unique(np.append(np.arange(max(low, 0.25), high, 0.25), high))
    costs = np.array([yearly(age) for age in grid])
    best = int(np.argmin(costs))
    around = (float(grid[max(best - 1, 0)]), float(grid[min(best + 1, grid.size - 1)]))
    found = minimize_scalar(yearly, bounds=around, method="bounded", options={"xatol": FINEST_METER * grid[best]})
    age, cost = (float(found.x), float(found.fun)) if found.fun < costs[best] else (float(grid[best]), costs[best])
    return BestMeter(age * hours, float(cost) / hours)
