"""Results as plain data for JSON and CSV: one function a command, keys as documented in the README."""

import csv
import io
from collections.abc import Iterable, Mapping
from typing import Any

from model.cheapest import BreakEven
from model.inputs.files import FORMULA_STARTS
from model.ledger import Row
from model.measures import Comparison, EngineCost, Sum
from model.service_calendar import VisitSummary
from model.sweep import Stretch

LEDGER_COLUMNS = (
    "t_years", "date", "meter_hours", "element", "item", "quantity", "unit", "unit_price", "nominal", "present_value",
    "payer",
)  # fmt: skip
"""Columns of the ledger in JSON and CSV."""


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


def break_even_report(found: BreakEven) -> dict[str, Any]:
    """Break-even in time, in hours a year and in ownership years."""
    return {
        "baseline": found.baseline,
        "pairs": [
            {
                "challenger": pair.challenger,
                "years": pair.years.nominal,
                "years_discounted": pair.years.discounted,
                "years_if_sold": pair.years.if_sold,
                "about_equal_hours": None if pair.about_equal_hours is None else list(pair.about_equal_hours),
            }
            for pair in found.pairs
        ],
        "cheapest_by_hours": stretch_rows(found.cheapest_by_hours),
        "cheapest_by_years": stretch_rows(found.cheapest_by_years),
    }


def stretch_rows(stretches: Iterable[Stretch]) -> list[dict[str, Any]]:
    """Stretches of a range, each with its cheapest engine."""
    return [{"from": stretch.begin, "to": stretch.end, "engine": stretch.engine} for stretch in stretches]


def break_even_rows(found: BreakEven) -> list[dict[str, Any]]:
    """Break-even as flat rows: what it is over, from, to, and the engine."""
    rows: list[dict[str, Any]] = []
    for pair in found.pairs:
        equal = pair.about_equal_hours or (None, None)
        times = (
            ("years", pair.years.nominal),
            ("years_discounted", pair.years.discounted),
            ("years_if_sold", pair.years.if_sold),
        )
        rows += [{"over": over, "from": years, "to": None, "engine": pair.challenger} for over, years in times]
        rows.append({"over": "about_equal_hours", "from": equal[0], "to": equal[1], "engine": pair.challenger})
    rows += [{"over": "cheapest_by_hours", **row} for row in stretch_rows(found.cheapest_by_hours)]
    rows += [{"over": "cheapest_by_years", **row} for row in stretch_rows(found.cheapest_by_years)]
    return rows


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
