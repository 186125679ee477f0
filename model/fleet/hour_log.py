"""An hour-meter log: hours a year and their spread, with gaps, resets and typing errors told."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from model.fleet.cleaning import Reading, at_most, joined, most_hours, too_fast
from model.fleet.csv_rows import Columns, CsvFile, Limits, UnitNames, rows_of
from model.fleet.first_reading import Cleaned, First, Registered, cleaned, first_told
from model.inputs.problems import Problem, shown
from model.language import dated, say, written

COLUMNS = Columns(("unit", "date", "reading"))
"""Columns of an hour-meter log."""

READING = Limits(0, 1e6, "h")

LONGEST_GAP = 400
"""Days between two readings from which on the gap is told. [day]"""

DAYS_IN_A_YEAR = 365.25
"""Days in a year, on average. [day]"""

SHORTEST_SPAN = 56
"""Days of readings from which on hours a year are made of them: eight weeks. [day]"""

FEWEST_YEARS = 3
"""Whole years of readings from which on the spread between years is fitted. [year]"""

SHORT_OF = 0.03
"""Share of the hours run that a register may lack after an exchange of meters without a word: who exchanges one seldom
notes to the hour what the old one showed. Common practice, no source. [-]"""

NEARLY = 10.0 / DAYS_IN_A_YEAR
"""A log that lacks this much of a whole year counts as one: nobody reads meters to the day. [year]"""


@dataclass(frozen=True)
class HoursFit:
    """Hours a year of one unit from its log."""

    hours_per_year: float
    """Mean over the log. [h/year]"""
    variation: float | None
    """Coefficient of variation between whole years; None with fewer than three of them. [-]"""
    years: float
    """Time between first and last reading. [year]"""
    last_day: date
    """Day of the last reading."""
    last_reading: float
    """What it showed. [h]"""
    was_reset: bool
    """Whether the meter began anew within the log."""


@dataclass(frozen=True)
class HourLog:
    """What an hour log shows."""

    fits: Mapping[str, HoursFit]
    """Hours a year by unit."""
    too_little: Mapping[str, str]
    """Units whose readings make no hours a year, and what there is of them."""
    findings: tuple[str, ...]
    """Gaps, resets, typing errors and short times, a sentence each."""
    kept: Mapping[str, Sequence[Reading]]
    """Readings that count, by unit."""


def read_hour_log(table: CsvFile, as_of: date, problems: list[Problem]) -> dict[str, list[Reading]]:
    """
    Readings of each unit in order of time.

    Parameters
    ----------
    table : CsvFile
    as_of : date
        No reading is later.
    problems : list of Problem
        Added to: every bad cell, and two readings of one unit on one day.

    Returns
    -------
    dict of str to list of Reading
    """
    found: dict[str, dict[date, Reading]] = {}
    for row in rows_of(table, COLUMNS, problems):
        unit = row.text("unit", needed=True)
        day, hours = row.day("date", (as_of, "fleet.as_of")), row.needed_number("reading", READING)
        if not unit or day is None or hours is None:
            continue
        known = found.setdefault(unit, {})
        if day in known:
            row.tell("date", f"{day} a second time", f"one reading a day; row {known[day].row} has it")
        else:
            known[day] = Reading(day, hours, row.number)
    return {unit: [by_day[day] for day in sorted(by_day)] for unit, by_day in found.items()}


def unknown_units(logs: dict[str, list[Reading]], file: str, names: Sequence[str]) -> list[Problem]:
    """
    Units of a log that no register has: most are typing errors.

    Parameters
    ----------
    logs : dict of str to list of Reading
        From `read_hour_log`.
    file : str
        The log's name, for messages.
    names : sequence of str
        Units of the register.

    Returns
    -------
    list of Problem
        One for each such unit, at its first row.
    """
    known, advice = set(names), UnitNames(names)
    return [
        Problem(file, f"row {min(one.row for one in readings)}, unit", shown(unit), advice.instead_of(unit))
        for unit, readings in logs.items()
        if unit not in known
    ]


def readings_before_service(
    logs: Mapping[str, Sequence[Reading]], file: str, in_service: Mapping[str, date]
) -> list[Problem]:
    """
    Readings dated before the engine that the register has was there, and a first one that it cannot have run.

    Parameters
    ----------
    logs : mapping of str to sequence of Reading
        Those that count, in order of time.
    file : str
        The log's name, for messages.
    in_service : mapping of str to date
        First day of service of each unit.

    Returns
    -------
    list of Problem
    """
    found = list[Problem]()
    for unit, readings in logs.items():
        since = in_service[unit]
        allowed = f"a day not before in_service, {since}: readings of the engine that the register has"
        found += [Problem(file, f"row {one.row}, date", str(one.day), allowed) for one in readings if one.day < since]
        first, most = readings[0], most_hours(since, readings[0].day)
        if since <= first.day and first.hours > most:
            allowed = f"at most {most:,.0f} h, all hours since in_service, {since}"
            found.append(Problem(file, f"row {first.row}, reading", f"{first.hours:.10g}", allowed))
    return found


def fit_hours(
    logs: dict[str, list[Reading]], file: str, engines: Mapping[str, Registered], problems: list[Problem]
) -> HourLog:
    """
    Hours a year of every unit with readings over eight weeks or more.

    Parameters
    ----------
    logs : dict of str to list of Reading
        From `read_hour_log`.
    file : str
        The log's name, for messages.
    engines : mapping of str to Registered
        What the register has of them, by unit.
    problems : list of Problem
        Added to: a last reading that is lower than the one before, which nothing after it explains; hours that no
        meter can have run since the reading before.

    Returns
    -------
    HourLog
    """
    fits, too_little, told = dict[str, HoursFit](), dict[str, str](), list[str]()
    counted = dict[str, Sequence[Reading]]()
    for unit, readings in logs.items():
        found = cleaned(readings, engines.get(unit))
        kept = counted[unit] = found.kept
        days, hours, resets = joined(kept)
        problems += _impossible(kept, resets, file)
        told += [*first_told(unit, readings[0], found), *_findings(unit, found, resets)]
        if resets and unit in engines:
            told += _missing(unit, kept[0].hours + hours[-1], engines[unit])
        if days[-1] >= SHORTEST_SPAN:
            fits[unit] = _fit(kept[-1], (days, hours), bool(resets))
        else:
            span = f"readings from {kept[0].day} to {kept[-1].day} only"
            too_little[unit] = "one reading" if len(kept) == 1 else span
    return HourLog(fits, too_little, tuple(told), counted)


def _impossible(kept: Sequence[Reading], resets: Sequence[Reading], file: str) -> list[Problem]:
    """What no meter can do, and nothing in the log explains."""
    found = list[Problem]()
    if resets and resets[-1] is kept[-1]:
        allowed = "a reading not below the one before: meters do not run backwards"
        found.append(Problem(file, f"row {kept[-1].row}, reading", f"{kept[-1].hours:g}", allowed))
    return found + [
        Problem(file, f"row {one.row}, reading", f"{one.hours:.10g}", at_most(most, before.day, before.row))
        for before, one, most in too_fast(kept)
    ]


def _findings(unit: str, found: Cleaned, resets: Sequence[Reading]) -> Iterable[str]:
    """Typing errors, resets, gaps and a short time of one unit, a sentence each."""
    kept = found.kept
    for bad in found.errors:
        yield say(
            "{unit}: row {row}, {hours} h does not fit the readings around it and is left out.",
            unit=unit,
            row=bad.row,
            hours=written(f"{bad.hours:,.10g}"),
        )
    for reset in resets if found.first is not First.TAKEN_AS_RIGHT else ():  # that one is told already
        yield say(
            "{unit}: row {row}, the meter begins anew at {hours} h.",
            unit=unit,
            row=reset.row,
            hours=written(f"{reset.hours:,.10g}"),
        )
    for gap, day in _gaps(kept):
        yield say(
            "{unit}: no reading for {days} {days:day|days} before {day}.", unit=unit, days=f"{gap:.0f}", day=dated(day)
        )
    if len(kept) == 1:
        yield say(
            "{unit}: one reading alone makes no hours a year; it takes readings over {least} {least:day|days} or more.",
            unit=unit,
            least=f"{SHORTEST_SPAN}",
        )
    else:
        yield from _short(unit, (kept[-1].day - kept[0].day).days)


def _missing(unit: str, run: float, engine: Registered) -> Iterable[str]:
    """That the register counts fewer hours than the log, as where it has the new meter's alone."""
    if engine.meter_hours < run * (1.0 - SHORT_OF):
        yield say(
            "{unit}: by the log it has run {run} h or more since new, the old meter's hours with them; the register's "
            "{hours} h are what counts. If those are the new meter's alone, add the old one's.",
            unit=unit,
            run=written(f"{run:,.10g}"),
            hours=written(f"{engine.meter_hours:,.10g}"),
        )


