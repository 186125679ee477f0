"""Maps of the cheapest engine: total cost over hours a year and ownership years, and over hours and fuel price.

A map is worked out row by row, each row many hours at once; what a fuel price changes is a straight line.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.cheapest import costs_over_hours, costs_over_hours_and_years
from model.inputs.scenario import Scenario
from model.sweep import Costs, Stretch, stretches, swept

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class CostMap:
    """Total cost of ownership in present value over hours a year and a second quantity."""

    hours: Amounts
    """Mean hours a year, rising, shape (n,). [h/year]"""
    other: Amounts
    """Ownership years or fuel price, rising, shape (m,). [year or money/L]"""
    costs: Amounts
    """Of each engine, shape (engine, m, n). [money]"""

    @property
    def cheapest(self) -> NDArray[np.int64]:
        """Position of the cheapest engine, the first of equals, shape (m, n)."""
        return np.asarray(np.argmin(self.costs, axis=0))

    @property
    def margin(self) -> Amounts:
        """What the next cheapest engine costs more, 0 with a single engine, shape (m, n). [money]"""
        if len(self.costs) == 1:
            return np.zeros(self.costs.shape[1:])
        least, next_least = np.partition(self.costs, 1, axis=0)[:2]
        return np.asarray(next_least - least)

    def lead(self, engine: int) -> Amounts:
        """
        What the cheapest of the others costs more than an engine: above 0 where the engine is the cheapest.

        Parameters
        ----------
        engine : int
            Its position; there are at least two.

        Returns
        -------
        ndarray, shape (m, n)
            [money]
        """
        return np.asarray(np.delete(self.costs, engine, axis=0).min(axis=0) - self.costs[engine])

    def borders(self) -> tuple[tuple[float, float], ...]:
        """
        Points at which the cheapest engine changes along the hours, between the points of the grid.

        Returns
        -------
        tuple of (float, float)
            Hours and the second quantity, row by row. [h/year, year or money/L]
        """
        found = []
        for row, value in enumerate(self.other.tolist()):
            rank = self.cheapest[row]
            for gap in np.flatnonzero(rank[1:] != rank[:-1]).tolist():
                ahead = self.costs[rank[gap + 1], row, gap : gap + 2] - self.costs[rank[gap], row, gap : gap + 2]
                share = float(ahead[0] / (ahead[0] - ahead[1]))
                found.append((float(self.hours[gap] + share * (self.hours[gap + 1] - self.hours[gap])), value))
        return tuple(found)


def stretches_at(found: CostMap, hours: float, names: Sequence[str]) -> tuple[Stretch, ...]:
    """
    The cheapest engine over the second quantity at some hours, read off a map straight between its points.

    Parameters
    ----------
    found : CostMap
    hours : float
        Within the map. [h/year]
    names : sequence of str
        Engines, in the order of the costs.

    Returns
    -------
    tuple of Stretch
        As near as the map's points are to one another.
    """
    place = np.clip(np.searchsorted(found.hours, hours) - 1, 0, found.hours.size - 2)
    share = (hours - found.hours[place]) / (found.hours[place + 1] - found.hours[place])
    column = (1.0 - share) * found.costs[:, :, place] + share * found.costs[:, :, place + 1]

    def costs(points: Amounts) -> Amounts:
        return np.array([np.interp(points, found.other, of_engine) for of_engine in column])

    fine = 1e-4 * float(found.other[-1] - found.other[0])
    return stretches(swept(costs, found.other), fine, names)


def map_over_years(scenario: Scenario, hours: Amounts, years: Amounts) -> CostMap:
    """
    The map over hours a year and ownership years; the last year's hours go on.

    Parameters
    ----------
    scenario : Scenario
    hours : ndarray, shape (n,)
        Mean hours a year, `hours_by_year` scaled in proportion. [h/year]
    years : ndarray, shape (m,)
        Ownership years. [year]

    Returns
    -------
    CostMap
    """
    return CostMap(hours, years, costs_over_hours_and_years(scenario)(hours, years))


def map_over_fuel_price(scenario: Scenario, hours: Amounts, prices: Amounts) -> CostMap:
    """
    The map over hours a year and the fuel price at delivery.

    Parameters
    ----------
    scenario : Scenario
    hours : ndarray, shape (n,)
        Mean hours a year, `hours_by_year` scaled in proportion. [h/year]
    prices : ndarray, shape (m,)
        Fuel prices. [money/L]

    Returns
    -------
    CostMap
    """
    at_none, at_one = (costs_over_hours(_at_fuel_price(scenario, price))(hours) for price in (0.0, 1.0))
    return CostMap(hours, prices, at_none[:, None] + prices[None, :, None] * (at_one - at_none)[:, None])


def costs_over_fuel_price(scenario: Scenario) -> Costs:
    """Costs of every engine on the stated hours as a function of the fuel price at delivery, a straight line."""
    mean = np.array([scenario.mean_hours()])
    at_none, at_one = map_over_fuel_price(scenario, mean, np.array([0.0, 1.0])).costs[:, :, 0].T
    return lambda prices: at_none[:, None] + (at_one - at_none)[:, None] * prices


def _at_fuel_price(scenario: Scenario, price: float) -> Scenario:
    """The scenario at another fuel price."""
    return scenario.changed({("prices", "fuel"): price})
