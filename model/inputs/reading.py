"""A scenario on disk becomes checked data, or every problem of its files at once."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from pydantic import ValidationError

from model.inputs.files import parse_toml, unfit, write_toml
from model.inputs.merging import EngineOrigin, Merged, apply_settings, merge
from model.inputs.problems import MOST_TOLD, InputError, Problem
from model.inputs.remarks import left_out_of, warnings_of
from model.inputs.scenario import Scenario
from model.inputs.schema import json_schema
from model.inputs.sources import SourcedValue, source_problems, sourced_values
from model.inputs.telling import problem_of, refusal_problem
from model.inputs.units import CONVERSIONS
from model.inputs.valid_parts import refusals_of_valid_parts

__all__ = [
    "Reading",
    "SourcedValue",
    "checked",
    "json_schema",
    "parse_toml",
    "read_merged",
    "read_scenario",
    "scenario_from_document",
    "write_toml",
]

Checked = TypeVar("Checked", bound=Scenario)
"""A scenario, or a kind of file that holds one."""


@dataclass(frozen=True)
class Reading:
    """A scenario as it was read."""

    scenario: Scenario
    """The checked data."""
    document: dict[str, Any]
    """What was checked: the scenario with its engine files' content, list prices and read-out filled in."""
    merged: Merged = field(repr=False)
    """The same document with what is known of where its parts came from."""
    warnings: tuple[str, ...]
    """What is allowed but unusual, a sentence each."""
    left_out: tuple[str, ...]
    """What was left out and what that means, a sentence each."""
    path: Path
    """The scenario file."""

    @cached_property
    def sources(self) -> tuple[SourcedValue, ...]:
        """Every number that names a source; looked for when it is asked for, which few readings are."""
        return sourced_values(self.merged)


def read_scenario(path: Path | str, sets: Sequence[str] = (), overrides: Mapping[str, Any] | None = None) -> Reading:
    """
    Read a scenario with its engine files, read-out and sources.

    Parameters
    ----------
    path : Path or str
        The scenario file; the files that it names are relative to it.
    sets : sequence of str
        Values set on top, `prices.fuel=2.10`, as typed.
    overrides : mapping of str to Any, optional
        The same as path and value, `{"ownership.years": 5.0}`.

    Returns
    -------
    Reading

    Raises
    ------
    InputError
        With every problem of every file.
    """
    file = Path(path)
    return read_merged(merge(file, parse_toml(file)), sets, overrides or {})


def read_merged(
    merged: Merged,
    sets: Sequence[str] = (),
    overrides: Mapping[str, Any] | None = None,
    before: Reading | None = None,
) -> Reading:
    """
    Check a scenario whose files were brought together before.

    Parameters
    ----------
    merged : Merged
        From `merging.merge`; the settings are put into it.
    sets : sequence of str
        Values set on top, as typed.
    overrides : mapping of str to Any, optional
        The same as path and value.
    before : Reading, optional
        Of the same files without settings: what no setting touches is not checked a second time.

    Returns
    -------
    Reading

    Raises
    ------
    InputError
        With every problem of every file.
    """
    apply_settings(merged, sets, overrides or {})
    sound = {} if before is None else untouched_parts(merged, before)
    # Whoever may name no files has no list of sources beside his own either: its keys stand for themselves.
    strange = source_problems(merged, sound) if merged.within is None else []
    scenario = checked(merged, [*merged.problems, *strange], Scenario, sound)
    return Reading(
        scenario,
        merged.document,
        merged,
        warnings_of(scenario),
        left_out_of(scenario),
        Path(merged.label),
    )


def untouched_parts(merged: Merged, before: Reading) -> dict[str, Any]:
    """
    Parts of a document that stand as they were checked before.

    Parameters
    ----------
    merged : Merged
        With its settings.
    before : Reading
        Of the same files without settings.

    Returns
    -------
    dict of str to Any
        Checked parts by key; none where the settings concern all parts: tax, or the list of sources.
    """
    touched = {steps[0] for steps in merged.settings}
    if "sources" in touched or tax_context(merged.document) != tax_context(before.document):
        return {}
    return {key: getattr(before.scenario, key) for key in merged.document if key not in touched}


