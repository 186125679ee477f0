"""What an hour log and a repair log show, as flat rows."""

from collections.abc import Iterable
from math import isfinite
from typing import Any

from model.fleet.reading import Fleet

Rows = list[dict[str, Any]]

FIT_COLUMNS = (
    "engine", "mode", "clock", "repairs", "left_out", "expected", "mean_cumulative",
    "scale", "scale_low", "scale_high", "shape", "shape_low", "shape_high", "mean_cost",
)  # fmt: skip
"""Columns of the failure modes fitted from a repair log."""


def fit_rows(fleet: Fleet) -> Rows:
    """
    Failure modes as the repair log has them, with 95 % intervals.

    Cells are empty where there were too few repairs, and where an interval has no upper end.
    """
    rows: Rows = []
    for one in fleet.mode_fits:
        row: dict[str, Any] = {"engine": one.engine, "mode": one.mode, "clock": one.clock.value}
        row |= {"repairs": one.repairs, "left_out": one.left_out, "expected": one.expected}
        row["mean_cost"] = one.mean_cost
        row["mean_cumulative"] = one.seen[-1][1] if one.seen else 0.0
        if one.fit is not None:
            (low, high), (lowest, highest) = one.fit.scale_interval, one.fit.shape_interval
            row |= {"scale": one.fit.scale, "scale_low": low, "scale_high": _end(high)}
            row |= {"shape": one.fit.shape, "shape_low": lowest, "shape_high": _end(highest)}
        rows.append(row)
    return rows


def _end(value: float) -> float | None:
    """An upper end, where there is one."""
    return value if isfinite(value) else None


def stated_hours(fleet: Fleet) -> dict[str, float | None]:
    """Hours a year that the register itself states of each unit of the hour log; None where it takes the log's."""
    fits = fleet.hour_fits
    taken = {unit.name: unit.hours_per_year for unit in fleet.units}
    return {name: None if taken[name] == fit.hours_per_year else taken[name] for name, fit in fits.items()}


HOUR_COLUMNS = ("unit", "hours_per_year", "variation", "years", "last_day", "last_reading", "was_reset")
"""Columns of what the hour log shows of each unit."""


def hour_rows(fleet: Fleet) -> Rows:
    """Hours a year of each unit as the hour log has them; no variation with fewer than three whole years."""
    return [
        {"unit": unit, "last_day": fit.last_day.isoformat(), "was_reset": "yes" if fit.was_reset else "no"}
        | {name: getattr(fit, name) for name in ("hours_per_year", "variation", "years", "last_reading")}
        for unit, fit in fleet.hour_fits.items()
    ]


LINE_COLUMNS = ("line",)
"""The one column of sentences."""


def line_rows(lines: Iterable[str]) -> Rows:
    """Sentences as rows."""
    return [{"line": line} for line in lines]
