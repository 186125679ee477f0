"""Rooms that grow too large are asking to be two."""

import ast
from pathlib import Path

import pytest

from tests.rules.project import name_of, python_files, tracked_files

LINES_OF_A_FILE = 300
LINES_OF_A_FUNCTION = 60
LINES_OF_A_BODY = 45
"""Without the docstring; about 25 is the aim."""
ARGUMENTS = 5
"""More than that is a dataclass."""

NAMES_THAT_SAY_NOTHING = {"utils", "util", "helpers", "helper", "common", "misc"}

FILES = python_files("model", "dashboard")
Function = ast.FunctionDef | ast.AsyncFunctionDef


def functions_of(source: str) -> list[Function]:
    """Every function of a file, methods and inner ones too."""
    return [node for node in ast.walk(ast.parse(source)) if isinstance(node, Function)]


def lines(function: Function) -> int:
    """Lines from `def` to the end."""
    return (function.end_lineno or function.lineno) - function.lineno + 1


def lines_of_body(function: Function) -> int:
    """Lines after the signature and the docstring."""
    body = function.body[1:] if ast.get_docstring(function) is not None else function.body
    return (body[-1].end_lineno or body[-1].lineno) - body[0].lineno + 1 if body else 0


def arguments(function: Function) -> int:
    """Named arguments, without the object itself."""
    named = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    return sum(argument.arg not in ("self", "cls") for argument in named)


def faults(source: str, counts_arguments: bool = True) -> list[str]:
    """All that is too large in a file."""
    told = [f"{source.count(chr(10))} lines"] if source.count("\n") > LINES_OF_A_FILE else []
    for function in functions_of(source):
        where = f"{function.name} (line {function.lineno})"
        if lines(function) > LINES_OF_A_FUNCTION:
            told.append(f"{where} has {lines(function)} lines")
        if lines_of_body(function) > LINES_OF_A_BODY:
            told.append(f"{where} has a body of {lines_of_body(function)} lines")
        if counts_arguments and arguments(function) > ARGUMENTS:
            told.append(f"{where} takes {arguments(function)} arguments")
    return told


def says_nothing(name: str) -> bool:
    """Whether a file or one of its folders has a name that could hold anything."""
    return bool(NAMES_THAT_SAY_NOTHING & {Path(part).stem for part in Path(name).parts})


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_files_and_functions_are_small(path: Path) -> None:
    # There the options of a command are its arguments.
    is_command_line = name_of(path).startswith(("model/cli", "dashboard/sheet/command", "dashboard/__main__"))

    assert faults(path.read_text(encoding="utf-8"), counts_arguments=not is_command_line) == []


def test_every_name_says_something() -> None:
    assert [name for name in map(name_of, {*FILES, *tracked_files()}) if says_nothing(name)] == []


@pytest.mark.parametrize("name", ["model/utils.py", "dashboard/common/axis.py", "tests/helpers.py"])
def test_a_name_that_says_nothing_is_found(name: str) -> None:
    assert says_nothing(name)


@pytest.mark.parametrize(
    "source",
    [
        "x = 1\n" * (LINES_OF_A_FILE + 1),
        'def long():\n    """Say\n' + "    it\n" * LINES_OF_A_FUNCTION + '    """\n',
        "def long():\n" + "    x = 1\n" * (LINES_OF_A_BODY + 1),
        "class A:\n    def wide(self, a, b, c, *, d, e, f): ...\n",
    ],
)
def test_what_is_too_large_is_found(source: str) -> None:
    assert len(faults(source)) == 1


@pytest.mark.parametrize(
    "source",
    [
        "x = 1\n" * LINES_OF_A_FILE,
        'def long():\n    """Say it."""\n' + "    x = 1\n" * LINES_OF_A_BODY,
        "class A:\n    def wide(self, a, b, c, *, d, e): ...\n",
    ],
)
def test_what_just_fits_passes(source: str) -> None:
    assert faults(source) == []
