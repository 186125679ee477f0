"""What is handed to the browser: functions that run there, and attributes that Python's names cannot hold."""

import json
from collections.abc import Sequence
from typing import Any

from dash import ClientsideFunction, Dash, no_update
from dash.dependencies import DashDependency
from dash.development.base_component import Component
from plotly.utils import PlotlyJSONEncoder


def aria(**words: str) -> dict[str, Any]:
    """
    Attributes for those who hear a page rather than see it.

    >>> aria(hidden="true")
    {'aria-hidden': 'true'}
    """
    return {f"aria-{name}": word for name, word in words.items()}


def run_there(app: Dash, function: str, *dependencies: DashDependency, at_start: bool = False) -> None:
    """
    Connect a function of `assets/page.js`, which asks nothing of the server.

    Parameters
    ----------
    app : Dash
    function : str
        Its place: "controls.follow".
    *dependencies : Output, Input, State
    at_start : bool
        Whether it runs when the page is opened, before anything has changed.
    """
    namespace, name = function.split(".")
    app.clientside_callback(  # type: ignore[no-untyped-call]
        ClientsideFunction(namespace, name), *dependencies, prevent_initial_call=not at_start
    )


def if_news(parts: Sequence[Component], shown: object) -> object:
    """
    Parts of the page, or no update where the browser shows them already: parts drawn anew take it most of its time.

    Parameters
    ----------
    parts : sequence of Component
        As they should be.
    shown : object
        As the browser says that they are.

    Returns
    -------
    list of Component, or no update
    """
    return no_update if json.loads(json.dumps(parts, cls=PlotlyJSONEncoder)) == shown else list(parts)
