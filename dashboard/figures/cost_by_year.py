"""What each engine costs to run, year by year: stacked bars of the cost elements, one row of bars for each engine."""

from collections.abc import Mapping, Sequence
from typing import Any

from dash import html

from dashboard.drawer import Behind, key, keys_by_year
from dashboard.figures.notes import heading
from dashboard.tables import Cell, Column, Row, table
from dashboard.theme import ELEMENT_PAINTS, Look, Picture, marker_of
from model.inputs.terms import Element
from model.language import say
from model.measures import Comparison, EngineCost
from model.wording import ELEMENT_LABELS, whole

ROW = 176
"""Height of one engine's bars with its heading. [px]"""

BELOW = 56
"""Height of the axis. [px]"""

MOST_SUMS = 8
"""Years up to which each one's sum is written above its bar, on a phone too; of more, only the highest."""

GAP = 44
"""Height of a heading between two rows. [px]"""

RUNNING = tuple(
    element for element in Element if element not in (Element.PURCHASE, Element.FIT_UP, Element.FINANCE, Element.RESALE)
)
"""What running an engine costs; buying and selling it would dwarf it in the first year and the last."""


def shown(costs: Sequence[EngineCost]) -> list[Element]:
    """Running elements that cost any of the engines something, in the ledger's order."""
    return [element for element in RUNNING if any(cost.elements[element].nominal for cost in costs)]


def by_year(cost: EngineCost, element: Element) -> list[float]:
    """What an element comes to in each ownership year, money of the day. [money]"""
    return [float(amount) for amount in cost.ownership.elements[element].nominal]


def running_by_year(cost: EngineCost) -> list[float]:
    """What running an engine comes to in each ownership year, money of the day. [money]"""
    return [sum(amounts) for amounts in zip(*(by_year(cost, element) for element in RUNNING), strict=True)]


def finding(comparison: Comparison) -> str:
    """What the picture says: in how many years the cheapest engine costs less to run, and its dearest year."""
    cheapest, currency = comparison.cheapest, comparison.scenario.currency
    years = running_by_year(cheapest)
    dearest = max(range(len(years)), key=lambda year: years[year])
    most = f"{whole(years[dearest])} {currency}"
    if not any(years):
        return say("{engine} costs nothing to run", engine=cheapest.name)
    others = [running_by_year(cost) for cost in comparison.engines if cost is not cheapest]
    if not others:
        return say(
            "The dearest year of {engine} is year {year}: {most}", engine=cheapest.name, year=dearest + 1, most=most
        )
    less = sum(all(amount < other[year] for other in others) for year, amount in enumerate(years))
    told = {"engine": cheapest.name, "years": len(years), "year": dearest + 1, "most": most}
    if less == len(years):
        return say("{engine} costs the least to run in every year; its dearest is year {year}, {most}", **told)
    if less == 0:
        return say(
            "{engine} costs the least to run in no year, yet the least in all; its dearest is year {year}, {most}",
            **told,
        )
    return say(
        "{engine} costs the least to run in {less} of {years} {years:year|years}; its dearest is year {year}, {most}",
        less=less,
        **told,
    )


def picture(comparison: Comparison, looks: Mapping[str, Look]) -> Picture:
    """
    Running cost by year and element, money of the day, all engines on one scale.

    Parameters
    ----------
    comparison : Comparison
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Picture
        For each engine a trace for each element, and one with the years' sums.
    """
    costs = comparison.engines
    highest = max((max(running_by_year(cost)) for cost in costs), default=0.0) or 1.0
    height = ROW * len(costs) + BELOW
    layout: dict[str, Any] = {
        "height": height,
        "barmode": "stack",
        "bargap": 0.25,
        "showlegend": False,
        "hovermode": "closest",
        "xaxis": {
            "title": {"text": say("Ownership year")},
            "dtick": _step(costs),
            "tick0": 1,
            "showgrid": False,
            "range": [0.4, len(running_by_year(costs[0])) + 0.6],
            "anchor": _axis("y", len(costs) - 1),
        },
        "annotations": [],
    }
    traces = []
    for row, cost in enumerate(costs):
        top, foot = 1.0 - row * ROW / (ROW * len(costs)), 1.0 - (row + 1) * ROW / (ROW * len(costs))
        inner = (top - foot) * (1.0 - GAP / ROW)
        layout[_axis("yaxis", row)] = {
            "domain": [foot, foot + inner],
            "range": [0.0, highest * 1.14],
            "nticks": 4,
            "tickformat": ",d",
            "anchor": "x",
        }
        layout["annotations"].append(heading(_name(cost), foot + inner, xshift=-36))
        traces += [_bars(cost, element, row) for element in shown(costs)]
        traces.append(_sums(cost, row))
    return {"data": traces, "layout": layout}


