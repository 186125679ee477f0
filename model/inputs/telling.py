"""What pydantic found wrong becomes problems that the author of the file understands."""

import difflib
import math
import types
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from model.inputs.merging import Merged
from model.inputs.paths import path_text, walk_to
from model.inputs.problems import Problem, Refusal, Step, shown

LARGE = 1e5
"""An upper limit this high is only told to those who exceed it."""


@dataclass(frozen=True)
class Expected:
    """What a format expects at one place."""

    annotation: Any
    """The type, with what is laid on it."""
    field: FieldInfo | None
    """The field it belongs to."""
    table: type[BaseModel] | None
    """The table that holds the field."""


def problem_of(detail: Mapping[str, Any], merged: Merged, model: type[BaseModel]) -> Problem:
    """
    The problem that one finding of pydantic is.

    Parameters
    ----------
    detail : mapping
        One entry of `ValidationError.errors()`.
    merged : Merged
        What was validated, and where its parts came from.
    model : type
        What it was validated as.

    Returns
    -------
    Problem
    """
    loc, kind = tuple(detail["loc"]), detail["type"]
    if kind == "missing" and isinstance(loc[-1], int):
        loc, kind = loc[:-1], "too_short"  # a number is missing in a point, not a key in a table
    steps = loc if kind in ("missing", "extra_forbidden") else loc[: len(list(walk_to(merged.document, loc))) - 1]
    wanted = expected(model, loc)
    if kind == "extra_forbidden":
        in_an_entry = len(loc) == 3 and loc[0] == "engines" and merged.origin(loc) is None
        known = (["file"] if in_an_entry else []) + known_keys(expected(model, loc[:-1]))
        return Problem(*merged.place(steps), shown(str(loc[-1])), nearest(str(loc[-1]), known))
    value = list(walk_to(merged.document, steps))[-1]
    found = "nothing" if kind == "missing" else _shown_number(value)
    rule = detail["ctx"]["allowed"] if kind == "not_allowed" else rule_of(wanted, kind, detail.get("ctx", {}))
    about = " ".join((wanted.field.description or "").split()) if wanted.field else ""
    return Problem(*merged.place(steps), found, f"{rule}: {about}" if about else rule)


def refusal_problem(refusal: Refusal, at: Sequence[Step], merged: Merged) -> Problem:
    """
    The problem that a rule between fields has found.

    Parameters
    ----------
    refusal : Refusal
        What it refuses.
    at : sequence of str or int
        Path of the table that holds the rule.
    merged : Merged
        What was validated.

    Returns
    -------
    Problem
    """
    steps = (*at, *refusal.at)
    # Names are the same twice only where the engines meet: in the scenario, whatever file they come from.
    meet = not at and steps[-1:] == ("name",)
    asked_by = None if refusal.asked_by is None else (*at, *refusal.asked_by)
    file, key = (merged.label, path_text(merged.document, steps)) if meet else merged.place(steps, asked_by)
    return Problem(file, key, refusal.found, refusal.allowed)


def _shown_number(value: Any) -> str:
    """A value for a message, a number written as a table with its unit."""
    if isinstance(value, dict) and "value" in value and not isinstance(value["value"], dict | list):
        return f"{shown(value['value'])} {value.get('unit', '')}".strip()
    return shown(value)


def known_keys(wanted: Expected) -> list[str]:
    """Keys of the table that is expected at a place."""
    kind = bare(wanted.annotation)
    is_table = isinstance(kind, type) and issubclass(kind, BaseModel)
    return [field.alias or name for name, field in kind.model_fields.items()] if is_table else []


def nearest(word: str, known: Iterable[str]) -> str:
    """
    Advice on a word that is not known.

    Parameters
    ----------
    word : str
        What was found.
    known : iterable of str
        What is allowed.

    Returns
    -------
    str
        The nearest allowed one, if one is near, and all of them.

    >>> nearest("feul", ["fuel", "labour"])
    'fuel? Known here: fuel, labour'
    """
    words = list(known)
    near = difflib.get_close_matches(word[:80], words, n=1, cutoff=0.6)
    return (f"{near[0]}? " if near else "") + "Known here: " + (", ".join(words) or "none")


