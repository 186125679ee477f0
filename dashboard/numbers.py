"""Every number of a scenario as a form, made from the model's own tables: their fields, units, limits and docstrings.

The browser builds the form (`assets/editor.js`) from this content. A place is a path as `--set` takes it.
"""

import dataclasses
import re
import types
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from model.inputs.engine import Engine
from model.inputs.paths import path_text, walk_to
from model.inputs.problems import Step
from model.inputs.scenario import Scenario
from model.inputs.telling import bare
from model.inputs.units import CONVERSIONS, to_house_unit
from model.language import later, say
from model.quantities import as_shown, unit_key, unit_shown

UNIT = re.compile(r"\s*\[([^\]]+)\]\.?$")
"""The unit at the end of a docstring."""

HIDDEN = {"format", "sources", "engines", "source", "last_done", "bins", "file", "unit", "read_out"}
"""Fields that are no numbers of the owner's, or that only a file can hold."""

LABELS = {
    "every": later("Interval"), "first": later("First visit"), "task": later("Service tasks"),
    "repair": later("Failure modes"), "band": later("Running bands"), "bands": later("Where no bands are given"),
    "steps": later("Cover steps"), "by": later("Done by"), "per_boat": later("Engines on the boat"),
    "use": later("Use"), "money": later("Money"), "trials": later("What varies between trials"),
    "neglect": later("Skipped servicing"), "range": later("Ranges of the pictures"), "title": later("Title"),
    "points": later("Points"), "by_age": later("Value by age"), "start": later("State at delivery, if used"),
    "share_with_one_left": later("Share of a day lost with one engine left"), "warranty": later("Written warranty"),
    "from_month": later("From month"), "net": later("Figures net of tax"), "spread": later("Spread of the hours"),
}  # fmt: skip
"""What a field is called where its name would not say it."""

Item = dict[str, Any]
"""A field, a table or a group of both, for the browser."""


@dataclass(frozen=True)
class Content:
    """What a form is made of."""

    document: Mapping[str, Any]
    """The scenario's document, with what was typed and cannot be counted yet."""
    scenario: Scenario | None
    """The scenario as it is counted: its numbers are in house units, as paid."""
    currency: str
    """Currency of all money."""
    typed: Mapping[str, Any] = dataclasses.field(default_factory=dict)
    """What was typed and cannot be counted, by path, where the document does not show it as it was typed."""

    def path(self, steps: Sequence[Step]) -> str:
        """A place as `--set` takes it."""
        return path_text(self.document, steps)

    def counted(self, steps: Sequence[Step], raw: Any) -> Any:
        """
        A value as it is counted, or as the document has it where it is not.

        A number written with its unit is brought to the house unit, a price without tax to what is paid.
        """
        node: Any = self.scenario
        for step in steps:
            is_table = isinstance(node, BaseModel) and isinstance(step, str)
            node = getattr(node, _name_of(node, step), None) if is_table else _item(node, step)
        in_a_unit = isinstance(raw, Mapping) and "value" in raw
        if in_a_unit and isinstance(node, int | float):
            return node
        return raw["value"] if in_a_unit else raw

    def unit_beside(self, steps: Sequence[Step]) -> str:
        """The unit that a table states for its points; empty where it states none."""
        table = list(walk_to(self.document, steps[:-1]))[-1]
        unit = table.get("unit") if isinstance(table, Mapping) else None
        return unit if isinstance(unit, str) else ""


def _name_of(table: BaseModel, key: Step) -> str:
    """The name of a field by its key in a file."""
    fields = type(table).model_fields
    return next((name for name, field in fields.items() if key in (name, field.alias)), str(key))


def _item(node: Any, step: Step) -> Any:
    """An item of a list, None where there is none."""
    return node[step] if isinstance(node, tuple | list) and isinstance(step, int) and step < len(node) else None


OWNER = "owner"
"""The part of the form that is not an engine's."""


def parts(content: Content) -> list[tuple[str, str]]:
    """The parts of the form and what they are called: the owner's, then each engine's, by its place."""
    engines = content.document["engines"]
    named = [(str(place), str(engine.get("name", place + 1))) for place, engine in enumerate(engines)]
    return [(OWNER, say("Use, prices and money")), *named]


