"""Which engines stand in a scenario, where its file has others: called otherwise, copied, left out, added.

A lineup is put in place before the changes are, so that a change finds an engine by the name that it has now.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from dashboard import library
from model.inputs.files import parse_toml
from model.inputs.problems import InputError, Problem, shown
from model.inputs.scenario import Scenario
from model.language import say

LONGEST_NAME = 120
"""Characters of the name of an engine; the model says how many it may have."""

MOST_ENGINES = max(getattr(limit, "max_length", 0) for limit in Scenario.model_fields["engines"].metadata)
"""Engines of one scenario, as the model has it."""


@dataclass(frozen=True)
class Place:
    """One engine of a lineup."""

    name: str
    """What it is called."""
    like: str
    """The engine of the file that it is, or is a copy of; or the name of an engine file of the library."""
    of_library: bool = False
    """Whether it is one of the library's engine files."""


Lineup = tuple[Place, ...]
"""The engines of a scenario in their order; none where they are the file's own."""


@cache
def engine_files() -> dict[str, tuple[str, Path]]:
    """Engine files of the library: the engine's own name and the file, by the file's name."""
    found = {}
    for path in sorted((library.HOME / "engines").glob("*.toml")):
        name = parse_toml(path).get("name")
        found[path.stem] = (name if isinstance(name, str) else path.stem, path)
    return found


def as_data(lineup: Lineup) -> list[dict[str, str]]:
    """A lineup for a store of the browser."""
    return [{"name": place.name, "library" if place.of_library else "like": place.like} for place in lineup]


def lineup_of(stored: object) -> Lineup:
    """
    The lineup that a browser sends, as far as its form goes.

    Parameters
    ----------
    stored : Any
        What the store holds; a stranger may have made it.

    Returns
    -------
    tuple of Place
        Empty where it is none, or none that can be.

    >>> lineup_of([{"name": "Second", "like": "First"}, {"name": "Third"}])
    (Place(name='Second', like='First', of_library=False),)
    """
    if not isinstance(stored, list):
        return ()
    return tuple(place for place in map(_place_of, stored[:MOST_ENGINES]) if place is not None)


def _place_of(stored: object) -> Place | None:
    """One place of it, None where it is none."""
    if not isinstance(stored, Mapping):
        return None
    name, of_library = stored.get("name"), "library" in stored
    like = stored.get("library") if of_library else stored.get("like")
    if not isinstance(name, str) or not isinstance(like, str) or not 0 < len(name) <= LONGEST_NAME:
        return None
    return Place(name, like, of_library) if len(like) <= LONGEST_NAME else None


def lined_up(entries: Sequence[Any], names: Sequence[str | None], lineup: Lineup, label: str) -> list[dict[str, Any]]:
    """
    The engine entries of a scenario file as a lineup has them.

    Parameters
    ----------
    entries : sequence of dict
        As the file has them.
    names : sequence of str or None
        What their engines are called.
    lineup : tuple of Place
    label : str
        What problems call the file.

    Returns
    -------
    list of dict

    Raises
    ------
    InputError
        With every place that is like no engine.
    """
    found, problems = [], []
    for place in lineup:
        if place.of_library and place.like in engine_files():
            found.append({"file": str(engine_files()[place.like][1]), "name": place.name})
        elif not place.of_library and place.like in names:
            found.append({**entries[names.index(place.like)], "name": place.name})
        else:
            told = ", ".join(engine_files() if place.of_library else (name for name in names if name))
            problems.append(Problem(label, "engines", shown(place.like), say("an engine: {engines}", engines=told)))
    if problems:
        raise InputError(problems)
    return found
