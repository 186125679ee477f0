"""A work as a file that stands by itself: the command line reads it and gives the same answer."""

from typing import Any

from dashboard import library
from dashboard.scenarios import reading_of, scenario_of
from dashboard.work import Work
from model.inputs.files import as_toml
from model.inputs.sources import INVENTED, entries_near
from model.language import say

NAME_LENGTH = 60
"""Characters of a file's name."""


def file_of(work: Work) -> tuple[str, str]:
    """
    A work as a scenario file: the file, its engine files and the changes in one, the engines compared.

    Parameters
    ----------
    work : Work
        One that makes a scenario.

    Returns
    -------
    (str, str)
        The file's name and its text.
    """
    reading = reading_of(work)
    compared = {engine.name for engine in scenario_of(work).engines}
    document = dict(reading.document)
    document["engines"] = [engine for engine in document["engines"] if engine["name"] in compared]
    sources = {value.source for value in reading.sources} - {INVENTED}
    if sources:
        document["sources"] = _entries(work, document.get("sources", {}), sources)
    told = say("Saved from the pages. It holds the engines compared, and reads by itself: python -m model compare FILE")
    return _name(reading.scenario.title), f"# {told}\n{as_toml(document)}"


def _entries(work: Work, stated: dict[str, Any], sources: set[str]) -> dict[str, Any]:
    """What is known of the sources used; of one that nobody knows, its own key."""
    home = library.HOME if work.text else library.files()[work.name].parent
    known = (entries_near(home) or {}) | stated
    return {key: known.get(key, {"title": key}) for key in sorted(sources)}


def _name(title: str) -> str:
    """A file's name from a scenario's title: letters and digits, joined by hyphens."""
    words = "".join(letter if letter.isalnum() else " " for letter in title.lower()).split()
    return ("-".join(words)[:NAME_LENGTH].strip("-") or "scenario") + ".toml"
