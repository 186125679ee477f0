"""Words and lines laid over pictures, the same on all of them."""

import textwrap
from typing import Any

from dashboard.text import together
from dashboard.theme import COVERING

SMALL, PLAIN = 13, 14
"""Sizes of type on a picture. [px]"""


def words(text: str, x: Any, y: Any, **more: Any) -> dict[str, Any]:
    """Words at a place of a picture, without an arrow."""
    return {"text": text, "x": x, "y": y, "showarrow": False, "font": {"size": PLAIN}, **more}


def covering(text: str, x: Any, y: Any, **more: Any) -> dict[str, Any]:
    """The same, on a ground of the paper's colour: lines end where the words begin."""
    return words(text, x, y, **{"templateitemname": COVERING, "visible": True, **more})


def heading(text: str, y: float, **more: Any) -> dict[str, Any]:
    """A heading at the left edge of a picture, above the part that begins at a height. [share of the height]"""
    place = {"xref": "paper", "yref": "paper", "xanchor": "left", "yanchor": "bottom", "yshift": 4, "align": "left"}
    return covering(text, 0, y, **{**place, **more})


def upright(x: Any, dash: str = "dot", **more: Any) -> dict[str, Any]:
    """A line from the foot of a picture to its top."""
    return {"type": "line", "x0": x, "x1": x, "y0": 0.0, "y1": 1.0, "yref": "paper",
            "line": {"width": 1.5, "dash": dash}, **more}  # fmt: skip


def beside(text: str, x: float, span: tuple[float, float], **more: Any) -> dict[str, Any]:
    """Words at the top of an upright line, on the side that has room within the picture's span."""
    is_right = x < span[0] + 0.6 * (span[1] - span[0])
    sides = {"xanchor": "left" if is_right else "right", "xshift": 6 if is_right else -6}
    return covering(text, x, 1.0, **{"yref": "paper", "yanchor": "top", **sides, **more})


def wrapped(text: str, width: int) -> str:
    r"""
    Words on lines of so many characters, a number and its unit on one.

    >>> wrapped("Two-stroke direct-injected 45 kW", 18)
    'Two-stroke<br>direct-injected<br>45\xa0kW'
    """
    return "<br>".join(textwrap.wrap(together(text), width, break_on_hyphens=False))
