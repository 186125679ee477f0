"""The difference between two engines over the trials, in bins."""

import numpy as np
import pytest

from model.uncertainty.difference import BINS, bin_edges, difference, round_step
from model.uncertainty.summary import chances_cheapest
from model.uncertainty.trials import TrialRun, run_trials
from tests.tiny import two_engines
from tests.tolerances import IDENTITY


@pytest.fixture(scope="module")
def run() -> TrialRun:
    return run_trials(
        two_engines(use={"spread": {"shape": "lognormal", "variation": 0.8}}, trials={"repairs": "drawn"}), 4096, seed=3
    )


def test_shares_are_those_of_the_trials(run: TrialRun) -> None:
    apart = np.sort(run.present[0] - run.present[1])

    found = difference(run, 1, 0)

    assert (found.cheaper, found.other) == ("Four-stroke", "Two-stroke")
    assert found.shares.sum() == pytest.approx(1.0, rel=IDENTITY)
    assert found.median == np.median(apart)
    assert found.share_cheaper == pytest.approx(chances_cheapest(run.present)[1].mean(), rel=IDENTITY)
    inner = slice(1, -1)
    counts = [np.sum((apart >= low) & (apart < high)) for low, high in zip(found.edges, found.edges[1:], strict=False)]
    assert found.shares[inner] == pytest.approx(np.array(counts)[inner] / run.trials, rel=IDENTITY)
    low, high = found.interval
    assert np.mean((apart >= low) & (apart <= high)) == pytest.approx(0.8, abs=2.0 / run.trials)


def test_zero_is_an_edge_and_the_sides_are_the_shares(run: TrialRun) -> None:
    found = difference(run, 1, 0)

    assert 0.0 in found.edges
    above = found.shares[found.edges[:-1] >= 0.0].sum()
    assert above == pytest.approx(found.share_cheaper, abs=1.0 / run.trials)
    assert difference(run, 0, 1).share_cheaper == pytest.approx(1.0 - found.share_cheaper, rel=IDENTITY)


def test_engines_that_cost_the_same_share_the_trials() -> None:
    same = two_engines({"name": "One"}, {"name": "Other"})
    twins = same.changed({("engines",): (same.engines[0], same.engines[0].model_copy(update={"name": "Other"}))})

    found = difference(run_trials(twins, 16), 0, 1)

    assert found.share_cheaper == 0.5
    assert found.shares.tolist() == [1.0]


@pytest.mark.parametrize(("low", "high"), [(-130.0, 240.0), (3.0, 3.0), (0.0, 0.0), (12345.0, 99999.0), (-0.02, 0.01)])
def test_edges_are_round_and_hold_both_ends(low: float, high: float) -> None:
    edges = bin_edges(low, high)
    step = edges[1] - edges[0]

    assert edges[0] <= low <= high <= edges[-1]
    assert len(edges) - 1 <= BINS + 2
    assert step == pytest.approx(round_step((high - low) / BINS), rel=IDENTITY)
