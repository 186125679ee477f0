"""The present value of every stay that every unit of a fleet may have, at its mean hours: what plans are chosen from.

A new engine costs the same on every boat that runs as much, so those stays are worked out once for each kind and all
numbers of hours together; an engine that is there already is as old as it is, so its stays are its own unit's.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.fleet.best_plan import StayCosts
from model.fleet.cash import Cases, Rows, owned, present_value, stated_rows, value_got
from model.fleet.fleet_file import FleetFile
from model.fleet.groups import groups_of
from model.fleet.register import Unit
from model.fleet.stays import Stay

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class StayTask:
    """A part of the stays of a fleet, for one worker."""

    units: tuple[Unit, ...]
    """Units whose own engines' stays are worked out; or one with as many engines as the new one is for."""
    engine: str = ""
    """The new engine whose stays are worked out; empty for those of the units' own."""
    hours: tuple[float, ...] = ()
    """Hours a year of the boats that may have it. [h/year]"""


def candidates_of(file: FleetFile, engine: str) -> tuple[str, ...]:
    """Names of the engines that may replace an engine."""
    return tuple(one.name for one in file.candidates_for(file.engine(engine)))


def stay_tasks(file: FleetFile, units: Sequence[Unit]) -> list[StayTask]:
    """
    Tasks that together work out all stays of a fleet, those of new engines first.

    Parameters
    ----------
    file : FleetFile
    units : sequence of Unit

    Returns
    -------
    list of StayTask
    """
    able = {engine: candidates_of(file, engine) for engine in dict.fromkeys(unit.engine for unit in units)}
    kinds: dict[tuple[str, int], list[Unit]] = {}
    for unit in units:
        for engine in able[unit.engine]:
            kinds.setdefault((engine, unit.count), []).append(unit)
    new = [
        StayTask((alike[0],), engine, tuple(sorted({unit.hours_per_year for unit in alike})))
        for (engine, _), alike in kinds.items()
    ]
    return new + [StayTask(tuple(group)) for group in groups_of(units)]


def stay_part(file: FleetFile, task: StayTask) -> Amounts:
    """
    Present values of the stays of one task.

    Parameters
    ----------
    file : FleetFile
    task : StayTask

    Returns
    -------
    ndarray
        Of the units' own engines, sold after 0, 1, ... years, shape (unit, horizon + 1); of a new engine by its hours,
        the year in which it is bought and how long it stays, shape (hours, horizon, horizon + 1). [money]
    """
    cases = Cases(file)
    if not task.engine:
        return np.array([_held_costs(cases, unit) for unit in task.units])
    return _new_costs(cases, task)


def tables_of(file: FleetFile, units: Sequence[Unit], parts: Sequence[Amounts]) -> list[StayCosts]:
    """
    The costs of all stays of each unit.

    Parameters
    ----------
    file : FleetFile
    units : sequence of Unit
    parts : sequence of ndarray
        From `stay_part`, one for each of `stay_tasks` in their order.

    Returns
    -------
    list of StayCosts
        One for each unit.
    """
    tasks = stay_tasks(file, units)
    held = np.concatenate([part for task, part in zip(tasks, parts, strict=True) if not task.engine])
    new = {
        (task.engine, task.units[0].count, hours): part[row]
        for task, part in zip(tasks, parts, strict=True)
        for row, hours in enumerate(task.hours)
    }
    able = {engine: candidates_of(file, engine) for engine in dict.fromkeys(unit.engine for unit in units)}
    return [
        StayCosts(own, np.array([new[engine, unit.count, unit.hours_per_year] for engine in able[unit.engine]]))
        for unit, own in zip(units, held, strict=True)
    ]


def stay_tables(file: FleetFile, units: Sequence[Unit]) -> list[StayCosts]:
    """The costs of all stays of each unit, worked out here."""
    return tables_of(file, units, [stay_part(file, task) for task in stay_tasks(file, units)])


def _held_costs(cases: Cases, unit: Unit) -> Amounts:
    """Present value of the engine found there, sold after 0, 1, ... years, shape (horizon + 1,). [money]"""
    horizon = cases.file.fleet.horizon
    rows, held = stated_rows(unit, horizon), np.empty(horizon + 1)
    held[0] = -float(value_got(cases, unit))
    for years in range(1, horizon + 1):
        stay = Stay(unit.engine, 0, years, is_held=True)
        held[years] = float(present_value(cases.file, owned(cases, unit, stay, rows), stay))
    return held


def _new_costs(cases: Cases, task: StayTask) -> Amounts:
    """Present value of every stay of a new engine, shape (hours, horizon, horizon + 1). [money]"""
    horizon = cases.file.fleet.horizon
    rows = Rows(np.array([[hours] * horizon for hours in task.hours]))
    new = np.full((len(task.hours), horizon, horizon + 1), np.inf)
    for begin in range(horizon):
        for years in range(1, horizon - begin + 1):
            stay = Stay(task.engine, begin, years, is_held=False)
            new[:, begin, years] = present_value(cases.file, owned(cases, task.units[0], stay, rows), stay)
    return new