def _short(unit: str, days: int) -> Iterable[str]:
    """That the readings of a unit span less than a year, and what follows."""
    if days < SHORTEST_SPAN:
        yield say(
            "{unit}: readings over {days} {days:day|days} make no hours a year; it takes {least} {least:day|days} or "
            "more.",
            unit=unit,
            days=f"{days}",
            least=f"{SHORTEST_SPAN}",
        )
    elif days < DAYS_IN_A_YEAR * (1.0 - NEARLY):
        yield say(
            "{unit}: readings over {days} {days:day|days}, less than a year; its hours a year are as if the whole "
            "year were like them.",
            unit=unit,
            days=f"{days}",
        )


def _gaps(readings: Sequence[Reading]) -> Iterable[tuple[float, date]]:
    """Gaps between readings that are worth a word: days, and the day after."""
    for before, reading in pairwise(readings):
        days = (reading.day - before.day).days
        if days > LONGEST_GAP:
            yield days, reading.day


def _fit(last: Reading, run: tuple[list[float], list[float]], was_reset: bool) -> HoursFit:
    """Mean hours a year, and the spread between whole years counted back from the last reading."""
    days, hours = np.array(run[0]), np.array(run[1])
    years = float(days[-1]) / DAYS_IN_A_YEAR
    mean = float(hours[-1]) / years
    whole = int(years + NEARLY)
    variation = None
    if whole >= FEWEST_YEARS and mean > 0.0:
        edges = days[-1] - DAYS_IN_A_YEAR * np.arange(whole, -1, -1)
        yearly = np.diff(np.interp(edges, days, hours))
        variation = float(yearly.std(ddof=1) / yearly.mean())
    return HoursFit(mean, variation, years, last.day, last.hours, was_reset)
