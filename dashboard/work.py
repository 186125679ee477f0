"""What a user works on: where it comes from, the changes on top, the engines compared.

The browser keeps it, the server does not: every call brings it all, and nothing in it is trusted. As a value it is
small, frozen and in one form only, so that results are kept under it.

    stored = {"name": "weekend-lake-boat", "changes": {"prices.fuel": "2.1"}, "engines": ["Four-stroke 15 kW"]}

A change is what the command line's `--set` takes: a path, and a value written as TOML.

Callbacks of a page listen to the one store, `Input(ids.WORK, "data")`, and begin with `work = work_of(stored)`. What
they ask of the model is a function of a `Work` kept by `keeping.kept`; it begins with `scenario_of(work)`.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import Any

from dashboard import library
from dashboard.lineup import LONGEST_NAME, Lineup, as_data, lineup_of
from dashboard.stored import is_toml_value, named_file
from model.inputs.files import loads

LONGEST_PATH = 400
"""Characters of a path; no path of ours is as long."""

LONGEST_VALUE = 100_000
"""Characters of a value; a list of tables is the longest."""

MOST_CHANGES = 500
"""Changes on top of one file."""

TRIAL_NUMBERS = (4096, 20_000, 100_000)
"""Numbers of trials that the pages work out at once; the first is quick enough to follow a slider."""


@dataclass(frozen=True)
class Work:
    """What a user works on, its form sound; whether it makes a scenario is for `scenarios.scenario_of` to say."""

    name: str
    """Of the library, or of the opened file."""
    text: str = ""
    """Of the opened file; empty for one of the library."""
    changes: tuple[tuple[str, str], ...] = ()
    """Path and TOML value, in order of the paths: a table comes before what stands in it."""
    engines: tuple[str, ...] = ()
    """Names of the engines compared; all where there are none."""
    trials: int = TRIAL_NUMBERS[0]
    """How many trials stand behind what the pages say."""
    lineup: Lineup = ()
    """The engines of the scenario, where they are others than the file has."""

    @property
    def origin(self) -> "Work":
        """The same file without the changes, all engines compared."""
        return Work(self.name, self.text, lineup=self.lineup)

    def changed(self, changes: Mapping[str, Any]) -> "Work":
        """
        The same with values set on top.

        Parameters
        ----------
        changes : mapping of str to Any
            Path to value; None takes a change back. A value set drops the changes within it.
        """
        kept = dict(self.changes)
        for path, value in changes.items():
            kept = {other: text for other, text in kept.items() if other != path and not is_within(other, path)}
            if value is not None:
                kept[path] = toml_text(value)
        return replace(self, changes=tuple(sorted(kept.items())))

    def values(self) -> dict[str, Any]:
        """The changes as values by path."""
        return {path: loads(f"value = {text}")["value"] for path, text in self.changes}

    def as_data(self) -> dict[str, Any]:
        """The same for a store of the browser."""
        data: dict[str, Any] = {"name": self.name, "changes": dict(self.changes), "engines": list(self.engines)}
        data |= {"text": self.text} if self.text else {}
        data |= {"lineup": as_data(self.lineup)} if self.lineup else {}
        return data | ({"trials": self.trials} if self.trials != TRIAL_NUMBERS[0] else {})


def is_within(path: str, outer: str) -> bool:
    """
    Whether a path leads into what stands at another.

    >>> is_within('use.band[1].share', "use.band"), is_within("use.bands", "use.band")
    (True, False)
    """
    return path.startswith((f"{outer}.", f"{outer}["))


def toml_text(value: Any) -> str:
    """
    A value as TOML writes it on one line.

    Parameters
    ----------
    value : Any
        Text, number, flag, date, or lists and tables of them.

    Returns
    -------
    str

    Raises
    ------
    TypeError
        If TOML has no such value.

    >>> toml_text({"speed": 0.5, "share": 1, "name": "Half"})
    '{ "speed" = 0.5, "share" = 1, "name" = "Half" }'
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_text(item) for item in value)}]"
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_quoted(key)} = {toml_text(item)}" for key, item in value.items()) + " }"
    raise TypeError(f"no TOML value: {type(value).__name__}")


def _quoted(text: str) -> str:
    """Text in quotes, as TOML has it: JSON's escapes, and the one character more that it refuses."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def stored_work(stored: object) -> Work | None:
    """
    The work that a browser sends, as far as its form goes.

    Parameters
    ----------
    stored : Any
        What the store holds; a stranger may have made it.

    Returns
    -------
    Work or None
        None where it is none: no file, no text, too much of it.
    """
    if not isinstance(stored, dict):
        return None
    file = named_file(stored, library.files())
    changes, engines = stored.get("changes", {}), stored.get("engines", [])
    if file is None or not isinstance(changes, dict) or len(changes) > MOST_CHANGES or not isinstance(engines, list):
        return None
    sound = [(path, value) for path, value in changes.items() if _is_change(path, value)]
    names = [engine for engine in engines if isinstance(engine, str) and len(engine) <= LONGEST_NAME]
    trials = next((number for number in TRIAL_NUMBERS if number == stored.get("trials")), TRIAL_NUMBERS[0])
    lineup = lineup_of(stored.get("lineup"))
    return Work(file[0], _one_for_all(file[1]), tuple(sorted(sound)), tuple(names[:MOST_CHANGES]), trials, lineup)


def _is_change(path: object, value: object) -> bool:
    """Whether these are a path and a TOML value, as far as their form goes."""
    return isinstance(path, str) and 0 < len(path) <= LONGEST_PATH and is_toml_value(value, LONGEST_VALUE)


@lru_cache(maxsize=32)
def _one_for_all(text: str) -> str:
    """The same text as the one seen before, so that what is kept under it holds it once."""
    return text
