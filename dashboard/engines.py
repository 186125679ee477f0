"""Engines added to a work, renamed, taken out: its lineup changes, and the changes of each engine go with it."""

import copy
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from dashboard.lineup import MOST_ENGINES, Lineup, Place, engine_files
from dashboard.scenarios import reading_of, scenario_of
from dashboard.work import Work
from model.inputs.merging import engine_names
from model.inputs.paths import Named, NoSuchPlaceError, parse_path, path_text, put
from model.inputs.problems import InputError, Step
from model.language import say

Moves = Mapping[int, Sequence[int]]
"""Place of an engine -> the places that it has afterwards; none where it is taken out."""

LONGEST = 80
"""Characters of an engine's name."""


@dataclass(frozen=True)
class LinedUp:
    """A work whose engines were lined up otherwise."""

    work: Work
    """As it is now."""
    moved: Callable[[str], list[str]]
    """What a path has become: one, several where an engine was copied, none where it was taken out."""

    def of(self, by_path: Mapping[str, Any]) -> dict[str, Any]:
        """What was known by path, by the paths as they are now."""
        return {path: known for old, known in by_path.items() for path in self.moved(old)}


def lineup_now(work: Work) -> Lineup:
    """The engines of a work in their order."""
    names = engine_names(reading_of(work.origin).document)
    return work.lineup or tuple(Place(name, name) for name in names if name)


def new_name(name: str, taken: Sequence[str]) -> str:
    """
    A name that nobody has: itself, or with the next number behind it.

    >>> new_name("Four", ["Two"]), new_name("Four", ["Four", "Four 2"])
    ('Four', 'Four 3')
    """
    tries = (name if number == 1 else f"{name[: LONGEST - 4]} {number}" for number in range(1, len(taken) + 2))
    return next(one for one in tries if one not in taken)


def with_engine(work: Work, source: str, of_library: bool) -> LinedUp:
    """
    A work with one engine more, compared as the others are.

    Parameters
    ----------
    work : Work
    source : str
        The engine that it is a copy of, its changes too; or the name of an engine file of the library.
    of_library : bool

    Returns
    -------
    LinedUp
        As it was where there is no such engine, or where there are as many as there may be.
    """
    lineup = lineup_now(work)
    names = [place.name for place in lineup]
    if len(lineup) >= MOST_ENGINES or source not in (engine_files() if of_library else names):
        return _same(work)
    moves: dict[int, Sequence[int]] = {place: [place] for place in range(len(lineup))}
    if of_library:
        added = Place(new_name(engine_files()[source][0], names), source, of_library=True)
    else:
        place = names.index(source)
        added = replace(lineup[place], name=new_name(source, names))
        moves[place] = [place, len(lineup)]
    found = _lined_up(work, (*lineup, added), moves)
    compared = found.work.engines
    if not work.engines or added.name in compared:
        return replace(found, work=replace(found.work, engines=compared if work.engines else ()))
    return replace(found, work=replace(found.work, engines=(*compared, added.name)))


def without_engine(work: Work, name: str) -> LinedUp:
    """A work without an engine and its changes; as it was where it is the only one, or none."""
    lineup = lineup_now(work)
    rest = tuple(place for place in lineup if place.name != name)
    if not rest or len(rest) == len(lineup):
        return _same(work)
    return _lined_up(work, rest, {at: [rest.index(place)] for at, place in enumerate(lineup) if place in rest})


def renamed(work: Work, old: str, new: str) -> LinedUp:
    """A work with another name for an engine; whether it may be called so is for `name_problem` to say."""
    lineup = lineup_now(work)
    changed = tuple(replace(place, name=new) if place.name == old else place for place in lineup)
    return _lined_up(work, changed, {place: [place] for place in range(len(lineup))})


