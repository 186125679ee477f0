"""Rows of a CSV with many lines: every bad cell told by row and column, all at once."""

import csv
import difflib
import io
import math
import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from model.inputs.files import FORMULA_STARTS, read_text
from model.inputs.problems import ON_ONE_LINE, InputError, Problem, has_control_characters, shown
from model.inputs.telling import nearest

LARGEST_TABLE = 100_000_000
"""Bytes a register or log may have."""

DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")
"""A date; other forms of the same standard are as likely a number or a typing error."""

MOST_COMPARED = 100_000
"""Pairs of names that are compared for a file, some seconds' worth."""

LONGEST_TEXT = 200
"""Characters of a cell of text."""


@dataclass(frozen=True)
class Columns:
    """What the first line of a file must name."""

    required: tuple[str, ...]
    """Columns that must be there."""
    optional: tuple[str, ...] = ()
    """Columns that may be left out."""

    @property
    def known(self) -> tuple[str, ...]:
        """All of them."""
        return (*self.required, *self.optional)


@dataclass(frozen=True)
class CsvFile:
    """A CSV file: on disk, or opened by somebody whose names must not become paths."""

    name: str
    """What it is called in messages."""
    text: str | None = None
    """What it holds; None where it is read from the path of that name."""
    key: str = ""
    """What names it in the fleet file."""

    def read(self, what: str) -> str:
        """
        Its text.

        Parameters
        ----------
        what : str
            What it should be, for the message.

        Raises
        ------
        InputError
            If it cannot be read.
        """
        return read_text(Path(self.name), what, LARGEST_TABLE) if self.text is None else self.text


@dataclass(frozen=True)
class Limits:
    """What a number of a column may be."""

    least: float
    """The least."""
    most: float
    """The most."""
    unit: str
    """Its unit, for the message."""

    def __str__(self) -> str:
        """The rule in words."""
        return f"a number, {self.least:g} to {self.most:,.10g} {self.unit}".rstrip()


@dataclass
class Row:
    """One line of a file; what is wrong with its cells is added to the problems of the file."""

    file: str
    """The file's name as the user gave it."""
    number: int
    """Its line in the file, from 1."""
    cells: dict[str, str]
    """Its cells by column, without blanks around them."""
    problems: list[Problem] = field(repr=False)
    """Of the whole file."""

    def tell(self, column: str, found: str, allowed: str) -> None:
        """Add a problem of one cell."""
        self.problems.append(Problem(self.file, f"row {self.number}, {column}", found, allowed))

    def text(self, column: str, needed: bool = False) -> str:
        """
        Text of a cell, empty where there is none.

        Parameters
        ----------
        column : str
        needed : bool
            Whether an empty cell is a problem.
        """
        value = self.cells.get(column, "")
        if not value and needed:
            self.tell(column, "nothing", "text")
        elif value.startswith(FORMULA_STARTS):
            self.tell(column, shown(value), "text that a spreadsheet does not run as a formula")
        elif len(value) > LONGEST_TEXT:
            self.tell(column, shown(value), f"at most {LONGEST_TEXT} characters")
        elif has_control_characters(value):
            self.tell(column, shown(value), ON_ONE_LINE)
        else:
            return value
        return ""

    def number_in(self, column: str, limits: Limits) -> float | None:
        """
        Number of a cell; None with its problem told, or where the cell is empty.

        Parameters
        ----------
        column : str
        limits : Limits
            What is allowed. [unit of the limits]
        """
        text = self.cells.get(column, "")
        if not text:
            return None
        try:
            value = float(text) if "_" not in text else math.nan
        except ValueError:
            value = math.nan
        if limits.least <= value <= limits.most:
            return value
        formula = ", no formula" if text.startswith("=") else ""
        self.tell(column, shown(text), f"{limits}{formula}")
        return None

    def needed_number(self, column: str, limits: Limits) -> float | None:
        """The same, an empty cell being a problem too. [unit of the limits]"""
        if not self.cells.get(column, ""):
            self.tell(column, "nothing", str(limits))
            return None
        return self.number_in(column, limits)

    def day(self, column: str, latest: tuple[date, str]) -> date | None:
        """
        Date of a cell; None with its problem told.

        Parameters
        ----------
        column : str
        latest : (date, str)
            The last day allowed, and what day that is.
        """
        text = self.cells.get(column, "")
        try:
            found = date.fromisoformat(text if DAY.fullmatch(text) else "")
        except ValueError:
            self.tell(column, shown(text) if text else "nothing", "a date such as 2021-04-15")
            return None
        if not date(1950, 1, 1) <= found <= latest[0]:
            self.tell(column, found.isoformat(), f"a date from 1950-01-01 to {latest[0].isoformat()}, {latest[1]}")
            return None
        return found


