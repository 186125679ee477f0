"""Compiled code is that of the sources as they are, also when another file than the caller's was edited."""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from model import compiling
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


class TestCacheFolder:
    def test_stands_beside_the_sources(self, copied: Path) -> None:
        folder = compiling.cache_folder(copied / "model")

        assert folder.parent == copied / "model" / "__pycache__"
        assert compiling.sources_hash() in folder.name

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
