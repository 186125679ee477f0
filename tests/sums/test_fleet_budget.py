"""The budget in cash: a fleet of one is the single comparison, groups add up, and workers change no bit."""

from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from functools import partial
from typing import Any

import numpy as np
import pytest

from model.fleet.budget import Budget, Scheduled, budget_of, group_cash, stated_rows_of
from model.fleet.cash import ELEMENTS, RESALE
from model.fleet.fleet_file import FleetFile, PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.groups import InProcess, Workers, executor_of, groups_of, in_order, require_same_sources
from model.fleet.register import Unit
from model.fleet.replacement import plan_fleet
from model.fleet.stays import Stay, at_prices_of
from model.inputs.engine import UsedStart
from model.inputs.terms import Element
from model.measures import compare
from tests.small_fleet import fleet_file, unit
from tests.tolerances import IDENTITY

MONEY = {"inflation": 0.02, "discount_rate": 0.05, "growth": {"fuel": 0.04, "labour": 0.03, "engine_price": 0.01}}
DOWNTIME = {"day_cost": 50.0}


def scheduled(file: FleetFile, policy: PolicyTerms, *units: Unit) -> list[Scheduled]:
    """Units and their stays under a policy."""
    return list(zip(units, plan_fleet(policy, GroupCosts(file, units)).schedules, strict=True))


