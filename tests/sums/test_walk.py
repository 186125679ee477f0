"""The walk from visit to visit: against exact fractions, and that no task ever overruns."""

from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.case import prepare
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS
from model.visit_times import GOES_ON, SERVICED_AND_SOLD, SOLD
from model.walk import Visits, WalkPlan, visits_of
from tests.exact_walk import ExactWalk, Limit, Plan, Task
from tests.strategies import QUICK, YEARS, File, hours_by_year, plans, with_plan
from tests.tolerances import IDENTITY

BASE_PLAN: File = {
    "every": {"hours": 100.0, "months": 12.0},
    "first": {"hours": 20.0, "months": 1.0},
    "task": [
        {"name": "Oil", "every": {"hours": 100.0, "months": 12.0}, "first": True},
        {"name": "Filter", "every": {"hours": 200.0, "months": 24.0}},
        {"name": "Plugs", "every": {"hours": 400.0}},
        {"name": "Belt", "every": {"hours": 300.0, "months": 36.0}},
    ],
}


def exact_limit(every: File | None) -> Limit:
    """Months and hours of an interval."""
    every = every or {}
    return tuple(Fraction(str(every[kind])) if kind in every else None for kind in ("months", "hours"))  # type: ignore[return-value]


def exact_plan(plan: File) -> Plan:
    """The same plan in fractions."""
    at_visits = [task for task in plan["task"] if "by" not in task and "at_lay_up" not in task]
    return Plan(
        exact_limit(plan["every"]),
        [Task(exact_limit(task["every"]), task.get("first", False)) for task in at_visits],
        exact_limit(plan.get("first")),
        plan.get("count_from") == "first visit",
    )


def walk_plan(plan: File) -> WalkPlan:
    """The plan as the walk takes it."""
    scenario = with_plan(plan, 1.0, [0.0])
    walk = prepare(scenario, scenario.engines[0]).walk
    assert walk is not None
    return walk


def tasks_done(visits: Visits) -> list[tuple[int, ...]]:
    """Tasks of each visit by number."""
    return [tuple(task for task in range(62) if did >> task & 1) for did in visits.tasks.tolist()]


ENDING = st.sampled_from([SOLD, SERVICED_AND_SOLD])


def assert_same(visits: Visits, exact: ExactWalk) -> None:
    """Same visits, same tasks; positions to a hundredth of what counts as the same."""
    assert tasks_done(visits) == [tasks for _, tasks, _ in exact.visits]
    assert visits.is_first.tolist() == [is_first for _, _, is_first in exact.visits]
    months = [float(at[0]) for at, _, _ in exact.visits]
    meter = [float(at[1]) for at, _, _ in exact.visits]
    np.testing.assert_allclose(visits.months, months, rtol=0.0, atol=SMALLEST_MONTHS / 100)
    np.testing.assert_allclose(visits.meter, meter, rtol=0.0, atol=SMALLEST_HOURS / 100)


def check_rates(tenths: range, years: int) -> None:
    """Walk the base plan at even rates, in tenths of an hour a year."""
    plan, exact = walk_plan(BASE_PLAN), exact_plan(BASE_PLAN)
    for rate in tenths:
        visits = visits_of(np.full(years, rate / 10.0), float(years), SOLD, plan)
        assert_same(visits, ExactWalk([Fraction(rate, 10)], Fraction(years), exact).run())


class TestAgainstFractions:
    @pytest.mark.parametrize("years", [5, 10])
    def test_at_even_hours(self, years: int) -> None:
        check_rates(range(100, 12001, 61), years)

    @pytest.mark.slow
    @pytest.mark.parametrize(("years", "step"), [(5, 1), (10, 7)])
    def test_at_even_hours_in_small_steps(self, years: int, step: int) -> None:
        check_rates(range(100, 12001, step), years)

    @pytest.mark.parametrize("rate", [100.0, 142.3, 142.8, 200.0, 33.3, 400.0])
    def test_where_plain_floats_went_wrong(self, rate: float) -> None:
        check_rates(range(round(10 * rate), round(10 * rate) + 1), 5)

    @QUICK
    @given(plan=plans(), years=YEARS, ending=ENDING, data=st.data())
    def test_on_random_plans_and_uneven_hours(self, plan: File, years: float, ending: int, data: Any) -> None:
        hours = data.draw(hours_by_year(years))
        exact = ExactWalk(
            [Fraction(str(rate)) for rate in hours], Fraction(str(years)), exact_plan(plan), ending == SERVICED_AND_SOLD
        ).run()
        # Two values nearer than the tolerance without being equal are the same to the walk, by its own rule.
        assume(exact.closest > 10 * SMALLEST_HOURS)

        assert_same(visits_of(np.array(hours), years, ending, walk_plan(plan)), exact)


