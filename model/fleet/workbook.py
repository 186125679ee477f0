"""Tables as a spreadsheet file, written whole or not at all; no text in it is ever run as a formula."""

import io
import os
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

Sheet = tuple[Sequence[str], Sequence[Mapping[str, Any]]]
"""Columns and rows of one sheet."""

LONGEST_NAME = 31
"""Characters that the name of a sheet may have."""


def workbook(sheets: Mapping[str, Sheet]) -> bytes:
    """
    A spreadsheet file with one sheet for each table.

    Parameters
    ----------
    sheets : mapping of str to (columns, rows)
        Names, columns and rows; numbers in full precision.

    Returns
    -------
    bytes
        Text is written as text, whatever it begins with.
    """
    import xlsxwriter

    out = io.BytesIO()
    as_is = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with xlsxwriter.Workbook(out, as_is) as book:
        bold, money = book.add_format({"bold": True}), book.add_format({"num_format": "#,##0.00"})
        for name, (columns, rows) in sheets.items():
            sheet = book.add_worksheet(name[:LONGEST_NAME])
            sheet.freeze_panes(1, 0)
            for column, title in enumerate(columns):
                sheet.write_string(0, column, title, bold)
                width = max([len(title), *(len(str(row.get(title, ""))[:40]) for row in rows[:200])])
                sheet.set_column(column, column, min(width, 30) + 1)
            for number, row in enumerate(rows, start=1):
                for column, title in enumerate(columns):
                    _write(sheet, (number, column), row.get(title), money)
    return out.getvalue()


def _write(sheet: Any, at: tuple[int, int], value: Any, money: Any) -> None:
    """One cell: a number, text, or nothing."""
    if isinstance(value, float):
        sheet.write_number(*at, value, money)
    elif isinstance(value, int):
        sheet.write_number(*at, value)
    elif value is not None:
        sheet.write_string(*at, "; ".join(map(str, value)) if isinstance(value, list | tuple) else str(value))


def write_whole(content: bytes, path: Path) -> None:
    """
    Write a file aside, then put it in place: what stood there stays whole until the new one is.

    Parameters
    ----------
    content : bytes
    path : Path
        Its folder must exist.

    Raises
    ------
    OSError
        If it cannot be written.
    """
    handle, aside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.", suffix=".new")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        Path(aside).chmod(path.stat().st_mode & 0o777 if path.exists() else 0o644)
        Path(aside).replace(path)
    except BaseException:
        Path(aside).unlink(missing_ok=True)
        raise
