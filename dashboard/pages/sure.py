"""How sure the answer is: what the trials say of each engine."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import answers, following, ids, long_run, trials
from dashboard.tables import Cell, Column, table
from dashboard.work import Work
from model.language import later, say
from model.uncertainty.summary import EngineSummary
from model.wording import whole

PATH = "/sure"
"""Where it is."""

QUESTION = later("How sure is that?")
"""What it answers."""


def content(work: Work) -> list[Component]:
    """Each engine over the trials."""
    found = trials.summary(work)
    if found is None:
        return [
            html.P(say("The file states nothing that varies, so there is nothing to be unsure of."), className="told")
        ]
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


def layout(work: Work) -> list[Component]:
    """The page drawn for a work."""
    return [long_run.choice(work), following.part(ids.SURE_PART, content, work), long_run.room()]


def register(app: Dash) -> None:
    """It follows the work."""
    following.follow(app, ids.SURE_PART, content)
    long_run.register(app)
