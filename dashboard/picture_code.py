"""The code that draws the pictures, plotly.js, sent so that a browser reads it once and begins only what is drawn."""

import re
from functools import cache
from importlib import resources

from flask import Flask

from dashboard.sending import address_of, offer

OPENS, CLOSES = '"use strict";var Plotly=(', "window.Plotly = Plotly;"
"""Between them stands the code; around them, a function for other ways to load it."""


def unwrapped(code: str) -> str:
    """
    The same code without the function around it, as a page's own script needs it.

    A browser skims a function before it runs it, and this one is the whole file: it was read three times on the time
    of the page. By itself the code is read in the background, while it arrives.

    Parameters
    ----------
    code : str
        `plotly.min.js`.

    Returns
    -------
    str
        With its licence on top; as it was, where it is wrapped in another way.
    """
    first, last, licence = code.find(OPENS), code.rfind(CLOSES), code.find("*/")
    if not 0 < licence < first < last:
        return code
    return code[: licence + 2] + "\n" + code[first:last] + CLOSES + "\n"


DRAWN = frozenset({"bar", "contour", "heatmap"})
"""Kinds of traces that the pages draw, besides "scatter", which is always there; a test looks for others."""

BEGUN = re.compile(r"\.register\(\[((?:[$\w]+\(\),?)+)\]\)")
"""Where every other kind of trace is begun: a list of calls."""

HANDS_ON = re.compile(r"[$\w]+\(\([^()]*\)=>\{\"use strict\";[$\w]+\.exports=([$\w]+)\(\)\}\)")
"""What stands for a kind of trace: a module that only hands on another."""

NAMED = re.compile(r"\bname:\"(\w+)\"")
"""Where that other one says its name."""

FAR = 3000
"""How far into a module its name is looked for."""


def with_kinds(code: str, kinds: frozenset[str] = DRAWN) -> str:
    """
    The same code, which begins some kinds of traces in place of all: that took half of the time to a first picture.

    Parameters
    ----------
    code : str
        `plotly.min.js`.
    kinds : frozenset of str
        Those that are drawn.

    Returns
    -------
    str
        As it was, where one of them is not found.
    """
    begun = BEGUN.search(code)
    if begun is None:
        return code
    calls = {kind: call for call in begun[1].split(",") if (kind := _kind_of(code, call.removesuffix("()"))) in kinds}
    if set(calls) != kinds:
        return code
    return code[: begun.start(1)] + ",".join(calls.values()) + code[begun.end(1) :]


def _kind_of(code: str, module: str) -> str:
    """The name of the kind of trace that a module stands for; empty where it is told in another way."""
    begin = _begin_of(code, module)
    other = begin and HANDS_ON.match(code, begin)
    inside = _begin_of(code, other[1]) if other else 0
    named = inside and NAMED.search(code, inside, inside + FAR)
    return named[1] if named else ""


def _begin_of(code: str, module: str) -> int:
    """Where a module's own text begins; 0 where there is none of that name."""
    places = (code.find(f"{before}{module}=") for before in (" ", ","))
    return next((place + len(module) + 2 for place in places if place >= 0), 0)


@cache
def picture_code() -> bytes:
    """The code as it is sent, read once."""
    file = resources.files("plotly").joinpath("package_data/plotly.min.js")
    return with_kinds(unwrapped(file.read_text(encoding="utf-8"))).encode()


def address(base: str) -> str:
    """Where the code is fetched, below the pages' own address."""
    return address_of(picture_code(), base, "picture-code")


def register(server: Flask, base: str) -> None:
    """Send the code from there."""
    offer(server, address(base), picture_code())
