"""Changes typed into the form of all numbers: counted where they hold, else kept and told at their place."""

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from dashboard.engines import engine_named, name_problem, name_typed, new_name, path_of_name, renamed
from dashboard.rules_told import rule_told
from dashboard.scenarios import concern, reading_of, scenario_of
from dashboard.values import in_units, value_typed
from dashboard.work import LONGEST_PATH, MOST_CHANGES, Work
from model.inputs.files import MOST_ITEMS
from model.inputs.paths import NoSuchPlaceError, names_of, parse_path, path_text, put, walk_to
from model.inputs.problems import InputError, Problem, Step
from model.inputs.scenario import Scenario
from model.inputs.telling import bare, expected, limits_of
from model.language import say

Drafts = Mapping[str, Any]
"""Path -> what was typed there and cannot be counted yet."""


@dataclass(frozen=True)
class Edited:
    """What came of a change."""

    work: Work
    """With all that holds."""
    drafts: dict[str, Any]
    """What does not, by path."""
    problems: dict[str, str]
    """What is wrong, by the path where it is told."""


def drafts_of(stored: object) -> dict[str, Any]:
    """The drafts among what a browser keeps; those of the controls at hand have names, not paths."""
    if not isinstance(stored, dict):
        return {}
    kept = [(path, value) for path, value in stored.items() if isinstance(path, str) and len(path) <= LONGEST_PATH]
    return {path: value for path, value in kept[:MOST_CHANGES] if "." in path or "[" in path}


def document_of(work: Work, drafts: Drafts) -> dict[str, Any]:
    """The scenario's document with what was typed and cannot be counted yet; drafts that lead nowhere are left out."""
    document = copy.deepcopy(reading_of(work).document)
    for engine in document["engines"]:
        if "fit_up" in engine and not isinstance(engine["fit_up"], list):
            engine["fit_up"] = [{"name": say("Fit-up"), "price": engine["fit_up"]}]
    for path in sorted(path for path in drafts if engine_named(path) is None):
        try:
            steps = put(copy.deepcopy(document), parse_path(path), None)
            if _keeps_shape(_at(document, steps), drafts[path]):
                put(document, parse_path(path), copy.deepcopy(drafts[path]))
        except NoSuchPlaceError:
            continue
    return document


def _at(document: Any, steps: Sequence[Step]) -> Any:
    """The value at a place, None where there is none."""
    nodes = list(walk_to(document, steps))
    return nodes[-1] if len(nodes) > len(steps) else None


def _keeps_shape(before: Any, value: Any) -> bool:
    """Whether a list stays a list and a table a table; a number written with its unit is a number."""
    if isinstance(before, dict) and "value" not in before:
        return isinstance(value, dict)
    return not isinstance(before, list) or isinstance(value, list)


def settled(work: Work, drafts: Drafts) -> Edited:
    """
    Count of the drafts what holds by now.

    Parameters
    ----------
    work : Work
        Sound.
    drafts : mapping of str to Any

    Returns
    -------
    Edited
    """
    found = _settled({path: raw for path, raw in drafts.items() if engine_named(path) is None}, work)
    names = {name: raw for path, raw in drafts.items() if (name := engine_named(path)) is not None}
    while names:
        # A name may wait for another engine to give it up.
        free = next((name for name, raw in names.items() if not name_problem(found.work, name, raw)), None)
        if free is None:
            break
        found = _renamed(found, free, name_typed(names.pop(free)))
    kept = {path_of_name(name): raw for name, raw in names.items()}
    told = {path_of_name(name): name_problem(found.work, name, raw) for name, raw in names.items()}
    return Edited(found.work, {**found.drafts, **kept}, {**found.problems, **told})


def _renamed(found: Edited, name: str, to: str) -> Edited:
    """An engine called otherwise, with all that is known of it."""
    lined = renamed(found.work, name, to)
    return Edited(lined.work, lined.of(found.drafts), lined.of(found.problems))


def _settled(drafts: Drafts, work: Work) -> Edited:
    """Count what holds of drafts that are no names of engines."""
    if not drafts:
        return Edited(work, {}, {})
    try:
        whole = work.changed(as_in_file(work, drafts))
        scenario_of(whole)
        return Edited(whole, {}, {})
    except (InputError, TypeError) as error:
        problems = error.problems if isinstance(error, InputError) else ()
    told = {problem.key: _in_words(problem) for problem in problems}
    holding = {path: value for path, value in drafts.items() if not any(concern(path, key) for key in told)}
    rest = {path: value for path, value in drafts.items() if path not in holding}
    if holding and rest:
        try:
            part = work.changed(as_in_file(work, holding))
            scenario_of(part)
            return Edited(part, rest, told)
        except (InputError, TypeError):
            pass
    return Edited(work, dict(drafts), told)


def as_in_file(work: Work, values: Drafts) -> dict[str, Any]:
    """Values by path, None for those that the file says itself, so that they are no changes."""
    origin = reading_of(work.origin).document
    return {path: None if value in _in_file(origin, path) else values[path] for path, value in sorted(values.items())}


