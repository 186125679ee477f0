"""What an engine costs a year by the age at which it is replaced, with the ages of the fleet's engines below."""

from collections.abc import Sequence
from typing import Any

from dashboard.theme import FIXED_LEGEND, Look, Picture
from model.fleet.life_reports import EngineLife
from model.fleet.lives_told import best_told, span_told
from model.fleet.reading import Fleet
from model.language import say
from model.quantities import with_unit
from model.wording import plain, whole

HEIGHT = 420
"""Height of the picture. [px]"""

SAME_POWER = 0.02
"""Share by which rated powers of one picture may differ; what may replace each other differs by more. [-]"""

FOOT = 0.16
"""Share of the height on which the fleet's ages stand. [-]"""


def families(fleet: Fleet) -> list[list[str]]:
    """Engines of the file of one rated power, as good as (`SAME_POWER`), those of most units first."""
    found: list[list[str]] = []
    for engine in fleet.file.engines:
        for family in found:
            of_first = fleet.file.engine(family[0]).rated_power
            if abs(engine.rated_power - of_first) <= SAME_POWER * of_first:
                family.append(engine.name)
                break
        else:
            found.append([engine.name])
    return sorted(found, key=lambda family: -sum(unit.engine in family for unit in fleet.units))


def named(fleet: Fleet, family: Sequence[str]) -> str:
    """What a family is called: its power."""
    return with_unit(fleet.file.engine(family[0]).rated_power, "kW")


def finding(lives: Sequence[EngineLife]) -> str:
    """What the picture says: the best age of the engine that costs least, and how little a few years matter."""
    if not lives:
        return say("No engine of this power may be bought")
    one = min(lives, key=lambda one: min(one.life.costs))
    return say(
        "{engine} costs least a year when it is replaced after {best}; {span} it costs at most 2 % more",
        engine=one.name,
        best=best_told(one.life),
        span=span_told(one.life),
    )


def picture(fleet: Fleet, lives: Sequence[EngineLife], family: Sequence[str], looks: dict[str, Look]) -> Picture:
    """
    Equivalent annual cost by replacement age.

    Parameters
    ----------
    fleet : Fleet
    lives : sequence of EngineLife
        Of the family's candidates.
    family : sequence of str
        Engines alike in power, candidates or not: the ages of all their units are marked.
    looks : dict of str to Look
        By engine.

    Returns
    -------
    Picture
        For each candidate the stretch within 2 %, its line and its best age; for each engine its units' ages.
    """
    ages = [(unit.age, unit) for unit in fleet.units if unit.engine in family]
    latest = max([15.0, *(one.life.ages[-1] for one in lives), *(age for age, _ in ages)])
    currency = fleet.file.currency
    traces = [trace for one in lives for trace in _life(one, looks[one.name], currency)]
    rows = [name for name in family if any(unit.engine == name for unit in fleet.units)]
    for row, name in enumerate(rows):
        traces.append(_ages(fleet, name, row, looks[name]))
    layout = {
        "height": HEIGHT + 24 * len(rows),
        "hovermode": "closest",
        "xaxis": {"title": {"text": say("Age, years")}, "range": [0.0, latest * 1.03], "anchor": "y2",
                  "showgrid": False, "zeroline": False},
        "yaxis": {"title": {"text": say("{currency} a year", currency=currency)}, "tickformat": ",d",
                  "domain": [FOOT + 0.06, 1.0], "rangemode": "tozero"},
        "yaxis2": {"visible": False, "domain": [0.0, FOOT], "range": [max(len(rows), 1) - 0.4, -0.6]},
        "legend": FIXED_LEGEND,
    }  # fmt: skip
    return {"data": traces, "layout": layout}


def _life(one: EngineLife, look: Look, currency: str) -> list[dict[str, Any]]:
    """The stretch within 2 %, the line, the best age."""
    life = one.life
    low, high = life.about_as_good
    near = [(age, cost) for age, cost in zip(life.ages, life.costs, strict=True) if low <= age <= high]
    red, green, blue = (int(look.colour[place : place + 2], 16) for place in (1, 3, 5))
    told = [[plain(age), whole(cost)] for age, cost in zip(life.ages, life.costs, strict=True)]
    at_best = say("{engine}: best after {age}", engine=one.name, age=best_told(life))
    return [
        {"type": "scatter", "mode": "lines", "x": [age for age, _ in near], "y": [cost for _, cost in near],
         "line": {"width": 18, "color": f"rgba({red},{green},{blue},0.2)"}, "hoverinfo": "skip", "showlegend": False},
        {"type": "scatter", "mode": "lines", "name": one.name, "x": list(life.ages), "y": list(life.costs),
         "line": {"width": 3, "color": look.colour, "dash": look.dash}, "customdata": told,
         "hovertemplate": f"{one.name}<br>%{{customdata[0]}}: %{{customdata[1]}} {currency}<extra></extra>"},
        {"type": "scatter", "mode": "markers", "name": at_best, "showlegend": False, "x": [life.best_age],
         "y": [min(life.costs)], "hovertemplate": f"{at_best}<extra></extra>",
         "marker": {"symbol": look.marker, "size": 13, "color": look.colour, "line": {"width": 2, "color": "#FFFFFF"}}},
    ]  # fmt: skip


def _ages(fleet: Fleet, name: str, row: int, look: Look) -> dict[str, Any]:
    """A stroke for each unit with an engine, at its age on the first budget day."""
    units = [unit for unit in fleet.units if unit.engine == name]
    told = [
        [say("{unit}: {age} {age:year|years}, {hours} h", unit=unit.name, age=plain(round(unit.age, 1)),
             hours=whole(unit.meter_hours))]
        for unit in units
    ]  # fmt: skip
    return {
        "type": "scatter", "mode": "markers", "yaxis": "y2", "x": [unit.age for unit in units],
        "y": [row] * len(units), "showlegend": True, "customdata": told,
        "name": say("Ages: {engine}", engine=name),
        "hovertemplate": "%{customdata[0]}<extra></extra>",
        "marker": {"symbol": "line-ns", "size": 16, "line": {"width": 2.5, "color": look.colour}},
    }  # fmt: skip
