"""What the command line shows people: tables, notes and problems, drawn by rich."""

import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from rich import box
from rich.console import Console
from rich.table import Table

from model import wording, wording_of_break_even
from model.inputs.terms import Payer, Servicing
from model.language import say, written
from model.quantities import as_shown, unit_shown

if TYPE_CHECKING:
    from model.cheapest import BreakEven
    from model.inputs.reading import Reading
    from model.measures import Comparison, EngineCost


class Screen(Console):
    """A console that leaves a pipe that was closed to `cli.main`, in place of ending with 1."""

    def on_broken_pipe(self) -> None:
        """Raise what the pipe raised."""
        raise BrokenPipeError


def screen(stderr: bool = False) -> Console:
    """Where tables go; in a pipe wide enough that no figure is cut."""
    console = Screen(stderr=stderr, highlight=False, soft_wrap=False)
    return console if console.is_terminal else Screen(stderr=stderr, highlight=False, width=140)


def say_preparing() -> None:
    """Say once, on the first run ever, that the sums are being compiled."""
    from model.compiling import is_prepared

    if not is_prepared():
        sys.stderr.write(say("Preparing the sums for this machine, once: about half a minute ...") + "\n")
        sys.stderr.flush()


def problems(found: Sequence[Any], as_json: bool) -> None:
    """Every problem, on standard error."""
    import json

    if as_json:
        report = {"errors": [problem.as_dict() for problem in found]}
        sys.stderr.write(json.dumps(report, ensure_ascii=False, indent=1) + "\n")
        return
    for problem in found:
        sys.stderr.write(f"{problem}\n")
    sys.stderr.write(f"{len(found)} problem{'s' if len(found) != 1 else ''}; nothing was computed from it.\n")


def print_notes(console: Console, lines: Iterable[str]) -> None:
    """Notes under a table, one to a paragraph."""
    for line in lines:
        console.print(f"- {line}", markup=False)


def check_report(readings: Sequence["Reading"]) -> dict[str, Any]:
    """What `check` found in sound files, for JSON."""
    return {"files": [_checked(reading) for reading in readings]}


def _checked(reading: "Reading") -> dict[str, Any]:
    """One sound file."""
    return {
        "file": str(reading.path),
        "scenario": reading.scenario.title,
        "engines": [engine.name for engine in reading.scenario.engines],
        "warnings": list(reading.warnings),
        "left_out": list(reading.left_out),
    }


def check_csv(readings: Sequence["Reading"]) -> str:
    """What `check` found in sound files, as CSV."""
    from model.reports import csv_text

    columns = ("file", "scenario", "engines", "warnings", "left_out")
    return csv_text([_checked(reading) for reading in readings], columns)


def check_table(readings: Sequence["Reading"]) -> None:
    """What `check` found in sound files."""
    console = screen()
    for reading in readings:
        names = ", ".join(engine.name for engine in reading.scenario.engines)
        sound = say("{file}: sound. {title}: {engines}", file=reading.path, title=reading.scenario.title, engines=names)
        console.print(sound, markup=False)
        print_notes(console, [say("unusual: {line}", line=line) for line in reading.warnings])
        print_notes(console, [say("left out: {line}", line=line) for line in reading.left_out])


def cautions_of(reading: "Reading") -> list[str]:
    """Cautions that belong to a scenario's figures."""
    servicing = reading.scenario.servicing
    extra = {Servicing.OWN: [wording.OWN_SERVICE_CAUTION], Servicing.SKIPPED: [wording.SKIPPED_SERVICE_CAUTION]}
    return [say(caution) for caution in (*extra.get(servicing, []), *wording.CAUTIONS)]


