"""The chance of being the cheapest over hours: at the stated hours it is the trials' own."""

import numpy as np
import pytest

from model.inputs.scenario import Scenario
from model.uncertainty.bands import chance_over_hours, chances_to_tell
from model.uncertainty.streams import CHUNK
from model.uncertainty.summary import chances_cheapest
from model.uncertainty.trials import run_trials
from tests.tiny import two_engines
from tests.tolerances import IDENTITY


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return two_engines(use={"spread": {"shape": "lognormal", "variation": 0.8}}, trials={"repairs": "drawn"})


@pytest.mark.parametrize("trials", [512, CHUNK])
def test_at_the_stated_hours_it_is_that_of_as_many_trials(scenario: Scenario, trials: int) -> None:
    run = run_trials(scenario, trials, seed=2)

    found = chance_over_hours(scenario, np.array([100.0]), seed=2, trials=trials)

    assert found.chances[:, 0] == pytest.approx(chances_cheapest(run.present).mean(axis=-1), rel=IDENTITY)


def test_fewer_trials_are_less_sure(scenario: Scenario) -> None:
    hours = np.array([20.0, 100.0, 300.0])

    few, many = (chance_over_hours(scenario, hours, trials=trials) for trials in (256, CHUNK))

    assert np.all(few.chances.sum(axis=0) == pytest.approx(1.0, rel=IDENTITY))
    assert np.all(np.abs(few.chances - many.chances) <= 4.0 * few.standard_errors + 1.0 / 256)
    assert few.standard_errors.max() == pytest.approx(4.0 * many.standard_errors.max(), rel=0.2)  # root of 16


def test_the_table_of_chances_runs_over_the_range_and_holds_the_stated_hours(scenario: Scenario) -> None:
    ranged = scenario.changed({("range", "hours_per_year"): (0.0, 300.0)})
    run = run_trials(ranged, CHUNK, seed=2)

    found = chances_to_tell(ranged, seed=2)

    assert found is not None
    assert found.hours.tolist() == pytest.approx([0.0, 30.0, 60.0, 90.0, 100.0, *range(120, 301, 30)], abs=IDENTITY)
    at_stated = found.chances[:, found.hours == 100.0][:, 0]
    assert at_stated == pytest.approx(chances_cheapest(run.present).mean(axis=-1), rel=IDENTITY)


def test_hours_at_which_failures_cannot_be_drawn_are_left_out(scenario: Scenario) -> None:
    modes = [engine.repair for engine in scenario.engines]
    assert any(modes)
    hasty = scenario.changed({("engines", 0, "repair", 0, "scale"): 0.05, ("range", "hours_per_year"): (0.0, 8000.0)})

    found = chances_to_tell(hasty)

    assert found is not None
    assert 0 < found.hours.size < 11
    assert found.hours.max() < 8000.0


def test_without_anything_that_varies_there_is_no_table() -> None:
    assert chances_to_tell(two_engines(trials={"repairs": "expected"})) is None
