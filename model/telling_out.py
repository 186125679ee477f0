"""What the command line shows people: tables, notes and problems, drawn by rich."""

import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from rich import box
from rich.console import Console
from rich.table import Table

from model import wording
from model.inputs.terms import Servicing

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
        sys.stderr.write("Preparing the sums for this machine, once: about half a minute ...\n")
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
        console.print(f"{reading.path}: sound. {reading.scenario.title}: {names}", markup=False)
        print_notes(console, [f"unusual: {line}" for line in reading.warnings])
        print_notes(console, [f"left out: {line}" for line in reading.left_out])


def cautions_of(reading: "Reading") -> list[str]:
    """Cautions that belong to a scenario's figures."""
    servicing = reading.scenario.servicing
    extra = {Servicing.OWN: [wording.OWN_SERVICE_CAUTION], Servicing.SKIPPED: [wording.SKIPPED_SERVICE_CAUTION]}
    return [*extra.get(servicing, []), *wording.CAUTIONS]


def break_even_table(reading: "Reading", found: "BreakEven") -> None:
    """Break-even as sentences and stretches."""
    console = screen()
    for line in break_even_lines(reading, found):
        console.print(line, markup=False)
    for title, unit, stretches in (
        ("Cheapest over hours a year", "h", found.cheapest_by_hours),
        ("Cheapest over ownership years", "years", found.cheapest_by_years),
    ):
        table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
        for name in (f"From, {unit}", f"To, {unit}"):
            table.add_column(name, justify="right")
        table.add_column("Engine")
        for stretch in stretches:
            if f"{stretch.begin:,.2f}" == f"{stretch.end:,.2f}":
                continue  # a sliver finer than the search
            table.add_row(f"{stretch.begin:,.2f}", f"{stretch.end:,.2f}", stretch.engine)
        console.print(table)
    print_notes(console, [*_unusual(reading), *cautions_of(reading)])


def break_even_lines(reading: "Reading", found: "BreakEven", in_short: bool = False) -> list[str]:
    """Break-even in sentences; in short, only in money of the day."""
    scenario = reading.scenario
    lines = []
    for pair in found.pairs:
        kinds = (
            ("in money of the day", pair.years.nominal),
            ("discounted", pair.years.discounted),
            ("both sold then", pair.years.if_sold),
        )
        for kind, years in kinds[:1] if in_short else kinds:
            tell = wording.pays_back if pair.costs_more_to_buy else wording.costs_no_more
            lines.append(tell(pair.challenger, found.baseline, years, scenario.ownership.years, kind))
        looked = scenario.range.hours_per_year
        lines.append(wording.about_equal(pair.challenger, found.baseline, pair.about_equal_hours, looked))
    by_hours = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_hours]
    by_years = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_years]
    lines.append(wording.cheapest_over("Hours a year", "h", by_hours))
    lines.append(wording.cheapest_over("Ownership years", "years", by_years))
    return lines


def comparison_table(reading: "Reading", comparison: "Comparison", found: "BreakEven", nominal: bool) -> None:
    """The comparison: the answer, cost by element, measures, notes and cautions."""
    scenario, console = comparison.scenario, screen()
    costs = [(cost.name, cost.total.present_value) for cost in comparison.engines]
    told = wording.answer(scenario.ownership.years, scenario.hours(), costs, scenario.currency)
    console.print(told + (" That is present value; the table is in money of the day." if nominal else ""), markup=False)
    kind = "money of the day" if nominal else "present value"
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
            table.add_row(label, *shown)
    table.add_section()
    table.add_row(f"Total, {kind}", *_totals(comparison, nominal), style="bold")
    other = "present value" if nominal else "money of the day"
    table.add_row(f"Total, {other}", *_totals(comparison, not nominal))
    for label, figures in _measures(comparison):
        table.add_row(label, *figures)
    console.print(table)
    for line in break_even_lines(reading, found, in_short=True):
        console.print(line, markup=False)
    notes = [scenario.note] if scenario.note else []
    print_notes(console, [*notes, *_unusual(reading), *(f"Not counted: {line}" for line in reading.left_out)])
    print_notes(console, cautions_of(reading))


