"""How far each uncertain input swings the difference between two engines, the widest first."""

from collections.abc import Mapping
from typing import Any

from dash import html

from dashboard.figures.notes import PLAIN, SMALL, covering, words, wrapped
from dashboard.tables import Cell, Column, Row, table
from dashboard.theme import OUTLINE, Look, Picture
from model.language import say
from model.quantities import as_shown, unit_shown
from model.search_reports import name_of
from model.uncertainty.sensitivity import Swing, Swings
from model.uncertainty.streams import Input, Source
from model.wording import about, cents, whole

ROW = 58
"""Height that one input takes. [px]"""

BELOW = 128
"""Height of the axis and of the words at the top. [px]"""

MOST_TOLD = 3
"""Inputs that the finding names."""

SMALLEST = 0.002
"""Share of the widest swing below which an input is not drawn. [-]"""


def shown(found: Swings) -> list[tuple[Input, Swing]]:
    """Inputs that swing the difference as far as can be seen."""
    widest = max((swing.width for _, swing in found.inputs), default=0.0)
    return [(one, swing) for one, swing in found.inputs if swing.width > SMALLEST * widest]


def finding(found: Swings, currency: str) -> str:
    """What the picture says: which inputs alone can turn it round; else which moves it most."""
    drawn = shown(found)
    if not drawn:
        return say("Nothing that is uncertain moves the difference")
    turning = [
        label(one) for one, swing in drawn if min(swing.at_low, swing.at_high) < 0.0 < max(swing.at_low, swing.at_high)
    ]
    if not turning:
        amounts = sorted((drawn[0][1].at_low, drawn[0][1].at_high), key=abs)
        low, high = (about(abs(amount), drawn[0][1].width) for amount in amounts)
        return say(
            "No input alone turns this difference round; what moves it most: {input}, {low} to {high} {currency}",
            input=label(drawn[0][0]),
            low=low,
            high=high,
            currency=currency,
        )
    if len(turning) == 1:
        return say("One input alone can turn this difference round: {input}", input=turning[0])
    if len(turning) <= MOST_TOLD:
        return say("Each of these alone can turn this difference round: {inputs}", inputs=", ".join(turning))
    told = {"inputs": ", ".join(turning[:MOST_TOLD]), "others": len(turning) - MOST_TOLD}
    return say("Each of these alone can turn this difference round: {inputs} and {others} more", **told)


def label(one: Input) -> str:
    """What an input is called, with its engine where it belongs to one."""
    source, engine = one
    name = say(name_of((source, "")))
    return say("{input} of {engine}", input=name, engine=engine) if engine else name


def end_of(one: Input, value: float | None, currency: str) -> str:
    """
    The value of an input at one end of its bar; a level as per cent above or below what is stated.

    >>> end_of((Source.LABOUR, ""), 1.12, "EUR"), end_of((Source.HOURS, ""), 61.4, "EUR")
    ('+12 %', '61 h')
    """
    if value is None:
        return ""
    if one[0] is Source.HOURS:
        return say("{hours} h", hours=whole(value))
    if one[0] is Source.FUEL_PRICE:
        return f"{cents(as_shown(value, 'money/L'))} {currency}/{unit_shown('L')}"
    return f"{100.0 * (value - 1.0):+.0f} %".replace("-", "\u2212")


def picture(found: Swings, looks: Mapping[str, Look], currency: str) -> Picture:
    """
    A bar for each uncertain input, from the difference at its 10 % point to that at its 90 % point.

    Parameters
    ----------
    found : Swings
    looks : mapping of str to Look
        By engine.
    currency : str

    Returns
    -------
    Picture
        Below zero in the colour of the challenger, which costs less there; above it in the baseline's.
    """
    drawn = shown(found)
    height = ROW * max(len(drawn), 1) + BELOW
    layout = {
        "height": height,
        "barmode": "overlay",
        "showlegend": False,
        "hovermode": "closest",
        "margin": {"t": 60},
        "xaxis": {
            "title": {"text": currency},
            "tickformat": ",d",
            "showgrid": False,
            "zeroline": False,
            "range": _span(found, drawn),
        },
        "yaxis": {"visible": False, "range": [len(drawn) - 0.42, -0.78]},
        "shapes": [
            _upright(row, *line) for row in range(len(drawn)) for line in ((0.0, "solid"), (found.stated, "dot"))
        ],
        "annotations": [
            *(_name(row, one) for row, (one, _) in enumerate(drawn)),
            *_ends(drawn, currency),
            *_at_the_top(found),
        ],
    }
    return {"data": [_bar(row, one, looks, found, currency) for row, one in enumerate(drawn)], "layout": layout}


