"""The cheapest engine over a range of anything, and where that changes: costs at a grid, then ever finer between."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Amounts = NDArray[np.float64]

Costs = Callable[[Amounts], Amounts]
"""Points of the range, shape (n,) -> costs, shape (engine, n)."""


CUTS = 16
"""Into how many pieces a gap is cut at each look for a change, where many points cost little more than one."""


@dataclass(frozen=True)
class Stretch:
    """A stretch of the range in which one engine is the cheapest."""

    begin: float
    """Where it begins."""
    end: float
    """Where it ends."""
    engine: str
    """The cheapest engine."""


@dataclass(frozen=True)
class Sweep:
    """Costs of engines over a range: at the points of a grid, and a way to ask for more."""

    grid: Amounts
    """Rising points, shape (n,)."""
    costs: Amounts
    """Costs at them, shape (engine, n). [money]"""
    between: Costs
    """The same at other points."""
    cuts: int
    """Into how many pieces a gap of the grid is cut at each look: many, where many points cost little more than one."""

    def of(self, *engines: int) -> "Sweep":
        """Some of the engines, by their positions."""
        chosen = list(engines)
        return Sweep(self.grid, self.costs[chosen], lambda points: self.between(points)[chosen], self.cuts)


def swept(costs: Costs, grid: Amounts, cuts: int = CUTS) -> Sweep:
    """
    Costs looked up at the points of a grid.

    Parameters
    ----------
    costs : function
        Points -> costs, shape (engine, n).
    grid : ndarray, shape (n,)
        Rising points.
    cuts : int
        Into how many pieces a gap is cut at each look for a change.

    Returns
    -------
    Sweep
    """
    return Sweep(grid, costs(grid), costs, cuts)


def _ranks(costs: Amounts) -> NDArray[np.int64]:
    """Position of the cheapest engine at each point, the first of equals."""
    return np.asarray(np.argmin(costs, axis=0))


def changes(sweep: Sweep, fine: float) -> list[tuple[float, int, int]]:
    """
    Where the cheapest engine changes, looked for between the points of a grid and then in ever smaller pieces.

    Parameters
    ----------
    sweep : Sweep
    fine : float
        To which each change is found.

    Returns
    -------
    list of (float, int, int)
        Place, and positions of the cheapest engine before and after it.
    """
    grid, rank, shares = sweep.grid, _ranks(sweep.costs), np.arange(1, sweep.cuts) / sweep.cuts
    gaps = np.flatnonzero(rank[1:] != rank[:-1])
    low, high, before = grid[gaps], grid[gaps + 1], rank[gaps]
    while gaps.size and np.max(high - low) > fine:
        points = low[:, None] + (high - low)[:, None] * shares
        changed = _ranks(sweep.between(points.ravel())).reshape(points.shape) != before[:, None]
        edges = np.column_stack([low, points, high])
        first = np.argmax(np.column_stack([changed, np.ones(gaps.size, dtype=bool)]), axis=1)
        rows = np.arange(gaps.size)
        low, high = edges[rows, first], edges[rows, first + 1]
    return [
        (float(place), int(rank[gap]), int(rank[gap + 1])) for place, gap in zip(0.5 * (low + high), gaps, strict=True)
    ]


def stretches(sweep: Sweep, fine: float, names: Sequence[str]) -> tuple[Stretch, ...]:
    """
    The cheapest engine over a range, as stretches in order.

    Parameters
    ----------
    sweep : Sweep
    fine : float
        To which each change is found.
    names : sequence of str
        Engines, in the order of the costs.

    Returns
    -------
    tuple of Stretch
    """
    found = changes(sweep, fine)
    edges = [float(sweep.grid[0]), *(place for place, _, _ in found), float(sweep.grid[-1])]
    order = [int(_ranks(sweep.costs[:, :1])[0]), *(after for _, _, after in found)]
    return tuple(
        Stretch(begin, end, names[engine]) for begin, end, engine in zip(edges[:-1], edges[1:], order, strict=True)
    )
