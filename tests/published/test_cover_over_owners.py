"""Cover of 3 years or 300 h over owners who differ, by integration of the deterministic model over their hours.

No printed answers: closed forms with an independent numerical check, and 4,000,000 draws.
"""

from collections.abc import Callable
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.stats import norm

from model.case import prepare
from model.elements.cover import cover_ends
from model.repairs_and_cover import expected_repairs
from tests.published.figures import check
from tests.tiny import one_engine
from tests.tolerances import IDENTITY

MODE = {"name": "Failure", "clock": "hours", "scale": 1500.0, "shape": 1.5, "parts_price": 1.0}
ENGINE = {"repair": [MODE], "warranty": {"months": 36.0, "hours": 300.0}}
"""A repair costs 1, so that money paid counts failures."""

SMALLEST_YEARS = 1e-9
"""The owner at the kink itself, of whom there are none among the nodes, falls on the side of the years."""


@cache
def owners() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """
    Hours a year of owners spread lognormally, and their weights.

    Gauss-Legendre nodes in the normal deviate on either side of the owner whose cover ends by hours and by years at
    once, where what the cover pays has a kink.
    """
    usage, kink = check("R-W51").inputs["usage"], np.log(100.0)
    nodes, weights = np.polynomial.legendre.leggauss(200)
    edges = [-9.0, (kink - usage["mu"]) / usage["sigma"], 9.0]
    deviates, shares = [], []
    for low, high in pairwise(edges):
        z = 0.5 * (high - low) * nodes + 0.5 * (high + low)
        deviates.append(z)
        shares.append(0.5 * (high - low) * weights * norm.pdf(z))
    return np.exp(usage["mu"] + usage["sigma"] * np.concatenate(deviates)), np.concatenate(shares)


def over_owners(values: NDArray[np.float64]) -> float:
    """Mean over owners of one value each."""
    return float(np.sum(owners()[1] * values))


@cache
def failures() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Failures of each owner in ten years, and those that the warranty pays."""
    scenario = one_engine(ENGINE, ownership={"years": 10.0})
    rows = np.repeat(owners()[0][:, None], 10, axis=1)
    expected = expected_repairs(prepare(scenario, scenario.engines[0]), rows)
    return expected.failures.sum(axis=(-2, -1)), expected.covered.sum(axis=(-2, -1))


def cover_years() -> NDArray[np.float64]:
    """When each owner's cover ends. [year]"""
    scenario = one_engine(ENGINE, ownership={"years": 10.0})
    table = prepare(scenario, scenario.engines[0]).cover
    return np.array([cover_ends(np.full((1, 10), hours), 0, 0.0, 0.0, table)[0] for hours in owners()[0]])


def test_the_owners_are_the_stated_ones() -> None:
    usage = check("R-W51").inputs["usage"]
    hours = owners()[0]
    mean = over_owners(hours)

    assert mean == pytest.approx(usage["mean_h_per_year"], rel=IDENTITY)
    assert np.sqrt(over_owners((hours - mean) ** 2)) / mean == pytest.approx(usage["cv"], rel=IDENTITY)


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("E_total_failures_10y", lambda: over_owners(failures()[0])),
        ("E_covered_failures", lambda: over_owners(failures()[1])),
        ("E_owner_paid_failures_10y", lambda: over_owners(failures()[0] - failures()[1])),
        ("P(hours cap ends cover)", lambda: over_owners((cover_years() < 3.0 - SMALLEST_YEARS).astype(float))),
        ("E_cover_years", lambda: over_owners(cover_years())),
        ("E_cover_hours", lambda: over_owners(cover_years() * owners()[0])),
    ],
)
def test_covered_and_owner_paid_failures_over_owners(name: str, found: Callable[[], float]) -> None:
    _, answer, tolerance = check("R-W51")

    assert found() == pytest.approx(answer[name], abs=tolerance)


def test_a_calculation_on_mean_hours_says_less() -> None:
    # The trap that trials are for: the mean owner pays less than owners do on the mean.
    inputs, answer, tolerance = check("R-W59")
    scenario = one_engine(ENGINE, ownership={"years": 10.0}, use={"hours_per_year": float(inputs["mean_h_per_year"])})
    expected = expected_repairs(prepare(scenario, scenario.engines[0]), np.full(10, 100.0))

    assert expected.owner.sum() == pytest.approx(answer["owner_paid_at_mean_hours"], abs=tolerance)
    assert over_owners(failures()[0] - failures()[1]) == pytest.approx(
        answer["owner_paid_averaged_over_lognormal_cv_0.8"], abs=tolerance
    )
