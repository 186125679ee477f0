"""Runs in the background: how far they are, what they have found, how they are stopped."""

from threading import Event

import pytest

from dashboard import jobs
from dashboard.jobs import Job, Jobs


def test_a_run_hands_over_what_it_finds_and_ends() -> None:
    runs = Jobs()

    def work(job: Job) -> None:
        job.tell("First", 1, 2)
        job.publish("half")
        job.publish("whole")

    job = runs.get(runs.start("key", work))

    assert job is not None
    assert job.over.wait(5)
    assert (job.result, job.version, job.stage, job.done, job.of) == ("whole", 2, "First", 1, 2)
    assert job.seconds_left() is not None


def test_a_run_that_is_stopped_ends_at_its_next_part_and_is_forgotten() -> None:
    runs, has_begun, goes_on = Jobs(), Event(), Event()
    reached = []

    def work(job: Job) -> None:
        has_begun.set()
        goes_on.wait(5)
        job.tell("Part", 1, 2)
        reached.append("the end")

    name = runs.start("key", work)
    job = runs.get(name)
    assert has_begun.wait(5)
    runs.stop(name)
    goes_on.set()

    assert job is not None
    assert job.over.wait(5)
    assert (runs.get(name), reached, job.failed) == (None, [], None)


def test_a_run_that_nobody_asks_for_any_more_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    runs = Jobs()
    monkeypatch.setattr(jobs, "FORGOTTEN_AFTER", -1.0)

    job = runs.get(runs.start("key", lambda job: job.publish("never")))

    assert job is not None
    assert job.over.wait(5)
    assert job.result is None


def test_what_goes_wrong_is_kept_for_whoever_asks() -> None:
    runs = Jobs()

    def work(_: Job) -> None:
        raise ValueError("no figures")

    job = runs.get(runs.start("key", work))

    assert job is not None
    assert job.over.wait(5)
    assert isinstance(job.failed, ValueError)


def test_the_oldest_run_makes_room(monkeypatch: pytest.MonkeyPatch) -> None:
    runs = Jobs()
    monkeypatch.setattr(jobs, "MOST_KEPT", 2)

    first, *others = [runs.start(number, lambda job: job.publish(1)) for number in range(3)]

    assert runs.get(first) is None
    assert all(runs.get(name) for name in others)


@pytest.mark.parametrize("name", [None, 3, "unknown", ["x"]])
def test_a_name_that_is_none_finds_nothing(name: object) -> None:
    runs = Jobs()
    runs.stop(name)

    assert runs.get(name) is None