def sections(content: Content, part: str) -> list[Item]:
    """
    One part of the form.

    Parameters
    ----------
    content : Content
    part : str
        One of `parts`; the owner's where it is none.

    Returns
    -------
    list of dict
        Groups, each with its items.
    """
    place = int(part) if part.isdecimal() and int(part) < len(content.document["engines"]) else None
    steps: tuple[Step, ...] = () if place is None else ("engines", place)
    node = content.document if place is None else content.document["engines"][place]
    items = list(_items(Scenario if place is None else Engine, node, steps, content))
    loose = [item for item in items if item["kind"] != "group"]
    label = say("The scenario") if place is None else str(node.get("name", part))
    general: Item = {"kind": "group", "path": content.path(steps), "label": label, "help": "", "items": loose}
    return [{**general, "there": True}, *(item for item in items if item["kind"] == "group")]


def _items(
    model: type[BaseModel], node: Any, steps: tuple[Step, ...], content: Content, is_line: bool = False
) -> Iterator[Item]:
    """The items of one table; of a line of a list those of tables within it too, whether they are there or not."""
    for name, field in model.model_fields.items():
        key = field.alias or name
        if name in HIDDEN:
            continue
        value = node.get(key) if isinstance(node, Mapping) else None
        yield _item_of(field, (name, value), (*steps, key), content, is_line)


def _item_of(
    field: FieldInfo, named: tuple[str, Any], steps: tuple[Step, ...], content: Content, is_line: bool
) -> Item:
    """The item of one field."""
    name, value = named
    kind = bare(field.annotation)
    item: Item = {"path": content.path(steps), **_about(name, field, content.currency)}
    if _is_table(kind):
        # A table that is always there when left out shows what it then holds.
        is_there = value is not None or is_line or not _is_optional(field)
        inner = list(_items(kind, value or {}, steps, content, is_line)) if is_there else []
        return {**item, "kind": "group", "there": is_there, "items": inner, "optional": _is_optional(field)}
    if get_origin(kind) is tuple:
        holds = value if value is not None or _is_optional(field) else field.get_default(call_default_factory=True)
        return {**item, **_rows(kind, holds, steps, content, (item["unit"], house_units(field)))}
    value = _shown(content.counted(steps, value), field)
    if isinstance(value, int | float) and not isinstance(value, bool):
        value = round_shown(as_shown(value, house_units(field)[0]))
    return {**item, **_field(field, kind), "value": content.typed.get(item["path"], value)}


def _about(name: str, field: FieldInfo, currency: str) -> Item:
    """Label, unit and help of a field, from its name and docstring."""
    told = " ".join((field.description or "").split())
    words = ", ".join(_unit_in_words(house, currency) for house in house_units(field))
    label = say(LABELS[name]) if name in LABELS else name.replace("_", " ").capitalize()
    return {"label": label, "unit": "" if words == "-" else words, "help": UNIT.sub("", told)}


def house_units(field: FieldInfo) -> list[str]:
    """The house units of a field, as its docstring has them: one, or one for each number of a point; "" if none."""
    unit = UNIT.search(" ".join((field.description or "").split()))
    return unit.group(1).split(", ") if unit else [""]


def _unit_in_words(house: str, currency: str) -> str:
    """A unit as it stands beside a field."""
    if house == "money/L":
        return f"{currency}/{unit_shown('L')}"
    return unit_shown(house).replace("money", currency)


def round_shown(number: float) -> float:
    """A number as a field shows it: as it was typed, without what a conversion there and back leaves behind."""
    return round(number, 10)


def _field(field: FieldInfo, kind: Any) -> Item:
    """What kind of field the browser shows, with its choices; `optional` where it may be left empty."""
    optional = {"optional": _is_optional(field)}
    if get_origin(kind) is Literal:
        return {"kind": "choice", "choices": [str(choice) for choice in get_args(kind)], **optional}
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return {"kind": "choice", "choices": [member.value for member in kind], **optional}
    if kind is bool:
        return {"kind": "choice" if optional["optional"] else "flag", "choices": ["true", "false"], **optional}
    if kind is date:
        return {"kind": "date", **optional}
    return {"kind": "number" if kind in (int, float) else "text", **optional}


