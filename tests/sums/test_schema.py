"""The schema for editors takes every file that can be read, and refuses what an editor can see."""

from datetime import date
from pathlib import Path
from typing import Any, Literal

import pytest
from jsonschema import Draft202012Validator

from model.inputs.files import loads, parse_toml
from model.inputs.reading import json_schema
from tests.rules.project import ROOT, name_of
from tests.small_files import ENGINE, SCENARIO, Change, changed

Kind = Literal["scenario", "engine"]

SCENARIOS = [path for path in sorted((ROOT / "scenarios").glob("*.toml")) if path.name != "sources.toml"]
ENGINES = sorted((ROOT / "scenarios" / "engines").glob("*.toml"))


def faults(kind: Kind, content: Any) -> list[str]:
    """What the schema finds, by path."""
    return [fault.json_path for fault in Draft202012Validator(json_schema(kind)).iter_errors(_with_text_dates(content))]


def _with_text_dates(content: Any) -> Any:
    """JSON has no dates; editors take those of TOML for text."""
    if isinstance(content, dict):
        return {key: _with_text_dates(value) for key, value in content.items()}
    if isinstance(content, list):
        return [_with_text_dates(value) for value in content]
    return content.isoformat() if isinstance(content, date) else content


@pytest.mark.parametrize("kind", ["scenario", "engine"])
def test_it_is_a_schema(kind: Kind) -> None:
    Draft202012Validator.check_schema(json_schema(kind))


@pytest.mark.parametrize("path", SCENARIOS, ids=name_of)
def test_worked_examples(path: Path) -> None:
    assert faults("scenario", parse_toml(path)) == []


@pytest.mark.parametrize("path", ENGINES, ids=name_of)
def test_engine_files(path: Path) -> None:
    assert faults("engine", parse_toml(path)) == []


@pytest.mark.parametrize(
    "change",
    [
        ("engines/four.toml", "other.toml"),
        ('file = "engines/four.toml"', 'file = "four.toml"\nwarranty = { excess = 3 }\nservice = { visit_labour = 1 }'),
        ("price = 9000", "price = 9000\nfit_up = 300"),
        ("price = 9000", 'price = 9000\nfit_up = [{ name = "Propeller", price = { value = 3, source = "x" } }]'),
        ("fuel = 1.9", 'fuel = { value = 1.9, unit = "US gal", tax = "excluded" }'),
    ],
)  # fmt: skip
def test_what_may_stand_in_a_scenario(change: Change) -> None:
    assert faults("scenario", loads(changed(SCENARIO, change))) == []


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("fuel = 1.9", "feul = 1.9"), "$.prices"),
        (("fuel = 1.9", 'fuel = "1.9"'), "$.prices.fuel"),
        (("fuel = 1.9", "fuel = -1.9"), "$.prices.fuel"),
        (("years = 3", "years = 0"), "$.ownership.years"),
        (("fuel = 1.9", 'fuel = { value = 1.9, unit = "kW" }'), "$.prices.fuel"),
        (("years = 3", 'years = { value = 3, tax = "included" }'), "$.ownership.years"),
        (('file = "engines/four.toml"', 'note = "no file"'), "$.engines[0]"),
        (('file = "engines/four.toml"', 'file = "four.toml"\npriec = 3'), "$.engines[0]"),
        (("price = 9000\n", ""), "$.engines[1]"),
    ],
)
def test_what_may_not(change: Change, path: str) -> None:
    assert path in faults("scenario", loads(changed(SCENARIO, change)))


def test_an_engine_file_needs_what_it_needs() -> None:
    assert faults("engine", loads(changed(ENGINE, ('name = "Four-stroke"\n', "")))) == ["$"]


def test_every_key_is_described() -> None:
    schema = json_schema("scenario")
    tables = [schema, *schema["$defs"].values()]
    fields = [(key, field) for table in tables for key, field in table.get("properties", {}).items()]

    # What is said of the key and of its table in the same words stands with the table only.
    names = {key: field.get("$ref", "").rpartition("/")[2] for key, field in fields if "description" not in field}
    assert [key for key, name in names.items() if "description" not in schema["$defs"].get(name, {})] == []
