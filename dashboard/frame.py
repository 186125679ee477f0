"""What stands on every page: the bar on top, the controls, the answer; and the callbacks between them."""

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard import answers, controls, ids, text, trials
from dashboard.browser import aria, if_news, run_there
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
                [
                    html.Span(text.MORE, className="on-tablet when-shut"),
                    html.Span(text.CHANGE, className="on-phone when-shut"),
                    html.Span(text.CLOSE, className="when-open"),
                ],
                id=ids.MORE,
                className="more",
                **aria(expanded="false", controls=ids.SHEET),
            ),
        ],
    )


def sentence(form: Form, values: Values) -> tuple[str, str, str]:
    """The answer around its figure."""
    return text.parts_of_the_answer(answers.sentence(form, values))


def second_line(form: Form, values: Values) -> str:
    """From when on, how sure, and from how many hours."""
    cheapest = answers.comparison(form, values).cheapest.name
    lines = (
        answers.pays_back(form, values),
        trials.how_sure(form, values, cheapest),
        answers.around_today(form, values),
    )
    return "\n".join(line for line in lines if line)


def note_lines(form: Form, values: Values) -> list[Component]:
    """What a reader should know about the figures."""
    return [html.Li(line) for line in answers.notes(form, values)]


def answer(form: Form) -> html.Section:
    """The answer in one sentence, and from when on; what the file says to begin with."""
    before, figure, after = sentence(form, form.start)
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
            html.P(second_line(form, form.start), id=ids.WHEN, className="second-line"),
        ],
    )


def notes(form: Form) -> html.Section:
    """What a reader should know about the figures, under them."""
    told = html.Ul(note_lines(form, form.start), id=ids.NOTES)
    return html.Section([html.H2(text.GOOD_TO_KNOW, className="finding"), told], className="notes")


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
    _register_restore(app, form)

    @app.callback(
        Output(ids.ANSWER_BEFORE, "children"),
        Output(ids.ANSWER_FIGURE, "children"),
        Output(ids.ANSWER_AFTER, "children"),
        Output(ids.NOTES, "children"),
        Output(ids.TROUBLE, "children"),
        Input(ids.VALUES, "data"),
        State(ids.NOTES, "children"),
        prevent_initial_call=True,
    )
    def tell(stored: object, noted: object) -> tuple[object, ...]:
        values = values_of(form, stored)
        return *sentence(form, values), if_news(note_lines(form, values), noted), ""

    @app.callback(Output(ids.WHEN, "children"), Input(ids.VALUES, "data"), prevent_initial_call=True)
    def tell_when(stored: object) -> str:
        return second_line(form, values_of(form, stored))


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

    told_at = [(ids.box(key), "error") for key in keys] + [(ids.ENGINES, "error"), (ids.NOT_COUNTED, "children")]

    @app.callback(
        Output(ids.VALUES, "data"),
        *(Output(*place) for place in told_at),
        *(Input(ids.box(key), "value") for key in keys),
        Input(ids.ENGINES, "value"),
        *(State(*place) for place in told_at),
        prevent_initial_call=True,
    )
    def check(*given: object) -> list[object]:
        raw, before = given[: len(keys) + 1], given[len(keys) + 1 :]
        values, problems = form.check(dict(zip([*keys, ENGINES], raw, strict=True)))
        told = [problems.get(key, "") for key in (*keys, ENGINES)]
        told.append(text.not_counted([labels[key] for key in problems]))
        # What is told already is left alone: to draw a control again takes its time.
        news = [no_update if now == (then or "") else now for now, then in zip(told, before, strict=True)]
        return [no_update if values is None else values.as_data(), *news]


def _register_restore(app: Dash, form: Form) -> None:
    """Back to what the file says."""
    keys = [field.key for field in form.fields]

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
