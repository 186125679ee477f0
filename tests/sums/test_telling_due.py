"""The units that are due on a terminal: each of a small fleet, by year and reason of a large one."""

import io

import pytest
from rich.console import Console

from model import telling_due
from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.put_off import PutOff, units_put_off
from model.fleet.reading import Fleet
from model.fleet.replacement import FleetPlan, plan_fleet
from model.fleet.reports import due_rows, put_off_rows
from tests.rules.project import ROOT
from tests.small_fleet import fleet_file, unit

LIMIT = 90_000.0

Planned = tuple[Fleet, FleetPlan, tuple[PutOff, ...]]


@pytest.fixture
def large() -> Planned:
    """Fifty units of five ages, of which a yearly limit makes some wait."""
    units = [unit(f"Unit {place:02d}", age=float(place % 5)) for place in range(50)]
    file = fleet_file({"trade_in": 0.8})
    costs, policy = GroupCosts(file, units), PolicyTerms(at_age=3.0)
    plan = plan_fleet(policy, costs, LIMIT)
    put_off = units_put_off(costs, plan, plan_fleet(policy, costs))
    return Fleet(file, tuple(units), ROOT / "fleet.toml"), plan, put_off


def shown(monkeypatch: pytest.MonkeyPatch, *arguments: object) -> str:
    """What a terminal shows."""
    console = Console(file=io.StringIO(), width=160)
    monkeypatch.setattr(telling_due, "screen", lambda: console)
    telling_due.due_tables(*arguments)  # type: ignore[arg-type]
    return console.file.getvalue()  # type: ignore[attr-defined, no-any-return]


def test_a_large_fleet_is_counted_by_year_and_none_is_lost(
    large: Planned,
) -> None:
    fleet, plan, put_off = large
    by_year, waiting = telling_due.due_by_year(fleet, plan), telling_due.put_off_by_year(fleet, put_off)

    assert len(plan.bought) > telling_due.MOST_LISTED
    assert sum(row["number"] for row in by_year) == len(plan.bought)
    assert sum(row["capital"] for row in by_year) == pytest.approx(sum(due.capital for due in plan.bought))
    assert {row["year"] for row in by_year} == {str(row["year"]) for row in due_rows(fleet, plan.bought)}
    assert len({(row["year"], row["reason"]) for row in by_year}) == len(by_year)
    assert sum(row["number"] for row in waiting) == len(put_off_rows(fleet, put_off)) > 0
    assert sum(row["waiting_costs"] for row in waiting) == pytest.approx(sum(one.costs for one in put_off))


def test_a_terminal_counts_them_and_says_where_the_whole_is(monkeypatch: pytest.MonkeyPatch, large: Planned) -> None:
    short, whole = shown(monkeypatch, *large), shown(monkeypatch, *large, True)

    assert len(short.splitlines()) < len(whole.splitlines()) / 2
    assert f"Each of the {len(large[1].bought)} with its reason: with --all-units here" in short
    assert "--all-units" not in whole
    for place in {due.place for due in large[1].bought}:
        assert f"Unit {place:02d}" in whole


def test_a_small_fleet_is_listed_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    units = [unit("A", age=2.0), unit("B")]
    costs = GroupCosts(fleet_file(), units)
    plan = plan_fleet(PolicyTerms(at_age=3.0), costs)

    told = shown(monkeypatch, Fleet(costs.file, tuple(units), ROOT / "fleet.toml"), plan, ())

    assert "3.0 years old, limit 3" in told
    assert "--all-units" not in told
