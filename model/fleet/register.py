"""The register: which engines there are, since when, with what on the meter, and how much they run."""

from dataclasses import dataclass
from datetime import date

from model.fleet.cleaning import most_hours
from model.fleet.csv_rows import Columns, CsvFile, Limits, Row, rows_of
from model.fleet.days import years_between
from model.fleet.first_reading import Registered
from model.fleet.fleet_file import ALIKE_IN_POWER, FleetFile
from model.fleet.hour_log import HourLog, HoursFit
from model.fleet.seasons import without_season
from model.inputs.problems import Problem, shown
from model.inputs.telling import nearest
from model.inputs.terms import HOURS_IN_A_YEAR

COLUMNS = Columns(
    ("unit", "engine", "in_service", "meter_hours", "hours_per_year"), ("count", "variation", "site", "note")
)
"""Columns of a register."""

OLDEST = 100.0
"""No engine is older on the first budget day. [year]"""

COUNT = Limits(1, 12, "engines")
METER = Limits(0, 1e6, "h")
HOURS = Limits(0, HOURS_IN_A_YEAR, "h a year")
VARIATION = Limits(0, 3, "(standard deviation over mean)")


@dataclass(frozen=True)
class Unit:
    """A boat with one engine or several alike, as the budget finds it on its first day."""

    name: str
    """Its own name or number."""
    engine: str
    """Name of its engine in the fleet file."""
    count: int
    """Engines on the boat."""
    age: float
    """Of its engines on the first budget day. [year]"""
    meter_hours: float
    """Of each engine on the first budget day. [h]"""
    hours_per_year: float
    """Hours that each engine runs in a year. [h/year]"""
    variation: float
    """Coefficient of variation of one year's hours, beside that of the season. [-]"""
    in_service: date
    """First day of service."""
    site: str = ""
    """Where it lies."""
    note: str = ""
    """Anything a reader should know."""


def registered(table: CsvFile, as_of: date) -> dict[str, Registered]:
    """
    Days of service and meters of a register, before it is read: a log needs them, and its hours fill in the register.

    Parameters
    ----------
    table : CsvFile
    as_of : date
        Day on which the meters were read.

    Returns
    -------
    dict of str to Registered
        By unit; without rows whose cells are wrong, which `read_register` tells.
    """
    found = dict[str, Registered]()
    for row in rows_of(table, COLUMNS, []):
        since, meter = row.day("in_service", (as_of, "fleet.as_of")), row.number_in("meter_hours", METER)
        if since is not None and meter is not None:
            found.setdefault(row.text("unit"), Registered(since, meter, as_of))
    return found


def read_register(table: CsvFile, file: FleetFile, log: HourLog | None, problems: list[Problem]) -> tuple[Unit, ...]:
    """
    Units of a register, carried from the reading of their meters to the first budget day at their own hours.

    Parameters
    ----------
    table : CsvFile
    file : FleetFile
        Knows the engines and the days.
    log : HourLog or None
        Hours fitted from a log, for units whose cells are empty.
    problems : list of Problem
        Added to: every bad cell by row and column.

    Returns
    -------
    tuple of Unit
        Those without problems.
    """
    found: list[Unit] = []
    seen: dict[str, int] = {}
    before = len(problems)
    for row in rows_of(table, COLUMNS, problems):
        unit = _unit_of(row, file, log)
        name = row.cells.get("unit", "")
        if name and name in seen:
            row.tell("unit", f"{shown(name)} a second time", f"a name of its own for each; row {seen[name]} has it")
        seen.setdefault(name, row.number)
        found += [unit] if unit else []
    if not seen and len(problems) == before:
        problems.append(Problem(table.name, "row 2", "no units", "a row for each unit"))
    return tuple(found)


def _unit_of(row: Row, file: FleetFile, log: HourLog | None) -> Unit | None:
    """The unit of one row, or None with its problems told."""
    before, terms = len(row.problems), file.fleet
    name, site, note = row.text("unit", needed=True), row.text("site"), row.text("note")
    fit = None if log is None else log.fits.get(name)
    count = row.number_in("count", COUNT) if row.cells.get("count") else 1.0
    if count is not None and count != int(count):
        row.tell("count", shown(row.cells["count"]), "a whole number, 1 to 12")
    since = row.day("in_service", (terms.as_of, "fleet.as_of"))
    meter = row.needed_number("meter_hours", METER)
    hours = _hours(row, name, log)
    variation = _variation(row, file, fit)
    engine = _engine_of(row, file)
    if len(row.problems) > before or since is None or meter is None or hours is None or count is None:
        return None
    age_then, most = years_between(since, terms.as_of), most_hours(since, terms.as_of)
    if meter > most:
        row.tell("meter_hours", f"{meter:g}", f"at most {most:,.0f} h, all hours since in_service")
    if fit is not None and meter < fit.last_reading - 1e-6:
        allowed = (
            f"at least {fit.last_reading:,.10g} h, the log's reading of {fit.last_day}: meters do not run backwards"
        )
        row.tell("meter_hours", f"{meter:g}", allowed)
    if len(row.problems) > before:
        return None
    ahead = years_between(terms.as_of, terms.budget_start)
    met = (age_then + ahead, meter + ahead * hours)
    if met[0] > OLDEST:
        row.tell("in_service", str(since), "a day at most a century before fleet.budget_start")
    if met[1] > METER.most:
        row.tell("meter_hours", f"{meter:g}, {met[1]:,.0f} h by fleet.budget_start", str(METER))
    if len(row.problems) > before:
        return None
    return Unit(name, engine, int(count), *met, hours, variation, since, site, note)


def _hours(row: Row, name: str, log: HourLog | None) -> float | None:
    """Hours a year of a row: its own, or the log's; where neither has them, what the log lacks is told. [h/year]"""
    if log is None or row.cells.get("hours_per_year"):
        return row.needed_number("hours_per_year", HOURS)
    if name in log.fits:
        return log.fits[name].hours_per_year
    there = log.too_little.get(name, "no reading")
    allowed = f"{HOURS}, or readings over eight weeks or more in the hour log"
    row.tell("hours_per_year", f"nothing, and {there} in the hour log", allowed)
    return None


def _variation(row: Row, file: FleetFile, fit: HoursFit | None) -> float:
    """Variation of a row beside the season's: its own, the log's, the file's `[use.spread]`, or none. [-]"""
    stated = row.number_in("variation", VARIATION)
    if stated is not None:
        return stated
    if fit is not None and fit.variation is not None:
        return without_season(fit.variation, file.fleet.season_variation)
    spread = file.use.spread
    return 0.0 if spread is None or spread.variation is None else spread.variation


def _engine_of(row: Row, file: FleetFile) -> str:
    """Name of a row's engine, one that some candidate may replace; empty with its problem told."""
    name = row.text("engine", needed=True)
    names = [engine.name for engine in file.engines]
    if not name:
        return ""
    if name not in names:
        row.tell("engine", shown(name), nearest(name, names))
        return ""
    engine = file.engine(name)
    if not file.candidates_for(engine):
        power, share = engine.rated_power, 100 * ALIKE_IN_POWER
        row.tell("engine", f"{shown(name)}, {power:g} kW", f"an engine that some candidate is within {share:g} % of; "
                                                          "add one to fleet.candidates")  # fmt: skip
    return name
