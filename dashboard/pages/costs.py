"""Which engine costs less, why, from when on and from how many hours."""

from dash import Dash, Input, Output, State, ctx, html, no_update
from dash.development.base_component import Component

from dashboard import answers, drawing, ids, text, trials
from dashboard.browser import if_news
from dashboard.figures import cheapest_over_hours, cost_by_element, cost_since_delivery
from dashboard.figures.table_of_costs import table
from dashboard.form import HOURS, Form, Values
from dashboard.frame import values_of
from dashboard.theme import Picture, looks

PATH = "/"
"""Where it is."""

QUESTION = "Which costs less, and why?"
"""What it answers."""


def elements(form: Form, values: Values) -> tuple[Picture, str, list[Component]]:
    """Cost by element: the picture, its finding, what its parts are."""
    found = answers.comparison(form, values)
    drawn = cost_by_element.picture(found, looks(form.scenario.engines))
    return drawn, cost_by_element.finding(found), cost_by_element.legend(found)


def since_delivery(form: Form, values: Values) -> tuple[Picture, str]:
    """Cost since delivery: the picture and its finding."""
    mark, look = answers.main_mark(form, values), looks(form.scenario.engines)
    found, shaded = answers.since_delivery(form, values), trials.bands(form, values)
    return cost_since_delivery.picture(found, mark, look, shaded), cost_since_delivery.finding(found)


def over_hours(form: Form, values: Values) -> tuple[Picture, str]:
    """The cheapest engine over hours a year: the picture and its finding."""
    look = looks(form.scenario.engines)
    drawn = cheapest_over_hours.picture(
        answers.over_hours(form, values),
        answers.stretches_by_hours(form, values),
        values.number(HOURS),
        {name: look[name] for name in values.engines},
        form.scenario.currency,
    )
    return drawn, answers.over_hours_in_words(form, values)


def layout(form: Form) -> list[Component]:
    """One large picture, two smaller ones, all figures as a table; filled with what the file says."""
    currency, start = form.scenario.currency, form.start
    by_element, finding, legend = elements(form, start)
    described = text.COST_SINCE_DELIVERY.format(currency=currency)
    if trials.something_varies(form.scenario):
        described += text.BANDS
    return [
        drawing.place(
            ids.ELEMENTS,
            text.COST_BY_ELEMENT.format(currency=currency),
            (by_element, finding),
            html.P(legend, id=ids.ELEMENTS_LEGEND, className="legend"),
        ),
        html.Div(
            className="two",
            children=[
                drawing.place(ids.CUMULATIVE, described, since_delivery(form, start)),
                drawing.place(ids.HOURS_CURVE, text.OVER_HOURS.format(currency=currency), over_hours(form, start)),
            ],
        ),
        html.Section(
            className="picture",
            children=html.Details(
                [
                    html.Summary(text.ALL_FIGURES, id=ids.ELEMENTS_OPEN, n_clicks=0),
                    html.Div(id=ids.ELEMENTS_TABLE, className="figures"),
                ]
            ),
        ),
    ]


def register(app: Dash, form: Form) -> None:
    """Connect the pictures to the values."""
    for picture in (ids.ELEMENTS, ids.CUMULATIVE, ids.HOURS_CURVE):
        drawing.register(app, picture)
    _register_elements(app, form)

    @app.callback(
        Output(ids.graph(ids.CUMULATIVE), "figure"),
        Output(ids.title(ids.CUMULATIVE), "children"),
        Input(ids.VALUES, "data"),
        State(ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def draw_since_delivery(stored: object, scheme: object) -> tuple[object, ...]:
        drawn, *rest = since_delivery(form, values_of(form, stored))
        return drawing.dressed(drawn, scheme), *rest

    @app.callback(
        Output(ids.graph(ids.HOURS_CURVE), "figure"),
        Output(ids.title(ids.HOURS_CURVE), "children"),
        Input(ids.VALUES, "data"),
        State(ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def draw_over_hours(stored: object, scheme: object) -> tuple[object, ...]:
        drawn, *rest = over_hours(form, values_of(form, stored))
        return drawing.dressed(drawn, scheme), *rest


def _register_elements(app: Dash, form: Form) -> None:
    """Connect cost by element and the table of all figures."""

    @app.callback(
        Output(ids.graph(ids.ELEMENTS), "figure"),
        Output(ids.title(ids.ELEMENTS), "children"),
        Output(ids.ELEMENTS_LEGEND, "children"),
        Input(ids.VALUES, "data"),
        State(ids.SCHEME, "data"),
        State(ids.ELEMENTS_LEGEND, "children"),
        prevent_initial_call=True,
    )
    def draw_elements(stored: object, scheme: object, shown: object) -> tuple[object, ...]:
        drawn, finding, legend = elements(form, values_of(form, stored))
        return drawing.dressed(drawn, scheme), finding, if_news(legend, shown)

    @app.callback(
        Output(ids.ELEMENTS_TABLE, "children"),
        Input(ids.VALUES, "data"),
        Input(ids.ELEMENTS_OPEN, "n_clicks"),
        prevent_initial_call=True,
    )
    def fill_table(stored: object, clicks: object) -> object:
        # Not there while it is closed: every part of a page makes every change of it slower.
        if isinstance(clicks, int) and clicks % 2 == 1:
            return table(answers.comparison(form, values_of(form, stored)))
        return no_update if ctx.triggered_id == ids.VALUES else []
