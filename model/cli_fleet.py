"""The commands for fleets: python -m model fleet budget, plan, economic-life."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from model.cli import Format, FormatOption, SetOption, app, refuse, write
from model.cli_language import Commands
from model.cli_trials import main
from model.inputs.problems import InputError, Problem
from model.language import say

if TYPE_CHECKING:
    from model.fleet.group_costs import GroupCosts
    from model.fleet.reading import Fleet
    from model.fleet.workbook import Sheet

__all__ = ["main"]

Result = TypeVar("Result")

GROUPS_WORTH_PROCESSES = 4
"""Groups of units from which on processes are started."""

fleet_app = Commands(no_args_is_help=True, help="Many engines of many ages: what to budget, when to replace.")
app.add_typer(fleet_app, name="fleet")

FleetFileArgument = Annotated[
    Path, typer.Argument(metavar="FILE", help="A fleet file (TOML) beside its register.", show_default=False)
]
TrialsOption = Annotated[int, typer.Option("--trials", min=2, max=1_000_000, help="How many trials.")]
SeedOption = Annotated[int, typer.Option("--seed", min=0, help="Seed of the random numbers.")]
WorkersOption = Annotated[
    int | None,
    typer.Option("--workers", min=1, max=256, help="Processes; all processors where none is given. Changes no figure."),
]
DaskOption = Annotated[
    str | None, typer.Option("--dask", metavar="ADDRESS", help="Scheduler of a running Dask cluster to use instead.")
]
SaveOption = Annotated[
    Path | None, typer.Option("--save", metavar="FILE", help="Also write all tables to a spreadsheet, FILE.xlsx.")
]

AllUnitsOption = Annotated[
    bool, typer.Option("--all-units", help="List each unit that is due, however many; other formats always do.")
]


def read(file: Path, sets: list[str] | None, style: Format) -> "Fleet":
    """Read a fleet, or end with every problem told."""
    from model.fleet.reading import read_fleet

    try:
        return read_fleet(file, sets or ())
    except InputError as error:
        refuse(error.problems, style)
        raise AssertionError from error


def require_workbook(path: Path | None, style: Format) -> None:
    """End with what is wrong with the name or the place of a spreadsheet file, before anything is computed."""
    if path is not None and path.suffix != ".xlsx":
        refuse([Problem(str(path)[:80], "--save", path.suffix or "no ending", "a file name that ends in .xlsx")], style)
    if path is not None and not path.parent.is_dir():
        refuse([Problem(str(path)[:80], "--save", "no such folder", "a folder that is there")], style)


def save(sheets: Mapping[str, "Sheet"], path: Path | None, style: Format) -> None:
    """Write tables to a spreadsheet file, or end with why it cannot be written."""
    if path is None:
        return
    from model.fleet.workbook import workbook, write_whole

    try:
        write_whole(workbook(sheets), path)
    except OSError as error:
        told = Problem(str(path)[:80], "--save", error.strerror or str(error), "a place that can be written")
        refuse([told], style)


class Shared:
    """Tasks by group of units on the workers that a command was given."""

    def __init__(self, workers: int | None, dask_address: str | None, style: Format) -> None:
        """Remember where; nothing is started before there are tasks."""
        self.workers = workers or os.cpu_count() or 1
        self.dask_address, self.style, self.was_cut = dask_address, style, False

    def results(
        self, task: Callable[[Any], Result], groups: Sequence[Any], what: str, are_trials: bool = False
    ) -> Iterator[Result]:
        """Results of all groups in order, or of those that were finished when the user stopped the run."""
        from model import telling_fleet
        from model.fleet.groups import Workers, executor_of, in_order, workers_for_trials

        number = min(self.workers, len(groups))
        kind = workers_for_trials(number) if are_trials else Workers.PROCESSES
        if kind is Workers.PROCESSES and len(groups) < GROUPS_WORTH_PROCESSES:
            kind = Workers.HERE  # a process needs a second or two to start
        try:
            with (
                telling_fleet.progress(what) as done,
                executor_of(kind, number, self.dask_address) as executor,
            ):
                yield from in_order(executor, task, groups, done)
        except KeyboardInterrupt:
            self.was_cut = True
        except ImportError:
            refuse(
                [Problem(str(self.dask_address), "--dask", "Dask is not installed", "pip install dask distributed")],
                self.style,
            )
        except ConnectionError as error:
            refuse(
                [
                    Problem(
                        str(self.dask_address),
                        "--dask",
                        str(error)[:200],
                        "a cluster started in this project",
                    )
                ],
                self.style,
            )


def end_if_cut(shared: Shared, done: int, of: int) -> None:
    """Say so and end with 130, as programs do that were stopped by hand."""
    from model import telling_fleet

    if shared.was_cut:
        telling_fleet.cut_short(done, of)
        raise typer.Exit(130)


def costs_of(fleet: "Fleet", shared: Shared, needs_tables: bool, style: Format) -> "GroupCosts":
    """Costs of all stays of all units where a policy needs them; problems of the yearly limit are told first."""
    from model import telling_fleet
    from model.fleet.group_costs import GroupCosts
    from model.fleet.replacement import limit_problems
    from model.fleet.stay_tables import stay_part, stay_tasks, tables_of

    costs = GroupCosts(fleet.file, fleet.units)
    problems = limit_problems(costs, str(fleet.path))
    if problems:
        refuse(problems, style)
    if needs_tables:
        tasks = stay_tasks(fleet.file, fleet.units)
        parts = list(shared.results(partial(stay_part, fleet.file), tasks, say("Stays")))
        if shared.was_cut:  # a plan of some units would be no plan of the fleet
            telling_fleet.cut_before_the_plan()
            raise typer.Exit(130)
        costs.tables = tables_of(fleet.file, fleet.units, parts)
    return costs


def refuse_too_many_failures(fleet: "Fleet", style: Format) -> None:
    """End with the failure modes that cannot be drawn, if there are any."""
    from model.uncertainty.failures import problems_of_drawing

    most = max(unit.hours_per_year for unit in fleet.units)
    problems = problems_of_drawing(fleet.file.changed({("use", "hours_per_year"): most}), str(fleet.path))
    if problems:
        refuse(problems, style)


@fleet_app.command()
def budget(
    file: FleetFileArgument,
    style: FormatOption = Format.TABLE,
    sets: SetOption = None,
    trials: TrialsOption = 2000,
    seed: SeedOption = 1,
    workers: WorkersOption = None,
    dask: DaskOption = None,
    save_as: SaveOption = None,
    all_units: AllUnitsOption = False,
) -> None:
    """What each budget year costs, in cash: engines, service, fuel and repairs, how sure, and which units are due."""
    from model import reports as flat
    from model import telling_fleet, telling_out
    from model.fleet import reports
    from model.fleet.budget import budget_of
    from model.fleet.budgeted import of_counted
    from model.fleet.groups import groups_of
    from model.fleet.put_off import units_put_off
    from model.fleet.replacement import plan_fleet
    from model.fleet.sheets import budget_sheets
    from model.fleet.unit_trials import TrialTerms, group_trials

    require_workbook(save_as, style)
    fleet, shared = read(file, sets, style), Shared(workers, dask, style)
    refuse_too_many_failures(fleet, style)
    telling_out.say_preparing()
    policy, limit = fleet.terms.policy, fleet.terms.yearly_limit
    costs = costs_of(fleet, shared, policy.best_plan, style)
    plan = plan_fleet(policy, costs, limit)
    put_off = () if limit is None else units_put_off(costs, plan, plan_fleet(policy, costs))
    scheduled = list(zip(fleet.units, plan.schedules, strict=True))
    task, groups = partial(group_trials, fleet.file, TrialTerms(trials, seed)), groups_of(scheduled)
    counted = budget_of(fleet.file, scheduled, results=shared.results(task, groups, say("Units"), are_trials=True))
    found = of_counted(plan, counted, put_off)
    save(budget_sheets(fleet, found), save_as, style)
    write(
        style,
        reports.budget_report(fleet, found),
        lambda: flat.csv_text(reports.budget_rows(fleet, counted), reports.BUDGET_COLUMNS),
        lambda: telling_fleet.budget_tables(fleet, found, trials, all_units),
    )
    end_if_cut(shared, counted.units, len(fleet.units))


@fleet_app.command()
def plan(
    file: FleetFileArgument,
    style: FormatOption = Format.TABLE,
    sets: SetOption = None,
    workers: WorkersOption = None,
    dask: DaskOption = None,
    save_as: SaveOption = None,
    all_units: AllUnitsOption = False,
) -> None:
    """Which engines to replace, when and with what: policies compared with today's and with the best plan."""
    from model import reports as flat
    from model import telling_fleet, telling_out
    from model.fleet import reports
    from model.fleet.policy_costs import policies_compared
    from model.fleet.sheets import plan_sheets

    require_workbook(save_as, style)
    fleet, shared = read(file, sets, style), Shared(workers, dask, style)
    telling_out.say_preparing()
    found = policies_compared(costs_of(fleet, shared, True, style))
    save(plan_sheets(fleet, found), save_as, style)
    write(
        style,
        reports.plan_report(fleet, found),
        lambda: flat.csv_text(reports.plan_rows(fleet, found), reports.PLAN_COLUMNS),
        lambda: telling_fleet.plan_tables(fleet, found, all_units),
    )