def _in_file(origin: dict[str, Any], path: str) -> list[Any]:
    """The value that the file has at a path, if any; of a number written with its source, the number too."""
    try:
        steps = put(copy.deepcopy(origin), parse_path(path), None)
    except NoSuchPlaceError:
        return []
    node = _at(origin, steps)
    if node is None:
        return []
    is_bare = isinstance(node, dict) and "value" in node and not {"unit", "tax"} & set(node)
    return [node, node["value"]] if is_bare else [node]


def _in_words(problem: Problem) -> str:
    """What is told at the place of a problem."""
    return say("Found {found}. Allowed: {rule}.", found=problem.found, rule=rule_told(problem.allowed))


def edited(work: Work, drafts: Drafts, edit: object) -> Edited:
    """
    A work after one change in the form.

    Parameters
    ----------
    work : Work
        Sound.
    drafts : mapping of str to Any
    edit : Any
        From the browser: what it `does` (set, clear, add, remove, back), the path, and with set the `raw` text and
        its `kind`, with remove the `line`.

    Returns
    -------
    Edited
    """
    if not isinstance(edit, dict) or not isinstance(edit.get("path"), str):
        return settled(work, drafts)
    path = edit["path"][:LONGEST_PATH]
    if edit.get("does") == "back":
        return settled(work.changed({path: None}), {other: value for other, value in drafts.items() if other != path})
    try:
        change = _change(document_of(work, drafts), path, edit)
    except NoSuchPlaceError:
        return settled(work, drafts)
    (place, _), *_ = change.items()
    others = {other: value for other, value in drafts.items() if not concern(other, place) or _holds(other, place)}
    return settled(work, others | change)


def _holds(outer: str, path: str) -> bool:
    """Whether a draft is of a table or list that a path leads into, and so is changed there and not dropped."""
    return concern(outer, path) and len(outer) < len(path)


def _change(document: dict[str, Any], path: str, edit: Mapping[str, Any]) -> dict[str, Any]:
    """The value to set, by its path; the document is of this call only."""
    if engine_named(path) is not None:
        return {path: edit.get("raw")}
    steps = put(copy.deepcopy(document), parse_path(path), None)
    does = edit.get("does")
    if does == "clear":
        return _without(document, steps)
    node = _at(document, steps)
    if does == "add":
        return {path_text(document, steps): _with_one_more(node, steps)}
    if does == "remove" and isinstance(node, list):
        return {path_text(document, steps): [item for index, item in enumerate(node) if index != edit.get("line")]}
    value = in_units(document, steps, value_typed(edit.get("raw"), edit.get("kind")))
    if not _keeps_shape(node, value):
        raise NoSuchPlaceError("a list or table", "a value")
    in_a_list = len(steps) > 1 and isinstance(steps[-2], int)
    if in_a_list and (steps[-1] == "name" or steps[-3] == "fit_up"):
        # Other changes find a line by its name, and a file may have one sum for fit-up: the list is set as a whole.
        put(document, parse_path(path), value)
        return {path_text(document, steps[:-2]): _at(document, steps[:-2])}
    return {path: value}


def _without(document: dict[str, Any], steps: Sequence[Step]) -> dict[str, Any]:
    """The table that holds a value, set anew without it: a change can set, not take away."""
    if len(steps) < 2:
        raise NoSuchPlaceError("the scenario itself", "a value within a table")
    table = dict(list(walk_to(document, steps[:-1]))[-1])
    table.pop(str(steps[-1]), None)
    return {path_text(document, steps[:-1]): table}


def _with_one_more(node: Any, steps: tuple[Step, ...]) -> Any:
    """A list with its last item once more under a new name, or a first one; a table, as empty as it may be."""
    wanted = expected(Scenario, steps)
    kind = bare(wanted.annotation)
    if get_origin(kind) is not tuple:
        return _emptiest(kind)
    items = list(node) if isinstance(node, list) else []
    if len(items) >= MOST_ITEMS:
        return items
    if not items:
        return [_emptiest(bare(get_args(kind)[0]))]
    last = copy.deepcopy(items[-1])
    if isinstance(last, dict) and isinstance(last.get("name"), str):
        last["name"] = new_name(last["name"], [name for name in names_of(items) if name])
    return [*items, last]


def _emptiest(kind: Any) -> Any:
    """The emptiest value of a type: what a file must state, and no more of it than that."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        required = {field.alias or name: field for name, field in kind.model_fields.items() if field.is_required()}
        return {key: _emptiest_of(field) for key, field in required.items()}
    if get_origin(kind) is tuple:
        return [_emptiest(bare(part)) for part in get_args(kind) if part is not Ellipsis]
    if kind in (int, float):
        return 0
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return next(iter(kind)).value
    choices = get_args(kind)
    return str(choices[0]) if choices else say("New")


def _emptiest_of(field: FieldInfo) -> Any:
    """The emptiest value of a field: of a number that must be above zero, one."""
    kind = bare(field.annotation)
    limits = limits_of(Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation)
    must_be_above = limits.get("gt", -1.0) >= 0.0 or limits.get("ge", 0.0) > 0.0
    return 1 if kind in (int, float) and must_be_above else _emptiest(kind)
