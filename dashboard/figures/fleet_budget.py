"""The fleet's budget by year: a stacked bar of what is expected, and beside it how sure that is."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from dash import html
from dash.development.base_component import Component

from dashboard.browser import aria
from dashboard.theme import ELEMENT_PAINTS, FIXED_LEGEND, Picture, marker_of
from model.fleet.budget import SHARES, Budget
from model.fleet.cash import ELEMENTS
from model.fleet.reading import Fleet
from model.fleet.rules_told import element_told, year_told
from model.inputs.terms import Element
from model.language import say
from model.wording import ELEMENT_LABELS, about, whole

HEIGHT = 460
"""Height of the picture. [px]"""

BAR, BESIDE = 0.5, 0.36
"""Width of a bar, and how far right of its middle its spread stands. [year]"""

SPREAD_MARKS = {0.5: ("line-ew", 14, 2), 0.8: ("line-ew", 22, 4), 0.95: ("line-ew", 14, 2)}
"""Symbol, size and line of the mark of a share of the trials. [-, px, px]"""


def held_in(share: float) -> str:
    """What a mark of the spread says."""
    return say("Holds in {share} of 100 trials", share=whole(100.0 * share))


def shown(budget: Budget) -> list[Element]:
    """Elements that the fleet pays or gets something for, in the ledger's order."""
    return [element for row, element in enumerate(ELEMENTS) if np.any(budget.by_element[row])]


def answer(fleet: Fleet, budget: Budget) -> tuple[str, str, str]:
    """The answer around its figure: what the first budget year is expected to cost, and what makes that sure."""
    expected, more = float(budget.expected[0]), float(budget.contingency[0])
    known = {"year": year_told(fleet, 0), "units": whole(budget.units), "currency": fleet.file.currency}
    amount, contingency = about(expected, abs(more)), about(abs(more), abs(more))
    after = say(" in {year}; with {more} {currency} more that holds in 80 of 100 trials.", more=contingency, **known)
    if contingency == "0":
        after = say(" in {year}.", **known)
    elif more < 0.0:
        after = say(" in {year}; that holds in more than 80 of 100 trials, as a few dear ones raise the mean.", **known)
    before = say("{units:The unit is|The {units} units are} expected to cost ", **known)
    return before, f"{amount} {fleet.file.currency}", after


def finding(fleet: Fleet, budget: Budget) -> str:
    """What the picture says: which element takes most of the years, and which year is the dearest."""
    sums = budget.by_element.sum(axis=1)
    largest, dearest, paid = int(np.argmax(sums)), int(np.argmax(budget.expected)), float(sums[sums > 0.0].sum())
    if paid <= 0.0:
        return say("The budget comes to nothing")
    known = {
        "element": say(ELEMENT_LABELS[ELEMENTS[largest]]),
        "share": whole(100.0 * float(sums[largest]) / paid),
        "years": _span(fleet),
        "year": year_told(fleet, dearest),
        "amount": about(float(budget.expected[dearest]), abs(float(budget.contingency[dearest]))),
        "currency": fleet.file.currency,
    }
    if np.any(sums < 0.0):
        return say(
            "{element} is {share} % of what {years} cost before old engines are sold; the dearest year is {year}, "
            "{amount} {currency}",
            **known,
        )
    return say(
        "{element} is {share} % of the budget of {years}; the dearest year is {year}, {amount} {currency}", **known
    )


def _span(fleet: Fleet) -> str:
    """First and last budget year."""
    first, last = year_told(fleet, 0), year_told(fleet, fleet.terms.horizon - 1)
    return first if first == last else f"{first}\u2013{last}"


def legend(budget: Budget) -> list[Component]:
    """What each part of a bar is."""
    return [
        html.Span([html.Span(className=f"part part-{element.value}", **aria(hidden="true")), element_told(element)])
        for element in shown(budget)
    ]


