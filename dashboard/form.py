"""The controls at hand: numbers with ranges, and the changes of a work that each of them means.

What is allowed is the model's to say: a number outside the range of its slider may still be typed.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from dashboard import text
from dashboard.habits import marks_of, with_marks
from dashboard.scenarios import reading_of, scenario_of
from dashboard.work import Work
from model.cheapest import at_ownership_years, hours_rows
from model.inputs.problems import InputError, Problem
from model.inputs.scenario import Scenario
from model.inputs.terms import SpreadShape
from model.language import say, separators, spoken
from model.quantities import as_shown, is_of_files, money_a_litre, unit_key
from model.uncertainty.sampling import variation_of

HOURS, SPREAD, YEARS, FUEL, LABOUR = "hours", "spread", "years", "fuel", "labour"
HABITS, ENGINES = "habits", "engines"

PATHS = {
    HOURS: ("use.hours_per_year", "use.hours_by_year"),
    SPREAD: ("use.spread.variation", "use.spread"),
    YEARS: ("ownership.years",),
    FUEL: ("prices.fuel",),
    LABOUR: ("prices.labour",),
}
"""What each control sets; hours are set one way or the other, as the file does."""

A_LITRE = "money/L"
"""House unit of the fuel price, which is shown otherwise where units are chosen so."""


@dataclass(frozen=True)
class Field:
    """A number on screen."""

    key: str
    """Its name in ids."""
    label: str
    """What it is called."""
    unit: str
    """Its unit, in words."""
    value: float
    """What the work says."""
    low: float
    """Least of its slider."""
    high: float
    """Most of its slider."""
    step: float
    """What one move of the slider changes."""


def number_typed(raw: Any) -> float | None:
    """
    A finite number, or None; a comma may stand for the point, and thousands may be parted as the language does.

    >>> number_typed("150,5"), number_typed("9,800"), number_typed("1,234,567.5")
    (150.5, 9800.0, 1234567.5)
    >>> number_typed(""), number_typed(True), number_typed("1.234,5")
    (None, None, None)
    """
    if isinstance(raw, str) and len(raw) <= 40:
        try:
            raw = float(_with_a_point("".join(raw.split())))
        except ValueError:
            return None
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not math.isfinite(raw):
        return None
    return float(raw)


def _with_a_point(text: str) -> str:
    """A number as a program writes it: 9,800 is 9800 where thousands are parted so, 150,5 is 150.5 everywhere."""
    group, decimal = separators(spoken().locale)
    if re.fullmatch(rf"-?[1-9]\d{{0,2}}({re.escape(group)}\d{{3}})+({re.escape(decimal)}\d*)?", text):
        text = text.replace(group, "").replace(decimal, ".")
    return text.replace(",", ".")


def value_of(scenario: Scenario, key: str) -> float:
    """What a scenario says of a control, in the unit in which it is shown."""
    prices = scenario.prices
    return {
        HOURS: round(scenario.mean_hours(), 4),
        SPREAD: round(100.0 * variation_of(scenario.use.spread, scenario.mean_hours()), 4),
        YEARS: scenario.ownership.years,
        FUEL: round(as_shown(prices.fuel, A_LITRE), 4),
        LABOUR: prices.labour,
    }[key]


def fields_of(work: Work) -> tuple[Field, ...]:
    """
    The controls of a work, with the ranges that its file states, or that suit it.

    Parameters
    ----------
    work : Work

    Returns
    -------
    tuple of Field
    """
    base, now = reading_of(work.origin).scenario, scenario_of(work)
    values = {key: value_of(now, key) for key in PATHS}
    hours_low, hours_high = _held(base.range.hours_per_year, value_of(base, HOURS))
    years_low, years_high = _held(base.range.ownership_years, value_of(base, YEARS))
    step = 1.0 if hours_high <= 300.0 else 5.0
    fuel, labour = money_a_litre(now.currency), text.per_hour(now.currency)
    fuel_high, labour_high = (
        _some_times(as_shown(base.prices.fuel, A_LITRE), as_shown(5.0, A_LITRE)),
        _some_times(base.prices.labour, 200.0),
    )
    return (
        Field(HOURS, say(text.HOURS), say(text.HOURS_UNIT), values[HOURS], hours_low, hours_high, step),
        Field(SPREAD, say(text.SPREAD), say(text.SPREAD_UNIT), values[SPREAD], 0.0, 150.0, 5.0),
        Field(YEARS, say(text.YEARS), say(text.YEARS_UNIT), values[YEARS], years_low, years_high, 0.5),
        Field(FUEL, say(text.FUEL), fuel, values[FUEL], 0.0, fuel_high, 0.05),
        Field(LABOUR, say(text.LABOUR), labour, values[LABOUR], 0.0, labour_high, 1.0),
    )


def _held(stated: tuple[float, float], value: float) -> tuple[float, float]:
    """A range widened until it holds a value."""
    return min(stated[0], value), max(stated[1], value)


def _some_times(price: float, otherwise: float) -> float:
    """A round upper limit two to three times a price, or another one at price zero."""
    if price <= 0.0:
        return otherwise
    unit = 10.0 ** math.floor(math.log10(2.0 * price))
    return math.ceil(round(2.0 * price / unit, 6)) * unit


def changes_of(work: Work, key: str, number: float) -> dict[str, Any]:
    """
    The changes that a number at a control means.

    Parameters
    ----------
    work : Work
        What it is set on.
    key : str
        The control.
    number : float

    Returns
    -------
    dict of str to Any
        For `Work.changed`; None takes a change back, where the file says the same.
    """
    base, now = reading_of(work.origin).scenario, scenario_of(work)
    if key == SPREAD:
        return _spread(base, number)
    if key == YEARS and base.use.hours_by_year is not None:
        return _years_by_year(base, now, number)
    if number == value_of(base, key) and not (key == HOURS and base.use.hours_by_year is not None):
        return dict.fromkeys(PATHS[key])
    if key == HOURS and base.use.hours_by_year is not None:
        return {"use.hours_by_year": hours_rows(now, np.array([number]))[0].tolist()}
    return {PATHS[key][0]: in_the_file(number, A_LITRE) if key == FUEL else number}


def in_the_file(number: float, house_unit: str) -> Any:
    """
    A number typed in the unit in which it is shown, as a file states it: with its unit where that is not the house's.

    Parameters
    ----------
    number : float
        In the unit of `quantities.unit_key`.
    house_unit : str

    Returns
    -------
    float or dict

    >>> in_the_file(1.85, "money/L")
    1.85
    """
    return {"value": number, "unit": unit_key(house_unit)} if is_of_files(house_unit) else number


def _spread(base: Scenario, percent: float) -> dict[str, Any]:
    """Another spread of the hours; of the file's own shape where that has one variation, lognormal where it has not."""
    stated = base.use.spread
    if percent == value_of(base, SPREAD):
        return {"use.spread": None}
    if percent == 0.0:
        return {"use.spread": {"shape": SpreadShape.FIXED.value}}
    shape = stated.shape if stated and stated.variation is not None else SpreadShape.LOGNORMAL
    share = stated.owner_share if stated else 1.0
    return {"use.spread": {"shape": shape.value, "variation": percent / 100.0, "owner_share": share}}


