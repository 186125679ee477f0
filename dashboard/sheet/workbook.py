"""The sheet as a workbook: a summary, the dated ledger of every engine, what it rests on; its sums are formulas.

Text is written as text, whatever it begins with. Each formula is written with the value that the model found, so that a
reader who does not recalculate shows the same; recalculated it comes to that value again, which a test checks.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, time
from pathlib import Path
from typing import Any

from dashboard import text
from dashboard.drawer import PAYERS
from dashboard.sheet import assumptions, lines, paper
from dashboard.sheet.matter import Letterhead, Matter
from model import wording
from model.inputs.terms import Element, Payer
from model.language import dated, say
from model.ledger import Row, ledger
from model.measures import EngineCost
from model.quantities import as_shown, sold_by

RATE_ROW, HEAD_ROW = 1, 3
"""Rows of a ledger (from 0) that hold the discount rate and the names of its columns."""

WIDTHS = (9, 12, 10, 22, 44, 10, 10, 12, 16, 16, 14)
"""Widths of the ledger's columns. [character]"""


@dataclass(frozen=True)
class Book:
    """A workbook while it is written."""

    book: Any
    """Of xlsxwriter."""
    bold: Any
    """Format of headings."""
    money: Any
    """Format of amounts."""
    total: Any
    """Format of sums."""
    day: Any
    """Format of dates."""
    ranges: list["Columns"] = field(default_factory=list)
    """Where each engine's ledger stands."""


@dataclass(frozen=True)
class Columns:
    """Where the columns of a ledger stand, as a formula names them."""

    element: str
    """Cost element."""
    nominal: str
    """Money of the day."""
    present: str
    """Present value."""
    payer: str
    """Who pays."""


def workbook(matter: Matter, head: Letterhead) -> bytes:
    """
    The sheet as a workbook.

    Parameters
    ----------
    matter : Matter
    head : Letterhead

    Returns
    -------
    bytes
        An XLSX file in the language of the moment.
    """
    import xlsxwriter

    out = io.BytesIO()
    as_text = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with xlsxwriter.Workbook(out, as_text) as made:
        book = Book(
            made,
            made.add_format({"bold": True, "text_wrap": True, "valign": "top"}),
            made.add_format({"num_format": "#,##0.00"}),
            made.add_format({"num_format": "#,##0.00", "bold": True, "top": 1}),
            made.add_format({"num_format": "yyyy-mm-dd"}),
        )
        summary = made.add_worksheet(say("Summary"))
        for place, cost in enumerate(matter.comparison.engines, start=1):
            book.ranges.append(_ledger(book, say("Ledger {number}", number=place), cost))
        _summary(book, summary, matter, head)
        _assumptions(book, made.add_worksheet(say("Assumptions")), matter)
    return out.getvalue()


def _ledger(book: Book, name: str, cost: EngineCost) -> Columns:
    """The dated ledger of one engine on a page of its own."""
    sheet, rows = book.book.add_worksheet(name), ledger(cost)
    currency = cost.case.scenario.currency
    sheet.write_string(0, 0, cost.name, book.book.add_format({"bold": True}))
    sheet.write_string(RATE_ROW, 0, say("Discount rate"))
    sheet.write_number(RATE_ROW, 3, cost.case.rules.discount_rate, book.book.add_format({"num_format": "0.00##%"}))
    for column, (title, width) in enumerate(zip(_titles(currency), WIDTHS, strict=True)):
        sheet.write_string(HEAD_ROW, column, title, book.bold)
        sheet.set_column(column, column, width)
    sheet.freeze_panes(HEAD_ROW + 1, 0)
    for place, row in enumerate(rows, start=HEAD_ROW + 1):
        _ledger_row(book, sheet, place, row)
    last = HEAD_ROW + 1 + max(1, len(rows))
    element, nominal, present, payer = (f"'{name}'!${c}${HEAD_ROW + 2}:${c}${last}" for c in "DIJK")
    return Columns(element, nominal, present, payer)


