"""How pictures come by their looks, and their marks by the rows behind them."""

from collections.abc import Iterable
from typing import Any

from dash import Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.browser import run_there
from dashboard.theme import TEMPLATES, Picture
from model.language import separators, spoken


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


def dress_all(parts: Iterable[Component], scheme: object) -> None:
    """Give every picture among the parts of a page the looks of a scheme, in place."""
    for part in html.Div(list(parts))._traverse():  # type: ignore[no-untyped-call]
        if isinstance(part, dcc.Graph):
            graph: Any = part
            graph.figure = dressed(graph.figure, scheme)


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
