"""The library: scenario files that everyone may open, by name; a user's words never become a path."""

from functools import cache
from pathlib import Path

from model.inputs.files import parse_toml
from model.inputs.problems import InputError

HOME = Path(__file__).resolve().parents[1] / "scenarios"
"""The folder of the library; an opened file may name files in it and nowhere else."""

FIRST = "sailing-school-launch"
"""What the pages open on where nothing is offered."""

_offered: dict[str, Path] = {}
"""Files offered beside the library, by name."""


def offer(file: Path) -> str:
    """
    Offer a scenario file of whoever serves the pages beside the library; before anyone comes.

    Parameters
    ----------
    file : Path

    Returns
    -------
    str
        The name under which it is offered, its own unless the library has one of that name.
    """
    name = file.stem if file.stem not in files() else f"{file.stem} (own)"
    _offered[name] = file
    return name


def first() -> str:
    """Name of the file that the pages open on: the last one offered, or the demo."""
    return next(reversed(_offered), FIRST)


@cache
def _in_the_library() -> dict[str, Path]:
    """Scenario files of the library by name."""
    return {path.stem: path for path in sorted(HOME.glob("*.toml")) if path.stem != "sources"}


def files() -> dict[str, Path]:
    """Every file on offer, by name."""
    return _offered | _in_the_library()


@cache
def title(name: str) -> str:
    """
    What a scenario on offer calls itself.

    Parameters
    ----------
    name : str
        One of `files()`.

    Returns
    -------
    str
        Its name where it does not say, or cannot be read.
    """
    try:
        found = parse_toml(files()[name]).get("title")
    except InputError:
        return name
    return found if isinstance(found, str) and found else name


@cache
def registers() -> dict[str, Path]:
    """Fleet files of the library by name."""
    return {path.stem: path for path in sorted((HOME / "registers").glob("*.toml"))}


@cache
def register_title(name: str) -> str:
    """
    What a fleet of the library calls itself.

    Parameters
    ----------
    name : str
        One of `registers()`.
    """
    found = parse_toml(registers()[name]).get("title")
    return found if isinstance(found, str) and found else name
