"""Cost since delivery: a line for each engine with the steps of its visits, the break-even and the sale at the end."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from dash import html

from dashboard import text
from dashboard.answers import Mark, SinceDelivery
from dashboard.drawer import Behind, key
from dashboard.tables import Cell, Column, Row, table
from dashboard.theme import Look, Picture
from model.break_even import Cumulative
from model.language import say
from model.measures import EngineCost
from model.uncertainty.bands import Band
from model.wording import whole

HEIGHT = 400
"""Height of the picture. [px]"""


def picture(found: SinceDelivery, told: Mark | None, looks: Mapping[str, Look], bands: Sequence[Band] = ()) -> Picture:
    """
    Cost since delivery in money of the day.

    Parameters
    ----------
    found : SinceDelivery
    told : Mark or None
        The pay-back that carries its label; the others are plain dots.
    looks : mapping of str to Look
        By engine.
    bands : sequence of Band
        Where most of the trials lie, engine by engine; none where nothing varies.

    Returns
    -------
    Picture
        A band and a line for each engine, a mark each for the total at the sale, a dot for each that pays back later.
    """
    currency = found.costs[0].case.scenario.currency
    lines = [
        _line(cost, curve, looks[cost.name], currency)
        for cost, curve in zip(found.costs, found.curves, strict=True)
    ]  # fmt: skip
    dots = [_dot(mark, looks[mark.challenger], mark == told, currency) for mark in found.marks if mark.years]
    ends = [_sale(cost, looks[cost.name], currency) for cost in found.costs]
    years = found.costs[0].case.years
    layout = {
        "height": HEIGHT,
        "hovermode": "closest",
        "xaxis": {"title": {"text": say(text.SINCE_DELIVERY)}, "range": [0.0, years * 1.03], "showgrid": False},
        "yaxis": {"title": {"text": currency}, "tickformat": ",d", "rangemode": "tozero"},
        "legend": {"itemclick": False, "itemdoubleclick": False},
    }
    shades = [
        _shade(cost, around, looks[cost.name], currency) for cost, around in zip(found.costs, bands, strict=False)
    ]
    return {"data": [*shades, *lines, *ends, *dots], "layout": layout}


def finding(found: SinceDelivery) -> str:
    """What the picture says: when the engine that is the cheapest to buy is overtaken."""
    if not found.marks:
        return say(text.ONE_ENGINE_SINCE_DELIVERY)
    paid_back = [(mark.challenger, mark.years) for mark in found.marks]
    return text.overtaken(found.marks[0].baseline, paid_back, found.costs[0].case.years)


def _shade(cost: EngineCost, around: Band, look: Look, currency: str) -> dict[str, Any]:
    """The area that holds 80 % of the trials at the end of each year: there along the upper ends, back by the lower."""
    there, back = list(range(len(around.t))), list(range(len(around.t)))[::-1]
    name = say(text.BAND, engine=cost.name)
    red, green, blue = (int(look.colour[place : place + 2], 16) for place in (1, 3, 5))
    words = [
        [text.after_years(t), f"{whole(low)} - {whole(high)} {currency}"]
        for t, low, high in zip(around.t.tolist(), around.low.tolist(), around.high.tolist(), strict=True)
    ]
    return {
        "type": "scatter",
        "name": name,
        "x": [float(around.t[place]) for place in there + back],
        "y": [float(around.high[place]) for place in there] + [float(around.low[place]) for place in back],
        "mode": "lines",
        "line": {"width": 0},
        "fill": "toself",
        "fillcolor": f"rgba({red},{green},{blue},0.14)",
        "customdata": [words[place] for place in there + back],
        "hovertemplate": f"{name}<br>%{{customdata[0]}}: %{{customdata[1]}}<extra></extra>",
        "showlegend": False,
    }


def _line(cost: EngineCost, curve: Cumulative, look: Look, currency: str) -> dict[str, Any]:
    """Straight between events, upright at them, down at the sale to the total."""
    t, amounts = [0.0], [float(curve.after[0])]
    for time, before, after in zip(
        curve.t[1:].tolist(), curve.before[1:].tolist(), curve.after[1:].tolist(), strict=True
    ):
        t += [time, time]
        amounts += [before, after]
    t.append(t[-1])
    amounts.append(cost.total.nominal)
    told = {time: text.after_years(time) for time in curve.t.tolist()}
    words = [told[time] for time in t]
    words[-1] = f"{words[-1]}, {say(text.SALE)}"
    return {
        "type": "scatter",
        "name": cost.name,
        "x": t,
        "y": amounts,
        "mode": "lines",
        "line": {"color": look.colour, "dash": look.dash, "width": 3},
        "customdata": [[word, f"{whole(amount)} {currency}"] for word, amount in zip(words, amounts, strict=True)],
        "hovertemplate": f"{cost.name}<br>%{{customdata[0]}}: %{{customdata[1]}}<extra></extra>",
    }


def _sale(cost: EngineCost, look: Look, currency: str) -> dict[str, Any]:
    """What it has cost in all once it is sold."""
    words = f"{cost.name}<br>{say(text.AFTER_THE_SALE)}: {whole(cost.total.nominal)} {currency}"
    return {
        "type": "scatter",
        "name": f"{cost.name}, {say(text.SALE)}",
        "x": [cost.case.years],
        "y": [cost.total.nominal],
        "mode": "markers",
        "marker": {"symbol": look.marker, "size": 10, "color": look.colour},
        "showlegend": False,
        "cliponaxis": False,
        "customdata": [[key(Behind(cost.name, is_nominal=True))]],
        "hovertemplate": f"{words}<extra></extra>",
    }


def _dot(mark: Mark, look: Look, is_told: bool, currency: str) -> dict[str, Any]:
    """Where an engine has paid back what it cost more."""
    assert mark.years is not None
    words = text.paid_back(mark.challenger, mark.years)
    return {
        "type": "scatter",
        "name": words,
        "x": [mark.years],
        "y": [mark.cost],
        "mode": "markers+text" if is_told else "markers",
        "text": [text.years_in_words(mark.years)],
        "textposition": "top left" if mark.years > 1.5 else "top right",
        "textfont": {"size": 14},
        "marker": {"symbol": look.marker, "size": 14 if is_told else 9, "color": look.colour,
                "line": {"color": "#FFFFFF", "width": 2}},
        "showlegend": False,
        "cliponaxis": False,
        "hovertemplate": f"{words}<br>{mark.baseline}: {whole(mark.cost)} {currency}<extra></extra>",
    }  # fmt: skip


def figures(found: SinceDelivery) -> html.Div:
    """The same as a table: at delivery, at the end of each year before the sale, and after it."""
    columns = [Column(say("When")), *(Column(cost.name, is_number=True) for cost in found.costs)]
    years = found.costs[0].case.years
    rows: list[Row] = []
    for t in [*range(math.ceil(years)), years]:
        amounts = [float(curve.at([float(t)])[1][0]) for curve in found.curves]
        rows.append([text.after_years(float(t)), *(Cell(whole(amount), amount) for amount in amounts)])
    sold: Row = [
        say(text.AFTER_THE_SALE),
        *(
            Cell(whole(cost.total.nominal), cost.total.nominal, key(Behind(cost.name, is_nominal=True)))
            for cost in found.costs
        ),
    ]
    currency = found.costs[0].case.scenario.currency
    return table(say("Cost since delivery, {currency}, money of the day", currency=currency), columns, rows, [sold])
