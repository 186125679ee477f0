"""Cost by element as bars for paper: black on white, every part told by its pattern, the larger ones by their name."""

from collections.abc import Sequence
from itertools import pairwise

from markupsafe import Markup, escape

from model import wording
from model.inputs.terms import Element
from model.language import say
from model.measures import EngineCost

WIDTH = 700.0
"""Width of the picture in its own units; it fills the paper's width."""

BAR, ROOM = 24.0, 46.0
"""Height of a bar, and of a bar with its heading."""

LETTER = 5.3
"""Width of a letter of a label, a little more than most are."""

FONT = "Liberation Sans, DejaVu Sans, Arial, Helvetica, sans-serif"
"""Typefaces, the first that is there."""

FILLS = {
    Element.PURCHASE: ("#d0d0d0", ""),
    Element.FIT_UP: ("#f2f2f2", ""),
    Element.FINANCE: ("#8c8c8c", ""),
    Element.FUEL: ("#fff", "M0,6 L6,0 M-1,1 L1,-1 M5,7 L7,5"),
    Element.TWO_STROKE_OIL: ("#fff", "M0,6 L6,0 M-1,1 L1,-1 M5,7 L7,5 M0,0 L6,6"),
    Element.SERVICE_PARTS: ("#fff", "M1.5,0 L1.5,6 M4.5,0 L4.5,6"),
    Element.SERVICE_LABOUR: ("#fff", "M0,1.5 L6,1.5 M0,4.5 L6,4.5"),
    Element.REPAIRS: ("#fff", "M0,0 L6,6 M-1,5 L1,7 M5,-1 L7,1"),
    Element.WARRANTY_COVER: ("#fff", "M3,0 L3,6 M0,3 L6,3"),
    Element.DOWNTIME: ("#d0d0d0", "M2,3 L4,3"),
    Element.RESALE: ("#fff", "M2,3 L4,3"),
}
"""Ground and strokes of each element; what lies side by side differs."""


def _pattern(element: Element, picture: str = "fill") -> Markup:
    """A pattern of one element; every picture has its own, since one does not see into another."""
    ground, strokes = FILLS[element]
    drawn = Markup('<path d="{}" stroke="#222" stroke-width="0.8" fill="none"/>').format(strokes) if strokes else ""
    return Markup(
        '<pattern id="{}-{}" width="6" height="6" patternUnits="userSpaceOnUse">'
        '<rect width="6" height="6" fill="{}"/>{}</pattern>'
    ).format(picture, element.value, ground, drawn)


def _fill(element: Element, picture: str) -> Markup:
    """What a part is filled with: a pattern, or a plain grey, which tiles of a pattern would put joints into."""
    ground, strokes = FILLS[element]
    return Markup("url(#{}-{})").format(picture, element.value) if strokes else Markup(ground)


def swatch(element: Element) -> Markup:
    """The pattern of an element, small, for the head of its row in the table."""
    return Markup(
        '<svg class="swatch" width="18" height="10" viewBox="0 0 18 10" aria-hidden="true"><defs>{}</defs>'
        '<rect x="0.5" y="0.5" width="17" height="9" fill="{}" stroke="#222" stroke-width="0.7"/></svg>'
    ).format(_pattern(element, "swatch"), _fill(element, "swatch"))


def bars(costs: Sequence[EngineCost]) -> Markup:
    """
    A bar for each engine on one scale: costs to the right of zero, the value at sale to its left, a line at the total.

    Parameters
    ----------
    costs : sequence of EngineCost

    Returns
    -------
    Markup
        An SVG; names of engines are escaped.
    """
    spans = [_span(cost) for cost in costs]
    least, most = min(low for low, _ in spans), max(high for _, high in spans)
    scale = WIDTH / max(most - least, 1e-9)
    zero = -least * scale
    height = ROOM * len(costs)
    drawn = [_engine(cost, place * ROOM, zero, scale) for place, cost in enumerate(costs)]
    return Markup(
        '<svg class="bars" viewBox="-1 0 {:.0f} {:.0f}" font-family="{}" role="img"><defs>{}</defs>{}</svg>'
    ).format(
        WIDTH + 2.0,
        height,
        FONT,
        Markup("").join(_pattern(element) for element in Element),
        Markup("").join(drawn),
    )


def _span(cost: EngineCost) -> tuple[float, float]:
    """How far a bar reaches to both sides of zero. [money]"""
    amounts = [part.present_value for part in cost.elements.values()]
    return min(0.0, sum(amount for amount in amounts if amount < 0)), sum(amount for amount in amounts if amount > 0)


def _engine(cost: EngineCost, top: float, zero: float, scale: float) -> Markup:
    """One bar with its heading."""
    amounts = {element: cost.elements[element].present_value for element in Element}
    parts = []
    for sign in (1.0, -1.0):
        shown = [element for element in Element if amounts[element] * sign > 0.0]
        edges = [0.0]
        for element in shown:
            edges.append(edges[-1] + amounts[element])
        for element, (begin, end) in zip(shown, pairwise(edges), strict=True):
            left, right = sorted((zero + begin * scale, zero + end * scale))
            parts.append(_part(element, amounts[element], (left, top + 18.0), right - left))
    total = cost.total.present_value
    heading = Markup('<text x="0" y="{:.1f}" font-size="11" font-weight="bold">{}</text>').format(
        top + 13.0, f"{cost.name}: {wording.whole(total)} {cost.case.scenario.currency}"
    )
    at = zero + total * scale
    mark = Markup('<path d="M{:.1f},{:.1f} l-4,-6 h8 z" fill="#000"/>').format(at, top + 18.0)
    mark += Markup('<path d="M{:.1f},{:.1f} v{:.0f}" stroke="#000" stroke-width="1.6"/>').format(
        zero, top + 16.0, BAR + 4.0
    )
    return heading + Markup("").join(parts) + mark


def _part(element: Element, amount: float, corner: tuple[float, float], width: float) -> Markup:
    """One part of a bar, with its name and amount where they fit."""
    left, top = corner
    drawn = Markup(
        '<rect x="{:.2f}" y="{:.1f}" width="{:.2f}" height="{:.0f}" fill="{}" stroke="#222" stroke-width="0.8"/>'
    ).format(left, top, width, BAR, _fill(element, "fill"))
    lines = (say(wording.ELEMENT_LABELS[element]).split(" (")[0], wording.whole(amount))
    room = LETTER * max(map(len, lines)) + 4.0
    if room > width - 4.0:
        return drawn
    middle = left + 0.5 * width
    knocked_out = Markup('<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" fill="#fff"/>').format(
        middle - 0.5 * room, top + 1.5, room, BAR - 3.0
    )
    words = [
        Markup('<text x="{:.1f}" y="{:.1f}" font-size="9" text-anchor="middle">{}</text>').format(
            middle, top + down, escape(line)
        )
        for line, down in zip(lines, (10.0, 20.0), strict=True)
    ]
    return drawn + knocked_out + Markup("").join(words)
