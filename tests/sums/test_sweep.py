"""Where the cheapest engine changes, on made-up lines of cost."""

import numpy as np
import pytest

from model.sweep import changes, stretches, swept

LINES = np.array([[0.0, 3.0], [10.0, 1.0], [40.0, 0.5]])
"""What three engines cost at none, and for each more; they cross at 5 and 60."""


def costs(points: np.ndarray) -> np.ndarray:
    """Their costs."""
    return LINES[:, :1] + LINES[:, 1:] * points


@pytest.mark.parametrize("cuts", [2, 3, 16])
@pytest.mark.parametrize("step", [1.0, 7.0, 33.0])
def test_three_engines_each_have_their_stretch(step: float, cuts: int) -> None:
    found = stretches(swept(costs, np.append(np.arange(0.0, 100.0, step), 100.0), cuts), 0.001, ["a", "b", "c"])

    assert [stretch.engine for stretch in found] == ["a", "b", "c"]
    assert [stretch.end for stretch in found] == pytest.approx([5.0, 60.0, 100.0], abs=0.001)


def test_some_engines_of_a_sweep_are_those_by_themselves() -> None:
    grid = np.arange(0.0, 101.0)

    found = changes(swept(costs, grid).of(0, 2), 0.001)

    assert found == changes(swept(lambda points: costs(points)[[0, 2]], grid), 0.001)
    assert [place for place, _, _ in found] == pytest.approx([16.0], abs=0.001)


def test_equal_engines_have_no_change() -> None:
    assert changes(swept(lambda x: np.array([x, x]), np.arange(0.0, 5.0)), 0.01) == []
