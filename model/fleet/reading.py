"""A fleet on disk becomes checked data: the fleet file, its register and its logs, or every problem at once."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from model.fleet.cleaning import Reading
from model.fleet.csv_rows import CsvFile
from model.fleet.fleet_file import FleetFile, FleetTerms
from model.fleet.hour_log import HoursFit, fit_hours, read_hour_log, readings_before_service, unknown_units
from model.fleet.register import Unit, read_register, registered
from model.fleet.repair_log import ModeFit, fit_modes, read_repair_log
from model.inputs.files import loads, parse_toml
from model.inputs.merging import Merged, apply_settings, merge
from model.inputs.problems import InputError, Problem, shown
from model.inputs.reading import checked
from model.inputs.remarks import left_out_of, warnings_of
from model.inputs.sources import source_problems
from model.inputs.terms import SpreadShape
from model.language import say

ANY_HOURS = 100.0
"""Stands where a scenario has its hours; each unit of a register has its own. [h/year]"""


@dataclass(frozen=True)
class Fleet:
    """A fleet as it was read."""

    file: FleetFile
    """Prices, money, engines and the policy; failure modes fitted from the log where the file says so."""
    units: tuple[Unit, ...]
    """The register on the first budget day."""
    path: Path
    """The fleet file."""
    warnings: tuple[str, ...] = ()
    """What is allowed but unusual, a sentence each."""
    left_out: tuple[str, ...] = ()
    """What was left out and what that means, a sentence each."""
    hour_fits: Mapping[str, HoursFit] = field(default_factory=dict)
    """Hours a year of each unit that the hour log knows."""
    hour_findings: tuple[str, ...] = ()
    """Gaps, resets, typing errors and short times of the hour log, a sentence each."""
    mode_fits: tuple[ModeFit, ...] = ()
    """Failure modes as the repair log has them."""

    @property
    def terms(self) -> FleetTerms:
        """The table `[fleet]`."""
        return self.file.fleet


@dataclass(frozen=True)
class Opened:
    """A fleet as somebody opened it in a browser."""

    name: str
    """What the fleet file is called."""
    text: str
    """What it holds."""
    tables: tuple[tuple[str, str], ...]
    """Names and texts of register and logs."""
    place: Path
    """Where the fleet file would lie: engine files that it names are relative to this."""
    within: Path
    """The one folder in which they may lie."""


def read_fleet(path: Path | str, sets: Sequence[str] = (), overrides: Mapping[str, Any] | None = None) -> Fleet:
    """
    Read a fleet file with its engines, register and logs.

    Parameters
    ----------
    path : Path or str
        The fleet file; the files that it names are relative to it.
    sets : sequence of str
        Values set on top, `fleet.horizon=5`, as typed.
    overrides : mapping of str to Any, optional
        The same as path and value.

    Returns
    -------
    Fleet

    Raises
    ------
    InputError
        With every problem of the fleet file; where it is sound, with every problem of register and logs.
    """
    file = Path(path)
    content = parse_toml(file)
    require_fleet(str(file), content)
    merged = merge(file, content)
    apply_settings(merged, sets, overrides or {})
    problems = [*merged.problems, *source_problems(merged), *_filled_in(merged)]
    return _with_register(file, checked(merged, problems, FleetFile), lambda name: CsvFile(str(file.parent / name)))


def read_opened(opened: Opened, overrides: Mapping[str, Any] | None = None) -> Fleet:
    """
    Read a fleet that somebody opened in a browser: nothing in it becomes a path but names within one folder.

    Parameters
    ----------
    opened : Opened
    overrides : mapping of str to Any, optional
        Values set on top, by path.

    Returns
    -------
    Fleet

    Raises
    ------
    InputError
        As from `read_fleet`; also where the fleet file names a table that was not opened with it.
    """
    try:
        content = loads(opened.text)
    except ValueError as error:
        raise InputError([Problem(opened.name, "", str(error), "a TOML file")]) from None
    require_fleet(opened.name, content)
    merged = merge(opened.place, content, within=opened.within)
    apply_settings(merged, (), overrides or {})
    sources = source_problems(merged)  # by the sources.toml near the place, so before the file has its owner's name
    merged.label = opened.name
    named = [replace(one, file=opened.name) if one.file == str(opened.place) else one for one in sources]
    file, tables = checked(merged, [*merged.problems, *named, *_filled_in(merged)], FleetFile), dict(opened.tables)
    missing = [
        Problem(
            opened.name,
            f"fleet.{key}",
            shown(name),
            "one of the files opened with it: " + (", ".join(tables) or "none"),
        )
        for key, name in _tables_named(file.fleet)
        if name not in tables
    ]
    if missing:
        raise InputError(missing)
    return _with_register(Path(opened.name), file, lambda name: CsvFile(name, tables[name]))


def require_fleet(label: str, content: Mapping[str, Any]) -> None:
    """
    Make sure that a file is a fleet's.

    Parameters
    ----------
    label : str
        The file's name.
    content : mapping
        What it holds.

    Raises
    ------
    InputError
        If it is none.
    """
    if "fleet" not in content:
        raise InputError([Problem(label, "fleet", "nothing", "a fleet file, with [fleet] and what a scenario holds")])


def _tables_named(terms: FleetTerms) -> list[tuple[str, str]]:
    """Keys of `[fleet]` that name a table, and what they say."""
    named = {"register": terms.register_file, "hour_log": terms.hour_log, "repair_log": terms.repair_log}
    return [(key, name) for key, name in named.items() if name is not None]


def _filled_in(merged: Merged) -> list[Problem]:
    """Put in what a scenario states for one boat and a fleet file elsewhere; problems where it states both."""
    document, problems = merged.document, list[Problem]()
    if "ownership" in document:
        allowed = "no [ownership]: the years stand in fleet.budget_start and fleet.horizon"
        problems.append(Problem(merged.label, "ownership", shown(document["ownership"]), allowed))
    fleet = document.get("fleet")
    start, horizon = (fleet.get("budget_start"), fleet.get("horizon")) if isinstance(fleet, dict) else (None, None)
    is_horizon = isinstance(horizon, int) and not isinstance(horizon, bool) and 1 <= horizon <= 30
    is_start = type(start) is date and date(1950, 1, 1) <= start <= date(2150, 12, 31)
    document["ownership"] = {
        "years": float(horizon) if is_horizon and horizon else 1.0,
        "delivery": start if is_start else date(2027, 1, 1),
    }
    use = document.setdefault("use", {})
    if isinstance(use, dict):
        for key in ("hours_per_year", "hours_by_year", "per_boat"):
            if key in use:
                told = f"no {key} here: the register has each unit's own"
                problems.append(Problem(merged.label, f"use.{key}", shown(use.pop(key)), told))
        use["hours_per_year"] = ANY_HOURS
    return problems


def _with_register(path: Path, file: FleetFile, table: Callable[[str], CsvFile]) -> Fleet:
    """Read the register and the logs that a sound fleet file names."""
    problems, terms = list[Problem](), file.fleet
    log, readings, named = None, dict[str, list[Reading]](), CsvFile("")
    register = replace(table(terms.register_file), key="fleet.register")
    if terms.hour_log is not None:
        named = replace(table(terms.hour_log), key="fleet.hour_log")
        readings = read_hour_log(named, terms.as_of, problems)
        log = fit_hours(readings, named.name, registered(register, terms.as_of), problems)
    units = read_register(register, file, log, problems)
    if not problems:
        problems += unknown_units(readings, named.name, [unit.name for unit in units])
    if not problems and log is not None:
        problems += readings_before_service(log.kept, named.name, {unit.name: unit.in_service for unit in units})
    modes: tuple[ModeFit, ...] = ()
    if terms.repair_log is not None and not problems:
        repair_log = replace(table(terms.repair_log), key="fleet.repair_log")
        repaired = read_repair_log(repair_log, file, units, problems)
        modes = fit_modes(file, units, repaired)
    if problems:
        raise InputError(problems)
    fitted = with_fits(file, modes) if terms.fit_repairs else file
    left_out = (*left_out_of(file), *_variation_left_out(file, units))
    logged = Fleet(fitted, units, path, _unusual(file), left_out, mode_fits=modes)
    return logged if log is None else replace(logged, hour_fits=log.fits, hour_findings=log.findings)


def _variation_left_out(file: FleetFile, units: Sequence[Unit]) -> list[str]:
    """That units' variation of hours is not counted where the fleet file holds hours fixed."""
    spread, varying = file.use.spread, sum(unit.variation > 0.0 for unit in units)
    if spread is None or spread.shape is not SpreadShape.FIXED or not varying:
        return []
    return [
        say(
            "the variation of hours of {number} {number:unit|units} in register or hour log: with [use.spread] shape = "
            '"fixed" every year has its mean hours.',
            number=varying,
        )
    ]


