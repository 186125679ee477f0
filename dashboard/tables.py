"""Tables that everyone can read: cards on a phone, figures that open the rows behind them, saved as CSV.

The browser builds them (`assets/tables.js`) from their content: as components, a hundred rows take it a minute.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from dash import html

from model.language import dated, say


@dataclass(frozen=True)
class Cell:
    """One cell of a table."""

    shown: str
    """As it is read."""
    value: float | str | None = None
    """As a file holds it and by what it is sorted, a number with all its digits; as shown where there is none."""
    opens: str = ""
    """Key of the rows behind it, from `drawer.key`; empty where nothing is behind it."""

    def as_data(self) -> str | list[Any]:
        """The same for the browser."""
        whole = [self.shown, self.value, self.opens]
        return self.shown if self.value is None and not self.opens else whole


def day_cell(day: date) -> Cell:
    """
    A date, which stays on one line.

    >>> " " in day_cell(date(2027, 4, 1)).shown
    False
    """
    return Cell(dated(day).replace(" ", "\u00a0"), day.isoformat())


def visit_cell(name: str) -> Cell:
    r"""
    A visit's name, broken between its limits only; a file has it as it is.

    >>> visit_cell("first, 20 h / 1 mo").shown.split(" ")
    ['first,', '20\xa0h\xa0/', '1\xa0mo']
    """
    kept = name.replace(" ", "\u00a0").replace(",\u00a0", ", ").replace("/\u00a0", "/ ")
    return Cell(kept, name)


@dataclass(frozen=True)
class Column:
    """A column of a table."""

    label: str
    """What stands in it, with its unit."""
    is_number: bool = False
    """Whether it is set to the right."""


Row = Sequence[Cell | str]
"""Cells of a line; the first one names it."""


def table(
    name: str,
    columns: Sequence[Column],
    rows: Sequence[Row],
    totals: Sequence[Row] = (),
    is_sorted: bool = False,
) -> html.Div:
    """
    A table with its button for a file.

    Parameters
    ----------
    name : str
        What the table is about: its name for those who hear it, and that of its file.
    columns : sequence of Column
    rows, totals : sequence of Row
        As many cells as columns.
    is_sorted : bool
        Whether each heading is a button that puts the rows in another order.

    Returns
    -------
    Div
    """
    data = {
        "name": name,
        "columns": [[column.label, column.is_number] for column in columns],
        "rows": [_as_data(row) for row in rows],
        "totals": [_as_data(row) for row in totals],
        "sorted": is_sorted,
        "save": say("Save as CSV"),
    }
    content: dict[str, Any] = {"data-table": json.dumps(data, ensure_ascii=False, separators=(",", ":"))}
    return html.Div(className="table-room", **content)


def _as_data(row: Row) -> list[Any]:
    """A line for the browser."""
    return [cell.as_data() if isinstance(cell, Cell) else cell for cell in row]
