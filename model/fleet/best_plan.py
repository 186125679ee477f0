"""The best replacement plan of one unit by dynamic programming over whole budget years.

Source: Bellman, "Equipment replacement policy", Journal of the Society for Industrial and Applied Mathematics 3 (1955).
The cost of a stay (one engine from a year to its sale) is worked out whole, so the plan only chooses which stays follow
each other: with V(k) the lowest cost from year k on, when a new engine is bought then,
V(k) = min over engines and lengths n of cost(engine, k, n) + V(k + n), and V(horizon) = 0.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class StayCosts:
    """Present value of every stay that one unit may have."""

    held: Amounts
    """The engine found there, sold after 0, 1, ... years, shape (horizon + 1,). [money]"""
    new: Amounts
    """A candidate bought at the start of a year and sold after some years, shape (candidate, horizon, horizon + 1);
    infinite where there is no such stay. [money]"""


@dataclass(frozen=True)
class Onward:
    """The lowest cost from each year on, when a new engine is bought then."""

    costs: Amounts
    """Shape (horizon + 1,), 0 at the horizon. [money]"""
    candidates: NDArray[np.int64]
    """Best candidate bought then, shape (horizon,)."""
    years: NDArray[np.int64]
    """How long it stays, shape (horizon,). [year]"""


def onward(new: Amounts) -> Onward:
    """
    The lowest cost from each year on.

    Parameters
    ----------
    new : ndarray, shape (candidate, horizon, horizon + 1)
        As `StayCosts.new`. [money]

    Returns
    -------
    Onward
    """
    horizon = new.shape[1]
    costs = np.zeros(horizon + 1)
    candidates, years = np.zeros(horizon, np.int64), np.zeros(horizon, np.int64)
    for begin in range(horizon - 1, -1, -1):
        lengths = np.arange(1, horizon - begin + 1)
        choices = new[:, begin, lengths] + costs[begin + lengths]
        candidate, place = np.unravel_index(int(np.argmin(choices)), choices.shape)
        costs[begin], candidates[begin], years[begin] = choices[candidate, place], candidate, lengths[place]
    return Onward(costs, candidates, years)


@dataclass(frozen=True)
class Plan:
    """A replacement plan of one unit."""

    cost: float
    """Present value over the horizon, what engines are worth at its end taken off. [money]"""
    first: int
    """Years that the engine found there stays. [year]"""
    bought: tuple[tuple[int, int, int], ...]
    """Candidate, year in which it is bought, years that it stays. [-, year, year]"""


def best_plan(costs: StayCosts) -> Plan:
    """
    The plan with the lowest cost.

    Parameters
    ----------
    costs : StayCosts

    Returns
    -------
    Plan
        The first of equals: the engine found there goes as early as any.
    """
    after = onward(costs.new)
    choices = costs.held + after.costs
    first = int(np.argmin(choices))
    bought, year = list[tuple[int, int, int]](), first
    while year < costs.held.size - 1:
        bought.append((int(after.candidates[year]), year, int(after.years[year])))
        year += int(after.years[year])
    return Plan(float(choices[first]), first, tuple(bought))


def cost_of_plan(costs: StayCosts, plan: Plan) -> float:
    """Present value of any plan: its stays one after the other. [money]"""
    return float(costs.held[plan.first] + sum(costs.new[stay] for stay in plan.bought))
