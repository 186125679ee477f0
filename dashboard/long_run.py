"""Many more trials than follow a slider, in the background: how far they are, when they are done, how to stop them."""

from dataclasses import replace
from functools import partial

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component
from dash.exceptions import PreventUpdate

from dashboard import ids
from dashboard.browser import aria
from dashboard.jobs import JOBS, Job
from dashboard.scenarios import scenario_of, work_of
from dashboard.tables import Cell, Column, Row, table
from dashboard.trials import SEED, SHARE
from dashboard.work import TRIAL_NUMBERS, Work
from model.inputs.scenario import Scenario
from model.language import say
from model.uncertainty.intervals import Estimate
from model.uncertainty.streams import CHUNK
from model.uncertainty.summary import EngineSummary, Summary, summarise
from model.uncertainty.trials import Runner, something_varies
from model.wording import cents, whole

TRIALS = 1_000_000
"""Trials of a long run."""

AT_A_TIME = 8 * CHUNK
"""Trials between two looks at the clock."""

MOST_BYTES = 600_000_000
"""Memory that one run may take. [byte]"""

TICK = 700
"""Between two questions how far a run is. [ms]"""


STATE = tuple(
    Output(name, "disabled", allow_duplicate=True)
    for name in (ids.LONG_RUN_CLOCK, ids.LONG_RUN_START, ids.LONG_RUN_STOP)
)
"""What is out of use: the clock, the button that starts a run, the one that stops it."""

RUNNING = (False, True, False)
STILL = (True, False, True)
"""While a run is on its way, and else."""


def choice(work: Work) -> html.Div:
    """How many trials stand behind what the pages say."""
    numbers = [{"value": str(number), "label": whole(number)} for number in TRIAL_NUMBERS]
    label = say("Trials behind every figure of the pages")
    return html.Div(
        [
            html.Div(label, id=f"{ids.TRIALS}-label", className="number-label"),
            dmc.SegmentedControl(id=ids.TRIALS, data=numbers, value=str(work.trials), size="md"),
            html.P(say("More trials say it more exactly and take longer to follow a slider."), className="help"),
        ],
        className="trial-numbers",
    )


def room() -> html.Section:
    """Where a long run is started, watched and read."""
    buttons = [
        dmc.Button(
            say("Run {trials} trials", trials=whole(TRIALS)), id=ids.LONG_RUN_START, variant="default", size="md"
        ),
        dmc.Button(say("Stop"), id=ids.LONG_RUN_STOP, variant="default", size="md", disabled=True),
    ]
    return html.Section(
        [
            html.H3(say("{trials} trials in the background", trials=whole(TRIALS)), className="finding"),
            html.Div(buttons, className="ways-back"),
            html.Div(_told(say("They take a minute or so; you can go on working meanwhile.")), id=ids.LONG_RUN),
            dcc.Store(id=ids.LONG_RUN_JOB),
            dcc.Interval(id=ids.LONG_RUN_CLOCK, interval=TICK, disabled=True),
        ]
    )


def _told(words: str) -> list[Component]:
    """Something to be said about a run."""
    return [html.P(words, className="told", role="status")]


def _on_the_way(job: Job) -> list[Component]:
    """How far a run is."""
    if job.of == 0:
        return _told(say("Other runs come first; this one waits for its turn."))
    left = job.seconds_left()
    told = say("{done} of {of} trials", done=whole(job.done), of=whole(job.of))
    told += "" if left is None else say(", about {seconds} s to go", seconds=whole(max(1.0, left)))
    bar = dmc.Progress(value=100.0 * job.done / job.of, size="lg", **aria(label=say("How far the run is")))
    return [*_told(told), bar]


def fits(scenario: Scenario) -> bool:
    """Whether the server can hold a long run of a scenario."""
    columns = len(scenario.engines) * (scenario.ownership.begun_years + 1)
    return columns * TRIALS * 8 <= MOST_BYTES


def why_not(scenario: Scenario) -> str:
    """Why a long run of a scenario makes no sense or cannot be; empty where it can."""
    if not something_varies(scenario):
        return say("The file states nothing that varies, so there is nothing to be unsure of.")
    if not fits(scenario):
        return say(
            "So many engines and years take more memory than this server gives; the command line has no such limit."
        )
    return ""


