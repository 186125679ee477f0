"""The service calendar: a row for each engine, a mark for each visit at its date, on months and on meter hours."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from dashboard.drawer import Behind, key
from dashboard.figures.notes import heading
from dashboard.theme import Look, Picture
from model.inputs.terms import MONTHS_IN_A_YEAR, Element, VisitKind
from model.language import dated, later, say
from model.measures import Comparison, EngineCost
from model.service_calendar import VisitSummary, service_visits
from model.uncertainty.difference import round_step
from model.usage import meter_at
from model.wording import whole

ROW = 104
"""Height that one engine takes. [px]"""

AROUND = 132
"""Height of both scales. [px]"""

SMALLEST, LARGEST = 11.0, 34.0
"""Sizes of the marks of the cheapest and the dearest visit. [px]"""

SYMBOLS = {VisitKind.FIRST: "diamond", VisitKind.ROUTINE: "circle", VisitKind.MAJOR: "square"}
"""What each kind of visit looks like."""

KINDS = {
    VisitKind.FIRST: later("first visit"),
    VisitKind.ROUTINE: later("routine visit"),
    VisitKind.MAJOR: later("major visit"),
}
"""What each kind is called."""

SERVICE = (Element.SERVICE_PARTS, Element.SERVICE_LABOUR)
"""What service comes to."""


def service_cost(cost: EngineCost) -> float:
    """What service comes to over the period, tasks without a visit too, money of the day. [money]"""
    return sum(cost.elements[element].nominal for element in SERVICE)


def finding(comparison: Comparison) -> str:
    """What the picture says: which engine costs least to service, at how many visits, against the next."""
    ranked = sorted(comparison.engines, key=service_cost)
    if not any(service_cost(cost) for cost in ranked):
        return say("No service is planned")
    currency = comparison.scenario.currency
    told = [_told(cost, currency) for cost in ranked]
    if len(ranked) == 1:
        return say("Service of {told}", told=told[0])
    if whole(service_cost(ranked[0])) == whole(service_cost(ranked[1])):
        return say(
            "{one} and {other} cost the same to service: {amount}",
            one=ranked[0].name,
            other=ranked[1].name,
            amount=f"{whole(service_cost(ranked[0]))} {currency}",
        )
    return say("Service costs the least with {least}; with {next}", least=told[0], next=told[1])


def _told(cost: EngineCost, currency: str) -> str:
    """An engine, what its service comes to, and its visits."""
    amount, visits = f"{whole(service_cost(cost))} {currency}", len(service_visits(cost.case))
    if visits == 1:
        return say("{engine}: {amount}, one visit", engine=cost.name, amount=amount)
    return say("{engine}: {amount}, {visits} {visits:visit|visits}", engine=cost.name, amount=amount, visits=visits)


def picture(comparison: Comparison, looks: Mapping[str, Look]) -> Picture:
    """
    Every visit of every engine.

    Parameters
    ----------
    comparison : Comparison
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Picture
        For each engine a trace for each kind of visit that it has.
    """
    costs = comparison.engines
    visits = {cost.name: service_visits(cost.case) for cost in costs}
    dearest = max((visit.cost for of_engine in visits.values() for visit in of_engine), default=0.0)
    traces = []
    for row, cost in enumerate(costs):
        traces.append(_line(row, costs[0].case.years))
        for kind in VisitKind:
            chosen = [(number, visit) for number, visit in enumerate(visits[cost.name]) if visit.kind is kind]
            if chosen:
                traces.append(_marks(cost, (row, kind), chosen, looks[cost.name], dearest))
    traces.append(_NOTHING_ON_THE_SECOND_SCALE)
    notes = [_name(row, cost, visits[cost.name]) for row, cost in enumerate(costs)]
    return {"data": traces, "layout": {**_scales(costs), "annotations": notes}}


_NOTHING_ON_THE_SECOND_SCALE = {
    "type": "scatter", "x": [0.0], "y": [0.0], "xaxis": "x2", "mode": "markers", "opacity": 0.0, "hoverinfo": "skip"
}  # fmt: skip
"""A scale is drawn only where something stands on it."""


def _scales(costs: Sequence[EngineCost]) -> dict[str, Any]:
    """Months below, meter hours above, rows from the top."""
    months = costs[0].case.years * MONTHS_IN_A_YEAR
    shared = {"range": [-0.025 * months, 1.025 * months], "zeroline": False}
    above = {"overlaying": "x", "side": "top", "showgrid": False}
    return {
        "height": ROW * len(costs) + AROUND,
        "showlegend": False,
        "hovermode": "closest",
        "margin": {"t": 64},
        "xaxis": {
            "title": {"text": say("Months since delivery")},
            "showgrid": True,
            **shared,
            **_month_ticks(costs[0]),
        },
        "xaxis2": {"title": {"text": say("Hours run since delivery")}, **shared, **above, **_hour_ticks(costs[0])},
        "yaxis": {"visible": False, "range": [len(costs) - 0.4, -0.66]},
    }


def _month_ticks(cost: EngineCost) -> dict[str, Any]:
    """Ticks by years, in months, with the day below."""
    years = cost.case.years
    step = max(1, math.ceil(years / 8.0))
    at = [float(year) for year in range(0, math.ceil(years + 1e-9), step)]
    return {
        "tickvals": [MONTHS_IN_A_YEAR * year for year in at],
        "ticktext": [whole(MONTHS_IN_A_YEAR * year) for year in at],
    }


def _hour_ticks(cost: EngineCost) -> dict[str, Any]:
    """Ticks at round hours, where they are reached."""
    case = cost.case
    hours = np.array(case.scenario.hours())
    edges = np.append(np.arange(hours.size, dtype=float), case.years)
    run = meter_at(edges, hours, case.years)
    if run[-1] <= 0.0:
        return {"tickvals": [0.0], "ticktext": ["0"]}
    step = round_step(float(run[-1]) / 7.0)
    readings = np.arange(0.0, float(run[-1]) + 1e-6, step)
    at = np.interp(readings, run, edges)
    return {"tickvals": (MONTHS_IN_A_YEAR * at).tolist(), "ticktext": [whole(float(reading)) for reading in readings]}


def _line(row: int, years: float) -> dict[str, Any]:
    """The row that the marks stand on."""
    return {
        "type": "scatter",
        "x": [0.0, years * MONTHS_IN_A_YEAR],
        "y": [row, row],
        "mode": "lines",
        "line": {"color": "rgba(122,140,159,0.6)", "width": 1},
        "hoverinfo": "skip",
    }


def _marks(
    cost: EngineCost,
    place: tuple[int, VisitKind],
    visits: Sequence[tuple[int, VisitSummary]],
    look: Look,
    dearest: float,
) -> dict[str, Any]:
    """The visits of one kind of one engine."""
    (row, kind), currency = place, cost.case.scenario.currency
    return {
        "type": "scatter",
        "name": f"{cost.name}: {say(KINDS[kind])}",
        "x": [visit.t_years * MONTHS_IN_A_YEAR for _, visit in visits],
        "y": [row] * len(visits),
        "mode": "markers",
        "marker": {
            "symbol": SYMBOLS[kind],
            "size": [size_of(visit.cost, dearest) for _, visit in visits],
            "color": look.colour,
            "opacity": 1.0,
            "line": {"color": "#FFFFFF", "width": 1.5},
        },
        "cliponaxis": False,
        "customdata": [
            [
                f"{dated(visit.date)}, {whole(visit.meter_hours)} h<br>{visit.name}<br>{', '.join(visit.tasks)}",
                f"{whole(visit.cost)} {currency}",
                key(Behind(cost.name, SERVICE, is_nominal=True, visit=number)),
            ]
            for number, visit in visits
        ],
        "hovertemplate": f"{cost.name}, {say(KINDS[kind])}<br>%{{customdata[0]}}<br>%{{customdata[1]}}<extra></extra>",
    }


def size_of(cost: float, dearest: float) -> float:
    """Size of a mark, its area going with the cost of the visit. [px]"""
    return max(SMALLEST, LARGEST * math.sqrt(cost / dearest)) if dearest > 0.0 else SMALLEST


def _name(row: int, cost: EngineCost, visits: Sequence[VisitSummary]) -> dict[str, Any]:
    """An engine, what its service comes to, and its visits, above its row."""
    currency = cost.case.scenario.currency
    text = f"<b>{whole(service_cost(cost))} {currency}</b>  {cost.name}"
    if not visits:
        text += f", {say('no visits')}"
    return heading(text, row - 0.34, yref="y", yshift=0)


def legend() -> str:
    """What the marks are, in words below the picture."""
    return say("◆ first visit, ● routine visit, ■ major visit; the larger the mark, the more it costs")
