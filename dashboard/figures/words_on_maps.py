"""Where the words of a map of the cheapest engine stand: names in their regions, none over another."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dashboard.figures.notes import PLAIN, SMALL, words, wrapped
from model.language import say
from model.maps import CostMap

SMALLEST_REGION = 0.04
"""Share of the map from which on a region is named on it. [-]"""

ROOM_FOR_A_NAME = 0.13
"""Depth of a region from which on its name stands within it. [-]"""

CLEAR = 0.2
"""How far words keep from each other, as a share of the height. [-]"""

Place = tuple[float, float]
"""Hours a year and the quantity upwards. [h/year, year or money/L]"""

NEAR = 0.25
"""Share of the width within which words lean on an edge. [-]"""

ASIDE = 0.2
"""How far from the place they point to the middle of words lies on a phone, as a share of the width. [-]"""

PALE = "rgba(255,255,255,0.45)"
"""Behind names, so that lines do not cross them out."""

INK = "#1F2328"
"""Lines and words on the map, whose fills are light on either paper."""


def words_on(found: CostMap, regions: Sequence[int], names: Sequence[str], today: Place) -> list[dict[str, Any]]:
    """
    The engines' names, in their regions or pointing there, and the word of the break-even, none over another.

    Parameters
    ----------
    found : CostMap
    regions : sequence of int
        Positions of the engines that are somewhere the cheapest, the largest region first.
    names : sequence of str
        All engines.
    today : (float, float)
        A place that is taken. [h/year, year or money/L]

    Returns
    -------
    list of dict
        Plotly annotations.
    """
    taken, placed = [today], []
    wide, tall = (float(axis[-1] - axis[0]) for axis in (found.hours, found.other))
    for engine in regions:
        inside = found.cheapest == engine
        if inside.mean() < SMALLEST_REGION:
            continue
        deep = depth(inside)
        row, column = _roomiest(found, inside, deep, taken)
        text, font = f"<b>{wrapped(names[engine], 19)}</b>", {"size": PLAIN, "color": INK}
        if float(deep.max()) >= ROOM_FOR_A_NAME:
            at = float(found.hours[column]), float(found.other[row])
            leaning = _leaning(found, inside[row], column)
            placed.append({**words(text, *at, font=font, bgcolor=PALE), **leaning})
            side = {"left": 1, "right": -1}.get(leaning.get("xanchor", ""), 0)
            taken.append((leaning["x"] + NEAR * side * wide if side else at[0], at[1]))
            continue
        x, side = _edge(found, inside[row], column)
        y = float(found.other[row])
        placed.append(words(text, x, y, **{"font": font, "bgcolor": PALE, **_pointing(side, 30)}))
        if side == 0:
            share = column / inside.shape[1]
            placed[-1]["xanchor"] = "left" if share < 0.3 else "right" if share > 0.7 else "center"
        taken.append((x + 0.15 * side * wide, y if side else y + 0.15 * tall))
    inner = [place for place in found.borders() if 0.06 < (place[1] - float(found.other[0])) / tall < 0.9]
    if inner:
        to_the_right = float(found.hours[0]) + 0.7 * wide
        ways = [(x, y, 1 if x < to_the_right else -1) for x, y in inner]
        x, y, side = max(ways, key=lambda way: _apart((way[0] + ASIDE * way[2] * wide, way[1]), taken, (wide, tall)))
        look = {"font": {"size": SMALL, "color": INK}, "bgcolor": PALE}
        placed.append(words(say("break-even"), x, y, **{**look, **_pointing(side, 26)}))
    return placed


def _leaning(found: CostMap, inside: NDArray[np.bool_], column: int) -> dict[str, Any]:
    """Words near an edge of the map lean on it, so that they do not run over the axis."""
    share = column / inside.size
    if share < NEAR:
        return {"x": float(found.hours[0]), "xanchor": "left", "xshift": 6, "align": "left"}
    if share > 1.0 - NEAR:
        return {"x": float(found.hours[-1]), "xanchor": "right", "xshift": -6, "align": "right"}
    return {}


def _pointing(side: int, far: int) -> dict[str, Any]:
    """An arrow to a place from words to its right (1), to its left (-1), or above it (0). [px]"""
    anchor = {1: "left", -1: "right", 0: "center"}[side]
    return {
        "showarrow": True,
        "arrowhead": 0,
        "arrowwidth": 1,
        "arrowcolor": INK,
        "ax": side * far,
        "ay": -8 if side else -far - 12,
        "xanchor": anchor,
        "align": anchor,
        "yanchor": "middle" if side else "bottom",
    }


def _edge(found: CostMap, inside: NDArray[np.bool_], column: int) -> tuple[float, int]:
    """Where words beside a narrow region point to in one row of it, and on which side they stand; above a wide one."""
    outside = np.flatnonzero(~inside)
    first = max((int(place) + 1 for place in outside if place < column), default=0)
    last = min((int(place) - 1 for place in outside if place > column), default=inside.size - 1)
    if last - first > 0.4 * inside.size:
        return float(found.hours[column]), 0
    return (float(found.hours[last]), 1) if first + last < inside.size else (float(found.hours[first]), -1)


def _apart(place: Place, taken: Sequence[Place], size: tuple[float, float]) -> float:
    """How far a place is from those taken; words are wide, so that above or below one another is what counts. [-]"""
    return min(max(0.35 * abs(place[0] - x) / size[0], abs(place[1] - y) / size[1]) for x, y in taken)


def _roomiest(
    found: CostMap, inside: NDArray[np.bool_], deep: NDArray[np.float64], taken: Sequence[Place]
) -> tuple[int, int]:
    """The cell of a region, by row and column, that lies deep within it and clear of the words there are."""
    size = float(found.hours[-1] - found.hours[0]), float(found.other[-1] - found.other[0])
    best, at = -1.0, (0, 0)
    for row, column in np.argwhere(inside).tolist():
        here = float(found.hours[column]), float(found.other[row])
        score = float(deep[row, column]) * min(1.0, _apart(here, taken, size) / CLEAR)
        if score > best:
            best, at = score, (row, column)
    return at


def depth(inside: NDArray[np.bool_]) -> NDArray[np.float64]:
    """
    How deep each cell of a region lies within it, as a share of the map's shorter side.

    Parameters
    ----------
    inside : ndarray of bool, shape (m, n)

    Returns
    -------
    ndarray, shape (m, n)
        0 outside; the map's edges are borders too. [-]
    """
    from scipy.ndimage import distance_transform_edt

    rows, columns = inside.shape
    steps = (1.0 / rows, 1.0 / columns)
    return np.asarray(distance_transform_edt(np.pad(inside, 1), sampling=steps)[1:-1, 1:-1])
