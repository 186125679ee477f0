"""What a fleet must budget, and which engines are due."""

import base64
from typing import Any

from dash import Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard import drawing, fleet_logs, fleet_parts, fleet_tables, library
from dashboard import fleet_ids as ids
from dashboard.browser import run_there
from dashboard.fleet_answers import FleetAnswer, ready, work_out
from dashboard.fleet_controls import OWN, counted_changes, filled, progress_room
from dashboard.fleet_work import FleetWork, files_of, fleet_of, fleet_work_of, no_such_fleet, stored_fleet
from dashboard.ids import SCHEME
from dashboard.jobs import JOBS, Job
from dashboard.opening import problem_lines
from dashboard.work import Work
from model.fleet.workbook import workbook
from model.inputs.problems import InputError
from model.language import later, say
from model.wording import whole

PATH = "/fleet"
"""Where it is."""

QUESTION = later("What must the fleet budget, and which engines are due?")
"""What it answers."""

STANDS_ALONE = True
"""It follows its own fleet: the answer and the controls of a single boat are out of sight."""

PATIENCE = 1.5
"""How long a run is waited for before the page says how far it is. [s]"""

BETWEEN_QUESTIONS = 800
"""Time between two questions how far a run is. [ms]"""


def layout(work: Work) -> list[Component]:
    """Room for a fleet's controls, answer and parts; filled for the fleet that the browser keeps."""
    del work  # the scenario of a single boat
    return [
        html.Div(id=ids.CONTROLS, className="fleet-controls"),
        html.Div(id=ids.TOLD, className="problems", role="alert"),
        html.Div(id=ids.ANSWER, className="answer"),
        progress_room(),
        html.Div(html.P(say("One moment ..."), className="waiting"), id=ids.PARTS, className="part-of-page"),
        dcc.Interval(id=ids.POLL, interval=BETWEEN_QUESTIONS, disabled=True),
        dcc.Store(id=ids.JOB),
        dcc.Download(id=ids.SAVED),
        dcc.Download(id=ids.EXAMPLE_SAVED),
    ]


def stores() -> list[Component]:
    """What the browser keeps of it from page to page."""
    return [dcc.Store(id=ids.FLEET, storage_type="local"), dcc.Store(id=ids.ASKED), dcc.Store(id=ids.SETTLED)]


def drawn(answer: FleetAnswer, scheme: object) -> tuple[list[Component], list[Component]]:
    """Sentence and parts of an answer."""
    parts = [*fleet_parts.parts(answer), *fleet_logs.sections(answer), *fleet_parts.last_parts(answer)]
    drawing.dress_all(parts, scheme, fleet_parts.names_in(answer))
    return fleet_parts.answer_lines(answer), parts


def current(stored: object, kept: object) -> FleetAnswer | None:
    """What is known of a fleet so far: the whole answer, or what its run has found."""
    whole_answer = ready(fleet_work_of(stored))
    if whole_answer is not None:
        return whole_answer
    job = JOBS.get(kept.get("name")) if isinstance(kept, dict) else None
    found: FleetAnswer | None = None if job is None else job.result
    return found


def how_far(job: Job) -> str:
    """How far a run is and how long its stage still takes, in words."""
    if not job.of:
        return say("Waiting for its turn or preparing ...")
    told = say("{stage}: {done} of {all} {all:group|groups} of units", stage=job.stage, done=job.done, all=job.of)
    left = job.seconds_left()
    return told if left is None else say("{told}, about {seconds} s left", told=told, seconds=whole(max(left, 1.0)))


