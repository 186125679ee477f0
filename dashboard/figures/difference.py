"""The difference between the two cheapest engines over the trials: on which side of zero they lie, and how far."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from dash import html

from dashboard.figures.notes import SMALL, upright, words, wrapped
from dashboard.tables import Cell, Column, Row, table
from dashboard.theme import OUTLINE, Look, Picture
from model.language import say
from model.uncertainty.difference import Difference
from model.wording import about, to_a_tenth, whole
from model.wording_of_trials import percent

HEIGHT = 424
"""Height of the picture. [px]"""

BARS = [0.0, 0.64]
"""Part of the height that the bars take; the sides are written above. [-]"""


def finding(found: Difference, currency: str) -> str:
    """What the picture says: in how many trials each of the two costs less, and by how much in the middle one."""
    width = found.interval[1] - found.interval[0]
    told = {"engine": found.cheaper, "other": found.other, "share": percent(found.share_cheaper), "currency": currency}
    amount = about(abs(found.median), width)
    if found.median >= 0.0:
        return say(
            "{engine} costs less than {other} in {share} of the trials; "
            "half of all trials save {amount} {currency} or more",
            amount=amount,
            **told,
        )
    return say(
        "{engine} costs less than {other} in only {share} of the trials; "
        "half of all trials cost at least {amount} {currency} more",
        amount=amount,
        **told,
    )


def picture(found: Difference, looks: Mapping[str, Look], currency: str) -> Picture:
    """
    Trials by what the other engine costs more.

    Parameters
    ----------
    found : Difference
    looks : mapping of str to Look
        By engine.
    currency : str

    Returns
    -------
    Picture
        Bars of either side of zero, the interval of 80 % of the trials, the median.
    """
    highest = 100.0 * float(found.shares.max())
    span = _span(found)
    layout = {
        "height": HEIGHT,
        "bargap": 0.04,
        "barmode": "overlay",
        "showlegend": False,
        "hovermode": "closest",
        "xaxis": {"title": {"text": currency}, "tickformat": ",d", "range": span, "showgrid": False, "zeroline": False},
        "yaxis": {"title": {"text": say("Trials, %")}, "range": [0.0, 1.18 * highest], "domain": BARS, "nticks": 5},
        "shapes": [upright(0.0, "solid", y1=BARS[1])],
        "annotations": [*_sides(found), *_in_the_middle(found)],
    }
    sides = [_side(found, looks, is_above, currency) for is_above in (False, True)]
    return {
        "data": [*(side for side in sides if side["x"]), *_middle(found, 1.09 * highest, currency)],
        "layout": layout,
    }


def _span(found: Difference) -> list[float]:
    """Ends of the axis, zero within them with some room on its other side."""
    low, high = float(found.edges[0]), float(found.edges[-1])
    room = 0.06 * (max(high, 0.0) - min(low, 0.0))
    return [min(low, 0.0) - room, max(high, 0.0) + room]


def _side(found: Difference, looks: Mapping[str, Look], is_above: bool, currency: str) -> dict[str, Any]:
    """The bars on one side of zero, in the colour of the engine that costs less there."""
    middles, name = 0.5 * (found.edges[1:] + found.edges[:-1]), found.cheaper if is_above else found.other
    chosen = np.flatnonzero((middles > 0.0) == is_above).tolist()
    return {
        "type": "bar",
        "name": say("{engine} costs less", engine=name),
        "x": [float(middles[place]) for place in chosen],
        "y": [100.0 * float(found.shares[place]) for place in chosen],
        "width": float(found.edges[1] - found.edges[0]),
        "marker": {
            "color": looks[name].colour,
            "line": OUTLINE,
            "pattern": {
                "shape": "" if is_above else "/",
                "fillmode": "overlay",
                "solidity": 0.18,
                "fgcolor": "rgba(0,0,0,0.5)",
            },
        },
        "customdata": [[_between(found, place), percent(float(found.shares[place]))] for place in chosen],
        "hovertemplate": f"%{{customdata[0]}} {currency}: %{{customdata[1]}}<extra></extra>",
    }


def _between(found: Difference, place: int) -> str:
    """Which differences a bar holds; the outermost all beyond them too."""
    low, high = whole(float(found.edges[place])), whole(float(found.edges[place + 1]))
    if place == 0:
        return say("under {high}", high=high)
    return say("over {low}", low=low) if place == found.shares.size - 1 else say("{low} to {high}", low=low, high=high)


def _middle(found: Difference, y: float, currency: str) -> list[dict[str, Any]]:
    """The interval that holds 80 % of the trials, and the median."""
    low, high = found.interval
    grey = {"color": "#7A8C9F"}
    told = say("80 % of the trials: {low} to {high} {currency}", low=whole(low), high=whole(high), currency=currency)
    half = say("Half of the trials lie below {amount} {currency}", amount=whole(found.median), currency=currency)
    return [
        {
            "type": "scatter",
            "name": told,
            "x": [low, high],
            "y": [y, y],
            "mode": "lines+markers",
            "line": {**grey, "width": 3},
            "marker": {"symbol": "line-ns-open", "size": 12, **grey, "line": {**grey, "width": 3}},
            "hovertemplate": f"{told}<extra></extra>",
        },
        {
            "type": "scatter",
            "name": half,
            "x": [found.median],
            "y": [y],
            "mode": "markers",
            "marker": {"symbol": "diamond", "size": 13, **grey},
            "hovertemplate": f"{half}<extra></extra>",
        },
    ]


def _sides(found: Difference) -> list[dict[str, Any]]:
    """The share of the trials on each side, written out at the top."""
    sides = ((found.other, 1.0 - found.share_cheaper, "left"), (found.cheaper, found.share_cheaper, "right"))
    return [
        words(
            wrapped(say("{engine} costs less", engine=name), 20) + f"<br><b>{percent(share)}</b>",
            0.0 if side == "left" else 1.0,
            1.0,
            xref="paper",
            yref="paper",
            xanchor=side,
            yanchor="top",
            align=side,
        )
        for name, share, side in sides
    ]


def _in_the_middle(found: Difference) -> list[dict[str, Any]]:
    """The median and the interval in words below the sides, on two lines: one is wider than a phone."""
    low, high = found.interval
    middle, low_end, high_end = (about(amount, high - low) for amount in (found.median, low, high))
    lines = [
        say("◆ median {middle}", middle=middle),
        say("80 % of the trials: {low} to {high}", low=low_end, high=high_end),
    ]
    return [words("<br>".join(lines), 0.5, BARS[1], xref="paper", yref="paper", yanchor="bottom", font={"size": SMALL})]


def figures(found: Difference, currency: str) -> html.Div:
    """The same as a table: the median and the interval, then the bins."""
    columns = [Column(say("Difference, {currency}", currency=currency)), Column(say("Trials, %"), is_number=True)]
    shares = 100.0 * found.shares
    rows: list[Row] = [
        [_between(found, place), Cell(to_a_tenth(share), share)] for place, share in enumerate(shares.tolist())
    ]
    low, high = found.interval
    median: Row = [
        say("Half of the trials lie below {amount} {currency}", amount=whole(found.median), currency=currency),
        Cell("50", 50.0),
    ]
    inner: Row = [
        say("80 % of the trials: {low} to {high} {currency}", low=whole(low), high=whole(high), currency=currency),
        Cell("80", 80.0),
    ]
    name = say("What {other} costs more than {engine} over the trials", other=found.other, engine=found.cheaper)
    return table(name, columns, rows, [median, inner])
