"""What service, and when: every visit of each engine."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids, showing
from dashboard.figures import service_calendar
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.tables import Cell, Column, Row, day_cell, table, visit_cell
from dashboard.work import Work
from model import wording
from model.inputs.terms import Servicing
from model.language import later, say
from model.measures import EngineCost
from model.service_calendar import VisitSummary, service_visits

PATH = "/service"
"""Where it is."""

QUESTION = later("What service, and when?")
"""What it answers."""


def cautions(servicing: Servicing) -> list[Component]:
    """What must be said wherever service intervals are shown."""
    extra = {Servicing.OWN: [wording.OWN_SERVICE_CAUTION], Servicing.SKIPPED: [wording.SKIPPED_SERVICE_CAUTION]}
    lines = [wording.CAUTIONS[0], *extra.get(servicing, []), wording.IMPELLER_CAUTION]
    return [html.P(say(line), className="caution") for line in lines]


def content(work: Work) -> list[Component]:
    """The visits of every engine."""
    found = answers.comparison(work)
    return [*cautions(found.scenario.servicing), *(part for cost in found.engines for part in _visits(cost))]


def _visits(cost: EngineCost) -> list[Component]:
    """The visits of one engine."""
    visits, currency = service_visits(cost.case), cost.case.scenario.currency
    head = html.H3(cost.name, className="finding")
    if not visits:
        return [head, html.P(say("No visits at a workshop."), className="told")]
    columns = [
        Column(say("Date")),
        Column(say("Meter, h"), is_number=True),
        Column(say("Visit")),
        Column(say("What is done")),
        Column(say("Parts, {currency}", currency=currency), is_number=True),
        Column(say("Labour, {currency}", currency=currency), is_number=True),
    ]
    name = say("Service visits of {engine}, money of the day", engine=cost.name)
    return [head, table(name, columns, [_row(visit) for visit in visits])]


def _row(visit: VisitSummary) -> Row:
    """One visit."""
    return [
        day_cell(visit.date),
        Cell(wording.whole(visit.meter_hours), visit.meter_hours),
        visit_cell(visit.name),
        "; ".join(visit.tasks),
        Cell(wording.whole(visit.parts), visit.parts),
        Cell(wording.whole(visit.labour), visit.labour),
    ]


def calendar(work: Work) -> Drawn:
    """Every visit of every engine on two scales."""
    found = answers.comparison(work)
    below = html.Span(service_calendar.legend())
    return Drawn(service_calendar.picture(found, looks_of(work)), service_calendar.finding(found), (below,))


CALENDAR = Shown(
    ids.CALENDAR,
    lambda work: say(
        "Visits at the workshop; service over the ownership period with tasks done without a visit, {currency}, money "
        "of the day",
        currency=scenario_of(work).currency,
    ),
    calendar,
)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """The calendar as a picture, then as tables."""
    return [showing.place(CALENDAR, work), following.part(ids.SERVICE_PART, content, work)]


def register(app: Dash) -> None:
    """They follow the work."""
    showing.follow(app, CALENDAR)
    following.follow(app, ids.SERVICE_PART, content)
