"""Open a scenario of the library or a file of one's own, save what is worked on, send it as a link."""

from pathlib import Path
from typing import Any

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard import ids, library
from dashboard.browser import aria, run_there
from dashboard.saving import file_of
from dashboard.scenarios import scenario_of, work_of
from dashboard.work import stored_work
from model.inputs.files import LARGEST_FILE
from model.inputs.problems import InputError, Problem
from model.language import say
from model.wording import whole

MOST_TOLD = 20
"""Problems of a file that are listed; whoever puts those right sees the next ones."""


def buttons() -> list[Component]:
    """Open, save, send as a link."""
    opens: dict[str, Any] = {"data-shows": ids.OPENING}
    return [
        html.Button(say("Open"), id=ids.OPEN, className="bar-button", type="button", **opens),
        html.Button(say("Save"), id=ids.SAVE, className="bar-button", type="button", n_clicks=0),
        html.Button(say("Link"), id=ids.LINK, className="bar-button", type="button", n_clicks=0),
        dcc.Download(id=ids.SAVED),
        html.Div(id=ids.LINK_TOLD, className="link-told", role="status"),
    ]


def room() -> html.Dialog:
    """What can be opened: the library, and files of one's own."""
    closes: dict[str, Any] = {"data-close": ids.OPENING}
    head = html.Div(
        [
            html.H2(say("Open a scenario"), id=ids.OPENING_TITLE, className="finding"),
            html.Button(say("Close"), className="plain-button", type="button", **closes),
        ],
        className="drawer-head",
    )
    limit = say("Up to {bytes} bytes. It may name engine files of the library.", bytes=whole(LARGEST_FILE))
    own = html.Div(
        [
            dmc.Button(say("Choose a file of your own (TOML)"), id=ids.OPEN_OWN, variant="default", size="md"),
            html.P(limit, className="subtitle"),
        ],
        className="own-file",
    )
    shelf = html.Ul([html.Li(_offer(name)) for name in library.files()], className="shelf")
    told = html.Div(id=ids.OPEN_TOLD, className="problems", role="alert")
    return html.Dialog(
        [head, told, shelf, own], id=ids.OPENING, className="drawer opening", **aria(labelledby=ids.OPENING_TITLE)
    )


def _offer(name: str) -> html.Button:
    """A scenario on offer."""
    data: dict[str, Any] = {"data-open-name": name}
    return html.Button(library.title(name), className="offer", type="button", **data)


def problem_lines(file: str, problems: tuple[Problem, ...]) -> list[Component]:
    """
    Every problem of a file, for those who can put it right.

    Parameters
    ----------
    file : str
        What its owner calls it.
    problems : tuple of Problem

    Returns
    -------
    list of Component
    """
    told = [_in_words(problem) for problem in problems[:MOST_TOLD]]
    if len(problems) > MOST_TOLD:
        told.append(say("{number} more {number:problem|problems}", number=len(problems) - MOST_TOLD))
    heading = say("{file} cannot be opened yet. What you have now stays.", file=file)
    return [html.P(heading, className="not-counted"), html.Ul([html.Li(line) for line in told])]


def _in_words(problem: Problem) -> str:
    """One problem: the file where it is not the scenario itself, the key, what was found, what is allowed."""
    where = problem.key or Path(problem.file).name
    return say("{where}: found {found}. Allowed: {allowed}", where=where, found=problem.found, allowed=problem.allowed)


def register(app: Dash) -> None:
    """Opening, saving and the link."""

    @app.callback(
        Output(ids.WORK, "data", allow_duplicate=True),
        Output(ids.DRAFTS, "data", allow_duplicate=True),
        Output(ids.SETTLED, "data", allow_duplicate=True),
        Output(ids.OPEN_TOLD, "children"),
        Input(ids.OPEN_ASKED, "data"),
        prevent_initial_call=True,
    )
    def open_asked(asked: object) -> tuple[object, ...]:
        work, file = stored_work(asked), asked.get("name") if isinstance(asked, dict) else ""
        if work is None:
            found = Problem(str(file), "", say("no text, or too much of it"), say("a scenario file (TOML)"))
            return no_update, no_update, no_update, problem_lines(str(file), (found,))
        try:
            scenario_of(work)
        except InputError as error:
            return no_update, no_update, no_update, problem_lines(work.name, error.problems)
        counter = asked.get("asked") if isinstance(asked, dict) else None
        return work.as_data(), {}, counter, []

    run_there(app, "opening.opened", Input(ids.SETTLED, "data"))

    @app.callback(
        Output(ids.SAVED, "data"), Input(ids.SAVE, "n_clicks"), State(ids.WORK, "data"), prevent_initial_call=True
    )
    def save(_: object, stored: object) -> dict[str, str]:
        name, text = file_of(work_of(stored))
        return {"filename": name, "content": text}

    run_there(
        app, "opening.link", Output(ids.LINK_TOLD, "children"), Input(ids.LINK, "n_clicks"), State(ids.WORK, "data")
    )
