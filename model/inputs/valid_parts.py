"""Rules between fields that can still be checked when some fields are wrong.

pydantic runs the rules of a table only when all its fields, down to the last of its tables, are valid: a negative price
in one engine would hide that two engines have one name. Here each table is put together from its valid fields only, and
every rule that asks for nothing else is run on it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, get_args, get_origin

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from model.inputs.base import Table
from model.inputs.problems import Refusal, Step
from model.inputs.telling import bare

Placed = tuple[tuple[Step, ...], Refusal]
"""Path of the table that holds a rule, and what it refuses."""

_UNKNOWN = object()
"""Stands for a value that is wrong, and so not there."""


@dataclass
class _Search:
    """One search for refusals."""

    wrong: set[tuple[Step, ...]]
    """Paths of wrong values, and of all tables and arrays that they stand in."""
    context: dict[str, Any]
    """Context of the validation."""
    found: list[Placed]
    """What was refused."""


def refusals_of_valid_parts(
    model: type[Table], document: Any, paths: Iterable[tuple[Step, ...]], context: dict[str, Any]
) -> list[Placed]:
    """
    Refusals of every rule whose fields are valid.

    Parameters
    ----------
    model : type
        What the document was validated as.
    document : Any
        What was validated.
    paths : iterable of tuple
        Where the validation found something wrong.
    context : dict
        Context of the validation.

    Returns
    -------
    list of (tuple, Refusal)
        Among them those that the validation itself has found.
    """
    wrong = {path[:length] for path in paths for length in range(len(path) + 1)}
    search = _Search(wrong, context, [])
    if isinstance(document, dict):
        _table(model, document, (), search)
    return search.found


def _nothing_known(kind: type[Table]) -> Table:
    """A table without any field: whatever rule asks for one is left out."""
    return kind.__new__(kind)


def _table(kind: type[Table], raw: dict[str, Any], at: tuple[Step, ...], search: _Search) -> Table:
    """The table with its valid fields; its rules are run on the way."""
    table = _nothing_known(kind)
    values: dict[str, Any] = {}
    for name, field in kind.model_fields.items():
        key = field.alias if field.alias in raw else name
        if key in raw:
            value = _value(field, raw[key], (*at, key), search)
        else:
            value = _UNKNOWN if field.is_required() else field.get_default(call_default_factory=True)
        if value is not _UNKNOWN:
            values[name] = value
    object.__setattr__(table, "__dict__", values)
    refused = list(_refusals(table))
    search.found += [(at, refusal) for refusal in refused]
    # What a rule has refused is no ground for the rules of the tables around it.
    for refusal in refused:
        values.pop(str(refusal.at[0]) if refusal.at else "", None)
    return table


def _value(field: FieldInfo, raw: Any, at: tuple[Step, ...], search: _Search) -> Any:
    """A field's value as far as it is valid."""
    kind = bare(field.annotation)
    if at not in search.wrong:
        annotation: Any = Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation
        try:
            return TypeAdapter(annotation).validate_python(raw, context=search.context)
        except ValidationError:
            return _UNKNOWN
    if isinstance(kind, type) and issubclass(kind, Table):
        return _table(kind, raw, at, search) if isinstance(raw, dict) else _UNKNOWN
    inner = bare(get_args(kind)[0]) if get_origin(kind) is tuple else None
    if isinstance(inner, type) and issubclass(inner, Table) and isinstance(raw, list):
        return tuple(
            _table(inner, item, (*at, index), search) if isinstance(item, dict) else _nothing_known(inner)
            for index, item in enumerate(raw)
        )
    return _UNKNOWN


def _refusals(table: Table) -> Iterator[Refusal]:
    """Refusals of the rules that need no field that is wrong."""
    try:
        for rule in table.rules():
            yield from _tried(rule)
    except AttributeError:
        return


def _tried(rule: Any) -> Sequence[Refusal]:
    """Refusals of a rule, none when it asks for a field that is wrong."""
    try:
        return list(rule())
    except AttributeError:
        return []
