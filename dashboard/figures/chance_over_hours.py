"""The chance of being the cheapest over hours a year: a line for each engine, and the hours as they are set."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from dash import html

from dashboard.figures.notes import beside, upright
from dashboard.tables import Cell, Column, table
from dashboard.theme import FIXED_LEGEND, Look, Picture
from model.language import say
from model.uncertainty.bands import ChanceCurve
from model.wording import plain, to_a_tenth, whole
from model.wording_of_trials import percent

HEIGHT = 360
"""Height of the picture. [px]"""


def finding(curve: ChanceCurve, names: Sequence[str], today: float) -> str:
    """
    What the picture says: the likeliest engine at the hours as set, and between which hours it stays so.

    Parameters
    ----------
    curve : ChanceCurve
    names : list of str
        Engines, in the order of the curve.
    today : float
        Hours as they are set. [h/year]
    """
    at_today = [float(np.interp(today, curve.hours, chance)) for chance in curve.chances]
    likeliest = int(np.argmax(at_today))
    begin, end = likeliest_from_to(curve, likeliest, today)
    told = {"engine": names[likeliest], "hours": plain(round(today, 1)), "chance": percent(at_today[likeliest])}
    first = say("At {hours} h a year {engine} is the cheapest in {chance} of the trials", **told)
    if begin is None and end is None:
        return say("{told}, and the likeliest at any hours shown", told=first)
    if end is None:
        return say("{told}, and the likeliest above {begin} h", told=first, begin=whole(begin or 0.0))
    if begin is None:
        return say("{told}, and the likeliest below {end} h", told=first, end=whole(end))
    return say("{told}, and the likeliest from {begin} to {end} h", told=first, begin=whole(begin), end=whole(end))


def likeliest_from_to(curve: ChanceCurve, engine: int, today: float) -> tuple[float | None, float | None]:
    """
    Between which hours around today's an engine is the likeliest to be the cheapest, straight between the points.

    Returns
    -------
    (float or None, float or None)
        None where it stays so to the end of the curve. [h/year]
    """
    others = np.delete(curve.chances, engine, axis=0)
    ahead = curve.chances[engine] - (others.max(axis=0) if len(others) else -1.0)
    crossings = []
    for place in np.flatnonzero((ahead[1:] > 0.0) != (ahead[:-1] > 0.0)).tolist():
        share = float(ahead[place] / (ahead[place] - ahead[place + 1]))
        crossings.append(float(curve.hours[place] + share * (curve.hours[place + 1] - curve.hours[place])))
    below, above = [at for at in crossings if at <= today], [at for at in crossings if at > today]
    return max(below, default=None), min(above, default=None)


def picture(curve: ChanceCurve, today: float, looks: Mapping[str, Look]) -> Picture:
    """
    Chance of being the cheapest over hours a year.

    Parameters
    ----------
    curve : ChanceCurve
        Engines in the order of `looks`.
    today : float
        Hours as they are set. [h/year]
    looks : mapping of str to Look
        Of the engines compared, in the scenario's order.

    Returns
    -------
    Picture
        One line for each engine.
    """
    span = float(curve.hours[0]), float(curve.hours[-1])
    layout = {
        "height": HEIGHT,
        "hovermode": "closest",
        "margin": {"r": 22},
        "xaxis": {"title": {"text": say("Running hours a year")}, "range": list(span), "showgrid": False},
        "yaxis": {"title": {"text": say("Trials in which it is the cheapest, %")}, "range": [0.0, 104.0], "dtick": 25},
        "legend": FIXED_LEGEND,
        "shapes": [
            upright(today),
            {
                "type": "line",
                "x0": 0.0,
                "x1": 1.0,
                "xref": "paper",
                "y0": 50.0,
                "y1": 50.0,
                "line": {"width": 1, "dash": "dash"},
                "opacity": 0.5,
            },
        ],
        "annotations": [beside(say("{hours} h, as set", hours=plain(round(today, 1))), today, span)],
    }
    return {"data": [_line(curve, row, name, look) for row, (name, look) in enumerate(looks.items())], "layout": layout}


def _line(curve: ChanceCurve, row: int, name: str, look: Look) -> dict[str, Any]:
    """One engine."""
    chances = (100.0 * curve.chances[row]).tolist()
    return {
        "type": "scatter",
        "name": name,
        "x": curve.hours.tolist(),
        "y": chances,
        "mode": "lines+markers",
        "line": {"color": look.colour, "dash": look.dash, "width": 3, "shape": "spline", "smoothing": 0.5},
        "marker": {"symbol": look.marker, "size": 7, "color": look.colour},
        "customdata": [[percent(chance / 100.0)] for chance in chances],
        "hovertemplate": f"{name}<br>{say('{hours} h a year', hours='%{x:,.0f}')}: %{{customdata[0]}}<extra></extra>",
    }


def figures(curve: ChanceCurve, names: Sequence[str]) -> html.Div:
    """The same as a table."""
    columns = [Column(say("Running hours a year"), is_number=True)]
    for name in names:
        columns += [
            Column(say("{engine}, %", engine=name), is_number=True),
            Column(say("standard error"), is_number=True),
        ]
    rows = []
    for place, hours in enumerate(curve.hours.tolist()):
        row = [Cell(plain(round(hours, 1)), hours)]
        for engine in range(len(names)):
            chance, error = (float(100.0 * part[engine, place]) for part in (curve.chances, curve.standard_errors))
            row += [Cell(to_a_tenth(chance), chance), Cell(to_a_tenth(error), error)]
        rows.append(row)
    return table(say("Trials in which each engine is the cheapest"), columns, rows)