class UnitNames:
    """Names of a register, and what is told where a log names a unit that it has not."""

    def __init__(self, names: Collection[str]) -> None:
        """Remember them."""
        self._names, self._told, self._compared = names, dict[str, str](), 0

    def instead_of(self, name: str) -> str:
        """
        What is allowed in place of a name: the nearest one, as long as looking for it takes no minutes.

        Parameters
        ----------
        name : str
            What was found.

        Returns
        -------
        str

        >>> UnitNames(["Boat 1", "Boat 2"]).instead_of("Boat 01")
        'Boat 1? a unit of the register'
        """
        if name not in self._told:
            near, self._compared = list[str](), self._compared + len(self._names)
            if self._compared <= MOST_COMPARED:
                near = difflib.get_close_matches(name, self._names, n=1, cutoff=0.6)
            self._told[name] = (f"{near[0]}? " if near else "") + "a unit of the register"
        return self._told[name]


def rows_of(file: CsvFile, columns: Columns, problems: list[Problem]) -> Iterator[Row]:
    """
    Rows of a CSV file.

    Parameters
    ----------
    file : CsvFile
        Its first line names the columns.
    columns : Columns
        Those that are known.
    problems : list of Problem
        Added to: a bad header or a broken line, and whatever is later told through the rows.

    Yields
    ------
    Row
        None when the file cannot be read or has no header; empty lines are left out.
    """
    try:
        text = file.read("a CSV file of " + ", ".join(columns.known))
    except InputError as error:
        problems += [replace(problem, key=file.key) for problem in error.problems]
        return
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        header = [name.strip() for name in next(reader, [])]
        told = _header_problems(file.name, header, columns)
        problems += told
        if told:
            return
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            row = Row(file.name, reader.line_num, {}, problems)
            if len(cells) > len(header):
                row.tell("cells", f"{len(cells)} cells", f"at most {len(header)}, one for each column; text with "
                                                         "commas stands in quotes")  # fmt: skip
            row.cells = {name: cell.strip() for name, cell in zip(header, cells, strict=False)}
            yield row
    except csv.Error as error:
        problems.append(Problem(file.name, f"row {reader.line_num}", f"no CSV: {error}", "a CSV file"))


def _header_problems(file: str, header: Sequence[str], columns: Columns) -> list[Problem]:
    """What is wrong with the first line."""
    named = "the columns " + ", ".join(columns.known)
    if not any(name in columns.known for name in header):
        found = ", ".join(header)[:80] or "nothing"
        hint = ", separated by commas" if ";" in found else ""
        return [Problem(file, "row 1", f"{found}: no header", f"a first line that names {named}{hint}")]
    told = [
        Problem(file, "row 1", f"no column {name}", named + "; these must be there: " + ", ".join(columns.required))
        for name in columns.required
        if name not in header
    ]
    told += [
        Problem(file, "row 1", f"column {shown(name)}", nearest(name, columns.known))
        for name in dict.fromkeys(header)
        if name not in columns.known
    ]
    twice = [name for name in dict.fromkeys(header) if header.count(name) > 1 and name in columns.known]
    return told + [Problem(file, "row 1", f"column {name} twice", "each column once") for name in twice]
