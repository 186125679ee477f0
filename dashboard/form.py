"""Values on screen become a scenario; what is wrong is told at its field.

The server keeps nothing of a user: every call brings all values, and what a browser sends is checked here again.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from dashboard import text
from model.cheapest import at_ownership_years, hours_rows
from model.inputs.scenario import Scenario
from model.wording import plain

HOURS, YEARS, FUEL, LABOUR, ENGINES = "hours", "years", "fuel", "labour", "engines"


@dataclass(frozen=True)
class Field:
    """A number on screen."""

    key: str
    """Its name in ids and values."""
    label: str
    """What it is called."""
    unit: str
    """Its unit, in words."""
    start: float
    """What the file says."""
    low: float
    """Least allowed."""
    high: float
    """Most allowed."""
    step: float
    """What one move of the slider changes."""

    @property
    def range_in_words(self) -> str:
        """What is allowed: "0 to 500 h a year"."""
        return f"{plain(self.low)} to {plain(self.high)} {self.unit}"

    def check(self, raw: Any) -> tuple[float | None, str]:
        """
        The number that was typed, or why it cannot be used.

        Parameters
        ----------
        raw : Any
            What the browser sent.

        Returns
        -------
        (float or None, str)
            The number; what is wrong, empty when nothing is.
        """
        number = _number(raw)
        if number is None:
            return None, text.not_a_number(self.range_in_words)
        if not self.low <= number <= self.high:
            return None, text.out_of_range(self.range_in_words)
        return number, ""


def _number(raw: Any) -> float | None:
    """A finite number, or None; a comma may stand for the point."""
    if isinstance(raw, str) and len(raw) <= 40:
        try:
            raw = float(raw.replace(",", "."))
        except ValueError:
            return None
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not math.isfinite(raw):
        return None
    return float(raw)


@dataclass(frozen=True)
class Values:
    """All values on screen, sound; a key for results that are kept."""

    numbers: tuple[tuple[str, float], ...]
    """Fields and their numbers, in the form's order."""
    engines: tuple[str, ...]
    """Names of the engines compared, in the scenario's order."""

    def number(self, key: str) -> float:
        """The number of a field."""
        return dict(self.numbers)[key]

    def as_data(self) -> dict[str, Any]:
        """The same for a store of the browser."""
        return {**dict(self.numbers), ENGINES: list(self.engines)}


@dataclass(frozen=True, eq=False)
class Form:
    """What can be changed of one scenario."""

    scenario: Scenario
    """As the file says."""
    fields: tuple[Field, ...]
    """Its numbers."""

    @property
    def engines(self) -> tuple[str, ...]:
        """Names of all engines."""
        return tuple(engine.name for engine in self.scenario.engines)

    @property
    def start(self) -> Values:
        """What the file says."""
        return Values(tuple((field.key, field.start) for field in self.fields), self.engines)

    def check(self, raw: Mapping[str, Any]) -> tuple[Values | None, dict[str, str]]:
        """
        Values from what a browser sent, or what is wrong by field.

        Parameters
        ----------
        raw : mapping of str to Any
            By field; a field that is missing is taken as empty.

        Returns
        -------
        (Values or None, dict of str to str)
            None as soon as one field is wrong; texts of the fields that are.
        """
        checked = {field.key: field.check(raw.get(field.key)) for field in self.fields}
        problems = {key: problem for key, (_, problem) in checked.items() if problem}
        chosen = raw.get(ENGINES)
        engines = tuple(name for name in self.engines if isinstance(chosen, list) and name in chosen)
        if not engines:
            problems[ENGINES] = text.NO_ENGINE
        if problems:
            return None, problems
        numbers = tuple((key, number) for key, (number, _) in checked.items() if number is not None)
        return Values(numbers, engines), {}


def form_of(scenario: Scenario) -> Form:
    """The form of a scenario: its numbers with the ranges that it states, or that suit them."""
    hours, years = scenario.hours(), scenario.ownership.years
    mean = sum(hours) / len(hours)
    currency, prices = scenario.currency, scenario.prices
    hours_low, hours_high = _held(scenario.range.hours_per_year, mean)
    years_low, years_high = _held(scenario.range.ownership_years, years)
    step = 1.0 if hours_high <= 300.0 else 5.0
    return Form(
        scenario,
        (
            Field(HOURS, text.HOURS, text.HOURS_UNIT, mean, hours_low, hours_high, step),
            Field(YEARS, text.YEARS, text.YEARS_UNIT, years, years_low, years_high, 0.5),
            Field(FUEL, text.FUEL, text.per_litre(currency), prices.fuel, 0.0, _some_times(prices.fuel, 5.0), 0.05),
            Field(
                LABOUR, text.LABOUR, text.per_hour(currency), prices.labour, 0.0, _some_times(prices.labour, 200.0), 1.0
            ),
        ),
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


@lru_cache(maxsize=256)
def scenario_of(form: Form, values: Values) -> Scenario:
    """
    The scenario that the values on screen describe.

    Parameters
    ----------
    form : Form
    values : Values
        From `Form.check`; inside the limits of the model, since the form's ranges are.

    Returns
    -------
    Scenario
        The form's own, where nothing was changed.
    """
    base = form.scenario
    hours, years = values.number(HOURS), values.number(YEARS)
    start = dict(form.start.numbers)
    scenario = base if years == start[YEARS] else at_ownership_years(base, years)
    changes: dict[tuple[str | int, ...], Any] = {}
    if hours != start[HOURS] or scenario is not base:
        if base.use.hours_by_year is None:
            changes["use", "hours_per_year"] = hours
        else:
            changes["use", "hours_by_year"] = tuple(hours_rows(scenario, np.array([hours]))[0].tolist())
    changes["prices", "fuel"] = values.number(FUEL)
    changes["prices", "labour"] = values.number(LABOUR)
    changes["engines",] = tuple(engine for engine in base.engines if engine.name in values.engines)
    return scenario.changed(changes)
