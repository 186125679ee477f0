"""The file format as JSON schema, for editors that complete and check TOML."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BaseModel

from model.inputs.base import Table
from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.inputs.telling import limits_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"
"""The dialect of the schema."""

KEYWORDS = {"ge": "minimum", "gt": "exclusiveMinimum", "le": "maximum", "lt": "exclusiveMaximum"}
"""Limits laid on a number, and how the dialect says them."""

NUMBERS = ("number", "integer")
"""Types that limits can be laid on."""

_FILE = {
    "type": "string",
    "description": "The engine's own file, relative to the scenario; the entry goes on top of it.",
}


def json_schema(kind: Literal["scenario", "engine"]) -> dict[str, Any]:
    """
    JSON schema of a kind of file.

    Rules between fields are not in it; reading a file tells those.

    Parameters
    ----------
    kind : str
        "scenario" or "engine".

    Returns
    -------
    dict
        In a scenario's, an engine entry with a `file` needs nothing else; one without needs what an engine file needs.
    """
    if kind == "engine":
        return {"$schema": DIALECT, **_of(Engine)}
    schema = _of(Scenario)
    definitions = schema["$defs"]
    _add_changed("Engine", definitions)
    definitions["EngineWithFile"] = definitions.pop("EngineChanged")
    definitions["EngineWithFile"]["properties"]["file"] = _FILE
    definitions["EngineWithFile"]["required"] = ["file"]
    either = {"anyOf": [{"$ref": "#/$defs/Engine"}, {"$ref": "#/$defs/EngineWithFile"}]}
    schema["properties"]["engines"]["items"] = either
    return {"$schema": DIALECT, **schema}


def _of(model: type[BaseModel]) -> dict[str, Any]:
    """Schema of a model as TOML can say it."""
    schema: dict[str, Any] = _without_null(model.model_json_schema(by_alias=True))
    tables = {kind.__name__: kind for kind in _tables(Table)}
    for name, table in {model.__name__: schema, **schema.get("$defs", {})}.items():
        if name in tables:
            _add_limits(table, tables[name])
    for name in ("Engine",) if model is Scenario else ():
        _allow_one_sum(schema["$defs"][name])
    if model is Engine:
        _allow_one_sum(schema)
    return schema


def _tables(kind: type[Table]) -> Iterator[type[Table]]:
    """A kind of table and all that are made from it."""
    yield kind
    for inner in kind.__subclasses__():
        yield from _tables(inner)


def _add_limits(table: dict[str, Any], kind: type[Table]) -> None:
    """Lay each field's limits on its number; in a unit of the file's own other limits would hold, so none are laid."""
    for name, field in kind.model_fields.items():
        found = table["properties"][field.alias or name]
        number = next((one for one in (found, *found.get("anyOf", ())) if one.get("type") in NUMBERS), None)
        limits = limits_of(Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation)
        if number is not None:
            number |= {KEYWORDS[limit]: value for limit, value in limits.items()}


def _allow_one_sum(engine: dict[str, Any]) -> None:
    """Let fit-up be one sum in place of a list."""
    fit_up = engine["properties"]["fit_up"]
    array = {key: fit_up.pop(key) for key in ("type", "items") if key in fit_up}
    fit_up["anyOf"] = [engine["properties"]["price"]["anyOf"][0], engine["properties"]["price"]["anyOf"][1], array]


def _without_null(node: Any) -> Any:
    """The schema without null, which TOML has not."""
    if isinstance(node, list):
        return [_without_null(item) for item in node if item != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    cleaned = {key: _without_null(value) for key, value in node.items() if not (key == "default" and value is None)}
    choices = cleaned.get("anyOf")
    if isinstance(choices, list) and len(choices) == 1:
        del cleaned["anyOf"]
        cleaned = {**choices[0], **cleaned}
    return cleaned


def _add_changed(name: str, definitions: dict[str, Any]) -> None:
    """Add a table as it may stand on top of a file: nothing required, in the tables within it neither.

    Arrays stay as they are: they replace the file's whole.
    """
    if f"{name}Changed" in definitions:
        return
    table = definitions[name]
    changed = {key: value for key, value in table.items() if key not in ("required", "properties")}
    definitions[f"{name}Changed"] = changed
    changed["properties"] = {}
    for key, value in table["properties"].items():
        inner = value.get("$ref", "").rpartition("/")[2]
        is_table = inner and definitions[inner].get("type") == "object"
        if is_table:
            _add_changed(inner, definitions)
            value = {**value, "$ref": f"#/$defs/{inner}Changed"}
        changed["properties"][key] = value
