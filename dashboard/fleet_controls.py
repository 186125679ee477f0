"""What can be changed of a fleet: which one, when engines are replaced, budget years, yearly limit, trade-in."""

from collections.abc import Mapping
from typing import Any

import dash_mantine_components as dmc
from dash import html
from dash.development.base_component import Component

from dashboard import fleet_ids as ids
from dashboard import library
from dashboard.browser import aria
from dashboard.fleet_work import (
    HORIZON,
    LIMIT,
    POLICY,
    TRADE_IN,
    FleetWork,
    as_change,
    file_policy,
    fleet_of,
    policies_of,
    with_value,
)
from dashboard.form import number_typed
from model.fleet.fleet_file import PolicyTerms
from model.language import later, say, separators, spoken

OWN = "own"
"""Stands for the fleet that was opened among those of the library."""

ADJUSTABLE = {"at_age": later("at an age of"), "at_meter_hours": later("at meter hours of"),
              "repair_share": later("when one repair costs more than")}  # fmt: skip
"""Policies with a number of their own to type."""

UNITS = {"at_age": later("years"), "at_meter_hours": later("h"), "repair_share": later("% of the value")}
"""Units of those numbers."""

USUAL = {"at_age": 10.0, "at_meter_hours": 2500.0, "repair_share": 30.0}
"""What stands there until somebody types."""


def filled(work: FleetWork) -> list[Component]:
    """The controls of a fleet as it is."""
    fleet = fleet_of(work)
    kind, typed = _policy_of(work)
    terms = fleet.terms
    limit: float | str = "" if terms.yearly_limit is None else terms.yearly_limit
    return [
        _register(work),
        html.Div(
            [
                dmc.Select(
                    id=ids.POLICY, label=say("Engines are replaced"), data=_choices(work), value=kind, size="md",
                    allowDeselect=False, checkIconPosition="right",
                ),
                _box(ids.NUMBER, _number_label(kind), typed, is_shown=kind in ADJUSTABLE),
            ],
            className="fleet-policy",
        ),
        _box(ids.HORIZON, say("Budget years"), terms.horizon),
        _box(ids.LIMIT, say("Yearly limit, {currency}", currency=fleet.file.currency), limit,
             hint=say("empty: no limit")),
        _box(ids.TRADE_IN, say("Trade-in, % of the value"), round(100.0 * terms.trade_in, 4)),
    ]  # fmt: skip


def _register(work: FleetWork) -> html.Div:
    """Which fleet: of the library, or one's own."""
    data = [{"value": name, "label": library.register_title(name)} for name in library.registers()]
    if work.text:
        data.append({"value": OWN, "label": fleet_of(work).file.title})
    return html.Div(
        [
            dmc.Select(
                id=ids.REGISTER, label=say("Fleet"), data=data, value=OWN if work.text else work.name, size="md",
                allowDeselect=False, checkIconPosition="right",
            ),
            html.Div(
                [
                    html.Button(say("Open my own (TOML, CSV)"), id=ids.OPEN, className="plain-button", type="button"),
                    html.Button(
                        say("Save these files"), id=ids.EXAMPLE, className="plain-button", type="button", n_clicks=0
                    ),
                ],
                className="fleet-files",
            ),
        ],
        className="fleet-register",
    )  # fmt: skip


def _box(name: str, label: str, value: Any, is_shown: bool = True, hint: str = "") -> dmc.NumberInput:
    """A number to type."""
    return dmc.NumberInput(
        id=name,
        label=label,
        value=value,
        placeholder=hint,
        decimalScale=4,
        decimalSeparator=separators(spoken().locale)[1],
        allowedDecimalSeparators=[".", ","],
        clampBehavior="none",
        hideControls=True,
        debounce=400,
        size="md",
        inputProps={"inputMode": "decimal"},
        errorProps={"role": "alert"},
        inputWrapperOrder=["label", "input", "error"],
        classNames={"error": "problem"},
        style={} if is_shown else {"display": "none"},
    )


