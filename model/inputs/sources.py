"""Where the numbers come from: every `source` names an entry of `sources.toml`, or says "invented"."""

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from model.inputs.files import parse_toml
from model.inputs.merging import Merged
from model.inputs.problems import MOST_TOLD, InputError, Problem, Step, shown
from model.inputs.telling import nearest

INVENTED = "invented"
"""The source that needs no entry."""

FILE = "sources.toml"
"""Beside the scenario or engine file, or up to two folders above."""

_TOLD_BY_A_TABLE = ("points", "ratio", "by_age", "yearly_decline")
"""What a source beside it speaks of: the first of these that the table has."""


@dataclass(frozen=True)
class SourcedValue:
    """A number of the files with its source."""

    key: str
    """Path of the key, arrays by name."""
    value: Any
    """As it stands in the file. [unit]"""
    unit: str | None
    """Its unit in the file; None for the house unit."""
    source: str
    """Key of sources.toml, or "invented"."""
    file: str
    """The file it stands in."""


def sourced_values(merged: Merged) -> tuple[SourcedValue, ...]:
    """
    Every number that names a source.

    Parameters
    ----------
    merged : Merged
        The document and where its parts came from.

    Returns
    -------
    tuple of SourcedValue
        In the order of the document; those whose source is no text are left out.
    """
    found = []
    for steps, table in _with_source(merged.document):
        if not isinstance(table["source"], str):
            continue
        value = table["value"] if "value" in table else _value_beside(table)
        at = steps if "value" in table else (*steps, *[key for key in _TOLD_BY_A_TABLE if key in table][:1])
        file, key = merged.place(at)
        if not merged.is_default(steps):
            unit = table.get("unit")
            found.append(SourcedValue(key, value, unit if isinstance(unit, str) else None, table["source"], file))
    return tuple(found)


def _value_beside(table: dict[str, Any]) -> Any:
    """The value that a source beside it speaks of."""
    return next((table[key] for key in _TOLD_BY_A_TABLE if key in table), None)


Sourced = list[tuple[tuple[Step, ...], dict[str, Any]]]
"""Tables with their paths."""


def _with_source(document: dict[str, Any]) -> Sourced:
    """Every table that holds a source, with its path."""
    found: Sourced = []
    _collect(document, (), found)
    return found


def _collect(node: dict[str, Any] | list[Any], steps: tuple[Step, ...], found: Sourced) -> None:
    """Add the tables of a part that hold a source: no generator, since a long list of engines has thousands."""
    if isinstance(node, dict) and "source" in node:
        found.append((steps, node))
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        if isinstance(value, dict | list):
            _collect(value, (*steps, key), found)


def source_problems(merged: Merged, sound: Collection[str] = ()) -> list[Problem]:
    """
    Sources that no `sources.toml` knows.

    Parameters
    ----------
    merged : Merged
        The document and where its parts came from.
    sound : collection of str
        Keys of parts whose sources are known to be listed.

    Returns
    -------
    list of Problem
        Among them those of the `sources.toml` files themselves.
    """
    problems: list[Problem] = []
    own = merged.document.get("sources")
    stated = set(own) if isinstance(own, dict) else set()
    beside = Path(merged.label).parent
    known: dict[Path, set[str] | None] = {}
    near: dict[Path | None, tuple[bool, set[str]]] = {}

    def keys_for(folder: Path) -> set[str] | None:
        if folder not in known:
            try:
                entries = entries_near(folder)
                known[folder] = None if entries is None else set(entries)
            except InputError as error:
                problems.extend(error.problems)
                known[folder] = set()
        return known[folder]

    def keys_near(file: Path | None) -> tuple[bool, set[str]]:
        """Whether there is a list beside the scenario or a file that it names, and the keys allowed there."""
        if file not in near:
            sets = [keys_for(folder) for folder in (beside, *([file.parent] if file else []))]
            near[file] = any(keys is not None for keys in sets), stated.union(*(keys for keys in sets if keys))
        return near[file]

    for steps, table in _with_source({key: part for key, part in merged.document.items() if key not in sound}):
        source = table["source"]
        if source == INVENTED or ("value" not in table and not isinstance(source, str)) or merged.is_default(steps):
            continue
        origin = merged.origin((*steps, "source"))
        is_listed, allowed = keys_near(origin.file if origin else None)
        if isinstance(source, str) and source in allowed:
            continue
        if len(problems) >= MOST_TOLD:
            break
        file, key = merged.place((*steps, "source"))
        if not is_listed:
            problems.append(
                Problem(
                    file, key, shown(source), f'"{INVENTED}", or a key of a {FILE} beside the scenario; there is none'
                )
            )
        else:
            problems.append(Problem(file, key, shown(source), nearest(str(source), [INVENTED, *sorted(allowed)])))
    return problems


def entries_near(folder: Path) -> dict[str, dict[str, Any]] | None:
    """
    The nearest `sources.toml`, beside the files of a folder or up to two folders above.

    Parameters
    ----------
    folder : Path

    Returns
    -------
    dict of str to dict, or None
        Title, year, place and address by key; None where there is no such file.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    home = folder.resolve()
    for place in [home, *home.parents[:2]]:
        if (place / FILE).is_file():
            file = _as_given(folder, home, place) / FILE
            state = file.stat()
            return dict(_entries_of(file, state.st_mtime_ns, state.st_size))
    return None


@lru_cache(maxsize=32)
def _entries_of(file: Path, _changed: int, _size: int) -> dict[str, dict[str, Any]]:
    """The entries of one file as it was at a time: whoever moves a slider asks for the same ones at each step."""
    return {key: entry for key, entry in parse_toml(file).items() if isinstance(entry, dict)}


def _as_given(folder: Path, home: Path, place: Path) -> Path:
    """The folder in the user's own words: relative where his was."""
    return folder if place == home else place
