"""A picture on a page: drawn, following the work, saved as a file, its figures as a table beside it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from dash import Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard import drawing, ids
from dashboard.browser import aria, if_news, run_there
from dashboard.scenarios import reading_of, work_of
from dashboard.theme import GRAPH_CONFIG, Picture
from dashboard.work import Work
from model.language import say

KINDS = ("png", "svg")
"""Files that a picture is saved as."""


@dataclass(frozen=True)
class Drawn:
    """A picture drawn for a work."""

    picture: Picture
    """What it shows."""
    finding: str
    """What it says."""
    below: tuple[Component, ...] = ()
    """What its parts are, below it."""


@dataclass(frozen=True)
class Shown:
    """A picture that stands on a page."""

    name: str
    """Its id."""
    describe: Callable[[Work], str]
    """The plain description with units, under the finding."""
    draw: Callable[[Work], Drawn]
    """Draws it for a work, within the time that a moved slider allows."""
    figures: Callable[[Work], Component] | None = None
    """Its figures as a table; None where they stand on the page anyway."""
    draw_finely: Callable[[Work], Drawn] | None = None
    """Draws it better, once the work stands still; None where it is as good already."""


def nothing(finding: str) -> Drawn:
    """An empty picture, where there is nothing to draw, with the reason as its finding."""
    hidden = {"visible": False}
    return Drawn({"data": [], "layout": {"height": 24, "xaxis": hidden, "yaxis": hidden}}, finding)


def place(shown: Shown, work: Work) -> html.Section:
    """
    Room for a picture with its finding above, drawn for a work.

    Parameters
    ----------
    shown : Shown
    work : Work

    Returns
    -------
    Section
    """
    drawn = _drawn(shown.draw, work)
    graph = dcc.Graph(
        id=ids.graph(shown.name),
        figure=drawn.picture,
        config=GRAPH_CONFIG,
        style={"minHeight": drawn.picture["layout"]["height"]},  # kept until it is drawn, so that nothing jumps
        className="graph",
    )
    parts: list[Component] = [
        html.H2(drawn.finding, id=ids.title(shown.name), className="finding"),
        html.P(shown.describe(work), className="subtitle"),
        html.Div([graph, html.Div(list(drawn.below), id=ids.below(shown.name), className="legend")]),
        _beside(shown),
    ]
    return html.Section(parts, className="picture")


def _drawn(draws: Callable[[Work], Drawn], work: Work) -> Drawn:
    """A picture drawn for a work, in which no engine's name is taken for markup."""
    drawn, engines = draws(work), reading_of(work).scenario.engines
    return replace(drawn, picture=drawing.plain_names(drawn.picture, (engine.name for engine in engines)))


def _beside(shown: Shown) -> html.Div:
    """Buttons that save the picture, and its figures, which are filled in when they are opened."""
    buttons = [
        html.Button(
            kind.upper(),
            id=ids.saves(shown.name, kind),
            n_clicks=0,
            type="button",
            className="plain-button",
            **aria(label=say("Save this picture as {kind}", kind=kind.upper())),
        )
        for kind in KINDS
    ]
    parts: list[Component] = [html.Div([html.Span(say("Save the picture")), *buttons], className="saves")]
    if shown.figures is not None:
        summary = html.Summary(say("Its figures"), id=ids.opens_figures(shown.name), n_clicks=0)
        parts.append(html.Details([summary, html.Div(id=ids.figures(shown.name), className="figures")]))
    return html.Div(parts, className="beside")


def follow(app: Dash, shown: Shown) -> None:
    """
    Draw a picture anew whenever the work changes while its page is in sight; let it be saved and its marks be opened.

    Parameters
    ----------
    app : Dash
    shown : Shown
    """
    drawing.register(app, shown.name)
    _register_drawing(app, shown)
    run_there(
        app,
        "pictures.save",
        *(Input(ids.saves(shown.name, kind), "n_clicks") for kind in KINDS),
        State(ids.graph(shown.name), "figure"),
        State(ids.title(shown.name), "children"),
        State(ids.TEMPLATES, "data"),
    )
    if shown.figures is not None:
        _register_figures(app, shown.name, shown.figures)


def _register_drawing(app: Dash, shown: Shown) -> None:
    """The picture follows the work; a finer one comes when the page is opened and once the work stands still."""
    finely = shown.draw_finely
    triggers = [Input(ids.WORK, "data")] + ([Input(ids.STILL, "data")] if finely else [])

    @app.callback(
        Output(ids.graph(shown.name), "figure"),
        Output(ids.title(shown.name), "children"),
        Output(ids.below(shown.name), "children"),
        *triggers,
        State(ids.SCHEME, "data"),
        State(ids.below(shown.name), "children"),
        prevent_initial_call=finely is None,
    )
    def draw(stored: object, *given: Any) -> tuple[object, ...]:
        scheme, below = given[-2:]
        draws = shown.draw if finely is None or ctx.triggered_id == ids.WORK else finely
        drawn = _drawn(draws, work_of(stored))
        return drawing.dressed(drawn.picture, scheme), drawn.finding, if_news(drawn.below, below)


def _register_figures(app: Dash, name: str, figures: Callable[[Work], Component]) -> None:
    """The table of a picture's figures, there only while it is open: every part of a page makes its changes slower."""

    @app.callback(
        Output(ids.figures(name), "children"),
        Input(ids.WORK, "data"),
        Input(ids.opens_figures(name), "n_clicks"),
        prevent_initial_call=True,
    )
    def fill(stored: object, clicks: object) -> object:
        if isinstance(clicks, int) and clicks % 2 == 1:
            return figures(work_of(stored))
        return no_update if ctx.triggered_id == ids.WORK else []