def as_the_file_has(work: Work) -> LinedUp:
    """A work with the engines of its file under their own names; changes stay with those that are among them."""
    names = [name for name in engine_names(reading_of(replace(work.origin, lineup=())).document) if name]
    first = {place.like: at for at, place in reversed(list(enumerate(work.lineup))) if not place.of_library}
    moves = {first[name]: [at] for at, name in enumerate(names) if name in first}
    return _lined_up(work, tuple(Place(name, name) for name in names), moves)


def name_problem(work: Work, old: str, new: object) -> str:
    """
    Why an engine cannot be called so; empty where it can.

    Parameters
    ----------
    work : Work
    old : str
        What it is called.
    new : Any
        What was typed.
    """
    name = name_typed(new)
    if not name or len(name) > LONGEST or not name.isprintable():
        return say("Allowed: a name of 1 to {most} characters.", most=LONGEST)
    if name != old and name in [place.name for place in lineup_now(work)]:
        return say("Another engine is called {name}. Allowed: a name that no other engine has.", name=name)
    return ""


def name_typed(raw: object) -> str:
    """
    A name as it was typed, without space around it.

    >>> name_typed("  Four   stroke ")
    'Four stroke'
    """
    return " ".join(raw.split()) if isinstance(raw, str) else ""


def engine_named(path: str) -> str | None:
    """
    Whose name stands at a path; None where it is no engine's name.

    >>> engine_named('engines["Four"].name'), engine_named('engines["Four"].price')
    ('Four', None)
    """
    try:
        steps = parse_path(path)
    except NoSuchPlaceError:
        return None
    is_name = len(steps) == 3 and steps[0] == "engines" and steps[2] == "name"
    return steps[1].name if is_name and isinstance(steps[1], Named) else None


def path_of_name(name: str) -> str:
    """
    Where an engine's name stands.

    >>> path_of_name("Four")
    'engines["Four"].name'
    """
    return path_text({"engines": [{"name": name}]}, ("engines", 0, "name"))


def problem_of(work: Work) -> str:
    """Why a work makes no scenario, in the model's words; empty where it makes one."""
    try:
        scenario_of(work)
    except InputError as error:
        first = error.problems[0]
        return say("This engine cannot be added: {place} would have to be {rule}.", place=first.key, rule=first.allowed)
    return ""


def _same(work: Work) -> LinedUp:
    """A work as it was."""
    return LinedUp(work, lambda path: [path])


def _lined_up(work: Work, lineup: Lineup, moves: Moves) -> LinedUp:
    """A work with another lineup; changes, and which engines are compared, go with the engines."""
    before = [place.name for place in lineup_now(work)]
    moved = _paths_after(work, lineup, moves)
    changes = sorted((path, text) for old, text in work.changes for path in moved(old))
    kept = {at for place, name in enumerate(before) if name in work.engines for at in moves.get(place, ())}
    engines = tuple(place.name for at, place in enumerate(lineup) if at in kept)
    plain = reading_of(replace(work.origin, lineup=())).document
    is_the_files = lineup == tuple(Place(str(name), str(name)) for name in engine_names(plain))
    changed = replace(
        work,
        lineup=() if is_the_files else lineup,
        changes=tuple(changes),
        engines=engines if len(engines) < len(lineup) else (),
    )
    return LinedUp(changed, moved)


def _paths_after(work: Work, lineup: Lineup, moves: Moves) -> Callable[[str], list[str]]:
    """What a path of a work becomes once its engines are lined up otherwise."""
    document = reading_of(work).document
    inside = {at: document["engines"][place] for place, places in moves.items() for at in places}
    engines = [{**inside.get(at, {}), "name": place.name} for at, place in enumerate(lineup)]
    after: dict[str, Any] = {**document, "engines": engines}

    def moved(path: str) -> list[str]:
        try:
            steps: tuple[Step, ...] = put(copy.deepcopy(document), parse_path(path), None)
        except NoSuchPlaceError:
            return [path]
        if len(steps) < 2 or steps[0] != "engines" or not isinstance(steps[1], int):
            return [path]
        return [path_text(after, ("engines", at, *steps[2:])) for at in moves.get(steps[1], ())]

    return moved