def _shown(value: Any, field: FieldInfo) -> Any:
    """A value for the browser; what holds where a file says nothing stands for it."""
    if value is None and not field.is_required() and not _is_optional(field):
        value = field.get_default(call_default_factory=True)
    if isinstance(value, bool) and _is_optional(field):
        return str(value).lower()
    if isinstance(value, float):
        return round(value, 10)
    return value.isoformat() if isinstance(value, date) else value


def _is_table(kind: Any) -> bool:
    """Whether a type is a table of a file."""
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _is_optional(field: FieldInfo) -> bool:
    """Whether a field may hold nothing at all."""
    annotation: Any = field.annotation
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    return get_origin(annotation) in (Union, types.UnionType) and type(None) in get_args(annotation)


def _rows(kind: Any, value: Any, steps: tuple[Step, ...], content: Content, units: tuple[str, list[str]]) -> Item:
    """A list as a table: of tables, of points, or of single numbers."""
    inner = get_args(kind)
    one = bare(inner[0])
    given = (
        value if isinstance(value, list | tuple) else [] if value is None else [{"name": say("Fit-up"), "price": value}]
    )
    if _is_table(one):
        return _table_of_tables(one, given, steps, content)
    width = len(get_args(one)) if get_origin(one) is tuple else 1
    houses = (units[1] * width)[:width]
    rows, beside = [], content.unit_beside(steps)
    for index, numbers in enumerate(given):
        place = content.path((*steps, index))
        paths = [place] if width == 1 else [f"{place}[{column + 1}]" for column in range(width)]
        values = [numbers] if width == 1 else [_item(numbers, column) for column in range(width)]
        bare_values = [number["value"] if isinstance(number, Mapping) else number for number in values]
        shown = [_as_shown(*pair, beside) for pair in zip(bare_values, houses, strict=True)]
        cells = [{"path": path, "value": number} for path, number in zip(paths, shown, strict=True)]
        rows.append({"cells": cells, "inner": []})
    words = units[0].split(", ") if width > 1 else [units[0]]
    columns = [
        {"label": word.strip("- "), "unit": "", "help": "", "kind": "number", "optional": False} for word in words
    ]
    return {"kind": "table", "columns": columns, "rows": rows, "fixed": inner[-1] is not Ellipsis}


def _as_shown(value: Any, house: str, beside: str) -> Any:
    """A number of a point, which its table may state in a unit of its own, in the unit in which it is shown."""
    if isinstance(value, bool) or not isinstance(value, int | float) or unit_key(house) == house == (beside or house):
        return value
    in_house = to_house_unit(value, beside, house) if beside in CONVERSIONS.get(house, {}) else value
    return round_shown(as_shown(in_house, house))


def _table_of_tables(kind: type[BaseModel], given: Sequence[Any], steps: tuple[Step, ...], content: Content) -> Item:
    """A list of tables: a line for each, tables within a line flattened, lists within it below."""
    rows = []
    columns: list[Item] = []
    for index, node in enumerate(given):
        cells, inner = _cells(list(_items(kind, node, (*steps, index), content, is_line=True)))
        columns = columns or [{key: cell[key] for key in cell if key not in ("path", "value")} for cell in cells]
        rows.append({"cells": [{"path": cell["path"], "value": cell["value"]} for cell in cells], "inner": inner})
    return {"kind": "table", "columns": columns, "rows": rows, "fixed": False}


def _cells(items: Sequence[Item]) -> tuple[list[Item], list[Item]]:
    """The fields of a line, those of tables within it among them, and the lists within it."""
    cells: list[Item] = []
    inner: list[Item] = []
    for item in items:
        if item["kind"] == "table":
            inner.append(item)
        elif item["kind"] == "group":
            cells += [
                {**cell, "label": f"{item['label']}: {cell['label']}"} for cell in item["items"] if "value" in cell
            ]
        else:
            cells.append(item)
    return cells, inner
