"""Every worked example loads and says where its numbers are from."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from model.inputs.reading import read_scenario
from tests.rules.project import ROOT, name_of

FOLDER = ROOT / "scenarios"
SOURCES = FOLDER / "sources.toml"
SCENARIOS = [path for path in sorted(FOLDER.glob("*.toml")) if path != SOURCES]
INPUTS = [path for path in sorted(FOLDER.rglob("*.toml")) if path != SOURCES]


def content_of(path: Path) -> dict[str, Any]:
    """A file as it stands, before any rule has seen it."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


def sources_used(content: Any) -> Iterator[str]:
    """Every source key, at whatever depth it stands."""
    if isinstance(content, dict):
        source = content.get("source", [])
        yield from [source] if isinstance(source, str) else source
        content = list(content.values())
    if isinstance(content, list):
        for part in content:
            yield from sources_used(part)


def files_of(path: Path) -> list[Path]:
    """A scenario and the engine files that it names."""
    engines = [engine["file"] for engine in content_of(path).get("engines", []) if "file" in engine]
    return [path, *(path.parent / name for name in engines)]


def says_where_from(path: Path) -> bool:
    """Whether a scenario calls itself invented or names a published source."""
    published = {key for file in files_of(path) for key in sources_used(content_of(file))} - {"invented"}
    return "nvented" in content_of(path).get("note", "") or bool(published)


def test_there_are_scenarios_and_sources() -> None:
    assert SCENARIOS
    assert SOURCES.is_file()


@pytest.mark.parametrize("path", SCENARIOS, ids=name_of)
def test_a_scenario_loads(path: Path) -> None:
    assert read_scenario(path).scenario.title


@pytest.mark.parametrize("path", SCENARIOS, ids=name_of)
def test_a_scenario_has_a_note_and_says_where_its_numbers_are_from(path: Path) -> None:
    assert content_of(path).get("note")
    assert says_where_from(path)


@pytest.mark.parametrize("path", INPUTS, ids=name_of)
def test_every_source_used_is_known(path: Path) -> None:
    assert set(sources_used(content_of(path))) - {"invented", *content_of(SOURCES)} == set()


def test_every_source_can_be_found_again() -> None:
    entries = {key: entry for key, entry in content_of(SOURCES).items() if isinstance(entry, dict)}

    assert [key for key, entry in entries.items() if not {"title", "year", "place", "address"} <= set(entry)] == []


def test_sources_are_found_at_any_depth() -> None:
    text = (
        'a = { value = 1, source = "one" }\n'
        '[[service.task]]\nparts = [{ price = { value = 2, source = "two" } }]\n'
        '[fuel]\npoints = [[0.1, 1]]\nsource = "three"\n'
    )

    assert sorted(sources_used(tomllib.loads(text))) == ["one", "three", "two"]


def test_a_scenario_that_says_nothing_is_found(tmp_path: Path) -> None:
    path = tmp_path / "silent.toml"
    path.write_text('note = "A launch."\n[prices]\nfuel = { value = 2, source = "invented" }\n', encoding="utf-8")

    assert not says_where_from(path)
