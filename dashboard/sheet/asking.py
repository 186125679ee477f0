"""The sheet asked for on the pages: a small room for names and note, and the route that makes it, keeping nothing."""

from typing import Any

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, html
from dash.development.base_component import Component
from flask import Flask, Response, jsonify, request

from dashboard import ids, speaking
from dashboard.browser import aria, run_there
from dashboard.scenarios import scenario_of
from dashboard.sheet import paper
from dashboard.sheet.matter import LONGEST, PAPERS, Letterhead, matter_of_work
from dashboard.sheet.workbook import workbook
from dashboard.work import stored_work
from model.inputs.problems import InputError
from model.language import LANGUAGES, say, spoken
from model.wording import whole

ROUTE = "sheet"
"""Where a sheet is asked for, below the pages' own address."""

KINDS = {
    "html": "text/html; charset=utf-8",
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
"""What a sheet can be, and how it is announced."""


def button() -> html.Button:
    """Opens the room."""
    opens: dict[str, Any] = {"data-shows": ids.PAPER}
    return html.Button(say("Sheet"), id=ids.PAPER_OPEN, className="bar-button", type="button", **opens)


def room(app: Dash) -> html.Dialog:
    """Whose sheet it is, on which paper, in which language; the browser keeps what is typed."""
    closes: dict[str, Any] = {"data-close": ids.PAPER}
    head = html.Div(
        [
            html.H2(say("A sheet to take home"), id=ids.PAPER_TITLE, className="finding"),
            html.Button(say("Close"), className="plain-button", type="button", **closes),
        ],
        className="drawer-head",
    )
    kept: dict[str, Any] = {"persistence": True, "persistence_type": "local"}
    fields = [
        dmc.TextInput(id=ids.SHOP, label=say("Shop"), value="", size="md", **kept),
        dmc.TextInput(id=ids.CUSTOMER, label=say("Customer"), value="", size="md", **kept),
        dmc.Textarea(id=ids.PAPER_NOTE, label=say("Note"), value="", size="md", **kept),
        _choice(ids.PAPER_SIZE, say("Paper"), [(size, size) for size in PAPERS], PAPERS[0]),
        _choice(
            ids.PAPER_LANGUAGE, say("Language"), [(key, name) for key, name in LANGUAGES.items()], spoken().language
        ),
    ]
    told = html.P(id=ids.PAPER_TOLD, className="not-counted", role="status")
    privacy = html.P(
        say("Names and note stay in this browser; the server keeps nothing of them."), className="subtitle"
    )
    place: dict[str, Any] = {"data-path": app.config.requests_pathname_prefix + ROUTE}
    parts = [head, *fields, html.Div(_ways(), className="ways-out"), told, privacy]
    return html.Dialog(parts, id=ids.PAPER, className="drawer opening", **place, **aria(labelledby=ids.PAPER_TITLE))


def _choice(place: str, label: str, choices: list[tuple[str, str]], value: str) -> html.Div:
    """A choice of few."""
    data = [{"value": key, "label": name} for key, name in choices]
    return html.Div([html.P(label, className="subtitle"), dmc.SegmentedControl(id=place, data=data, value=value)])


def _ways() -> list[Component]:
    """Print it or have it as a file; a PDF only where one can be made."""
    ways = [("print", say("Print")), ("pdf", "PDF"), ("html", "HTML"), ("xlsx", "XLSX")]
    hidden = () if paper.can_make_pdf() else ("pdf",)
    return [
        dmc.Button(
            name, id=ids.paper_as(kind), variant="default", size="md", display="none" if kind in hidden else None
        )
        for kind, name in ways
    ]


def register(app: Dash) -> None:
    """The buttons ask the route with the work on screen; the route makes what is asked for."""
    given = (ids.SHOP, ids.CUSTOMER, ids.PAPER_NOTE, ids.PAPER_SIZE, ids.PAPER_LANGUAGE)
    run_there(
        app,
        "sheet.make",
        Output(ids.PAPER_TOLD, "children"),
        *(Input(ids.paper_as(kind), "n_clicks") for kind in ("print", *KINDS)),
        State(ids.WORK, "data"),
        *(State(field, "value") for field in given),
    )

    server: Flask = app.server

    @server.post(app.config.routes_pathname_prefix + ROUTE)
    def make_sheet() -> tuple[Response, int] | Response:
        return answer(request.get_json(silent=True))


def answer(asked: object) -> tuple[Response, int] | Response:
    """
    The sheet that a browser asks for, or what is wrong with what it asks.

    Parameters
    ----------
    asked : Any
        What came; a stranger may have made it.

    Returns
    -------
    Response
        The file; with 400, `told`: a sentence.
    """
    known = asked if isinstance(asked, dict) else {}
    work, kind, language = stored_work(known.get("work")), str(known.get("kind")), str(known.get("language"))
    head = _letterhead(known)
    if work is None or head is None or kind not in KINDS or language not in LANGUAGES:
        told = say(
            "This is no sheet that can be made: names have up to {names} characters, the note {note}.",
            names=whole(LONGEST["shop"]),
            note=whole(LONGEST["note"]),
        )
        return jsonify(told=told), 400
    try:
        scenario_of(work)
    except InputError as error:
        return jsonify(told="\n".join(str(problem) for problem in error.problems[:5])), 400
    if kind == "pdf" and not paper.can_make_pdf():
        return jsonify(told=say("No PDF can be made on this server: print the sheet, or take it as HTML.")), 400
    with speaking.said_in(language):
        matter = matter_of_work(work)
        if kind == "xlsx":
            content = workbook(matter, head)
        else:
            page = paper.html(matter, head)
            content = paper.pdf(page) if kind == "pdf" else page.encode()
    return Response(content, content_type=KINDS[kind], headers={"Cache-Control": "no-store"})


def _letterhead(known: dict[str, Any]) -> Letterhead | None:
    """Whose sheet it is; None where something is no text, or too long, or no paper."""
    words, size = {name: known.get(name, "") for name in LONGEST}, known.get("paper")
    are_sound = all(isinstance(text, str) and len(text) <= LONGEST[name] for name, text in words.items())
    return Letterhead(**words, paper=size) if are_sound and size in PAPERS else None
