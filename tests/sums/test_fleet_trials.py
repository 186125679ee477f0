"""Trials of a fleet: shared seasons do not average away, failures of each unit do, and workers change no bit."""

from collections.abc import Sequence
from functools import partial
from typing import Any

import numpy as np
import pytest

from model.fleet.budget import Budget, Scheduled, budget_of, quantile_of
from model.fleet.cash import ELEMENTS
from model.fleet.fleet_file import FleetFile, PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.groups import Workers, executor_of, groups_of, in_order, workers_for_trials
from model.fleet.lives import by_trials, fleet_lives
from model.fleet.reading import Fleet
from model.fleet.register import Unit
from model.fleet.replacement import plan_fleet
from model.fleet.unit_trials import TrialTerms, group_trials
from model.inputs.engine import UsedStart
from model.inputs.problems import InputError
from model.inputs.terms import Element
from model.uncertainty.streams import CHUNK
from model.uncertainty.trials import run_trials
from tests.small_files import changed
from tests.small_fleet import FLEET, fleet_file, small_fleet, unit
from tests.tolerances import IDENTITY, standard_errors

MONEY = {"inflation": 0.02, "discount_rate": 0.05, "growth": {"fuel": 0.04}}
DRAWN = {"repairs": "drawn"}


def scheduled(file: FleetFile, units: Sequence[Unit], **policy: Any) -> list[Scheduled]:
    """Units and their stays under a policy, kept where none is given."""
    terms = PolicyTerms(**(policy or {"keep": True}))
    return list(zip(units, plan_fleet(terms, GroupCosts(file, units)).schedules, strict=True))


def budget(file: FleetFile, units: list[Scheduled], trials: int, seed: int = 1) -> Budget:
    """The budget by trials, in this process."""
    task = partial(group_trials, file, TrialTerms(trials, seed))
    return budget_of(file, units, results=map(task, groups_of(units)))


def test_a_trials_year_costs_the_same_however_many_come_after_it() -> None:
    units = [unit("A", count=2, variation=0.3), unit("B", "Two-stroke", age=1.0, variation=0.2)]

    def costs(years: int) -> np.ndarray[Any, Any]:
        file = fleet_file({"horizon": years}, money=MONEY, downtime={"day_cost": 40.0}, trials=DRAWN)
        return budget(file, scheduled(file, units), 50).totals.reshape(50, years)

    # In the last year before the horizon its own pace goes on; where more is known of the next one, that counts.
    assert costs(3)[:, :2] == pytest.approx(costs(5)[:, :2], rel=IDENTITY)


def alike(number: int, **other: Any) -> list[Unit]:
    """Units alike in all but their name."""
    return [unit(f"Unit {place}", **other) for place in range(number)]


@pytest.mark.parametrize("policy", [{"keep": True}, {"at_age": 3.0}, {"at_age": 1.0}])
def test_without_any_spread_every_trial_is_the_expected_budget(policy: dict[str, Any]) -> None:
    file = fleet_file({"trade_in": 0.8}, money=MONEY, downtime={"day_cost": 40.0})
    units = scheduled(file, [unit("A", count=2), unit("B", "Two-stroke", age=1.0)], **policy)

    found, stated = budget(file, units, 3), budget_of(file, units)

    assert found.totals == pytest.approx(np.tile(stated.totals, (3, 1)), rel=IDENTITY)
    assert found.by_element == pytest.approx(stated.by_element, rel=IDENTITY, abs=1e-9)


def test_elements_add_to_the_mean_of_the_trials() -> None:
    file = fleet_file({"season_variation": 0.2}, trials=DRAWN | {"fuel_volatility": 0.2, "resale_variation": 0.3})
    units = scheduled(file, [unit("A", variation=0.4), unit("B", age=9.0, variation=0.1)], at_age=3.0)

    found = budget(file, units, 5000)

    assert found.expected == pytest.approx(found.totals.mean(axis=0), rel=1e-10)
    assert sum(found.by_part.values()).sum(axis=0) == pytest.approx(found.expected, rel=IDENTITY)


def test_sites_and_technologies_add_to_the_fleet_in_every_trial_and_each_is_its_own_budget() -> None:
    file = fleet_file({"season_variation": 0.2}, trials=DRAWN | {"fuel_volatility": 0.2})
    units = [unit(f"{place}", variation=0.3, site="East" if place % 3 else "West") for place in range(30)]
    units.append(unit("Old", age=9.0, site="East"))

    found = budget(file, scheduled(file, units, at_age=3.0), 500)

    for parts in (found.totals_by_site, found.totals_by_technology):
        assert sum(parts.values()) == pytest.approx(found.totals, rel=IDENTITY)
    assert sum(np.broadcast_to(total, (500, 4)) for total in found.totals_by_element.values()) == pytest.approx(
        found.totals, rel=IDENTITY
    )
    for element, total in found.totals_by_element.items():
        assert total.mean(axis=0) == pytest.approx(found.by_element[ELEMENTS.index(element)], rel=1e-10, abs=1e-9)
    for site, total in found.totals_by_site.items():
        own = [one for one in units if one.site == site]
        alone = budget(file, scheduled(file, own, at_age=3.0), 500)
        assert quantile_of(total, 0.8) == pytest.approx(alone.quantile(0.8), rel=IDENTITY)
        assert total.mean(axis=0) == pytest.approx(found.by_site[site], rel=1e-10)


