"""TOML on disk: read with every doubt told, written whole or not at all."""

import os
import re
import tempfile
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from model.inputs.problems import InputError, Problem

LARGEST_FILE = 1_000_000
"""Bytes a file may have."""

MOST_ITEMS = 2_000
"""Items of a list or keys of a table; no file of ours holds more, and to tell each of 100,000 faults takes minutes."""

DEEPEST = 12
"""Tables and arrays within each other; no file of ours nests deeper."""

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""A text cell that begins with one of these would be run as a formula by a spreadsheet."""

ALLOWED_WITHIN = "a file of the library, or its content in place of the file"
"""What is allowed where a scenario may name only files of one folder."""

# tomllib's time grows with the square of the parts of a dotted key, so such keys are refused before it sees them.
_ENDLESS_KEY = re.compile(r"(?<![\w-])(?:(?:[\w-]++|\"[^\"\n]*+\"|'[^'\n]*+')[ \t]*+\.[ \t]*+){30}")


def read_text(path: Path, what: str, largest: int = LARGEST_FILE) -> str:
    """
    Text of a small file.

    Parameters
    ----------
    path : Path
        Where it is.
    what : str
        What it should be, for the message: "a TOML file".
    largest : int
        Bytes it may have.

    Returns
    -------
    str
        Without a byte-order mark.

    Raises
    ------
    InputError
        If it is missing, no file, too large, or not UTF-8.
    """

    def problem(found: str, allowed: str = what) -> InputError:
        return InputError([Problem(str(path), "", found, allowed)])

    try:
        size = path.stat().st_size
        if path.is_dir():
            raise problem("a directory")
        if not path.is_file():
            raise problem("something that is no file")
        if size > largest:
            raise problem(f"{size:,} bytes", f"{what} of at most {largest:,} bytes")
        content = path.read_bytes()
    except FileNotFoundError:
        raise problem("no such file") from None
    except OSError as error:
        raise problem(f"a file that cannot be read ({error.strerror})") from None
    except ValueError:  # a null character in the name
        raise problem("a name that no file can have") from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise problem(f"a byte that is no UTF-8 in line {line}", f"{what} in UTF-8") from None


def may_be_read(file: Path, within: Path | None) -> bool:
    """Whether a file lies in the one folder that may be read, links followed; any file may where none is given."""
    try:
        return within is None or file.resolve().is_relative_to(within.resolve())
    except (OSError, ValueError, RuntimeError):  # a name that no file can have, links in a circle
        return False


def parse_toml(path: Path | str) -> dict[str, Any]:
    """
    Content of a TOML file, its numbers unchecked.

    Parameters
    ----------
    path : Path or str
        Where it is.

    Returns
    -------
    dict

    Raises
    ------
    InputError
        If it cannot be read as TOML, or nests deeper than any file of ours.
    """
    text = read_text(Path(path), "a TOML file")
    try:
        content = loads(text)
    except ValueError as error:
        raise InputError([Problem(str(path), "", str(error), "a TOML file")]) from None
    return content


def loads(text: str) -> dict[str, Any]:
    """
    Content of TOML text.

    Parameters
    ----------
    text : str
        The text.

    Returns
    -------
    dict

    Raises
    ------
    ValueError
        If it is no TOML, nests too deep or holds an endless whole number; the message says so with line and column.
    """
    endless = _ENDLESS_KEY.search(text)
    if endless:
        raise ValueError(f"a key of 30 parts or more in line {text.count(chr(10), 0, endless.start()) + 1}")
    try:
        content = tomllib.loads(text)
    except RecursionError:
        raise ValueError("tables or lists nested without end") from None
    except ValueError as error:
        told = str(error)[:200].replace("Cannot overwrite a value", "a key that stands twice")
        raise ValueError(f"no TOML: {told}") from None
    fault = unfit(content)
    if fault:
        raise ValueError(fault)
    return content


def unfit(content: Any) -> str | None:
    """What makes a content unfit for all further steps, if anything: nesting, length, whole numbers beyond 64 bits."""
    level = [content]
    for _ in range(DEEPEST + 1):
        if any(isinstance(item, int) and abs(item) >= 2**63 for item in level):
            return "a whole number beyond 64 bits"
        inner = [item for item in level if isinstance(item, dict | list)]
        longest = max(map(len, inner), default=0)
        if longest > MOST_ITEMS:
            return f"{longest:,} items in one list or table, more than {MOST_ITEMS:,}"
        level = [value for item in inner for value in (item.values() if isinstance(item, dict) else item)]
        if not level:
            return None
    return f"tables or lists nested more than {DEEPEST} deep"


@contextmanager
def written_aside(path: Path | str) -> Iterator[Path]:
    """
    A place to write a file aside; put in its own place once it is whole, so that what stood there stays until then.

    Parameters
    ----------
    path : Path or str
        The file; its folder must exist.

    Yields
    ------
    Path
        Where to write.

    Raises
    ------
    OSError
        If it cannot be written.
    """
    target = Path(path)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name[:40]}.", suffix=".new")
    os.close(handle)
    aside = Path(name)
    try:
        yield aside
        with aside.open("rb+") as file:
            os.fsync(file.fileno())
        # A file made aside is for its owner only; it takes over the rights of the one that it replaces.
        aside.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o644)
        aside.replace(target)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise


def as_toml(document: Mapping[str, Any]) -> str:
    """
    A document as TOML text.

    Parameters
    ----------
    document : mapping
        Plain data or a tomlkit document, whose comments stay; keys with None are left out.

    Returns
    -------
    str
    """
    import tomlkit  # only to write; what is read does without it

    return tomlkit.dumps(document if isinstance(document, tomlkit.TOMLDocument) else _without_none(document))


def write_toml(document: Mapping[str, Any], path: Path | str) -> None:
    """
    Write a TOML file.

    Parameters
    ----------
    document : mapping
        Plain data or a tomlkit document, whose comments stay; keys with None are left out.
    path : Path or str
        The file; its folder must exist.

    Raises
    ------
    OSError
        If it cannot be written.
    """
    text = as_toml(document)
    with written_aside(path) as aside:
        aside.write_text(text, encoding="utf-8", newline="\n")


def _without_none(value: Any) -> Any:
    """Plain data without keys that hold None, which TOML cannot say."""
    if isinstance(value, Mapping):
        return {key: _without_none(item) for key, item in value.items() if item is not None}
    return [_without_none(item) for item in value] if isinstance(value, list | tuple) else value