def run(work: Work, job: Job) -> None:
    """
    Run the trials, telling how far they are; what they say is published at the end.

    Parameters
    ----------
    work : Work
    job : Job

    Raises
    ------
    StoppedError
        If nobody wants it any more.
    """
    runner = Runner(scenario_of(work), SEED)
    while runner.done < TRIALS:
        job.tell("trials", runner.done, TRIALS)
        runner.extend(min(AT_A_TIME, TRIALS - runner.done))
    job.publish(summarise(runner.result()))


def result(found: Summary) -> Component:
    """What the trials say, each figure with its standard error."""
    currency = found.run.scenario.currency
    columns = [
        Column(say("Engine")),
        Column(say("Cheapest in, of 100 trials"), is_number=True),
        Column(say("standard error"), is_number=True),
        Column(say("Cost on the mean, {currency}", currency=currency), is_number=True),
        Column(say("standard error"), is_number=True),
        Column(say("Four fifths of the trials between, {currency}", currency=currency), is_number=True),
    ]
    name = say("What {trials} trials say of each engine", trials=whole(found.run.trials))
    return table(name, columns, [_row(engine) for engine in found.engines])


def _row(engine: EngineSummary) -> Row:
    """One engine over the trials."""
    low, high = engine.cost.intervals[SHARE]
    chance = Estimate(100.0 * engine.chance_cheapest.value, 100.0 * engine.chance_cheapest.standard_error)
    return [
        engine.name,
        Cell(cents(chance.value), chance.value),
        Cell(cents(chance.standard_error), chance.standard_error),
        Cell(whole(engine.cost.mean.value), engine.cost.mean.value),
        Cell(cents(engine.cost.mean.standard_error), engine.cost.mean.standard_error),
        f"{whole(low)} – {whole(high)}",
    ]


def register(app: Dash) -> None:
    """Start, watch, stop."""

    @app.callback(
        Output(ids.WORK, "data", allow_duplicate=True),
        Input(ids.TRIALS, "value"),
        State(ids.WORK, "data"),
        prevent_initial_call=True,
    )
    def choose(value: object, stored: object) -> object:
        work = work_of(stored)
        number = next((number for number in TRIAL_NUMBERS if str(number) == value), work.trials)
        return no_update if number == work.trials else replace(work, trials=number).as_data()

    @app.callback(
        Output(ids.LONG_RUN, "children"),
        Output(ids.LONG_RUN_JOB, "data"),
        *STATE,
        Input(ids.LONG_RUN_START, "n_clicks"),
        State(ids.WORK, "data"),
        prevent_initial_call=True,
    )
    def begin(clicks: object, stored: object) -> tuple[object, ...]:
        if not clicks:
            raise PreventUpdate
        work = work_of(stored)
        why = why_not(scenario_of(work))
        if why:
            return _told(why), None, *STILL
        return no_update, JOBS.start(work, partial(run, work)), *RUNNING

    _register_watch(app)


def _register_watch(app: Dash) -> None:
    """A run is watched until it is over, stopped by its button or by another change of the work."""

    @app.callback(
        Output(ids.LONG_RUN, "children", allow_duplicate=True),
        *STATE,
        Input(ids.LONG_RUN_CLOCK, "n_intervals"),
        State(ids.LONG_RUN_JOB, "data"),
        prevent_initial_call=True,
    )
    def watch(ticks: object, name: object) -> tuple[object, ...]:
        if not ticks:
            raise PreventUpdate
        job = JOBS.get(name)
        if job is None or job.failed is not None:
            return _told(say("The run has ended without a result: start it again.")), *STILL
        if not job.is_over:
            return _on_the_way(job), *RUNNING
        JOBS.stop(name)
        return [result(job.result)] if job.result is not None else [], *STILL

    @app.callback(
        Output(ids.LONG_RUN, "children", allow_duplicate=True),
        *STATE,
        Input(ids.LONG_RUN_STOP, "n_clicks"),
        Input(ids.WORK, "data"),
        State(ids.LONG_RUN_JOB, "data"),
        prevent_initial_call=True,
    )
    def stop(clicks: object, _: object, name: object) -> tuple[object, ...]:
        if not name or (ctx.triggered_id == ids.LONG_RUN_STOP and not clicks):
            raise PreventUpdate
        JOBS.stop(name)
        return _told(say("Stopped; what had been run is gone.")), *STILL