def _unusual(reading: "Reading") -> list[str]:
    """What a reader of any figure should know first: estimated fuel, and what is unusual."""
    from model.elements.fuel import is_estimated

    estimated = [engine.name for engine in reading.scenario.engines if is_estimated(engine)]
    notes = [f"Fuel is an estimate from published specific consumption: {', '.join(estimated)}."] if estimated else []
    return [*notes, *reading.warnings]


def _totals(comparison: "Comparison", nominal: bool) -> list[str]:
    """Totals of the engines in one of the two moneys."""
    totals = [cost.total for cost in comparison.engines]
    return [wording.whole(total.nominal if nominal else total.present_value) for total in totals]


def _measures(comparison: "Comparison") -> list[tuple[str, list[str]]]:
    """Rows under the totals."""
    engines = comparison.engines
    hourly = [cost.cost_per_hour for cost in engines]
    return [
        ("A year, in delivery-day money", [wording.whole(cost.equivalent_annual_cost) for cost in engines]),
        ("An hour, in delivery-day money", ["-" if cost is None else wording.cents(cost) for cost in hourly]),
        (
            "Paid by the warranty, present value",
            [wording.whole(cost.paid_by_warranty.present_value) for cost in engines],
        ),
        ("Fuel, L", [wording.whole(cost.fuel_litres) for cost in engines]),
        ("CO2, kg", [wording.whole(cost.co2_kg) for cost in engines]),
    ]


def ledger_table(reading: "Reading", cost: "EngineCost", rows: Sequence[dict[str, Any]]) -> None:
    """The dated rows of one engine."""
    console, currency = screen(), cost.case.scenario.currency
    table = Table(box=box.SIMPLE_HEAD, title=f"{cost.name}: {currency}", title_justify="left")
    for name in ("Date", "Meter, h"):
        table.add_column(name, justify="right", no_wrap=True)
    for name in ("Element", "Item"):
        table.add_column(name)
    for name in ("Quantity", "Unit price", "Money of the day", "Present value"):
        table.add_column(name, justify="right")
    table.add_column("Payer")
    labels = {element.value: label for element, label in wording.ELEMENT_LABELS.items()}
    for row in rows:
        amounts = [wording.cents(row[key]) for key in ("unit_price", "nominal", "present_value")]
        quantity = f"{row['quantity']:,.4g} {row['unit']}"
        meter, element = f"{row['meter_hours']:,.0f}", labels[row["element"]]
        table.add_row(row["date"], meter, element, row["item"], quantity, *amounts, row["payer"])
    table.add_section()
    table.add_row("", "", "Total", "the owner's rows", "", "", wording.cents(cost.total.nominal),
                  wording.cents(cost.total.present_value), "owner", style="bold")  # fmt: skip
    console.print(table)
    print_notes(console, [*_unusual(reading), *cautions_of(reading)])


def services_table(reading: "Reading", cost: "EngineCost", visits: Sequence[dict[str, Any]]) -> None:
    """The service calendar of one engine."""
    console = screen()
    title = f"{cost.name}: visits, {cost.case.scenario.currency} in money of the day"
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    for name, justify in (("Date", "right"), ("Meter, h", "right"), ("Visit", "left"), ("Tasks", "left")):
        table.add_column(name, justify=justify, no_wrap=name != "Tasks")  # type: ignore[arg-type]
    for name in ("Parts", "Labour", "Days"):
        table.add_column(name, justify="right")
    for visit in visits:
        figures = (wording.cents(visit["parts"]), wording.cents(visit["labour"]), wording.plain(visit["days"]))
        table.add_row(visit["date"], f"{visit['meter_hours']:,.0f}", visit["name"], ", ".join(visit["tasks"]), *figures)
    console.print(table)
    if not visits:
        console.print("No visit falls within the ownership period.")
    print_notes(console, [*cautions_of(reading), wording.IMPELLER_CAUTION])
