"""Service: counts of used engines, prices of visits, owner's tasks, lay-up, top-ups."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.case import prepare
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.visit_times import SOLD
from model.walk import visits_of
from tests.exact_walk import ExactWalk, Position
from tests.strategies import QUICK, File, plans, with_plan
from tests.sums.test_walk import exact_plan


def exact_counts(plan: File, age: Fraction, meter: Fraction) -> tuple[ExactWalk, list[Position]]:
    """Months and hours on the routine count and on each task when the plan is kept from new without an end."""
    endless = ExactWalk([meter / age], 4 * age, exact_plan(plan)).run()
    now, zero = (12 * age, meter), (Fraction(0), Fraction(0))
    done = [zero for _ in range(1 + len(endless.plan.tasks))]
    for at, tasks, is_first in endless.visits:
        if at[0] >= now[0]:
            break
        starts = is_first and endless.plan.counts_from_first
        merged_start = not is_first and endless.plan.counts_from_first and at == endless.visits[0][0]
        if not is_first or starts:
            done[0] = at
        for task in range(len(done) - 1):
            if task in tasks or starts or merged_start:
                done[1 + task] = at
    return endless, [(now[0] - at[0], now[1] - at[1]) for at in done]


class TestCountsOfAUsedEngine:
    @QUICK
    @given(
        plan=plans(),
        age=st.sampled_from([0.5, 1.0, 3.5, 5.25, 7.0, 11.0]),
        rate=st.sampled_from([0, 9, 25, 40, 100, 142, 210, 365]),
    )
    def test_are_what_the_plan_kept_from_new_leaves(self, plan: File, age: float, rate: int) -> None:
        endless, counts = exact_counts(plan, Fraction(str(age)), Fraction(str(age)) * rate)
        assume(endless.closest > 10 * SMALLEST_HOURS)
        scenario = with_plan(plan, 1.0, [0.0], start={"meter_hours": age * rate, "age": age})
        walk = prepare(scenario, scenario.engines[0]).walk

        assert walk is not None
        months = [walk.since_months, *walk.task_since_months]
        hours = [walk.since_hours, *walk.task_since_hours]
        np.testing.assert_allclose(months, [float(at[0]) for at in counts], rtol=0.0, atol=SMALLEST_MONTHS / 100)
        np.testing.assert_allclose(hours, [float(at[1]) for at in counts], rtol=0.0, atol=SMALLEST_HOURS / 100)

    def test_a_base_longer_than_a_year_looks_as_far_ahead(self) -> None:
        plan = {"every": {"months": 36.0}, "task": [{"name": "Hoses", "every": {"months": 60.0}}]}
        scenario = with_plan(plan, 1.0, [0.0], start={"meter_hours": 100.0, "age": 3.5})
        walk = prepare(scenario, scenario.engines[0]).walk

        assert walk is not None
        assert walk.task_since_months.tolist() == [6.0]  # done at 36 months, since 72 would have been too late

    @pytest.mark.parametrize(
        ("start", "months"),
        [
            ({"last_done": {"Grease": {"hours": 180.0, "age": 1.9}}}, [1.8, 4.8, 7.8, 10.8]),
            ({"last_done": {"Grease": {"hours": 100.0, "age": 1.0}}}, [0.0, 3.0, 6.0, 9.0]),
            ({"serviced": "all"}, [3.0, 6.0, 9.0]),
        ],
    )
    def test_the_owners_task_counts_from_its_last_time(self, start: File, months: list[float]) -> None:
        plan = {"every": {"months": 12.0}, "task": [{"name": "Grease", "every": {"hours": 25.0}, "by": "owner"}]}
        scenario = with_plan(plan, 1.0, [100.0], start={"meter_hours": 190.0, "age": 2.0} | start)
        (grease,) = prepare(scenario, scenario.engines[0]).dated_tasks

        assert grease.walk is not None
        visits = visits_of(np.array([100.0]), 1.0, SOLD, grease.walk)
        np.testing.assert_allclose(visits.months, months, rtol=0.0, atol=SMALLEST_MONTHS)
