"""A repair log: scale and shape of each engine's failure modes from what has failed, and when."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.elements.repairs import failures_by, mode_table
from model.fleet.csv_rows import Columns, CsvFile, Limits, rows_of, unit_of_the_register
from model.fleet.days import years_between
from model.fleet.fleet_file import FleetFile
from model.fleet.power_law import PowerLaw, fit_power_law, mean_cumulative_repairs, observed
from model.fleet.register import METER, Unit
from model.inputs.engine import FailureMode
from model.inputs.problems import Problem, shown
from model.inputs.telling import nearest
from model.inputs.terms import AfterRepair, Clock

COLUMNS = Columns(("unit", "date", "meter_hours", "mode"), ("cost",))
"""Columns of a repair log."""

COST = Limits(0, 1e8, "")


@dataclass(frozen=True)
class Repaired:
    """One repair of the log."""

    unit: str
    """The unit."""
    day: date
    """When."""
    meter_hours: float
    """On the meter then. [h]"""
    mode: str
    """Failure mode."""
    cost: float | None
    """What it cost, where the log says so. [money]"""


@dataclass(frozen=True)
class ModeFit:
    """A failure mode of one engine as the log has it."""

    engine: str
    """The engine."""
    mode: str
    """The failure mode."""
    clock: Clock
    """What makes it age."""
    fit: PowerLaw | None
    """Scale and shape; None with too few failures. [h or year by clock, -]"""
    repairs: int
    """Repairs in the log."""
    mean_cost: float | None
    """Mean of the costs that the log states. [money]"""
    expected: float = 0.0
    """Repairs that the engine's file expects of the same engines over the same time. [-]"""
    seen: tuple[tuple[float, float], ...] = ()
    """Mean cumulative repairs of an engine just after each repair. [h or year by clock, -]"""
    logged: tuple[Repaired, ...] = ()
    """The repairs themselves, in the same order: by the engine's age."""
    watched_to: float = 0.0
    """Age to which the oldest engine was watched. [h or year by clock]"""
    of_file: FailureMode | None = None
    """The mode as the engine's file has it."""

    def expected_by(self, ages: ArrayLike, is_fitted: bool) -> NDArray[np.float64]:
        """
        Repairs of one engine expected by each age, by the fitted law or by the file's.

        Parameters
        ----------
        ages : array_like, shape (age,)
            [h or year by clock]
        is_fitted : bool
            Whether the fit stands in place of the file's scale and shape; there must be one.

        Returns
        -------
        ndarray, shape (age,)
            [-]
        """
        assert self.of_file is not None
        mode = self.of_file
        if is_fitted:
            assert self.fit is not None
            mode = mode.model_copy(update={"scale": self.fit.scale, "shape": self.fit.shape})
        table = mode_table([mode], (0.0, 0.0), None)
        return np.array([failures_by(0, age, table) for age in np.asarray(ages, dtype=float)])


def read_repair_log(table: CsvFile, file: FleetFile, units: Sequence[Unit], problems: list[Problem]) -> list[Repaired]:
    """
    Repairs of a log.

    Parameters
    ----------
    table : CsvFile
    file : FleetFile
        Knows the failure modes of each engine.
    units : sequence of Unit
        The register.
    problems : list of Problem
        Added to: every bad cell by row and column.

    Returns
    -------
    list of Repaired
    """
    known = {unit.name: unit for unit in units}
    modes = {engine.name: [mode.name for mode in engine.repair] for engine in file.engines}
    found = []
    for row in rows_of(table, COLUMNS, problems):
        before = len(problems)
        name, mode, cost = row.text("unit", needed=True), row.text("mode", needed=True), row.number_in("cost", COST)
        day = row.day("date", (file.fleet.as_of, "fleet.as_of"))
        meter = row.needed_number("meter_hours", METER)
        if name and name not in known:
            row.tell("unit", shown(name), unit_of_the_register(name, known))
        elif name and mode and mode not in modes[known[name].engine]:
            row.tell("mode", shown(mode), nearest(mode, modes[known[name].engine]))
        elif name and meter is not None and meter > known[name].meter_hours + 1e-6:
            row.tell("meter_hours", f"{meter:g}", f"at most what the register's meter comes to, "
                                                  f"{known[name].meter_hours:,.0f} h")  # fmt: skip
        if len(problems) == before and day is not None and meter is not None:
            found.append(Repaired(name, day, meter, mode, cost))
    return found


