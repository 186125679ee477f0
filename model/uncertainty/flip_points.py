"""Flip points: the value of one input, all others held, at which the cheapest engine changes.

On the stated hours and expected repairs, the sums of `compare`: put the value into the file, and the two engines cost
the same. Looked for on a grid over the input's range, then by Brent's method between two of its points.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.inputs.scenario import Scenario
from model.uncertainty.searchable import Input, inputs

Amounts = NDArray[np.float64]

SMALLEST_SHARE = 1e-12
"""To which a flip is found, as a share of the range."""


@dataclass(frozen=True)
class FlipPoint:
    """Where one input changes the cheapest engine."""

    input: Input
    """The input."""
    value: float | None
    """The value nearest to today's at which the cheapest engine changes; None where none in the range does."""
    cheapest_now: str
    """The cheapest engine today."""
    cheapest_beyond: str | None
    """The cheapest just beyond the value."""


def flip_points(scenario: Scenario) -> tuple[FlipPoint, ...]:
    """
    The flip point of every input of a scenario.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    tuple of FlipPoint
        Empty with a single engine.
    """
    if len(scenario.engines) < 2:
        return ()
    names = [engine.name for engine in scenario.engines]
    return tuple(flip_point(one, names) for one in inputs(scenario))


def flip_point(one: Input, names: Sequence[str]) -> FlipPoint:
    """
    The flip of one input nearest to today's value, on either side.

    Parameters
    ----------
    one : Input
    names : sequence of str
        What its costs are the costs of, in their order.

    Returns
    -------
    FlipPoint
    """
    grid = np.linspace(*one.span, one.steps + 1)
    now = int(np.argmin(one.costs(np.array([one.today]))[:, 0]))
    sides = (grid[grid < one.today][::-1], grid[grid > one.today])
    found = [flip for points in sides if (flip := _first_change(one, now, points)) is not None]
    if not found:
        return FlipPoint(one, None, names[now], None)
    value, beyond = min(found, key=lambda flip: abs(flip[0] - one.today))
    return FlipPoint(one, value, names[now], names[beyond])


def _first_change(one: Input, now: int, points: Amounts) -> tuple[float, int] | None:
    """Where the engine cheapest today stops being it on the way from today's value, and which one then is."""
    from scipy.optimize import brentq

    points = np.append(one.today, points)
    gaps = np.flatnonzero(_behind(one.costs(points), now)[1:] > 0.0)
    if gaps.size == 0:
        return None
    inside, outside = (float(point) for point in points[gaps[0] : gaps[0] + 2])

    def behind(value: float) -> float:
        return float(_behind(one.costs(np.array([value])), now)[0])

    width = SMALLEST_SHARE * (one.span[1] - one.span[0])
    value = float(brentq(behind, inside, outside, xtol=width)) if behind(inside) < 0.0 else inside
    beyond = np.delete(one.costs(np.array([value + np.copysign(width, outside - inside)]))[:, 0], now)
    other = int(np.argmin(beyond))
    return value, other + (other >= now)


def _behind(costs: Amounts, now: int) -> Amounts:
    """What one engine costs more than the cheapest of the others, shape (n,). [money]"""
    return np.asarray(costs[now] - np.delete(costs, now, axis=0).min(axis=0))