def _span(found: Swings, drawn: list[tuple[Input, Swing]]) -> list[float]:
    """Ends of the axis, with room for the words at the ends of the bars."""
    ends = [0.0, found.stated, *(end for _, swing in drawn for end in (swing.at_low, swing.at_high))]
    room = 0.2 * (max(ends) - min(ends)) or 1.0
    return [min(ends) - room, max(ends) + room]


def _bar(row: int, one: tuple[Input, Swing], looks: Mapping[str, Look], found: Swings, currency: str) -> dict[str, Any]:
    """One input: the part below zero and the part above it, in the colour of the engine that costs less there."""
    low, high = sorted((one[1].at_low, one[1].at_high))
    parts = [(min(low, 0.0), min(high, 0.0), found.challenger), (max(low, 0.0), max(high, 0.0), found.baseline)]
    told = f"{label(one[0])}: {whole(low)} – {whole(high)} {currency}"
    return {
        "type": "bar",
        "name": label(one[0]),
        "orientation": "h",
        "base": [begin for begin, _, _ in parts],
        "x": [end - begin for begin, end, _ in parts],
        "y": [row, row],
        "width": 0.44,
        "marker": {"color": [looks[name].colour for _, _, name in parts], "line": OUTLINE},
        "hovertemplate": f"{told}<extra></extra>",
    }


def _ends(drawn: list[tuple[Input, Swing]], currency: str) -> list[dict[str, Any]]:
    """The values of the inputs at both ends of their bars, the low one to the left where the ends fall together."""
    found = []
    for row, (one, swing) in enumerate(drawn):
        low_is_left = swing.at_low <= swing.at_high
        for value, at, is_left in (
            (swing.low, swing.at_low, low_is_left),
            (swing.high, swing.at_high, not low_is_left),
        ):
            if text := end_of(one, value, currency):
                side = {"xanchor": "right", "xshift": -3} if is_left else {"xanchor": "left", "xshift": 3}
                found.append(covering(text, at, row, font={"size": SMALL}, yanchor="middle", **side))
    return found


def _name(row: int, one: Input) -> dict[str, Any]:
    """An input's name above its bar."""
    text = label(one)
    return words(
        f"{text[0].upper()}{text[1:]}",
        0.0,
        row - 0.26,
        xref="paper",
        xanchor="left",
        yanchor="bottom",
        font={"size": PLAIN},
    )


def _at_the_top(found: Swings) -> list[dict[str, Any]]:
    """Which engine costs less on which side of zero."""
    sides = (("left", 0.0, f"◀ {_costs_less(found.challenger)}"), ("right", 1.0, f"{_costs_less(found.baseline)} ▶"))
    return [
        words(
            wrapped(name, 22),
            x,
            1.0,
            xref="paper",
            yref="paper",
            xanchor=side,
            yanchor="bottom",
            align=side,
            font={"size": SMALL},
        )
        for side, x, name in sides
    ]


def _costs_less(engine: str) -> str:
    """That an engine costs less."""
    return say("{engine} costs less", engine=engine)


def _upright(row: int, x: float, dash: str) -> dict[str, Any]:
    """A line at the height of one bar, so that it crosses no name."""
    return {"type": "line", "x0": x, "x1": x, "y0": row - 0.25, "y1": row + 0.25, "line": {"width": 1.5, "dash": dash}}


def figures(found: Swings, currency: str) -> html.Div:
    """The same as a table."""
    columns = [
        Column(say("Input")),
        Column(say("10 % point")),
        Column(say("90 % point")),
        Column(say("Difference at the 10 % point, {currency}", currency=currency), is_number=True),
        Column(say("Difference at the 90 % point, {currency}", currency=currency), is_number=True),
    ]
    rows: list[Row] = [
        [
            label(one),
            Cell(end_of(one, swing.low, currency), swing.low),
            Cell(end_of(one, swing.high, currency), swing.high),
            Cell(whole(swing.at_low), swing.at_low),
            Cell(whole(swing.at_high), swing.at_high),
        ]
        for one, swing in found.inputs
    ]
    name = say(
        "What {challenger} costs more than {baseline}, input by input",
        challenger=found.challenger,
        baseline=found.baseline,
    )
    return table(name, columns, rows)
