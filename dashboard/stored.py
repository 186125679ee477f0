"""What a browser sends of a file that is worked on: checked in one place, as far as its form goes."""

from collections.abc import Collection, Mapping
from functools import lru_cache

from dashboard.lineup import LONGEST_NAME
from model.inputs.files import LARGEST_FILE, loads

SHORT = 200
"""Characters of a value that is kept; nearly all are numbers."""


def named_file(stored: Mapping[object, object], offered: Collection[str]) -> tuple[str, str] | None:
    """
    Name and text of a file.

    Parameters
    ----------
    stored : mapping
        What the store holds; a stranger may have made it.
    offered : collection of str
        Names of the library.

    Returns
    -------
    (str, str) or None
        The text is empty for a file of the library; None where it is neither that nor a text of fair length.

    >>> named_file({"name": "lake"}, ["lake"]), named_file({"name": "mine.toml"}, ["lake"])
    (('lake', ''), None)
    """
    name, text = stored.get("name"), stored.get("text", "")
    if not isinstance(name, str) or not isinstance(text, str) or not 0 < len(name) <= LONGEST_NAME:
        return None
    return None if len(text) > LARGEST_FILE or (not text and name not in offered) else (name, text)


def is_toml_value(value: object, longest: int) -> bool:
    """
    Whether this is the text of one TOML value.

    Parameters
    ----------
    value : Any
        What the store holds.
    longest : int
        Characters that it may have.

    >>> is_toml_value("2.1", 10), is_toml_value("2.1 = 2", 20), is_toml_value(2.1, 10)
    (True, False, False)
    """
    if not isinstance(value, str) or not 0 < len(value) <= longest:
        return False
    return _is_one_value(value) if len(value) > SHORT else _is_short_value(value)


def _is_one_value(text: str) -> bool:
    """Whether a text holds one TOML value and nothing else."""
    try:
        return list(loads(f"value = {text}")) == ["value"]
    except ValueError:
        return False


_is_short_value = lru_cache(maxsize=1024)(_is_one_value)
"""The same, kept: each request of a moved slider brings all that was changed before."""
