"""The replacement plan: dynamic programming against brute force, policies, and the yearly limit."""

import itertools
from collections.abc import Iterator
from typing import ClassVar

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.fleet.best_plan import Plan, StayCosts, best_plan, cost_of_plan
from model.fleet.fleet_file import FleetFile, PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.policies import cost_of_keeping, cost_of_waiting, why_due
from model.fleet.put_off import units_put_off
from model.fleet.replacement import cost_of_plan as cost_of_fleet
from model.fleet.replacement import limit_problems, never_bought, plan_fleet, waits
from model.fleet.stay_tables import stay_tables
from model.fleet.stays import Stay, case_of, lasting
from model.measures import cost_of
from tests.small_fleet import fleet_file, unit
from tests.tolerances import IDENTITY, REGRESSION

COSTS = st.integers(-50, 400).map(float)


def every_plan(horizon: int, candidates: int) -> Iterator[Plan]:
    """All plans there are: how long the engine found there stays, then every way to fill the rest."""

    def fill(year: int) -> Iterator[tuple[tuple[int, int, int], ...]]:
        if year == horizon:
            yield ()
        for years in range(1, horizon - year + 1):
            for candidate, rest in itertools.product(range(candidates), fill(year + years)):
                yield ((candidate, year, years), *rest)

    for first in range(horizon + 1):
        for bought in fill(first):
            yield Plan(0.0, first, bought)


@st.composite
def stay_costs(draw: st.DrawFn) -> StayCosts:
    """Any costs of stays over a few years with one or two candidates."""
    horizon, candidates = draw(st.integers(1, 5)), draw(st.integers(1, 2))
    held = np.array(draw(st.lists(COSTS, min_size=horizon + 1, max_size=horizon + 1)))
    new = np.full((candidates, horizon, horizon + 1), np.inf)
    for candidate, begin in itertools.product(range(candidates), range(horizon)):
        for years in range(1, horizon - begin + 1):
            new[candidate, begin, years] = draw(COSTS)
    return StayCosts(held, new)


@settings(max_examples=60)
@given(costs=stay_costs())
def test_dynamic_programming_equals_brute_force_over_all_plans(costs: StayCosts) -> None:
    plan = best_plan(costs)

    candidates, horizon = costs.new.shape[:2]
    assert plan.cost == pytest.approx(min(cost_of_plan(costs, other) for other in every_plan(horizon, candidates)))
    assert cost_of_plan(costs, plan) == pytest.approx(plan.cost, rel=IDENTITY)


def costs_of(file: FleetFile, *units_there: object) -> GroupCosts:
    """Costs of units on a fleet file; the usual unit where none is given."""
    return GroupCosts(file, units_there or (unit(),))  # type: ignore[arg-type]


@pytest.mark.parametrize("resale", [0.05, 0.3])
@pytest.mark.parametrize("hours", [20.0, 400.0])
def test_the_best_plan_of_a_unit_equals_brute_force(resale: float, hours: float) -> None:
    wearing = [{"name": "Wear", "clock": "hours", "scale": 300.0, "shape": 2.5, "parts_price": 500.0}]
    four = {"repair": wearing, "resale": {"yearly_decline": resale}}
    costs = costs_of(fleet_file({"trade_in": 0.9}, four), unit(hours_per_year=hours))

    found = plan_fleet(PolicyTerms(best_plan=True), costs)

    table = costs.stay_costs(0)
    brute = min(cost_of_plan(table, plan) for plan in every_plan(4, 2))
    assert cost_of_fleet(costs, found) == pytest.approx(brute, rel=IDENTITY)


def test_no_policy_beats_the_best_plan() -> None:
    wearing = [{"name": "Wear", "clock": "years", "scale": 2.0, "shape": 2.0, "parts_price": 700.0}]
    costs = costs_of(fleet_file(four={"repair": wearing}), unit("A"), unit("B", age=6.0), unit("C", "Two-stroke"))
    others = [{"keep": True}, {"at_age": 3.0}, {"at_meter_hours": 300.0}, {"at_economic_life": True}]

    best = cost_of_fleet(costs, plan_fleet(PolicyTerms(best_plan=True), costs))

    for terms in [*others, {"repair_share": 0.2}]:
        assert cost_of_fleet(costs, plan_fleet(PolicyTerms(**terms), costs)) >= best - 1e-9  # type: ignore[arg-type]