def _choices(work: FleetWork) -> list[dict[str, str]]:
    """Policies to choose from: those of the file by their words, then those with a number to type."""
    known = [{"value": str(place), "label": _in_words(work, policy)} for place, policy in enumerate(policies_of(work))]
    return known + [{"value": kind, "label": f"{say(words)} …"} for kind, words in ADJUSTABLE.items()]


def _in_words(work: FleetWork, policy: PolicyTerms) -> str:
    """A policy, the file's own marked as today's."""
    words = policy.in_words
    return say("{policy} (today)", policy=words) if policy == file_policy(work) else words


def _policy_of(work: FleetWork) -> tuple[str, float]:
    """Which choice the policy is, and the number typed for it."""
    policy, known = fleet_of(work).terms.policy, policies_of(work)
    if policy in known:
        return str(known.index(policy)), USUAL["at_age"]
    kind, value = next((key, value) for key, value in as_change(policy).items() if key in ADJUSTABLE)
    return kind, round(100.0 * value, 4) if kind == "repair_share" else value


def _number_label(kind: str) -> str:
    """What the number of a policy is."""
    return say(UNITS.get(kind, UNITS["at_age"])).capitalize()


def with_policy(work: FleetWork, choice: object, typed: object) -> tuple[FleetWork, str]:
    """
    A fleet with a policy chosen, or as it was with what is wrong.

    Parameters
    ----------
    work : FleetWork
    choice : Any
        Value of the choice.
    typed : Any
        What stands in the box beside it.

    Returns
    -------
    (FleetWork, str)
    """
    known = policies_of(work)
    if isinstance(choice, str) and choice.isdecimal() and int(choice) < len(known):
        policy = known[int(choice)]
        return work.changed(POLICY, None if policy == file_policy(work) else as_change(policy)), ""
    if not isinstance(choice, str) or choice not in ADJUSTABLE:
        return work, ""
    number = number_typed(typed)
    if number is None:
        return work, say("A number is needed.")
    return with_value(work, POLICY, {choice: number / 100.0 if choice == "repair_share" else number})


def counted_changes(work: FleetWork, given: Mapping[str, Any]) -> tuple[FleetWork, dict[str, str]]:
    """
    A fleet with what stands at the controls put in, as far as it is sound.

    Parameters
    ----------
    work : FleetWork
        As it was.
    given : mapping of str to Any
        By id of the control.

    Returns
    -------
    (FleetWork, dict of str to str)
        What is wrong, by id; empty words where nothing is.
    """
    told = {}
    work, told[ids.NUMBER] = with_policy(work, given[ids.POLICY], given[ids.NUMBER])
    for name, path, share in ((ids.HORIZON, HORIZON, 1.0), (ids.LIMIT, LIMIT, 1.0), (ids.TRADE_IN, TRADE_IN, 100.0)):
        work, told[name] = _with_typed(work, path, given[name], share)
    return work, told


def _with_typed(work: FleetWork, path: str, raw: Any, share: float) -> tuple[FleetWork, str]:
    """A number typed at a control; what the file says anyway is no change."""
    origin = fleet_of(work.origin).terms
    stated = {HORIZON: origin.horizon, LIMIT: origin.yearly_limit, TRADE_IN: origin.trade_in}[path]
    if raw in ("", None) and path == LIMIT:
        return work.changed(LIMIT, None if stated is None else ""), ""
    number = number_typed(raw)
    if number is None:
        return work, say("A number is needed.")
    if path == TRADE_IN and not 0.0 <= number <= 100.0:
        return work, say("Allowed: {rule}.", rule=say("a number, 0 to 100"))
    value = round(number / share, 9)
    return (work.changed(path, None), "") if value == stated else with_value(work, path, value)


def progress_room() -> html.Div:
    """How far a run is, and the button that stops it."""
    return html.Div(
        [
            html.Div(id=ids.PROGRESS, className="fleet-progress-words", role="status"),
            html.Button(say("Stop"), id=ids.STOP, className="plain-button", type="button", n_clicks=0, hidden=True),
        ],
        className="fleet-progress",
        **aria(live="polite"),
    )
