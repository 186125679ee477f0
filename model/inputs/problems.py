"""What is wrong with a file, told so that its author can put it right; every problem of a file at once."""

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import NoReturn

from pydantic_core import PydanticCustomError

MOST_TOLD = 100
"""Problems of one kind that are told in full; nobody reads on, and a broken file may hold a hundred thousand."""

ON_ONE_LINE = "text on one line, without control characters"
"""What a name or a title may be."""

ON_SEVERAL_LINES = "text without control characters other than tabs and line breaks"
"""What a note may be."""

Step = str | int
"""One step of a path into a file: a key, or a position in an array (from 0)."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong: where it stands, what was found there, what is allowed."""

    file: str
    """The file's name as the user gave it."""
    key: str
    """Path of the key, arrays by name: `service.task["Gear oil"].every.hours`."""
    found: str
    """What was found there."""
    allowed: str
    """What is allowed there, with the unit."""

    def as_dict(self) -> dict[str, str]:
        """Form of the problem in JSON."""
        return asdict(self)

    def __str__(self) -> str:
        """One or two lines for people."""
        where = f"{self.file}: {self.key}" if self.key else self.file
        return f"{where}: found {self.found}\n    allowed: {self.allowed}"


class InputError(Exception):
    """Input that cannot be used, with every problem that was found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Keep the problems in the order in which they were found."""
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


@dataclass(frozen=True)
class Refusal:
    """A problem found by a rule between fields, its place counted from the model that holds the rule."""

    at: tuple[Step, ...]
    """Path from the model that found it."""
    found: str
    """What was found there."""
    allowed: str
    """What is allowed there."""
    asked_by: tuple[Step, ...] | None = None
    """Path of the value that asks for a missing one: the file that holds the first is the one to change."""


def refuse(refusals: Sequence[Refusal]) -> None:
    """Raise all refusals as one pydantic error, or do nothing when there are none.

    `model.inputs.reading` takes them apart again into one `Problem` each.
    """
    if refusals:
        raise PydanticCustomError("refused", "refused", {"refusals": list(refusals)})


def not_allowed(allowed: str) -> NoReturn:
    """Raise an error for the value under validation, saying what is allowed in its place."""
    raise PydanticCustomError("not_allowed", "{allowed}", {"allowed": allowed})


def has_control_characters(text: str) -> bool:
    """Whether a text holds what a terminal or a table takes for a command: control characters, line breaks too."""
    return any(unicodedata.category(character) == "Cc" for character in text)


def on_one_line(text: str) -> str:
    """The same text, refused where it holds control characters."""
    if has_control_characters(text):
        not_allowed(ON_ONE_LINE)
    return text


def on_several_lines(text: str) -> str:
    """The same text, refused where it holds control characters other than tabs and line breaks."""
    if has_control_characters(text.replace("\n", "").replace("\t", "")):
        not_allowed(ON_SEVERAL_LINES)
    return text


def shown(value: object, longest: int = 60) -> str:
    """Short form of a value found in a file, for a message."""
    text = str(value).lower() if isinstance(value, bool) else repr(value) if isinstance(value, str) else str(value)
    if isinstance(value, dict):
        text = "a table with " + (", ".join(str(key) for key in list(value)[:6]) or "no keys")
    elif isinstance(value, list | tuple):
        is_short = 0 < len(value) <= 3 and not any(isinstance(item, dict | list | tuple) for item in value)
        text = str(value) if is_short else f"a list of {len(value)}: {value}" if value else "an empty list"
    return text if len(text) <= longest else text[: longest - 3] + "..."
