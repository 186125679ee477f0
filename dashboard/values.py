"""What is typed into the form of all numbers, as a value of a file."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from dashboard.form import in_the_file, number_typed
from dashboard.numbers import house_units
from model.inputs.paths import walk_to
from model.inputs.problems import Step
from model.inputs.scenario import Scenario
from model.inputs.telling import expected
from model.inputs.units import CONVERSIONS, to_house_unit
from model.quantities import house_value, unit_key

LONGEST_TEXT = 2000
"""Characters of a text typed into a field."""


def value_typed(raw: Any, kind: object) -> Any:
    """
    What was typed as a value of a file; what is none stays as it is, for the model to tell.

    >>> value_typed("2,5", "number"), value_typed("x", "number"), value_typed("true", "flag")
    (2.5, 'x', True)
    """
    if kind == "number":
        number = number_typed(raw)
        if number is None:
            return str(raw)[:LONGEST_TEXT]
        return int(number) if number.is_integer() and abs(number) < 2**53 else number
    if kind == "flag":
        return raw in (True, "true")
    if kind == "date":
        try:
            return date.fromisoformat(str(raw))
        except ValueError:
            return str(raw)[:LONGEST_TEXT]
    return str(raw)[:LONGEST_TEXT]


def in_units(document: Mapping[str, Any], steps: Sequence[Step], value: Any) -> Any:
    """
    A number typed in the unit in which it is shown, as a file states it at its place; anything else as it is.

    Parameters
    ----------
    document : mapping
        Where it will stand: a table may state a unit for its points.
    steps : sequence of str or int
        The place.
    value : Any
    """
    field = expected(Scenario, steps).field
    if isinstance(value, bool) or not isinstance(value, int | float) or field is None:
        return value
    units = house_units(field)
    if not (len(steps) > 2 and isinstance(steps[-1], int)):
        return in_the_file(value, units[0])
    house = units[steps[-1] % len(units)]
    stated = list(walk_to(document, (*steps[:-3], "unit")))
    beside = stated[-1] if len(stated) == len(steps) - 1 and stated[-1] in CONVERSIONS.get(house, {}) else house
    return value if beside == unit_key(house) else house_value(value, house) / to_house_unit(1.0, beside, house)