def overruns(visits: Visits, plan: WalkPlan, end: tuple[float, float], waits: bool = False) -> list[str]:
    """
    Tasks whose interval was overrun before the sale, as the record of visits shows it.

    With `waits`, what runs over before the first visit after delivery is none: no visit is made for a task alone.
    """
    found = []
    months, meter = visits.months.tolist(), visits.meter.tolist()
    first = (months[0], meter[0]) if months else end
    for task in range(plan.task_hours.size):
        done = [(-plan.task_since_months[task], -plan.task_since_hours[task])]
        for visit, did in enumerate(visits.tasks.tolist()):
            starts_here = plan.counts_from_first and visit == 0
            if did >> task & 1 or starts_here:
                done = done[:-1] if starts_here else done
                done.append((months[visit], meter[visit]))
        for before, after in zip(done, [*done[1:], end], strict=True):
            late_h = after[1] - before[1] - plan.task_hours[task] - 2 * SMALLEST_HOURS
            late_mo = after[0] - before[0] - plan.task_months[task] - 2 * SMALLEST_MONTHS
            is_before_first = waits and before is done[0] and after == first
            if (late_h > 0.0 or late_mo > 0.0) and not is_before_first:
                found.append(f"task {task}: {late_h} h, {late_mo} mo after {before}")
    return found


@QUICK
@given(plan=plans(), years=YEARS, data=st.data())
def test_where_ownership_goes_on_visits_are_those_of_a_longer_one(plan: File, years: float, data: Any) -> None:
    # The hours of the last year go on, and nobody knows of a sale when a visit is made.
    hours, walk = data.draw(hours_by_year(years)), walk_plan(plan)
    longer = visits_of(np.array(hours + 60 * hours[-1:]), years + 60.0, SOLD, walk)
    before = longer.months < 12.0 * years - SMALLEST_MONTHS
    assume(not before.all())  # else the last is made with the later sale in mind

    visits = visits_of(np.array(hours), years, GOES_ON, walk)

    assert visits.tasks.tolist() == longer.tasks[before].tolist()
    np.testing.assert_allclose(visits.months, longer.months[before], rtol=0.0, atol=SMALLEST_MONTHS / 100)
    np.testing.assert_allclose(visits.meter, longer.meter[before], rtol=0.0, atol=SMALLEST_HOURS / 100)


class TestNoTaskOverruns:
    @QUICK
    @given(plan=plans(), years=YEARS, ending=ENDING, data=st.data())
    def test_of_a_new_engine(self, plan: File, years: float, ending: int, data: Any) -> None:
        hours = np.array(data.draw(hours_by_year(years)))
        walk = walk_plan(plan)
        visits = visits_of(hours, years, ending, walk)
        run = float(sum(rate * min(1.0, years - year) for year, rate in enumerate(hours)))
        # Counts that start at a first visit which never comes have not started.
        end = (12.0 * years, run) if visits.months.size or not walk.counts_from_first else (0.0, 0.0)

        assert overruns(visits, walk, end) == []

    @QUICK
    @given(plan=plans(), years=YEARS, age=st.sampled_from([0.5, 2.0, 4.0, 11.0]), data=st.data())
    def test_of_a_used_engine_after_delivery(self, plan: File, years: float, age: float, data: Any) -> None:
        hours = np.array(data.draw(hours_by_year(years)))
        start = {"meter_hours": age * data.draw(st.sampled_from([0.0, 37.0, 100.0, 210.0])), "age": age}
        scenario = with_plan(plan, years, hours.tolist(), start=start)
        walk = prepare(scenario, scenario.engines[0]).walk
        assert walk is not None
        visits = visits_of(hours, years, SOLD, walk)
        run = float(sum(rate * min(1.0, years - year) for year, rate in enumerate(hours)))

        # Kept from new by the same rules, so nothing is overdue at delivery either. Used less or more than before, a
        # task may run over on the way to the first visit.
        assert (walk.task_since_months <= walk.task_months + SMALLEST_MONTHS).all()
        assert (walk.task_since_hours <= walk.task_hours + SMALLEST_HOURS).all()
        assert overruns(visits, walk, (12.0 * years, run), waits=True) == []


