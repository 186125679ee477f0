"""The replacement calendar: which engines go in which year, by unit, or by site where there are many."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from dashboard.figures.notes import SMALL, covering
from dashboard.theme import FIXED_LEGEND, QUIET, Look, Picture
from model.fleet.reading import Fleet
from model.fleet.replacement import Due, FleetPlan, waits
from model.fleet.rules_told import year_told
from model.fleet.when_due import KINDS, Why, kinds
from model.language import later, say
from model.wording import whole

UNIT_ROW, SITE_ROW, AROUND = 30, 64, 120
"""Height of a unit's and a site's row, and of what stands around them. [px]"""

MOST_UNITS = 36
"""Units that have a row each; more are shown by site."""

NO_SITE = later("No site named")
"""What the site of units without one is called."""


SYMBOLS = {Why.IN_TIME: "circle", Why.OVERDUE: "diamond", Why.PUT_OFF: "square"}
"""What each kind looks like."""

SIDES = {Why.IN_TIME: -0.2, Why.OVERDUE: 0.2, Why.PUT_OFF: 0.2}
"""Where a kind's mark stands in its year, where sites share a row. [year]"""


def finding(fleet: Fleet, plan: FleetPlan) -> str:
    """What the picture says: how many units get a new engine in the first year and in all, and what is put off."""
    if not plan.bought:
        return say("No engine is replaced within {years} {years:year|years}", years=fleet.terms.horizon)
    first, every = sum(due.year == 0 for due in plan.bought), len(plan.bought)
    told = say(
        "{first} of {units} {units:unit|units} {first:gets|get} a new engine in {year}; {all} "
        "{all:replacement|replacements} in {years} {years:year|years}",
        first=whole(first),
        units=whole(len(fleet.units)),
        year=year_told(fleet, 0),
        all=whole(every),
        years=fleet.terms.horizon,
    )
    put_off = len(waits(plan))
    return say("{told}; the yearly limit puts off {number}", told=told, number=whole(put_off)) if put_off else told


def picture(fleet: Fleet, plan: FleetPlan, looks: dict[str, Look]) -> Picture:
    """
    A mark for each replacement at the year in which it is made.

    Parameters
    ----------
    fleet : Fleet
    plan : FleetPlan
    looks : dict of str to Look
        By engine.

    Returns
    -------
    Picture
        By unit: a line for each that waits, then a trace for each kind. By site: a trace for each kind, with numbers.
    """
    found = kinds(plan)
    is_by_unit = len({due.place for due in plan.bought}) <= MOST_UNITS
    rows = _rows(fleet, found, is_by_unit)
    place = {row: number for number, row in enumerate(rows)}
    names = [fleet.units[due.place].name if is_by_unit else _site(fleet, due) for due, _ in found]
    at = [place[name] for name in names]
    traces = _marks_of_units(fleet, found, at, looks) if is_by_unit else _marks_of_sites(fleet, found, at)
    years = fleet.terms.horizon
    layout = {
        "height": AROUND + (UNIT_ROW if is_by_unit else SITE_ROW) * max(len(rows), 1),
        "hovermode": "closest",
        "xaxis": {"tickvals": list(range(years)), "ticktext": [year_told(fleet, year) for year in range(years)],
                  "range": [-0.6, years - 0.4], "showgrid": False, "zeroline": False, "autotickangles": [0, -45]},
        "yaxis": {"tickvals": list(range(len(rows))), "ticktext": rows, "range": [len(rows) - 0.4, -0.6],
                  "zeroline": False},
        "legend": FIXED_LEGEND,
    }  # fmt: skip
    layout |= _site_names(fleet, rows) if is_by_unit else {}
    waiting = [_waits(plan, place, fleet)] if is_by_unit and waits(plan) else []
    return {"data": [*waiting, *traces], "layout": layout}


def _rows(fleet: Fleet, found: Sequence[tuple[Due, Why]], is_by_unit: bool) -> list[str]:
    """Names of the rows: units in the order of the register by site, or sites in order of their names."""
    if not is_by_unit:
        return sorted({_site(fleet, due) for due, _ in found})
    places = sorted({due.place for due, _ in found}, key=lambda place: (fleet.units[place].site, place))
    return [fleet.units[place].name for place in places]


