"""What stands on every page: the bar on top, the answer, the names of the pages, the page in sight."""

import json
from typing import Any

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, dcc, html
from dash.development.base_component import Component

from dashboard import answers, drawing, ids, opening, shown_as, speaking, text, trials
from dashboard.browser import aria, if_news, run_there
from dashboard.keeping import kept
from dashboard.pages import PAGES, fleet, page_at
from dashboard.scenarios import scenario_of, start, work_of
from dashboard.sheet import asking
from dashboard.theme import LIGHT, TEMPLATES
from dashboard.work import Work
from model.inputs.problems import InputError
from model.language import say

FIRST_VIEW = "first-view"
"""Cookie: "yes" where a browser opens the first page and has kept nothing; `assets/work.js` says so at each load."""


def first_work() -> Work | None:
    """The work that a page is laid out with, answer, picture and all; None where the browser brings its own."""
    if speaking.chosen(FIRST_VIEW) != "yes":
        return None
    try:
        scenario_of(start())
    except InputError:  # the file was broken since the pages were begun: the page stands, and says what is wrong
        return None
    return start()


def bar(app: Dash, work: Work | None) -> html.Header:
    """Title of the scenario, where it comes from, the language, light or dark."""
    title, note = (None, None) if work is None else _titles(work)
    return html.Header(
        className="bar",
        children=[
            html.Div(
                [html.Div(title, id=ids.TITLE, className="scenario"), html.Div(note, id=ids.NOTE, className="note")]
            ),
            html.Div([*opening.buttons(), asking.button()], className="bar-buttons"),
            html.Div([*speaking.choice(app), shown_as.button(), large_type(), scheme_switch()], className="bar-looks"),
        ],
    )


def scheme_switch() -> dmc.ColorSchemeToggle:
    """Light or dark."""
    return dmc.ColorSchemeToggle(
        id=ids.SCHEME_SWITCH,
        lightIcon=html.Span(say(text.DARK), className="scheme-word"),
        darkIcon=html.Span(say(text.LIGHT), className="scheme-word"),
        size="lg",
        variant="default",
        w=104,
        h=44,
        **aria(label=say(text.SCHEME_SWITCH)),
    )


def large_type() -> html.Button:
    """Type to be read at arm's length in a showroom; `assets/page.js` switches it and keeps the choice."""
    return html.Button(
        say("Large type"), id=ids.LARGE_TYPE, className="bar-button", type="button", **aria(pressed="false")
    )


def answer(work: Work | None) -> html.Section:
    """Room for the answer in one sentence, and from when on."""
    before, figure, after = (None, None, None) if work is None else sentence(work)
    return html.Section(
        className="answer",
        **aria(live="polite"),
        children=[
            html.P(id=ids.NOT_COUNTED, className="not-counted", role="status"),
            html.P(id=ids.TROUBLE, className="not-counted", role="alert"),
            html.H1(
                id=ids.ANSWER,
                className="sentence",
                children=[
                    html.Span(before, id=ids.ANSWER_BEFORE),
                    html.Strong(figure, id=ids.ANSWER_FIGURE),
                    html.Span(after, id=ids.ANSWER_AFTER),
                ],
            ),
            html.P(None if work is None else second_line(work), id=ids.WHEN, className="second-line"),
        ],
    )


def page_names(app: Dash) -> html.Nav:
    """The questions that the pages answer; the browser changes pages by itself."""
    base = app.config.requests_pathname_prefix
    paths: list[dict[str, Any]] = [
        {"data-page": page.PATH, "data-alone": str(getattr(page, "STANDS_ALONE", False)).lower()} for page in PAGES
    ]
    links = [
        html.A(say(page.QUESTION), href=base + page.PATH[1:], className="page-name", **path)
        for page, path in zip(PAGES, paths, strict=True)
    ]
    return html.Nav(links, className="page-names", **aria(label=say("Questions")))


def page_room(work: Work | None) -> html.Div:
    """Where the page in sight stands."""
    waiting = [html.P(say("One moment ..."), className="waiting")]
    parts = waiting if work is None else _first_page(work)
    return html.Div(parts, id=ids.PAGE, className="page")


@kept
def _first_page(work: Work) -> list[Component]:
    """The page that a first view shows: the same one for all who come new to it, so it is laid out once."""
    return page_parts(PAGES[0].PATH, work, LIGHT)


def page_parts(path: object, work: Work, scheme: object) -> list[Component]:
    """The page at a path, its pictures as they look in a scheme."""
    page = page_at(path)
    parts = [html.H2(say(page.QUESTION), className="unseen"), *page.layout(work)]
    drawing.dress_all(parts, scheme)
    return parts


def notes(work: Work | None) -> html.Section:
    """What a reader should know about the figures, under them."""
    lines = None if work is None else note_lines(work)
    return html.Section(
        [html.H2(say(text.GOOD_TO_KNOW), className="finding"), html.Ul(lines, id=ids.NOTES)], className="notes"
    )


