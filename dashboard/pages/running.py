"""How the boat is run and what that burns: time and fuel in each running band."""

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import following, ids, showing, text
from dashboard.figures import fuel_flow
from dashboard.scenarios import looks_of, scenario_of
from dashboard.showing import Drawn, Shown
from dashboard.tables import Cell, Column, Row, table
from dashboard.work import Work
from model.elements.fuel import flow_at, is_estimated, litres_an_hour, running_bands
from model.inputs.scenario import Scenario
from model.language import later, say
from model.quantities import as_shown, unit_shown
from model.wording import cents, whole

PATH = "/running"
"""Where it is."""

QUESTION = later("How is it run, and what does it burn?")
"""What it answers."""


def content(work: Work) -> list[Component]:
    """Fuel of every engine in every running band."""
    scenario = scenario_of(work)
    told = html.P(_basis(scenario), className="told")
    estimate = {engine.name: say(text.ESTIMATE) if is_estimated(engine) else "" for engine in scenario.engines}
    columns = [
        Column(say("Engine speed, % of rated"), is_number=True),
        Column(say("Share of the time, %"), is_number=True),
        *(
            Column(f"{engine.name}, {unit_shown('L/h')}" + estimate[engine.name], is_number=True)
            for engine in scenario.engines
        ),
    ]
    mean: Row = [say("On the mean"), "", *(_flow(litres_an_hour(engine, scenario.use)) for engine in scenario.engines)]
    return [told, table(say("Fuel in each running band"), columns, _rows(scenario), [mean])]


def _basis(scenario: Scenario) -> str:
    """Where the running bands come from."""
    if scenario.use.read_out is not None:
        return say("Running bands from an engine's own record.")
    if scenario.use.band:
        return say("Running bands as the file states them.")
    return say("Running bands of the marine test cycle (E4, 40 CFR Part 1045): nobody wrote down how this boat is run.")


def _rows(scenario: Scenario) -> list[Row]:
    """A line for each band."""
    bands = running_bands(scenario.use)
    flows = [flow_at(engine, [speed for speed, _ in bands]) for engine in scenario.engines]
    return [
        [
            Cell(whole(100.0 * speed), 100.0 * speed),
            Cell(whole(100.0 * share), 100.0 * share),
            *(_flow(flow[place]) for flow in flows),
        ]
        for place, (speed, share) in enumerate(bands)
    ]


def _flow(litres: float) -> Cell:
    """A flow in a cell. [L/h]"""
    flow = as_shown(litres, "L/h")
    return Cell(cents(flow), flow)


def flow(work: Work) -> Drawn:
    """Fuel flow over engine speed, and the time in each running band."""
    scenario = scenario_of(work)
    return Drawn(fuel_flow.picture(scenario, looks_of(work)), fuel_flow.finding(scenario))


FLOW = Shown(
    ids.FLOW,
    lambda _: say(
        "Fuel flow over engine speed, {unit}, and the share of the running time at each speed", unit=unit_shown("L/h")
    ),
    flow,
)
"""What stands on the page."""


def layout(work: Work) -> list[Component]:
    """Flow and time as a picture, then as a table."""
    return [showing.place(FLOW, work), following.part(ids.RUNNING_PART, content, work)]


def register(app: Dash) -> None:
    """They follow the work."""
    showing.follow(app, FLOW)
    following.follow(app, ids.RUNNING_PART, content)
