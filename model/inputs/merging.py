"""A scenario file and its engine files become one document that remembers what came from where."""

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from model.inputs.files import ALLOWED_WITHIN, loads, may_be_read, parse_toml, unfit
from model.inputs.paths import Named, NoSuchPlaceError, names_of, parse_path, path_text, put, walk_to
from model.inputs.problems import InputError, Problem, Step, has_control_characters, shown
from model.inputs.read_out import read_bins

ALTERNATIVES = {
    ("use", "hours_per_year"): "hours_by_year",
    ("use", "hours_by_year"): "hours_per_year",
    ("use", "band"): "read_out",
    ("use", "read_out"): "band",
    ("money", "discount_rate"): "real_discount_rate",
    ("money", "real_discount_rate"): "discount_rate",
    ("fuel", "points"): "specific_consumption",
    ("fuel", "specific_consumption"): "points",
    ("oil", "ratio"): "points",
    ("oil", "points"): "ratio",
    ("resale", "by_age"): "yearly_decline",
    ("resale", "yearly_decline"): "by_age",
}
"""(table, key) -> the key whose place it takes when it is set: a setting cannot take away, and both are refused."""

MOST_FILES = 100
"""Engine files read for one scenario."""


@dataclass
class EngineOrigin:
    """Where the data of one engine came from."""

    entry: Any
    """Its entry in the scenario, without `file`."""
    content: dict[str, Any] | None = None
    """Content of its own file."""
    file: Path | None = None
    """Its own file."""
    is_broken: bool = False
    """Whether its file could not be read, so that nothing more can be said of it."""
    list_price_is_default: bool = False
    """Whether its list price is its own price."""


@dataclass
class Merged:
    """One document, and where its parts came from."""

    document: dict[str, Any]
    """All of it; engines hold their file's content."""
    label: str
    """The scenario file's name as the user gave it."""
    engines: list[EngineOrigin] = field(default_factory=list)
    """One for each engine of the document."""
    settings: list[tuple[Step, ...]] = field(default_factory=list)
    """Paths set on top of the files."""
    problems: list[Problem] = field(default_factory=list)
    """What went wrong on the way."""
    within: Path | None = None
    """The folder outside which no file is read; None where whoever wrote the scenario may name any."""

    def origin(self, steps: Sequence[Step]) -> EngineOrigin | None:
        """The engine in whose own file a value stands, or would have to stand; None for the scenario."""
        if len(steps) < 3 or steps[0] != "engines" or not isinstance(steps[1], int) or steps[1] >= len(self.engines):
            return None
        engine, inner = self.engines[steps[1]], steps[2:]
        if engine.content is None or any(steps[: len(path)] == path for path in map(tuple, self.settings)):
            return None
        if any(path[: len(steps)] == tuple(steps) for path in self.settings):
            return None
        in_entry = list(walk_to(engine.entry, inner))
        in_content = list(walk_to(engine.content, inner))
        # The one that leads further says it; lists and single values of the entry replace the file's whole.
        replaced = any(not isinstance(node, dict) for node in in_entry)
        is_all_there = len(in_entry) == len(inner) + 1
        return None if replaced or is_all_there or len(in_entry) > len(in_content) else engine

    def is_broken(self, steps: Sequence[Step]) -> bool:
        """Whether a value belongs to an engine whose file could not be read."""
        index = steps[1] if len(steps) > 1 and steps[0] == "engines" else None
        return isinstance(index, int) and index < len(self.engines) and self.engines[index].is_broken

    def is_default(self, steps: Sequence[Step]) -> bool:
        """Whether a value is a list price that no file states."""
        index = steps[1] if len(steps) == 3 and steps[0] == "engines" and steps[2] == "list_price" else None
        return isinstance(index, int) and index < len(self.engines) and self.engines[index].list_price_is_default

    def repeats_price(self, steps: Sequence[Step]) -> bool:
        """Whether a value is a list price that no file states, and the same as the price."""
        engine = list(walk_to(self.document, steps[:2]))[-1]
        return self.is_default(steps[:3]) and repr(engine["list_price"]) == repr(engine.get("price"))

    def place(self, steps: Sequence[Step], asked_by: Sequence[Step] | None = None) -> tuple[str, str]:
        """File and key of a value, for people; a missing one is told with the file of the value that asks for it."""
        if self.is_default(steps):
            engine = self.engines[int(steps[1])]
            if engine.content is not None and "price" in engine.content:
                return str(engine.file), "price"
            steps = (*steps[:2], "price")
        origin = self.origin(asked_by or steps)
        if origin is None:
            return self.label, path_text(self.document, steps)
        engine = list(walk_to(self.document, steps[:2]))[-1]
        return str(origin.file), path_text(engine, steps[2:])