def break_even_table(reading: "Reading", found: "BreakEven") -> None:
    """Break-even as sentences and stretches."""
    console = screen()
    for line in break_even_lines(reading, found):
        console.print(line, markup=False)
    for title, unit, stretches in (
        (say("Cheapest over hours a year"), say("h"), found.cheapest_by_hours),
        (say("Cheapest over ownership years"), say("years"), found.cheapest_by_years),
    ):
        table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
        for name in (say("From, {unit}", unit=unit), say("To, {unit}", unit=unit)):
            table.add_column(name, justify="right")
        table.add_column(say("Engine"))
        for stretch in stretches:
            begin, end = wording.cents(stretch.begin), wording.cents(stretch.end)
            if begin != end:  # else a sliver finer than the search
                table.add_row(begin, end, stretch.engine)
        console.print(table)
    print_notes(console, [*_unusual(reading), *cautions_of(reading)])


def break_even_lines(reading: "Reading", found: "BreakEven", in_short: bool = False) -> list[str]:
    """Break-even in sentences; in short, only in money of the day."""
    scenario, words = reading.scenario, wording_of_break_even
    lines = []
    for pair in found.pairs:
        kinds = (
            (wording_of_break_even.IN_MONEY_OF_THE_DAY, pair.years.nominal),
            (wording_of_break_even.DISCOUNTED, pair.years.discounted),
            (wording_of_break_even.BOTH_SOLD_THEN, pair.years.if_sold),
        )
        for kind, years in kinds[:1] if in_short else kinds:
            tell = words.pays_back if pair.costs_more_to_buy else words.costs_no_more
            lines.append(tell(pair.challenger, found.baseline, years, scenario.ownership.years, kind))
        looked = scenario.range.hours_per_year
        lines.append(words.about_equal(pair.challenger, found.baseline, pair.about_equal_hours, looked))
    by_hours = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_hours]
    by_years = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_years]
    lines.append(words.cheapest_over(say("Hours a year"), "h", by_hours))
    lines.append(words.cheapest_over(say("Ownership years"), "years", by_years))
    return lines


def comparison_table(reading: "Reading", comparison: "Comparison", found: "BreakEven", nominal: bool) -> None:
    """The comparison: the answer, cost by element, measures, notes and cautions."""
    scenario, console = comparison.scenario, screen()
    costs = [(cost.name, cost.total.present_value) for cost in comparison.engines]
    told = wording.answer(scenario.ownership.years, scenario.hours(), costs, scenario.currency)
    if nominal:
        told += " " + say("That is present value; the table is in money of the day.")
    console.print(told, markup=False)
    kind, other = say("money of the day"), say("present value")
    kind, other = (kind, other) if nominal else (other, kind)
    table = Table(
        box=box.SIMPLE_HEAD, title=f"{scenario.title}: {scenario.currency}, {kind}", title_justify="left", min_width=60
    )
    table.add_column("")
    for cost in comparison.engines:
        table.add_column(cost.name, justify="right", overflow="fold")
    for element, label in wording.ELEMENT_LABELS.items():
        amounts = [cost.elements[element] for cost in comparison.engines]
        if any(amount.nominal for amount in amounts):
            shown = [wording.whole(amount.nominal if nominal else amount.present_value) for amount in amounts]
            table.add_row(say(label), *shown)
    table.add_section()
    table.add_row(say("Total, {kind}", kind=kind), *_totals(comparison, nominal), style="bold")
    table.add_row(say("Total, {kind}", kind=other), *_totals(comparison, not nominal))
    for label, figures in _measures(comparison):
        table.add_row(label, *figures)
    console.print(table)
    for line in break_even_lines(reading, found, in_short=True):
        console.print(line, markup=False)
    notes = [scenario.note] if scenario.note else []
    print_notes(
        console, [*notes, *_unusual(reading), *(say("Not counted: {line}", line=line) for line in reading.left_out)]
    )
    print_notes(console, cautions_of(reading))


def _unusual(reading: "Reading") -> list[str]:
    """What a reader of any figure should know first: estimated fuel, and what is unusual."""
    from model.elements.fuel import is_estimated

    estimated = [engine.name for engine in reading.scenario.engines if is_estimated(engine)]
    told = say("Fuel is an estimate from published specific consumption: {engines}.", engines=", ".join(estimated))
    return [*([told] if estimated else []), *reading.warnings]


