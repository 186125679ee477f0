"""What the command line shows of fleets: tables, notes and progress, drawn by rich."""

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from model import wording
from model.fleet.budgeted import counted_told, cut_told, downtime_told
from model.fleet.log_reports import hour_rows, stated_hours
from model.fleet.logs_told import fits_used, log_against_files, notes_of_hours, notes_of_repairs, scale_told, shape_told
from model.fleet.rules_told import notes_of, rules_of_replacing, year_told
from model.fleet_titles import (
    HOUR_TITLES,
    POLICY_TITLES,
    REPAIR_TITLES,
    YEAR_TITLES,
    part_told,
)
from model.language import say
from model.questions.saying import capital
from model.telling_due import due_tables, in_budget_years
from model.telling_out import print_notes, screen
from model.telling_tables import Rows, table_of

if TYPE_CHECKING:
    from rich.console import Console

    from model.fleet.budget import Budget
    from model.fleet.budgeted import Budgeted
    from model.fleet.policy_costs import PolicyCost
    from model.fleet.reading import Fleet


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
    sys.stderr.writelines(f"{line}\n" for line in cut_told(done, of))


def cut_before_the_plan() -> None:
    """Say that a run ended before there was a plan."""
    told = say("Cut short: there is no plan yet, as it needs the stays of all units.")
    sys.stderr.write(f"{told}\n")


def budget_tables(fleet: "Fleet", found: "Budgeted", trials: int, lists_all: bool = False) -> None:
    """The budget by year with its spread, by element, site and technology; what is due, what waits; logs and notes."""
    from model.fleet import reports

    console, currency, by_year = screen(), fleet.file.currency, reports.year_rows(fleet, found.budget)
    console.print(_first_year_told(fleet, found.budget, by_year[0]), markup=False)
    title = say(
        "{currency} in money of the day, as cash; {trials} trials", currency=currency, trials=wording.whole(trials)
    )
    console.print(table_of(title, YEAR_TITLES, in_budget_years(fleet, by_year)))
    for line in downtime_told(found.budget):
        console.print(line, markup=False)
    for named, columns, rows in parts_of_budget(fleet, found.budget):
        console.print(table_of(named, columns, rows))
    for table in _spread_of_parts(fleet, found.budget):
        console.print(table_of(*table))
    due_tables(fleet, found.plan, found.put_off, lists_all)
    print_logs(console, fleet)
    print_notes(
        console, [*rules_of_replacing(fleet), *cut_told(found.budget.units, len(fleet.units)), *notes_of(fleet)]
    )


def _first_year_told(fleet: "Fleet", budget: "Budget", row: Mapping[str, Any]) -> str:
    """What the first budget year is expected to cost, and what makes that hold, in a sentence."""
    more = wording.whole(abs(row["contingency"]))
    known = {
        "title": fleet.file.title,
        "units": counted_told(fleet, budget),
        "year": year_told(fleet, 0),
        "expected": wording.whole(row["expected"]),
        "currency": fleet.file.currency,
    }
    if row["contingency"] < 0.0 and more != wording.whole(0.0):  # a mean above what holds in 80 of 100 trials
        return say(
            "{title}: {units}. The budget year {year} is expected to cost {expected} {currency}, "
            "which holds with more than 80 %: a few dear trials raise the mean, and {less} {currency} less hold with "
            "80 %.",
            **known,
            less=more,
        )
    return say(
        "{title}: {units}. The budget year {year} is expected to cost {expected} {currency}; "
        "{contingency} {currency} more make it hold with 80 %.",
        **known,
        contingency=more,
    )


def parts_of_budget(fleet: "Fleet", budget: "Budget") -> list[tuple[str, dict[str, str], Rows]]:
    """Titles, columns and rows of the expected budget by element, by site and by technology, with its sum."""
    from model.fleet import reports

    start = fleet.terms.budget_start.year
    years = [str(start + year) for year in range(fleet.terms.horizon)]
    titles = {name: year_told(fleet, place) for place, name in enumerate(years)}
    total = {name: float(amount) for name, amount in zip(years, budget.expected, strict=True)}
    sites, technologies = reports.part_rows(fleet, budget)
    parts: list[tuple[str, str, Rows]] = [(say("Expected, by element"), "element", reports.element_rows(fleet, budget))]
    if any(row["site"] for row in sites):
        named = [row | {"site": row["site"] or say("No site named")} for row in sites]
        parts.append((say("Expected, by site"), "site", named))
    named = [row | {"technology": capital(say(row["technology"]))} for row in technologies]
    parts.append((say("Expected, by technology"), "technology", named))
    return [(title, {key: "", **titles}, [*rows, {key: say("Sum"), **total}]) for title, key, rows in parts]


