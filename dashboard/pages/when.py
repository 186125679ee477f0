"""From how many hours a year, and after how long, the dearer engine pays."""

import math
from collections.abc import Sequence
from dataclasses import replace

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids, showing, sweeps, text
from dashboard.figures import cheapest_map
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.tables import Column, table
from dashboard.theme import Look
from dashboard.work import Work
from model import wording, wording_of_break_even
from model.cheapest import BreakEven, Pair
from model.language import later, say
from model.maps import CostMap, stretches_at
from model.quantities import as_shown
from model.search_reports import sentence
from model.sweep import Stretch
from model.uncertainty.flip_points import FlipPoint
from model.wording_of_trials import FLIPS

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
        wording_of_break_even.cheapest_over(say("Hours a year"), "h", by_hours),
        wording_of_break_even.cheapest_over(say("Ownership years"), "years", by_years),
    ]


def content(work: Work) -> list[Component]:
    """Sentences, and every engine against the one that is the cheapest to buy."""
    found = answers.break_even_of(work)
    told: list[Component] = [html.P(text.together(line), className="told") for line in sentences(work)]
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
    never = say("not within {years} {years:year|years}", years=wording.plain(period))
    hours = pair.about_equal_hours
    equal = say("nowhere in the range") if hours is None else "–".join(dict.fromkeys(map(wording.whole, hours)))
    return [pair.challenger, *(never if time is None else wording.to_a_tenth(time) for time in times), equal]


def flips(work: Work) -> list[Component]:
    """At which value of one input the cheapest engine changes, in the command line's words."""
    found = sweeps.flips_of(work)
    if not found:
        return []
    heading = html.H2(say("What would change the answer"), className="finding")
    lines = [html.Li(text.together(sentence(flip))) for flip in sorted(found, key=_how_far)]
    return [heading, html.P(say(FLIPS), className="subtitle"), html.Ul(lines, className="flips")]


def _how_far(flip: FlipPoint) -> float:
    """How far a flip is from today, as a share of the range looked at; those that never come last. [-]"""
    low, high = flip.input.span
    return math.inf if flip.value is None else abs(flip.value - flip.input.today) / (high - low)


def _looks(work: Work) -> dict[str, Look]:
    """How the engines compared are drawn."""
    looks = looks_of(work)
    return {name: looks[name] for name in answers.names_of(scenario_of(work))}


def by_years(work: Work) -> Drawn:
    """The map over hours and ownership years from few points, for a slider that moves; the finding is read off it."""
    found, scenario = sweeps.map_by_years(work, is_fine=False), scenario_of(work)
    return _by_years(work, found, stretches_at(found, scenario.mean_hours(), answers.names_of(scenario)))


def by_years_finely(work: Work) -> Drawn:
    """The map from more points; the finding is what the command line finds."""
    return _by_years(work, sweeps.map_by_years(work, is_fine=True), sweeps.stretches_by_years(work))


def _by_years(work: Work, found: CostMap, cheapest: Sequence[Stretch]) -> Drawn:
    """A map over hours and ownership years."""
    scenario, upwards = scenario_of(work), cheapest_map.years_upwards()
    today = scenario.mean_hours(), scenario.ownership.years
    drawn = cheapest_map.picture(found, today, _looks(work), upwards, scenario.currency)
    return Drawn(drawn, cheapest_map.finding(cheapest, today, upwards))


def by_fuel_price(work: Work) -> Drawn:
    """The map over hours and the fuel price."""
    scenario = scenario_of(work)
    upwards = cheapest_map.price_upwards(scenario.currency)
    today = scenario.mean_hours(), as_shown(scenario.prices.fuel, "money/L")
    found = _prices_as_shown(sweeps.map_by_fuel_price(work))
    cheapest = [
        replace(one, begin=as_shown(one.begin, "money/L"), end=as_shown(one.end, "money/L"))
        for one in sweeps.stretches_by_fuel_price(work)
    ]
    drawn = cheapest_map.picture(found, today, _looks(work), upwards, scenario.currency)
    return Drawn(drawn, cheapest_map.finding(cheapest, today, upwards))


def _prices_as_shown(found: CostMap) -> CostMap:
    """A map over fuel prices, these in the unit in which they are shown."""
    return replace(found, other=found.other * as_shown(1.0, "money/L"))


def _described(work: Work) -> str:
    """What a map shows."""
    return say(
        "Cheapest engine, and in lines what the next cheapest costs more; {currency}, present value",
        currency=scenario_of(work).currency,
    )


def _by_years_figures(work: Work) -> Component:
    """Figures of the map over years."""
    scenario, found = scenario_of(work), sweeps.map_by_years(work, is_fine=True)
    names = answers.names_of(scenario)
    return cheapest_map.figures(found, names, cheapest_map.years_upwards(), scenario.currency)


def _by_fuel_price_figures(work: Work) -> Component:
    """Figures of the map over the fuel price."""
    scenario, found = scenario_of(work), _prices_as_shown(sweeps.map_by_fuel_price(work))
    names = answers.names_of(scenario)
    return cheapest_map.figures(found, names, cheapest_map.price_upwards(scenario.currency), scenario.currency)


PICTURES = (
    Shown(ids.MAP_YEARS, _described, by_years, _by_years_figures, by_years_finely),
    Shown(ids.MAP_FUEL, _described, by_fuel_price, _by_fuel_price_figures),
)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """The maps, when each engine has paid back, what would change the answer."""
    return [
        html.Div([showing.place(shown, work) for shown in PICTURES], className="two"),
        following.part(ids.WHEN_PART, content, work),
        following.later(ids.FLIPS_PART),
    ]


def register(app: Dash) -> None:
    """They follow the work; what takes long, once it stands still."""
    showing.follow(app, *PICTURES)
    following.follow(app, ids.WHEN_PART, content, waits=True)
    following.follow(app, ids.FLIPS_PART, flips, waits=True)
