"""What is public says what it is; a number among the inputs says its unit."""

import ast
import importlib
import inspect
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel, Field

from tests.rules.project import name_of, python_files

FILES = [path for path in python_files("model", "dashboard") if path.stem != "wsgi"]  # it builds the application
UNIT = re.compile(r"\[[^\]]+\]")
"""A unit in square brackets; `[-]` where there is none."""

Documented = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def public_parts(node: ast.AST) -> Iterator[Documented]:
    """Public functions and classes of a module, and what is public in those classes."""
    for part in ast.iter_child_nodes(node):
        if isinstance(part, Documented) and not part.name.startswith("_"):
            yield part
            if isinstance(part, ast.ClassDef):
                yield from public_parts(part)


def without_docstring(source: str) -> list[str]:
    """Names in a file that are public and say nothing; the file itself is `module`."""
    tree = ast.parse(source)
    silent = [] if ast.get_docstring(tree) else ["module"]
    return silent + [part.name for part in public_parts(tree) if not ast.get_docstring(part)]


def has_number(annotation: object) -> bool:
    """Whether a field holds a float, by itself or as one of several kinds."""
    return annotation is float or any(has_number(kind) for kind in get_args(annotation) if annotation)


def field_faults(model: type[BaseModel]) -> list[str]:
    """Fields of a model without a description, and numbers among them without a unit."""
    told = []
    for name, field in model.model_fields.items():
        if not field.description:
            told.append(f"{model.__name__}.{name} has no description")
        elif has_number(field.annotation) and not UNIT.search(field.description):
            told.append(f"{model.__name__}.{name} has no [unit]: {field.description}")
    return told


def models_of(path: Path) -> list[type[BaseModel]]:
    """The pydantic models that a file defines."""
    module = importlib.import_module(name_of(path.with_suffix("")).replace("/", ".").removesuffix(".__init__"))
    classes = [kind for _, kind in inspect.getmembers(module, inspect.isclass)]
    return [kind for kind in classes if issubclass(kind, BaseModel) and kind.__module__ == module.__name__]


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_public_things_have_docstrings(path: Path) -> None:
    assert without_docstring(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", [path for path in FILES if path.stem != "__main__"], ids=name_of)
def test_fields_have_descriptions(path: Path) -> None:
    assert [fault for model in models_of(path) for fault in field_faults(model)] == []


def test_the_scenario_is_looked_at() -> None:
    inputs = [path for path in FILES if path.parent.name == "inputs"]

    assert "Scenario" in {model.__name__ for path in inputs for model in models_of(path)}


def test_a_missing_docstring_is_found() -> None:
    source = "def f(): ...\ndef _g(): ...\nclass A:\n    '''A.'''\n    def h(self): ...\n    def _i(self): ...\n"

    assert without_docstring(source) == ["module", "f", "h"]


def test_a_missing_description_or_unit_is_found() -> None:
    class Engine(BaseModel):
        name: str
        power: float | None = Field(description="Rated power.")
        points: tuple[tuple[float, float], ...] = Field(description="Fuel flow. [-, L/h]")

    assert field_faults(Engine) == [
        "Engine.name has no description",
        "Engine.power has no [unit]: Rated power.",
    ]
