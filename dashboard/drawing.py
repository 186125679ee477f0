"""A picture's place on the page: what it says, what it shows, the picture; and how it comes by its looks."""

from dash import Dash, Input, Output, dcc, html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.browser import run_there
from dashboard.theme import GRAPH_CONFIG

EMPTY = {"data": [], "layout": {"xaxis": {"visible": False}, "yaxis": {"visible": False}}}
"""Before the first answer: nothing, on room already kept."""


def place(picture: str, subtitle: str, height: int, *below: Component) -> html.Section:
    """
    Room for a picture with its finding above.

    Parameters
    ----------
    picture : str
        Its id.
    subtitle : str
        The plain description, with units.
    height : int
        Room kept until it is drawn, so that nothing jumps. [px]
    *below : Component
        What stands under it.

    Returns
    -------
    Section
    """
    return html.Section(
        id=ids.place(picture),
        className="picture",
        children=[
            html.H2(id=ids.title(picture), className="finding"),
            html.P(subtitle, className="subtitle"),
            dcc.Graph(
                id=ids.graph(picture), figure=EMPTY, config=GRAPH_CONFIG, style={"minHeight": height}, className="graph"
            ),
            *below,
            dcc.Store(id=ids.figure(picture)),
        ],
    )


def dimmed(picture: str) -> list[tuple[Output, str, str]]:
    """What a callback says to dim a picture while it works: the old one stays in sight."""
    return [(Output(ids.place(picture), "className"), "picture is-working", "picture")]


def register(app: Dash, picture: str) -> None:
    """The browser gives a picture the looks of the page, light or dark, without asking the server."""
    run_there(
        app,
        "pictures.draw",
        Output(ids.graph(picture), "figure"),
        Input(ids.figure(picture), "data"),
        Input(ids.SCHEME, "data"),
        Input(ids.TEMPLATES, "data"),
        at_start=True,
    )
