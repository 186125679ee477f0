"""Which engine costs less, why, from when on and from how many hours."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, ids, showing, text, trials
from dashboard.figures import cheapest_over_hours, cost_by_element, cost_by_year, cost_since_delivery
from dashboard.figures.table_of_costs import table_of_costs
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.work import Work
from model.language import later, say
from model.uncertainty.trials import something_varies

PATH = "/"
"""Where it is."""

QUESTION = later("Which costs less, and why?")
"""What it answers."""


def elements(work: Work) -> Drawn:
    """Cost by element: the picture, its finding, what its parts are."""
    found = answers.comparison(work)
    drawn = cost_by_element.picture(found, looks_of(work))
    return Drawn(drawn, cost_by_element.finding(found), tuple(cost_by_element.legend(found)))


def since_delivery(work: Work) -> Drawn:
    """Cost since delivery."""
    mark, look = answers.main_mark(work), looks_of(work)
    found, shaded = answers.since_delivery(work), trials.bands(work)
    return Drawn(cost_since_delivery.picture(found, mark, look, shaded), cost_since_delivery.finding(found))


def over_hours(work: Work) -> Drawn:
    """The cheapest engine over hours a year."""
    scenario, look = scenario_of(work), looks_of(work)
    drawn = cheapest_over_hours.picture(
        answers.over_hours(work),
        answers.stretches_by_hours(work),
        scenario.mean_hours(),
        {name: look[name] for name in answers.names_of(scenario)},
        scenario.currency,
    )
    return Drawn(drawn, answers.over_hours_in_words(work))


def by_year(work: Work) -> Drawn:
    """What running costs year by year."""
    found = answers.comparison(work)
    parts = cost_by_element.legend_of(cost_by_year.shown(found.engines))
    return Drawn(cost_by_year.picture(found, looks_of(work)), cost_by_year.finding(found), tuple(parts))


def _by_element_described(work: Work) -> str:
    """What the bars are."""
    return say(text.COST_BY_ELEMENT, currency=scenario_of(work).currency)


def _since_delivery_described(work: Work) -> str:
    """What the lines are."""
    scenario = scenario_of(work)
    shaded = say(text.BANDS) if something_varies(scenario) else ""
    return say(text.COST_SINCE_DELIVERY, currency=scenario.currency) + shaded


def _over_hours_described(work: Work) -> str:
    """What the lines are."""
    return say(text.OVER_HOURS, currency=scenario_of(work).currency)


def _over_hours_figures(work: Work) -> Component:
    """Their figures."""
    scenario = scenario_of(work)
    return cheapest_over_hours.figures(answers.over_hours(work), answers.names_of(scenario), scenario.currency)


ELEMENTS = Shown(ids.ELEMENTS, _by_element_described, elements)
SINCE_DELIVERY = Shown(
    ids.CUMULATIVE,
    _since_delivery_described,
    since_delivery,
    lambda work: cost_since_delivery.figures(answers.since_delivery(work)),
)
OVER_HOURS = Shown(ids.HOURS_CURVE, _over_hours_described, over_hours, _over_hours_figures)
BY_YEAR = Shown(
    ids.BY_YEAR,
    lambda work: say(
        "What running costs year by year; {currency}, money of the day, without purchase, fit-up, finance and sale",
        currency=scenario_of(work).currency,
    ),
    by_year,
    lambda work: cost_by_year.figures(answers.comparison(work)),
)
PICTURES = (ELEMENTS, SINCE_DELIVERY, OVER_HOURS, BY_YEAR)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """One large picture, two smaller ones, years, all figures as a table."""
    all_figures = html.Details(
        [
            html.Summary(say(text.ALL_FIGURES), id=ids.ELEMENTS_OPEN, n_clicks=0),
            html.Div(id=ids.ELEMENTS_TABLE, className="figures"),
        ]
    )
    return [
        showing.place(ELEMENTS, work),
        html.Div([showing.place(shown, work) for shown in (SINCE_DELIVERY, OVER_HOURS)], className="two"),
        showing.place(BY_YEAR, work),
        html.Section(all_figures, className="picture"),
    ]


def register(app: Dash) -> None:
    """Connect the pictures and the table to the work."""
    showing.follow(app, ELEMENTS)  # by itself: it is there before the trials that the others wait for
    showing.follow(app, *PICTURES[1:])
    showing.follow_opened(
        app, ids.ELEMENTS_TABLE, ids.ELEMENTS_OPEN, lambda work: table_of_costs(answers.comparison(work))
    )
