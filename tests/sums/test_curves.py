"""The curve over hours, out of the search's own points."""

import numpy as np
import pytest

from model.cheapest import hours_grid
from model.curves import hours_curve
from model.sweep import swept
from tests.tiny import two_engines

LINES = np.array([[0.0, 3.0], [10.0, 1.0]])
"""What two made-up engines cost at no hours, and for each."""


def costs(hours: np.ndarray) -> np.ndarray:
    """Their costs."""
    return LINES[:, :1] + LINES[:, 1:] * hours


@pytest.mark.parametrize(
    ("low", "end", "high"),
    [
        (0.0, 500.0, 125.0),  # a quarter of the range, as many points as are wanted
        (0.0, 500.0, 500.0),  # all of it: every fourth
        (0.0, 450.0, 112.5),  # ends between two points
        (10.0, 90.5, 90.5),  # begins above nothing, ends with a shorter step
        (0.0, 500.0, 800.0),  # beyond the sweep
        (0.0, 20.0, 5.0),  # a range of few steps
        (0.7, 3.1, 3.1),
    ],
)
def test_it_reaches_from_begin_to_end_in_even_steps(low: float, end: float, high: float) -> None:
    grid = hours_grid(two_engines(range={"hours_per_year": [low, end], "ownership_years": [1.0, 6.0]}))

    curve = hours_curve(swept(costs, grid), high, 121)

    steps = np.diff(curve.hours)
    assert (curve.hours[0], curve.hours[-1]) == (low, high)
    assert np.all(steps > 0.0)
    assert steps[:-1].max() <= 2.0 * steps[:-1].min() + 1e-9
    assert steps[-1] <= steps.max()
    assert 60 <= curve.hours.size <= 242
    assert curve.costs == pytest.approx(costs(curve.hours))


@pytest.mark.parametrize(("low", "high"), [(0.0, 500.0), (19.7, 48.7), (0.7, 3.1), (10.0, 200.5)])
def test_the_search_looks_at_each_point_once(low: float, high: float) -> None:
    grid = hours_grid(two_engines(range={"hours_per_year": [low, high], "ownership_years": [1.0, 6.0]}))

    assert (grid[0], grid[-1]) == (low, high)
    assert np.all(np.diff(grid) > 1e-6)
