"""What the command line shows people of trials: tables and sentences, drawn by rich."""

import math
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rich import box
from rich.table import Table

from model import wording, wording_of_trials
from model.language import say, written
from model.telling_out import cautions_of, print_notes, screen
from model.wording_of_trials import percent

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
        task = bar.add_task(say("Trials"), total=trials)
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
    title = say(
        "{title}: {currency}, present value, {trials} trials, seed {seed}",
        title=scenario.title,
        currency=scenario.currency,
        trials=wording.whole(run.trials),
        seed=run.seed,
    )
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", min_width=60)
    table.add_column("")
    for engine in summary.engines:
        table.add_column(engine.name, justify="right", overflow="fold")
    for label, cells in _rows(summary):
        table.add_row(label, *cells)
    console.print(table)
    console.print(_budget(summary))
    told = [say(wording_of_trials.STANDARD_ERRORS), *([] if is_stable else [say(wording_of_trials.NOT_STABLE)])]
    print_notes(console, [*told, *([scenario.note] if scenario.note else []), *cautions_of(reading)])


def _rows(summary: "Summary") -> Iterator[tuple[str, list[str]]]:
    """Rows of the table by engine."""
    engines = summary.engines
    yield say("Mean"), [_with_error(engine.cost.mean) for engine in engines]
    yield say("Median"), [_with_error(engine.cost.median) for engine in engines]
    yield say("Standard deviation"), [wording.whole(engine.cost.standard_deviation) for engine in engines]
    for share in engines[0].cost.intervals:
        yield (
            say("{share} of trials", share=percent(share)),
            [_span(engine.cost.intervals[share]) for engine in engines],
        )
    for share in engines[0].cost.shortest:
        yield (
            say("{share} of trials, shortest", share=percent(share)),
            [_span(engine.cost.shortest[share]) for engine in engines],
        )
    yield say("Chance of being cheapest"), [_share(engine.chance_cheapest.value) for engine in engines]
    yield say("Expected regret"), [_with_error(engine.expected_regret) for engine in engines]
    yield say("Visits a year"), [wording.cents(engine.visits_per_year.value) for engine in engines]
    yield say("Repairs"), [wording.cents(engine.repairs.value) for engine in engines]
    yield say("Repairs the owner pays for"), [wording.cents(engine.owner_paid_repairs.value) for engine in engines]


def _with_error(estimate: "Estimate") -> str:
    """A figure with its standard error."""
    return f"{wording.whole(estimate.value)} ± {wording.whole(estimate.standard_error)}"


def _span(ends: tuple[float, float]) -> str:
    """Both ends of an interval."""
    low, high = (wording.whole(end) if math.isfinite(end) else say("never") for end in ends)
    return say("{low} to {high}", low=low, high=high)


def _share(share: float) -> str:
    """A share in per cent, to a tenth."""
    return f"{wording.one_decimal(100.0 * share)} %"


def _budget(summary: "Summary") -> Table:
    """Cost by year: mean and the interval that holds 80 % of the trials."""
    from model.uncertainty.summary import by_year

    title = say("By year, money of the day, without the value at sale")
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    table.add_column(say("Year"), justify="right")
    columns = [by_year(summary.run, place) for place in range(len(summary.engines))]
    for engine in summary.engines:
        name = say("{engine}: mean (80 % of trials)", engine=engine.name)
        table.add_column(name, justify="right", overflow="fold")
    for year in zip(*columns, strict=True):
        cells = [f"{wording.whole(one.cost.mean.value)} ({_span(one.cost.intervals[0.8])})" for one in year]
        table.add_row(str(year[0].year + 1), *cells)
    return table


def flips_table(reading: "Reading", flips: "Sequence[FlipPoint]") -> None:
    """Flip points: a sentence each."""
    from model.search_reports import sentence

    console = screen()
    if not flips:
        console.print(say(wording_of_trials.SINGLE_ENGINE))
    for flip in flips:
        console.print(sentence(flip), markup=False)
    print_notes(console, [say(wording_of_trials.FLIPS), *cautions_of(reading)])


def sensitivity_table(reading: "Reading", found: "Sensitivity | None") -> None:
    """What the uncertain inputs do to the difference: swing and shares of the variance."""
    from model.search_reports import name_of

    console, scenario = screen(), reading.scenario
    if found is None or not found.inputs:
        console.print(say(wording_of_trials.SINGLE_ENGINE if found is None else wording_of_trials.NOTHING_DIFFERS))
        return
    title = say(
        "{challenger} less {baseline}: {currency}, present value",
        challenger=found.challenger,
        baseline=found.baseline,
        currency=scenario.currency,
    )
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    table.add_column(say("Input"))
    for name in (
        say("10 % point"),
        say("90 % point"),
        say("Difference at 10 %"),
        say("at 90 %"),
        say("Swing"),
        say("Share alone"),
        say("Share in all"),
    ):
        table.add_column(name, justify="right")
    for one in found.inputs:
        ends = ["" if end is None else written(f"{end:,.4g}") for end in (one.swing.low, one.swing.high)]
        money = [wording.whole(amount) for amount in (one.swing.at_low, one.swing.at_high, one.swing.width)]
        shares = [f"{_share(share.value)} ± {_share(share.standard_error)}" for share in (one.first_order, one.total)]
        table.add_row(name_of(one.input), *ends, *money, *shares)
    console.print(table)
    print_notes(console, [say(wording_of_trials.SHARES), *cautions_of(reading)])
