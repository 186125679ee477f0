"""A picture on a page: drawn, following the work, saved as a file, its figures as a table beside it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from dash import Dash, Input, Output, State, ctx, dcc, html
from dash.development.base_component import Component

from dashboard import drawing, ids, text
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
        html.H2(text.together(drawn.finding), id=ids.title(shown.name), className="finding"),
        html.P(text.together(shown.describe(work)), className="subtitle"),
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


def follow(app: Dash, *pictures: Shown) -> None:
    """
    Draw pictures anew whenever the work changes while their page is in sight; let them be saved, their marks be opened.

    Parameters
    ----------
    app : Dash
    *pictures : Shown
        Of one page, asked for together: every request takes the browser as long as a small picture does.
    """
    _register_drawing(app, [shown for shown in pictures if not shown.draw_finely])
    for shown in pictures:
        drawing.register(app, shown.name)
        run_there(
            app,
            "pictures.save",
            *(Input(ids.saves(shown.name, kind), "n_clicks") for kind in KINDS),
            State(ids.graph(shown.name), "figure"),
            State(ids.title(shown.name), "children"),
            State(ids.TEMPLATES, "data"),
        )
        if shown.draw_finely:
            _register_finely(app, shown, shown.draw_finely)
        if shown.figures:
            follow_opened(app, ids.figures(shown.name), ids.opens_figures(shown.name), shown.figures)


def _outputs(shown: Shown) -> tuple[Output, Output, Output]:
    """What a picture sets."""
    return (
        Output(ids.graph(shown.name), "figure"),
        Output(ids.title(shown.name), "children"),
        Output(ids.below(shown.name), "children"),
    )


def _news(drawn: Drawn, scheme: object, below: object) -> tuple[object, object, object]:
    """A picture drawn, its finding, and what stands below unless that stands there already."""
    return drawing.dressed(drawn.picture, scheme), text.together(drawn.finding), if_news(drawn.below, below)


def _register_drawing(app: Dash, pictures: Sequence[Shown]) -> None:
    """Pictures follow the work."""
    if not pictures:
        return

    @app.callback(
        *(output for shown in pictures for output in _outputs(shown)),
        Input(ids.WORK, "data"),
        State(ids.SCHEME, "data"),
        *(State(ids.below(shown.name), "children") for shown in pictures),
        prevent_initial_call=True,
    )
    def draw(stored: object, scheme: object, *below: object) -> tuple[object, ...]:
        work = work_of(stored)
        news = [_news(_drawn(shown.draw, work), scheme, under) for shown, under in zip(pictures, below, strict=True)]
        return tuple(part for picture in news for part in picture)


def _register_finely(app: Dash, shown: Shown, finely: Callable[[Work], Drawn]) -> None:
    """A picture follows the work; a finer one comes when the page is opened and once the work stands still."""

    @app.callback(
        *_outputs(shown),
        Input(ids.WORK, "data"),
        Input(ids.STILL, "data"),
        State(ids.SCHEME, "data"),
        State(ids.below(shown.name), "children"),
    )
    def draw(stored: object, _: object, scheme: object, below: object) -> tuple[object, ...]:
        draws = shown.draw if ctx.triggered_id == ids.WORK else finely
        return _news(_drawn(draws, work_of(stored)), scheme, below)


def follow_opened(app: Dash, place: str, opens: str, figures: Callable[[Work], Component]) -> None:
    """
    A table that is there only while it is open: every part of a page makes every change of it slower.

    Parameters
    ----------
    app : Dash
    place : str
        Id of its room.
    opens : str
        Id of the summary that opens and closes it; the browser asks again when the work changes while it is open.
    figures : function
        Work -> table.
    """

    @app.callback(
        Output(place, "children"), Input(opens, "n_clicks"), State(ids.WORK, "data"), prevent_initial_call=True
    )
    def fill(clicks: object, stored: object) -> object:
        return figures(work_of(stored)) if isinstance(clicks, int) and clicks % 2 == 1 else []
