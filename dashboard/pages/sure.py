"""How sure the answer is: what the trials say of each engine."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids, long_run, showing, sweeps, trials
from dashboard.figures import chance_over_hours, difference, swing
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.tables import Cell, Column, table
from dashboard.work import Work
from model.language import later, say
from model.uncertainty.summary import EngineSummary
from model.wording import whole
from model.wording_of_trials import SINGLE_ENGINE

PATH = "/sure"
"""Where it is."""

QUESTION = later("How sure is that?")
"""What it answers."""


NOTHING_VARIES = later("The file states nothing that varies, so there is nothing to be unsure of.")
"""Shown in place of trials."""


def content(work: Work) -> list[Component]:
    """Each engine over the trials."""
    found = trials.summary(work)
    if found is None:
        return [html.P(say(NOTHING_VARIES), className="told")]
    currency = found.run.scenario.currency
    cheapest = answers.comparison(work).cheapest.name
    columns = [
        Column(say("Engine")),
        Column(say("Cheapest in, of 100 trials"), is_number=True),
        Column(say("Cost on the mean, {currency}", currency=currency), is_number=True),
        Column(say("Half of the trials below, {currency}", currency=currency), is_number=True),
        Column(say("Four fifths of the trials between, {currency}", currency=currency), is_number=True),
    ]
    name = say("What {trials} trials say of each engine", trials=whole(found.run.trials))
    told = html.P(trials.how_sure(work, cheapest), className="told")
    return [told, table(name, columns, [_row(engine) for engine in found.engines])]


def _row(engine: EngineSummary) -> list[Cell | str]:
    """One engine over the trials."""
    cost, interval = engine.cost, engine.cost.intervals[trials.SHARE]
    low, high = interval
    return [
        engine.name,
        Cell(whole(100.0 * engine.chance_cheapest.value), 100.0 * engine.chance_cheapest.value),
        Cell(whole(cost.mean.value), cost.mean.value),
        Cell(whole(cost.median.value), cost.median.value),
        f"{whole(low)} – {whole(high)}",
    ]


def _undrawn(work: Work) -> Drawn:
    """Why there is no picture of trials."""
    return showing.nothing(say(SINGLE_ENGINE if sweeps.is_alone(scenario_of(work)) else NOTHING_VARIES))


def apart(work: Work) -> Drawn:
    """The difference between the two cheapest engines over the trials."""
    found, currency = sweeps.difference_of(work), scenario_of(work).currency
    if found is None:
        return _undrawn(work)
    return Drawn(difference.picture(found, looks_of(work), currency), difference.finding(found, currency))


def _chances(work: Work, is_fine: bool) -> Drawn:
    """The chance of being the cheapest over hours a year."""
    found, scenario = sweeps.chances(work, is_fine), scenario_of(work)
    if found is None or sweeps.is_alone(scenario):
        return _undrawn(work)
    today, names, looks = scenario.mean_hours(), answers.names_of(scenario), looks_of(work)
    drawn = chance_over_hours.picture(found, today, {name: looks[name] for name in names})
    return Drawn(drawn, chance_over_hours.finding(found, names, today))


def chances(work: Work) -> Drawn:
    """The chance over hours from few points and trials, for a slider that moves."""
    return _chances(work, False)


def chances_finely(work: Work) -> Drawn:
    """The chance over hours from as many trials as stand behind the answer."""
    return _chances(work, True)


def swung(work: Work) -> Drawn:
    """How far each uncertain input swings the difference."""
    found, currency = sweeps.swings_of(work), scenario_of(work).currency
    if found is None:
        return _undrawn(work)
    return Drawn(swing.picture(found, looks_of(work), currency), swing.finding(found, currency))


def _apart_described(work: Work) -> str:
    """What the bars are."""
    found = sweeps.difference_of(work)
    if found is None:
        return ""
    told = {"other": found.other, "engine": found.cheaper, "currency": scenario_of(work).currency}
    return say("What {other} costs more than {engine}, in each of the trials; {currency}, present value", **told)


def _swung_described(work: Work) -> str:
    """What the bars are."""
    found = sweeps.swings_of(work)
    if found is None:
        return ""
    told = {"challenger": found.challenger, "baseline": found.baseline, "currency": scenario_of(work).currency}
    return say(
        "What {challenger} costs more than {baseline} when one input goes from its 10 % to its 90 % point; dotted: as "
        "stated; {currency}, present value",
        **told,
    )


def _apart_figures(work: Work) -> Component:
    """Their figures."""
    found = sweeps.difference_of(work)
    return html.Div() if found is None else difference.figures(found, scenario_of(work).currency)


def _chances_figures(work: Work) -> Component:
    """Their figures."""
    found = sweeps.chances(work, True)
    return html.Div() if found is None else chance_over_hours.figures(found, answers.names_of(scenario_of(work)))


def _swung_figures(work: Work) -> Component:
    """Their figures."""
    found = sweeps.swings_of(work)
    return html.Div() if found is None else swing.figures(found, scenario_of(work).currency)


PICTURES = (
    Shown(ids.DIFFERENCE, _apart_described, apart, _apart_figures),
    Shown(
        ids.CHANCE,
        lambda _: say("Trials in which each engine is the cheapest, over running hours a year"),
        chances,
        _chances_figures,
        chances_finely,
    ),
    Shown(ids.SWING, _swung_described, swung, _swung_figures),
)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """The difference, the chance over hours, what moves it, each engine over the trials."""
    apart_and_chance = [showing.place(shown, work) for shown in PICTURES[:2]]
    return [
        long_run.choice(work),
        html.Div(apart_and_chance, className="two"),
        showing.place(PICTURES[2], work),
        following.part(ids.SURE_PART, content, work),
        long_run.room(),
    ]


def register(app: Dash) -> None:
    """They follow the work."""
    showing.follow(app, *PICTURES)
    following.follow(app, ids.SURE_PART, content)
    long_run.register(app)
