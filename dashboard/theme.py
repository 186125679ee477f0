"""Colours and looks, light and dark. The palette of Okabe and Ito (2008), told apart with any colour vision.

One colour for each technology and one for each cost element; never colour alone: a second engine of one technology has
another dash and marker, and tints of one colour differ by pattern or label.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from model.inputs.engine import Engine
from model.inputs.terms import Element, Technology

TECHNOLOGY_COLOURS = {
    Technology.TWO_STROKE_CARBURETTED: "#D55E00",
    Technology.TWO_STROKE_DIRECT_INJECTED: "#E69F00",
    Technology.FOUR_STROKE_CARBURETTED: "#56B4E9",
    Technology.FOUR_STROKE_INJECTED: "#0072B2",
}
"""Vermillion, orange, sky blue, blue."""

INK_ON = {"#D55E00": "#000000", "#E69F00": "#000000", "#56B4E9": "#000000", "#0072B2": "#FFFFFF"}
"""Text that can be read on a technology's colour."""

DASHES = ("solid", "dash", "dot", "dashdot")
"""First, second ... engine of one technology."""

MARKERS = ("circle", "diamond", "square", "triangle-up")
"""The same for marks."""


@dataclass(frozen=True)
class Paint:
    """How a part of a bar is filled."""

    colour: str
    """Fill."""
    ink: str = "#000000"
    """Text on it."""
    pattern: str = ""
    """Hatching."""


ELEMENT_PAINTS = {
    Element.PURCHASE: Paint("#8A9099"),
    Element.FIT_UP: Paint("#B4B9C0"),
    Element.FINANCE: Paint("#676D76", ink="#FFFFFF"),
    Element.FUEL: Paint("#009E73"),
    Element.TWO_STROKE_OIL: Paint("#F0E442"),
    Element.SERVICE_PARTS: Paint("#CC79A7"),
    Element.SERVICE_LABOUR: Paint("#E5BCD3"),
    Element.REPAIRS: Paint("#C9C2B8", pattern="/"),
    Element.WARRANTY_COVER: Paint("#C9C2B8", pattern="x"),
    Element.DOWNTIME: Paint("#C9C2B8", pattern="."),
    Element.RESALE: Paint("#DDE0E4"),
}
"""Capital in greys, fuel bluish green, oil yellow, service in two tints of reddish purple, the rest in patterns."""


OUTLINE = {"color": "rgba(60,66,74,0.55)", "width": 0.75}
"""Around every part of a bar."""

FIXED_LEGEND = {"itemclick": False, "itemdoubleclick": False}
"""A legend that hides nothing when it is touched."""


def marker_of(paint: Paint) -> dict[str, Any]:
    """Fill, hatching and outline of a part of a bar, in Plotly's words."""
    if not paint.pattern:
        return {"color": paint.colour, "line": OUTLINE}
    hatching = {"shape": paint.pattern, "bgcolor": paint.colour, "fgcolor": "#857D72", "size": 8, "solidity": 0.14}
    return {"color": paint.colour, "line": OUTLINE, "pattern": hatching}


FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', 'Liberation Sans', sans-serif"
"""The system's own typeface."""

LIGHT = "light"
"""How pages look to begin with."""

INK = {"light": "#1F2328", "dark": "#E6E8EB"}
QUIET = {"light": "#596068", "dark": "#A9B0B8"}
HAIRLINE = {"light": "#E3E6E9", "dark": "#373C43"}
PAPER = {"light": "#FFFFFF", "dark": "#1B1E22"}

COVERING = "covering"
"""Name that the templates give to words whose ground is the paper's colour, so that no line runs through them."""

Picture = dict[str, Any]
"""A Plotly figure, `data` and `layout`, written out: checking each part while it is built took most of the time."""

GRAPH_CONFIG: Any = {
    "displaylogo": False,
    "showSendToCloud": False,
    "responsive": True,
    "scrollZoom": False,
    "displayModeBar": False,
}
"""One setting for all pictures: nothing on them leads off this machine."""

SLATE = (
    "#F3F5F7", "#E4E8EC", "#C8D0D8", "#A9B5C1", "#8E9DAD", "#7A8C9F", "#687B8F", "#52667B", "#43576B", "#2F4256",
)  # fmt: skip
"""The one accent: of no technology's colour, so that the page has no favourite."""