def _years_by_year(base: Scenario, now: Scenario, years: float) -> dict[str, Any]:
    """Another ownership period where hours are stated year by year: the last year's hours go on."""
    if not 0.0 < years <= 60.0:  # no year to state hours of; the model says what is allowed
        return {"ownership.years": years}
    hours = at_ownership_years(now, years).use.hours_by_year
    same = years == base.ownership.years and hours == base.use.hours_by_year
    return {
        "ownership.years": None if years == base.ownership.years else years,
        "use.hours_by_year": None if same or hours is None else list(hours),
    }


@dataclass(frozen=True)
class Checked:
    """What came of values typed at the controls."""

    work: Work
    """With all that is sound."""
    problems: dict[str, str]
    """What is wrong by control; empty where nothing is."""


def check(work: Work, raw: Mapping[str, Any]) -> Checked:
    """
    Put what was typed at the controls into a work, as far as it is sound.

    Parameters
    ----------
    work : Work
        As it was, sound.
    raw : mapping of str to Any
        By control; one that is missing is left as it is.

    Returns
    -------
    Checked
    """
    problems: dict[str, str] = {}
    for key in PATHS:
        if key in raw:
            work, problem = _with_number(work, key, raw[key])
            problems |= {key: problem} if problem else {}
    if HABITS in raw:
        work = _with_habits(work, raw[HABITS])
    if ENGINES in raw:
        chosen, names = raw[ENGINES], [engine.name for engine in reading_of(work).scenario.engines]
        kept = tuple(name for name in names if isinstance(chosen, list) and name in chosen)
        if kept:
            work = replace(work, engines=() if len(kept) == len(names) else kept)
        else:
            problems[ENGINES] = say(text.NO_ENGINE)
    return Checked(work, problems)


def _with_habits(work: Work, raw: Any) -> Work:
    """The work with other shares of slow, middle and full throttle; as it was where the marks are none."""
    if not isinstance(raw, list) or len(raw) != 2 or not all(_is_percent(mark) for mark in raw) or raw[0] > raw[1]:
        return work
    marks, base, now = (int(raw[0]), int(raw[1])), reading_of(work.origin).scenario, scenario_of(work)
    if marks == marks_of(now):
        return work
    return work.changed({"use.band": None if marks == marks_of(base) else with_marks(base, marks)})


def _is_percent(mark: Any) -> bool:
    """Whether a mark lies on the scale."""
    return isinstance(mark, int | float) and not isinstance(mark, bool) and 0 <= mark <= 100


def _with_number(work: Work, key: str, raw: Any) -> tuple[Work, str]:
    """The work with a number set, or as it was and what is wrong, in the model's words."""
    number = number_typed(raw)
    if number is None:
        return work, say(text.NOT_A_NUMBER)
    if round(number, 4) == round(value_of(scenario_of(work), key), 4):
        return work, ""  # a box shows four decimals
    changed = work.changed(changes_of(work, key, number))
    try:
        scenario_of(changed)
    except InputError as error:
        return work, text.allowed(_nearest(error.problems, PATHS[key]))
    return changed, ""


def _nearest(problems: tuple[Problem, ...], paths: tuple[str, ...]) -> Problem:
    """The problem told at one of the paths, or else the first."""
    return next((problem for problem in problems if problem.key in paths), problems[0])
