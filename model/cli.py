"""The command line: python -m model COMMAND. Reads, calls the model, writes tables, JSON or CSV."""

import json
import os
import sys
from collections.abc import Callable, Sequence
from enum import StrEnum
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from model.cli_language import Commands
from model.inputs.problems import InputError

if TYPE_CHECKING:
    from model.inputs.reading import Reading
    from model.measures import EngineCost

app = Commands(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="What a two-stroke or four-stroke outboard costs over the years it is owned.",
)


class Format(StrEnum):
    """How results are written."""

    TABLE = "table"
    JSON = "json"
    CSV = "csv"


class SchemaOf(StrEnum):
    """What a schema describes."""

    SCENARIO = "scenario"
    ENGINE = "engine"


File = Annotated[Path, typer.Argument(metavar="FILE", help="A scenario file (TOML).", show_default=False)]
EngineName = Annotated[str, typer.Option("--engine", help="Name of an engine of the scenario.", show_default=False)]
FormatOption = Annotated[Format, typer.Option("--format", help="How results are written.")]
YearsOption = Annotated[
    float | None, typer.Option("--years", help="Ownership period in years, in place of the file's.")
]
HoursOption = Annotated[float | None, typer.Option("--hours", help="Hours a year, in place of the file's.")]
SetOption = Annotated[
    list[str] | None,
    typer.Option(
        "--set", metavar="KEY=VALUE", help="A value in place of the file's: prices.fuel=2.10; may be repeated."
    ),
]


def refuse(problems: Sequence[Any], style: Format) -> None:
    """Write every problem to standard error and end with exit code 2."""
    from model import telling_out

    telling_out.problems(problems, as_json=style is Format.JSON)
    raise typer.Exit(2)


def read(file: Path, changes: tuple[float | None, float | None, list[str] | None], style: Format) -> "Reading":
    """Read a scenario with --years, --hours and --set applied, or end with every problem told."""
    from model.inputs.reading import read_scenario

    years, hours, sets = changes
    overrides = {"ownership.years": years, "use.hours_per_year": hours}
    try:
        return read_scenario(file, sets or (), {key: value for key, value in overrides.items() if value is not None})
    except InputError as error:
        refuse(error.problems, style)
        raise AssertionError from error


def require_engine(reading: "Reading", name: str, option: tuple[str, Format]) -> None:
    """End with the names there are unless the scenario has an engine of that name."""
    from model.inputs.problems import Problem, shown

    names = [engine.name for engine in reading.scenario.engines]
    if name not in names:
        allowed = "one of " + ", ".join(f'"{known}"' for known in names)
        refuse([Problem(str(reading.path), option[0], shown(name), allowed)], option[1])


def costs_of(reading: "Reading", name: str, style: Format) -> "EngineCost":
    """The cost of the engine of that name, or end with the names there are."""
    from model.case import prepare
    from model.measures import cost_of

    require_engine(reading, name, ("--engine", style))
    return cost_of(prepare(reading.scenario, reading.scenario.engine(name)))


def write(style: Format, report: Any, rows: Callable[[], str], table: Callable[[], None]) -> None:
    """Write a result in the wanted format."""
    if style is Format.JSON:
        sys.stdout.write(json.dumps(report, ensure_ascii=False, indent=1) + "\n")
    elif style is Format.CSV:
        sys.stdout.write(rows())
    else:
        table()


@app.command()
def check(
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="Scenario files.", show_default=False)],
    style: FormatOption = Format.TABLE,
) -> None:
    """Check scenario files: every problem at once, what was left out, what is unusual."""
    from model import telling_out
    from model.inputs.reading import read_scenario

    problems: list[Any] = []
    readings = []
    for file in files:
        try:
            readings.append(read_scenario(file))
        except InputError as error:
            problems += error.problems
    write(
        style,
        telling_out.check_report(readings),
        lambda: telling_out.check_csv(readings),
        lambda: telling_out.check_table(readings),
    )
    if problems:
        refuse(problems, style)


