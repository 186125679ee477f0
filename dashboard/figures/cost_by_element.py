"""Cost by element: a stacked bar for each engine on one scale, resale to the left of zero, the total marked."""

from collections.abc import Mapping, Sequence
from typing import Any

from dash import html
from dash.development.base_component import Component

from dashboard import text
from dashboard.browser import aria
from dashboard.drawer import Behind, key
from dashboard.theme import ELEMENT_PAINTS, Look, Picture, marker_of
from model.inputs.terms import Element
from model.language import say
from model.measures import Comparison, EngineCost
from model.wording import ELEMENT_LABELS, whole

BAR_SPACE = 96
"""Height that one engine takes. [px]"""

BELOW = 64
"""Height of the axis. [px]"""


LABELLED = 0.05
"""Share of the highest total from which on a part is labelled; the others are in hover and table. [-]"""


def height(engines: int) -> int:
    """Height of the picture for a number of engines. [px]"""
    return BAR_SPACE * engines + BELOW


def shown(costs: Sequence[EngineCost]) -> list[Element]:
    """Elements that cost any of the engines something, in the ledger's order."""
    return [element for element in Element if any(cost.elements[element].present_value for cost in costs)]


def finding(comparison: Comparison) -> str:
    """What the picture says: in what the cheapest engine costs less than every other."""
    cheapest = comparison.cheapest
    others = [cost for cost in comparison.engines if cost is not cheapest]
    by_size = sorted(cheapest.elements, key=lambda element: -cheapest.elements[element].present_value)
    if not others:
        return text.largest_cost(cheapest.name, say(ELEMENT_LABELS[by_size[0]]))
    least = [element for element in by_size if all(_costs_less(element, cheapest, other) for other in others)]
    running = [_label(element) for element in least if element is not Element.RESALE]
    return text.costs_the_least_in(cheapest.name, running, Element.RESALE in least)


def _costs_less(element: Element, one: EngineCost, other: EngineCost) -> bool:
    """Whether an engine costs less than another in an element, as far as figures in whole money show."""
    amounts = one.elements[element].present_value, other.elements[element].present_value
    return amounts[0] < amounts[1] and whole(amounts[0]) != whole(amounts[1])


def _label(element: Element) -> str:
    """What an element is called."""
    return say(ELEMENT_LABELS[element])


def legend(comparison: Comparison) -> list[Component]:
    """What each part is, below the picture, so that it wraps with the page."""
    total = html.Span("▲", className="total-mark", **aria(hidden="true"))
    return [*legend_of(shown(comparison.engines)), html.Span([total, say(text.TOTAL_MARK)])]


def legend_of(elements: Sequence[Element]) -> list[Component]:
    """How cost elements are painted."""
    return [
        html.Span([html.Span(className=f"part part-{element.value}", **aria(hidden="true")), _label(element)])
        for element in elements
    ]


def picture(comparison: Comparison, looks: Mapping[str, Look]) -> Picture:
    """
    Cost by element of each engine, in present value.

    Parameters
    ----------
    comparison : Comparison
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Picture
        One trace for each element, one for the totals; an engine's place is its position in the scenario.
    """
    costs, currency = comparison.engines, comparison.scenario.currency
    longest = max(cost.total.present_value for cost in costs)
    traces = [_bars(costs, element, LABELLED * longest) for element in shown(costs)]
    layout = {
        "barmode": "relative",
        "bargap": 0.5,
        "height": height(len(costs)),
        "showlegend": False,
        "uniformtext": {"mode": "hide", "minsize": 12},
        "annotations": [_heading(place, cost, currency) for place, cost in enumerate(costs)],
        "xaxis": {"tickformat": ",d", "title": {"text": currency}, "zeroline": False, "showgrid": False},
        "yaxis": {"visible": False, "range": [len(costs) - 0.55, -0.62], "tickvals": list(range(len(costs)))},
    }
    return {"data": [*traces, _totals(comparison, looks)], "layout": layout}


def _bars(costs: Sequence[EngineCost], element: Element, labelled_from: float) -> dict[str, Any]:
    """The parts of all bars that one element takes."""
    currency = costs[0].case.scenario.currency
    amounts = [cost.elements[element].present_value for cost in costs]
    label, paint = _label(element), ELEMENT_PAINTS[element]
    return {
        "type": "bar",
        "name": label,
        "orientation": "h",
        "x": amounts,
        "y": list(range(len(costs))),
        "customdata": [
            [cost.name, f"{whole(amount)} {currency}", key(Behind(cost.name, (element,)))]
            for cost, amount in zip(costs, amounts, strict=True)
        ],
        "text": [f"{label}<br>{whole(amount)}" if abs(amount) >= labelled_from else "" for amount in amounts],
        "textposition": "inside",
        "insidetextanchor": "middle",
        "textangle": 0,
        "insidetextfont": {"color": paint.ink, "size": 13},
        "marker": marker_of(paint),
        "hovertemplate": f"%{{customdata[0]}}<br>{label}: %{{customdata[1]}}<extra></extra>",
    }


def _totals(comparison: Comparison, looks: Mapping[str, Look]) -> dict[str, Any]:
    """A mark on each bar where the costs less resale come to."""
    costs, currency = comparison.engines, comparison.scenario.currency
    return {
        "type": "scatter",
        "name": say(text.TOTAL_MARK),
        "mode": "markers",
        "x": [cost.total.present_value for cost in costs],
        "y": [place + 0.36 for place in range(len(costs))],
        "marker": {
            "symbol": "triangle-up",
            "size": 13,
            "color": [looks[cost.name].colour for cost in costs],
        },
        "customdata": [
            [cost.name, f"{whole(cost.total.present_value)} {currency}", key(Behind(cost.name))] for cost in costs
        ],
        "hovertemplate": f"%{{customdata[0]}}<br>{say(text.TOTAL_MARK)}: %{{customdata[1]}}<extra></extra>",
    }


def _heading(place: int, cost: EngineCost, currency: str) -> dict[str, Any]:
    """An engine's name and total above its bar."""
    estimate = say(text.ESTIMATE) if cost.fuel_is_estimated else ""
    return {
        "text": f"<b>{whole(cost.total.present_value)} {currency}</b>  {cost.name}{estimate}",
        "x": 0,
        "xref": "paper",
        "xanchor": "left",
        "y": place - 0.27,
        "yanchor": "bottom",
        "showarrow": False,
        "font": {"size": 14},
    }