def merge(path: Path, content: dict[str, Any], within: Path | None = None) -> Merged:
    """
    Bring the engine files and the read-out into the content of a scenario file.

    Parameters
    ----------
    path : Path
        The scenario file; other files are relative to it.
    content : dict
        What it holds.
    within : Path, optional
        The folder outside which no file is read, for content from a stranger.

    Returns
    -------
    Merged
        With the problems of files that could not be read; a broken engine holds its entry only.
    """
    if "technology" in content and "engines" not in content:
        told = 'a scenario that names it: [[engines]] with file = "..."'
        raise InputError([Problem(str(path), "engines", "an engine file", told)])
    merged = Merged(copy.deepcopy(content), str(path), within=within)
    engines = merged.document.get("engines")
    if isinstance(engines, list):
        # More engines than any comparison has are refused by their number; their files are not read.
        for index, entry in enumerate(engines[:MOST_FILES]):
            origin = _origin_of(entry, path, merged, index)
            merged.engines.append(origin)
            engines[index] = _merged_engine(origin)
    _fill_read_out(path, merged)
    return merged


def _origin_of(entry: Any, path: Path, merged: Merged, index: int) -> EngineOrigin:
    """Entry and file of one engine."""
    if not isinstance(entry, dict) or "file" not in entry:
        return EngineOrigin(copy.deepcopy(entry))
    own = {key: copy.deepcopy(value) for key, value in entry.items() if key != "file"}
    name, key = entry["file"], f"engines[{index + 1}].file"
    if not isinstance(name, str) or not name:
        merged.problems.append(Problem(merged.label, key, shown(name), "a path in quotes, relative to the scenario"))
        return EngineOrigin(own, is_broken=True)
    file = path.parent / name
    if not may_be_read(file, merged.within):
        merged.problems.append(Problem(merged.label, key, shown(name), ALLOWED_WITHIN))
        return EngineOrigin(own, is_broken=True)
    try:
        return EngineOrigin(own, parse_toml(file), file)
    except InputError as error:
        for problem in error.problems:
            if problem.found == "no such file":
                allowed = f"an engine file; looked for {shown(str(file), 300)}"
                merged.problems.append(Problem(merged.label, key, f"{shown(name)}, no such file", allowed))
            else:
                merged.problems.append(problem)
        return EngineOrigin(own, file=file, is_broken=True)


def _merged_engine(origin: EngineOrigin) -> Any:
    """The engine's document: the file's content, the entry on top, the list price from before the entry's changes."""
    if origin.is_broken or not isinstance(origin.entry, dict):
        return copy.deepcopy(origin.entry)
    engine: dict[str, Any] = merge_tables(origin.content or {}, origin.entry)
    own: Any = (origin.content or {}).get("price", origin.entry.get("price"))
    if "list_price" not in engine and own is not None:
        engine["list_price"] = copy.deepcopy(own)
        origin.list_price_is_default = True
    return engine


def merge_tables(below: Mapping[str, Any], above: Mapping[str, Any]) -> dict[str, Any]:
    """
    One table on top of another: tables merge by key, everything else is replaced whole.

    A number written as a table is a number, and is replaced whole too: its unit and source belong to its value.

    Parameters
    ----------
    below, above : mapping
        Contents; neither is changed.

    Returns
    -------
    dict

    >>> merge_tables({"a": {"b": 1, "c": 2}, "d": [1, 2]}, {"a": {"c": 3}, "d": [4]})
    {'a': {'b': 1, 'c': 3}, 'd': [4]}
    """
    merged = copy.deepcopy(dict(below))
    for key, value in above.items():
        under = merged.get(key)
        if isinstance(under, dict) and isinstance(value, dict) and "value" not in under and "value" not in value:
            merged[key] = merge_tables(under, value)
        else:
            merged[key] = copy.deepcopy(value)
    return merged


