"""Repairs of one failure mode by the age of the engine: the log's steps, the law fitted to them, the file's own."""

from typing import Any

import numpy as np

from dashboard.theme import FIXED_LEGEND, Look, Picture
from model.fleet.logs_told import mode_against_file
from model.fleet.reading import Fleet
from model.fleet.repair_log import ModeFit
from model.inputs.terms import Clock
from model.language import dated, say
from model.wording import plain, whole

HEIGHT = 400
"""Height of the picture. [px]"""

POINTS = 61
"""Points of a law's line."""

QUIET = "#7A8C9F"
"""Of the file's own law: what is compared with, no technology's."""


def finding(one: ModeFit) -> str:
    """What the picture says: repairs seen and expected, and whether they grow with age."""
    return mode_against_file(one)


def picture(fleet: Fleet, one: ModeFit, look: Look, keys: list[str]) -> Picture:
    """
    Mean cumulative repairs of one engine by its age.

    Parameters
    ----------
    fleet : Fleet
    one : ModeFit
        With a repair at least.
    look : Look
        Of its engine.
    keys : list of str
        What each mark opens, in the order of the log by age.

    Returns
    -------
    Picture
        The log's steps, its marks, the fitted law where there is one, the file's law.
    """
    ages = np.linspace(0.0, one.watched_to, POINTS)
    laws = [(say("By the engine's file"), one.expected_by(ages, is_fitted=False), {"dash": "dot", "color": QUIET})]
    if one.fit is not None:
        fitted = {"dash": "dash", "color": look.colour}
        laws.insert(0, (say("Fitted to the log"), one.expected_by(ages, is_fitted=True), fitted))
    traces = [_steps(one, look), _marks(fleet, one, look, keys)]
    traces += [
        {"type": "scatter", "mode": "lines", "name": name, "x": ages.tolist(), "y": values.tolist(),
         "line": {"width": 2.5, **line}, "hoverinfo": "skip"}
        for name, values, line in laws
    ]  # fmt: skip
    unit = say("Meter hours of the engine, h") if one.clock is Clock.HOURS else say("Age of the engine, years")
    layout = {
        "height": HEIGHT,
        "hovermode": "closest",
        "xaxis": {
            "title": {"text": unit},
            "range": [0.0, one.watched_to * 1.02],
            "zeroline": False,
            "tickformat": ",d",
        },
        "yaxis": {"title": {"text": say("Repairs of an engine")}, "rangemode": "tozero"},
        "legend": FIXED_LEGEND,
    }
    return {"data": traces, "layout": layout}


def _steps(one: ModeFit, look: Look) -> dict[str, Any]:
    """The log's step curve, from new to the last age watched."""
    x, y = [0.0, *(age for age, _ in one.seen), one.watched_to], [0.0, *(mean for _, mean in one.seen), one.seen[-1][1]]
    return {"type": "scatter", "mode": "lines", "name": say("By the log"), "x": x, "y": y, "hoverinfo": "skip",
            "line": {"shape": "hv", "width": 3, "color": look.colour}}  # fmt: skip


def _marks(fleet: Fleet, one: ModeFit, look: Look, keys: list[str]) -> dict[str, Any]:
    """A mark for each repair, which opens its row of the log."""
    return {
        "type": "scatter", "mode": "markers", "name": say("A repair in the log"),
        "x": [age for age, _ in one.seen], "y": [mean for _, mean in one.seen],
        "customdata": [[told, key] for told, key in zip(_told(fleet, one), keys, strict=True)],
        "hovertemplate": "%{customdata[0]}<extra></extra>",
        "marker": {"symbol": look.marker, "size": 12, "color": look.colour, "line": {"width": 2, "color": "#FFFFFF"}},
    }  # fmt: skip


def _told(fleet: Fleet, one: ModeFit) -> list[str]:
    """What each mark says: unit, day, meter, cost, and the mean number of repairs by then."""
    told = []
    for repair, (_, mean) in zip(one.logged, one.seen, strict=True):
        words = say(
            "{unit}, {day}, {hours} h", unit=repair.unit, day=dated(repair.day), hours=whole(repair.meter_hours)
        )
        if repair.cost is not None:
            words = f"{words}, {whole(repair.cost)} {fleet.file.currency}"
        by_then = say("{number} {number:repair|repairs} of an engine by then", number=plain(round(mean, 2)))
        told.append(f"{words}<br>{by_then}")
    return told
