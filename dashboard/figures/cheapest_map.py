"""The map of the cheapest engine: hours a year across, ownership years or the fuel price upwards."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from dash import html
from numpy.typing import NDArray

from dashboard.drawer import Behind, key
from dashboard.figures.notes import PLAIN, SMALL, words
from dashboard.figures.words_on_maps import INK, words_on
from dashboard.tables import Cell, Column, Row, table
from dashboard.theme import Look, Picture, tint
from model.language import later, say
from model.maps import CostMap
from model.quantities import money_a_litre
from model.sweep import Stretch
from model.uncertainty.difference import round_step
from model.wording import in_years, plain, to_a_tenth, whole

HEIGHT = 420
"""Height of the picture. [px]"""

LINES = 6
"""About how many contour lines there are."""

SMALLEST_SHARE = 0.01
"""Share of the range below which a stretch is no news: service steps make slivers. [-]"""


@dataclass(frozen=True)
class Upwards:
    """What the map has upwards."""

    label: str
    """What it is, with its unit."""
    unit: str
    """Its unit in a sentence, "EUR a litre"; none for years."""
    kind: str
    """"years" or "price"."""


FINDINGS = {
    ("years", True, True): later(
        "At {hours} h a year {engine} is the cheapest however long it is kept, {low} to {high} {high:year|years}"
    ),
    ("years", True, False): later(
        "At {hours} h a year {engine} is the cheapest if kept up to {high} {high:year|years}"
    ),
    ("years", False, True): later(
        "At {hours} h a year {engine} is the cheapest if kept {low} {low:year|years} or longer"
    ),
    ("years", False, False): later(
        "At {hours} h a year {engine} is the cheapest if kept {low} to {high} {high:year|years}"
    ),
    ("price", True, True): later(
        "At {hours} h a year {engine} is the cheapest at any fuel price from {low} to {high} {unit}"
    ),
    ("price", True, False): later(
        "At {hours} h a year {engine} is the cheapest while fuel costs less than {high} {unit}"
    ),
    ("price", False, True): later("At {hours} h a year {engine} is the cheapest from a fuel price of {low} {unit} on"),
    ("price", False, False): later(
        "At {hours} h a year {engine} is the cheapest at fuel prices of {low} to {high} {unit}"
    ),
}
"""What the map says, by what runs upwards and whether the region at hand reaches its lower and upper edge."""


def years_upwards() -> Upwards:
    """Ownership years."""
    return Upwards(say("Ownership period, years"), "", "years")


def price_upwards(currency: str) -> Upwards:
    """The fuel price at delivery, in the unit in which it is shown."""
    return Upwards(say("Fuel price, {unit}", unit=money_a_litre(currency)), money_a_litre(currency), "price")


def finding(stretches: Sequence[Stretch], today: tuple[float, float], upwards: Upwards) -> str:
    """
    What the map says: how far the engine that is the cheapest as things are set stays so, at the hours as set.

    Parameters
    ----------
    stretches : sequence of Stretch
        The cheapest engine over the quantity upwards, at today's hours.
    today : (float, float)
        Hours and the quantity upwards, as set. [h/year, year or money/L]
    upwards : Upwards
    """
    hours, value = today
    last = len(stretches) - 1
    place = next((index for index, stretch in enumerate(stretches) if value <= stretch.end), last)
    here, whole_range = stretches[place], stretches[-1].end - stretches[0].begin
    from_start = here.begin - stretches[0].begin < SMALLEST_SHARE * whole_range
    to_end = stretches[-1].end - here.end < SMALLEST_SHARE * whole_range
    low, high = (_in_words(end, upwards) for end in (here.begin, here.end))
    told = {"engine": here.engine, "hours": plain(round(hours, 1)), "low": low, "high": high, "unit": upwards.unit}
    return say(FINDINGS[upwards.kind, from_start, to_end], **told)


def _in_words(number: float, upwards: Upwards) -> str:
    """A value upwards for a sentence."""
    return to_a_tenth(number) if upwards.kind == "years" else plain(round(number, 2))


def picture(
    found: CostMap, today: tuple[float, float], looks: Mapping[str, Look], upwards: Upwards, currency: str
) -> Picture:
    """
    The map, filled by the cheapest engine, with lines of equal difference to the next cheapest.

    Parameters
    ----------
    found : CostMap
        Engines in the order of `looks`.
    today : (float, float)
        Hours and the quantity upwards, as set. [h/year, year or money/L]
    looks : mapping of str to Look
        Of the engines compared, in the scenario's order.
    upwards : Upwards
    currency : str

    Returns
    -------
    Picture
        For each engine that is somewhere the cheapest its region and what is told there; the lines; today's point.
    """
    names = list(looks)
    by_size = [
        int(place) for place in np.argsort(-np.bincount(found.cheapest.ravel(), minlength=len(names)), kind="stable")
    ]
    regions = [place for place in by_size if (found.cheapest == place).any()]
    traces = [
        _region(found, regions[:rank], regions[rank:], looks[names[regions[rank]]]) for rank in range(1, len(regions))
    ]
    traces += [_told(found, place, names[place], upwards, currency) for place in regions]
    if len(names) > 1:
        traces.append(_lines(found, currency))
    traces.append(_today(found, today, names, upwards))
    layout = {
        "height": HEIGHT,
        "hovermode": "closest",
        "showlegend": False,
        "margin": {"t": 14, "r": 22},
        "xaxis": {
            "title": {"text": say("Running hours a year")},
            "range": _ends(found.hours),
            "showgrid": False,
            "zeroline": False,
        },
        "yaxis": {"title": {"text": upwards.label}, "range": _ends(found.other), "showgrid": False, "zeroline": False},
        "annotations": [*words_on(found, regions, names, today), _point(today, found)],
        "shapes": [_ground(found, looks[names[regions[0]]])],
    }
    return {"data": traces, "layout": layout}


def _ends(points: NDArray[np.float64]) -> list[float]:
    """First and last point."""
    return [float(points[0]), float(points[-1])]


def _ground(found: CostMap, look: Look) -> dict[str, Any]:
    """The largest region's fill below all, so that nothing shows between regions where three of them meet."""
    return {
        "type": "rect",
        "x0": float(found.hours[0]),
        "x1": float(found.hours[-1]),
        "y0": float(found.other[0]),
        "y1": float(found.other[-1]),
        "layer": "below",
        "line": {"width": 0},
        "fillcolor": tint(look.colour, 0.45),
    }


