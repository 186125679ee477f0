"""The fleet that a user looks at: where it comes from, and what is changed on top; read with the model's own checks.

The browser keeps it, the server does not: every call brings it all, and nothing in it is trusted.
"""

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from dashboard import library
from dashboard.keeping import Shelf
from dashboard.stored import is_toml_value, named_file
from dashboard.work import toml_text
from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.reading import Fleet, Opened, read_fleet, read_opened, with_terms
from model.fleet.replacement import limit_problems
from model.inputs.files import LARGEST_FILE, loads
from model.inputs.problems import InputError, Problem
from model.language import say
from model.uncertainty.failures import problems_of_drawing

FIRST = "hire-boats"
"""What the page opens on."""

POLICY, HORIZON, LIMIT, TRADE_IN = "fleet.policy", "fleet.horizon", "fleet.yearly_limit", "fleet.trade_in"

CHANGEABLE = (POLICY, HORIZON, LIMIT, TRADE_IN)
"""What may be changed on the page; the rest is the file's."""

MOST_TABLES = 4
"""Register and logs that may be opened with a fleet file."""

LONGEST_CHANGE = 200
"""Characters of a change's value."""


@dataclass(frozen=True)
class FleetWork:
    """A fleet and what is changed on top, its form sound."""

    name: str
    """Of the library, or of the opened fleet file."""
    text: str = ""
    """Of the opened file; empty for one of the library."""
    tables: tuple[tuple[str, str], ...] = ()
    """Names and texts of the register and logs opened with it."""
    changes: tuple[tuple[str, str], ...] = ()
    """Path and TOML value; an empty one takes the yearly limit away."""

    @property
    def origin(self) -> "FleetWork":
        """The same as its file says."""
        return replace(self, changes=())

    def changed(self, path: str, value: Any) -> "FleetWork":
        """
        The same with a value set on top.

        Parameters
        ----------
        path : str
            One of `CHANGEABLE`.
        value : Any
            None for what the file says, "" for no yearly limit.
        """
        changes = {other: text for other, text in self.changes if other != path}
        if value is not None:
            changes[path] = "" if value == "" else toml_text(value)
        return replace(self, changes=tuple(sorted(changes.items())))

    def without(self, *paths: str) -> "FleetWork":
        """The same without changes at these paths."""
        return replace(self, changes=tuple(change for change in self.changes if change[0] not in paths))

    def as_data(self) -> dict[str, Any]:
        """The same for a store of the browser."""
        data: dict[str, Any] = {"name": self.name, "changes": dict(self.changes)}
        return data | ({"text": self.text, "tables": dict(self.tables)} if self.text else {})


def start() -> FleetWork:
    """What the page opens on."""
    return FleetWork(FIRST)


def stored_fleet(stored: object) -> FleetWork | None:
    """
    The fleet that a browser sends, as far as its form goes.

    Parameters
    ----------
    stored : Any
        What the store holds; a stranger may have made it.

    Returns
    -------
    FleetWork or None
        None where it is none: no fleet, no texts, too much of it.
    """
    if not isinstance(stored, dict):
        return None
    file, tables = named_file(stored, library.registers()), stored.get("tables", {})
    if file is None or not isinstance(tables, dict) or len(tables) > MOST_TABLES:
        return None
    name, text = file
    texts = [(key, value) for key, value in tables.items() if isinstance(key, str) and isinstance(value, str)]
    if len(texts) < len(tables) or len(text) + sum(len(value) + len(key) for key, value in texts) > LARGEST_FILE:
        return None
    changes = stored.get("changes", {})
    sound = [(path, changes[path]) for path in CHANGEABLE if isinstance(changes, dict) and path in changes]
    found = tuple(sorted((path, value) for path, value in sound if _is_value(path, value)))
    return FleetWork(name, text, tuple(sorted(texts)) if text else (), found)


def _is_value(path: str, value: object) -> bool:
    """Whether this is one TOML value, as far as its form goes."""
    return path == LIMIT if value == "" else is_toml_value(value, LONGEST_CHANGE)


FLEETS = Shelf()


def fleet_of(work: FleetWork) -> Fleet:
    """
    A fleet as it is read, everything checked before anything is counted.

    Parameters
    ----------
    work : FleetWork

    Returns
    -------
    Fleet

    Raises
    ------
    InputError
        With every problem of its files and changes; also a yearly limit that never buys one engine.
    """
    found: Fleet = FLEETS.get(work, lambda: _checked(work))
    return found


