"""Which engine costs less, why, from when on and from how many hours."""

from dash import Dash, Input, Output, State, ctx, html, no_update
from dash.development.base_component import Component

from dashboard import answers, drawing, ids, text, trials
from dashboard.browser import if_news
from dashboard.figures import cheapest_over_hours, cost_by_element, cost_since_delivery
from dashboard.figures.table_of_costs import table_of_costs
from dashboard.scenarios import looks_of, scenario_of, work_of
from dashboard.theme import Picture
from dashboard.work import Work
from model.language import later, say

PATH = "/"
"""Where it is."""

QUESTION = later("Which costs less, and why?")
"""What it answers."""


def elements(work: Work) -> tuple[Picture, str, list[Component]]:
    """Cost by element: the picture, its finding, what its parts are."""
    found = answers.comparison(work)
    drawn = cost_by_element.picture(found, looks_of(work))
    return drawn, cost_by_element.finding(found), cost_by_element.legend(found)


def since_delivery(work: Work) -> tuple[Picture, str]:
    """Cost since delivery: the picture and its finding."""
    mark, look = answers.main_mark(work), looks_of(work)
    found, shaded = answers.since_delivery(work), trials.bands(work)
    return cost_since_delivery.picture(found, mark, look, shaded), cost_since_delivery.finding(found)


def over_hours(work: Work) -> tuple[Picture, str]:
    """The cheapest engine over hours a year: the picture and its finding."""
    scenario, look = scenario_of(work), looks_of(work)
    drawn = cheapest_over_hours.picture(
        answers.over_hours(work),
        answers.stretches_by_hours(work),
        scenario.mean_hours(),
        {name: look[name] for name in answers.names_of(scenario)},
        scenario.currency,
    )
    return drawn, answers.over_hours_in_words(work)


def layout(work: Work) -> list[Component]:
    """One large picture, two smaller ones, all figures as a table."""
    scenario = scenario_of(work)
    currency = scenario.currency
    by_element, finding, legend = elements(work)
    described = say(text.COST_SINCE_DELIVERY, currency=currency)
    if trials.something_varies(scenario):
        described += say(text.BANDS)
    return [
        drawing.place(
            ids.ELEMENTS,
            say(text.COST_BY_ELEMENT, currency=currency),
            (by_element, finding),
            html.P(legend, id=ids.ELEMENTS_LEGEND, className="legend"),
        ),
        html.Div(
            className="two",
            children=[
                drawing.place(ids.CUMULATIVE, described, since_delivery(work)),
                drawing.place(ids.HOURS_CURVE, say(text.OVER_HOURS, currency=currency), over_hours(work)),
            ],
        ),
        html.Section(
            className="picture",
            children=html.Details(
                [
                    html.Summary(say(text.ALL_FIGURES), id=ids.ELEMENTS_OPEN, n_clicks=0),
                    html.Div(id=ids.ELEMENTS_TABLE, className="figures"),
                ]
            ),
        ),
    ]


def register(app: Dash) -> None:
    """Connect the pictures to the values."""
    for picture in (ids.ELEMENTS, ids.CUMULATIVE, ids.HOURS_CURVE):
        drawing.register(app, picture)
    _register_elements(app)

    @app.callback(
        Output(ids.graph(ids.CUMULATIVE), "figure"),
        Output(ids.title(ids.CUMULATIVE), "children"),
        Input(ids.WORK, "data"),
        State(ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def draw_since_delivery(stored: object, scheme: object) -> tuple[object, ...]:
        drawn, *rest = since_delivery(work_of(stored))
        return drawing.dressed(drawn, scheme), *rest

    @app.callback(
        Output(ids.graph(ids.HOURS_CURVE), "figure"),
        Output(ids.title(ids.HOURS_CURVE), "children"),
        Input(ids.WORK, "data"),
        State(ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def draw_over_hours(stored: object, scheme: object) -> tuple[object, ...]:
        drawn, *rest = over_hours(work_of(stored))
        return drawing.dressed(drawn, scheme), *rest


def _register_elements(app: Dash) -> None:
    """Connect cost by element and the table of all figures."""

    @app.callback(
        Output(ids.graph(ids.ELEMENTS), "figure"),
        Output(ids.title(ids.ELEMENTS), "children"),
        Output(ids.ELEMENTS_LEGEND, "children"),
        Input(ids.WORK, "data"),
        State(ids.SCHEME, "data"),
        State(ids.ELEMENTS_LEGEND, "children"),
        prevent_initial_call=True,
    )
    def draw_elements(stored: object, scheme: object, shown: object) -> tuple[object, ...]:
        drawn, finding, legend = elements(work_of(stored))
        return drawing.dressed(drawn, scheme), finding, if_news(legend, shown)

    @app.callback(
        Output(ids.ELEMENTS_TABLE, "children"),
        Input(ids.WORK, "data"),
        Input(ids.ELEMENTS_OPEN, "n_clicks"),
        prevent_initial_call=True,
    )
    def fill_table(stored: object, clicks: object) -> object:
        # Not there while it is closed: every part of a page makes every change of it slower.
        if isinstance(clicks, int) and clicks % 2 == 1:
            return table_of_costs(answers.comparison(work_of(stored)))
        return no_update if ctx.triggered_id == ids.WORK else []
