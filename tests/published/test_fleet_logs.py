"""Fits to logs against a reliability library's own test suite: power law from failures, mean cumulative repairs."""

import numpy as np
import pytest
from scipy.optimize import curve_fit

from model.fleet.power_law import fit_power_law, mean_cumulative_repairs, observed
from tests.published.figures import check
from tests.tolerances import half_last_digit

LEAST_SQUARES = 1e-6
"""Relative. A search for least squares stops when the sum no longer falls: half the digits of a float."""


def test_a_power_law_from_one_system() -> None:
    # Failure terminated: the observation ends at the last failure.
    inputs, answer, tolerance = check("R-N01")
    times = inputs["times"]

    found = fit_power_law(observed(times, [0.0], [times[-1]]))

    assert found is not None
    assert found.shape == pytest.approx(answer["beta"], abs=tolerance)
    assert found.scale**-found.shape == pytest.approx(answer["lambda"], abs=tolerance)
    assert 1.0 - found.shape == pytest.approx(answer["growth_rate"], abs=tolerance)
    assert found.shape_interval[0] < found.shape < found.shape_interval[1]


def test_mean_cumulative_repairs_of_several_systems() -> None:
    inputs, answer, tolerance = check("R-N04")
    repairs = [age for system in inputs["systems"] for age in system[:-1]]
    ends = [system[-1] for system in inputs["systems"]]

    ages, repaired = mean_cumulative_repairs(repairs, np.zeros(len(ends)), ends)

    assert repaired.sum() == pytest.approx(answer["sum_of_MCF_points"], abs=tolerance)
    # The library fits its power law to these points by least squares; their digits are those of its own search.
    (alpha, beta), _ = curve_fit(lambda age, alpha, beta: (age / alpha) ** beta, ages, repaired, p0=(12.0, 1.7))
    assert alpha == pytest.approx(answer["power_law_alpha_from_MCF_fit"], rel=LEAST_SQUARES)
    assert beta == pytest.approx(answer["beta"], rel=LEAST_SQUARES)


def test_one_power_law_for_several_systems() -> None:
    # No printed answer: recomputed apart by the likelihood of all systems together; its scale is cut, not rounded.
    inputs, _, _ = check("R-N04")
    repairs = [age for system in inputs["systems"] for age in system[:-1]]
    ends = [system[-1] for system in inputs["systems"]]

    found = fit_power_law(observed(repairs, np.zeros(len(ends)), ends))

    assert found is not None
    assert found.scale == pytest.approx(13.2980936, abs=half_last_digit(7, rounded_on_the_way=True))
    assert found.shape == pytest.approx(1.86068132, abs=half_last_digit(8))
    assert found.failures == len(repairs)
