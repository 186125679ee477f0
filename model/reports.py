"""Results as plain data for JSON and CSV: one function a command, keys as documented in the README."""

import csv
import io
from collections.abc import Iterable, Mapping
from typing import Any

from model.ledger import Row
from model.measures import Comparison, EngineCost, Sum
from model.service_calendar import VisitSummary

LEDGER_COLUMNS = (
    "t_years", "date", "meter_hours", "element", "item", "quantity", "unit", "unit_price", "nominal", "present_value",
    "payer",
)  # fmt: skip
"""Columns of the ledger in JSON and CSV."""

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""A text cell that begins with one of these would be run as a formula by a spreadsheet."""


def sum_report(amount: Sum) -> dict[str, float]:
    """An amount in both moneys."""
    return {"nominal": amount.nominal, "present_value": amount.present_value}


def engine_report(cost: EngineCost) -> dict[str, Any]:
    """One engine of a comparison."""
    return {
        "name": cost.name,
        "technology": cost.case.engine.technology.value,
        "elements": {element.value: sum_report(amount) for element, amount in cost.elements.items()},
        "total": sum_report(cost.total),
        "equivalent_annual_cost": cost.equivalent_annual_cost,
        "cost_per_hour": cost.cost_per_hour,
        "paid_by_warranty": sum_report(cost.paid_by_warranty),
        "fuel_litres": cost.fuel_litres,
        "fuel_is_estimated": cost.fuel_is_estimated,
        "co2_kg": cost.co2_kg,
    }


def comparison_report(comparison: Comparison) -> dict[str, Any]:
    """A comparison."""
    scenario = comparison.scenario
    return {
        "scenario": scenario.title,
        "currency": scenario.currency,
        "ownership_years": scenario.ownership.years,
        "engines": [engine_report(cost) for cost in comparison.engines],
        "cheapest": comparison.cheapest.name,
    }


def comparison_rows(comparison: Comparison) -> list[dict[str, Any]]:
    """A comparison as flat rows: engine, element or total, both moneys."""
    rows = []
    for cost in comparison.engines:
        amounts: dict[str, Sum] = {element.value: amount for element, amount in cost.elements.items()}
        for name, amount in (amounts | {"total": cost.total, "paid_by_warranty": cost.paid_by_warranty}).items():
            rows.append({"engine": cost.name, "element": name, **sum_report(amount)})
    return rows


def ledger_rows(rows: Iterable[Row]) -> list[dict[str, Any]]:
    """Rows of a ledger."""
    return [
        {name: getattr(row, name) for name in LEDGER_COLUMNS}
        | {"date": row.date.isoformat(), "element": row.element.value, "payer": row.payer.value}
        for row in rows
    ]


def visit_rows(visits: Iterable[VisitSummary]) -> list[dict[str, Any]]:
    """Visits of a service calendar, money nominal."""
    return [
        {
            "t_years": visit.t_years,
            "date": visit.date.isoformat(),
            "meter_hours": visit.meter_hours,
            "name": visit.name,
            "tasks": list(visit.tasks),
            "parts": visit.parts,
            "labour": visit.labour,
            "days": visit.days,
        }
        for visit in visits
    ]


def problems_report(problems: Iterable[Any]) -> dict[str, Any]:
    """Problems of bad input."""
    return {"errors": [problem.as_dict() for problem in problems]}


def csv_text(rows: Iterable[Mapping[str, Any]], columns: Iterable[str]) -> str:
    """
    Rows as CSV, numbers in full precision, no text cell that a spreadsheet would run as a formula.

    >>> csv_text([{"item": "=1+1", "nominal": -2.5}], ["item", "nominal"]).splitlines()
    ['item,nominal', "'=1+1,-2.5"]
    """
    columns = list(columns)
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows({column: safe_cell(row.get(column)) for column in columns} for row in rows)
    return out.getvalue()


def safe_cell(value: Any) -> Any:
    """A cell for a spreadsheet: lists joined, text that would run as a formula made text by an apostrophe."""
    if isinstance(value, list | tuple):
        value = "; ".join(str(part) for part in value)
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA_STARTS) else value