def expected(model: type[BaseModel], loc: Sequence[Step]) -> Expected:
    """
    What a model expects at a place.

    Parameters
    ----------
    model : type
        Where the place is counted from.
    loc : sequence of str or int
        Keys, positions from 0.

    Returns
    -------
    Expected
    """
    wanted = Expected(model, None, None)
    for step in loc:
        kind = bare(wanted.annotation)
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            found = next((f for name, f in kind.model_fields.items() if step in (name, f.alias)), None)
            if found is None:
                return Expected(Any, wanted.field, kind)
            laid_on = found.metadata
            wanted = Expected(Annotated[found.annotation, *laid_on] if laid_on else found.annotation, found, kind)
            continue
        inner = get_args(kind)
        if get_origin(kind) is tuple and isinstance(step, int):
            at = 0 if inner[-1] is Ellipsis else min(step, len(inner) - 1)
            wanted = Expected(inner[at], wanted.field, wanted.table)
        elif get_origin(kind) is dict:
            wanted = Expected(inner[1], wanted.field, wanted.table)
    return wanted


def bare(annotation: Any) -> Any:
    """The type without what is laid on it and without None."""
    if get_origin(annotation) is Annotated:
        return bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        return bare(next(kind for kind in get_args(annotation) if kind is not type(None)))
    return annotation


def limits_of(annotation: Any) -> dict[str, Any]:
    """The limits laid on a number or date: ge, gt, le, lt; the innermost give way to the outer ones."""
    limits: dict[str, Any] = {}
    if get_origin(annotation) in (Union, types.UnionType):
        for kind in get_args(annotation):
            limits |= limits_of(kind)
    if get_origin(annotation) is Annotated:
        inner, *laid_on = get_args(annotation)
        limits |= limits_of(inner)
        for item in laid_on:
            for limit in item.metadata if isinstance(item, FieldInfo) else (item,):
                limits |= {name: getattr(limit, name) for name in ("ge", "gt", "le", "lt") if hasattr(limit, name)}
    return limits


def rule_of(wanted: Expected, kind: str, context: Mapping[str, Any]) -> str:
    """
    What a type allows, in words.

    Parameters
    ----------
    wanted : Expected
        What is expected at the place.
    kind : str
        pydantic's name for what is wrong.
    context : mapping
        What pydantic tells beside it.

    Returns
    -------
    str
    """
    base = bare(wanted.annotation)
    if get_origin(base) is Literal:
        words = [shown(value) for value in get_args(base)]
        return "one of " + ", ".join(words) if len(words) > 1 else words[0]
    if get_origin(base) is tuple:
        return _list_rule(base, context)
    if get_origin(base) is dict or not isinstance(base, type) or issubclass(base, BaseModel):
        return "a table"
    if issubclass(base, StrEnum):
        return "one of " + ", ".join(f'"{member}"' for member in base)
    if issubclass(base, bool):
        return "true or false"
    is_exceeded = kind.startswith(("less_than", "finite"))
    limits = limits_of(wanted.annotation)
    if issubclass(base, int | float):
        return ("a whole number" if base is int else "a number") + _limits_told(limits, is_exceeded)
    if issubclass(base, date):
        return f"a date from {limits['ge']} to {limits['le']}, such as 2027-04-01"
    if "pattern" in context and wanted.field is not None:
        return f'text such as "{wanted.field.default}"'
    return "text of 1 to 80 characters in quotes" if kind.startswith("string_too") else "text in quotes"


def _list_rule(kind: Any, context: Mapping[str, Any]) -> str:
    """What a list must hold."""
    inner = get_args(kind)
    if inner[-1] is not Ellipsis:
        return f"a list of {len(inner)} numbers"
    base = bare(inner[0])
    what = "tables" if isinstance(base, type) and issubclass(base, BaseModel) else "values"
    if "min_length" in context:
        return f"a list of {context['min_length']} or more {what}"
    return f"a list of at most {context['max_length']} {what}" if "max_length" in context else f"a list of {what}"


def _limits_told(limits: Mapping[str, Any], is_exceeded: bool) -> str:
    """Limits in words; a very high upper one only to those who exceed it."""
    told = []
    if "ge" in limits and not limits["ge"] <= limits.get("gt", -math.inf):
        told.append(f"{limits['ge']:g} or more")
    if "gt" in limits:
        told.append(f"above {limits['gt']:g}")
    for name, word in (("le", "at most"), ("lt", "below")):
        if name in limits and (limits[name] < LARGE or is_exceeded):
            told.append(f"{word} {limits[name]:.10g}")
    return ", " + ", ".join(told) if told else ""
