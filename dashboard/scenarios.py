"""A work becomes a checked scenario: the model's own reading, with every problem by its key."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from dashboard import library
from dashboard.keeping import kept
from dashboard.lineup import lined_up
from dashboard.theme import Look, looks
from dashboard.work import Work, is_within, stored_work
from model.inputs.copying import copied
from model.inputs.files import loads, parse_toml
from model.inputs.merging import Merged, engine_names, merge
from model.inputs.problems import InputError, Problem
from model.inputs.reading import Reading, read_merged
from model.inputs.scenario import Scenario


def start() -> Work:
    """What the pages open on."""
    return Work(library.first())


@kept
def _files_of(origin: Work) -> Merged:
    """The files of a work brought together, its engines lined up; those of an opened one come from the library only."""
    if origin.lineup:
        plain, content = _files_of(replace(origin, lineup=())), _content_of(origin)
        names = engine_names(plain.document)
        entries = lined_up(content["engines"], names, origin.lineup, plain.label) if names else []
        return _merged(origin, {**content, "engines": entries})
    return _merged(origin, _content_of(origin))


def _content_of(origin: Work) -> dict[str, Any]:
    """What the file of a work holds."""
    if not origin.text:
        return parse_toml(library.files()[origin.name])
    try:
        return loads(origin.text)
    except ValueError as error:
        raise InputError([Problem(origin.name, "", str(error), "a scenario file (TOML)")]) from None


def _merged(origin: Work, content: dict[str, Any]) -> Merged:
    """What a file holds, with the files that it names."""
    if not origin.text:
        return merge(library.files()[origin.name], content)
    merged = merge(library.HOME / "opened.toml", content, within=library.HOME)
    merged.label = Path(origin.name).name
    return merged


@kept
def reading_of(work: Work) -> Reading:
    """
    A work as it is read: the scenario of all its engines, the document behind it, sources, warnings.

    Parameters
    ----------
    work : Work

    Returns
    -------
    Reading

    Raises
    ------
    InputError
        With every problem; a change's by its path.
    """
    values = work.values()
    return read_merged(copied(_files_of(work.origin), values), (), values, _before(work) if values else None)


def _before(work: Work) -> Reading | None:
    """The reading of a work's files without its changes; None where only the changes make them sound."""
    try:
        return reading_of(work.origin)
    except InputError:
        return None


@kept
def scenario_of(work: Work) -> Scenario:
    """
    The scenario of a work with the engines compared.

    Parameters
    ----------
    work : Work

    Returns
    -------
    Scenario

    Raises
    ------
    InputError
        With every problem.
    """
    scenario = reading_of(work).scenario
    compared = tuple(engine for engine in scenario.engines if engine.name in work.engines)
    return scenario.changed({("engines",): compared}) if compared else scenario


def looks_of(work: Work) -> dict[str, Look]:
    """How each engine of the file is drawn, compared or not, so that a look stays when others come and go."""
    return looks(reading_of(work).scenario.engines)


@kept
def counted(work: Work) -> Work:
    """As much of a work as makes a scenario: without the changes that do not hold, or the start where nothing does."""
    try:
        scenario_of(work)
    except InputError as error:
        keys = [problem.key for problem in error.problems]
        holding = tuple(change for change in work.changes if not any(concern(change[0], key) for key in keys))
        if len(holding) < len(work.changes):
            return counted(replace(work, changes=holding))
        if work.changes:
            return counted(replace(work, changes=()))
        return counted(replace(work, lineup=())) if work.lineup else start()
    return work


def concern(path: str, key: str) -> bool:
    """Whether two places are about the same: the same one, or one within the other."""
    return path == key or is_within(path, key) or is_within(key, path)


def work_of(stored: object) -> Work:
    """
    The work that a browser's store holds, as far as it can be counted; the start where it holds none.

    Parameters
    ----------
    stored : Any
        What the browser sent.

    Returns
    -------
    Work
        One that makes a scenario.
    """
    found = stored_work(stored)
    return start() if found is None else counted(found)