def _axis(kind: str, row: int) -> str:
    """Name of a row's axis."""
    return kind if row == 0 else f"{kind}{row + 1}"


def _step(costs: Sequence[EngineCost]) -> int:
    """Every which year is written below."""
    return 1 if len(running_by_year(costs[0])) <= 12 else 2


def _name(cost: EngineCost) -> str:
    """Heading of a row: what running the engine comes to in all."""
    total = whole(sum(running_by_year(cost)))
    return f"<b>{total} {cost.case.scenario.currency}</b>  {cost.name}"


def _bars(cost: EngineCost, element: Element, row: int) -> dict[str, Any]:
    """The parts of one engine's bars that one element takes."""
    amounts, currency = by_year(cost, element), cost.case.scenario.currency
    label, year_words = say(ELEMENT_LABELS[element]), say("Year {year}", year="%{x}")
    return {
        "type": "bar",
        "name": f"{cost.name}: {label}",
        "x": list(range(1, len(amounts) + 1)),
        "y": amounts,
        "yaxis": _axis("y", row),
        "marker": marker_of(ELEMENT_PAINTS[element]),
        "customdata": [
            [f"{whole(amount)} {currency}", opens]
            for amount, opens in zip(amounts, keys_by_year(cost.name, (element,), len(amounts)), strict=True)
        ],
        "hovertemplate": f"{cost.name}<br>{year_words}, {label}: %{{customdata[0]}}<extra></extra>",
    }


def _sums(cost: EngineCost, row: int) -> dict[str, Any]:
    """What each year comes to, written above its bar."""
    amounts = running_by_year(cost)
    return {
        "type": "scatter",
        "name": f"{cost.name}: {say('Sum of the year')}",
        "mode": "text",
        "x": list(range(1, len(amounts) + 1)),
        "y": amounts,
        "yaxis": _axis("y", row),
        "text": [whole(amount) if len(amounts) <= MOST_SUMS or amount == max(amounts) else "" for amount in amounts],
        "textposition": "top center",
        "textfont": {"size": 12},
        "cliponaxis": False,
        "customdata": [
            [whole(amount), opens]
            for amount, opens in zip(amounts, keys_by_year(cost.name, RUNNING, len(amounts)), strict=True)
        ],
        "hoverinfo": "skip",
    }


def figures(comparison: Comparison) -> html.Div:
    """The same as a table: a line for each engine and element, a column for each year."""
    years = range(len(running_by_year(comparison.engines[0])))
    columns = [Column(say("Engine")), Column(say("Cost element"))]
    columns += [Column(say("Year {year}", year=year + 1), is_number=True) for year in years]
    rows: list[Row] = [
        [cost.name, say(ELEMENT_LABELS[element]), *(_cell(cost, element, year) for year in years)]
        for cost in comparison.engines
        for element in shown(comparison.engines)
    ]
    currency = comparison.scenario.currency
    return table(say("Running cost by year, {currency}, money of the day", currency=currency), columns, rows)


def _cell(cost: EngineCost, element: Element, year: int) -> Cell:
    """What an element comes to in a year, opening its rows."""
    amount = by_year(cost, element)[year]
    return Cell(whole(amount), amount, key(Behind(cost.name, (element,), (year, year + 1), is_nominal=True)))
