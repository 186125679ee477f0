"""Compiled code is that of the sources as they are, also when another file than the caller's was edited."""

import ast
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from model import compiling
from model.compiled_from import compiled_from
from tests.tolerances import IDENTITY

RUN = """
from datetime import date

from model import compiling
from model.inputs.scenario import Scenario
from model.measures import compare

engine = {
    "name": "One", "technology": "four-stroke injected", "rated_power": 45.0, "price": 9000.0,
    "repair": [{"name": "A", "clock": "years", "scale": 4.0, "shape": 1.5, "parts_price": 100.0}],
}
scenario = Scenario.model_validate({
    "ownership": {"years": 3.0, "delivery": date(2027, 4, 1)}, "use": {"hours_per_year": 100.0},
    "prices": {"fuel": 1.0}, "engines": [engine],
})
print(compiling.cache_folder().name, compare(scenario).engines[0].elements["repairs"].nominal)
"""
"""Expected repairs: a compiled loop of one file that calls compiled functions of another."""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the package without anything compiled."""
    shutil.copytree(compiling.PACKAGE, tmp_path / "model", ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


def run(folder: Path) -> tuple[str, float]:
    """Cache folder and repairs of a run of the copy in a process of its own."""
    environment = {name: value for name, value in os.environ.items() if name != "NUMBA_CACHE_DIR"}
    done = subprocess.run(
        [sys.executable, "-c", RUN], cwd=folder, env=environment, capture_output=True, text=True, check=True
    )
    name, repairs = done.stdout.split()
    return name, float(repairs)


class TestSourcesHash:
    def test_is_that_of_the_package_as_it_is(self, copied: Path) -> None:
        assert compiling.sources_hash(copied / "model") == compiling.sources_hash()

    @pytest.mark.parametrize("name", sorted(path.name for path in compiling.PACKAGE.rglob("*.py")))
    def test_changes_with_any_source(self, copied: Path, name: str) -> None:
        before = compiling.sources_hash(copied / "model")
        for path in (copied / "model").rglob(name):
            path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")

        assert compiling.sources_hash(copied / "model") != before

    def test_changes_with_a_new_file_and_a_new_name(self, copied: Path) -> None:
        hashes = [compiling.sources_hash(copied / "model")]
        (copied / "model" / "more.py").write_text("", encoding="utf-8")
        hashes.append(compiling.sources_hash(copied / "model"))
        (copied / "model" / "more.py").rename(copied / "model" / "most.py")
        hashes.append(compiling.sources_hash(copied / "model"))

        assert len(set(hashes)) == 3

    def test_does_not_change_with_what_is_compiled(self, copied: Path) -> None:
        before = compiling.sources_hash(copied / "model")
        (copied / "model" / "__pycache__").mkdir()
        (copied / "model" / "__pycache__" / "walk.pyc").write_bytes(b"\0")

        assert compiling.sources_hash(copied / "model") == before


def all_sources() -> list[str]:
    """Every source of the package by its path below it."""
    return sorted(path.relative_to(compiling.PACKAGE).as_posix() for path in compiling.PACKAGE.rglob("*.py"))


def loaded_for_compiled_code() -> set[str]:
    """Sources that Python itself loads when every file that compiles something is imported, functions' imports too."""
    trees = {path: ast.parse((compiling.PACKAGE / path).read_bytes()) for path in all_sources()}
    ahead = {path for path, tree in trees.items() if any(decorated(node) for node in ast.walk(tree))}
    found: set[str] = set()
    while ahead:
        found |= ahead
        named = {name for path in ahead for node in ast.walk(trees[path]) for name in imported(node)}
        ahead = {f"{name.removeprefix('model.').replace('.', '/')}.py" for name in named} & trees.keys() - found
    return found


def decorated(node: ast.AST) -> bool:
    """Whether it is a function that is compiled."""
    marks = node.decorator_list if isinstance(node, ast.FunctionDef) else []
    return any(isinstance(mark, ast.Name) and mark.id == "compiled" for mark in marks)


def imported(node: ast.AST) -> list[str]:
    """Modules, and names in them, that a statement imports."""
    if isinstance(node, ast.ImportFrom):
        return [node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)]
    return [alias.name for alias in node.names] if isinstance(node, ast.Import) else []


