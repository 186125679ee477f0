"""A picture's place on the page: what it says, what it shows, the picture; and how it comes by its looks."""

from collections.abc import Iterable
from typing import Any

from dash import Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.browser import run_there
from dashboard.theme import GRAPH_CONFIG, TEMPLATES, Picture
from model.language import separators, spoken


def dressed(picture: Picture, scheme: object) -> Picture:
    """
    A picture with the looks of a scheme, its numbers as the locale of the moment writes them.

    Parameters
    ----------
    picture : Picture
    scheme : object
        What the browser's store holds: "dark"; light is anything else.

    Returns
    -------
    Picture
    """
    template = TEMPLATES["dark" if scheme == "dark" else "light"]
    group, decimal = separators(spoken().locale)
    layout = {**picture["layout"], "template": template, "separators": decimal + group}
    return {"data": picture["data"], "layout": layout}


def place(picture: str, subtitle: str, start: tuple[Picture, str], *below: Component) -> html.Section:
    """
    Room for a picture with its finding above.

    Parameters
    ----------
    picture : str
        Its id.
    subtitle : str
        The plain description, with units.
    start : (Picture, str)
        What it shows and says when the page is opened.
    *below : Component
        What stands under it.

    Returns
    -------
    Section
    """
    drawn, finding = start
    room = {"minHeight": drawn["layout"]["height"]}  # kept until it is drawn, so that nothing jumps
    return html.Section(
        className="picture",
        children=[
            html.H2(finding, id=ids.title(picture), className="finding"),
            html.P(subtitle, className="subtitle"),
            dcc.Graph(
                id=ids.graph(picture),
                figure=drawn,
                config=GRAPH_CONFIG,
                style=room,
                className="graph",
            ),
            *below,
        ],
    )


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
