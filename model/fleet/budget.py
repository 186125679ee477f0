"""The budget: cash by year, element, site and technology, expected and with its spread."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from model.fleet.cash import ELEMENTS, RESALE, Cases, Rows, Schedule, cash_by_year, owned, stated_rows, value_got
from model.fleet.cash_sums import CashSums, Part
from model.fleet.fleet_file import FleetFile
from model.fleet.groups import InProcess, groups_of, in_order
from model.fleet.register import Unit
from model.inputs.terms import Element
from model.uncertainty.outcomes import VARYING

Amounts = NDArray[np.float64]

SHARES = (0.5, 0.8, 0.95)
"""Shares of the trials that a budget holds for. [-]"""

CONTINGENCY_SHARE = 0.8
"""The budget that holds in this share of the trials, less the expected one, is the contingency. [-]"""

Scheduled = tuple[Unit, Schedule]
"""A unit and its stays."""

Name = TypeVar("Name")

RowsOf = Callable[[FleetFile, Unit], Rows]
"""Hours of a unit over the horizon, and the levels of prices that they meet."""


@dataclass(frozen=True)
class GroupCash:
    """Cash of a group of units."""

    by_part: Mapping[Part, Amounts]
    """Mean over the rows by site and technology, each of shape (element, year). [money]"""
    totals_by_site: Mapping[str, Amounts]
    """Of every row, by site, each of shape (row, year). [money]"""
    totals_by_technology: Mapping[str, Amounts]
    """Of every row, by technology, each of shape (row, year). [money]"""
    varying: Amounts
    """Of every row, by element that differs between them, shape (row, year, varying element). [money]"""


def group_cash_of(sums: CashSums) -> GroupCash:
    """Cash of a group from its sums."""
    means = {part: of_part / sums.rows for part, of_part in sums.by_part.items()}
    return GroupCash(means, sums.totals_by_site, sums.totals_by_technology, sums.varying)


@dataclass(frozen=True)
class Budget:
    """The budget of a fleet, in cash and nominal money."""

    by_part: Mapping[Part, Amounts]
    """Expected, by site and technology, each of shape (element, year). [money]"""
    totals_by_site: Mapping[str, Amounts]
    """Of every trial, by site in order of the names, each of shape (trial, year); a single row without trials.
    [money]"""
    totals_by_technology: Mapping[str, Amounts]
    """The same by technology. [money]"""
    varying: Amounts
    """Of every trial, by element that differs between them, shape (trial, year, varying element). [money]"""
    units: int
    """Units counted: fewer than the register has when the run was cut short."""
    years: int
    """Budget years."""

    @cached_property
    def totals(self) -> Amounts:
        """Of every trial, shape (trial, year). [money]"""
        return np.asarray(sum(self.totals_by_site.values(), np.zeros((1, self.years))))

    @property
    def by_element(self) -> Amounts:
        """Expected, shape (element, year). [money]"""
        return np.asarray(sum(self.by_part.values(), np.zeros((len(ELEMENTS), self.years))))

    @property
    def by_site(self) -> dict[str, Amounts]:
        """Expected, by site in order of the names, each of shape (year,). [money]"""
        return {site: cash.sum(axis=0) for site, cash in _summed_by(0, self.by_part).items()}

    @property
    def by_technology(self) -> dict[str, Amounts]:
        """Expected, by technology in order of the names, each of shape (year,). [money]"""
        return {technology: cash.sum(axis=0) for technology, cash in _summed_by(1, self.by_part).items()}

    @property
    def totals_by_element(self) -> dict[Element, Amounts]:
        """Of every trial, by element, each of shape (trial, year); a single row where all trials are alike. [money]"""
        found = {element: cash[None] for element, cash in zip(ELEMENTS, self.by_element, strict=True)}
        return found | {element: self.varying[..., place] for place, element in enumerate(VARYING)}

    @property
    def expected(self) -> Amounts:
        """Expected, shape (year,). [money]"""
        return np.asarray(self.by_element.sum(axis=0))

    def quantile(self, share: float) -> Amounts:
        """The budget of each year that holds in a share of the trials, shape (year,). [money]"""
        return quantile_of(self.totals, share)

    @property
    def contingency(self) -> Amounts:
        """The 80 % budget less the expected one, shape (year,). [money]"""
        return np.asarray(self.quantile(CONTINGENCY_SHARE) - self.expected)

    @property
    def standard_errors(self) -> Amounts:
        """Monte Carlo standard error of the expected total, shape (year,); 0 without trials. [money]"""
        trials = self.totals.shape[0]
        if trials < 2:
            return np.zeros(self.years)
        return np.asarray(self.totals.std(axis=0, ddof=1) / np.sqrt(trials))


def quantile_of(totals: Amounts, share: float | Sequence[float]) -> Amounts:
    """What holds in a share of the trials, or in each of some, of totals of shape (trial, year). [money]"""
    return np.asarray(np.quantile(totals, share, axis=0))


def _summed_by(place: int, parts: Mapping[Part, Amounts]) -> dict[str, Amounts]:
    """Amounts by one half of their parts' names, in order of these."""
    found: dict[str, Amounts] = {}
    for part, amounts in sorted(parts.items()):
        found[part[place]] = found.get(part[place], 0.0) + amounts
    return found