class TestCompiledHash:
    @pytest.mark.parametrize("name", all_sources())
    def test_changes_with_what_compiled_code_depends_on_alone(self, copied: Path, name: str) -> None:
        before = compiling.compiled_hash(copied / "model")
        edited = copied / "model" / name
        edited.write_text(edited.read_text(encoding="utf-8") + "\n", encoding="utf-8")

        depends = name in compiled_from(compiling.sources_of(), "model")
        assert (compiling.compiled_hash(copied / "model") != before) == depends

    def test_is_of_everything_that_the_language_itself_finds(self) -> None:
        assert loaded_for_compiled_code() <= set(compiled_from(compiling.sources_of(), "model"))

    def test_leaves_out_words_and_commands(self) -> None:
        found = compiled_from(compiling.sources_of(), "model")

        assert not {"wording.py", "language.py", "cli.py", "reports.py", "fleet/budget.py"} & set(found)

    @pytest.mark.parametrize(
        "text",
        [
            "import model.near",
            "import model.near as near",
            "from model.near import something",
            "from model import near",
            "from model import (  # why (and how)\n    other,\n    near,\n)",
            "from model import other, \\\n    near",
            "def late():\n    from model import near",
            "if True:\n    import model.near",
            "from . import near",
            "from .near import something",
            "import importlib\n\nimportlib.import_module('model.near')",
        ],
    )
    def test_sees_every_way_to_import(self, text: str) -> None:
        sources = {
            "compiling.py": b"def compiled(function): ...",
            "far.py": b"",
            "near.py": b"import model.deep.one",
            "deep/__init__.py": b"",
            "deep/one.py": b"from .. import other",
            "other.py": b"",
            "loops.py": f"from model.compiling import compiled\n{text}\n\n@compiled\ndef loop(): ...".encode(),
        }

        assert compiled_from(sources, "model") == [
            "compiling.py", "deep/__init__.py", "deep/one.py", "loops.py", "near.py", "other.py",
        ]  # fmt: skip


class TestCacheFolder:
    def test_stands_beside_the_sources(self, copied: Path) -> None:
        folder = compiling.cache_folder(copied / "model")

        assert folder.parent == copied / "model" / "__pycache__"
        assert compiling.compiled_hash() in folder.name

    def test_is_the_users_own_where_that_cannot_be_written(self, copied: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(os, "access", lambda *_: False)

        assert copied not in compiling.cache_folder(copied / "model").parents

    @pytest.mark.slow
    def test_an_edit_in_another_file_changes_the_results(self, copied: Path) -> None:
        first, second = run(copied), run(copied)
        edited = copied / "model" / "elements" / "repairs.py"
        source = edited.read_text(encoding="utf-8")
        changed = source.replace("modes.shape[mode]", "(modes.shape[mode] + 1.0)")
        assert changed != source
        edited.write_text(changed, encoding="utf-8")
        third = run(copied)

        assert second == first
        assert third[0] != first[0]
        assert first[1] == pytest.approx(100.0 * (3.0 / 4.0) ** 1.5, rel=IDENTITY)
        assert third[1] == pytest.approx(100.0 * (3.0 / 4.0) ** 2.5, rel=IDENTITY)
        kept = copied / "model" / "__pycache__"
        assert {path.name for path in kept.glob("compiled-*")} == {first[0], third[0]}  # a program may still run on it

        two_days_ago = time.time() - 2.0 * compiling.A_DAY
        os.utime(kept / first[0], (two_days_ago, two_days_ago))
        run(copied)
        assert {path.name for path in kept.glob("compiled-*")} == {third[0]}


def test_kept_code_is_loaded_without_what_compiles_it() -> None:
    ask = f"{RUN}\nimport sys\nprint('numba.np.arraymath' in sys.modules)"
    told = [
        subprocess.run(
            [sys.executable, "-c", ask], cwd=compiling.PACKAGE.parent, capture_output=True, text=True, check=True
        ).stdout.split()
        for _ in range(2)
    ]

    assert told[1][:2] == told[0][:2]
    assert told[1][2] == "False"
