"""What the command line shows people of trials: tables and sentences, drawn by rich."""

import math
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rich import box
from rich.table import Table

from model import wording, wording_of_trials
from model.telling_out import cautions_of, print_notes, screen

if TYPE_CHECKING:
    from model.inputs.reading import Reading
    from model.uncertainty.flip_points import FlipPoint
    from model.uncertainty.intervals import Estimate
    from model.uncertainty.sensitivity import Sensitivity
    from model.uncertainty.summary import Summary


@contextmanager
def progress_bar(trials: int | None) -> Iterator[Callable[[int], None] | None]:
    """
    A bar on a terminal that follows the trials done, and none in a pipe.

    Parameters
    ----------
    trials : int or None
        How many there will be; None when that is not known.

    Yields
    ------
    function or None
        To be told how many are done.
    """
    if not (sys.stdout.isatty() and sys.stderr.isatty()):
        yield None
        return
    from rich.progress import Progress

    with Progress(console=screen(stderr=True), transient=True) as bar:
        task = bar.add_task("Trials", total=trials)
        yield lambda done: bar.update(task, completed=done)


def stopped(done: int, wanted: int) -> None:
    """Say how many trials were done when they were stopped."""
    sys.stderr.write(wording_of_trials.stopped(done, wanted) + "\n")


def trials_table(reading: "Reading", summary: "Summary", is_stable: bool) -> None:
    """What the trials say: the answer with its chance, a table by engine, break-even, by year, notes."""
    console, scenario, run = screen(), summary.run.scenario, summary.run
    chances = [(engine.name, engine.chance_cheapest.value) for engine in summary.engines]
    likely = summary.likely
    console.print(wording_of_trials.how_sure(likely.name, chances, run.trials), markup=False)
    for pair in summary.pairs:
        names = (pair.challenger, pair.baseline)
        console.print(
            wording_of_trials.pays_back_in_trials(
                names, pair.break_even.median.value, pair.never.value, scenario.ownership.years
            ),
            markup=False,
        )
    title = f"{scenario.title}: {scenario.currency}, present value, {run.trials:,d} trials, seed {run.seed}"
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", min_width=60)
    table.add_column("")
    for engine in summary.engines:
        table.add_column(engine.name, justify="right", overflow="fold")
    for label, cells in _rows(summary):
        table.add_row(label, *cells)
    console.print(table)
    console.print(_budget(summary))
    told = [wording_of_trials.STANDARD_ERRORS, *([] if is_stable else [wording_of_trials.NOT_STABLE])]
    print_notes(console, [*told, *([scenario.note] if scenario.note else []), *cautions_of(reading)])


def _rows(summary: "Summary") -> Iterator[tuple[str, list[str]]]:
    """Rows of the table by engine."""
    engines = summary.engines
    yield "Mean", [_with_error(engine.cost.mean) for engine in engines]
    yield "Median", [_with_error(engine.cost.median) for engine in engines]
    yield "Standard deviation", [wording.whole(engine.cost.standard_deviation) for engine in engines]
    for share in engines[0].cost.intervals:
        yield f"{share:.0%} of trials", [_span(engine.cost.intervals[share]) for engine in engines]
    for share in engines[0].cost.shortest:
        yield f"{share:.0%} of trials, shortest", [_span(engine.cost.shortest[share]) for engine in engines]
    yield "Chance of being cheapest", [f"{engine.chance_cheapest.value:.1%}" for engine in engines]
    yield "Expected regret", [_with_error(engine.expected_regret) for engine in engines]
    yield "Visits a year", [f"{engine.visits_per_year.value:.2f}" for engine in engines]
    yield "Repairs", [f"{engine.repairs.value:.2f}" for engine in engines]
    yield "Repairs the owner pays for", [f"{engine.owner_paid_repairs.value:.2f}" for engine in engines]


def _with_error(estimate: "Estimate") -> str:
    """A figure with its standard error."""
    return f"{wording.whole(estimate.value)} ± {wording.whole(estimate.standard_error)}"


def _span(ends: tuple[float, float]) -> str:
    """Both ends of an interval."""
    return " to ".join(wording.whole(end) if math.isfinite(end) else "never" for end in ends)


def _budget(summary: "Summary") -> Table:
    """Cost by year: mean and the interval that holds 80 % of the trials."""
    from model.uncertainty.summary import by_year

    table = Table(
        box=box.SIMPLE_HEAD, title="By year, money of the day, without the value at sale", title_justify="left"
    )
    table.add_column("Year", justify="right")
    columns = [by_year(summary.run, place) for place in range(len(summary.engines))]
    for engine in summary.engines:
        table.add_column(f"{engine.name}: mean (80 % of trials)", justify="right", overflow="fold")
    for year in zip(*columns, strict=True):
        cells = [f"{wording.whole(one.cost.mean.value)} ({_span(one.cost.intervals[0.8])})" for one in year]
        table.add_row(str(year[0].year + 1), *cells)
    return table


def flips_table(reading: "Reading", flips: "Sequence[FlipPoint]") -> None:
    """Flip points: a sentence each."""
    from model.search_reports import sentence

    console = screen()
    if not flips:
        console.print(wording_of_trials.SINGLE_ENGINE)
    for flip in flips:
        console.print(sentence(flip), markup=False)
    print_notes(console, [wording_of_trials.FLIPS, *cautions_of(reading)])


def sensitivity_table(reading: "Reading", found: "Sensitivity | None") -> None:
    """What the uncertain inputs do to the difference: swing and shares of the variance."""
    from model.search_reports import name_of

    console, scenario = screen(), reading.scenario
    if found is None or not found.inputs:
        console.print(wording_of_trials.SINGLE_ENGINE if found is None else wording_of_trials.NOTHING_DIFFERS)
        return
    title = f"{found.challenger} less {found.baseline}: {scenario.currency}, present value"
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    table.add_column("Input")
    for name in ("10 % point", "90 % point", "Difference at 10 %", "at 90 %", "Swing", "Share alone", "Share in all"):
        table.add_column(name, justify="right")
    for one in found.inputs:
        ends = ["" if end is None else f"{end:,.4g}" for end in (one.swing.low, one.swing.high)]
        money = [wording.whole(amount) for amount in (one.swing.at_low, one.swing.at_high, one.swing.width)]
        shares = [f"{share.value:.1%} ± {share.standard_error:.1%}" for share in (one.first_order, one.total)]
        table.add_row(name_of(one.input), *ends, *money, *shares)
    console.print(table)
    print_notes(console, [wording_of_trials.SHARES, *cautions_of(reading)])
