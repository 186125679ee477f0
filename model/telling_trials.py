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
    from model.uncertainty.bands import ChanceCurve
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


def trials_table(reading: "Reading", told: "tuple[Summary, ChanceCurve | None]", is_stable: bool) -> None:
    """What the trials say: the answer with its chance, a table by engine, break-even, by year, over hours, notes."""
    summary, curve = told
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
    if curve is not None:
        console.print(_over_hours(curve, run.names))
    notes = [say(wording_of_trials.STANDARD_ERRORS), *([] if is_stable else [say(wording_of_trials.NOT_STABLE)])]
    print_notes(console, [*notes, *([scenario.note] if scenario.note else []), *cautions_of(reading)])


def _rows(summary: "Summary") -> Iterator[tuple[str, list[str]]]:
    """Rows of the table by engine."""
    engines = summary.engines
    yield say("Mean"), [_with_error(engine.cost.mean) for engine in engines]
    yield say("Median"), [_with_error(engine.cost.median) for engine in engines]
    yield say("Standard deviation"), [wording.whole(engine.cost.standard_deviation) for engine in engines]
    for share in engines[0].cost.intervals:
        yield (
            say("{share} of trials", share=percent(share)),
            [_span(engine.cost.intervals[share], engine.cost.interval_errors[share]) for engine in engines],
        )
    for share in engines[0].cost.shortest:
        yield (
            say("{share} of trials, shortest", share=percent(share)),
            [_span(engine.cost.shortest[share]) for engine in engines],
        )
    yield say("Chance of being cheapest"), [_share(engine.chance_cheapest) for engine in engines]
    yield say("Expected regret"), [_with_error(engine.expected_regret) for engine in engines]
    yield say("Visits a year"), [_number(engine.visits_per_year) for engine in engines]
    yield say("Repairs"), [_number(engine.repairs) for engine in engines]
    yield say("Repairs the owner pays for"), [_number(engine.owner_paid_repairs) for engine in engines]


def _with_error(estimate: "Estimate") -> str:
    """A figure with its standard error."""
    return f"{wording.whole(estimate.value)} ± {wording.whole(estimate.standard_error)}"


def _number(estimate: "Estimate") -> str:
    """A small number with its standard error, to a thousandth."""
    return f"{wording.thousandths(estimate.value)} ± {wording.thousandths(estimate.standard_error)}"


def _span(ends: tuple[float, float], errors: tuple[float, float] = (math.nan, math.nan)) -> str:
    """Both ends of an interval, with their standard errors where they are given."""
    low, high = (
        f"{wording.whole(end)} ± {wording.whole(error)}" if math.isfinite(error) else wording.whole(end)
        for end, error in zip(ends, errors, strict=True)
    )
    return say("{low} to {high}", low=low, high=high)


def _share(share: "Estimate") -> str:
    """A share in per cent with its standard error, to a tenth."""
    value, error = (wording.one_decimal(100.0 * number) for number in (share.value, share.standard_error))
    return f"{value} ± {error} %"


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


def _over_hours(curve: "ChanceCurve", names: Sequence[str]) -> Table:
    """The chance of being the cheapest at other hours a year."""
    from model.uncertainty.intervals import Estimate

    title = say("Chance of being cheapest by mean hours a year")
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", min_width=60)
    table.add_column(say("Hours a year"), justify="right")
    for name in names:
        table.add_column(name, justify="right", overflow="fold")
    for place, hours in enumerate(curve.hours.tolist()):
        chances, errors = curve.chances[:, place].tolist(), curve.standard_errors[:, place].tolist()
        cells = [_share(Estimate(chance, error)) for chance, error in zip(chances, errors, strict=True)]
        table.add_row(wording.whole(hours), *cells)
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
        shares = [_share(share) for share in (one.first_order, one.total)]
        table.add_row(name_of(one.input), *ends, *money, *shares)
    console.print(table)
    print_notes(console, [say(wording_of_trials.SHARES), *cautions_of(reading)])
