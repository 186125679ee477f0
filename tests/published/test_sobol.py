"""Sobol' indices of the Ishigami function: our estimator against the closed form, and beside a public library's."""

import numpy as np
import pytest
from numpy.typing import NDArray
from SALib.analyze import sobol as library

from model.uncertainty.sobol import indices
from tests.published.figures import check

TRIALS = 200_000


def ishigami(x: NDArray[np.float64]) -> NDArray[np.float64]:
    """The function, x of shape (trial, 3)."""
    first, second, third = x.T
    return np.asarray(np.sin(first) + 7.0 * np.sin(second) ** 2 + 0.1 * third**4 * np.sin(first))


def runs() -> tuple[NDArray[np.float64], NDArray[np.float64], list[NDArray[np.float64]]]:
    """Results of both matrices, and of the first with each column of the second."""
    first, second = np.random.default_rng(10).uniform(-np.pi, np.pi, (2, TRIALS, 3))
    mixed = []
    for column in range(3):
        swapped = first.copy()
        swapped[:, column] = second[:, column]
        mixed.append(ishigami(swapped))
    return ishigami(first), ishigami(second), mixed


def test_indices_are_the_closed_form_s() -> None:
    _, answer, _ = check("E-M10")
    first, second, mixed = runs()

    for column, of_column in enumerate(mixed):
        found = indices(first, second, of_column)
        alone, total = answer["S"][column], answer["ST"][column]
        assert found.first_order.value == pytest.approx(alone, abs=4 * found.first_order.standard_error)
        assert found.total.value == pytest.approx(total, abs=4 * found.total.standard_error)


def test_variance_and_mean_are_the_closed_form_s() -> None:
    _, answer, _ = check("E-M10")
    both = np.concatenate(runs()[:2])

    assert both.mean() == pytest.approx(answer["mean"], abs=4 * both.std() / np.sqrt(both.size))
    squares = (both - both.mean()) ** 2
    assert squares.mean() == pytest.approx(answer["variance"], abs=4 * squares.std() / np.sqrt(both.size))


def test_indices_are_the_library_s() -> None:
    first, second, mixed = runs()
    interleaved = np.column_stack([first, *mixed, second]).ravel()
    problem = {"num_vars": 3, "names": ["x1", "x2", "x3"], "bounds": [[-np.pi, np.pi]] * 3}
    theirs = library.analyze(problem, interleaved, calc_second_order=False, num_resamples=2, seed=1)

    ours = [indices(first, second, of_column) for of_column in mixed]

    # Both are the same formulas; they centre on slightly different means.
    for column, found in enumerate(ours):
        assert found.first_order.value == pytest.approx(theirs["S1"][column], abs=found.first_order.standard_error)
        assert found.total.value == pytest.approx(theirs["ST"][column], abs=found.total.standard_error)


def test_a_standard_error_is_what_other_trials_move() -> None:
    first, second, mixed = runs()
    parts = [indices(*(values.reshape(100, -1)[part] for values in (first, second, mixed[0]))) for part in range(100)]

    spread = np.std([part.first_order.value for part in parts], ddof=1)
    told = np.mean([part.first_order.standard_error for part in parts])
    assert spread == pytest.approx(told, rel=4.0 / np.sqrt(2 * 100))
