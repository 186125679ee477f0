"""The cheapest engine over hours a year: what each costs more than the cheapest, and a band of the cheapest below."""

from collections.abc import Mapping, Sequence
from typing import Any

from dash import html

from dashboard import text
from dashboard.tables import Cell, Column, table
from dashboard.theme import Look, Picture
from model.curves import HoursCurve
from model.language import say
from model.sweep import Stretch
from model.wording import plain, whole

HEIGHT = 400
"""Height of the picture. [px]"""


def picture(
    curve: HoursCurve, stretches: Sequence[Stretch], today: float, looks: Mapping[str, Look], currency: str
) -> Picture:
    """
    What each engine costs more than the cheapest over hours a year, in present value.

    Parameters
    ----------
    curve : HoursCurve
        Engines in the order of `looks`.
    stretches : sequence of Stretch
        The cheapest engine, in order.
    today : float
        Hours as they are set. [h/year]
    looks : mapping of str to Look
        Of the engines compared, in the scenario's order.
    currency : str

    Returns
    -------
    Picture
        One line for each engine, then one bar for each stretch.
    """
    end = float(curve.hours[-1])
    shown = [stretch for stretch in stretches if stretch.begin < end]
    lines = [_line(curve, row, name, look) for row, (name, look) in enumerate(looks.items())]
    bands = [_band(stretch, end, looks[stretch.engine]) for stretch in shown]
    layout = {
        "height": HEIGHT,
        "barmode": "overlay",
        "hovermode": "closest",
        "uniformtext": {"mode": "hide", "minsize": 12},
        "xaxis": {"title": {"text": say(text.HOURS_A_YEAR)}, "range": [float(curve.hours[0]), end], "anchor": "y2",
               "showgrid": False},
        "yaxis": {"title": {"text": say(text.MORE_THAN_CHEAPEST, currency=currency)}, "tickformat": ",d",
               "rangemode": "tozero", "domain": [0.17, 1.0]},
        "yaxis2": {"visible": False, "domain": [0.0, 0.1], "range": [-0.5, 0.5], "fixedrange": True},
        "legend": {"itemclick": False, "itemdoubleclick": False},
        "shapes": [_today_line(today)],
        "annotations": [_today_label(today, end)],
    }  # fmt: skip
    return {"data": [*lines, *bands], "layout": layout}


def _line(curve: HoursCurve, row: int, name: str, look: Look) -> dict[str, Any]:
    """One engine; zero where it is the cheapest."""
    hours, above = curve.hours.tolist(), curve.above_cheapest[row].tolist()
    words = say("{hours} h a year: {amount} more", hours="%{customdata[0]}", amount="%{customdata[1]}")
    return {
        "type": "scatter",
        "name": name,
        "x": hours,
        "y": above,
        "mode": "lines",
        "line": {"color": look.colour, "dash": look.dash, "width": 3},
        "customdata": [[plain(round(hour, 1)), whole(amount)] for hour, amount in zip(hours, above, strict=True)],
        "hovertemplate": f"{name}<br>{words}<extra></extra>",
    }


def _band(stretch: Stretch, end: float, look: Look) -> dict[str, Any]:
    """A stretch in which one engine is the cheapest, as far as the picture reaches."""
    words = text.cheapest_from_to(stretch)
    return {
        "type": "bar",
        "name": words,
        "orientation": "h",
        "base": [stretch.begin],
        "x": [min(stretch.end, end) - stretch.begin],
        "y": [0],
        "yaxis": "y2",
        "width": 1.0,
        "marker": {"color": look.colour, "line": {"color": "#FFFFFF", "width": 1}},
        "text": [stretch.engine],
        "textposition": "inside",
        "insidetextanchor": "middle",
        "textangle": 0,
        "insidetextfont": {"color": look.ink, "size": 13},
        "showlegend": False,
        "hovertemplate": f"{words}<extra></extra>",
    }


def _today_line(today: float) -> dict[str, Any]:
    """Hours as they are set, through both parts."""
    return {"type": "line", "x0": today, "x1": today, "y0": 0.0, "y1": 1.0, "yref": "paper",
            "line": {"width": 1.5, "dash": "dot"}}  # fmt: skip


def _today_label(today: float, high: float) -> dict[str, Any]:
    """What that line is; on the side that has room."""
    is_right = today < 0.6 * high
    return {
        "text": say(text.TODAY, hours=plain(round(today, 1))),
        "x": today,
        "xanchor": "left" if is_right else "right",
        "xshift": 6 if is_right else -6,
        "y": 1.0,
        "yref": "paper",
        "yanchor": "top",
        "showarrow": False,
    }


def figures(curve: HoursCurve, names: Sequence[str], currency: str) -> html.Div:
    """The same as a table: the total of each engine at every fifth point."""
    columns = [Column(say(text.HOURS_A_YEAR), is_number=True), *(Column(name, is_number=True) for name in names)]
    rows = [
        [
            Cell(plain(round(float(curve.hours[at]), 1)), float(curve.hours[at])),
            *(Cell(whole(float(costs[at])), float(costs[at])) for costs in curve.costs),
        ]
        for at in range(0, curve.hours.size, 5)
    ]
    return table(say("Total cost over hours a year, {currency}, present value", currency=currency), columns, rows)