def _unusual(file: FleetFile) -> tuple[str, ...]:
    """What is unusual in a fleet file: as in a scenario, but units need no word that their engine is a used one."""
    engines = tuple(engine.model_copy(update={"offered": "new"}) for engine in file.engines)
    return warnings_of(file.model_copy(update={"engines": engines}))


def with_fits(file: FleetFile, fits: Sequence[ModeFit]) -> FleetFile:
    """The same file with fitted scales and shapes in place of those of its engines, where there are fits."""
    known = {(fit.engine, fit.mode): fit.fit for fit in fits if fit.fit is not None}
    engines = []
    for engine in file.engines:
        modes = []
        for mode in engine.repair:
            fit = known.get((engine.name, mode.name))
            modes.append(mode.model_copy(update={"scale": fit.scale, "shape": fit.shape}) if fit else mode)
        engines.append(engine.model_copy(update={"repair": tuple(modes)}))
    return file.model_copy(update={"engines": tuple(engines)})


def with_terms(fleet: Fleet, **changes: Any) -> Fleet:
    """The same fleet with keys of `[fleet]` changed, for the model's own comparisons; nothing is checked again."""
    terms = fleet.terms.model_copy(update=changes)
    return replace(fleet, file=fleet.file.model_copy(update={"fleet": terms}))
