"""Commands that run trials or searches: trials, sensitivity, flip-points."""

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from model.cli import (
    File,
    Format,
    FormatOption,
    HoursOption,
    SetOption,
    YearsOption,
    app,
    main,
    read,
    refuse,
    write,
)
from model.inputs.problems import InputError, Problem

if TYPE_CHECKING:
    from model.inputs.reading import Reading
    from model.uncertainty.trials import TrialRun

__all__ = ["main"]

MOST_TRIALS = 10_000_000
"""More would not fit most memories."""

SeedOption = Annotated[int, typer.Option("--seed", min=0, help="Seed of the random numbers.")]
WorkersOption = Annotated[
    int | None,
    typer.Option("--workers", min=1, max=64, help="Threads; all processors where none is given. Changes no figure."),
]


def refuse_too_many_failures(reading: "Reading", style: Format) -> None:
    """End with the failure modes that cannot be drawn, if there are any."""
    from model.uncertainty.failures import problems_of_drawing

    problems = problems_of_drawing(reading.scenario, str(reading.path))
    if problems:
        refuse(problems, style)


@app.command()
def trials(
    file: File,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
    number: Annotated[
        int | None, typer.Option("--trials", min=2, max=MOST_TRIALS, help="How many; 20,000 where nothing is given.")
    ] = None,
    digits: Annotated[
        int | None,
        typer.Option("--digits", min=1, max=3, help="As many trials as make that many digits stable (JCGM 101)."),
    ] = None,
    seed: SeedOption = 1,
    workers: WorkersOption = None,
    save: Annotated[
        Path | None, typer.Option("--save", metavar="FILE", help="Every single trial, as .csv or .parquet.")
    ] = None,
) -> None:
    """How sure the answer is: the same ownership many times over, on hours, prices and failures that differ."""
    from model import reports, telling_out, telling_trials, trial_reports
    from model.uncertainty.bands import chances_to_tell
    from model.uncertainty.summary import summarise

    reading = read(file, (years, hours, sets), style)
    if number is not None and digits is not None:
        refuse([Problem(str(file), "--digits", "it beside --trials", "one of the two")], style)
    if save is not None:
        try:
            trial_reports.refuse_unless_savable(save)
        except InputError as error:
            refuse(error.problems, style)
    refuse_too_many_failures(reading, style)
    telling_out.say_preparing()
    run, is_stable = _run(reading, (number, digits), seed, workers or os.cpu_count() or 1)
    summary, curve = summarise(run), chances_to_tell(reading.scenario, seed)
    if save is not None:
        trial_reports.save(run, save)
    write(
        style,
        trial_reports.trials_report(summary, curve),
        lambda: reports.csv_text(trial_reports.trial_rows(summary, curve), trial_reports.FIGURE_COLUMNS),
        lambda: telling_trials.trials_table(reading, (summary, curve), is_stable),
    )


def _run(
    reading: "Reading", how_many: tuple[int | None, int | None], seed: int, workers: int
) -> tuple["TrialRun", bool]:
    """Run trials, a number of them or to a number of digits; end cleanly when stopped from the keyboard."""
    from model import telling_trials
    from model.uncertainty.adaptive import run_until_stable
    from model.uncertainty.trials import TRIALS, StoppedError, run_trials

    number, digits = how_many
    try:
        with telling_trials.progress_bar(number or TRIALS if digits is None else None) as progress:
            if digits is not None:
                return run_until_stable(reading.scenario, digits, seed, workers, progress)
            return run_trials(reading.scenario, number or TRIALS, seed, workers, progress), True
    except StoppedError as stop:
        telling_trials.stopped(stop.done, stop.wanted)
        raise typer.Exit(130) from stop


@app.command(name="flip-points")
def flip_points(
    file: File,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
) -> None:
    """At which fuel price, labour rate, price, hours and so on another engine becomes the cheapest."""
    from model import reports, search_reports, telling_out, telling_trials
    from model.uncertainty import flip_points as searched

    reading = read(file, (years, hours, sets), style)
    telling_out.say_preparing()
    flips = searched.flip_points(reading.scenario)
    rows = search_reports.flip_rows(flips)
    write(
        style,
        {"flips": rows},
        lambda: reports.csv_text(rows, search_reports.FLIP_COLUMNS),
        lambda: telling_trials.flips_table(reading, flips),
    )


@app.command()
def sensitivity(
    file: File,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
    seed: SeedOption = 1,
) -> None:
    """Which uncertain input moves the answer: its swing, and its share of the variance."""
    from model import reports, search_reports, telling_out, telling_trials
    from model.uncertainty.sensitivity import sensitivity as sensitivity_of

    reading = read(file, (years, hours, sets), style)
    refuse_too_many_failures(reading, style)
    telling_out.say_preparing()
    found = sensitivity_of(reading.scenario, seed)
    report = search_reports.sensitivity_report(reading.scenario, found, seed)
    write(
        style,
        report,
        lambda: reports.csv_text(report["inputs"], search_reports.INPUT_COLUMNS),
        lambda: telling_trials.sensitivity_table(reading, found),
    )
