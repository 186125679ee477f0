"""Who pays when something breaks: the expected repair bill by year and by payer."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids, showing
from dashboard.figures import cover_over_time
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.tables import Cell, Column, Row, table
from dashboard.work import Work
from model import wording
from model.inputs.terms import Element, Payer
from model.language import later, say
from model.ledger import Row as LedgerRow
from model.ledger import ledger
from model.measures import EngineCost

PATH = "/cover"
"""Where it is."""

QUESTION = later("Who pays when it breaks?")
"""What it answers."""

OF_A_REPAIR = (Element.REPAIRS, Element.WARRANTY_COVER)
"""Elements that a repair is booked to: the bill itself, and the owner's excess of what the warranty pays."""


def by_year(cost: EngineCost) -> list[tuple[float, float]]:
    """
    What owner and warranty pay of the repairs expected in each ownership year.

    Parameters
    ----------
    cost : EngineCost

    Returns
    -------
    list of (float, float)
        The owner's part with the excess, and the warranty's; money of the day. [money]
    """
    rows = [row for row in ledger(cost) if row.element in OF_A_REPAIR and row.through_year is not None]
    years = range(cost.case.scenario.ownership.begun_years)
    return [(_sum(rows, year, Payer.OWNER), _sum(rows, year, Payer.WARRANTY)) for year in years]


def _sum(rows: list[LedgerRow], year: int, payer: Payer) -> float:
    """What one payer pays in one year. [money]"""
    return sum(row.nominal for row in rows if row.through_year == year and row.payer is payer)


def content(work: Work) -> list[Component]:
    """Who pays, engine by engine."""
    found = answers.comparison(work)
    caution = html.P(say(wording.CAUTIONS[1]), className="caution")
    return [caution, *(part for cost in found.engines for part in _payers(cost))]


def _payers(cost: EngineCost) -> list[Component]:
    """Who pays for the repairs of one engine."""
    currency = cost.case.scenario.currency
    columns = [
        Column(say("Ownership year")),
        Column(say("You pay, {currency}", currency=currency), is_number=True),
        Column(say("The warranty pays, {currency}", currency=currency), is_number=True),
    ]
    name = say("Expected repairs of {engine} by payer, money of the day", engine=cost.name)
    years = by_year(cost)
    rows: list[Row] = [[str(year + 1), *map(_amount, amounts)] for year, amounts in enumerate(years)]
    total: Row = [say("Together"), *(_amount(sum(column)) for column in zip(*years, strict=True))]
    return [html.H3(cost.name, className="finding"), table(name, columns, rows, [total])]


def _amount(amount: float) -> Cell:
    """An amount of money in a cell."""
    return Cell(wording.whole(amount), amount)


def over_time(work: Work) -> Drawn:
    """The owner's share of a repair over time, and the bill of each year by payer."""
    found = answers.comparison(work)
    return Drawn(cover_over_time.picture(found, looks_of(work)), cover_over_time.finding(found))


COVER = Shown(
    ids.COVER,
    lambda work: say(
        "The owner's share of a repair over time, and the repairs expected each year; hatched: what the warranty pays; "
        "{currency}, money of the day",
        currency=scenario_of(work).currency,
    ),
    over_time,
)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """Who pays as a picture, then as tables."""
    return [showing.place(COVER, work), following.part(ids.COVER_PART, content, work)]


def register(app: Dash) -> None:
    """They follow the work."""
    showing.follow(app, COVER)
    following.follow(app, ids.COVER_PART, content)