def _site_names(fleet: Fleet, rows: Sequence[str]) -> dict[str, Any]:
    """The name of each site at the right of its first unit's row, a line between sites."""
    sites = {unit.name: unit.site for unit in fleet.units}
    firsts = [row for row, name in enumerate(rows) if row == 0 or sites[name] != sites[rows[row - 1]]]
    place = {"xref": "paper", "xanchor": "right", "yanchor": "middle", "font": {"size": SMALL, "color": "#7A8C9F"}}
    names = [covering(sites[rows[row]], 1, row, **place) for row in firsts]
    lines = [
        {"type": "line", "xref": "paper", "x0": 0, "x1": 1, "y0": row - 0.5, "y1": row - 0.5, "line": {"width": 1}}
        for row in firsts[1:]
    ]
    return {"annotations": names, "shapes": lines}


def _site(fleet: Fleet, due: Due) -> str:
    """The site of a replacement."""
    return fleet.units[due.place].site or say(NO_SITE)


def _waits(plan: FleetPlan, place: dict[str, int], fleet: Fleet) -> dict[str, Any]:
    """A line from the year in which an engine was due to that in which it goes."""
    x, y = list[float | None](), list[float | None]()
    for wait in waits(plan):
        name = fleet.units[wait.first.place].name
        if wait.until is not None and name in place:
            x += [float(wait.first.year), float(wait.until), None]
            y += [float(place[name]), float(place[name]), None]
    return {"type": "scatter", "mode": "lines", "x": x, "y": y, "line": {"width": 2, "dash": "dot", "color": "#7A8C9F"},
            "hoverinfo": "skip", "showlegend": False}  # fmt: skip


def _marks_of_units(
    fleet: Fleet, found: Sequence[tuple[Due, Why]], at: Sequence[int], looks: dict[str, Look]
) -> list[dict[str, Any]]:
    """A trace for each kind, its marks in the colour of what is bought."""
    traces = []
    for why, symbol in SYMBOLS.items():
        chosen = [(due, row) for (due, kind), row in zip(found, at, strict=True) if kind is why]
        if not chosen:
            continue
        told = [[_told(fleet, due)] for due, _ in chosen]
        traces.append(
            {"type": "scatter", "mode": "markers", "name": say(KINDS[why]), "x": [due.year for due, _ in chosen],
             "y": [row for _, row in chosen], "customdata": told, "hovertemplate": "%{customdata[0]}<extra></extra>",
             "marker": {"symbol": symbol, "size": 15, "color": [looks[due.engine].colour for due, _ in chosen],
                        "line": {"width": 1, "color": QUIET["light"]}}}
        )  # fmt: skip
    return traces


def _told(fleet: Fleet, due: Due) -> str:
    """What a mark says: unit, year, engine that goes, engine that comes, why, what it costs."""
    changes = say("{gone} → {bought}", gone=due.gone, bought=due.engine)
    cost = say("{amount} {currency}, price and fit-up", amount=whole(due.capital), currency=fleet.file.currency)
    return f"{fleet.units[due.place].name}, {year_told(fleet, due.year)}<br>{changes}<br>{due.reason}<br>{cost}"


def _marks_of_sites(fleet: Fleet, found: Sequence[tuple[Due, Why]], at: Sequence[int]) -> list[dict[str, Any]]:
    """A trace for each kind: a mark with the number of units at each site and year."""
    traces = []
    counts = Counter((row, due.year, why) for (due, why), row in zip(found, at, strict=True))
    most = max(counts.values())
    for why, symbol in SYMBOLS.items():
        chosen = sorted((row, year, number) for (row, year, kind), number in counts.items() if kind is why)
        if not chosen:
            continue
        spent = Counter[tuple[int, int]]()
        for (due, kind), row in zip(found, at, strict=True):
            if kind is why:
                spent[row, due.year] += round(due.capital)
        told = [[_told_of_site(fleet, year, number, spent[row, year])] for row, year, number in chosen]
        traces.append(
            {"type": "scatter", "mode": "markers+text", "name": say(KINDS[why]),
             "x": [year + SIDES[why] for _, year, _ in chosen], "y": [row for row, _, _ in chosen],
             "text": [whole(number) for _, _, number in chosen], "textposition": "middle center",
             "textfont": {"size": 13, "color": "#FFFFFF"}, "customdata": told,
             "hovertemplate": "%{customdata[0]}<br>" + say(KINDS[why]) + "<extra></extra>",
             "marker": {"symbol": symbol, "color": "#43576B", "line": {"width": 1, "color": "#8E9DAD"},
                        "size": [20.0 + 22.0 * (number / most) ** 0.5 for _, _, number in chosen]}}
        )  # fmt: skip
    return traces


def _told_of_site(fleet: Fleet, year: int, number: int, spent: int) -> str:
    """What the mark of a site and year says."""
    return say(
        "{year}: {number} {number:unit|units}, {amount} {currency}, price and fit-up",
        year=year_told(fleet, year),
        number=whole(number),
        amount=whole(spent),
        currency=fleet.file.currency,
    )