def _spread_of_parts(fleet: "Fleet", budget: "Budget") -> list[tuple[str, dict[str, str], Rows]]:
    """Titles, columns and rows of what each element, site and technology takes to hold in 80 % of the trials."""
    from model.fleet import reports
    from model.fleet.budget import CONTINGENCY_SHARE

    start = fleet.terms.budget_start.year
    titles = {str(start + year): year_told(fleet, year) for year in range(fleet.terms.horizon)}
    rows = [
        {**row, "part": part_told(row["by"], row["part"])}
        for row in reports.part_spread_rows(fleet, budget, (CONTINGENCY_SHARE,))
    ]
    title = say("What holds in 80 % of the trials, by element, site and technology; their dear years differ")
    return [
        (title, {"part": "", **titles}, rows),
        (say("The same over all years together"), {"part": "", reports.ALL_YEARS: say("All years")}, rows),
    ]


def plan_tables(fleet: "Fleet", found: Sequence["PolicyCost"], lists_all: bool = False) -> None:
    """Policies compared, what the cheapest replaces and what it puts off."""
    from model.fleet import reports

    console, currency, best = screen(), fleet.file.currency, min(found, key=lambda one: one.cost)
    console.print(_saved_told(fleet, found, best), markup=False)
    title = say(
        "Policies over {years}: {currency} in present value, engines' worth at the end taken off",
        years=wording.period(fleet.terms.horizon),
        currency=currency,
    )
    console.print(table_of(title, POLICY_TITLES, reports.policy_rows(found)))
    due_tables(fleet, best.plan, best.put_off, lists_all)
    print_logs(console, fleet)
    print_notes(console, [*rules_of_replacing(fleet), *notes_of(fleet)])


def _saved_told(fleet: "Fleet", found: Sequence["PolicyCost"], best: "PolicyCost") -> str:
    """What the cheapest policy saves against today's, in a sentence."""
    known = {
        "title": fleet.file.title,
        "years": wording.period(fleet.terms.horizon),
        "today": found[0].plan.policy.in_words,
    }
    saved = wording.whole(found[0].cost - best.cost)
    if best is found[0] or saved == wording.whole(0.0):
        return say(
            "{title}: over {years}, no other policy for replacing engines costs less than today's, {today}.", **known
        )
    if best.plan.policy.keep:
        return say(
            "{title}: over {years}, keeping all engines costs {amount} {currency} less than today's policy, {today}.",
            **known,
            amount=saved,
            currency=fleet.file.currency,
        )
    return say(
        "{title}: over {years}, replacing engines {policy} costs {amount} {currency} less than today's "
        "policy, {today}.",
        **known,
        policy=best.plan.policy.in_words,
        amount=saved,
        currency=fleet.file.currency,
    )


def print_logs(console: "Console", fleet: "Fleet") -> None:
    """What the hour log and the repair log show, where there are any."""
    if fleet.terms.hour_log is not None:
        own = stated_hours(fleet)
        hours = [
            {**row, "years": round(row["years"], 1), "register": own[row["unit"]]}
            | {"variation": None if row["variation"] is None else 100.0 * row["variation"]}
            | {"was_reset": say("yes") if fleet.hour_fits[row["unit"]].was_reset else say("no")}
            for row in hour_rows(fleet)
        ]
        console.print(table_of(say("Hours a year by the hour log"), HOUR_TITLES, hours))
        lines = list(fleet.hour_findings) or [
            say("The hour log has no gap, no reset and no reading that does not fit.")
        ]
        print_notes(console, [*notes_of_hours(fleet), *lines])
    if fleet.mode_fits:
        rows = [
            {
                "engine": one.engine,
                "mode": one.mode,
                "repairs": one.repairs,
                "expected": wording.one_decimal(one.expected),
                "scale": scale_told(one),
                "shape": shape_told(one.fit),
                "mean_cost": one.mean_cost,
            }
            for one in fleet.mode_fits
            if one.repairs
        ]
        console.print(table_of(f"{log_against_files(fleet.mode_fits)}. {fits_used(fleet)}", REPAIR_TITLES, rows))
        print_notes(console, notes_of_repairs(fleet.mode_fits))
