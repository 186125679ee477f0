"""Every figure of a comparison as a table; on a phone each row is a card."""

from collections.abc import Callable, Sequence
from typing import Any

from dash import html

from dashboard import text
from dashboard.figures.cost_by_element import shown
from model.measures import Comparison, EngineCost
from model.wording import ELEMENT_LABELS, cents, whole


def table(comparison: Comparison) -> html.Table:
    """
    Cost elements, totals and measures, an engine to a column.

    Parameters
    ----------
    comparison : Comparison

    Returns
    -------
    Table
        The command line's figures in the command line's order.
    """
    costs, currency = comparison.engines, comparison.scenario.currency
    head = html.Thead(html.Tr([html.Th(currency, scope="col"), *(html.Th(cost.name, scope="col") for cost in costs)]))
    elements = [
        _row(ELEMENT_LABELS[element], [whole(cost.elements[element].present_value) for cost in costs], costs)
        for element in shown(costs)
    ]
    rows: Sequence[tuple[str, Callable[[EngineCost], str]]] = (
        (text.TOTAL, lambda cost: whole(cost.total.present_value)),
        (text.TOTAL_NOMINAL, lambda cost: whole(cost.total.nominal)),
        (text.A_YEAR, lambda cost: whole(cost.equivalent_annual_cost)),
        (text.AN_HOUR, lambda cost: "" if cost.cost_per_hour is None else cents(cost.cost_per_hour)),
        (text.PAID_BY_WARRANTY, lambda cost: whole(cost.paid_by_warranty.present_value)),
        (text.FUEL_LITRES, lambda cost: whole(cost.fuel_litres) + (text.ESTIMATE if cost.fuel_is_estimated else "")),
        (text.CO2, lambda cost: whole(cost.co2_kg)),
    )
    totals = [_row(label, [of(cost) for cost in costs], costs) for label, of in rows]
    return html.Table([head, html.Tbody(elements), html.Tbody(totals, className="totals")], className="costs")


def _row(label: str, cells: Sequence[str], costs: Sequence[EngineCost]) -> html.Tr:
    """A line of the table; cells carry their engine's name for the phone."""
    owners: list[dict[str, Any]] = [{"data-engine": cost.name} for cost in costs]
    named = [html.Td(cell, **owner) for cell, owner in zip(cells, owners, strict=True)]
    return html.Tr([html.Th(label, scope="row"), *named])
