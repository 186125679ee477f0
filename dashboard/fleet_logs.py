"""What a fleet's logs show on its page: repairs over age, one failure mode at a time; hours, gaps and errors."""

import json
from collections.abc import Callable, Sequence
from typing import Any

import dash_mantine_components as dmc
from dash import Dash, Input, Output, State, html, no_update
from dash.development.base_component import Component

from dashboard import drawing
from dashboard import fleet_ids as ids
from dashboard import ids as page_ids
from dashboard.drawer import closing_button
from dashboard.drawing import MARK
from dashboard.figures import cumulative_repairs
from dashboard.fleet_answers import FleetAnswer
from dashboard.fleet_parts import folded, names_in, picture_place
from dashboard.fleet_tables import money, number
from dashboard.tables import Column, Row, day_cell, table
from dashboard.theme import looks
from model.fleet.log_reports import stated_hours
from model.fleet.logs_told import (
    fits_used,
    log_against_files,
    notes_of_hours,
    notes_of_repairs,
    scale_told,
    shape_told,
)
from model.fleet.repair_log import ModeFit, Repaired
from model.fleet_titles import HOUR_TITLES
from model.language import dated, say
from model.wording import whole

OF_LOG = f"{MARK}log:"
"""How the key of a row of the repair log begins."""

Current = Callable[[object, object], FleetAnswer | None]
"""What is known of the fleet that a browser sends, with its run."""


def repaired_modes(answer: FleetAnswer) -> list[ModeFit]:
    """Failure modes with repairs in the log, those with most first."""
    found = [one for one in answer.fleet.mode_fits if one.repairs]
    return sorted(found, key=lambda one: -one.repairs)


def sections(answer: FleetAnswer) -> list[Component]:
    """What the logs show, each where there is one."""
    found: list[Component] = []
    if answer.fleet.mode_fits:
        found.append(_repairs(answer))
    if answer.fleet.terms.hour_log is not None:
        found.append(_hours(answer))
    return found


def _repairs(answer: FleetAnswer) -> html.Section:
    """The repair log: one mode as a picture, all of them as a table."""
    modes = repaired_modes(answer)
    data = [
        {"value": str(place), "label": say("{mode}, {engine} ({number})", mode=one.mode, engine=one.engine,
                                           number=whole(one.repairs))}
        for place, one in enumerate(modes)
    ]  # fmt: skip
    choice = dmc.Select(id=ids.MODE, label=say("Failure mode"), data=data, value="0" if modes else None, size="md",
                        allowDeselect=False, className="fleet-mode", maxDropdownHeight=320)  # fmt: skip
    used = html.P(
        f"{fits_used(answer.fleet)} {' '.join(notes_of_repairs(answer.fleet.mode_fits))}", className="subtitle"
    )
    return html.Section(
        [
            html.H2(log_against_files(answer.fleet.mode_fits), className="finding"),
            used,
            html.Div([choice, html.Div(mode_part(answer, 0), id=ids.MODE_PART)], hidden=not modes),
            folded(say("Repairs seen and fitted, by failure mode"), repairs_table(answer)),
        ],
        className="fleet-log",
    )


def mode_part(answer: FleetAnswer, place: int) -> list[Component]:
    """
    The picture of one failure mode.

    Parameters
    ----------
    answer : FleetAnswer
    place : int
        Of the mode among those with repairs.
    """
    modes = repaired_modes(answer)
    if not modes:
        return []
    at = place if 0 <= place < len(modes) else 0
    one, keys = modes[at], [f"{OF_LOG}{json.dumps([at, row])}" for row in range(modes[at].repairs)]
    drawn = cumulative_repairs.picture(answer.fleet, one, looks(answer.fleet.file.engines)[one.engine], keys)
    subtitle = say(
        "Repairs of one engine by its age, on average over the engines that were watched then; each mark opens its row "
        "of the log"
    )
    if one.fit is not None:
        subtitle = say(
            "{told}. Fitted: scale {scale}, shape {shape}, 95 % intervals in brackets",
            told=subtitle,
            scale=scale_told(one),
            shape=shape_told(one.fit),
        )
    return [picture_place(ids.LOG, subtitle, (drawn, cumulative_repairs.finding(one)))]


def _hours(answer: FleetAnswer) -> html.Section:
    """The hour log: gaps, resets and typing errors, and what it makes of each unit's hours."""
    lines = answer.fleet.hour_findings
    finding = (
        say("The hour log has {number} {number:place|places} to look at", number=whole(len(lines)))
        if lines
        else say("The hour log has no gap, no reset and no reading that does not fit.")
    )
    subtitle = say(
        "The log stands in for hours that the register leaves empty; where the register has its own, those count"
    )
    notes = [html.P(line, className="subtitle") for line in notes_of_hours(answer.fleet)]
    return html.Section(
        [
            html.H2(finding, className="finding"),
            html.P(subtitle, className="subtitle"),
            html.Ul([html.Li(line) for line in lines]),
            folded(say("Hours a year by the hour log"), html.Div([hours_table(answer), *notes])),
        ],
        className="picture",
    )


def hours_table(answer: FleetAnswer) -> html.Div:
    """Hours a year of each unit by the hour log, beside the register's own where it states any."""
    own = stated_hours(answer.fleet)
    words = {"unit", "last_day", "was_reset"}
    columns = [Column(say(title), is_number=key not in words) for key, title in HOUR_TITLES.items()]
    rows: list[Row] = [
        [
            unit,
            number(fit.hours_per_year, 1),
            "" if (stated := own[unit]) is None else number(stated, 1),
            "" if fit.variation is None else number(100.0 * fit.variation),
            number(fit.years, 1),
            day_cell(fit.last_day),
            number(fit.last_reading),
            say("yes") if fit.was_reset else say("no"),
        ]
        for unit, fit in answer.fleet.hour_fits.items()
    ]
    return table(say("Hours a year by the hour log"), columns, rows, is_sorted=True)


