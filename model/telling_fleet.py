"""What the command line shows of fleets: tables, notes and progress, drawn by rich."""

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from rich import box
from rich.table import Table

from model import wording
from model.language import later, say
from model.telling_out import print_notes, screen

if TYPE_CHECKING:
    from model.fleet.reading import Fleet
    from model.fleet.reports import EngineLife
    from model.inputs.reading import Reading

LEAST_SAVED = 1.0
"""Per cent that a planned renewal must save to be worth a sentence."""

Rows = Sequence[Mapping[str, Any]]

YEAR_TITLES = {
    "year": later("Year"),
    "expected": later("Expected"),
    "standard_error": later("Standard error"),
    "0.5": "50 %",
    "0.8": "80 %",
    "0.95": "95 %",
    "contingency": later("Contingency"),
}
"""Titles of a budget by year."""

DUE_TITLES = {
    "year": later("Year"),
    "unit": later("Unit"),
    "site": later("Site"),
    "engine": later("Engine"),
    "bought": later("Replaced by"),
    "reason": later("Reason"),
    "capital": later("Price and fit-up"),
}
"""Titles of replacements."""

POLICY_TITLES = {
    "policy": later("Replaced"),
    "present_value": later("Present value"),
    "saves": later("Saves against today's"),
    "replacements": later("Replacements"),
    "put_off": later("Units put off"),
    "limit_costs": later("The limit costs"),
}
"""Titles of policies compared."""