def state_of(name: str, seen: int, scheme: object) -> tuple[object, ...]:
    """
    What the page shows of a run.

    Parameters
    ----------
    name : str
        Of the run.
    seen : int
        Version of its result that the page has.
    scheme : object
        Light or dark.

    Returns
    -------
    tuple
        Answer, parts, run, whether asking ends, words of progress, whether the stop button hides.
    """
    job = JOBS.get(name)
    if job is None:  # stopped, or lost with the server that worked on it
        words = say("This run has ended; load the page again or change a value to go on.") if name else ""
        return no_update, no_update, {}, True, words, True
    version, is_over, found = job.version, job.is_over, job.result
    answer, parts = drawn(found, scheme) if version > seen else (no_update, no_update)
    kept = {"name": name, "seen": version}
    if job.failed is not None:
        return answer, parts, kept, True, say("Something went wrong on our side; change a value to try again."), True
    return answer, parts, kept, is_over, "" if is_over else how_far(job), is_over


def register(app: Dash) -> None:
    """It follows its fleet."""
    _register_answer(app)
    _register_controls(app)
    _register_opening(app)
    _register_parts(app)
    for picture in (ids.BUDGET, ids.CALENDAR, ids.AGES, ids.POLICIES):
        drawing.register(app, picture)
    fleet_logs.register(app, current)


def _register_answer(app: Dash) -> None:
    """The fleet is worked out in the background; what is found is shown."""
    shown = [
        Output(ids.ANSWER, "children"),
        Output(ids.PARTS, "children"),
        Output(ids.JOB, "data"),
        Output(ids.POLL, "disabled"),
        Output(ids.PROGRESS, "children"),
        Output(ids.STOP, "hidden"),
    ]

    @app.callback(*shown, Input(ids.FLEET, "data"), State(ids.JOB, "data"), State(SCHEME, "data"))
    def begin(stored: object, kept: object, scheme: object) -> tuple[object, ...]:
        JOBS.stop(kept.get("name") if isinstance(kept, dict) else None)
        work = fleet_work_of(stored)
        answer = ready(work)
        if answer is not None:
            return *drawn(answer, scheme), {}, True, "", True
        name = JOBS.start(work, lambda job: work_out(work, job))
        job = JOBS.get(name)
        if job is not None:
            job.over.wait(PATIENCE)
        shown_now = state_of(name, 0, scheme)
        if shown_now[0] is no_update:  # figures of another fleet, or without the changes, would be taken for this one's
            waiting = html.P(say("{fleet} is being worked out.", fleet=fleet_of(work).file.title), className="waiting")
            return [waiting], [], *shown_now[2:]
        return shown_now

    later_shown = [Output(part.component_id, part.component_property, allow_duplicate=True) for part in shown]

    @app.callback(
        *later_shown,
        Input(ids.POLL, "n_intervals"),
        State(ids.JOB, "data"),
        State(SCHEME, "data"),
        prevent_initial_call=True,
    )
    def go_on(_: object, kept: object, scheme: object) -> tuple[object, ...]:
        known = kept if isinstance(kept, dict) else {}
        seen = known.get("seen")
        return state_of(known.get("name", ""), seen if isinstance(seen, int) else 0, scheme)

    @app.callback(*later_shown[2:], Input(ids.STOP, "n_clicks"), State(ids.JOB, "data"), prevent_initial_call=True)
    def stop(_: object, kept: object) -> tuple[object, ...]:
        JOBS.stop(kept.get("name") if isinstance(kept, dict) else None)
        return {}, True, say("Stopped. What you see is what had been worked out; change a value to go on."), True


def _register_controls(app: Dash) -> None:
    """What is changed goes into the fleet as far as it is sound; the rest is told at its field."""
    numbers = (ids.NUMBER, ids.HORIZON, ids.LIMIT, ids.TRADE_IN)

    @app.callback(Output(ids.CONTROLS, "children"), Input(ids.SETTLED, "data"), State(ids.FLEET, "data"))
    def fill(_: object, stored: object) -> list[Component]:
        return filled(fleet_work_of(stored))

    @app.callback(
        Output(ids.FLEET, "data", allow_duplicate=True),
        *(Output(name, "error") for name in numbers),
        Output(ids.NUMBER, "style"),
        Input(ids.POLICY, "value"),
        *(Input(name, "value") for name in numbers),
        State(ids.FLEET, "data"),
        prevent_initial_call=True,
    )
    def count(policy: object, *given: Any) -> list[object]:
        work = fleet_work_of(given[-1])
        typed = {ids.POLICY: policy, **dict(zip(numbers, given, strict=False))}
        changed, told = counted_changes(work, typed)
        is_shown = isinstance(policy, str) and not policy.isdecimal()
        return [
            no_update if changed == work else changed.as_data(),
            *(told[name] for name in numbers),
            {} if is_shown else {"display": "none"},
        ]