def scenario_from_document(document: Mapping[str, Any], label: str = "scenario") -> Scenario:
    """
    Check a document that holds everything itself.

    Parameters
    ----------
    document : mapping
        As `Reading.document`: engines in full, no other file is read.
    label : str
        What problems call it.

    Returns
    -------
    Scenario

    Raises
    ------
    InputError
        With every problem.
    """
    content = dict(document)
    engines = content.get("engines")
    origins = [EngineOrigin(engine) for engine in engines] if isinstance(engines, list) else []
    return checked(Merged(content, label, origins), [], Scenario)


def checked(
    merged: Merged, problems: list[Problem], kind: type[Checked], sound: Mapping[str, Any] = MappingProxyType({})
) -> Checked:
    """
    Check a merged document as a scenario, or as a kind of file that holds one.

    Parameters
    ----------
    merged : Merged
        The document and where its parts came from.
    problems : list of Problem
        What was found wrong before.
    kind : type
        What it is checked as.
    sound : mapping of str to Any
        Parts that were checked before, by key; only the rules between them and the rest are run again.

    Returns
    -------
    Scenario
        Of that kind.

    Raises
    ------
    InputError
        With every problem.
    """
    fault = unfit({**merged.document, **dict.fromkeys(sound)})
    if fault:
        raise InputError([*problems, Problem(merged.label, "", fault, "a scenario")])
    context = tax_context(merged.document)
    try:
        scenario = kind.model_validate({**merged.document, **sound}, context=context)
    except ValidationError as error:
        if sound:  # what is wrong is told as it stands in the files
            return checked(merged, problems, kind)
        raise InputError(dict.fromkeys([*problems, *_all_problems(merged, error, kind)])) from None
    if problems:
        raise InputError(dict.fromkeys(problems))
    return scenario


def _all_problems(merged: Merged, error: ValidationError, kind: type[Scenario]) -> Iterator[Problem]:
    """Every problem of a validation, and of the rules that it did not come to."""
    details = error.errors(include_url=False)
    paths, context = [detail["loc"] for detail in details], tax_context(merged.document)
    # Refusals of rules are all found again below, together with those that this error hides.
    findings = [detail for detail in details if detail["type"] != "refused" and not merged.is_broken(detail["loc"])]
    for detail in findings[:MOST_TOLD]:
        # pydantic counts the valid engines only.
        is_length_of_valid = detail["type"] == "too_short" and bool(detail["input"])
        if not is_length_of_valid and not merged.repeats_price(detail["loc"]):
            yield problem_of(detail, merged, kind)
    refusals = refusals_of_valid_parts(kind, merged.document, paths, context)
    for at, refusal in refusals[:MOST_TOLD]:
        if not merged.is_broken((*at, *refusal.at)):
            yield refusal_problem(refusal, at, merged)
    more = max(0, len(findings) - MOST_TOLD) + max(0, len(refusals) - MOST_TOLD)
    if more:
        yield Problem(merged.label, "", f"{more} more {'problem' if more == 1 else 'problems'}", "none")


def tax_context(document: Mapping[str, Any]) -> dict[str, Any]:
    """
    Tax as the numbers at the door need it, before `[money]` itself is checked.

    Parameters
    ----------
    document : mapping
        The document.

    Returns
    -------
    dict
        `tax_rate` (share; absent when none is given, 0 when it is no share: that is told at its own place) and `net`.
    """
    money = document.get("money")
    if not isinstance(money, Mapping):
        return {}
    context: dict[str, Any] = {"net": money.get("net") is True}
    rate = money.get("tax_rate")
    if rate is None:
        return context
    unit = "share"
    if isinstance(rate, Mapping):
        unit, rate = rate.get("unit", "share"), rate.get("value")
    factor = CONVERSIONS["share"].get(unit, 0.0) if isinstance(unit, str) else 0.0
    share = rate * factor if isinstance(rate, int | float) and not isinstance(rate, bool) else 0.0
    return context | {"tax_rate": share if 0.0 <= share <= 1.0 else 0.0}
