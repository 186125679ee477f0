"""Visits told in series: against exact fractions, one by one."""

from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.pace import meters_at_end
from model.visit_times import SERVICED_AND_SOLD, SOLD, Times, Timing, most_visits, no_times, visit_times
from model.walk import TaskCounts, mark_task
from tests.exact_walk import ExactWalk, Plan, Task
from tests.strategies import QUICK, YEARS, hours_by_year


def in_series(hours: list[float], end: tuple[float, int], every: tuple[float, float]) -> tuple[Times, list[bool]]:
    """Visits of one path, of a task that goes by months and hours of its own, and at which told ones it is done."""
    rows, timing = np.array([hours]), Timing(every[1], every[0], np.inf, np.inf, False, 0.0, 0.0, False)
    meters = meters_at_end(rows, end[0])
    most = most_visits(meters, end[0], timing)
    times = no_times(1, most, True)
    marks = np.zeros((visit_times(rows, meters, end, timing, times) - 1, 1), np.uint64)
    mark_task(TaskCounts(every[1], every[0], 0.0, 0.0, False), False, times, np.uint64(1), marks)
    return times, [bool(mark) for mark in marks[:, 0]]


def one_by_one(times: Times, is_done: list[bool]) -> NDArray[np.float64]:
    """Months and meter hours at which the task is done, shape (2, time)."""
    months: list[float] = []
    for visit, done in enumerate(is_done):
        before = [
            times.months[visit, 0] - place * times.apart[visit, 0] for place in range(int(times.more[visit, 0]) + 1)
        ]
        months += reversed(before) if done else []
    return np.array(months)


def exact(hours: list[float], end: tuple[float, int], every: tuple[float, float]) -> ExactWalk:
    """The same in fractions."""
    limit = tuple(None if np.isinf(one) else Fraction(str(one)) for one in every)
    plan = Plan(limit, [Task(limit)])  # type: ignore[arg-type]
    return ExactWalk(
        [Fraction(str(rate)) for rate in hours], Fraction(str(end[0])), plan, end[1] == SERVICED_AND_SOLD
    ).run()


EVERY = st.sampled_from([(np.inf, 50.0), (6.0, 50.0), (12.0, 100.0), (12.0, np.inf), (np.inf, 0.7)])


@QUICK
@given(every=EVERY, years=YEARS, ending=st.sampled_from([SOLD, SERVICED_AND_SOLD]), data=st.data())
def test_a_task_of_its_own_is_done_when_it_is_due(
    every: tuple[float, float], years: float, ending: int, data: Any
) -> None:
    hours, end = data.draw(hours_by_year(years)), (years, ending)
    walk = exact(hours, end, every)
    # Two values nearer than the tolerance without being equal are the same to the walk, by its own rule.
    assume(walk.closest > 10 * SMALLEST_HOURS)

    expected = [float(at[0]) for at, tasks, _ in walk.visits if tasks]

    np.testing.assert_allclose(
        one_by_one(*in_series(hours, end, every)), expected, rtol=0.0, atol=SMALLEST_MONTHS / 100
    )


@pytest.mark.parametrize(
    ("hours", "expected"),
    [
        ([100.0, 0.0, 0.0], [6.0]),  # due once more on the last day of the first year, but nothing is run after it
        ([100.0, 0.0, 100.0], [6.0, 12.0, 30.0]),
        ([200.0, 200.0], [3.0, 6.0, 9.0, 12.0, 15.0, 18.0, 21.0]),
        ([0.0, 0.0], []),
    ],
)
def test_where_a_visit_falls_on_the_end_of_a_year(hours: list[float], expected: list[float]) -> None:
    assert one_by_one(*in_series(hours, (float(len(hours)), SOLD), (np.inf, 50.0))) == pytest.approx(expected)


def test_a_year_of_even_visits_is_told_once() -> None:
    times, is_done = in_series([1000.0] * 10, (10.0, False), (6.0, 50.0))

    assert sum(1 + times.more[: len(is_done), 0]) == 199
    assert len(is_done) <= 20