def _totals(comparison: "Comparison", nominal: bool) -> list[str]:
    """Totals of the engines in one of the two moneys."""
    totals = [cost.total for cost in comparison.engines]
    return [wording.whole(total.nominal if nominal else total.present_value) for total in totals]


def _measures(comparison: "Comparison") -> list[tuple[str, list[str]]]:
    """Rows under the totals."""
    engines = comparison.engines
    hourly = [cost.cost_per_hour for cost in engines]
    return [
        (say("A year, in delivery-day money"), [wording.whole(cost.equivalent_annual_cost) for cost in engines]),
        (say("An hour, in delivery-day money"), ["-" if cost is None else wording.cents(cost) for cost in hourly]),
        (
            say("Paid by the warranty, present value"),
            [wording.whole(cost.paid_by_warranty.present_value) for cost in engines],
        ),
        (
            say("Fuel, {unit}", unit=unit_shown("L")),
            [wording.whole(as_shown(cost.fuel_litres, "L")) for cost in engines],
        ),
        (say("CO2, {unit}", unit=unit_shown("kg")), [wording.whole(as_shown(cost.co2_kg, "kg")) for cost in engines]),
    ]


def ledger_table(reading: "Reading", cost: "EngineCost", rows: Sequence[dict[str, Any]]) -> None:
    """The dated rows of one engine."""
    console, currency = screen(), cost.case.scenario.currency
    table = Table(box=box.SIMPLE_HEAD, title=f"{cost.name}: {currency}", title_justify="left")
    for name in (say("Date"), say("Meter, h")):
        table.add_column(name, justify="right", no_wrap=True)
    for name in (say("Element"), say("Item")):
        table.add_column(name)
    for name in (say("Quantity"), say("Unit price"), say("Money of the day"), say("Present value")):
        table.add_column(name, justify="right")
    table.add_column(say("Payer"))
    labels = {element.value: say(label) for element, label in wording.ELEMENT_LABELS.items()}
    for row in rows:
        amounts = [wording.cents(row[key]) for key in ("unit_price", "nominal", "present_value")]
        quantity = f"{written(format(row['quantity'], ',.4g'))} {row['unit']}"
        meter, element = wording.whole(row["meter_hours"]), labels[row["element"]]
        table.add_row(
            row["date"], meter, element, row["item"], quantity, *amounts, say(wording.PAYERS[Payer(row["payer"])])
        )
    table.add_section()
    total = (wording.cents(cost.total.nominal), wording.cents(cost.total.present_value))
    owner = say(wording.PAYERS[Payer.OWNER])
    table.add_row("", "", say("Total"), say("the owner's rows"), "", "", *total, owner, style="bold")
    console.print(table)
    print_notes(console, [*_unusual(reading), *cautions_of(reading)])


def services_table(reading: "Reading", cost: "EngineCost", visits: Sequence[dict[str, Any]]) -> None:
    """The service calendar of one engine."""
    console = screen()
    currency = cost.case.scenario.currency
    title = say("{engine}: visits, {currency} in money of the day", engine=cost.name, currency=currency)
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    for name in (say("Date"), say("Meter, h")):
        table.add_column(name, justify="right", no_wrap=True)
    table.add_column(say("Visit"), no_wrap=True)
    table.add_column(say("Tasks"))
    for name in (say("Parts"), say("Labour"), say("Days")):
        table.add_column(name, justify="right")
    for visit in visits:
        figures = (wording.cents(visit["parts"]), wording.cents(visit["labour"]), wording.plain(visit["days"]))
        meter, tasks = wording.whole(visit["meter_hours"]), "; ".join(visit["tasks"])
        table.add_row(visit["date"], meter, visit["name"], tasks, *figures)
    console.print(table)
    if not visits:
        console.print(say("No visit falls within the ownership period."))
    print_notes(console, [*cautions_of(reading), say(wording.IMPELLER_CAUTION)])
