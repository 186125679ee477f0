"""The controls at hand on every page, and what becomes of what is typed there."""

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, html, no_update
from dash.development.base_component import Component

from dashboard import controls, ids, text
from dashboard.browser import aria, run_there
from dashboard.edits import drafts_of
from dashboard.form import ENGINES, FUEL, HABITS, HOURS, LABOUR, PATHS, SPREAD, YEARS, check, fields_of
from dashboard.habits import marks_of
from dashboard.scenarios import reading_of, scenario_of, work_of
from dashboard.theme import looks
from dashboard.work import Work
from model.language import say

ON_TOP = (HOURS, YEARS, FUEL)
"""Controls that stay in sight on a tablet."""

KEYS = tuple(PATHS)
"""Every number, in order."""

LABELS = {
    HOURS: text.HOURS,
    SPREAD: text.SPREAD,
    YEARS: text.YEARS,
    FUEL: text.FUEL,
    LABOUR: text.LABOUR,
    ENGINES: text.ENGINES,
}
"""What the controls are called."""


def room(work: Work | None) -> html.Aside:
    """Where the controls stand, or will; on small screens some or all are opened by a button."""
    controls_of_work = None if work is None else filled(work)
    return html.Aside(
        className="controls",
        **aria(label=say(text.CONTROLS)),
        children=[
            html.Div(
                id=ids.SHEET,
                className="sheet",
                children=[html.Div(controls_of_work, id=ids.PANEL, className="panel"), _ways_back()],
            ),
            html.Button(
                [
                    html.Span(say(text.MORE), className="on-tablet when-shut"),
                    html.Span(say(text.CHANGE), className="on-phone when-shut"),
                    html.Span(say(text.CLOSE), className="when-open"),
                ],
                id=ids.MORE,
                className="more",
                **aria(expanded="false", controls=ids.SHEET),
            ),
        ],
    )


def _ways_back() -> html.Div:
    """Undo, and back to the file."""
    return html.Div(
        [
            dmc.Button(say("Undo"), id=ids.UNDO, variant="default", size="md", disabled=True),
            dmc.Button(say(text.RESTORE), id=ids.RESTORE, variant="default", size="md"),
        ],
        className="ways-back",
    )


def filled(work: Work, drafts: object = None) -> list[Component]:
    """
    The controls of a work.

    Parameters
    ----------
    work : Work
    drafts : Any
        What was typed and cannot be counted, by control, from the browser's store.

    Returns
    -------
    list of Component
    """
    typed = drafts if isinstance(drafts, dict) else {}
    numbers = {field.key: controls.number(field, typed.get(field.key)) for field in fields_of(work)}
    engines = reading_of(work).scenario.engines
    names, compared = [engine.name for engine in engines], [engine.name for engine in scenario_of(work).engines]
    return [
        html.Div([numbers[key] for key in ON_TOP], className="first"),
        html.Div(
            [
                *(number for key, number in numbers.items() if key not in ON_TOP),
                controls.habits(marks_of(scenario_of(work))),
                controls.engine_choice(names, compared, looks(engines)),
            ],
            className="rest",
        ),
    ]


def register(app: Dash) -> None:
    """Slider and box follow each other; what is sound is counted, what is not is told."""
    for key in KEYS:
        run_there(
            app,
            "controls.follow",
            Output(ids.box(key), "value"),
            Output(ids.slider(key), "value"),
            Input(ids.slider(key), "value"),
            Input(ids.box(key), "value"),
            State(ids.slider(key), "min"),
            State(ids.slider(key), "max"),
        )
    run_there(
        app,
        "controls.open",
        Output(ids.SHEET, "className"),
        Output(ids.MORE, "aria-expanded"),
        Input(ids.MORE, "n_clicks"),
        State(ids.SHEET, "className"),
    )

    @app.callback(
        Output(ids.PANEL, "children"),
        Input(ids.SETTLED, "data"),
        State(ids.WORK, "data"),
        State(ids.DRAFTS, "data"),
        prevent_initial_call=True,
    )
    def fill(_: object, stored: object, drafts: object) -> list[Component]:
        return filled(work_of(stored), drafts)

    @app.callback(Output(ids.HABITS_TOLD, "children"), Input(ids.HABITS, "value"), prevent_initial_call=True)
    def tell_habits(marks: object) -> object:
        is_told = isinstance(marks, list) and len(marks) == 2 and all(isinstance(mark, int | float) for mark in marks)
        return controls.habits_in_words(marks) if is_told and isinstance(marks, list) else no_update

    _register_check(app)


def _register_check(app: Dash) -> None:
    """What is typed goes into the work as far as it is sound; the rest is told at its field."""
    told_at = [(ids.box(key), "error") for key in KEYS] + [(ids.ENGINES, "error"), (ids.NOT_COUNTED, "children")]

    @app.callback(
        Output(ids.WORK, "data", allow_duplicate=True),
        Output(ids.DRAFTS, "data", allow_duplicate=True),
        *(Output(*place) for place in told_at),
        *(Input(ids.box(key), "value") for key in KEYS),
        Input(ids.HABITS, "value"),
        Input(ids.ENGINES, "value"),
        State(ids.WORK, "data"),
        State(ids.DRAFTS, "data"),
        *(State(*place) for place in told_at),
        prevent_initial_call=True,
    )
    def count(*given: object) -> list[object]:
        typed = dict(zip([*KEYS, HABITS, ENGINES], given, strict=False))
        stored, kept, *before = given[len(typed) :]
        work = work_of(stored)
        checked = check(work, typed)
        told = [checked.problems.get(key, "") for key in (*KEYS, ENGINES)]
        told.append(text.not_counted([say(LABELS[key]) for key in checked.problems]))
        # What is told already is left alone: to draw a control again takes its time.
        news = [no_update if now == (then or "") else now for now, then in zip(told, before, strict=True)]
        drafts = drafts_of(kept) | {key: typed[key] for key in checked.problems if key != ENGINES}
        changed = [no_update if checked.work == work else checked.work.as_data()]
        return [*changed, no_update if drafts == kept else drafts, *news]
