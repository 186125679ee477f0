"""Parts of a page that are drawn anew whenever the work changes."""

from collections.abc import Callable

from dash import Dash, Input, Output, State, html
from dash.development.base_component import Component

from dashboard import ids
from dashboard.scenarios import work_of
from dashboard.work import Work

Draw = Callable[[Work], list[Component]]
"""A work -> the parts that show it."""


def part(name: str, draw: Draw, work: Work) -> html.Div:
    """
    Room on a page for parts that follow the work.

    Parameters
    ----------
    name : str
        Its id.
    draw : function
        Work -> parts; the one given to `follow`.
    work : Work
        What it shows to begin with.

    Returns
    -------
    Div
    """
    return html.Div(draw(work), id=name, className="part-of-page")


def later(name: str) -> html.Div:
    """Room for parts that take so long that the page is shown before they are there."""
    return html.Div(id=name, className="part-of-page")


def follow(app: Dash, name: str, draw: Draw, waits: bool = False) -> None:
    """
    Draw those parts anew whenever the work changes while their page is in sight.

    Parameters
    ----------
    app : Dash
    name : str
        Their id.
    draw : function
        Work -> parts.
    waits : bool
        Whether they take long: then they are drawn when the page is opened and once the work stands still.
    """

    @app.callback(
        Output(name, "children"),
        Input(ids.STILL if waits else ids.WORK, "data"),
        State(ids.WORK, "data"),
        prevent_initial_call=not waits,
    )
    def drawn(_: object, stored: object) -> list[Component]:
        return draw(work_of(stored))
