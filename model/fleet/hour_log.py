"""An hour-meter log: hours a year and their spread, with gaps, resets and typing errors told."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from model.fleet.cleaning import Reading, joined, too_fast, without_typing_errors
from model.fleet.csv_rows import Columns, CsvFile, Limits, rows_of, unit_of_the_register
from model.inputs.problems import Problem, shown
from model.language import dated, say, written

COLUMNS = Columns(("unit", "date", "reading"))
"""Columns of an hour-meter log."""

READING = Limits(0, 1e6, "h")

LONGEST_GAP = 400
"""Days between two readings from which on the gap is told. [day]"""

DAYS_IN_A_YEAR = 365.25
"""Days in a year, on average. [day]"""

FEWEST_YEARS = 3
"""Whole years of readings from which on the spread between years is fitted. [year]"""

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
    known = set(names)
    return [
        Problem(file, f"row {min(one.row for one in readings)}, unit", shown(unit), unit_of_the_register(unit, known))
        for unit, readings in logs.items()
        if unit not in known
    ]


def fit_hours(
    logs: dict[str, list[Reading]], file: str, problems: list[Problem]
) -> tuple[dict[str, HoursFit], tuple[str, ...]]:
    """
    Hours a year of every unit with two readings or more.

    Parameters
    ----------
    logs : dict of str to list of Reading
        From `read_hour_log`.
    file : str
        The log's name, for messages.
    problems : list of Problem
        Added to: a last reading that is lower than the one before, which nothing after it explains; hours that no
        meter can have run since the reading before.

    Returns
    -------
    (dict of str to HoursFit, tuple of str)
        Fits; and gaps, resets and typing errors, a sentence each.
    """
    fits, told = {}, list[str]()
    for unit, readings in logs.items():
        kept, errors = without_typing_errors(readings)
        told += [
            say(
                "{unit}: row {row}, {hours} h does not fit the readings around it and is left out.",
                unit=unit,
                row=bad.row,
                hours=written(f"{bad.hours:,.10g}"),
            )
            for bad in errors
        ]
        days, hours, resets = joined(kept)
        told += [
            say(
                "{unit}: row {row}, the meter begins anew at {hours} h.",
                unit=unit,
                row=reset.row,
                hours=written(f"{reset.hours:,.10g}"),
            )
            for reset in resets
        ]
        if resets and resets[-1] is kept[-1]:
            allowed = "a reading not below the one before: meters do not run backwards"
            problems.append(Problem(file, f"row {kept[-1].row}, reading", f"{kept[-1].hours:g}", allowed))
        problems += [
            Problem(file, f"row {one.row}, reading", f"{one.hours:.10g}", _at_most(before, most))
            for before, one, most in too_fast(kept)
        ]
        told += [_gap_told(unit, *gap) for gap in _gaps(kept)]
        if len(kept) >= 2:
            fits[unit] = _fit(kept[-1], (days, hours), bool(resets))
    return fits, tuple(told)


def _at_most(before: Reading, most: float) -> str:
    """What a reading may be after another one."""
    return f"at most {most:,.10g} h, 24 h a day since {before.day} (row {before.row}); correct or delete one of them"


def _gap_told(unit: str, gap: float, day: date) -> str:
    """That the meter was not read for some days."""
    days = f"{gap:.0f}"
    return say("{unit}: no reading for {days} {days:day|days} before {day}.", unit=unit, days=days, day=dated(day))


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