def _titles(currency: str) -> list[str]:
    """Names of the ledger's columns."""
    return [
        say("Years since delivery"),
        say("Date"),
        say("Meter, h"),
        say("Cost element"),
        say("What"),
        say("Quantity"),
        say("Unit"),
        say("Unit price, {currency}", currency=currency),
        say("Money of the day, {currency}", currency=currency),
        say("Present value, {currency}", currency=currency),
        say("Who pays"),
    ]


def _ledger_row(book: Book, sheet: Any, place: int, row: Row) -> None:
    """One row of a ledger; its amounts are worked out from quantity, unit price and discount rate."""
    line, (quantity, unit, unit_price) = place + 1, sold_by(row.quantity, row.unit, row.unit_price)
    sheet.write_number(place, 0, row.t_years)
    sheet.write_datetime(place, 1, datetime.combine(row.date, time()), book.day)
    sheet.write_number(place, 2, row.meter_hours)
    sheet.write_string(place, 3, say(wording.ELEMENT_LABELS[row.element]))
    sheet.write_string(place, 4, row.item)
    sheet.write_number(place, 5, quantity)
    sheet.write_string(place, 6, unit)
    sheet.write_number(place, 7, unit_price, book.money)
    sheet.write_formula(place, 8, f"=F{line}*H{line}", book.money, row.nominal)
    discounted = f"=I{line}/(1+$D${RATE_ROW + 1})^A{line}"
    sheet.write_formula(place, 9, discounted, book.money, row.present_value)
    sheet.write_string(place, 10, say(PAYERS[row.payer]))


def _summary(book: Book, sheet: Any, matter: Matter, head: Letterhead) -> None:
    """The answer, cost by element in both moneys, what it is a year and an hour, break-even, cautions."""
    sheet.set_column(0, 0, 44)
    sheet.set_column(1, len(matter.comparison.engines), 20)
    opening = (head.shop, head.customer, head.note, matter.scenario.title, lines.use(matter))
    told = [*opening, "".join(lines.answer(matter)), lines.how_sure(matter), lines.around_today(matter)]
    at = _texts(sheet, 0, [*told, f"{dated(head.day)}. {paper.made(matter)}"])
    present = say("Present value, {currency}", currency=matter.scenario.currency)
    nominal = say("Money of the day, {currency}", currency=matter.scenario.currency)
    totals = _by_element(book, sheet, (at + 1, present, False), matter.comparison.engines)
    at = _measures(book, sheet, totals, matter)
    at = _by_element(book, sheet, (at + 2, nominal, True), matter.comparison.engines)
    told = [*lines.break_even_lines(matter), "", *lines.remarks(matter), "", *lines.cautions(matter)]
    _texts(sheet, at + 2, told, keeps_empty=True)


def _texts(sheet: Any, at: int, told: Sequence[str], keeps_empty: bool = False) -> int:
    """Lines of text below each other; the row after the last."""
    shown = [line for line in told if line or keeps_empty]
    for place, line in enumerate(shown, start=at):
        sheet.write_string(place, 0, line)
    return at + len(shown)


def _by_element(book: Book, sheet: Any, block: tuple[int, str, bool], costs: Sequence[EngineCost]) -> int:
    """Cost by element of every engine in one money, each a sum over its ledger; the row of the totals."""
    at, title, is_nominal = block
    sheet.write_string(at, 0, title, book.bold)
    for column, cost in enumerate(costs, start=1):
        sheet.write_string(at, column, cost.name, book.bold)
    first = at + 1
    for place, element in enumerate(Element, start=first):
        sheet.write_string(place, 0, say(wording.ELEMENT_LABELS[element]))
        for column, cost in enumerate(costs, start=1):
            amount = cost.elements[element]
            value = amount.nominal if is_nominal else amount.present_value
            where = _sum(book.ranges[column - 1], is_nominal, Payer.OWNER, f"$A${place + 1}")
            sheet.write_formula(place, column, where, book.money, value)
    last = first + len(Element)
    sheet.write_string(last, 0, say(text.TOTAL_NOMINAL if is_nominal else text.TOTAL), book.bold)
    for column, cost in enumerate(costs, start=1):
        value = cost.total.nominal if is_nominal else cost.total.present_value
        sheet.write_formula(last, column, f"=SUM({_cell(first, column)}:{_cell(last - 1, column)})", book.total, value)
    return last


