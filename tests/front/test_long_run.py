"""A long run in the background: told, stopped, and its figures the model's own."""

import json

import pytest

from dashboard import ids, long_run
from dashboard.jobs import Job, StoppedError
from dashboard.scenarios import scenario_of, start
from dashboard.work import Work
from model.inputs.scenario import Scenario
from model.uncertainty.summary import summarise
from model.uncertainty.trials import run_trials
from tests.front.works import tiny_work


@pytest.fixture
def fewer(monkeypatch: pytest.MonkeyPatch) -> int:
    """A run of a few chunks."""
    monkeypatch.setattr(long_run, "TRIALS", 20_000)
    monkeypatch.setattr(long_run, "AT_A_TIME", 2 * long_run.CHUNK)
    return 20_000


def test_its_figures_are_those_of_one_run(fewer: int) -> None:
    work, job = start(), Job("")

    long_run.run(work, job)

    told = summarise(run_trials(scenario_of(work), fewer, long_run.SEED))
    assert [engine.cost.mean.value for engine in job.result.engines] == [
        engine.cost.mean.value for engine in told.engines
    ]
    rows = json.loads(getattr(long_run.result(job.result), "data-table"))["rows"]
    assert [row[1][1] for row in rows] == [100.0 * engine.chance_cheapest.value for engine in told.engines]


def test_it_ends_soon_after_nobody_wants_it(fewer: int) -> None:
    job = Job("")
    job.stop.set()

    with pytest.raises(StoppedError):
        long_run.run(start(), job)

    assert job.result is None


def test_where_nothing_varies_nothing_is_run() -> None:
    assert "nothing that varies" in long_run.why_not(scenario_of(tiny_work()))


def test_what_does_not_fit_is_not_begun() -> None:
    scenario: Scenario = scenario_of(start().changed({"ownership.years": 60}))

    assert long_run.fits(scenario_of(start()))
    assert "memory" in long_run.why_not(scenario)


def test_the_number_of_trials_is_part_of_the_work() -> None:
    stored = {**start().as_data(), "trials": 20_000}

    assert long_run.work_of(stored) == Work(start().name, trials=20_000)
    assert long_run.work_of({**stored, "trials": 10**9}) == start()
    assert ids.TRIALS in str(long_run.choice(start()))
