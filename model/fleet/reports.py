"""Budgets and plans as plain data: for JSON as documented in the README, and as flat rows."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from model.fleet.budget import SHARES, Budget, quantile_of
from model.fleet.budgeted import Budgeted, cut_told, downtime_told
from model.fleet.cash import ELEMENTS
from model.fleet.log_reports import fit_rows, hour_rows
from model.fleet.logs_told import notes_of_hours
from model.fleet.policy_costs import PolicyCost
from model.fleet.put_off import PutOff
from model.fleet.reading import Fleet
from model.fleet.replacement import Due
from model.fleet.rules_told import element_told, notes_of, rules_of_replacing

Amounts = NDArray[np.float64]

Rows = list[dict[str, Any]]


def year_of(fleet: Fleet, year: int) -> int:
    """Calendar year in which a budget year begins. [year]"""
    return fleet.terms.budget_start.year + year


def budget_report(fleet: Fleet, found: Budgeted) -> dict[str, Any]:
    """
    A budget by year, with its spread, elements and replacements; what is due and why, what waits, what the logs show.

    The contingency is that of all years together: what it takes beyond the expected budget for each year to hold with
    80 %.
    """
    budget, plan = found.budget, found.plan
    elements, quantiles = budget.by_element, {share: budget.quantile(share) for share in SHARES}
    names = _names_by_year(fleet, plan.bought)
    sites, technologies = budget.by_site, budget.by_technology
    by_site, by_technology = _quantiles_by_name(budget.totals_by_site), _quantiles_by_name(budget.totals_by_technology)
    by_element = _quantiles_by_name({element.value: total for element, total in budget.totals_by_element.items()})
    return {
        "years": [
            {
                "year": year_of(fleet, year),
                "expected": float(budget.expected[year]),
                "quantiles": {f"{share:g}": float(quantiles[share][year]) for share in SHARES},
                "elements": {element.value: float(elements[row, year]) for row, element in enumerate(ELEMENTS)},
                "sites": {name: float(cash[year]) for name, cash in sites.items()},
                "technologies": {name: float(cash[year]) for name, cash in technologies.items()},
                "element_quantiles": _in_year(by_element, year),
                "site_quantiles": _in_year(by_site, year),
                "technology_quantiles": _in_year(by_technology, year),
                "replacements": names.get(year, []),
            }
            for year in range(fleet.terms.horizon)
        ],
        "contingency": float(budget.contingency.sum()),
        "policy": plan.policy.in_words,
        "replacements": due_rows(fleet, plan.bought),
        "put_off": put_off_rows(fleet, found.put_off),
        "hour_log": {
            "units": hour_rows(fleet),
            "findings": list(fleet.hour_findings),
            "notes": notes_of_hours(fleet),
        },
        "repair_log": fit_rows(fleet),
        "rules": rules_of_replacing(fleet),
        "notes": budget_notes(fleet, budget),
        "units": {"counted": budget.units, "of": len(fleet.units)},
    }


def budget_notes(fleet: Fleet, budget: Budget) -> list[str]:
    """Notes under a budget: first of all whether the run was cut short."""
    return [*cut_told(budget.units, len(fleet.units)), *downtime_told(budget), *notes_of(fleet)]


Quantiles = dict[str, dict[str, Amounts]]
"""By name of an element, site or technology, and by share of the trials: what holds in it, shape (year,). [money]"""


def _quantiles_by_name(totals: Mapping[str, Amounts]) -> Quantiles:
    """What each element, site or technology takes in each year to hold in a share of the trials."""
    return {
        name: dict(zip([f"{share:g}" for share in SHARES], quantile_of(total, SHARES), strict=True))
        for name, total in totals.items()
    }


def _in_year(quantiles: Quantiles, year: int) -> dict[str, dict[str, float]]:
    """Quantiles of one year."""
    return {
        name: {share: float(amounts[year]) for share, amounts in shares.items()} for name, shares in quantiles.items()
    }


def _names_by_year(fleet: Fleet, bought: Iterable[Due]) -> dict[int, list[str]]:
    """Names of the units replaced in each year."""
    found: dict[int, list[str]] = {}
    for due in sorted(bought, key=lambda one: one.place):
        found.setdefault(due.year, []).append(fleet.units[due.place].name)
    return found


BUDGET_COLUMNS = ("year", "site", "technology", "element", "expected", "units_counted", "units")
"""Columns of a budget as flat rows."""


def budget_rows(fleet: Fleet, budget: Budget) -> Rows:
    """The expected budget as flat rows, by year, site, technology and element; of how many units of how many."""
    return [
        {
            "year": year_of(fleet, year),
            "site": site,
            "technology": technology,
            "element": element.value,
            "expected": float(cash[row, year]),
            "units_counted": budget.units,
            "units": len(fleet.units),
        }
        for (site, technology), cash in budget.by_part.items()
        for year in range(fleet.terms.horizon)
        for row, element in enumerate(ELEMENTS)
        if np.any(cash[row])
    ]


YEAR_COLUMNS = ("year", "expected", "standard_error", *(f"{share:g}" for share in SHARES), "contingency")
"""Columns of a budget by year."""


def year_rows(fleet: Fleet, budget: Budget) -> Rows:
    """The budget by year with its spread."""
    quantiles = {f"{share:g}": budget.quantile(share) for share in SHARES}
    errors, contingency = budget.standard_errors, budget.contingency
    return [
        {"year": year_of(fleet, year), "expected": float(budget.expected[year]), "standard_error": float(errors[year])}
        | {name: float(values[year]) for name, values in quantiles.items()}
        | {"contingency": float(contingency[year])}
        for year in range(fleet.terms.horizon)
    ]


DUE_COLUMNS = ("year", "unit", "site", "engine", "bought", "reason", "capital")
"""Columns of a list of replacements."""


def due_rows(fleet: Fleet, due: Iterable[Due]) -> Rows:
    """Replacements as flat rows, by year and in the order of the register."""
    return [
        {
            "year": year_of(fleet, one.year),
            "unit": fleet.units[one.place].name,
            "site": fleet.units[one.place].site,
            "engine": one.gone,
            "bought": one.engine,
            "reason": one.reason,
            "capital": one.capital,
        }
        for one in sorted(due, key=lambda one: (one.year, one.place))
    ]


PUT_OFF_COLUMNS = (*DUE_COLUMNS, "until", "times", "waiting_costs")
"""Columns of a list of units that the yearly limit makes wait."""


def put_off_rows(fleet: Fleet, found: Iterable[PutOff]) -> Rows:
    """Units that wait, from the year in which they were first due; until when is empty beyond the horizon."""
    return [
        row
        | {"until": None if one.until is None else year_of(fleet, one.until)}
        | {"times": one.times, "waiting_costs": one.costs}
        for one in found
        for row in due_rows(fleet, [one.first])
    ]


POLICY_COLUMNS = ("policy", "present_value", "saves", "replacements", "put_off", "limit_costs")
"""Columns of a comparison of policies."""


def policy_rows(costs: Sequence[PolicyCost]) -> Rows:
    """Policies, today's first: cost, what each saves against today's, and what the yearly limit costs."""
    return [
        {
            "policy": one.plan.policy.in_words,
            "present_value": one.cost,
            "saves": costs[0].cost - one.cost,
            "replacements": len(one.plan.bought),
            "put_off": len(one.put_off),
            "limit_costs": one.cost - one.cost_without_limit,
        }
        for one in costs
    ]


def plan_report(fleet: Fleet, costs: Sequence[PolicyCost]) -> dict[str, Any]:
    """Policies compared, and what the cheapest of them and today's replace and put off."""
    return {
        "policies": policy_rows(costs),
        "plans": [
            {
                "policy": one.plan.policy.in_words,
                "replacements": due_rows(fleet, one.plan.bought),
                "put_off": put_off_rows(fleet, one.put_off),
            }
            for one in costs
        ],
        "rules": rules_of_replacing(fleet),
        "notes": notes_of(fleet),
    }