@contextmanager
def progress(what: str) -> Iterator[Callable[[int, int], None]]:
    """A bar with the time left on a terminal, nothing in a pipe; what it yields is told how many of how many."""
    if not sys.stderr.isatty():
        yield lambda _done, _all: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TextColumn("{task.completed} / {task.total}"))
    with Progress(*columns, TimeRemainingColumn(), console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, of: bar.update(task, completed=done, total=of)


def cut_short(done: int, of: int) -> None:
    """Say that a run ended early and what its figures hold."""
    told = say(
        "Cut short: {done} of {all} units were counted, and the figures are of those only.",
        done=wording.whole(done),
        all=wording.whole(of),
    )
    sys.stderr.write(f"{told}\n")


def table_of(title: str, columns: Mapping[str, str], rows: Rows) -> Table:
    """A table: keys of the rows and their titles, said here; numbers to the right, money as whole numbers."""
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    for key, label in columns.items():
        is_number = all(isinstance(row.get(key), int | float | type(None)) for row in rows)
        table.add_column(say(label), justify="right" if is_number else "left", overflow="fold")
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
    told = say(
        "{title}: {number} units. The year from {year} is expected to cost {expected} {currency}; {contingency} "
        "{currency} more make it hold with 80 %.",
        title=fleet.file.title,
        number=len(fleet.units),
        year=first["year"],
        expected=wording.whole(first["expected"]),
        contingency=wording.whole(first["contingency"]),
        currency=currency,
    )
    console.print(told, markup=False)
    title = say(
        "{currency} in money of the day, as cash; {trials} trials", currency=currency, trials=wording.whole(trials)
    )
    console.print(table_of(title, YEAR_TITLES, by_year))
    years = {str(row["year"]): str(row["year"]) for row in by_year}
    console.print(table_of(say("Expected, by element"), {"element": "", **years}, by_element))
    if due:
        console.print(table_of(say("Due"), DUE_TITLES, due))
    print_notes(console, fleet_notes(fleet))


def plan_tables(fleet: "Fleet", policies: Rows, due: Rows, put_off: Rows) -> None:
    """Policies compared, and what the cheapest replaces."""
    console, currency = screen(), fleet.file.currency
    best = min(policies, key=lambda row: float(row["present_value"]))
    today = policies[0]["policy"]
    saves, policy = wording.whole(best["saves"]), best["policy"]
    told = say("{policy} saves {amount} {currency}", policy=policy, amount=saves, currency=currency)
    console.print(
        say(
            "{title}: over {years}, against replacing {today}, {told} (present value, engines' worth at the end taken "
            "off).",
            title=fleet.file.title,
            years=wording.period(fleet.terms.horizon),
            today=today,
            told=told if best is not policies[0] else say("no other policy saves anything"),
        ),
        markup=False,
    )
    console.print(table_of(say("Policies: {currency}", currency=currency), POLICY_TITLES, policies))
    console.print(table_of(say("Replacements {policy}", policy=policy), DUE_TITLES, due))
    if put_off:
        console.print(table_of(say("Put off by the yearly limit, once for each year"), DUE_TITLES, put_off))
    print_notes(console, fleet_notes(fleet))


def life_tables(title: str, currency: str, lives: Sequence["EngineLife"], lines: Sequence[str]) -> None:
    """Economic lives: a sentence and a table for each engine, and notes."""
    console = screen()
    for one in lives:
        life = one.by_trials or one.life
        low, high = life.about_as_good
        meter = "" if one.best_meter is None else wording.whole(one.best_meter.meter_hours)
        told = say(
            "{engine}, {hours} h a year: best replaced after {years}{meter} for {least} {currency} a year; from {low} "
            "to {high} years within 2 %.",
            engine=one.name,
            hours=wording.plain(round(one.hours, 1)),
            years=wording.period(life.best_age),
            meter=say(", by the meter at {meter} h,", meter=meter) if meter else "",
            least=wording.whole(min(life.costs)),
            currency=currency,
            low=wording.plain(low),
            high=wording.plain(high),
        )
        console.print(told, markup=False)
    ages = lives[0].life.ages
    by_age = [
        {"age": wording.plain(age)} | {one.name: (one.by_trials or one.life).costs[place] for one in lives}
        for place, age in enumerate(ages)
    ]
    columns = {"age": later("Age, years")} | {one.name: one.name for one in lives}
    named = say("{title}: {currency} a year, in delivery-day money, by replacement age", title=title, currency=currency)
    console.print(table_of(named, columns, by_age))
    hours = [{"engine": one.name} | _by_hours(one) for one in lives]
    factors = {f"x{place}": "" for place in range(len(lives[0].by_hours))}
    console.print(table_of(say("Best age at other hours a year"), {"engine": later("Engine")} | factors, hours))
    for line in renewal_lines(lives):
        console.print(line, markup=False)
    print_notes(console, lines)


def _by_hours(one: "EngineLife") -> dict[str, str]:
    """Cells of the best ages at other hours a year."""
    return {
        f"x{place}": say("{years} at {hours} h", years=wording.plain(age), hours=wording.whole(hour))
        for place, (hour, age) in enumerate(one.by_hours)
    }


def renewal_lines(lives: Sequence["EngineLife"]) -> list[str]:
    """Parts worth renewing ahead of their failure, a sentence each."""
    told = []
    for one in lives:
        for mode, renewal in one.renewals.items():
            saved = 100.0 * (1.0 - renewal.cost_rate / renewal.cost_rate_waiting)
            if renewal.age is not None and saved >= LEAST_SAVED:
                told.append(
                    say(
                        "{engine}, {mode}: renewed ahead of failure at {age} it costs {saved} % less than waiting, "
                        "without cover.",
                        engine=one.name,
                        mode=mode,
                        age=wording.one_decimal(renewal.age),
                        saved=wording.whole(saved),
                    )
                )
    return told


def fleet_notes(fleet: "Fleet") -> list[str]:
    """Notes under a fleet's tables."""
    found = [fleet.file.note] if fleet.file.note else []
    left_out = [say("Not counted: {line}", line=line) for line in fleet.left_out]
    return [*found, *fleet.warnings, *left_out, *map(say, wording.CAUTIONS)]


def scenario_notes(reading: "Reading") -> list[str]:
    """Notes under the economic lives of a scenario's engines."""
    return [*reading.warnings, *map(say, wording.CAUTIONS)]
