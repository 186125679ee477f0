"""What stands on every page: the bar on top, the controls, the answer; and the callbacks between them."""

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, dcc, html, no_update

from dashboard import answers, controls, ids, text, trials
from dashboard.browser import aria, run_there
from dashboard.form import ENGINES, FUEL, HOURS, YEARS, Form, Values
from dashboard.theme import TEMPLATES, looks

ON_TOP = (HOURS, YEARS, FUEL)
"""Controls that stay in sight on a tablet."""


def bar(form: Form) -> html.Header:
    """Title of the scenario, where it comes from, light or dark."""
    return html.Header(
        className="bar",
        children=[
            html.Div(
                [html.Div(form.scenario.title, className="scenario"), html.Div(form.scenario.note, className="note")]
            ),
            dmc.ColorSchemeToggle(
                id=ids.SCHEME_SWITCH,
                lightIcon=html.Span(text.DARK, className="scheme-word"),
                darkIcon=html.Span(text.LIGHT, className="scheme-word"),
                size="lg",
                variant="default",
                w=104,
                h=44,
                **aria(label=text.SCHEME_SWITCH),
            ),
        ],
    )


def control_panel(form: Form) -> html.Aside:
    """Every control; on small screens some or all are opened by a button."""
    numbers = {field.key: controls.number(field) for field in form.fields}
    first = [numbers[key] for key in ON_TOP]
    rest = [number for key, number in numbers.items() if key not in ON_TOP]
    return html.Aside(
        className="controls",
        **aria(label=text.CONTROLS),
        children=[
            html.Div(
                id=ids.SHEET,
                className="sheet",
                children=[
                    html.Div(first, className="first"),
                    html.Div(
                        [
                            *rest,
                            controls.engine_choice(form.engines, looks(form.scenario.engines)),
                            dmc.Button(text.RESTORE, id=ids.RESTORE, variant="default", size="md", className="restore"),
                        ],
                        className="rest",
                    ),
                ],
            ),
            html.Button(
                [html.Span(text.MORE, className="on-tablet"), html.Span(text.CHANGE, className="on-phone")],
                id=ids.MORE,
                className="more",
                **aria(expanded="false", controls=ids.SHEET),
            ),
        ],
    )


def answer() -> html.Section:
    """The answer in one sentence, and from when on."""
    return html.Section(
        className="answer",
        **aria(live="polite"),
        children=[
            html.P(id=ids.NOT_COUNTED, className="not-counted", role="status"),
            html.P(id=ids.TROUBLE, className="not-counted", role="alert"),
            html.H1(id=ids.ANSWER, className="sentence"),
            html.P(id=ids.WHEN, className="second-line"),
        ],
    )


def notes() -> html.Section:
    """What a reader should know about the figures, under them."""
    return html.Section([html.H2(text.GOOD_TO_KNOW, className="finding"), html.Ul(id=ids.NOTES)], className="notes")


def stores(form: Form) -> list[dcc.Store]:
    """What the browser keeps of this page."""
    return [
        dcc.Store(id=ids.VALUES, data=form.start.as_data()),
        dcc.Store(id=ids.SCHEME),
        dcc.Store(id=ids.TEMPLATES, data=TEMPLATES),
    ]


def values_of(form: Form, stored: object) -> Values:
    """Values from the browser's store; the file's own where the store holds nothing sound."""
    values, _ = form.check(stored if isinstance(stored, dict) else {})
    return values or form.start


def register(app: Dash, form: Form) -> None:
    """Connect controls and answer."""
    _register_controls(app, form)

    @app.callback(Output(ids.ANSWER, "children"), Output(ids.TROUBLE, "children"), Input(ids.VALUES, "data"))
    def tell(stored: object) -> tuple[list[object], str]:
        before, figure, after = text.parts_of_the_answer(answers.sentence(form, values_of(form, stored)))
        return [before, html.Strong(figure), after], ""

    @app.callback(Output(ids.WHEN, "children"), Input(ids.VALUES, "data"))
    def tell_when(stored: object) -> str:
        values = values_of(form, stored)
        cheapest = answers.comparison(form, values).cheapest.name
        lines = (
            answers.pays_back(form, values),
            trials.how_sure(form, values, cheapest),
            answers.around_today(form, values),
        )
        return " ".join(line for line in lines if line)

    @app.callback(Output(ids.NOTES, "children"), Input(ids.VALUES, "data"))
    def tell_notes(stored: object) -> list[html.Li]:
        return [html.Li(line) for line in answers.notes(form, values_of(form, stored))]


def _register_controls(app: Dash, form: Form) -> None:
    """Slider and box follow each other; what is sound is counted, what is not is told."""
    keys = [field.key for field in form.fields]
    labels = {field.key: field.label for field in form.fields} | {ENGINES: text.ENGINES}
    for key in keys:
        run_there(
            app,
            "controls.follow",
            Output(ids.box(key), "value"),
            Output(ids.slider(key), "value"),
            Input(ids.slider(key), "value"),
            Input(ids.box(key), "value"),
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
        Output(ids.VALUES, "data"),
        Output(ids.NOT_COUNTED, "children"),
        *(Output(ids.box(key), "error") for key in keys),
        Output(ids.ENGINES, "error"),
        *(Input(ids.box(key), "value") for key in keys),
        Input(ids.ENGINES, "value"),
        prevent_initial_call=True,
    )
    def check(*raw: object) -> list[object]:
        values, problems = form.check(dict(zip([*keys, ENGINES], raw, strict=True)))
        told = [problems.get(key, "") for key in (*keys, ENGINES)]
        stored = no_update if values is None else values.as_data()
        return [stored, text.not_counted([labels[key] for key in problems]), *told]

    @app.callback(
        *(Output(ids.box(key), "value", allow_duplicate=True) for key in keys),
        *(Output(ids.slider(key), "value", allow_duplicate=True) for key in keys),
        Output(ids.ENGINES, "value"),
        Input(ids.RESTORE, "n_clicks"),
        prevent_initial_call=True,
    )
    def restore(_: object) -> list[object]:
        numbers = [number for _, number in form.start.numbers]
        return [*numbers, *numbers, list(form.engines)]