def picture(fleet: Fleet, budget: Budget) -> Picture:
    """
    Cash of every budget year in money of the day.

    Parameters
    ----------
    fleet : Fleet
    budget : Budget

    Returns
    -------
    Picture
        A trace for each element, one for the line of the spread, one for each of its marks, one for the mean.
    """
    years = fleet.terms.horizon
    ticks = list(range(years))
    layout = {
        "height": HEIGHT,
        "barmode": "relative",
        "hovermode": "closest",
        "xaxis": {
            "tickvals": ticks,
            "ticktext": [year_told(fleet, year) for year in ticks],
            "range": [-0.6, years - 0.35],
            "showgrid": False,
            "autotickangles": [0, -45],  # to the left, so that the last year's name stays on a phone
        },
        "yaxis": {"title": {"text": fleet.file.currency}, "tickformat": ",d", "rangemode": "tozero"},
        "legend": FIXED_LEGEND,
    }
    bars = [_bars(fleet, budget, element) for element in shown(budget)]
    return {"data": [*bars, *_spread(fleet, budget)], "layout": layout}


def _bars(fleet: Fleet, budget: Budget, element: Element) -> dict[str, Any]:
    """The parts of all bars that one element takes."""
    amounts, paint, label = (
        budget.by_element[ELEMENTS.index(element)].tolist(),
        ELEMENT_PAINTS[element],
        element_told(element),
    )
    told = [[year_told(fleet, year), f"{whole(amount)} {fleet.file.currency}"] for year, amount in enumerate(amounts)]
    return {
        "type": "bar",
        "name": label,
        "x": list(range(len(amounts))),
        "y": amounts,
        "width": BAR,
        "customdata": told,
        "marker": marker_of(paint),
        "showlegend": False,
        "hovertemplate": f"%{{customdata[0]}}<br>{label}: %{{customdata[1]}}<extra></extra>",
    }


def _spread(fleet: Fleet, budget: Budget) -> list[dict[str, Any]]:
    """Beside each bar: the mean of the trials, and what a year's budget must be to hold in a share of them."""
    held = {share: budget.quantile(share).tolist() for share in SHARES}
    x = [year + BESIDE for year in range(fleet.terms.horizon)]
    told = [[line] for line in _told(fleet, budget)]
    hover = {"customdata": told, "hovertemplate": "%{customdata[0]}<extra></extra>"}
    upright: dict[str, Any] = {
        "type": "scatter", "mode": "lines", "x": _with_gaps(x, x), "hoverinfo": "skip", "showlegend": False,
        "y": _with_gaps(held[SHARES[0]], held[SHARES[-1]]), "line": {"width": 2, "color": "#7A8C9F"},
    }  # fmt: skip
    marks = [
        {"type": "scatter", "mode": "markers", "name": held_in(share), "x": x, "y": held[share],
         "marker": {"symbol": symbol, "size": size, "line": {"width": width, "color": "#7A8C9F"}}, **hover}
        for share, (symbol, size, width) in SPREAD_MARKS.items()
    ]  # fmt: skip
    mean = {
        "type": "scatter", "mode": "markers", "name": say("Expected, what is got taken off"), "x": x,
        "y": budget.expected.tolist(), **hover,
        "marker": {"symbol": "diamond", "size": 10, "color": "#7A8C9F", "line": {"width": 1, "color": "#FFFFFF"}},
    }  # fmt: skip
    return [upright, mean, *marks]


def _with_gaps(there: Sequence[float], back: Sequence[float]) -> list[float | None]:
    """Pairs of values with a gap behind each, so that one trace draws many lines."""
    return [value for pair in zip(there, back, strict=True) for value in (*pair, None)]


def _told(fleet: Fleet, budget: Budget) -> list[str]:
    """What every year's spread says, a line each."""
    currency, lines = fleet.file.currency, []
    for year in range(fleet.terms.horizon):
        parts = [say("{year}: expected {amount} {currency}", year=year_told(fleet, year),
                     amount=whole(float(budget.expected[year])), currency=currency)]  # fmt: skip
        for share in SHARES:
            told = held_in(share)
            parts.append(f"{told}: {whole(float(budget.quantile(share)[year]))} {currency}")
        parts.append(say("Contingency: {amount} {currency}", amount=whole(float(budget.contingency[year])),
                         currency=currency))  # fmt: skip
        lines.append("<br>".join(parts))
    return lines
