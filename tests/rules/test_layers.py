"""Imports point up the list of the house only."""

import ast
from collections.abc import Collection, Iterator
from graphlib import TopologicalSorter

import pytest

from tests.rules.project import ROOT, python_files

LAYERS = (
    "language",
    "inputs/terms",
    "inputs/problems",
    "inputs/units",
    "inputs/docstrings",
    "inputs/base",
    "inputs/plan",
    "inputs/warranty",
    "inputs/engine",
    "inputs/owner",
    "inputs/scenario",
    "inputs/files",
    "inputs/paths",
    "inputs/read_out",
    "inputs/merging",
    "inputs/copying",
    "inputs/telling",
    "inputs/sources",
    "inputs/remarks",
    "inputs/schema",
    "inputs/valid_parts",
    "inputs/reading",
    "wording",
    "quantities",
    "wording_of_break_even",
    "wording_of_trials",
    "compiled_from",
    "compiling",
    "elementary",
    "money",
    "booking",
    "usage",
    "pace",
    "visit_times",
    "walk",
    "counts",
    "elements/*",
    "case",
    "levels",
    "running",
    "repairs_and_cover",
    "ownership",
    "measures",
    "fuel_flow",
    "repair_bill",
    "entries",
    "ledger",
    "service_calendar",
    "break_even",
    "sweep",
    "cheapest",
    "curves",
    "maps",
    "uncertainty/*",
    "fleet/*",
    "questions/*",
    "counter",
    "reports",
    "trial_reports",
    "search_reports",
    "answer_reports",
    "telling_out",
    "telling_trials",
    "fleet_titles",
    "telling_tables",
    "telling_due",
    "telling_fleet",
    "telling_lives",
    "telling_answers",
    "cli_language",
    "cli",
    "cli_trials",
    "cli_fleet",
    "cli_ask",
    "__main__",
)
"""Files of `model/`, from the top; a file imports only from files above it. `*` is any file of a folder."""

STRANGERS_TO_EACH_OTHER = "elements/*"
"""In other folders files may import each other, as long as they do not go in circles."""

NOT_FOR_THE_MODEL = ("dash", "plotly", "tests")
"""First words of packages that the sums must not know: `dash` is also `dashboard` and `dash_...`."""

SOURCES = {
    path.relative_to(ROOT / "model").with_suffix("").as_posix(): path.read_text(encoding="utf-8")
    for path in python_files("model")
}


def layer_of(file: str) -> str | None:
    """The entry of the list that a file falls under."""
    group = file.rpartition("/")[0] + "/*"
    return next((layer for layer in LAYERS if layer in (file, group)), None)


def imported_names(source: str) -> Iterator[str]:
    """Dotted names that a file imports, wherever in it; relative ones begin with a dot."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = "." * node.level + (node.module or "")
            yield from (f"{start}.{alias.name}" for alias in node.names)


def model_files_imported(source: str, known: Collection[str]) -> set[str]:
    """Those files of `model/` that a file imports, or takes a name from."""
    found = set()
    for name in imported_names(source):
        package, *parts = name.split(".")
        ends = ["/".join(parts[:length]) for length in range(len(parts), 0, -1)]
        found |= {next((end for end in ends if end in known), "__init__")} if package == "model" else set()
    return found


def fault_of(file: str, target: str) -> str | None:
    """What is wrong with one file importing another, if anything."""
    own, other = layer_of(file), layer_of(target)
    if file.endswith("__init__"):
        return f"{file} imports {target}: an __init__ imports nothing of the model"
    if own is None or other is None:
        return None  # an __init__, which holds nothing; or a file without a place, told by its own test
    if own == other == STRANGERS_TO_EACH_OTHER:
        return f"{file} imports {target}: no element imports another"
    if LAYERS.index(other) > LAYERS.index(own):
        return f"{file} imports {target}, which stands below it"
    return None


def faults(file: str, source: str, known: Collection[str]) -> list[str]:
    """All that is wrong with the imports of one file."""
    names = list(imported_names(source))
    told = [f"{file} imports {name}: a relative import" for name in names if name.startswith(".")]
    told += [f"{file} imports {name}" for name in names if name.startswith(NOT_FOR_THE_MODEL)]
    return told + [fault for target in sorted(model_files_imported(source, known)) if (fault := fault_of(file, target))]


def test_there_is_a_model() -> None:
    assert "inputs/terms" in SOURCES


@pytest.mark.parametrize("file", [file for file in SOURCES if not file.endswith("__init__")])
def test_every_file_has_its_place_in_the_list(file: str) -> None:
    assert layer_of(file), f"model/{file}.py is in no layer: give it its place in LAYERS, and in the design"


@pytest.mark.parametrize("file", SOURCES)
def test_imports_point_up(file: str) -> None:
    assert faults(file, SOURCES[file], SOURCES) == []


def test_a_file_without_a_place_is_found() -> None:
    assert [layer_of(file) for file in ("money", "elements/fuel", "extras", "inputs/extras")] == [
        "money",
        "elements/*",
        None,
        None,
    ]


def test_no_imports_go_in_circles() -> None:
    graph = {file: model_files_imported(source, SOURCES) - {"__init__"} for file, source in SOURCES.items()}

    TopologicalSorter(graph).prepare()  # raises CycleError, which names the files


KNOWN = ("inputs/terms", "money", "elements/fuel", "elements/oil", "ledger", "uncertainty/trials", "cli")


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("money", "from model.ledger import rows"),
        ("money", "from model import ledger"),
        ("money", "def late():\n    import model.cli"),
        ("elements/fuel", "from model.elements import oil"),
        ("elements/__init__", "from model.elements.fuel import burned"),
        ("inputs/terms", "from model.money import growth"),
        ("money", "import plotly.graph_objects as go"),
        ("money", "from dashboard.text import label"),
        ("money", "import dash_mantine_components as dmc"),
        ("money", "from . import cli"),
        ("money", "from tests.tolerances import IDENTITY"),
    ],
)
def test_a_fault_is_found(file: str, source: str) -> None:
    assert len(faults(file, source, KNOWN)) == 1


@pytest.mark.parametrize(
    ("file", "source"),
    [
        ("ledger", "from model.elements.fuel import burned\nfrom model.elements import oil"),
        ("uncertainty/sampling", "from model.uncertainty.trials import run"),
        ("cli", "import model.money\nimport numpy as np"),
        ("cli", "from model import __version__"),
    ],
)
def test_what_is_allowed_passes(file: str, source: str) -> None:
    assert faults(file, source, KNOWN) == []