class TestPolicies:
    def stays(self, policy: dict[str, object], costs: GroupCosts) -> list[tuple[str, int, int]]:
        """Engine, begin and years of the first unit's stays."""
        (schedule, *_) = plan_fleet(PolicyTerms(**policy), costs).schedules  # type: ignore[arg-type]
        return [(stay.engine, stay.begin, stay.years) for stay in schedule]

    def test_at_an_age(self) -> None:  # two years old: three after one more; the new one is three at the end of year 4
        assert self.stays({"at_age": 3.0}, costs_of(fleet_file())) == [("Four-stroke", 0, 1), ("Four-stroke", 1, 3)]

    def test_already_past_the_age(self) -> None:
        costs = costs_of(fleet_file(), unit(age=7.0))

        assert self.stays({"at_age": 3.0}, costs) == [("Four-stroke", 0, 3), ("Four-stroke", 3, 1)]

    def test_at_meter_hours(self) -> None:  # 200 h and 100 h a year
        costs = costs_of(fleet_file())

        assert self.stays({"at_meter_hours": 400.0}, costs) == [("Four-stroke", 0, 2), ("Four-stroke", 2, 2)]

    def test_what_may_not_be_bought_is_replaced_by_the_first_candidate(self) -> None:
        costs = costs_of(fleet_file({"candidates": ["Four-stroke"]}), unit(engine="Two-stroke"))

        assert self.stays({"at_age": 3.0}, costs) == [("Two-stroke", 0, 1), ("Four-stroke", 1, 3)]

    def test_at_the_economic_life(self) -> None:
        # 6,000 to begin with, repairs that come to 2,000 x (t / 3)^2, no resale: the mean cost a year but for fuel,
        # 6,000 / t + 222 t, is lowest at 5.2 years; 2,311 a year at five, 2,333 at six.
        costs = costs_of(fleet_file(four=self.RISING), unit(age=4.0))

        assert costs.economic_life(0, "Four-stroke") == 5.0
        assert self.stays({"at_economic_life": True}, costs) == [("Four-stroke", 0, 1), ("Four-stroke", 1, 3)]

    RISING: ClassVar[dict[str, object]] = {
        "repair": [{"name": "Wear", "clock": "years", "scale": 3.0, "shape": 2.0, "parts_price": 2000.0}],
        "resale": None, "warranty": None, "service": None, "fit_up": 0.0,
    }  # fmt: skip

    def test_at_the_economic_life_nothing_is_due_while_cost_goes_on_falling(self) -> None:
        # No resale and no wear: the longer the better, however old.
        four = {"repair": [{"name": "Rest", "clock": "years", "scale": 1.0, "shape": 1.0}], "resale": None}
        costs = costs_of(fleet_file(four=four), unit(age=21.0))

        assert costs.economic_life(0, "Four-stroke") is None
        assert self.stays({"at_economic_life": True}, costs) == [("Four-stroke", 0, 4)]

    @pytest.mark.parametrize("latest", [2.0, 4.0, 8.0, 20.0])
    def test_the_economic_life_does_not_hang_on_where_the_range_ends(self, latest: float) -> None:
        file = fleet_file(four=self.RISING, range={"ownership_years": (1.0, latest)})

        assert costs_of(file).economic_life(0, "Four-stroke") == 5.0

    def test_when_one_repair_costs_too_much(self) -> None:
        # 1,200 against 6,000 x 0.8^age: 0.31 at two years, 0.39 at three, 0.49 at four.
        mode = {"name": "Block", "clock": "years", "scale": 5.0, "shape": 1.0, "parts_price": 1200.0}
        costs = costs_of(fleet_file(four={"repair": [mode], "warranty": None}))

        plan = plan_fleet(PolicyTerms(repair_share=0.4), costs)

        assert [(due.year, due.reason) for due in plan.bought] == [
            (2, "one repair costs 49 % of its value, limit 40 %")
        ]
        assert costs.one_repair_share(0, Stay("Four-stroke", 0, 4, True), 1) == pytest.approx(1200 / (6000 * 0.8**3))

    def test_a_share_just_above_its_limit_is_told_as_above(self) -> None:
        # 1,200 against 6,000 x 0.8^2 = 3,840: 31.25 %.
        mode = {"name": "Block", "clock": "years", "scale": 5.0, "shape": 1.0, "parts_price": 1200.0}
        costs = costs_of(fleet_file(four={"repair": [mode], "warranty": None}))

        reasons = [
            why_due(PolicyTerms(repair_share=share), costs, 0, Stay("Four-stroke", 0, 4, True), 0)
            for share in (0.3, 0.31, 0.312)
        ]

        assert [str(reason).split(" of ")[0] for reason in reasons] == [
            "one repair costs 31 %", "one repair costs 31.2 %", "one repair costs 31.25 %",
        ]  # fmt: skip

    def test_keep(self) -> None:
        assert self.stays({"keep": True}, costs_of(fleet_file(), unit(age=40.0))) == [("Four-stroke", 0, 4)]