SIZES = {"xs": 14, "sm": 14, "md": 16, "lg": 18, "xl": 28}
"""Four sizes of type. [px]"""

LARGE_TYPE = 1.35
"""How much larger type is in the showroom."""

MANTINE = {
    "fontFamily": FONT,
    "headings": {"fontFamily": FONT, "fontWeight": "600"},
    "fontSizes": {name: f"calc({size}px * var(--type))" for name, size in SIZES.items()},
    "colors": {"slate": list(SLATE)},
    "primaryColor": "slate",
    "primaryShade": {"light": 8, "dark": 4},
    "autoContrast": True,
    "defaultRadius": "sm",
    "cursorType": "pointer",
}
"""Looks of the controls."""


def _axis(scheme: str, size: float) -> dict[str, Any]:
    """Looks of an axis; `size` of its type."""
    return {
        "gridcolor": HAIRLINE[scheme],
        "linecolor": HAIRLINE[scheme],
        "zerolinecolor": QUIET[scheme],
        "zerolinewidth": 1,
        "ticks": "",
        "automargin": True,
        "title": {"standoff": 8, "font": {"size": size, "color": QUIET[scheme]}},
        "tickfont": {"color": QUIET[scheme]},
        "fixedrange": True,
    }


def template(scheme: str, enlarged: float = 1.0) -> dict[str, Any]:
    """
    Looks of a picture in one scheme.

    Parameters
    ----------
    scheme : str
        "light" or "dark".
    enlarged : float
        How much larger type is. [-]

    Returns
    -------
    dict
        A Plotly template.
    """
    size = SIZES["sm"] * enlarged
    return {
        "layout": {
            "font": {"family": FONT, "size": size, "color": INK[scheme]},
            "paper_bgcolor": "rgba(0,0,0,0)",
            "plot_bgcolor": "rgba(0,0,0,0)",
            "margin": {"l": 8, "r": 8, "t": 8, "b": 8},
            "xaxis": _axis(scheme, size),
            "yaxis": _axis(scheme, size),
            "hoverlabel": {
                "bgcolor": PAPER[scheme],
                "bordercolor": QUIET[scheme],
                "font": {"family": FONT, "size": size, "color": INK[scheme]},
                "align": "left",
            },
            "legend": {"orientation": "h", "x": 0, "xanchor": "left", "y": 1.02, "yanchor": "bottom"},
            "separators": ".,",
            "annotationdefaults": {"font": {"color": INK[scheme], "size": size}, "showarrow": False},
            "annotations": [{"name": COVERING, "visible": False, "bgcolor": PAPER[scheme], "borderpad": 0}],
            "shapedefaults": {"line": {"color": INK[scheme]}},
        }
    }


TEMPLATES = {
    f"{scheme}{size}": template(scheme, enlarged)
    for scheme in ("light", "dark")
    for size, enlarged in (("", 1.0), (" large", LARGE_TYPE))
}
"""Each scheme in either size of type."""


@dataclass(frozen=True)
class Look:
    """How one engine is drawn wherever it is."""

    colour: str
    """Its technology's."""
    dash: str
    """First, second ... of its technology."""
    marker: str
    """The same for marks."""

    @property
    def ink(self) -> str:
        """Text that can be read on its colour."""
        return INK_ON[self.colour]


def looks(engines: Sequence[Engine]) -> dict[str, Look]:
    """
    How each engine is drawn, by name.

    Parameters
    ----------
    engines : sequence of Engine
        All engines of the file, chosen or not, so that a look stays when others come and go.

    Returns
    -------
    dict of str to Look
    """
    seen: dict[Technology, int] = {}
    found = {}
    for engine in engines:
        place = seen.get(engine.technology, 0)
        seen[engine.technology] = place + 1
        colour = TECHNOLOGY_COLOURS[engine.technology]
        found[engine.name] = Look(colour, DASHES[place % len(DASHES)], MARKERS[place % len(MARKERS)])
    return found


def tint(colour: str, strength: float) -> str:
    """
    A colour thinned with white, the same on light and dark paper.

    >>> tint("#0072B2", 0.5)
    '#80B8D8'
    """
    parts = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return "#" + "".join(f"{round(255 - strength * (255 - part)):02X}" for part in parts)
