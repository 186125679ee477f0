"""What pydantic found wrong becomes problems that the author of the file understands."""

import difflib
import types
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from model.inputs.paths import walk_to
from model.inputs.problems import Problem, Refusal, Step, shown

Place = Callable[[Sequence[Step]], tuple[str, str]]
"""Gives file and key for a path by key and position."""

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


def problems_of(error: ValidationError, document: Any, model: type[BaseModel], place: Place) -> list[Problem]:
    """
    Every problem of a validation.

    Parameters
    ----------
    error : ValidationError
        What pydantic found.
    document : Any
        What was validated.
    model : type
        What it was validated as.
    place : callable
        File and key of a path.

    Returns
    -------
    list of Problem
        In the order in which they were found.
    """
    told: list[Problem] = []
    for detail in error.errors(include_url=False):
        loc = tuple(detail["loc"])
        if detail["type"] == "refused":
            told += [refusal_problem(refusal, loc, place) for refusal in detail["ctx"]["refusals"]]
            continue
        steps = _steps_in(document, loc, detail["type"])
        file, key = place(steps)
        value = list(walk_to(document, steps))[-1]
        told.append(Problem(file, key, *_found_and_allowed(detail, loc, value, model)))
    return told


def refusal_problem(refusal: Refusal, loc: Sequence[Step], place: Place) -> Problem:
    """The problem of a rule between fields; `loc` leads to the table that holds the rule."""
    return Problem(*place((*loc, *refusal.at)), refusal.found, refusal.allowed)


def _steps_in(document: Any, loc: tuple[Step, ...], kind: str) -> tuple[Step, ...]:
    """The path as far as the document has it, with the missing key where one is missing."""
    length = len(list(walk_to(document, loc))) - 1
    return loc if kind in ("missing", "extra_forbidden") else loc[:length]


def _found_and_allowed(
    detail: Mapping[str, Any], loc: tuple[Step, ...], value: Any, model: type[BaseModel]
) -> tuple[str, str]:
    """Both halves of a message."""
    if detail["type"] == "extra_forbidden":
        return shown(str(loc[-1])), nearest(str(loc[-1]), known_keys(expected(model, loc[:-1]), loc))
    wanted = expected(model, loc)
    told = wanted.field.description if wanted.field and wanted.field.description else ""
    rule = (
        detail["ctx"]["allowed"]
        if detail["type"] == "not_allowed"
        else rule_of(wanted.annotation, wanted.field, detail)
    )
    found = "nothing" if detail["type"] == "missing" else _shown_number(value)
    return found, f"{rule}: {' '.join(told.split())}" if told else rule


def _shown_number(value: Any) -> str:
    """A value for a message, a number written as a table with its unit."""
    if isinstance(value, dict) and "value" in value and not isinstance(value["value"], dict | list):
        return f"{shown(value['value'])} {value.get('unit', '')}".strip()
    return shown(value)


def known_keys(wanted: Expected, loc: Sequence[Step]) -> list[str]:
    """Keys of the table that is expected at a place."""
    kind = bare(wanted.annotation)
    if not (isinstance(kind, type) and issubclass(kind, BaseModel)):
        return []
    keys = [field.alias or name for name, field in kind.model_fields.items()]
    return ["file", *keys] if len(loc) == 3 and loc[0] == "engines" else keys


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


def limits_of(annotation: Any) -> dict[str, float]:
    """The limits laid on a number: ge, gt, le, lt; the innermost give way to the outer ones."""
    limits: dict[str, float] = {}
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


def rule_of(annotation: Any, field: FieldInfo | None, detail: Mapping[str, Any]) -> str:
    """What a type allows, in words."""
    kind = bare(annotation)
    if get_origin(kind) is Literal:
        return (
            "one of " + ", ".join(shown(value) for value in get_args(kind))
            if len(get_args(kind)) > 1
            else shown(get_args(kind)[0])
        )
    if get_origin(kind) is tuple:
        return _list_rule(kind, detail)
    if get_origin(kind) is dict or not isinstance(kind, type):
        return "a table" if get_origin(kind) is dict else "a value"
    if issubclass(kind, StrEnum):
        return "one of " + ", ".join(f'"{member}"' for member in kind)
    if issubclass(kind, BaseModel):
        return "a table"
    if issubclass(kind, bool):
        return "true or false"
    if issubclass(kind, int | float):
        return ("a whole number" if kind is int else "a number") + _limits_told(limits_of(annotation), detail)
    if issubclass(kind, date):
        return "a date, such as 2027-04-01"
    if "pattern" in detail.get("ctx", {}) and field is not None:
        return f'text such as "{field.default}"'
    return "text of 1 to 80 characters in quotes" if "length" in str(detail.get("ctx", {})) else "text in quotes"


def _list_rule(kind: Any, detail: Mapping[str, Any]) -> str:
    """What a list must hold."""
    inner = get_args(kind)
    what = "tables" if isinstance(bare(inner[0]), type) and issubclass(bare(inner[0]), BaseModel) else "values"
    context = detail.get("ctx", {})
    if inner[-1] is not Ellipsis:
        return f"a list of {len(inner)} numbers"
    if "min_length" in context:
        return f"a list of {context['min_length']} or more {what}"
    return f"a list of at most {context['max_length']} {what}" if "max_length" in context else f"a list of {what}"


def _limits_told(limits: Mapping[str, float], detail: Mapping[str, Any]) -> str:
    """Limits in words; a very high upper one only to those who exceed it."""
    told = []
    if "ge" in limits:
        told.append(f"{limits['ge']:g} or more")
    if "gt" in limits:
        told.append(f"above {limits['gt']:g}")
    is_exceeded = str(detail.get("type", "")).startswith(("less_than", "finite"))
    for name, word in (("le", "at most"), ("lt", "below")):
        if name in limits and (limits[name] < LARGE or is_exceeded):
            told.append(f"{word} {limits[name]:.10g}")
    return ", " + ", ".join(told) if told else ""
