"""What the command line shows of fleets: tables, notes and progress, drawn by rich."""

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from rich import box
from rich.table import Table

from model import wording
from model.telling_out import print_notes, screen

if TYPE_CHECKING:
    from model.fleet.reading import Fleet
    from model.fleet.reports import EngineLife

LEAST_SAVED = 1.0
"""Per cent that a planned renewal must save to be worth a sentence."""

Rows = Sequence[Mapping[str, Any]]


@contextmanager
def progress(what: str) -> Iterator[Callable[[int, int], None]]:
    """A bar with the time left on a terminal, nothing in a pipe; what it yields is told how many of how many."""
    if not sys.stderr.isatty():
        yield lambda _done, _all: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TextColumn("{task.completed} of {task.total}"))
    with Progress(*columns, TimeRemainingColumn(), console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, of: bar.update(task, completed=done, total=of)


def cut_short(done: int, of: int) -> None:
    """Say that a run ended early and what its figures hold."""
    sys.stderr.write(f"Cut short: {done:,} of {of:,} units were counted, and the figures are of those only.\n")


def table_of(title: str, columns: Mapping[str, str], rows: Rows) -> Table:
    """A table: keys of the rows and their titles; numbers to the right, money as whole numbers."""
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    for key, label in columns.items():
        is_number = all(isinstance(row.get(key), int | float | type(None)) for row in rows)
        table.add_column(label, justify="right" if is_number else "left", overflow="fold")
    for row in rows:
        table.add_row(*(_cell(key, row.get(key)) for key in columns))
    return table


def _cell(key: str, value: Any) -> str:
    """One cell of a table."""
    if isinstance(value, float):
        return wording.plain(round(value, 1)) if key in ("age", "best_age", "hours") else wording.whole(value)
    return "" if value is None else str(value)


def budget_tables(fleet: "Fleet", tables: tuple[Rows, Rows], due: Rows, trials: int) -> None:
    """The budget: by year with its spread, by element, the units due; and notes."""
    console, currency, (by_year, by_element) = screen(), fleet.file.currency, tables
    first = by_year[0]
    console.print(
        f"{fleet.file.title}: {len(fleet.units)} units. The year from {first['year']} is expected to cost "
        f"{wording.whole(first['expected'])} {currency}; {wording.whole(first['contingency'])} {currency} more make it "
        "hold with 80 %.", markup=False)  # fmt: skip
    titles = {"year": "Year", "expected": "Expected", "standard_error": "Standard error", "0.5": "50 %", "0.8": "80 %"}
    titles |= {"0.95": "95 %", "contingency": "Contingency"}
    title = f"{currency} in money of the day, as cash; {trials:,} trials"
    console.print(table_of(title, titles, by_year))
    years = {str(row["year"]): str(row["year"]) for row in by_year}
    console.print(table_of("Expected, by element", {"element": "", **years}, by_element))
    if due:
        labels = {"year": "Year", "unit": "Unit", "site": "Site", "engine": "Engine", "bought": "Replaced by"}
        console.print(table_of("Due", labels | {"reason": "Reason", "capital": "Price and fit-up"}, due))
    print_notes(console, fleet_notes(fleet))


def plan_tables(fleet: "Fleet", policies: Rows, due: Rows, put_off: Rows) -> None:
    """Policies compared, and what the cheapest replaces."""
    console, currency = screen(), fleet.file.currency
    best = min(policies, key=lambda row: float(row["present_value"]))
    today = policies[0]["policy"]
    saves = wording.whole(best["saves"])
    told = f"{best['policy']} saves {saves} {currency}" if best is not policies[0] else "no other policy saves anything"
    console.print(
        f"{fleet.file.title}: over {fleet.terms.horizon} years, against replacing {today}, {told} "
        "(present value, engines' worth at the end taken off).", markup=False)  # fmt: skip
    titles = {"policy": "Replaced", "present_value": "Present value", "saves": "Saves against today's"}
    titles |= {"replacements": "Replacements", "put_off": "Units put off", "limit_costs": "The limit costs"}
    console.print(table_of(f"Policies: {currency}", titles, policies))
    labels = {"year": "Year", "unit": "Unit", "site": "Site", "engine": "Engine", "bought": "Replaced by"}
    labels |= {"reason": "Reason", "capital": "Price and fit-up"}
    console.print(table_of(f"Replacements {best['policy']}", labels, due))
    if put_off:
        console.print(table_of("Put off by the yearly limit, once for each year", labels, put_off))
    print_notes(console, fleet_notes(fleet))


def life_tables(title: str, currency: str, lives: Sequence["EngineLife"], lines: Sequence[str]) -> None:
    """Economic lives: a sentence and a table for each engine, and notes."""
    console = screen()
    for one in lives:
        life = one.by_trials or one.life
        low, high = life.about_as_good
        least = wording.whole(min(life.costs))
        meter = "" if one.best_meter is None else f", by the meter at {wording.whole(one.best_meter.meter_hours)} h,"
        console.print(
            f"{one.name}, {wording.plain(round(one.hours, 1))} h a year: best replaced after "
            f"{wording.plain(life.best_age)} years{meter} for {least} {currency} a year; from {wording.plain(low)} to "
            f"{wording.plain(high)} years within 2 %.", markup=False)  # fmt: skip
    ages = lives[0].life.ages
    by_age = [
        {"age": f"{age:g}"} | {one.name: (one.by_trials or one.life).costs[place] for one in lives}
        for place, age in enumerate(ages)
    ]
    columns = {"age": "Age, years"} | {one.name: one.name for one in lives}
    console.print(table_of(f"{title}: {currency} a year, in delivery-day money, by replacement age", columns, by_age))
    hours = [{"engine": one.name} | _by_hours(one) for one in lives]
    factors = {f"x{place}": "" for place in range(len(lives[0].by_hours))}
    console.print(table_of("Best age at other hours a year", {"engine": "Engine"} | factors, hours))
    for line in renewal_lines(lives):
        console.print(line, markup=False)
    print_notes(console, lines)


def _by_hours(one: "EngineLife") -> dict[str, str]:
    """Cells of the best ages at other hours a year."""
    return {f"x{place}": f"{age:g} at {hour:,.0f} h" for place, (hour, age) in enumerate(one.by_hours)}


def renewal_lines(lives: Sequence["EngineLife"]) -> list[str]:
    """Parts worth renewing ahead of their failure, a sentence each."""
    told = []
    for one in lives:
        for mode, renewal in one.renewals.items():
            saved = 100.0 * (1.0 - renewal.cost_rate / renewal.cost_rate_waiting)
            if renewal.age is not None and saved >= LEAST_SAVED:
                when = f"renewed ahead of failure at {renewal.age:,.1f}"
                told.append(f"{one.name}, {mode}: {when} it costs {saved:.0f} % less than waiting, without cover.")
    return told


def fleet_notes(fleet: "Fleet") -> list[str]:
    """Notes under a fleet's tables."""
    found = [fleet.file.note] if fleet.file.note else []
    return [*found, *fleet.warnings, *(f"Not counted: {line}" for line in fleet.left_out), *wording.CAUTIONS]