def repairs_table(answer: FleetAnswer) -> html.Div:
    """What the repair log shows of each failure mode, beside what the engine's file expects."""
    columns = [
        Column(say("Failure mode")),
        Column(say("Engine")),
        Column(say("Repairs in the log"), is_number=True),
        Column(say("Expected by the file"), is_number=True),
        Column(say("Mean cumulative repairs of an engine"), is_number=True),
        Column(say("Scale, with its 95 % interval")),
        Column(say("Shape, with its 95 % interval")),
        Column(say("Mean cost, {currency}", currency=answer.fleet.file.currency), is_number=True),
    ]
    rows: list[Row] = [
        [
            one.mode,
            one.engine,
            number(one.repairs),
            number(one.expected, 1),
            number(one.seen[-1][1], 2) if one.seen else "0",
            scale_told(one),
            shape_told(one.fit),
            "" if one.mean_cost is None else money(one.mean_cost),
        ]
        for one in answer.fleet.mode_fits
    ]
    return table(say("Repairs seen and repairs expected"), columns, rows, is_sorted=True)


def log_row_of(key: object) -> tuple[int, int] | None:
    """
    Which repair a key means.

    Parameters
    ----------
    key : Any
        What the browser sent.

    Returns
    -------
    (int, int) or None
        Place of the mode among those with repairs, and of the repair by age; None where it is no such key.
    """
    if not isinstance(key, str) or not key.startswith(OF_LOG) or len(key) > 100:
        return None
    try:
        mode, row = json.loads(key[len(OF_LOG) :])
        return (int(mode), int(row))
    except (ValueError, TypeError, RecursionError):
        return None


def rows_of_log(answer: FleetAnswer, opened: tuple[int, int]) -> list[Component] | None:
    """
    What the drawer holds for a mark: its repair in words, then the log's rows of that failure mode.

    Parameters
    ----------
    answer : FleetAnswer
    opened : (int, int)
        From `log_row_of`.

    Returns
    -------
    list of Component or None
        None where there is no such row.
    """
    modes, (mode, row) = repaired_modes(answer), opened
    if not (0 <= mode < len(modes) and 0 <= row < modes[mode].repairs):
        return None
    one, currency = modes[mode], answer.fleet.file.currency
    heading = say("{what} of {engine}", what=one.mode, engine=one.engine)
    head = html.Div(
        [html.H2(heading, id=page_ids.DRAWER_TITLE, className="finding"), closing_button()], className="drawer-head"
    )
    return [
        head,
        html.P(_in_words(one.logged[row], currency), className="sum"),
        _log_table(heading, one.logged, currency),
    ]


def _in_words(repair: Repaired, currency: str) -> str:
    """One repair of the log in a sentence."""
    known = {"unit": repair.unit, "day": dated(repair.day), "hours": whole(repair.meter_hours)}
    if repair.cost is None:
        return say("{unit}, {day}, {hours} h on the meter; the log states no cost", **known)
    return say(
        "{unit}, {day}, {hours} h on the meter: {cost} {currency}", **known, cost=whole(repair.cost), currency=currency
    )


def _log_table(name: str, logged: Sequence[Repaired], currency: str) -> html.Div:
    """Rows of the log."""
    columns = [
        Column(say("Date")),
        Column(say("Unit")),
        Column(say("Meter, h"), is_number=True),
        Column(say("Failure mode")),
        Column(say("Cost, {currency}", currency=currency), is_number=True),
    ]
    rows: list[Row] = [
        [
            day_cell(repair.day),
            repair.unit,
            number(repair.meter_hours),
            repair.mode,
            "" if repair.cost is None else money(repair.cost),
        ]
        for repair in logged
    ]
    return table(say("Repair log: {name}", name=name), columns, rows, is_sorted=True)


def register(app: Dash, current: Current) -> None:
    """Another failure mode is drawn; a mark opens its rows."""
    drawing.register(app, ids.LOG)
    kept_here: tuple[Any, ...] = (State(ids.FLEET, "data"), State(ids.JOB, "data", allow_optional=True))

    @app.callback(
        Output(ids.MODE_PART, "children"),
        Input(ids.MODE, "value"),
        *kept_here,
        State(page_ids.SCHEME, "data"),
        prevent_initial_call=True,
    )
    def show(mode: object, stored: object, kept: object, scheme: object) -> object:
        answer = current(stored, kept)
        if answer is None or not isinstance(mode, str) or not mode.isdecimal():
            return no_update
        parts = mode_part(answer, int(mode))
        drawing.dress_all(parts, scheme, names_in(answer))
        return parts

    @app.callback(
        Output(page_ids.DRAWER_CONTENT, "children", allow_duplicate=True),
        Input(page_ids.OPENED, "data"),
        *kept_here,
        prevent_initial_call=True,
    )
    def open_rows(opened: object, stored: object, kept: object) -> object:
        asked = log_row_of(opened.get("key") if isinstance(opened, dict) else None)
        answer = None if asked is None else current(stored, kept)
        found = None if answer is None or asked is None else rows_of_log(answer, asked)
        return no_update if found is None else found