def fit_modes(file: FleetFile, units: Sequence[Unit], log: Sequence[Repaired]) -> tuple[ModeFit, ...]:
    """
    Scale and shape of every failure mode of every engine that has units, all units of an engine taken together.

    Parameters
    ----------
    file : FleetFile
    units : sequence of Unit
        The register.
    log : sequence of Repaired

    Returns
    -------
    tuple of ModeFit
        In the order of the file.
    """
    found = []
    for engine in file.engines:
        with_it = {unit.name: unit for unit in units if unit.engine == engine.name}
        for mode in engine.repair if with_it else ():
            repaired = [one for one in log if one.unit in with_it and one.mode == mode.name]
            repaired.sort(key=lambda one: _age(file, with_it[one.unit], one, mode.clock))
            last = max(_watched(file, unit, mode.clock)[1] for unit in with_it.values())
            costs = [one.cost for one in repaired if one.cost is not None]
            mean = sum(costs) / len(costs) if costs else None
            fit, (expected, seen) = _fit(file, with_it, mode, repaired), _seen(file, with_it, mode, repaired)
            counted = (len(repaired), mean, expected, seen, tuple(repaired))
            found.append(ModeFit(engine.name, mode.name, mode.clock, fit, *counted, last, mode))
    return tuple(found)


def _seen(
    file: FleetFile, units: Mapping[str, Unit], mode: FailureMode, repaired: Sequence[Repaired]
) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Repairs that the file expects while the units were watched, and mean cumulative repairs of an engine."""
    table, spans = mode_table([mode], (0.0, 0.0), None), list[tuple[float, float]]()
    for unit in units.values():
        spans += [_watched(file, unit, mode.clock)] * unit.count
    expected = sum(failures_by(0, end, table) - failures_by(0, begin, table) for begin, end in spans)
    ages = [_age(file, units[one.unit], one, mode.clock) for one in repaired]
    found = mean_cumulative_repairs(ages, [begin for begin, _ in spans], [end for _, end in spans])
    return float(expected), tuple(zip(*(values.tolist() for values in found), strict=True))


def _fit(
    file: FleetFile, units: Mapping[str, Unit], mode: FailureMode, repaired: Sequence[Repaired]
) -> PowerLaw | None:
    """The power law of one mode, every unit watched from the begin of the log to the reading of its meter."""
    begins, ends, ages = list[float](), list[float](), list[float]()
    for name, unit in units.items():
        begin, end = _watched(file, unit, mode.clock)
        own = sorted(_age(file, unit, one, mode.clock) for one in repaired if one.unit == name)
        own = [age for age in own if begin <= age <= end + 1e-9]
        for _ in range(unit.count):
            begins.append(begin)
            ends.append(end)
        if mode.after is AfterRepair.AS_NEW:  # life by life: each repair ends one and begins another at age 0
            lives = [age - before for before, age in zip([0.0, *own], own, strict=False)]
            ages += [life for life in lives if life > 0.0]
            begins += [0.0] * len(own)
            ends[-1:] = [*lives, end - own[-1]] if own else [end]
        else:
            ages += [age for age in own if age > 0.0]
    return fit_power_law(observed(ages, begins, ends))


def _watched(file: FleetFile, unit: Unit, clock: Clock) -> tuple[float, float]:
    """Ages of a unit at the begin of the log and at the reading of its meter. [h or year by clock]"""
    terms = file.fleet
    ahead = years_between(terms.as_of, terms.budget_start)
    age = unit.age - ahead
    meter = unit.meter_hours - ahead * unit.hours_per_year
    logged = age if terms.repair_log_from is None else years_between(terms.repair_log_from, terms.as_of)
    if clock is Clock.YEARS:
        return max(age - logged, 0.0), age
    return (max(meter - logged * unit.hours_per_year, 0.0) if logged < age else 0.0), meter


def _age(file: FleetFile, unit: Unit, one: Repaired, clock: Clock) -> float:
    """Age of a unit at a repair. [h or year by clock]"""
    if clock is Clock.HOURS:
        return one.meter_hours
    return unit.age - years_between(one.day, file.fleet.budget_start)