def _region(found: CostMap, below: Sequence[int], above: Sequence[int], look: Look) -> dict[str, Any]:
    """
    Where an engine, or one of those drawn over it, costs less than all drawn before.

    Drawn over one another, regions leave no gaps where three of them meet.
    """
    costs = found.costs
    lead = costs[list(below)].min(axis=0) - costs[list(above)].min(axis=0)
    return {
        "type": "contour",
        "x": found.hours.tolist(),
        "y": found.other.tolist(),
        "z": np.round(lead, 1).tolist(),
        "contours": {"type": "constraint", "operation": "<", "value": 0.0},  # what is left out is what is filled
        "fillcolor": tint(look.colour, 0.45),
        "line": {"color": INK, "width": 2, "smoothing": 0},
        "showscale": False,
        "showlegend": False,
        "hoverinfo": "skip",
    }


def _told(found: CostMap, place: int, name: str, upwards: Upwards, currency: str) -> dict[str, Any]:
    """What is told within a region, on cells that are not seen themselves."""
    margin = np.where(found.cheapest == place, np.round(found.margin), np.nan)
    z = [[None if np.isnan(value) else value for value in row] for row in margin.tolist()]
    less = say("{amount} {currency} less than the next", amount="%{z:,d}", currency=currency)
    hours = say("{hours} h a year", hours="%{x:,.0f}")
    return {
        "type": "heatmap",
        "name": name,
        "x": found.hours.tolist(),
        "y": found.other.tolist(),
        "z": z,
        "hoverongaps": False,
        "opacity": 0.0,
        "showscale": False,
        "colorscale": [[0.0, "#FFFFFF"], [1.0, "#FFFFFF"]],
        "hovertemplate": f"{name}<br>{hours}<br>{upwards.label}: %{{y:.2~f}}"
        + ("" if len(found.costs) == 1 else f"<br>{less}")
        + "<extra></extra>",
    }


def _lines(found: CostMap, currency: str) -> dict[str, Any]:
    """Lines on which the next cheapest engine costs the same amount more."""
    margin = found.margin
    step = round_step(float(np.quantile(margin, 0.97)) / LINES)
    return {
        "type": "contour",
        "name": say("Next cheapest, {currency} more", currency=currency),
        "x": found.hours.tolist(),
        "y": found.other.tolist(),
        "z": np.round(margin, 1).tolist(),
        "autocontour": False,
        "contours": {
            "coloring": "none",
            "start": step,
            "end": float(margin.max()),
            "size": step,
            "showlabels": True,
            "labelfont": {"size": SMALL, "color": INK},
            "labelformat": ",d",
        },
        "line": {"color": "rgba(31,35,40,0.5)", "width": 1, "smoothing": 0.6},
        "showscale": False,
        "showlegend": False,
        "hoverinfo": "skip",
    }


def _today(found: CostMap, today: tuple[float, float], names: Sequence[str], upwards: Upwards) -> dict[str, Any]:
    """Things as they are set."""
    row, column = (
        int(np.abs(axis - value).argmin()) for axis, value in zip((found.other, found.hours), today[::-1], strict=True)
    )
    name = names[int(found.cheapest[row, column])]
    value = f"{_in_words(today[1], upwards)} {upwards.unit}" if upwards.unit else in_years(today[1])
    told = f"{plain(round(today[0], 1))} h, {value}"
    return {
        "type": "scatter",
        "name": say("As set"),
        "x": [today[0]],
        "y": [today[1]],
        "mode": "markers",
        "marker": {"symbol": "circle", "size": 14, "color": INK, "line": {"color": "#FFFFFF", "width": 3}},
        "cliponaxis": False,
        "customdata": [[told, key(Behind(name))]],
        "hovertemplate": f"{say('As set')}: %{{customdata[0]}}<extra></extra>",
    }


def _point(today: tuple[float, float], found: CostMap) -> dict[str, Any]:
    """What the point is; on the side that has room."""
    is_right = today[0] < 0.75 * float(found.hours[-1])
    is_high = today[1] > 0.85 * float(found.other[-1])
    return words(
        say("As set"),
        *today,
        xanchor="left" if is_right else "right",
        xshift=12 if is_right else -12,
        yshift=-12 if is_high else 0,
        font={"size": PLAIN, "color": INK},
    )


def figures(found: CostMap, names: Sequence[str], upwards: Upwards, currency: str) -> html.Div:
    """The same as a table: the cheapest engine, and what the next one costs more, at every fourth point across."""
    chosen = range(0, found.hours.size, 4)
    columns = [Column(upwards.label)]
    columns += [Column(say("{hours} h a year", hours=plain(round(float(found.hours[at]))))) for at in chosen]
    rows: list[Row] = [
        [
            Cell(_in_words(value, upwards), value),
            *(f"{names[int(found.cheapest[row, at])]}, {whole(float(found.margin[row, at]))}" for at in chosen),
        ]
        for row, value in enumerate(found.other.tolist())
    ]
    name = say("The cheapest engine and what the next costs more, {currency}, present value", currency=currency)
    return table(name, columns, rows)