def cash_of_unit(cases: Cases, scheduled: Scheduled, rows: Rows) -> Iterable[tuple[Part, Amounts]]:
    """
    Cash of one unit, stay by stay.

    Parameters
    ----------
    cases : Cases
    scheduled : (Unit, tuple of Stay)
    rows : Rows
        Hours of shape (..., year).

    Yields
    ------
    ((str, str), ndarray of shape (element, ..., year))
        Site and technology of the stay's engine; nominal. [money]
    """
    unit, schedule = scheduled
    file, horizon = cases.file, rows.hours.shape[-1]
    if not schedule[0].is_held:
        got = np.zeros((len(ELEMENTS), *rows.hours.shape))
        got[RESALE, ..., 0] = -value_got(cases, unit, rows.levels)
        yield (unit.site, file.engine(unit.engine).technology.value), got
    for stay in schedule:
        ownership = owned(cases, unit, stay.in_cash(horizon), rows)
        yield (unit.site, file.engine(stay.engine).technology.value), cash_by_year(ownership, stay, horizon)


def group_cash(file: FleetFile, rows_of: RowsOf, group: Sequence[Scheduled]) -> GroupCash:
    """
    Cash of a group of units: one task.

    Parameters
    ----------
    file : FleetFile
    rows_of : function
        Gives each unit its rows.
    group : sequence of (Unit, tuple of Stay)

    Returns
    -------
    GroupCash
    """
    cases, sums = Cases(file), CashSums(0, 0)
    for place, scheduled in enumerate(group):
        rows = rows_of(file, scheduled[0])
        if place == 0:
            sums = CashSums(max(1, rows.hours.size // rows.hours.shape[-1]), rows.hours.shape[-1])
        for part, cash in cash_of_unit(cases, scheduled, rows):
            sums.add(part, cash.reshape(len(ELEMENTS), -1, cash.shape[-1]))
    return group_cash_of(sums)


def stated_rows_of(file: FleetFile, unit: Unit) -> Rows:
    """A unit's mean hours at stated prices: one row. [h/year]"""
    return stated_rows(unit, file.fleet.horizon)


def budget_of(
    file: FleetFile,
    scheduled: Sequence[Scheduled],
    rows_of: RowsOf = stated_rows_of,
    results: Iterable[GroupCash] | None = None,
) -> Budget:
    """
    The budget of units on their schedules.

    Parameters
    ----------
    file : FleetFile
    scheduled : sequence of (Unit, tuple of Stay)
    rows_of : function
        Gives each unit its rows: its mean hours, or those of many trials.
    results : iterable of GroupCash, optional
        Of `groups_of(scheduled)` in order, from an executor; it may end early, and the budget then holds what came.

    Returns
    -------
    Budget
    """
    groups = groups_of(scheduled)
    if results is None:
        results = in_order(InProcess(), partial(group_cash, file, rows_of), groups)
    by_part, by_site, by_technology, units = dict[Part, Amounts](), dict[str, Amounts](), dict[str, Amounts](), 0
    varying = np.zeros((1, file.fleet.horizon, len(VARYING)))
    for group, result in zip(groups, results, strict=False):
        _add_to(by_part, result.by_part)
        _add_to(by_site, result.totals_by_site)
        _add_to(by_technology, result.totals_by_technology)
        varying = result.varying.copy() if units == 0 else np.add(varying, result.varying, out=varying)
        units += len(group)
    totals = (dict(sorted(by_site.items())), dict(sorted(by_technology.items())))
    return Budget(by_part, totals[0], totals[1], varying, units, file.fleet.horizon)


def _add_to(whole: dict[Name, Amounts], part: Mapping[Name, Amounts]) -> None:
    """Add the amounts of a part to those of the whole, name by name."""
    for name, amounts in part.items():
        if name in whole:
            whole[name] += amounts
        else:
            whole[name] = amounts.copy()