@fleet_app.command(name="economic-life")
def economic_life(
    file: FleetFileArgument,
    style: FormatOption = Format.TABLE,
    sets: SetOption = None,
    trials: Annotated[
        int | None, typer.Option("--trials", min=2, max=1_000_000, help="Means over so many trials, not on mean hours.")
    ] = None,
    seed: SeedOption = 1,
    workers: WorkersOption = None,
    save_as: SaveOption = None,
) -> None:
    """The age at which replacing an engine costs least a year, of a fleet's candidates or a scenario's engines."""
    from model import reports as flat
    from model import telling_lives, telling_out
    from model.fleet import life_reports, lives
    from model.fleet.rules_told import notes_of
    from model.fleet.sheets import life_sheets
    from model.inputs.files import parse_toml
    from model.inputs.reading import read_scenario

    require_workbook(save_as, style)
    try:
        is_fleet = "fleet" in parse_toml(file)
        reading = None if is_fleet else read_scenario(file, sets or ())
    except InputError as error:
        refuse(error.problems, style)
        raise AssertionError from error
    telling_out.say_preparing()
    if reading is None:
        fleet = read(file, sets, style)
        found, lines = lives.fleet_lives(fleet), notes_of(fleet)
        named = (fleet.file.title, fleet.file.currency)
    else:
        found, lines = lives.scenario_lives(reading.scenario), telling_lives.scenario_notes(reading)
        named = (reading.scenario.title, reading.scenario.currency)
    if trials is not None:
        engines = fleet.file if reading is None else reading.scenario
        found = lives.by_trials(engines, found, (trials, seed, workers or os.cpu_count() or 1))
    save(life_sheets(found, lines), save_as, style)
    write(
        style,
        life_reports.life_report(found, lines),
        lambda: flat.csv_text(life_reports.life_rows(found), life_reports.LIFE_COLUMNS),
        lambda: telling_lives.life_tables(*named, found, lines),
    )