def test_a_fleet_of_one_lives_as_the_single_comparison_does() -> None:
    trials = DRAWN | {"fuel_volatility": 0.2, "parts_variation": 0.1}
    spread = {"shape": "lognormal", "variation": 0.5, "owner_share": 0.6}
    file = fleet_file({"horizon": 4}, trials=trials, money=MONEY, use={"spread": spread}, downtime={"day_cost": 40.0})
    engine = file.engine("Four-stroke").model_copy(
        update={"start": UsedStart(meter_hours=200.0, age=2.0), "list_price": 6000.0, "price": 0.0, "fit_up": ()}
    )

    fleet = budget(file, scheduled(file, [unit(variation=0.5)]), 8192).totals
    single = run_trials(file.changed({("engines",): (engine,)}), 8192, seed=2).by_year[0].T

    for year in range(4):
        tolerance = np.hypot(standard_errors(4, fleet[:, year]), standard_errors(4, single[:, year]))
        assert fleet[:, year].mean() == pytest.approx(single[:, year].mean(), abs=tolerance)
        assert fleet[:, year].std() == pytest.approx(single[:, year].std(), rel=0.1)


def spread_over_size(numbers: Sequence[int], file: FleetFile, **other: Any) -> list[float]:
    """Standard deviation of the first year's total over its mean, by size of the fleet."""
    found = []
    for number in numbers:
        totals = budget(file, scheduled(file, alike(number, **other)), 4096).totals[:, 0]
        found.append(float(totals.std() / totals.mean()))
    return found


FAILS_OFTEN = {"repair": [{"name": "Often", "clock": "hours", "scale": 50.0, "shape": 1.0, "parts_price": 900.0}]}


def test_the_spread_of_independent_failures_falls_with_the_root_of_the_size() -> None:
    file = fleet_file({"horizon": 1}, FAILS_OFTEN | {"warranty": None}, trials=DRAWN)

    one, many = spread_over_size((1, 64), file)

    # The standard deviation of 4,096 trials is known to about 1 / sqrt(2 x 4096), 1.1 %, of each.
    assert one / many == pytest.approx(8.0, rel=4.0 * np.sqrt(2.0) / np.sqrt(2.0 * 4096))


def test_the_spread_of_own_hours_falls_with_the_root_of_the_size() -> None:
    one, many = spread_over_size((1, 64), fleet_file({"horizon": 1}), variation=0.3)

    assert one / many == pytest.approx(8.0, rel=0.1)


@pytest.mark.parametrize(
    ("fleet", "trials"), [({"season_variation": 0.3}, {}), ({}, {"fuel_volatility": 0.4})], ids=["season", "fuel price"]
)
def test_the_spread_of_what_all_share_does_not_fall(fleet: dict[str, Any], trials: dict[str, Any]) -> None:
    one, many = spread_over_size((1, 64), fleet_file({"horizon": 1} | fleet, trials=trials))

    assert one > 0.05
    assert many == pytest.approx(one, rel=IDENTITY)


def test_a_unit_more_changes_no_draw_of_the_others() -> None:
    file = fleet_file({"season_variation": 0.2}, trials=DRAWN | {"fuel_volatility": 0.2})
    few, more = alike(3, variation=0.3), alike(4, variation=0.3)

    without, added, alone = (budget(file, scheduled(file, units), 100).totals for units in (few, more, more[3:]))

    assert added - without == pytest.approx(alone, rel=1e-9)


def test_the_first_trials_are_the_same_however_many_are_run() -> None:
    file = fleet_file({"season_variation": 0.2}, trials=DRAWN | {"fuel_volatility": 0.2})
    units = scheduled(file, alike(2, variation=0.3), at_age=3.0)

    few, many = (budget(file, units, trials).totals for trials in (300, 5000))

    assert np.array_equal(few, many[:300])


def test_another_seed_draws_other_trials() -> None:
    file = fleet_file({"season_variation": 0.2})

    one, other = (budget(file, scheduled(file, alike(1)), 10, seed).totals for seed in (1, 2))

    assert not np.array_equal(one, other)


