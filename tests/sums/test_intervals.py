"""Coverage intervals by hand, and quantile standard errors against a bootstrap."""

import math

import numpy as np
import pytest

from model.uncertainty.adaptive import RUN, Stability, run_until_stable, tolerance
from model.uncertainty.intervals import distribution, mean_of, quantile_error, shortest, symmetric
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, standard_errors


def test_symmetric_interval_by_hand() -> None:
    # JCGM 101, 7.7: 100 values, q = 80, r = 10 counted from 1.
    ordered = np.arange(1.0, 101.0)

    assert symmetric(ordered, 0.8) == (10.0, 90.0)
    assert symmetric(ordered, 0.95) == (3.0, 98.0)


def test_shortest_interval_is_where_values_are_dense() -> None:
    values = np.concatenate([np.linspace(0.0, 1.0, 60), np.linspace(10.0, 100.0, 40)])

    assert shortest(values, 0.5) == pytest.approx((0.0, 50 / 59), rel=IDENTITY)


def test_few_trials_have_intervals() -> None:
    found = distribution([3.0, 1.0])

    assert (found.median.value, found.intervals[0.95]) == (2.0, (1.0, 3.0))
    assert distribution([4.0]).intervals[0.5] == (4.0, 4.0)


def test_never_stands_at_the_upper_end() -> None:
    found = distribution(np.append(np.arange(1.0, 80.0), np.full(21, np.inf)))

    assert found.mean.value == math.inf
    assert found.median.value == 50.5
    assert found.intervals[0.8] == (10.0, math.inf)
    assert math.isnan(found.interval_errors[0.8][1])


@pytest.mark.parametrize("share", [0.025, 0.1, 0.25, 0.5, 0.9, 0.975])
@pytest.mark.parametrize("number", [400, 3000])
def test_quantile_errors_are_a_bootstrap_s(share: float, number: int) -> None:
    generator = np.random.default_rng(12)
    values = np.sort(generator.lognormal(0.0, 0.8, number))
    place = min(int(share * (number + 1)), number) - 1
    resampled = np.sort(generator.choice(values, (2000, number)), axis=1)[:, place]

    found = quantile_error(values, share)

    # A standard deviation over 2000 resamples is known to one part in sqrt(4000) where the quantile is near normal;
    # at the ends of few values it is not, and the two differ by how they round the place.
    assert found == pytest.approx(resampled.std(ddof=1), rel=0.12 if number * min(share, 1 - share) > 50 else 0.35)


def test_quantile_errors_are_what_other_trials_move() -> None:
    draws = np.sort(np.random.default_rng(5).exponential(1.0, (400, 2000)), axis=1)
    ends = np.array([symmetric(row, 0.8) for row in draws])
    told = np.array([[quantile_error(row, 0.1), quantile_error(row, 0.9)] for row in draws])

    assert ends.std(axis=0, ddof=1) == pytest.approx(told.mean(axis=0), rel=4.0 / np.sqrt(2 * 400))


def test_means() -> None:
    found = mean_of([1.0, 3.0, 1.0, 3.0])

    assert (found.value, 4 * found.standard_error) == pytest.approx((2.0, standard_errors(4, [1.0, 3.0, 1.0, 3.0])))


@pytest.mark.parametrize(
    ("uncertainty", "digits", "allowed"),
    [(0.35, 2, 0.005), (0.35, 1, 0.05), (1234.0, 1, 500.0), (9.96, 2, 0.5), (9.94, 2, 0.05), (0.0, 2, 0.0)],
)
def test_numerical_tolerance(uncertainty: float, digits: int, allowed: float) -> None:
    # JCGM 101, 7.9.2, with examples of its kind: u = 0.35 is 35 x 10^-2, so half of 10^-2.
    assert tolerance(uncertainty, digits) == pytest.approx(allowed, rel=IDENTITY)


def test_stability_takes_two_runs() -> None:
    stability, values = Stability(1), np.random.default_rng(1).normal(size=(1, 2 * RUN))
    stability.add(values[:, :RUN])

    assert not stability.is_stable(values[:, :RUN])
    stability.add(values[:, RUN:])
    assert stability.is_stable(values)


def test_more_digits_take_more_trials() -> None:
    spread = {"shape": "lognormal", "variation": 0.6, "owner_share": 0.7}
    scenario = two_engines(use={"spread": spread})

    (one, is_stable), (two, _) = run_until_stable(scenario, 1), run_until_stable(scenario, 2)

    assert is_stable
    assert one.trials % RUN == 0
    assert two.trials > one.trials
