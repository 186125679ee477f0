"""Which engine costs less, why, from when on and from how many hours."""

from dash import Dash, Input, Output, html
from dash.development.base_component import Component

from dashboard import answers, drawing, ids, text, trials
from dashboard.figures import cheapest_over_hours, cost_by_element, cost_since_delivery
from dashboard.figures.table_of_costs import table
from dashboard.form import Form
from dashboard.frame import values_of
from dashboard.theme import looks

PATH = "/"
"""Where it is."""

QUESTION = "Which costs less, and why?"
"""What it answers."""


def layout(form: Form) -> list[Component]:
    """One large picture, two smaller ones, all figures as a table."""
    currency = form.scenario.currency
    by_element = text.COST_BY_ELEMENT.format(currency=currency)
    since_delivery = text.COST_SINCE_DELIVERY.format(currency=currency)
    if trials.something_varies(form.scenario):
        since_delivery += text.BANDS
    over_hours = text.OVER_HOURS.format(currency=currency)
    return [
        drawing.place(
            ids.ELEMENTS,
            by_element,
            cost_by_element.height(len(form.engines)),
            html.P(id=ids.ELEMENTS_LEGEND, className="legend"),
        ),
        html.Div(
            className="two",
            children=[
                drawing.place(ids.CUMULATIVE, since_delivery, cost_since_delivery.HEIGHT),
                drawing.place(ids.HOURS_CURVE, over_hours, cheapest_over_hours.HEIGHT),
            ],
        ),
        html.Section(
            html.Details([html.Summary(text.ALL_FIGURES), html.Div(id=ids.ELEMENTS_TABLE, className="figures")]),
            className="picture",
        ),
    ]


def register(app: Dash, form: Form) -> None:
    """Connect the pictures to the values."""
    look = looks(form.scenario.engines)
    for picture in (ids.ELEMENTS, ids.CUMULATIVE, ids.HOURS_CURVE):
        drawing.register(app, picture)

    @app.callback(
        Output(ids.figure(ids.ELEMENTS), "data"),
        Output(ids.title(ids.ELEMENTS), "children"),
        Output(ids.ELEMENTS_TABLE, "children"),
        Output(ids.ELEMENTS_LEGEND, "children"),
        Input(ids.VALUES, "data"),
        running=drawing.dimmed(ids.ELEMENTS),
    )
    def draw_elements(stored: object) -> tuple[object, ...]:
        found = answers.comparison(form, values_of(form, stored))
        figure = cost_by_element.picture(found, look)
        return figure, cost_by_element.finding(found), table(found), cost_by_element.legend(found)

    @app.callback(
        Output(ids.figure(ids.CUMULATIVE), "data"),
        Output(ids.title(ids.CUMULATIVE), "children"),
        Input(ids.VALUES, "data"),
        running=drawing.dimmed(ids.CUMULATIVE),
    )
    def draw_since_delivery(stored: object) -> tuple[object, str]:
        values = values_of(form, stored)
        mark = answers.main_mark(form, values)
        found, shaded = answers.since_delivery(form, values), trials.bands(form, values)
        return cost_since_delivery.picture(found, mark, look, shaded), cost_since_delivery.finding(found)

    @app.callback(
        Output(ids.figure(ids.HOURS_CURVE), "data"),
        Output(ids.title(ids.HOURS_CURVE), "children"),
        Input(ids.VALUES, "data"),
        running=drawing.dimmed(ids.HOURS_CURVE),
    )
    def draw_over_hours(stored: object) -> tuple[object, str]:
        values = values_of(form, stored)
        figure = cheapest_over_hours.picture(
            answers.over_hours(form, values),
            answers.stretches_by_hours(form, values),
            values.number("hours"),
            {name: look[name] for name in values.engines},
            form.scenario.currency,
        )
        return figure, answers.over_hours_in_words(form, values)
