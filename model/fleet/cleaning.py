"""Readings of one meter: single typing errors left out, a meter that began anew joined on, and what no meter can do."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

HOURS_IN_A_DAY = 24.0
"""No meter runs faster. [h/day]"""


@dataclass(frozen=True)
class Reading:
    """One reading of a meter."""

    day: date
    """When."""
    hours: float
    """What it showed. [h]"""
    row: int
    """Its line in the log, from 1."""


def most_hours(since: date, day: date) -> float:
    """
    All hours from the first day of service to another day, that day included.

    Parameters
    ----------
    since, day : date

    Returns
    -------
    float
        [h]
    """
    return HOURS_IN_A_DAY * ((day - since).days + 1)


def at_most(most: float, day: date, row: int) -> str:
    """
    What a meter may show after a row of its log, for the message of a problem.

    Parameters
    ----------
    most : float
        What it comes to where it ran all the time. [h]
    day : date
        Of the row before.
    row : int
        Its line in the log, from 1.

    Returns
    -------
    str
    """
    return f"at most {most:,.10g} h, 24 h a day from {day} (row {row}) on; correct or delete one of the two rows"


def is_possible(one: Reading, other: Reading) -> bool:
    """
    Whether a meter can go from one reading to the next.

    Parameters
    ----------
    one, other : Reading
        In order of time.

    Returns
    -------
    bool
    """
    return 0.0 <= other.hours - one.hours <= HOURS_IN_A_DAY * (other.day - one.day).days


def without_typing_errors(readings: Sequence[Reading]) -> tuple[list[Reading], list[Reading]]:
    """
    Readings without single ones that do not fit between their neighbours, which fit each other.

    Parameters
    ----------
    readings : sequence of Reading
        Of one meter, in order of time.

    Returns
    -------
    (list of Reading, list of Reading)
        Those kept and those left out. Where either of two may be the wrong one and nothing after them decides, both
        are kept: `too_fast` and `joined` find them.
    """
    kept: list[Reading] = []
    errors: list[Reading] = []
    for index, reading in enumerate(readings):
        is_error = bool(kept) and _is_typing_error(kept[-1], reading, readings[index + 1 : index + 3])
        (errors if is_error else kept).append(reading)
    return kept, errors


def _is_typing_error(before: Reading, reading: Reading, after: Sequence[Reading]) -> bool:
    """Whether a reading, and not the one after it, is the one that does not fit."""
    if not after or not is_possible(before, after[0]):
        return False
    if not is_possible(before, reading):
        return True
    if is_possible(reading, after[0]):
        return False
    if len(after) < 2:
        return False  # either may be the wrong one, and nothing decides
    if not is_possible(reading, after[1]):
        return True
    # Either may be the wrong one: the hours of the rest then run more evenly without it.
    return _unevenness(before, after[0], after[1]) < _unevenness(before, reading, after[1])


def _unevenness(first: Reading, second: Reading, third: Reading) -> float:
    """How far the hours a day of two spans differ. [h/day]"""
    one, other = ((b.hours - a.hours) / (b.day - a.day).days for a, b in ((first, second), (second, third)))
    return abs(one - other)


def too_fast(readings: Sequence[Reading]) -> Iterator[tuple[Reading, Reading, float]]:
    """
    Readings that no meter can have reached since the one before, or since it began anew.

    Parameters
    ----------
    readings : sequence of Reading
        Of one meter, in order of time, those that were kept.

    Yields
    ------
    (Reading, Reading, float)
        The one before, the one that is too high, and the most that it could be. [h]
    """
    for before, reading in pairwise(readings):
        begin = 0.0 if reading.hours < before.hours else before.hours
        most = begin + HOURS_IN_A_DAY * (reading.day - before.day).days
        if reading.hours > most:
            yield before, reading, most


def joined(readings: Sequence[Reading]) -> tuple[list[float], list[float], list[Reading]]:
    """
    Hours of one meter as if it had never begun anew.

    Parameters
    ----------
    readings : sequence of Reading
        Of one meter, in order of time, those that were kept.

    Returns
    -------
    (list of float, list of float, list of Reading)
        Days since the first reading, hours run since it, and readings at which the meter had begun anew from 0.
        [day, h]
    """
    days, hours, resets = [0.0], [0.0], list[Reading]()
    for before, reading in pairwise(readings):
        run = reading.hours - before.hours
        if run < 0.0:
            resets.append(reading)
            run = reading.hours
        days.append(float((reading.day - readings[0].day).days))
        hours.append(hours[-1] + run)
    return days, hours, resets
