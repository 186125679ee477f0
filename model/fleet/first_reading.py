"""The first reading of a meter that is higher than those after it: a typing error, or a meter exchanged since."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import pairwise
from math import inf

from model.fleet.cleaning import HOURS_IN_A_DAY, Reading, is_possible, most_hours, without_typing_errors
from model.language import say, written


@dataclass(frozen=True)
class Registered:
    """What the register has of the engine whose meter is read."""

    since: date
    """First day of service."""
    meter_hours: float
    """What it has run since new. [h]"""
    as_of: date
    """Day on which that was read."""


class First(StrEnum):
    """What the first reading of a log is."""

    STANDS = "stands"
    """It counts, and whatever follows it is what it is without doubt."""
    WRONG = "wrong"
    """A typing error: no exchanged meter explains the readings after it."""
    TAKEN_AS_WRONG = "taken as wrong"
    """Either; the hours run more evenly without it."""
    TAKEN_AS_RIGHT = "taken as right"
    """Either; the hours run more evenly with it and an exchanged meter."""


@dataclass(frozen=True)
class Cleaned:
    """Readings of one meter, each either kept or left out."""

    kept: list[Reading]
    """Those that count."""
    errors: list[Reading]
    """Those left out, but for the first reading."""
    first: First
    """What the first reading is."""


def cleaned(readings: Sequence[Reading], engine: Registered | None) -> Cleaned:
    """
    Readings without typing errors, the first one's too.

    Parameters
    ----------
    readings : sequence of Reading
        Of one meter, in order of time.
    engine : Registered or None
        What the register has of the engine; without it, the first reading stands.

    Returns
    -------
    Cleaned
    """
    if engine is not None and len(readings) > 2 and readings[1].hours < readings[0].hours:
        rest, errors = without_typing_errors(readings[1:])
        first = _judged(readings[0], rest, engine)
        if first is not First.STANDS:
            return Cleaned([readings[0], *rest] if first is First.TAKEN_AS_RIGHT else rest, errors, first)
    return Cleaned(*without_typing_errors(readings), First.STANDS)


def _judged(first: Reading, rest: Sequence[Reading], engine: Registered) -> First:
    """What a first reading is that is higher than the second one, by the others and by the register."""
    is_alone = len(rest) > 1 and all(is_possible(one, other) for one, other in pairwise(rest))
    if not is_alone or is_possible(first, rest[1]) or first.day < engine.since:
        return First.STANDS
    last, following = rest[-1], rest[0]
    if engine.meter_hours > last.hours + most_hours(last.day, engine.as_of):
        return First.STANDS  # the register counts hours that this meter has not: it is not the engine's first
    is_beyond_new_meter = following.hours > HOURS_IN_A_DAY * (following.day - first.day).days
    if is_beyond_new_meter or first.hours > most_hours(engine.since, first.day):
        return First.WRONG
    if engine.meter_hours >= first.hours + last.hours:
        return First.STANDS  # the register counts the hours of both meters
    with_it, without = _change_with(first, rest, engine.since), _change_without(rest, engine.since)
    return First.TAKEN_AS_WRONG if without < with_it else First.TAKEN_AS_RIGHT


def _change_without(rest: Sequence[Reading], since: date) -> float:
    """How far hours a day change over the second reading, where that counts all hours since new. [-]"""
    return _change(_from_new(rest[0], since), _pace(rest))


def _change_with(first: Reading, rest: Sequence[Reading], since: date) -> float:
    """How far they change at most, where the first reading holds and a new meter has run since then. [-]"""
    pace, least = _pace(rest), rest[0].hours / (rest[0].day - first.day).days
    return max(_change(_from_new(first, since), pace), _change(max(least, pace), pace))


def _from_new(one: Reading, since: date) -> float:
    """Hours a day since new. [h/day]"""
    return HOURS_IN_A_DAY * one.hours / most_hours(since, one.day)


def _pace(readings: Sequence[Reading]) -> float:
    """Hours a day from the first to the last of some readings. [h/day]"""
    return (readings[-1].hours - readings[0].hours) / (readings[-1].day - readings[0].day).days


def _change(one: float, other: float) -> float:
    """
    How many times the smaller of two paces the larger one is.

    >>> _change(0.5, 2.0), _change(2.0, 0.0), _change(0.0, 0.0)
    (4.0, inf, 1.0)
    """
    low, high = sorted((one, other))
    if low == high:
        return 1.0
    return high / low if low > 0.0 else inf


def first_told(unit: str, first: Reading, found: Cleaned) -> Iterator[str]:
    """
    What the first reading is, where it is not plain.

    Parameters
    ----------
    unit : str
    first : Reading
        The first reading of the log, kept or not.
    found : Cleaned

    Yields
    ------
    str
        A sentence.
    """
    known = {"unit": unit, "row": first.row, "hours": written(f"{first.hours:,.10g}")}
    if found.first is First.WRONG:
        yield say(
            "{unit}: row {row}, the first reading, {hours} h, does not fit those after it and is left out.", **known
        )
    elif found.first is First.TAKEN_AS_WRONG:
        yield say(
            "{unit}: row {row}, the first reading, {hours} h, is a typing error, or the meter was exchanged after it. "
            "It is taken as a typing error and left out: so the hours since the first day of service run more evenly.",
            **known,
        )
    elif found.first is First.TAKEN_AS_RIGHT:
        yield say(
            "{unit}: row {row}, the first reading, {hours} h, is a typing error, or the meter was exchanged after it. "
            "It is taken as right, and the meter as begun anew at {next} h in row {next_row}: so the hours since the "
            "first day of service run more evenly.",
            **known,
            next=written(f"{found.kept[1].hours:,.10g}"),
            next_row=found.kept[1].row,
        )