def test_what_one_fleet_has_ready_is_not_anothers() -> None:
    trials = DRAWN | {"fuel_volatility": 0.2}
    one, dearer = (
        fleet_file(trials=trials),
        fleet_file(trials=trials, prices={"fuel": 4.0, "two_stroke_oil": 10.0, "labour": 100.0}),
    )
    units = scheduled(one, alike(2, variation=0.3), at_age=3.0)

    first, second, again = (budget(file, units, 50).by_element for file in (one, dearer, one))

    fuel = ELEMENTS.index(Element.FUEL)
    assert second[fuel] == pytest.approx(2.0 * first[fuel], rel=1e-9)
    assert np.array_equal(first, again)


def test_a_trial_is_the_same_however_many_are_run() -> None:
    file, units = shared_fleet()

    few, many = (budget(file, units[:3], trials) for trials in (CHUNK - 50, CHUNK + 50))

    assert np.array_equal(few.totals, many.totals[: CHUNK - 50])
    assert np.array_equal(few.varying, many.varying[: CHUNK - 50])


@pytest.mark.parametrize(("number", "kind"), [(1, "threads"), (4, "threads"), (5, "processes"), (64, "processes")])
def test_where_trials_run(number: int, kind: str) -> None:
    assert workers_for_trials(number) is Workers(kind)


SHARED = {"season_variation": 0.2}


def shared_fleet() -> tuple[FleetFile, list[Scheduled]]:
    """Sixty units of which every group of seven is a task."""
    file = fleet_file(SHARED, trials=DRAWN | {"fuel_volatility": 0.2, "resale_variation": 0.1})
    return file, scheduled(file, alike(60, variation=0.3, hours_per_year=90.0), at_age=3.0)


def same_bits(one: Budget, other: Budget) -> bool:
    """Whether two budgets agree to the last bit."""
    return all(np.array_equal(getattr(one, name), getattr(other, name)) for name in ("totals", "by_element", "varying"))


def test_threads_change_no_bit() -> None:
    file, units = shared_fleet()
    task = partial(group_trials, file, TrialTerms(500, 7))

    for number in (2, 5):
        with executor_of(Workers.THREADS, number) as executor:
            shared = budget_of(file, units, results=in_order(executor, task, groups_of(units)))
        assert same_bits(shared, budget(file, units, 500, 7))


@pytest.mark.slow
def test_processes_change_no_bit() -> None:
    file, units = shared_fleet()
    task = partial(group_trials, file, TrialTerms(500, 7))

    with executor_of(Workers.PROCESSES, 2) as executor:
        shared = budget_of(file, units, results=in_order(executor, task, groups_of(units)))

    assert same_bits(shared, budget(file, units, 500, 7))


@pytest.mark.slow
def test_a_cluster_changes_no_bit() -> None:
    distributed = pytest.importorskip("distributed")
    file, units = shared_fleet()
    task = partial(group_trials, file, TrialTerms(500, 7))

    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        executor_of(Workers.HERE, 1, cluster.scheduler_address) as executor,
    ):
        shared = budget_of(file, units, results=in_order(executor, task, groups_of(units)))

    assert same_bits(shared, budget(file, units, 500, 7))


def test_failures_cost_what_is_expected_of_them() -> None:
    file = fleet_file({"horizon": 3}, FAILS_OFTEN | {"warranty": {"months": 36.0}}, trials=DRAWN)
    units = scheduled(file, alike(4))

    found, stated = budget(file, units, 8192), budget_of(file, units)

    for year in range(3):
        tolerance = standard_errors(4, found.totals[:, year])
        assert found.expected[year] == pytest.approx(stated.expected[year], abs=tolerance)
    repairs = ELEMENTS.index(Element.REPAIRS)
    assert found.by_element[repairs].sum() == pytest.approx(stated.by_element[repairs].sum(), rel=0.02)


def test_contingency_is_the_eighty_per_cent_budget_less_the_expected() -> None:
    file = fleet_file({"season_variation": 0.3})

    found = budget(file, scheduled(file, alike(2)), 1000)

    assert found.contingency == pytest.approx(np.quantile(found.totals, 0.8, axis=0) - found.totals.mean(axis=0))
    assert (found.contingency > 0.0).all()
    assert (found.standard_errors > 0.0).all()


def test_the_economic_life_by_trials_is_that_on_mean_hours_without_spread(tmp_path) -> None:  # noqa: ANN001
    file = fleet_file({"trade_in": 0.7}, money=MONEY, range={"ownership_years": (1.0, 5.0)})
    lives = fleet_lives(Fleet(file, (unit(),), tmp_path))

    for one in by_trials(file, lives, (4, 1, 1)):
        assert one.by_trials is not None
        assert one.by_trials.costs == pytest.approx(one.life.costs, rel=1e-9)


def test_hours_of_their_own_are_refused(tmp_path) -> None:  # noqa: ANN001
    text = changed(FLEET, ("[prices]", '[use.spread]\nshape = "uniform"\nlow = 10\nhigh = 90\n[prices]'))

    with pytest.raises(InputError, match="lognormal, gamma or fixed"):
        small_fleet(tmp_path, fleet=text)