class TestLimit:
    UNITS = tuple(unit(name, age=age) for name, age in (("A", 4.0), ("B", 9.0), ("C", 6.0)))

    def test_what_does_not_fit_is_put_off_oldest_first(self) -> None:
        costs = costs_of(fleet_file(), *self.UNITS)

        plan = plan_fleet(PolicyTerms(at_age=3.0), costs, limit=7000.0)  # 6,500 an engine with fit-up

        bought, put_off = (
            [(due.year, self.UNITS[due.place].name) for due in one] for one in (plan.bought, plan.put_off)
        )
        assert bought == [(0, "B"), (1, "C"), (2, "A"), (3, "B")]
        assert put_off == [(0, "C"), (0, "A"), (1, "A")]

    def test_no_year_spends_more_than_the_limit(self) -> None:
        costs = costs_of(fleet_file(), *self.UNITS, unit("D", "Two-stroke", age=8.0))

        for policy in (PolicyTerms(at_age=2.0), PolicyTerms(best_plan=True)):
            bought = plan_fleet(policy, costs, limit=13_500.0).bought
            assert all(sum(due.capital for due in bought if due.year == year) <= 13_500.0 for year in range(4))

    def test_a_limit_never_makes_the_best_plan_cheaper(self) -> None:
        wearing = [{"name": "Wear", "clock": "years", "scale": 2.0, "shape": 2.0, "parts_price": 900.0}]
        costs = costs_of(fleet_file(four={"repair": wearing}), *self.UNITS)
        best = PolicyTerms(best_plan=True)

        free, limited = (cost_of_fleet(costs, plan_fleet(best, costs, limit)) for limit in (None, 7000.0))

        assert plan_fleet(best, costs).bought
        assert limited > free

    def test_waiting_for_the_best_time_pays(self) -> None:
        costs = costs_of(fleet_file())
        (stay, *_) = plan_fleet(PolicyTerms(best_plan=True), costs).schedules[0]

        waits = [cost_of_waiting(costs, 0, Stay("Four-stroke", 0, 4, True), year) for year in range(stay.years)]

        assert all(wait < 0.0 for wait in waits)

    def test_the_best_plan_says_what_a_new_engine_saves(self) -> None:
        wearing = [{"name": "Wear", "clock": "years", "scale": 2.0, "shape": 2.0, "parts_price": 900.0}]
        costs = costs_of(fleet_file(four={"repair": wearing}), *self.UNITS)
        plan = plan_fleet(PolicyTerms(best_plan=True), costs)
        due = plan.bought[0]
        held = Stay("Four-stroke", 0, 4, is_held=True)

        kept = costs.stay_costs(due.place).held[4]
        saved = kept - costs.cost_of(due.place, plan.schedules[due.place])

        assert cost_of_keeping(costs, due.place, held, due.year) == pytest.approx(saved, rel=REGRESSION)
        assert due.reason.startswith(f"saves {saved:,.0f} EUR against keeping it")

    def test_too_small_to_ever_buy_one_engine_is_told_with_the_year(self) -> None:
        assert limit_problems(costs_of(fleet_file({"yearly_limit": 5500.0})), "fleet.toml") == []
        (problem,) = limit_problems(costs_of(fleet_file({"yearly_limit": 5499.0})), "fleet.toml")
        assert (problem.key, problem.found) == ("fleet.yearly_limit", "5,499")
        assert "2027" in problem.allowed

    def test_a_limit_that_prices_outgrow_is_told_with_that_year(self) -> None:
        file = fleet_file({"yearly_limit": 5700.0}, money={"inflation": 0.02})

        (problem,) = limit_problems(costs_of(file), "fleet.toml")  # 5,500 x 1.02^2 = 5,722

        assert "at least 5,722" in problem.allowed
        assert "2029" in problem.allowed


def test_stays_shared_between_units_are_those_of_each_unit_alone() -> None:
    file = fleet_file({"trade_in": 0.8}, money={"inflation": 0.02, "discount_rate": 0.05})
    units = [
        unit("A"),
        unit("B", hours_per_year=140.0, age=5.0),
        unit("C", "Two-stroke", hours_per_year=140.0, count=2),
        unit("D", hours_per_year=33.3, age=0.0, meter_hours=0.0),
    ]

    shared = stay_tables(file, units)

    for each, alone in ((one, stay_tables(file, [other])[0]) for one, other in zip(shared, units, strict=True)):
        assert np.array_equal(each.held, alone.held)
        assert each.new == pytest.approx(alone.new, rel=IDENTITY)