@app.command()
def compare(
    file: File,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
    nominal: Annotated[bool, typer.Option("--nominal", help="The table in money of the day.")] = False,
) -> None:
    """What each engine costs over the ownership period, element by element."""
    from model import measures, reports, telling_out
    from model.cheapest import break_even as break_even_of

    reading = read(file, (years, hours, sets), style)
    telling_out.say_preparing()
    comparison = measures.compare(reading.scenario)
    found = break_even_of(reading.scenario)
    columns = ("engine", "element", "nominal", "present_value")
    write(
        style,
        reports.comparison_report(comparison) | {"break_even": reports.break_even_report(found)},
        lambda: reports.csv_text(reports.comparison_rows(comparison), columns),
        lambda: telling_out.comparison_table(reading, comparison, found, nominal),
    )


@app.command(name="break-even")
def break_even(
    file: File,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
    baseline: Annotated[
        str | None,
        typer.Option(
            "--baseline", help="The engine to pay back against; the lowest price and fit-up where none is named."
        ),
    ] = None,
) -> None:
    """From when on a dearer engine pays, and from how many hours a year."""
    from model import reports, telling_out
    from model.cheapest import break_even as break_even_of

    reading = read(file, (years, hours, sets), style)
    if baseline is not None:
        require_engine(reading, baseline, ("--baseline", style))
    telling_out.say_preparing()
    found = break_even_of(reading.scenario, baseline)
    write(
        style,
        reports.break_even_report(found),
        lambda: reports.csv_text(reports.break_even_rows(found), ("over", "from", "to", "engine")),
        lambda: telling_out.break_even_table(reading, found),
    )


@app.command()
def ledger(
    file: File,
    engine: EngineName,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
) -> None:
    """The dated rows behind one engine's cost, and who pays each."""
    from model import ledger as rows_of
    from model import reports, telling_out

    reading = read(file, (years, hours, sets), style)
    telling_out.say_preparing()
    cost = costs_of(reading, engine, style)
    rows = reports.ledger_rows(rows_of.ledger(cost))
    write(
        style,
        {"engine": engine, "rows": rows},
        lambda: reports.csv_text(rows, reports.LEDGER_COLUMNS),
        lambda: telling_out.ledger_table(reading, cost, rows),
    )


@app.command()
def services(
    file: File,
    engine: EngineName,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
) -> None:
    """The service calendar of one engine: when, at what meter hours, which tasks, at what price."""
    from model import reports, telling_out
    from model.service_calendar import service_visits

    reading = read(file, (years, hours, sets), style)
    telling_out.say_preparing()
    cost = costs_of(reading, engine, style)
    visits = reports.visit_rows(service_visits(cost.case))
    write(
        style,
        {"engine": engine, "visits": visits},
        lambda: reports.csv_text(
            visits, ("t_years", "date", "meter_hours", "name", "tasks", "parts", "labour", "days")
        ),
        lambda: telling_out.services_table(reading, cost, visits),
    )


@app.command()
def schema(
    kind: Annotated[SchemaOf, typer.Argument(help="What the schema describes.")] = SchemaOf.SCENARIO,
) -> None:
    """The JSON schema of scenario or engine files, for editors."""
    from model.inputs.reading import json_schema

    sys.stdout.write(json.dumps(json_schema(kind.value), ensure_ascii=False, indent=1) + "\n")


def main() -> None:
    """Run the command line; no traceback for what a user can put right, none for a pipe that was closed."""
    try:
        _run(sys.argv[1:])
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # what is left has no reader
        sys.exit(0)
    except OSError as error:
        sys.stderr.write(f"Cannot write the result: {error.strerror or error}.\n")
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(2)


def _run(words: Sequence[str]) -> None:
    """Run a command; a program that asked for JSON is told what is wrong with its options in JSON too."""
    if not _asks_for_json(words):
        app(words, prog_name="python -m model")
    from model.inputs.problems import Problem

    try:
        sys.exit(app(words, prog_name="python -m model", standalone_mode=False) or 0)
    except typer.TyperException as error:
        context = getattr(error, "ctx", None)
        command = context.command_path if context else "python -m model"
        about = getattr(error, "param", None)
        key = about.opts[0] if about is not None and about.opts else getattr(error, "option_name", "")
        key = key if key.startswith("-") else key.upper()
        try:
            refuse([Problem("", key, str(error), f"see {command} --help")], Format.JSON)
        except typer.Exit as end:
            sys.exit(end.exit_code)


def _asks_for_json(words: Sequence[str]) -> bool:
    """Whether the words of a command line hold `--format json`."""
    return "--format=json" in words or any((name, value) == ("--format", "json") for name, value in pairwise(words))