def _checked(work: FleetWork) -> Fleet:
    """The fleet read and checked."""
    changes = {path: loads(f"value = {text}")["value"] for path, text in work.changes if text}
    fleet = _read(work, changes)
    if (LIMIT, "") in work.changes:
        fleet = with_terms(fleet, yearly_limit=None)
    label = fleet.path.name
    problems = limit_problems(GroupCosts(fleet.file, fleet.units), label)
    most = max(unit.hours_per_year for unit in fleet.units)
    problems += problems_of_drawing(fleet.file.changed({("use", "hours_per_year"): most}), label)
    if problems:
        raise InputError(problems)
    return fleet


def _read(work: FleetWork, changes: Mapping[str, Any]) -> Fleet:
    """A fleet of the library, or one that was opened."""
    if not work.text:
        return read_fleet(library.registers()[work.name], overrides=changes)
    place = library.HOME / "registers" / "opened.toml"
    return read_opened(Opened(work.name, work.text, work.tables, place, library.HOME), changes)


def counted(work: FleetWork) -> FleetWork:
    """As much of a fleet as can be counted: without its changes where they do not hold, or the start."""
    for candidate in (work, work.origin):
        try:
            fleet_of(candidate)
        except InputError:
            continue
        return candidate
    return start()


def fleet_work_of(stored: object) -> FleetWork:
    """The fleet that a browser's store holds, as far as it can be counted; the start where it holds none."""
    found = stored_fleet(stored)
    return start() if found is None else counted(found)


def file_policy(work: FleetWork) -> PolicyTerms:
    """When the file says that engines are replaced."""
    return fleet_of(work.origin).terms.policy


def policies_of(work: FleetWork) -> tuple[PolicyTerms, ...]:
    """Policies to choose from: the file's own, those that it compares, by economic life, by the best plan."""
    terms = fleet_of(work.origin).terms
    always = (PolicyTerms(at_economic_life=True), PolicyTerms(best_plan=True), PolicyTerms(keep=True))
    return tuple(dict.fromkeys((terms.policy, *terms.alternatives, *always)))


def as_change(policy: PolicyTerms) -> dict[str, Any]:
    """A policy as the file would state it."""
    return policy.model_dump(exclude_defaults=True)


def with_value(work: FleetWork, path: str, value: Any) -> tuple[FleetWork, str]:
    """
    A fleet with a value changed, or as it was with what is wrong.

    Parameters
    ----------
    work : FleetWork
    path : str
        One of `CHANGEABLE`.
    value : Any
        As for `FleetWork.changed`.

    Returns
    -------
    (FleetWork, str)
        Words are empty where nothing is wrong.
    """
    is_whole = path == HORIZON and isinstance(value, float) and value.is_integer()
    changed = work.changed(path, int(value) if is_whole else value)
    try:
        fleet_of(changed)
    except InputError as error:
        told = next((problem for problem in error.problems if problem.key == path), error.problems[0])
        return work, say("Allowed: {rule}.", rule=told.allowed.split(": ")[0])
    return changed, ""


def no_such_fleet(name: str) -> tuple[Problem, ...]:
    """What is told where something was opened that has not the form of a fleet."""
    allowed = say("a fleet file (TOML) with its register (CSV), {size} kB together at most", size=LARGEST_FILE // 1000)
    return (Problem(name, "", say("no fleet, or too much of it"), allowed),)


def files_of(work: FleetWork) -> tuple[str, bytes]:
    """
    The files of a fleet as they are, to begin one's own with.

    Parameters
    ----------
    work : FleetWork

    Returns
    -------
    (str, bytes)
        Name and content of an archive: the fleet file, its register and its logs.
    """
    texts = {Path(work.name).name: work.text, **dict(work.tables)}
    if not work.text:
        path, terms = library.registers()[work.name], fleet_of(work.origin).terms
        named = [path.name, *(name for name in (terms.register_file, terms.hour_log, terms.repair_log) if name)]
        texts = {name: (path.parent / name).read_text(encoding="utf-8") for name in named}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in texts.items():
            archive.writestr(Path(name).name, text)
    return f"{Path(work.name).stem}.zip", out.getvalue()