def _fill_read_out(path: Path, merged: Merged) -> None:
    """Read the CSV that `[use] read_out.file` names; bins that stand in the file itself are taken as they are."""
    use = merged.document.get("use")
    read_out: Any = use.get("read_out") if isinstance(use, dict) else None
    name = read_out.get("file") if isinstance(read_out, dict) and "bins" not in read_out else None
    if not isinstance(name, str) or has_control_characters(name):  # the check of its field tells either
        return
    if not may_be_read(path.parent / name, merged.within):
        merged.problems.append(Problem(merged.label, "use.read_out.file", shown(name), ALLOWED_WITHIN))
        return
    try:
        read_out["bins"] = [list(row) for row in read_bins(path.parent / name)]
    except InputError as error:
        merged.problems += error.problems


def apply_settings(merged: Merged, sets: Sequence[str], overrides: Mapping[str, Any]) -> None:
    """
    Set values on top of the files; what cannot be set is added to the problems.

    Parameters
    ----------
    merged : Merged
        Changed in place.
    sets : sequence of str
        `path=value` with a TOML value, as typed.
    overrides : mapping of str to Any
        Path to value.
    """
    for text in sets:
        try:
            path, value = _split(text)
            _apply(merged, path, value)
        except NoSuchPlaceError as error:
            if not (text.startswith("engines") and any(origin.is_broken for origin in merged.engines)):
                # An engine whose file could not be read may well be the one that is meant.
                merged.problems.append(Problem(merged.label, f"--set {text[:120]}", error.found, error.allowed))
    for path, value in overrides.items():
        try:
            _apply(merged, path, copy.deepcopy(value))
        except NoSuchPlaceError as error:
            merged.problems.append(Problem(merged.label, path, error.found, error.allowed))
    for index, origin in enumerate(merged.engines):
        engine = list(walk_to(merged.document, ("engines", index)))[-1]
        # A used engine must say what a new one costs: its own price is no answer.
        if origin.list_price_is_default and isinstance(engine, dict) and "start" in engine:
            del engine["list_price"]
            origin.list_price_is_default = False


def _split(text: str) -> tuple[str, Any]:
    """Path and value of one `path=value`; an equals sign in a quoted name is none."""
    at, quote = 0, ""
    while at < len(text) and (quote or text[at] != "="):
        if text[at] in "\"'" and (not quote or quote == text[at]):
            quote = "" if quote else text[at]
        at += 1
    path, value = text[:at].strip(), text[at + 1 :].strip()
    if at == len(text) or not value:
        raise NoSuchPlaceError(shown(text), "path=value, such as prices.fuel=2.10")
    try:
        content = loads(f"value = {value}")
    except ValueError:
        raise NoSuchPlaceError(shown(value), f'a TOML value; text stands in quotes: {path}="{value[:40]}"') from None
    if list(content) != ["value"]:
        raise NoSuchPlaceError(shown(value), "one TOML value")
    return path, content["value"]


def _apply(merged: Merged, text: str, value: Any) -> None:
    """Set one value; the alternative whose place it takes goes."""
    path = parse_path(text)
    engines = merged.document.get("engines")
    if path[0] == "engines" and len(path) > 1 and isinstance(path[1], Named) and not isinstance(engines, list):
        raise NoSuchPlaceError(shown(path[1].name), "no engines are there")
    if unfit(value):
        raise NoSuchPlaceError(str(unfit(value)), "a value of the format")
    steps = put(merged.document, path, value)
    table = list(walk_to(merged.document, steps[:-1]))[-1]
    other = ALTERNATIVES.get((str(steps[-2]), str(steps[-1]))) if len(steps) > 1 else None
    if other and isinstance(table, dict):
        table.pop(other, None)
    if steps[0] == "engines" and len(steps) > 2 and steps[2] == "list_price" and isinstance(steps[1], int):
        merged.engines[steps[1]].list_price_is_default = False
    merged.settings.append(steps)


def engine_names(document: Mapping[str, Any]) -> list[str | None]:
    """Names of a document's engines, None where there is none."""
    engines = document.get("engines")
    return names_of(engines) if isinstance(engines, list) else []
