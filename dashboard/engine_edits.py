"""Engines added and taken out in the form of all numbers."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dashboard.edits import Drafts, Edited, settled
from dashboard.engines import (
    LinedUp,
    as_the_file_has,
    lineup_now,
    problem_of,
    with_engine,
    without_engine,
)
from dashboard.work import Work

ADD, COPY, TAKE_OUT, AS_FILE = "add engine", "copy engine", "take out engine", "engines as in the file"
"""What a change may do: its `name` is the engine's, or with `ADD` that of an engine file of the library."""


@dataclass(frozen=True)
class Changed:
    """What came of it."""

    edited: Edited
    """The work and what cannot be counted yet."""
    part: str
    """Which part of the form is to be seen then; empty where it stays."""
    told: str
    """What is wrong; empty where nothing is."""


def edited_engines(work: Work, drafts: Drafts, edit: object) -> Changed | None:
    """
    A work after an engine was added or taken out in the form.

    Parameters
    ----------
    work : Work
        Sound.
    drafts : mapping of str to Any
    edit : Any
        From the browser: what it `does` and the `name`.

    Returns
    -------
    Changed or None
        None where it is another change.
    """
    if not isinstance(edit, Mapping) or edit.get("does") not in (ADD, COPY, TAKE_OUT, AS_FILE):
        return None
    lined, part = _lined(work, edit["does"], str(edit.get("name"))[:200])
    told = problem_of(lined.work)
    if told:
        return Changed(settled(work, drafts), "", told)
    moved: dict[str, Any] = lined.of(drafts)
    return Changed(settled(lined.work, moved), part if lined.work != work else "", "")


def _lined(work: Work, does: str, name: str) -> tuple[LinedUp, str]:
    """The engines lined up otherwise, and the part of the form that is to be seen then."""
    if does == AS_FILE:
        return as_the_file_has(work), "owner"
    if does == TAKE_OUT:
        return without_engine(work, name), "owner"
    return with_engine(work, name, of_library=does == ADD), str(len(lineup_now(work)))
