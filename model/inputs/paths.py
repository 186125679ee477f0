"""Where a value stands in a file: `engines["Four-stroke"].service.task["Gear oil"].labour`, `use.band[1].share`."""

import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from model.inputs.problems import Step, shown

_QUOTED = r"\"(?:[^\"\\]|\\.)*\"|'[^']*'"
_TOKEN = re.compile(rf"(?P<key>[A-Za-z0-9_-]+|{_QUOTED})|\[(?P<position>[0-9]{{1,9}})\]|\[(?P<name>{_QUOTED})\]")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f]")

LONGEST_PATH = 12
"""Steps of a path; no file of ours nests deeper."""


@dataclass(frozen=True)
class Named:
    """A step to the table of that name in an array, or to the key of that name in a table."""

    name: str
    """Its name."""


PathStep = str | int | Named
"""A key, a position from 1, or a name."""


class NoSuchPlaceError(Exception):
    """A path that leads nowhere, with what was found and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        """Keep both halves of the message."""
        self.found, self.allowed = found, allowed
        super().__init__(f"found {found}, allowed: {allowed}")


def parse_path(text: str) -> tuple[PathStep, ...]:
    """
    Take a path apart.

    Parameters
    ----------
    text : str
        Keys joined by dots, arrays by name or by position from 1.

    Returns
    -------
    tuple of str, int or Named

    Raises
    ------
    NoSuchPlaceError
        If it is no path.

    >>> parse_path('engines["Four-stroke"].fit_up[2].price')
    ('engines', Named(name='Four-stroke'), 'fit_up', 2, 'price')
    """
    steps: list[PathStep] = []
    at = 0
    while at < len(text):
        if steps and text[at] == ".":
            at += 1
        elif steps and text[at] != "[":
            break
        match = _TOKEN.match(text, at)
        if match is None or (not steps and not match["key"]) or (match["key"] and steps and text[at - 1] != "."):
            break
        if match["position"]:
            steps.append(int(match["position"]))
        elif match["name"]:
            steps.append(Named(_unquoted(match["name"])))
        else:
            steps.append(_unquoted(match["key"]))
        at = match.end()
    if at < len(text) or not steps or text.endswith(".") or len(steps) > LONGEST_PATH:
        raise NoSuchPlaceError(shown(text), 'a path such as prices.fuel, use.band[1].share or engines["Name"].price')
    return tuple(steps)


def _unquoted(text: str) -> str:
    """Text of a quoted or bare key."""
    if text[0] not in "\"'":
        return text
    try:
        return str(tomllib.loads(f"key = {text}")["key"])
    except tomllib.TOMLDecodeError:
        raise NoSuchPlaceError(shown(text), "a name in quotes") from None


def put(document: dict[str, Any], path: Sequence[PathStep], value: Any) -> tuple[Step, ...]:
    """
    Set the value at a path, in place; tables on the way are made.

    Parameters
    ----------
    document : dict
        The file's content.
    path : sequence of str, int or Named
        Where; an array on the way must be there.
    value : Any
        What.

    Returns
    -------
    tuple of str or int
        The same path by key and position from 0.

    Raises
    ------
    NoSuchPlaceError
        If the path leads through something that is no table, or to no item of an array.
    """
    node: Any = document
    steps: list[Step] = []
    for index, step in enumerate(path):
        at = _step_into(node, step)
        steps.append(at)
        rest = [key for key in path[index + 1 :] if isinstance(key, str)]
        if index == len(path) - 1 or (isinstance(node, dict) and at not in node):
            if len(rest) < len(path) - index - 1:
                raise NoSuchPlaceError(f"no {at!r} there", "a path to a table of an array that is there")
            for key in reversed(rest):
                value = {key: value}
            node[at] = value
            return (*steps, *rest)
        node = node[at]
    return ()


def _step_into(node: Any, step: PathStep) -> Step:
    """Key or position from 0 that a step means in this table or array."""
    if isinstance(node, dict):
        if isinstance(step, int):
            raise NoSuchPlaceError(f"[{step}] on a table", "a key")
        return step.name if isinstance(step, Named) else step
    if not isinstance(node, list):
        raise NoSuchPlaceError(f"{shown(node)} on the way", "a path through tables and arrays")
    if isinstance(step, int) and 1 <= step <= len(node):
        return step - 1
    names = names_of(node)
    if isinstance(step, Named) and step.name in names:
        return names.index(step.name)
    told = step.name if isinstance(step, Named) else str(step)
    allowed = ", ".join(f'"{name}"' for name in names if name is not None) or f"a position, 1 to {len(node)}"
    raise NoSuchPlaceError(shown(told), allowed if node else "nothing: the array is empty")


def names_of(array: Sequence[Any]) -> list[str | None]:
    """Names of the tables of an array, None where there is none."""
    names = [item.get("name") if isinstance(item, dict) else None for item in array]
    return [name if isinstance(name, str) else None for name in names]


def walk_to(document: Any, steps: Sequence[Step]) -> Iterator[Any]:
    """The document and the values along a path, as far as it leads."""
    node: Any = document
    yield node
    for step in steps:
        is_there = step in node if isinstance(node, dict) else isinstance(node, list) and step in range(len(node))
        if not is_there:
            return
        node = node[step]
        yield node


def path_text(document: Any, steps: Sequence[Step]) -> str:
    r"""
    A path for people: arrays by name, by position from 1 where there is no name of its own.

    Parameters
    ----------
    document : Any
        What the path leads into; the names come from it.
    steps : sequence of str or int
        Keys and positions from 0. A position within a point is left off: the point is shown whole.

    Returns
    -------
    str

    >>> path_text({"use": {"band": [{"speed": 1}]}}, ("use", "band", 0, "speed"))
    'use.band[1].speed'
    >>> print(path_text({"sources": {"log\t1": {}}}, ("sources", "log\t1")))
    sources["log\u00091"]
    """
    nodes = list(walk_to(document, steps))
    text = ""
    for index, step in enumerate(steps):
        node = nodes[index] if index < len(nodes) else None
        if isinstance(step, str):
            is_bare = _BARE.fullmatch(step)
            text += ("." if text else "") + step if is_bare else f'["{_escaped(step[:80])}"]'
            continue
        names = names_of(node) if isinstance(node, list) else []
        name = names[step] if step < len(names) else None
        text += f'["{_escaped(name[:80])}"]' if name is not None and names.count(name) == 1 else f"[{step + 1}]"
        if isinstance(node, list) and step < len(node) and isinstance(node[step], list):
            break
    return text


def _escaped(name: str) -> str:
    """A name as it stands in quotes, control characters as TOML writes them."""
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    return _CONTROL.sub(lambda found: f"\\u{ord(found[0]):04x}", quoted)
