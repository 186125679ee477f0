"""Tables on a terminal, from rows and the titles of their columns."""

from collections.abc import Mapping, Sequence
from typing import Any

from rich import box
from rich.table import Table

from model import wording
from model.fleet_titles import DIGITS, TO_THE_RIGHT
from model.language import say

Rows = Sequence[Mapping[str, Any]]


def table_of(title: str, columns: Mapping[str, str], rows: Rows, right: Sequence[str] = TO_THE_RIGHT) -> Table:
    """A table: keys of the rows and their titles, said here; numbers and those named to the right, money whole."""
    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left")
    for key, label in columns.items():
        is_number = key in right or all(isinstance(row.get(key), int | float | type(None)) for row in rows)
        table.add_column(say(label), justify="right" if is_number else "left", overflow="fold")
    for row in rows:
        table.add_row(*(_cell(key, row.get(key)) for key in columns))
    return table


def _cell(key: str, value: Any) -> str:
    """One cell of a table."""
    if isinstance(value, float):
        digits = DIGITS.get(key)
        return wording.whole(value) if digits is None else wording.plain(round(value, digits))
    return "" if value is None else str(value)
