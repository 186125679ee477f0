"""From how many hours a year, and after how long, the dearer engine pays."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids
from dashboard.scenarios import scenario_of
from dashboard.tables import Column, table
from dashboard.work import Work
from model import wording
from model.cheapest import BreakEven, Pair
from model.language import later, say

PATH = "/when"
"""Where it is."""

QUESTION = later("From how many hours, and when?")
"""What it answers."""


def sentences(work: Work) -> list[str]:
    """Which engine is the cheapest over hours a year and over ownership years, in the command line's words."""
    found = answers.break_even_of(work)
    by_hours = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_hours]
    by_years = [(stretch.begin, stretch.end, stretch.engine) for stretch in found.cheapest_by_years]
    return [
        wording.cheapest_over(say("Hours a year"), "h", by_hours),
        wording.cheapest_over(say("Ownership years"), "years", by_years),
    ]


def content(work: Work) -> list[Component]:
    """Sentences, and every engine against the one that is the cheapest to buy."""
    found = answers.break_even_of(work)
    told: list[Component] = [html.P(line, className="told") for line in sentences(work)]
    return [*told, _pairs(found, scenario_of(work).ownership.years)] if found.pairs else told


def _pairs(found: BreakEven, period: float) -> Component:
    """From when on, and from how many hours, each has paid back."""
    columns = [
        Column(say("Against {engine}, the cheapest to buy", engine=found.baseline)),
        Column(say("Has paid back after, years (money of the day)"), is_number=True),
        Column(say("the same in present value"), is_number=True),
        Column(say("the same if both are sold then"), is_number=True),
        Column(say("Costs about the same at, h a year"), is_number=True),
    ]
    return table(say("When the dearer engine has paid back"), columns, [_row(pair, period) for pair in found.pairs])


def _row(pair: Pair, period: float) -> list[str]:
    """One engine against the cheapest to buy."""
    times = (pair.years.nominal, pair.years.discounted, pair.years.if_sold)
    never = say("not within {years} years", years=wording.plain(period))
    hours = pair.about_equal_hours
    equal = say("nowhere in the range") if hours is None else "–".join(dict.fromkeys(map(wording.whole, hours)))
    return [pair.challenger, *(never if time is None else wording.to_a_tenth(time) for time in times), equal]


def layout(work: Work) -> list[Component]:
    """The page drawn for a work."""
    return [following.part(ids.WHEN_PART, content, work)]


def register(app: Dash) -> None:
    """It follows the work."""
    following.follow(app, ids.WHEN_PART, content)