def _register_opening(app: Dash) -> None:
    """Another fleet of the library, or files of one's own."""

    @app.callback(
        Output(ids.FLEET, "data", allow_duplicate=True),
        Output(ids.SETTLED, "data", allow_duplicate=True),
        Output(ids.TOLD, "children"),
        Input(ids.REGISTER, "value"),
        Input(ids.ASKED, "data"),
        State(ids.FLEET, "data"),
        State(ids.SETTLED, "data"),
        prevent_initial_call=True,
    )
    def open_fleet(name: object, asked: object, stored: object, settled: object) -> tuple[object, ...]:
        turn = (settled if isinstance(settled, int) else 0) + 1
        if ctx.triggered_id == ids.REGISTER:
            if name == OWN or name not in library.registers() or name == fleet_work_of(stored).name:
                return no_update, no_update, []
            return FleetWork(str(name)).as_data(), turn, []
        called = str(asked.get("name") or "") if isinstance(asked, dict) else ""
        work = stored_fleet(asked)
        if work is None or not work.text:
            return no_update, no_update, problem_lines(called, no_such_fleet(called))
        try:
            fleet_of(work)
        except InputError as error:
            return no_update, no_update, problem_lines(work.name, error.problems)
        return work.as_data(), turn, []

    run_there(app, "fleet.open", Input(ids.OPEN, "n_clicks"))

    @app.callback(
        Output(ids.EXAMPLE_SAVED, "data"),
        Input(ids.EXAMPLE, "n_clicks"),
        State(ids.FLEET, "data"),
        prevent_initial_call=True,
    )
    def save_files(_: object, stored: object) -> object:
        return _file(*files_of(fleet_work_of(stored)))


def _register_parts(app: Dash) -> None:
    """Parts that change by themselves: the power, the site, the spreadsheet."""

    @app.callback(
        Output(ids.AGES_PART, "children"),
        Input(ids.FAMILY, "value"),
        State(ids.FLEET, "data"),
        State(ids.JOB, "data"),
        State(SCHEME, "data"),
        prevent_initial_call=True,
    )
    def show_ages(family: object, stored: object, kept: object, scheme: object) -> object:
        answer = current(stored, kept)
        if answer is None or not isinstance(family, str) or not family.isdecimal():
            return no_update
        parts = fleet_parts.ages_part(answer, int(family))
        drawing.dress_all(parts, scheme, fleet_parts.names_in(answer))
        return parts

    kept_here = (State(ids.FLEET, "data"), State(ids.JOB, "data"))

    @app.callback(Output(ids.UNITS_PART, "children"), Input(ids.SITE, "value"), *kept_here, prevent_initial_call=True)
    def show_units(site: object, stored: object, kept: object) -> object:
        answer = current(stored, kept)
        if answer is None:
            return no_update
        return fleet_tables.units_table(answer, site if isinstance(site, str) and site else None)

    @app.callback(Output(ids.SAVED, "data"), Input(ids.SAVE, "n_clicks"), *kept_here, prevent_initial_call=True)
    def save(_: object, stored: object, kept: object) -> object:
        answer = current(stored, kept)
        return no_update if answer is None else _file("fleet-budget.xlsx", workbook(fleet_tables.sheets(answer)))


def _file(name: str, content: bytes) -> dict[str, Any]:
    """A file for the browser to save."""
    return {"filename": name, "content": base64.b64encode(content).decode("ascii"), "base64": True}
