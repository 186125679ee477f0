"""A tiny comparison of two engines with round numbers, any table of which a test may replace."""

from datetime import date
from typing import Any

import numpy as np

from model.inputs.scenario import Scenario
from model.measures import EngineCost, compare

BANDS = [{"speed": 0.1, "share": 0.5}, {"speed": 1.0, "share": 0.5}]
"""Half the time at idle, half at full throttle."""

TWO_STROKE: dict[str, Any] = {
    "name": "Two-stroke",
    "technology": "two-stroke carburetted",
    "rated_power": 30.0,
    "price": 5000.0,
    "fit_up": 500.0,
    "fuel": {"points": [[0.1, 1.0], [1.0, 19.0]]},  # 10 L/h over the bands
    "oil": {"ratio": 50.0},
    "service": {
        "every": {"hours": 100.0, "months": 12.0},
        "task": [
            {
                "name": "Plugs",
                "every": {"hours": 100.0, "months": 12.0},
                "labour": 1.0,
                "parts": [{"name": "Plug", "quantity": 3.0, "price": 10.0}],
            }
        ],
    },
    "repair": [
        {"name": "Fuel system", "clock": "hours", "scale": 1000.0, "shape": 1.0, "parts_price": 400.0, "labour": 2.0}
    ],
    "warranty": {"months": 24.0},
    "resale": {"yearly_decline": 0.2},
}

FOUR_STROKE: dict[str, Any] = {
    **TWO_STROKE,
    "name": "Four-stroke",
    "technology": "four-stroke injected",
    "price": 6000.0,
    "fuel": {"points": [[0.1, 0.5], [1.0, 13.5]]},  # 7 L/h over the bands
    "oil": None,
    "warranty": {"months": 36.0},
}

OWNER: dict[str, Any] = {
    "title": "Tiny",
    "note": "Invented.",
    "ownership": {"years": 4.0, "delivery": date(2027, 1, 1)},
    "use": {"hours_per_year": 100.0, "band": BANDS},
    "prices": {"fuel": 2.0, "two_stroke_oil": 10.0, "labour": 100.0},
    "money": {},
}


def two_engines(two: dict[str, Any] | None = None, four: dict[str, Any] | None = None, **tables: Any) -> Scenario:
    """
    The two-stroke and the four-stroke at delivery-day prices, without growth or discount unless a table says so.

    `two` and `four` replace whole tables of the engines (None leaves one out); a table of the owner is merged by key,
    one of its keys set to None left out.
    """
    return _scenario([_replaced(TWO_STROKE, two), _replaced(FOUR_STROKE, four)], tables)


def content_of_two_engines(**tables: Any) -> dict[str, Any]:
    """The same as a file holds it, tables as for `two_engines`."""
    return _content([_replaced(TWO_STROKE, None), _replaced(FOUR_STROKE, None)], tables)


def one_engine(engine: dict[str, Any] | None = None, **tables: Any) -> Scenario:
    """
    A single bare engine of 10000 that costs nothing else, with whole tables added or replaced.

    Only what a test adds costs anything beside the price, and fuel.
    """
    bare = {**FOUR_STROKE, "name": "Engine", "price": 10000.0, "fit_up": None, "service": None, "repair": None}
    return _scenario([_replaced({**bare, "warranty": None, "resale": None}, engine)], tables)


def cost_of_one(engine: dict[str, Any] | None = None, **tables: Any) -> EngineCost:
    """What that single engine costs; tables as for `one_engine`."""
    return compare(one_engine(engine, **tables)).engines[0]


def hours_of(scenario: Scenario) -> np.ndarray:
    """Stated hours of each begun year, shape (year,). [h/year]"""
    return np.array(scenario.hours())


def _replaced(engine: dict[str, Any], changes: dict[str, Any] | None) -> dict[str, Any]:
    """An engine with whole tables replaced, those set to None left out."""
    return {key: value for key, value in {**engine, **(changes or {})}.items() if value is not None}


def _scenario(engines: list[dict[str, Any]], tables: dict[str, Any]) -> Scenario:
    """A scenario of these engines, the owner's tables merged by key."""
    return Scenario.model_validate(_content(engines, tables))


def _content(engines: list[dict[str, Any]], tables: dict[str, Any]) -> dict[str, Any]:
    """What a file of that scenario holds."""
    content: dict[str, Any] = {**OWNER, "engines": engines}
    for key, value in tables.items():
        merged = {**content.get(key, {}), **value} if isinstance(value, dict) else value
        content[key] = (
            {name: part for name, part in merged.items() if part is not None} if isinstance(merged, dict) else merged
        )
    return content