def _sum(columns: Columns, is_nominal: bool, payer: Payer, element: str = "") -> str:
    """A formula: what one payer pays, of one element where its cell is given."""
    amounts, who = columns.nominal if is_nominal else columns.present, say(PAYERS[payer]).replace('"', '""')
    of_element = f",{columns.element},{element}" if element else ""
    return f'=SUMIFS({amounts},{columns.payer},"{who}"{of_element})'


def _measures(book: Book, sheet: Any, totals: int, matter: Matter) -> int:
    """Below the totals: what each engine costs more, a year, an hour, what the warranty pays, what trials say."""
    costs, at = matter.comparison.engines, totals + 1
    least = min(cost.total.present_value for cost in costs)
    row = f"${_cell(totals, 1)}:${_cell(totals, len(costs))}"
    titles = [say("More than the cheapest"), say(text.A_YEAR), say(text.AN_HOUR), say(text.PAID_BY_WARRANTY)]
    _texts(sheet, at, [*titles, text.fuel_burned(), *(line.label for line in lines.trial_lines(matter))])
    hours = matter.scenario.mean_hours()
    for column, cost in enumerate(costs, start=1):
        more = f"={_cell(totals, column)}-MIN({row})"
        sheet.write_formula(at, column, more, book.money, cost.total.present_value - least)
        sheet.write_number(at + 1, column, cost.equivalent_annual_cost, book.money)
        if cost.cost_per_hour is not None:
            an_hour = f"={_cell(at + 1, column)}/{hours!r}"
            sheet.write_formula(at + 2, column, an_hour, book.money, cost.cost_per_hour)
        paid = _sum(book.ranges[column - 1], False, Payer.WARRANTY)
        sheet.write_formula(at + 3, column, paid, book.money, cost.paid_by_warranty.present_value)
        sheet.write_number(at + 4, column, as_shown(cost.fuel_litres, "L"), book.money)
        for place, line in enumerate(lines.trial_lines(matter), start=at + 5):
            sheet.write_string(place, column, line.cells[column - 1])
    return at + 4 + len(lines.trial_lines(matter))


def _cell(row: int, column: int) -> str:
    """
    A cell as a formula names it, row and column counted from 0.

    >>> _cell(0, 0), _cell(11, 2)
    ('A1', 'C12')
    """
    return f"{chr(ord('A') + column)}{row + 1}"


def _assumptions(book: Book, sheet: Any, matter: Matter) -> None:
    """The main values, the sources, and every value that names one."""
    for column, width in enumerate((52, 24, 14, 70, 30)):
        sheet.set_column(column, column, width)
    rows: list[Sequence[Any]] = [(say("What"), say("Value"), "", say("Source"), say("File"))]
    rows += [(one.label, one.value, "", one.source) for one in assumptions.assumptions(matter)]
    rows += [(), *((line,) for line in assumptions.source_lines(matter)), ()]
    heads = {0, len(rows)}
    rows.append((say("What"), say("Value"), say("Unit"), say("Source"), say("File")))
    for value in matter.reading.sources:
        source = assumptions.in_words(value.source, matter.entries)
        rows.append((value.key, value.value, value.unit or "", source, Path(value.file).name))
    for place, row in enumerate(rows):
        for column, cell in enumerate(row):
            if isinstance(cell, int | float) and not isinstance(cell, bool):
                sheet.write_number(place, column, cell)
            elif cell not in ("", None):
                sheet.write_string(place, column, str(cell), book.bold if place in heads else None)
