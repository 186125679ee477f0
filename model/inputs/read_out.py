"""An engine's own record of its running time: a CSV of speed_from, speed_to, hours."""

import csv
import io
import math
from pathlib import Path

from model.inputs.files import MOST_ITEMS, read_text
from model.inputs.problems import MOST_TOLD, InputError, Problem, shown

COLUMNS = ("speed_from", "speed_to", "hours")
"""Columns of the file. [rev/min, rev/min, h]"""

FASTEST = 20_000.0
"""No outboard turns faster. [rev/min]"""

LONGEST = 1e6
"""No engine runs longer. [h]"""

Bin = tuple[float, float, float]
"""Speed from, speed to, hours run there. [rev/min, rev/min, h]"""


def read_bins(path: Path) -> tuple[Bin, ...]:
    """
    Bins of a read-out.

    Parameters
    ----------
    path : Path
        The CSV; its first line names the columns.

    Returns
    -------
    tuple of (float, float, float)
        Speed from, speed to, hours; speeds rise. [rev/min, rev/min, h]

    Raises
    ------
    InputError
        With every bad row: its number in the file, column, what was found, what is allowed.
    """
    text = read_text(path, "a CSV file of " + ", ".join(COLUMNS))
    problems: list[Problem] = []

    def tell(key: str, found: str, allowed: str) -> None:
        problems.append(Problem(str(path), key, found, allowed))

    bins: list[Bin] = []
    try:
        rows = csv.reader(io.StringIO(text, newline=""), strict=True)
        header = [name.strip() for name in next(rows, [])]
        if sorted(header) != sorted(COLUMNS):
            tell("row 1", ", ".join(header)[:80] or "nothing", "the columns " + ", ".join(COLUMNS))
            raise InputError(problems)
        for row in rows:
            if any(cell.strip() for cell in row):
                found = _bin_of(dict(zip(header, row, strict=False)), rows.line_num, problems, str(path))
                bins += [found] if found else []
                if found and len(bins) > 1 and found[0] < bins[-2][1]:
                    tell(f"row {rows.line_num}, speed_from", f"{found[0]:g}",
                         f"at least the speed_to before it, {bins[-2][1]:g} rev/min")  # fmt: skip
    except csv.Error as error:
        tell("", f"no CSV: {error}", "a CSV file of " + ", ".join(COLUMNS))
    if len(bins) > MOST_ITEMS:
        tell("", f"{len(bins):,} rows", f"at most {MOST_ITEMS:,}")
    if not problems and not sum(hours for _, _, hours in bins) > 0:
        tell("hours", "no hours", "hours above 0 in one row at least")
    if problems:
        raise InputError(problems[:MOST_TOLD])
    return tuple(bins)


def _bin_of(row: dict[str, str], number: int, problems: list[Problem], file: str) -> Bin | None:
    """The bin of one row, or None with its problems told."""
    most = {"speed_from": FASTEST, "speed_to": FASTEST, "hours": LONGEST}
    units = {"speed_from": "rev/min", "speed_to": "rev/min", "hours": "h"}
    values: dict[str, float] = {}
    for column in COLUMNS:
        text = row.get(column, "").strip()
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not 0 <= value <= most[column]:
            allowed = f"a number, 0 to {most[column]:,.0f} {units[column]}"
            problems.append(Problem(file, f"row {number}, {column}", shown(text) if text else "nothing", allowed))
        else:
            values[column] = value
    if len(values) < len(COLUMNS):
        return None
    if values["speed_to"] <= values["speed_from"]:
        allowed = f"above speed_from, {values['speed_from']:g} rev/min"
        problems.append(Problem(file, f"row {number}, speed_to", f"{values['speed_to']:g}", allowed))
        return None
    return values["speed_from"], values["speed_to"], values["hours"]