PLAN_COLUMNS = ("policy", *PUT_OFF_COLUMNS, "put_off")
"""Columns of the plans of all policies."""


def plan_rows(fleet: Fleet, costs: Sequence[PolicyCost]) -> Rows:
    """Replacements of every policy as flat rows, those that the limit puts off among them."""
    return [
        {"policy": one.plan.policy.in_words, **row, "put_off": is_put_off}
        for one in costs
        for is_put_off, rows in (("no", due_rows(fleet, one.plan.bought)), ("yes", put_off_rows(fleet, one.put_off)))
        for row in rows
    ]


def element_rows(fleet: Fleet, budget: Budget) -> Rows:
    """The expected budget by element, a column for each year; elements that cost nothing are left out."""
    cash = budget.by_element
    return [
        {"element": element_told(element)}
        | {str(year_of(fleet, year)): float(cash[row, year]) for year in range(fleet.terms.horizon)}
        for row, element in enumerate(ELEMENTS)
        if np.any(cash[row])
    ]


def part_rows(fleet: Fleet, budget: Budget) -> tuple[Rows, Rows]:
    """The expected budget by site and by technology, a column for each year."""
    sites, technologies = (
        [
            {key: name} | {str(year_of(fleet, year)): float(cash[year]) for year in range(fleet.terms.horizon)}
            for name, cash in parts.items()
        ]
        for key, parts in (("site", budget.by_site), ("technology", budget.by_technology))
    )
    return sites, technologies


ALL_YEARS = "all_years"
"""Column of what holds over all budget years together."""


def part_spread_rows(fleet: Fleet, budget: Budget, shares: Sequence[float] = SHARES) -> Rows:
    """
    What each element, site and technology takes to hold in a share of the trials, a column for each year and for all.

    They add to more than the fleet's: not every site has its dear year in the same trial, nor one site all its dear
    years. Elements that cost nothing are left out.
    """
    columns = [*(str(year_of(fleet, year)) for year in range(fleet.terms.horizon)), ALL_YEARS]
    elements = {element.value: total for element, total in budget.totals_by_element.items() if np.any(total)}
    named = {"element": elements, "site": budget.totals_by_site, "technology": budget.totals_by_technology}
    return [
        {"by": by, "part": name, "holds_in": share} | dict(zip(columns, held.tolist(), strict=True))
        for by, totals in named.items()
        for name, total in totals.items()
        for share, held in zip(shares, _held_with_all_years(total, shares), strict=True)
    ]


def _held_with_all_years(total: Amounts, shares: Sequence[float]) -> Iterable[Amounts]:
    """What holds in each share of the trials: by year, and behind it over all years together. [money]"""
    return quantile_of(np.column_stack([total, total.sum(axis=1)]), shares)


UNIT_COLUMNS = ("unit", "engine", "count", "age", "meter_hours", "hours_per_year", "variation", "site", "note")
"""Columns of the units on the first budget day."""


def unit_rows(fleet: Fleet) -> Rows:
    """The units on the first budget day."""
    return [
        {"unit": unit.name} | {name: getattr(unit, name) for name in UNIT_COLUMNS if name != "unit"}
        for unit in fleet.units
    ]
