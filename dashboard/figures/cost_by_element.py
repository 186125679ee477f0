"""Cost by element: a stacked bar for each engine on one scale, resale to the left of zero, the total marked."""

from collections.abc import Mapping, Sequence
from typing import Any

import plotly.graph_objects as go

from dashboard import text
from dashboard.theme import ELEMENT_PAINTS, Look
from model.inputs.terms import Element
from model.measures import Comparison, EngineCost
from model.wording import ELEMENT_LABELS, whole

BAR_SPACE = 96
"""Height that one engine takes. [px]"""

BELOW = 96
"""Height of the axis and the legend. [px]"""


def height(engines: int) -> int:
    """Height of the picture for a number of engines. [px]"""
    return BAR_SPACE * engines + BELOW


def shown(costs: Sequence[EngineCost]) -> list[Element]:
    """Elements that cost any of the engines something, in the ledger's order."""
    return [element for element in Element if any(cost.elements[element].present_value for cost in costs)]


def finding(comparison: Comparison) -> str:
    """What the picture says, in a sentence."""
    largest = []
    for cost in comparison.engines:
        element = max(cost.elements, key=lambda element: cost.elements[element].present_value)
        largest.append((cost.name, ELEMENT_LABELS[element]))
    return text.largest_cost(largest)


def picture(comparison: Comparison, looks: Mapping[str, Look]) -> go.Figure:
    """
    Cost by element of each engine, in present value.

    Parameters
    ----------
    comparison : Comparison
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Figure
        One trace for each element, one for the totals; an engine's place is its position in the scenario.
    """
    costs, currency = comparison.engines, comparison.scenario.currency
    traces = [_bars(costs, element, currency) for element in shown(costs)]
    figure = go.Figure([*traces, _totals(comparison, looks)])
    figure.update_layout(
        barmode="relative",
        bargap=0.5,
        height=height(len(costs)),
        uniformtext={"mode": "hide", "minsize": 12},
        annotations=[_heading(place, cost, currency) for place, cost in enumerate(costs)],
        xaxis={"tickformat": ",d", "title": {"text": currency}, "zeroline": True},
        yaxis={"visible": False, "range": [len(costs) - 0.6, -0.75], "tickvals": list(range(len(costs)))},
        legend={"y": -0.01, "yref": "container", "yanchor": "bottom", "traceorder": "normal", "itemclick": False,
                "itemdoubleclick": False},
        margin={"b": BELOW - 16},
    )  # fmt: skip
    figure.layout.legend.y = 0.0
    return figure


def _bars(costs: Sequence[EngineCost], element: Element, currency: str) -> go.Bar:
    """The parts of all bars that one element takes."""
    amounts = [cost.elements[element].present_value for cost in costs]
    label, paint = ELEMENT_LABELS[element], ELEMENT_PAINTS[element]
    return go.Bar(
        name=label,
        orientation="h",
        x=amounts,
        y=list(range(len(costs))),
        customdata=[[cost.name, f"{whole(amount)} {currency}"] for cost, amount in zip(costs, amounts, strict=True)],
        text=[f"{label}<br>{whole(amount)}" if amount else "" for amount in amounts],
        textposition="inside",
        insidetextanchor="middle",
        textangle=0,
        insidetextfont={"color": paint.ink, "size": 13},
        marker=_marker(paint.colour, paint.pattern),
        hovertemplate=f"%{{customdata[0]}}<br>{label}: %{{customdata[1]}}<extra></extra>",
    )


def _marker(colour: str, pattern: str) -> dict[str, Any]:
    """Fill and outline of a part."""
    outline = {"color": "rgba(60,66,74,0.55)", "width": 0.75}
    if not pattern:
        return {"color": colour, "line": outline}
    hatching = {"shape": pattern, "bgcolor": colour, "fgcolor": "#6B645B", "size": 7, "solidity": 0.18}
    return {"color": colour, "line": outline, "pattern": hatching}


def _totals(comparison: Comparison, looks: Mapping[str, Look]) -> go.Scatter:
    """A mark on each bar where the costs less resale come to."""
    costs, currency = comparison.engines, comparison.scenario.currency
    return go.Scatter(
        name=text.TOTAL_MARK,
        mode="markers",
        x=[cost.total.present_value for cost in costs],
        y=list(range(len(costs))),
        marker={
            "symbol": "diamond",
            "size": 13,
            "color": [looks[cost.name].colour for cost in costs],
            "line": {"color": "#FFFFFF", "width": 2},
        },
        customdata=[[cost.name, f"{whole(cost.total.present_value)} {currency}"] for cost in costs],
        hovertemplate="%{customdata[0]}<br>Total: %{customdata[1]}<extra></extra>",
    )


def _heading(place: int, cost: EngineCost, currency: str) -> dict[str, Any]:
    """An engine's name and total above its bar."""
    estimate = text.ESTIMATE if cost.fuel_is_estimated else ""
    return {
        "text": f"{cost.name}{estimate}  <b>{whole(cost.total.present_value)} {currency}</b>",
        "x": 0,
        "xref": "paper",
        "xanchor": "left",
        "y": place - 0.27,
        "yanchor": "bottom",
        "showarrow": False,
        "font": {"size": 16},
    }