def test_a_used_engine_run_less_than_before_waits_for_its_first_visit() -> None:
    # 210 h a year for two years: visits every 40 h, at 400 h and 22.86 months the last. The task of 18 months was done
    # at 280 h, 16 months; not run any more, it falls due at 34 months, the yearly visit at 34.86.
    plan = {"every": {"hours": 40.0, "months": 12.0}, "task": [{"name": "Hoses", "every": {"months": 18.0}}]}
    scenario = with_plan(plan, 1.0, [0.0], start={"meter_hours": 420.0, "age": 2.0})
    walk = prepare(scenario, scenario.engines[0]).walk
    assert walk is not None

    visits = visits_of(np.zeros(1), 1.0, SOLD, walk)

    assert visits.months.tolist() == pytest.approx([34.0 + 6.0 / 7.0 - 24.0], rel=IDENTITY)
    assert tasks_done(visits) == [(0,)]


class TestEdges:
    def test_a_month_limit_before_an_hour_limit(self) -> None:
        visits = visits_of(np.full(3, 60.0), 3.0, SOLD, walk_plan(BASE_PLAN))

        assert visits.months.tolist() == [1.0, 12.0, 24.0]
        assert visits.meter.tolist() == [5.0, 60.0, 120.0]

    def test_zero_hours_still_have_yearly_service(self) -> None:
        visits = visits_of(np.zeros(4), 4.0, SOLD, walk_plan(BASE_PLAN))

        assert visits.months.tolist() == [1.0, 12.0, 24.0, 36.0]
        assert tasks_done(visits) == [(0,), (0,), (0, 1), (0, 3)]

    def test_a_first_visit_that_never_falls_due_is_the_first_routine_one(self) -> None:
        tasks = [{"name": "Seals", "every": {"months": 36.0}, "first": True}]
        plan = {"every": {"hours": 100.0, "months": 12.0}, "first": {"hours": 20.0}, "task": tasks}
        visits = visits_of(np.zeros(3), 3.0, SOLD, walk_plan(plan))

        assert visits.months.tolist() == [12.0, 24.0]
        assert tasks_done(visits) == [(0,), ()]

    def test_both_limits_met_together_are_one_visit(self) -> None:
        visits = visits_of(np.full(2, 100.0), 2.0, SOLD, walk_plan(BASE_PLAN))

        assert visits.months.tolist() == [1.0, 12.0]
        assert visits.meter.tolist()[1] == 100.0

    @pytest.mark.parametrize(("ending", "last"), [(SOLD, 12.0), (SERVICED_AND_SOLD, 24.0), (GOES_ON, 12.0)])
    def test_a_visit_that_falls_on_the_end(self, ending: int, last: float) -> None:
        visits = visits_of(np.full(2, 100.0), 2.0, ending, walk_plan(BASE_PLAN))

        assert visits.months[-1] == last

    def test_a_long_interval_at_few_hours_lasts_its_share_of_years(self) -> None:
        visits = visits_of(np.full(10, 80.0), 10.0, SOLD, walk_plan(BASE_PLAN))
        plugs = visits.months[[2 in done for done in tasks_done(visits)]]

        assert plugs.tolist() == [60.0]

    def test_a_used_engine_overdue_at_delivery_is_served_then(self) -> None:
        start = {"meter_hours": 200.0, "age": 2.0, "last_done": {"Plugs": {"hours": 0.0, "age": 0.0}}}
        plan = {**BASE_PLAN, "task": [{"name": "Plugs", "every": {"hours": 150.0}}]}
        scenario = with_plan(plan, 2.0, [50.0, 50.0], start=start)
        walk = prepare(scenario, scenario.engines[0]).walk
        assert walk is not None
        visits = visits_of(np.full(2, 50.0), 2.0, SOLD, walk)

        assert visits.months[0] == 0.0
        assert tasks_done(visits)[0] == (0,)
