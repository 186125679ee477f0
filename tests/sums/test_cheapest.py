"""The cheapest engine over hours a year and ownership years: brute force, closed forms, edges."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings

from model.case import prepare
from model.cheapest import (
    HOURS_FINE,
    all_but_fuel_over_hours,
    at_ownership_years,
    break_even,
    costs_over_hours,
    costs_over_years,
    hours_rows,
    present_values,
    sweep_over_hours,
)
from model.measures import compare
from model.sweep import stretches, swept
from tests import strategies
from tests.tiny import two_engines
from tests.tolerances import REGRESSION


@settings(max_examples=12)
@given(one=strategies.engines("One"), other=strategies.engines("Two"), file=strategies.files())
def test_the_search_equals_brute_force(one, other, file) -> None:  # noqa: ANN001
    scenario = strategies.scenario({**file, "engines": [one, other]})
    costs, grid = costs_over_hours(scenario), np.arange(0.0, 301.0)

    found = stretches(swept(costs, grid), HOURS_FINE, ["One", "Two"])

    fine = np.linspace(0.0, 300.0, 3001)
    brute = costs(fine)
    tie = np.abs(brute[0] - brute[1]) < 1e-6
    for hours, cheapest, tied in zip(fine, np.argmin(brute, axis=0), tie, strict=True):
        near_a_change = any(abs(hours - stretch.begin) <= 1.0 for stretch in found[1:])
        on_the_grid = abs(hours - round(hours)) < 1e-9
        if on_the_grid and not tied and not near_a_change:
            inside = next(stretch for stretch in found if stretch.begin <= hours <= stretch.end)
            assert inside.engine == ("One", "Two")[cheapest]
    assert [stretch.begin for stretch in found[1:]] == [stretch.end for stretch in found[:-1]]
    half = 0.5 * 2.0**-8  # twice cut into 16, 1 h ends at 2^-8 h, the first that is below 0.01 h
    for before, after in itertools.pairwise(found):
        sides = costs(np.array([before.end - half, before.end + half]))
        assert [("One", "Two")[engine] for engine in np.argmin(sides, axis=0)] == [before.engine, after.engine]


def test_costs_at_the_stated_hours_are_those_of_compare() -> None:
    scenario = two_engines(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 80.0, 120.0]})
    cases = [prepare(scenario, engine) for engine in scenario.engines]

    found = present_values(cases, np.array([100.0]))[:, 0]

    assert found == pytest.approx([cost.total.present_value for cost in compare(scenario).engines], rel=REGRESSION)


def test_uneven_hours_are_scaled_in_proportion() -> None:
    scenario = two_engines(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 80.0, 120.0]})

    assert hours_rows(scenario, np.array([200.0])).tolist() == [[100.0, 300.0, 160.0, 240.0]]
    silent = scenario.changed({("use", "hours_by_year"): (0.0,) * 4})
    assert hours_rows(silent, np.array([10.0])).tolist() == [[10.0] * 4]


def test_a_part_year_counts_by_its_part_in_the_mean() -> None:
    use = {"hours_per_year": None, "hours_by_year": [100.0, 100.0, 40.0]}
    scenario = two_engines(use=use, ownership={"years": 2.5})  # 220 h in 2.5 years
    cases = [prepare(scenario, engine) for engine in scenario.engines]

    assert scenario.mean_hours() == pytest.approx(88.0, rel=REGRESSION)
    found = present_values(cases, np.array([88.0]))[:, 0]
    assert found == pytest.approx([cost.total.present_value for cost in compare(scenario).engines], rel=REGRESSION)


def test_a_longer_period_goes_on_at_the_last_years_hours() -> None:
    scenario = two_engines(use={"hours_per_year": None, "hours_by_year": [50.0, 150.0, 80.0, 120.0]})

    assert at_ownership_years(scenario, 6.5).hours() == (50.0, 150.0, 80.0, 120.0, 120.0, 120.0, 120.0)
    assert at_ownership_years(scenario, 1.5).hours() == (50.0, 150.0)


def test_the_stretches_of_a_scenario_fill_its_ranges() -> None:
    found = break_even(two_engines(range={"hours_per_year": [10.0, 200.5], "ownership_years": [1.0, 6.0]}))

    assert (found.cheapest_by_hours[0].begin, found.cheapest_by_hours[-1].end) == (10.0, 200.5)
    assert (found.cheapest_by_years[0].begin, found.cheapest_by_years[-1].end) == (1.0, 6.0)


@settings(max_examples=12)
@given(one=strategies.engines("One"), other=strategies.engines("Two"), file=strategies.files())
def test_costs_over_years_are_those_of_compare(one, other, file) -> None:  # noqa: ANN001
    scenario = strategies.scenario({**file, "engines": [one, other]})
    years = np.array([1.0, 2.5, 7.0])

    found = costs_over_years(scenario)(years)

    for place, year in enumerate(years.tolist()):
        exact = [cost.total.present_value for cost in compare(at_ownership_years(scenario, year)).engines]
        assert found[:, place] == pytest.approx(exact, rel=REGRESSION, abs=1e-6)


@settings(max_examples=12)
@given(one=strategies.engines("One"), other=strategies.engines("Two"), file=strategies.files())
def test_what_is_no_fuel_costs_the_same_at_every_price_of_fuel(one, other, file) -> None:  # noqa: ANN001
    stated = strategies.scenario({**file, "engines": [one, other]})
    known = all_but_fuel_over_hours(stated)

    for price in (0.0, 1.37, 40.0):
        scenario = stated.changed({("prices", "fuel"): price})
        found = sweep_over_hours(scenario, known)

        assert found.costs.tolist() == sweep_over_hours(scenario).costs.tolist()
        exact = costs_over_hours(scenario)(found.grid)
        assert found.costs == pytest.approx(exact, rel=REGRESSION, abs=1e-6)
        assert found.between(found.grid[:3]).tolist() == exact[:, :3].tolist()