def test_a_stay_that_lasts_longer_is_made_of_a_shorter_ones_case() -> None:
    file = fleet_file(money={"inflation": 0.02})
    one, two = (Stay("Four-stroke", 0, years, is_held=True) for years in (1, 3))

    longer = lasting(case_of(file, unit(), one), two)

    assert longer.rules.flow_times.tolist() == case_of(file, unit(), two).rules.flow_times.tolist()
    assert longer.scenario == case_of(file, unit(), two).scenario


@pytest.mark.parametrize("trade_in", [1.0, 0.7])
def test_a_kept_engine_bought_now_is_the_single_comparison(trade_in: float) -> None:
    # A boat without a worthwhile engine: sold at once for nothing, a new one kept to the horizon.
    file = fleet_file({"trade_in": trade_in}, money={"inflation": 0.02, "discount_rate": 0.05})
    costs = costs_of(file)
    stay = Stay("Four-stroke", 0, 4, is_held=False)

    case = costs.cases.of(costs.units[0], stay)
    single = cost_of(case)

    sold = single.elements[list(single.elements)[-1]].present_value
    expected = single.total.present_value - (1.0 - trade_in) * sold
    assert costs.stay_costs(0).new[0, 0, 4] == pytest.approx(expected, rel=REGRESSION)


class TestWhatIsPutOff:
    UNITS = TestLimit.UNITS

    def test_a_wait_is_told_once_from_when_to_when(self) -> None:
        costs = costs_of(fleet_file(), *self.UNITS)

        found = waits(plan_fleet(PolicyTerms(at_age=3.0), costs, limit=7000.0))

        assert [(self.UNITS[one.first.place].name, one.first.year, one.until) for one in found] == [
            ("A", 0, 2), ("C", 0, 1),
        ]  # fmt: skip

    def test_a_wait_beyond_the_horizon_has_no_end(self) -> None:
        costs = costs_of(fleet_file({"horizon": 2}), *self.UNITS)

        found = waits(plan_fleet(PolicyTerms(at_age=3.0), costs, limit=7000.0))

        assert [(one.first.place, one.until) for one in found] == [(0, None), (2, 1)]

    def test_each_unit_is_told_once_with_what_waiting_costs_it(self) -> None:
        costs = costs_of(fleet_file(money={"inflation": 0.02, "discount_rate": 0.05}), *self.UNITS)
        policy = PolicyTerms(at_age=1.0)  # due every year, so that a unit waits more than once
        plan, free = (plan_fleet(policy, costs, limit) for limit in (7000.0, None))

        found = units_put_off(costs, plan, free)

        assert sorted(one.first.place for one in found) == sorted({wait.first.place for wait in waits(plan)})
        assert sum(one.times for one in found) == len(waits(plan)) > len(found)
        limit_costs = cost_of_fleet(costs, plan) - cost_of_fleet(costs, free)
        assert sum(one.costs for one in found) == pytest.approx(limit_costs, rel=REGRESSION)

    def test_what_waiting_costs_is_the_same_without_the_tables(self) -> None:
        units = (*self.UNITS, unit("D", "Two-stroke", age=0.0), unit("E", age=3.0))
        with_tables, without = (costs_of(fleet_file({"trade_in": 0.8}), *units) for _ in range(2))
        with_tables.stay_costs(0)
        plans = [plan_fleet(PolicyTerms(at_age=2.0), with_tables, limit) for limit in (7000.0, None)]

        one, other = (units_put_off(costs, plans[0], plans[1]) for costs in (with_tables, without))

        assert without.tables is None
        assert [each.costs for each in one] == pytest.approx([each.costs for each in other], rel=REGRESSION)

    def test_units_whose_engines_the_limit_never_allows(self) -> None:
        costs = costs_of(fleet_file({"yearly_limit": 7000.0}), unit("A"), unit("Twin", count=2))

        assert never_bought(costs) == (1,)
        assert never_bought(costs_of(fleet_file(), unit("A"))) == ()

    def test_the_engine_that_goes_is_the_one_that_is_there_then(self) -> None:
        costs = costs_of(fleet_file({"candidates": ["Four-stroke"]}), unit(engine="Two-stroke"))

        bought = plan_fleet(PolicyTerms(at_age=2.0), costs).bought

        assert [(due.year, due.gone, due.engine) for due in bought] == [
            (0, "Two-stroke", "Four-stroke"), (2, "Four-stroke", "Four-stroke"),
        ]  # fmt: skip

    def test_what_was_due_before_the_budget_begins_is_overdue(self) -> None:
        costs = costs_of(fleet_file(), unit(age=3.5), unit("B", age=4.0))

        bought = plan_fleet(PolicyTerms(at_age=3.0), costs).bought

        assert {due.place: due.is_overdue for due in bought if due.year == 0} == {0: False, 1: True}
        assert not any(due.is_overdue for due in bought if due.year > 0)
