"""How pictures come by their looks, and their marks by the rows behind them."""

import re
from collections.abc import Iterable
from html import escape
from typing import Any

from dash import Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.browser import run_there
from dashboard.theme import TEMPLATES, Picture
from model.language import separators, spoken

MARKUP = re.compile(r"<|&#|&\w+;")
"""What Plotly might take for a tag or a sign's code."""

MARK = "rows:"
"""How the key of rows begins, among what a mark carries."""


def dressed(picture: Picture, scheme: object) -> Picture:
    """
    A picture with the looks of a scheme, its numbers as the locale of the moment writes them.

    Parameters
    ----------
    picture : Picture
    scheme : object
        What the browser's store holds, one of `TEMPLATES`; light is anything else.

    Returns
    -------
    Picture
    """
    template = TEMPLATES.get(str(scheme), TEMPLATES["light"])
    group, decimal = separators(spoken().locale)
    layout = {**picture["layout"], "template": template, "separators": decimal + group}
    return {"data": picture["data"], "layout": layout}


def plain_names(picture: Picture, names: Iterable[str]) -> Picture:
    """
    A picture in which names that look like markup stand as they are: Plotly reads tags in every text.

    Parameters
    ----------
    picture : Picture
    names : iterable of str
        Of engines; a name may be broken over several lines, so its words are looked for.

    Returns
    -------
    Picture

    >>> plain_names({"data": [{"name": "<b>A</b>, 5<br>h"}], "layout": {}}, ["<b>A</b>"])["data"]
    [{'name': '&lt;b&gt;A&lt;/b&gt;, 5<br>h'}]
    """
    looks_like_markup = {word for name in names for word in name.split() if MARKUP.search(word)}
    if not looks_like_markup:
        return picture
    found = re.compile("|".join(map(re.escape, sorted(looks_like_markup, key=len, reverse=True))))
    plain: Picture = _plain(picture, found)
    return plain


def _plain(value: Any, found: re.Pattern[str]) -> Any:
    """The same with those words made plain; keys of rows are no text."""
    if isinstance(value, str):
        return value if value.startswith(MARK) else found.sub(lambda word: escape(word[0], quote=False), value)
    if isinstance(value, dict):
        return {key: _plain(one, found) for key, one in value.items()}
    return [_plain(one, found) for one in value] if isinstance(value, list | tuple) else value


def dress_all(parts: Iterable[Component], scheme: object, names: Iterable[str] = ()) -> None:
    """Give every picture among the parts of a page the looks of a scheme, and names as they are, in place."""
    for part in html.Div(list(parts))._traverse():  # type: ignore[no-untyped-call]
        if isinstance(part, dcc.Graph):
            graph: Any = part
            graph.figure = plain_names(dressed(graph.figure, scheme), names)


def register(app: Dash, picture: str) -> None:
    """A picture changes between light and dark without asking the server; its marks open the rows behind them."""
    run_there(app, "drawer.ask", Input(ids.graph(picture), "clickData"))
    run_there(
        app,
        "pictures.dress",
        Output(ids.graph(picture), "figure", allow_duplicate=True),
        Input(ids.SCHEME, "data"),
        State(ids.graph(picture), "figure"),
        State(ids.TEMPLATES, "data"),
    )
