"""A fleet on disk becomes checked data: the fleet file, its register and its logs, or every problem at once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from model.fleet.fleet_file import FleetFile, FleetTerms
from model.fleet.hour_log import HoursFit, Reading, fit_hours, read_hour_log, unknown_units
from model.fleet.register import Unit, read_register
from model.fleet.repair_log import ModeFit, fit_modes, read_repair_log
from model.inputs.files import parse_toml
from model.inputs.merging import Merged, apply_settings, merge
from model.inputs.problems import InputError, Problem, shown
from model.inputs.reading import checked
from model.inputs.remarks import left_out_of, warnings_of
from model.inputs.sources import source_problems

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
    """What is allowed but unusual, and what the logs' readings told, a sentence each."""
    left_out: tuple[str, ...] = ()
    """What was left out and what that means, a sentence each."""
    mode_fits: tuple[ModeFit, ...] = ()
    """Failure modes as the repair log has them."""

    @property
    def terms(self) -> FleetTerms:
        """The table `[fleet]`."""
        return self.file.fleet


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
    if "fleet" not in content:
        raise InputError(
            [Problem(str(file), "fleet", "nothing", "a fleet file, with [fleet] and what a scenario holds")]
        )
    merged = merge(file, content)
    apply_settings(merged, sets, overrides or {})
    problems = [*merged.problems, *source_problems(merged), *_filled_in(merged)]
    return _with_register(file, checked(merged, problems, FleetFile))


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


def _with_register(path: Path, file: FleetFile) -> Fleet:
    """Read the register and the logs that a sound fleet file names."""
    problems, terms = list[Problem](), file.fleet
    fits, told = dict[str, HoursFit](), tuple[str, ...]()
    readings, log = dict[str, list[Reading]](), path.parent / (terms.hour_log or "")
    if terms.hour_log is not None:
        readings = read_hour_log(log, terms.as_of, problems)
        fits, told = fit_hours(readings, str(log), problems)
    units = read_register(path.parent / terms.register_file, file, fits, problems)
    if not problems:
        problems += unknown_units(readings, str(log), [unit.name for unit in units])
    modes: tuple[ModeFit, ...] = ()
    if terms.repair_log is not None and not problems:
        repaired = read_repair_log(path.parent / terms.repair_log, file, units, problems)
        modes = fit_modes(file, units, repaired)
    if problems:
        raise InputError(problems)
    fitted = with_fits(file, modes) if terms.fit_repairs else file
    return Fleet(fitted, units, path, (*_unusual(file), *told), left_out_of(file), modes)


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
