"""A repair log: scale and shape of each engine's failure modes from what has failed, and when."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.elements.repairs import failures_by, mode_table
from model.fleet.cleaning import at_most, most_hours
from model.fleet.csv_rows import Columns, CsvFile, Limits, Row, UnitNames, rows_of
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


Span = tuple[float, float]
"""Ages between which an engine was watched. [h or year by clock]"""


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
    """Repairs in the log since it is whole."""
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
    left_out: int = 0
    """Repairs in the log from before the day from which it is whole: they count nowhere."""

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
        Of engines as the register has them, with hours that they can have run by then.
    """
    known = {unit.name: unit for unit in units}
    advice = UnitNames(known)
    modes = {engine.name: [mode.name for mode in engine.repair] for engine in file.engines}
    found = list[tuple[Repaired, Row]]()
    for row in rows_of(table, COLUMNS, problems):
        before = len(problems)
        name, mode, cost = row.text("unit", needed=True), row.text("mode", needed=True), row.number_in("cost", COST)
        day = row.day("date", (file.fleet.as_of, "fleet.as_of"))
        meter = row.needed_number("meter_hours", METER)
        if name and name not in known:
            row.tell("unit", shown(name), advice.instead_of(name))
        elif name and mode and mode not in modes[known[name].engine]:
            row.tell("mode", shown(mode), nearest(mode, modes[known[name].engine]))
        elif name and meter is not None and meter > known[name].meter_hours + 1e-6:
            row.tell("meter_hours", f"{meter:g}", f"at most what the register's meter comes to, "
                                                  f"{known[name].meter_hours:,.0f} h")  # fmt: skip
        if len(problems) == before and day is not None and meter is not None:
            _check_age(row, known[name], (day, meter), file.fleet.as_of)
            found.append((Repaired(name, day, meter, mode, cost), row))
    _check_order(found, known)
    return [one for one, _ in found]


def _check_age(row: Row, unit: Unit, seen: tuple[date, float], as_of: date) -> None:
    """Tell a repair from before the engine was there, and a meter that it cannot have had then."""
    (day, meter), since = seen, unit.in_service
    most = most_hours(since, day)
    if day < since:
        row.tell("date", str(day), f"a day not before in_service, {since}: repairs of the engine that the register has")
    elif meter > most:
        row.tell("meter_hours", f"{meter:.10g}", f"at most {most:,.0f} h, all hours since in_service, {since}")


def _check_order(found: Sequence[tuple[Repaired, Row]], units: Mapping[str, Unit]) -> None:
    """Tell meters that no engine can have had since its repair before; two engines of a boat have two meters."""
    last: dict[str, tuple[Repaired, Row]] = {}
    for one, row in sorted(found, key=lambda each: (each[0].day, each[0].meter_hours)):
        if units[one.unit].count > 1:
            continue
        allowed = _allowed_after(*last[one.unit], one) if one.unit in last else None
        if allowed is None:
            last[one.unit] = (one, row)
        else:
            row.tell("meter_hours", f"{one.meter_hours:.10g}", allowed)


def _allowed_after(before: Repaired, its_row: Row, one: Repaired) -> str | None:
    """What a meter may show at a repair, given the repair before; None where it shows that."""
    if one.meter_hours < before.meter_hours:
        least = f"at least {before.meter_hours:,.10g} h, as on {before.day} (row {its_row.number})"
        return f"{least}: meters do not run backwards"
    most = before.meter_hours + most_hours(before.day, one.day)
    return None if one.meter_hours <= most else at_most(most, before.day, its_row.number)


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
    begin = file.fleet.repair_log_from
    whole = [one for one in log if begin is None or one.day >= begin]
    watched = _watched(file, units, whole)
    found = []
    for engine in file.engines:
        with_it = {unit.name: unit for unit in units if unit.engine == engine.name}
        for mode in engine.repair if with_it else ():
            logged, repaired = (
                [one for one in rows if one.unit in with_it and one.mode == mode.name] for rows in (log, whole)
            )
            repaired.sort(key=lambda one: _age(with_it[one.unit], one, mode.clock))
            spans = {name: watched[name, mode.clock] for name in with_it}
            costs = [one.cost for one in repaired if one.cost is not None]
            mean = sum(costs) / len(costs) if costs else None
            fit, (expected, seen) = _fit(with_it, spans, mode, repaired), _seen(with_it, spans, mode, repaired)
            counted = (len(repaired), mean, expected, seen, tuple(repaired))
            last, left_out = max(end for _, end in spans.values()), len(logged) - len(repaired)
            found.append(ModeFit(engine.name, mode.name, mode.clock, fit, *counted, last, mode, left_out))
    return tuple(found)


def _seen(
    units: Mapping[str, Unit], watched: Mapping[str, Span], mode: FailureMode, repaired: Sequence[Repaired]
) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Repairs that the file expects while the units were watched, and mean cumulative repairs of an engine."""
    table = mode_table([mode], (0.0, 0.0), None)
    spans = [watched[name] for name, unit in units.items() for _ in range(unit.count)]
    expected = sum(failures_by(0, end, table) - failures_by(0, begin, table) for begin, end in spans)
    ages = [_age(units[one.unit], one, mode.clock) for one in repaired]
    found = mean_cumulative_repairs(ages, [begin for begin, _ in spans], [end for _, end in spans])
    return float(expected), tuple(zip(*(values.tolist() for values in found), strict=True))


def _fit(
    units: Mapping[str, Unit], watched: Mapping[str, Span], mode: FailureMode, repaired: Sequence[Repaired]
) -> PowerLaw | None:
    """The power law of one mode, every unit watched from the begin of the log to the reading of its meter."""
    begins, ends, ages = list[float](), list[float](), list[float]()
    for name, unit in units.items():
        begin, end = watched[name]
        own = sorted(_age(unit, one, mode.clock) for one in repaired if one.unit == name)
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


def _watched(file: FleetFile, units: Sequence[Unit], repaired: Sequence[Repaired]) -> dict[tuple[str, Clock], Span]:
    """
    Ages of every unit at the begin of the log and at the reading of its meter, by either clock.

    The meter at the begin is counted back, at the unit's own hours, from its first repair since then, or from the
    reading where there was none: so no repair since the begin falls before it.
    """
    terms, own, found = file.fleet, dict[str, list[Repaired]](), dict[tuple[str, Clock], Span]()
    for one in repaired:
        own.setdefault(one.unit, []).append(one)
    ahead = years_between(terms.as_of, terms.budget_start)
    for unit in units:
        begin = max(unit.in_service, terms.repair_log_from or unit.in_service)
        read = (terms.as_of, unit.meter_hours - ahead * unit.hours_per_year)
        seen = [*((one.day, one.meter_hours) for one in own.get(unit.name, ())), read]
        day, meter = min(seen)
        met = min(meter - years_between(begin, day) * unit.hours_per_year, *(hours for _, hours in seen), meter)
        found[unit.name, Clock.HOURS] = (max(met, 0.0) if begin > unit.in_service else 0.0, read[1])
        found[unit.name, Clock.YEARS] = (
            years_between(unit.in_service, begin),
            years_between(unit.in_service, terms.as_of),
        )
    return found


def _age(unit: Unit, one: Repaired, clock: Clock) -> float:
    """Age of a unit at a repair. [h or year by clock]"""
    return one.meter_hours if clock is Clock.HOURS else years_between(unit.in_service, one.day)