def stores(work: Work | None) -> list[Component]:
    """What the browser keeps of this page; `assets/work.js` brings back and keeps what lasts."""
    is_filled = work is not None
    return [
        dcc.Store(id=ids.START, data=start().as_data()),
        dcc.Store(id=ids.WORK, data=None if work is None else work.as_data()),
        dcc.Store(id=ids.DRAFTS, data={} if is_filled else None),
        dcc.Store(id=ids.SETTLED),
        dcc.Store(id=ids.VISIBLE, data=PAGES[0].PATH if is_filled else None),
        dcc.Store(id=ids.STILL),
        dcc.Store(id=ids.OPENED),
        dcc.Store(id=ids.EDIT),
        dcc.Store(id=ids.EDIT_PART),
        dcc.Store(id=ids.EDIT_DONE),
        dcc.Store(id=ids.OPEN_ASKED),
        dcc.Store(id=ids.SCHEME, data=LIGHT if is_filled else None),
        dcc.Store(id=ids.TEMPLATES, data=TEMPLATES),
        *fleet.stores(),
    ]


def said() -> html.Div:
    """What the browser says by itself, where its own code finds it."""
    words: dict[str, Any] = {"data-words": json.dumps(text.said_by_the_browser(), ensure_ascii=False)}
    return html.Div(id=ids.SAID, hidden=True, **words)


def sentence(work: Work) -> tuple[str, str, str]:
    """The answer around its figure."""
    before, figure, after = map(text.together, trials.sentence(work))
    return before, figure, after


def second_line(work: Work) -> str:
    """From when on, how sure, and from how many hours."""
    cheapest = answers.comparison(work).cheapest.name
    lines = (answers.pays_back(work), trials.how_sure(work, cheapest), answers.around_today(work))
    return text.together("\n".join(line for line in lines if line))


def _titles(work: Work) -> tuple[str, str]:
    """The scenario's own words about itself."""
    scenario = answers.comparison(work).scenario
    return scenario.title, scenario.note


def note_lines(work: Work) -> list[Component]:
    """What a reader should know about the figures."""
    return [html.Li(line) for line in answers.notes(work)]


def register(app: Dash) -> None:
    """Bring back what was worked on, keep it, tell its answer, show the page in sight."""
    run_there(
        app,
        "work.start",
        Output(ids.WORK, "data"),
        Output(ids.DRAFTS, "data"),
        Output(ids.SETTLED, "data"),
        Output(ids.VISIBLE, "data"),
        Output(ids.SCHEME, "data"),
        Input(ids.START, "data"),
        State(ids.WORK, "data"),
        State(ids.VISIBLE, "data"),
        State(ids.SCHEME, "data"),
        at_start=True,
    )
    run_there(app, "work.keep", Output(ids.UNDO, "disabled"), Input(ids.WORK, "data"), Input(ids.DRAFTS, "data"))
    for button, function in ((ids.UNDO, "work.undo"), (ids.RESTORE, "work.restore")):
        run_there(
            app,
            function,
            Output(ids.WORK, "data", allow_duplicate=True),
            Output(ids.DRAFTS, "data", allow_duplicate=True),
            Output(ids.SETTLED, "data", allow_duplicate=True),
            Input(button, "n_clicks"),
            State(ids.WORK, "data"),
        )
    run_there(app, "pictures.still", Input(ids.WORK, "data"))
    _register_answer(app)
    _register_page(app)


def _register_answer(app: Dash) -> None:
    """The answer and what belongs to it follow the work."""

    @app.callback(
        Output(ids.ANSWER_BEFORE, "children"),
        Output(ids.ANSWER_FIGURE, "children"),
        Output(ids.ANSWER_AFTER, "children"),
        Output(ids.NOTES, "children"),
        Output(ids.TROUBLE, "children"),
        Output(ids.TITLE, "children"),
        Output(ids.NOTE, "children"),
        Input(ids.WORK, "data"),
        State(ids.NOTES, "children"),
        prevent_initial_call=True,
    )
    def tell(stored: object, noted: object) -> tuple[object, ...]:
        work = work_of(stored)
        return *sentence(work), if_news(note_lines(work), noted), "", *_titles(work)

    @app.callback(Output(ids.WHEN, "children"), Input(ids.WORK, "data"), prevent_initial_call=True)
    def tell_when(stored: object) -> str:
        return second_line(work_of(stored))


def _register_page(app: Dash) -> None:
    """The page in sight is drawn for the work as it is then; its own callbacks follow from there."""
    run_there(app, "pages.seen", Input(ids.VISIBLE, "data"), State(ids.WORK, "data"))

    @app.callback(
        Output(ids.PAGE, "children"),
        Input(ids.VISIBLE, "data"),
        State(ids.WORK, "data"),
        State(ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def show(path: object, stored: object, scheme: object) -> list[Component]:
        return page_parts(path, work_of(stored), scheme)

    run_there(app, "pages.shown", Input(ids.PAGE, "children"), State(ids.WORK, "data"))
