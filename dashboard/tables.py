"""Tables that everyone can read: cards on a phone, figures that open the rows behind them, saved as CSV."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from dash import html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.browser import aria
from model.language import say


@dataclass(frozen=True)
class Cell:
    """One cell of a table."""

    shown: str
    """As it is read."""
    value: float | str | None = None
    """As a file holds it, a number with all its digits; as shown where there is none."""
    opens: str = ""
    """Key of the rows behind it, from `drawer.key`; empty where nothing is behind it."""


@dataclass(frozen=True)
class Column:
    """A column of a table."""

    label: str
    """What stands in it, with its unit."""
    is_number: bool = False
    """Whether it is set to the right."""


Row = Sequence[Cell | str]
"""Cells of a line; the first one names it."""


def table(name: str, columns: Sequence[Column], rows: Sequence[Row], totals: Sequence[Row] = ()) -> html.Div:
    """
    A table with its button for a file.

    Parameters
    ----------
    name : str
        What the table is about: its name for those who hear it, and that of its file.
    columns : sequence of Column
    rows, totals : sequence of Row
        As many cells as columns.

    Returns
    -------
    Div
    """
    head = html.Thead(html.Tr([html.Th(column.label, scope="col", className=_side(column)) for column in columns]))
    bodies = [html.Tbody([_line(columns, row) for row in rows])]
    if totals:
        bodies.append(html.Tbody([_line(columns, row) for row in totals], className="totals"))
    made = html.Table([html.Caption(name, className="unseen"), head, *bodies], className="figures-table")
    return html.Div([html.Div(made, className="wide", tabIndex=0, role="region", **aria(label=name)), _save(name)])


def _side(column: Column) -> str:
    """To which side a column is set."""
    return "number-cell" if column.is_number else "word-cell"


def _line(columns: Sequence[Column], row: Row) -> html.Tr:
    """One line; each cell carries its column's label for the phone."""
    cells = [cell if isinstance(cell, Cell) else Cell(cell) for cell in row]
    first = html.Th(_inside(cells[0]), scope="row", className=_side(columns[0]), **_data(columns[0], cells[0]))
    rest = [
        html.Td(_inside(cell), className=_side(column), **_data(column, cell))
        for column, cell in zip(columns[1:], cells[1:], strict=True)
    ]
    return html.Tr([first, *rest])


def _data(column: Column, cell: Cell) -> dict[str, Any]:
    """What a cell carries unseen: its label, and its value with all digits."""
    value = {} if cell.value is None else {"data-value": str(cell.value)}
    return {"data-label": column.label, **value}


def _inside(cell: Cell) -> str | Component:
    """The figure, as a button where it opens rows."""
    if not cell.opens:
        return cell.shown
    return html.Button(cell.shown, id=ids.opens(cell.opens), n_clicks=0, className="opens")


def _save(name: str) -> html.Button:
    """Saves the table beside it; the browser does it by itself."""
    data: dict[str, Any] = {"data-csv": name}
    return html.Button(say("Save as CSV"), className="save-csv", type="button", **data)