def several(number: int) -> list[Unit]:
    """Units that differ in everything."""
    return [
        unit(f"{place}", ("Four-stroke", "Two-stroke")[place % 2], age=1.0 + place % 7, hours_per_year=40.0 + place,
             meter_hours=30.0 * place, count=1 + place % 3 // 2, site=f"Site {place % 4}")
        for place in range(number)
    ]  # fmt: skip


@pytest.mark.parametrize("timing", ["mid-year", "year-end"])
def test_a_fleet_of_one_is_the_single_comparison(timing: str) -> None:
    file = fleet_file(money=MONEY | {"timing": timing}, downtime=DOWNTIME)
    one = unit(count=2)

    found = budget_of(file, scheduled(file, PolicyTerms(keep=True), one))

    engine = file.engine("Four-stroke").model_copy(
        update={"start": UsedStart(meter_hours=200.0, age=2.0), "list_price": 6000.0, "per_boat": 2}
    )
    # The engine is not sold at the horizon: the single one is owned for longer.
    single = compare(file.changed({("engines",): (engine,), ("ownership", "years"): 9.0})).engines[0].ownership
    for row, element in enumerate(ELEMENTS):
        bought = element in (Element.PURCHASE, Element.FIT_UP)  # years ago, and no cash of the budget
        kept = element is Element.RESALE  # at the horizon it is still there
        expected = np.zeros(4) if bought or kept else single.elements[element].nominal[:4]
        assert found.by_element[row] == pytest.approx(expected, rel=IDENTITY), element


@pytest.mark.parametrize(
    ("policy", "horizon"),
    [*(({"keep": True}, horizon) for horizon in range(1, 6)), *(({"at_age": 3.5}, horizon) for horizon in (1, 4, 5))],
)
def test_a_year_costs_the_same_however_many_come_after_it(policy: dict[str, Any], horizon: int) -> None:
    # Replaced at 3.5 years, A goes after two years and B after three; at these horizons neither does.
    loan = {"finance": {"deposit": 0.1, "rate": 0.06, "months": 60}}
    units = [unit("A", count=2), unit("B", "Two-stroke", age=1.2, hours_per_year=130.0)]

    def costs(years: int) -> np.ndarray[Any, Any]:
        file = fleet_file({"horizon": years}, loan, money=MONEY, downtime=DOWNTIME)
        return budget_of(file, scheduled(file, PolicyTerms(**policy), *units)).by_element

    assert costs(horizon) == pytest.approx(costs(7)[:, :horizon], rel=IDENTITY, abs=1e-9)


def test_a_new_engine_is_bought_at_the_prices_of_its_day_and_the_old_one_traded_in() -> None:
    file = fleet_file({"trade_in": 0.8}, money=MONEY, downtime=DOWNTIME)

    found = budget_of(file, scheduled(file, PolicyTerms(at_age=3.0), unit()))

    rows = dict(zip(ELEMENTS, found.by_element, strict=True))
    assert rows[Element.PURCHASE] == pytest.approx([0.0, 6000.0 * 1.01, 0.0, 0.0], rel=IDENTITY)
    assert rows[Element.FIT_UP] == pytest.approx([0.0, 500.0 * 1.01, 0.0, 0.0], rel=IDENTITY)
    assert rows[Element.RESALE] == pytest.approx([0.0, -0.8 * 6000.0 * 1.01 * 0.8**3, 0.0, 0.0], rel=IDENTITY)


def test_prices_of_a_later_day_go_on_where_the_first_ones_have_come() -> None:
    # Fuel burned in the third budget year costs the same whether the engine was there or is new.
    file = fleet_file(money=MONEY)
    fuel = ELEMENTS.index(Element.FUEL)

    kept, replaced = (
        budget_of(file, scheduled(file, policy, unit())).by_element[fuel]
        for policy in (PolicyTerms(keep=True), PolicyTerms(at_age=3.0))
    )

    assert replaced == pytest.approx(kept, rel=IDENTITY)
    assert at_prices_of(file, 2).prices.fuel == pytest.approx(2.0 * 1.04**2, rel=IDENTITY)


def test_replaced_at_once_the_old_engine_is_traded_in_on_the_first_day() -> None:
    file = fleet_file({"trade_in": 0.5})

    found = budget_of(file, scheduled(file, PolicyTerms(at_age=1.0, keep=False), unit()))

    assert found.by_element[RESALE][0] == pytest.approx(-0.5 * 6000.0 * 0.8**2, rel=IDENTITY)


def test_sums_by_site_and_technology_add_to_the_fleets() -> None:
    file, units = fleet_file(money=MONEY), several(30)

    found = budget_of(file, scheduled(file, PolicyTerms(at_age=4.0), *units))

    assert sum(cash.sum() for cash in found.by_part.values()) == pytest.approx(found.expected.sum(), rel=IDENTITY)
    assert found.totals[0] == pytest.approx(found.expected, rel=IDENTITY)
    for site in {one.site for one in units}:
        own = [one for one in units if one.site == site]
        alone = budget_of(file, scheduled(file, PolicyTerms(at_age=4.0), *own)).expected
        of_site = sum(cash.sum(axis=0) for (where, _), cash in found.by_part.items() if where == site)
        assert of_site == pytest.approx(alone, rel=IDENTITY)


def test_ten_times_a_unit_costs_ten_times_as_much() -> None:
    file = fleet_file(money=MONEY)
    policy = PolicyTerms(at_age=3.0)

    one, ten = (budget_of(file, scheduled(file, policy, *[unit()] * number)) for number in (1, 10))

    assert ten.by_element == pytest.approx(10.0 * one.by_element, rel=IDENTITY)


def on(make: Callable[[], Executor], file: FleetFile, units: list[Scheduled]) -> Budget:
    """The budget with its groups on an executor."""
    with make() as executor:
        task = partial(group_cash, file, stated_rows_of)
        return budget_of(file, units, results=in_order(executor, task, groups_of(units, 7)))


def test_threads_change_no_bit() -> None:
    file = fleet_file(money=MONEY)
    units = scheduled(file, PolicyTerms(at_age=4.0), *several(30))

    here, two, four = (
        on(make, file, units) for make in (InProcess, lambda: ThreadPoolExecutor(2), lambda: ThreadPoolExecutor(4))
    )

    assert np.array_equal(here.by_element, two.by_element)
    assert np.array_equal(here.by_element, four.by_element)
    assert list(here.by_part) == list(four.by_part)


@pytest.mark.slow
def test_processes_change_no_bit() -> None:
    file = fleet_file(money=MONEY)
    units = scheduled(file, PolicyTerms(at_age=4.0), *several(30))
    task = partial(group_cash, file, stated_rows_of)

    with executor_of(Workers.PROCESSES, 2) as executor:
        shared = budget_of(file, units, results=in_order(executor, task, groups_of(units)))

    assert np.array_equal(shared.by_element, budget_of(file, units).by_element)


def test_a_run_cut_short_keeps_what_was_finished() -> None:
    file = fleet_file()
    units = scheduled(file, PolicyTerms(keep=True), *several(60))
    results = in_order(InProcess(), partial(group_cash, file, stated_rows_of), groups_of(units))

    found = budget_of(file, units, results=[next(results)])

    assert found.units == 25
    assert found.expected == pytest.approx(budget_of(file, units[:25]).expected, rel=IDENTITY)


def test_progress_is_told_group_by_group() -> None:
    told: list[tuple[int, int]] = []

    assert list(in_order(InProcess(), str, [1, 2, 3], lambda done, of: told.append((done, of)))) == ["1", "2", "3"]

    assert told == [(1, 3), (2, 3), (3, 3)]


def test_what_a_task_raises_reaches_the_caller() -> None:
    def fails(_item: int) -> None:
        raise ValueError("no such group")

    for executor in (InProcess(), ThreadPoolExecutor(1)):
        with executor, pytest.raises(ValueError, match="no such group"):
            list(in_order(executor, fails, [1]))


def test_a_held_engine_that_was_never_run_is_as_new() -> None:
    file = fleet_file()
    fresh = unit(age=0.0, meter_hours=0.0)

    found = budget_of(file, [(fresh, (Stay("Four-stroke", 0, 4, is_held=True),))])

    assert found.by_element[0].tolist() == [0.0] * 4


class Cluster:
    """A cluster of which some machines have this project."""

    def __init__(self, scheduler: bool, **workers: bool) -> None:
        self.scheduler, self.workers = scheduler, workers

    def run_on_scheduler(self, _function: Callable[[], bool]) -> bool:
        return self.scheduler

    def run(self, _function: Callable[[], bool]) -> dict[str, bool]:
        return self.workers


def test_a_cluster_that_has_the_project_is_used() -> None:
    require_same_sources(Cluster(True, one=True, two=True))


@pytest.mark.parametrize(
    ("cluster", "told"),
    [
        (Cluster(True), "without workers"),
        (Cluster(False, one=True), "the scheduler: without these sources"),
        (Cluster(True, one=True, two=False), "two: without these sources"),
    ],
)
def test_a_cluster_that_cannot_do_the_work_is_refused(cluster: Cluster, told: str) -> None:
    with pytest.raises(ConnectionError, match=told):
        require_same_sources(cluster)
