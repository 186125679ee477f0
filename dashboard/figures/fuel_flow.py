"""Fuel flow over engine speed, a line for each engine, and below it the share of the time in each running band."""

import itertools
from collections.abc import Mapping, Sequence
from typing import Any

from dashboard.drawer import Behind, key
from dashboard.figures.notes import SMALL, heading, words
from dashboard.theme import FIXED_LEGEND, OUTLINE, Look, Picture
from model.elements.fuel import is_estimated, litres_an_hour
from model.fuel_flow import Band, FlowCurve, bands_of, flow_curve
from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.language import say
from model.quantities import as_shown, unit_shown, with_unit
from model.wording import whole
from model.wording_of_trials import percent

HEIGHT = 460
"""Height of the picture. [px]"""

FLOW, TIME = [0.34, 0.97], [0.0, 0.22]
"""Parts of the height that the two pictures take. [-]"""


def finding(scenario: Scenario) -> str:
    """What the picture says: which engine burns least in an hour as it is run, all of its kind on the boat together."""

    def burned(engine: Engine) -> float:
        return scenario.engines_on_the_boat(engine) * litres_an_hour(engine, scenario.use)

    ranked = sorted(scenario.engines, key=burned)
    flows = [burned(engine) for engine in ranked]
    if len(ranked) == 1 or flows[1] <= 0.0:
        return say(
            "{engine} burns {flow} in an hour as it is run", engine=ranked[0].name, flow=with_unit(flows[0], "L")
        )
    told = {"engine": ranked[0].name, "flow": with_unit(flows[0], "L"), "other": ranked[1].name}
    less = 1.0 - flows[0] / flows[1]
    if told["flow"] == with_unit(flows[1], "L"):
        return say("{engine} and {other} burn the same in an hour as they are run: {flow}", **told)
    return say("{engine} burns {flow} in an hour as it is run, {less} less than {other}", less=percent(less), **told)


def picture(scenario: Scenario, looks: Mapping[str, Look]) -> Picture:
    """
    Flow over speed, and the time in each running band.

    Parameters
    ----------
    scenario : Scenario
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Picture
        A line and an idle point for each engine, then the bars of the bands.
    """
    curves = [flow_curve(engine) for engine in scenario.engines]
    bands = bands_of(scenario.engines[0], scenario.use)
    traces = []
    for engine, curve in zip(scenario.engines, curves, strict=True):
        name, look = name_of(engine, scenario.engines_on_the_boat(engine)), looks[engine.name]
        traces += [_line(engine, curve, name, look), _idle(engine, curve, look)]
    layout = {
        "height": HEIGHT,
        "hovermode": "closest",
        "barmode": "overlay",
        "xaxis": {
            "title": {"text": say("Engine speed, % of rated")},
            "range": [-6.0, 106.0],
            "dtick": 20,
            "showgrid": False,
            "zeroline": False,
            "anchor": "y2",
        },
        "yaxis": {"title": {"text": unit_shown("L/h")}, "rangemode": "tozero", "domain": FLOW},
        "yaxis2": {
            "domain": TIME,
            "range": [0.0, 125.0 * max(band.time for band in bands)],
            "nticks": 3,
            "ticksuffix": " %",
        },
        "legend": FIXED_LEGEND,
        "annotations": [heading(say("Share of the running time"), TIME[1]), *_idling(curves)],
    }
    return {"data": [*traces, _times(bands)], "layout": layout}


def name_of(engine: Engine, on_the_boat: int = 1) -> str:
    """An engine, whether its flow is measured or estimated, and that of several the flow is each one's."""
    basis = say("estimate") if is_estimated(engine) else say("measured")
    return f"{engine.name} ({basis})" if on_the_boat == 1 else f"{engine.name} ({basis}, {say('each')})"


def _line(engine: Engine, curve: FlowCurve, name: str, look: Look) -> dict[str, Any]:
    """Flow of one engine; its own points where it was measured."""
    return {
        "type": "scatter",
        "name": name,
        "x": [100.0 * speed for speed in curve.speeds],
        "y": [as_shown(flow, "L/h") for flow in curve.flows],
        "mode": "lines" if curve.is_estimated else "lines+markers",
        "line": {"color": look.colour, "dash": look.dash, "width": 3},
        "marker": {"symbol": look.marker, "size": 7, "color": look.colour},
        "customdata": [[with_unit(flow, "L/h"), key(Behind(engine.name, (Element.FUEL,)))] for flow in curve.flows],
        "hovertemplate": f"{name}<br>%{{x:.0f}} %: %{{customdata[0]}}<extra></extra>",
    }


def _idle(engine: Engine, curve: FlowCurve, look: Look) -> dict[str, Any]:
    """The idle point: any slower band burns as much."""
    speed, flow = curve.idle
    told = say("idle: {flow}", flow=with_unit(flow, "L/h"))
    return {
        "type": "scatter",
        "name": f"{engine.name}: {told}",
        "x": [100.0 * speed],
        "y": [as_shown(flow, "L/h")],
        "mode": "markers",
        "marker": {"symbol": look.marker, "size": 13, "color": look.colour, "line": {"color": "#FFFFFF", "width": 2}},
        "showlegend": False,
        "cliponaxis": False,
        "customdata": [[told, key(Behind(engine.name, (Element.FUEL,)))]],
        "hovertemplate": f"{engine.name}<br>%{{customdata[0]}}<extra></extra>",
    }


def _times(bands: Sequence[Band]) -> dict[str, Any]:
    """Share of the running time in each band."""
    return {
        "type": "bar",
        "name": say("Share of the running time"),
        "x": [100.0 * band.speed for band in bands],
        "y": [100.0 * band.time for band in bands],
        "yaxis": "y2",
        "width": min([8.0, *(0.8 * gap for gap in _gaps(bands))]),
        "marker": {"color": "#8A9099", "line": OUTLINE},
        "text": [f"{whole(100.0 * band.time)} %" for band in bands],
        "textposition": "outside",
        "constraintext": "none",
        "textfont": {"size": SMALL},
        "cliponaxis": False,
        "showlegend": False,
        "hovertemplate": "%{x:.0f} %: %{y:.1f} %<extra></extra>",
    }


def _gaps(bands: Sequence[Band]) -> list[float]:
    """Distances between neighbouring bands. [% of rated]"""
    return [
        100.0 * (after.speed - before.speed)
        for before, after in itertools.pairwise(bands)
        if after.speed > before.speed
    ]


def _idling(curves: Sequence[FlowCurve]) -> list[dict[str, Any]]:
    """The word at the idle points."""
    speed, flow = max((curve.idle for curve in curves), key=lambda idle: idle[1])
    return [words(say("idle"), 100.0 * speed, as_shown(flow, "L/h"), yanchor="bottom", yshift=9, font={"size": SMALL})]
