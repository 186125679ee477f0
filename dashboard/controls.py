"""Inputs with units: a slider with a number box, the choice of engines."""

from collections.abc import Mapping, Sequence
from typing import Any

import dash_mantine_components as dmc
from dash import html

from dashboard import ids, text
from dashboard.browser import aria
from dashboard.form import Field
from dashboard.theme import Look
from model.language import later, say, separators, spoken
from model.wording import plain, whole


def number(field: Field, typed: Any = None) -> html.Div:
    """
    A number as a slider and a box, with its unit and range; problems are told under the box.

    Parameters
    ----------
    field : Field
    typed : Any
        What stands in the box in place of its value: something that cannot be counted yet.

    Returns
    -------
    Div
    """
    return html.Div(
        className="field",
        children=[
            dmc.NumberInput(
                id=ids.box(field.key),
                label=[field.label, html.Span(f" {field.unit}", className="unit")],
                value=field.value if typed is None else typed,
                step=field.step,
                decimalScale=4,
                decimalSeparator=separators(spoken().locale)[1],
                allowedDecimalSeparators=[".", ","],
                clampBehavior="none",
                hideControls=True,
                debounce=150,
                size="md",
                inputProps={"inputMode": "decimal"},
                errorProps={"role": "alert"},
                inputWrapperOrder=["label", "input", "error"],
                classNames={"root": "number", "label": "number-label", "input": "number-input", "error": "problem"},
            ),
            dmc.Slider(
                id=ids.slider(field.key),
                value=field.value,
                min=field.low,
                max=field.high,
                step=field.step,
                precision=4,
                label=None,
                size="md",
                thumbSize=22,
                thumbLabel=f"{field.label}, {field.unit}",
                updatemode="drag",
                className="slider",
            ),
            html.Div(
                [html.Span(plain(field.low)), html.Span(plain(field.high))],
                className="range",
                **aria(hidden="true"),
            ),
        ],
    )


def engine_choice(names: Sequence[str], compared: Sequence[str], looks: Mapping[str, Look]) -> dmc.CheckboxGroup:
    """Which engines are compared, each with the line it is drawn in."""
    return dmc.CheckboxGroup(
        id=ids.ENGINES,
        label=say(text.ENGINES),
        value=list(compared),
        size="md",
        errorProps={"role": "alert"},
        inputWrapperOrder=["label", "input", "error"],
        classNames={"label": "number-label", "error": "problem"},
        children=html.Div(
            className="engines",
            children=[
                dmc.Checkbox(label=html.Span([_swatch(looks[name]), name], className="engine"), value=name, size="md")
                for name in names
            ],
        ),
    )


def habits(marks: tuple[int, int]) -> html.Div:
    """How the time is shared between slow, middle and full throttle: two marks on one scale."""
    words = (say("Up to here slow, % of the time"), say("From here near full throttle, % of the time"))
    return html.Div(
        className="field",
        children=[
            html.Div(
                [say(text.HABITS), html.Span(say("share of the time"), className="unit")], className="number-label"
            ),
            dmc.RangeSlider(
                id=ids.HABITS,
                value=list(marks),
                min=0,
                max=100,
                step=1,
                minRange=0,
                label=None,
                size="md",
                thumbSize=22,
                thumbFromLabel=words[0],
                thumbToLabel=words[1],
                updatemode="mouseup",
                className="slider",
            ),
            html.Div([html.Span(say(word)) for word in KINDS], className="range", **aria(hidden="true")),
            html.Div(habits_in_words(marks), id=ids.HABITS_TOLD, className="unit"),
        ],
    )


def habits_in_words(marks: Sequence[float]) -> str:
    """
    The shares of the time, in words.

    >>> habits_in_words((60, 95))
    '60 % slow, 35 % in between, 5 % near full throttle'
    """
    slow, middle, fast = whole(marks[0]), whole(marks[1] - marks[0]), whole(100.0 - marks[1])
    return say("{slow} % slow, {middle} % in between, {fast} % near full throttle", slow=slow, middle=middle, fast=fast)


KINDS = (later("slow"), later("full throttle"))
"""The ends of the scale."""


def _swatch(look: Look) -> html.Span:
    """A piece of an engine's line."""
    style: dict[str, Any] = {"borderTopColor": look.colour, "borderTopStyle": CSS_LINES.get(look.dash, "dashed")}
    return html.Span(className="swatch", style=style, **aria(hidden="true"))


CSS_LINES = {"solid": "solid", "dash": "dashed", "dot": "dotted", "dashdot": "dashed"}
"""Dashes of a picture as a style sheet knows them."""
