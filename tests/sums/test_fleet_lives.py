"""Economic life: what moves it, in which way, and planned renewal of parts."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from model.fleet.economic_life import BestMeter, ages_of, best_meter_hours, economic_lives, life_of, present_values_to
from model.fleet.life_reports import life_report, life_rows
from model.fleet.lives import by_trials, fleet_lives, renewals_of, scenario_lives
from model.fleet.planned_renewal import best_planned_renewal
from model.fleet.reading import Fleet
from model.inputs.terms import Clock
from model.measures import cost_of, equivalent_annual_cost
from model.telling_lives import best_in_words, renewal_lines
from tests.small_fleet import fleet_file, unit
from tests.tiny import one_engine, two_engines
from tests.tolerances import IDENTITY, REGRESSION, half_last_digit

WEAR = {"name": "Wear", "clock": "hours", "scale": 800.0, "shape": 2.5, "parts_price": 900.0, "days_lost": 2.0}
BASE = {"price": 8000.0, "resale": {"yearly_decline": 0.2}, "repair": [WEAR]}
MONEY = {"inflation": 0.02, "discount_rate": 0.05}


def best_age(hours: float = 100.0, engine: dict[str, object] | None = None, **tables: object) -> float:
    """The best age of an engine that wears."""
    scenario = one_engine(BASE | (engine or {}), money=MONEY, range={"ownership_years": (1.0, 30.0)}, **tables)
    return economic_lives(scenario, scenario.engines[0], [hours])[0].best_age


def test_each_age_is_the_single_comparison_over_that_period() -> None:
    scenario = two_engines(money=MONEY, use={"hours_per_year": 130.0}, range={"ownership_years": (1.0, 6.0)})

    lives = scenario_lives(scenario)

    for life, engine in zip(lives, scenario.engines, strict=True):
        for age, cost in zip(life.life.ages, life.life.costs, strict=True):
            single = cost_of(lives_case(scenario, engine.name, age))
            assert cost == pytest.approx(single.equivalent_annual_cost, rel=REGRESSION)


def lives_case(scenario, name: str, age: float):  # noqa: ANN001, ANN201
    """The case of one engine owned to an age."""
    from model.case import prepare

    longer = scenario.changed({("ownership", "years"): age})
    return prepare(longer, longer.engine(name))


def test_more_hours_shorten_the_life() -> None:
    ages = [best_age(hours) for hours in (30.0, 60.0, 120.0, 240.0)]

    assert ages == sorted(ages, reverse=True)
    assert ages[0] > ages[-1]


def test_a_higher_price_and_a_faster_fall_of_value_lengthen_it() -> None:
    assert best_age(engine={"price": 20000.0, "list_price": 8000.0}) > best_age()
    assert best_age(engine={"resale": None}) > best_age(engine={"resale": {"yearly_decline": 0.05}})


def test_dear_downtime_shortens_it() -> None:
    assert best_age(downtime={"day_cost": 500.0}) < best_age()


def test_cover_that_ends_makes_its_end_a_good_age() -> None:
    # Whole cover for eight years, then every repair is the owner's: no age before its end can be better.
    assert best_age(engine={"warranty": {"months": 96.0}, "resale": None}) >= 8.0


def test_ages_within_two_per_cent_lie_around_the_best() -> None:
    life = life_of([1.0, 2.0, 3.0, 4.0, 5.0], np.array([103.0, 101.9, 100.0, 101.0, 110.0]) * np.arange(1.0, 6.0), 0.0)

    assert life.best_age == 3.0
    assert life.about_as_good == (2.0, 4.0)


def test_a_receipt_as_the_best_still_has_a_range() -> None:
    assert life_of([1.0, 2.0], [-100.0, -202.0], 0.0).about_as_good == (1.0, 2.0)


def test_whole_ages_of_a_range() -> None:
    assert ages_of(one_engine(range={"ownership_years": (0.5, 3.7)})) == (1.0, 2.0, 3.0)


@pytest.mark.parametrize("ends", [(3.2, 3.8), (0.3, 0.5)])
def test_a_range_without_a_whole_age_is_looked_at_at_its_ends(ends: tuple[float, float]) -> None:
    scenario = one_engine(BASE, range={"ownership_years": ends})

    (life,) = scenario_lives(scenario)

    assert life.life.ages == ends
    for age, cost in zip(ends, life.life.costs, strict=True):
        single = cost_of(lives_case(scenario, scenario.engines[0].name, age))
        assert cost == pytest.approx(single.equivalent_annual_cost, rel=REGRESSION)


def test_by_trials_the_mean_over_rows_of_hours() -> None:
    # Hours that differ cost more than their mean: wear is convex.
    scenario = one_engine(BASE, range={"ownership_years": (1.0, 10.0)})
    rows = np.array([[50.0] * 10, [150.0] * 10])

    each = present_values_to(scenario, scenario.engines[0], 6.0, rows)
    at_mean = present_values_to(scenario, scenario.engines[0], 6.0, rows.mean(axis=0))

    assert each.mean() > float(at_mean)


def test_by_trials_every_cost_has_its_standard_error() -> None:
    spread = {"shape": "lognormal", "variation": 0.4, "owner_share": 0.0}
    scenario = one_engine(BASE, use={"spread": spread}, range={"ownership_years": (1.0, 3.0)})
    (life,) = scenario_lives(scenario)

    (few,), (many,) = (by_trials(scenario, [life], (trials, 1, 1)) for trials in (500, 8000))

    assert len(few.standard_errors) == len(life.life.ages) == 3
    assert life.standard_errors == ()
    for age, (one, other) in enumerate(zip(few.standard_errors, many.standard_errors, strict=True)):
        # Sixteen times the trials; an error estimated from 500 is itself sure to 1 / sqrt(2 x 500).
        assert one / other == pytest.approx(4.0, rel=4.0 / (2.0 * 500.0) ** 0.5)
        assert few.told.costs[age] == pytest.approx(many.told.costs[age], abs=4.0 * (one + other))


def test_what_is_not_got_at_sale_spreads_no_cost() -> None:
    # Hours move nothing but the value at sale; where nothing is got for the engine, every trial costs the same.
    spread = {"shape": "lognormal", "variation": 0.4, "owner_share": 0.0}
    four = {"repair": None, "warranty": None, "service": None, "fuel": {"points": [[0.1, 0.0], [1.0, 0.0]]},
            "resale": {"yearly_decline": 0.2, "normal_hours": 60.0, "per_100_hours": 0.05}}  # fmt: skip
    tables = {"use": {"spread": spread}, "range": {"ownership_years": (1.0, 3.0)}}
    errors, costs = {}, {}
    for share in (1.0, 0.5, 0.0):
        file = fleet_file({"candidates": ["Four-stroke"], "trade_in": share}, four, **tables)
        (life,) = by_trials(file, fleet_lives(Fleet(file, (unit(),), Path())), (400, 1, 1))
        errors[share], costs[share] = np.array(life.standard_errors), np.array(life.told.costs)

    assert errors[1.0].min() > 0.0
    assert errors[0.5] == pytest.approx(0.5 * errors[1.0], rel=REGRESSION)
    assert errors[0.0] == pytest.approx(0.0, abs=1e-9)
    assert costs[0.5] == pytest.approx(0.5 * (costs[0.0] + costs[1.0]), rel=REGRESSION)


def test_the_age_of_a_planned_renewal_is_told_on_the_parts_own_clock() -> None:
    part = {"shape": 4.0, "after": "as new", "parts_price": 60.0, "not_covered": 900.0}
    modes = [
        {"name": "Impeller", "clock": "hours", "scale": 400.0, **part},
        {"name": "Hose", "clock": "years", "scale": 6.0, **part},
    ]
    lives = scenario_lives(one_engine(BASE | {"repair": modes}, range={"ownership_years": (1.0, 3.0)}))
    ages = [renewal.age for renewal in lives[0].renewals.values()]
    told = renewal_lines(lives)

    assert f"Impeller: renewed ahead of failure at {ages[0]:.0f} h it costs " in told[0]
    assert f"Hose: renewed ahead of failure at {ages[1]:.1f} years it costs " in told[1]
    assert [one["clock"] for one in life_report(lives)["engines"][0]["renewals"]] == ["hours", "years"]


def test_a_reading_of_the_meter_apart_from_the_best_age_has_its_own_cost() -> None:
    (life,) = scenario_lives(one_engine(BASE, use={"hours_per_year": 170.0}, range={"ownership_years": (1.0, 12.0)}))
    apart = replace(life, best_meter=BestMeter(life.told.best_age * 170.0 - 60.0, 5.0))
    together = replace(life, best_meter=BestMeter(life.told.best_age * 170.0, 5.0))

    told = best_in_words(apart, "EUR")

    assert f"best at {life.told.best_age * 170.0 - 60.0:,.0f} h: after " in told
    assert told.endswith(" years, for 850 EUR a year.")  # 5 an hour
    assert f", by the meter at {life.told.best_age * 170.0:,.0f} h, for " in best_in_words(together, "EUR")


def test_no_hours_have_no_best_meter() -> None:
    scenario = one_engine(BASE)

    assert best_meter_hours(scenario, scenario.engines[0], 0.0) is None


def test_the_best_meter_costs_no_more_than_any_whole_age() -> None:
    scenario = one_engine(BASE, money=MONEY, range={"ownership_years": (1.0, 20.0)})
    engine = scenario.engines[0]

    best = best_meter_hours(scenario, engine, 100.0)

    assert best is not None
    assert best.cost_per_hour * 100.0 <= min(economic_lives(scenario, engine, [100.0])[0].costs) + 1e-9


def test_a_fleets_lives_are_those_of_its_candidates_at_their_boats_hours(tmp_path) -> None:  # noqa: ANN001
    file = fleet_file(range={"ownership_years": (1.0, 8.0)})
    fleet = Fleet(file, (unit("A", hours_per_year=80.0), unit("B", "Two-stroke", hours_per_year=120.0)), tmp_path)

    report = life_report(fleet_lives(fleet))

    assert [one["name"] for one in report["engines"]] == ["Four-stroke", "Two-stroke"]
    assert {"name", "by_age", "best_age", "within_2_percent", "or_later"} < set(report["engines"][0])
    assert [row["age"] for row in report["engines"][0]["by_age"]] == list(range(1, 9))
    assert {row["hours_per_year"] for row in life_rows(fleet_lives(fleet))} == {80.0, 120.0}


class TestPlannedRenewal:
    def test_the_optimum_is_one(self) -> None:
        found = best_planned_renewal(Clock.HOURS, 1000.0, 2.5, 1.0, 5.0)
        assert found.age is not None
        ages = np.linspace(0.9, 1.1, 201) * found.age
        grid = np.linspace(0.0, 1.0, 20_001)

        def rate(age: float) -> float:
            lives = np.exp(-((grid * age / 1000.0) ** 2.5))
            kept = lives[-1]
            return (1.0 * kept + 5.0 * (1.0 - kept)) / (np.trapezoid(lives, grid * age))

        rates = [rate(age) for age in ages]
        assert found.cost_rate == pytest.approx(min(rates), abs=half_last_digit(8))
        assert ages[int(np.argmin(rates))] == pytest.approx(found.age, rel=0.002)

    @pytest.mark.parametrize(("shape", "failed"), [(1.0, 5.0), (0.8, 5.0), (2.0, 1.0), (2.0, 0.5), (1.05, 1.1)])
    def test_what_does_not_wear_or_costs_no_more_is_left_to_fail(self, shape: float, failed: float) -> None:
        found = best_planned_renewal(Clock.HOURS, 1000.0, shape, 1.0, failed)

        assert found.age is None
        assert found.cost_rate == found.cost_rate_waiting

    def test_it_is_told_for_parts_that_a_repair_renews(self) -> None:
        new = {"name": "Pump", "clock": "hours", "scale": 900.0, "shape": 3.0, "after": "as new"}
        mode = {**new, "parts_price": 100.0, "labour": 1.0, "days_lost": 3.0, "not_covered": 50.0}
        scenario = one_engine({"repair": [mode, WEAR]}, downtime={"day_cost": 100.0})

        ((name, found),) = renewals_of(scenario, scenario.engines[0]).items()

        assert name == "Pump"
        assert found == best_planned_renewal(Clock.HOURS, 900.0, 3.0, 200.0, 550.0)


def test_equivalent_annual_cost_is_that_of_the_measures() -> None:
    life = life_of([2.0, 4.0], [1000.0, 1900.0], 0.03)

    assert life.costs[1] == pytest.approx(equivalent_annual_cost(1900.0, 0.03, 4.0), rel=IDENTITY)
