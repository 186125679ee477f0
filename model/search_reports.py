"""Flip points and sensitivity as plain data for JSON and CSV, and as sentences."""

from collections.abc import Sequence
from typing import Any

from model import wording_of_trials
from model.inputs.scenario import Scenario
from model.language import later, say
from model.uncertainty.flip_points import FlipPoint
from model.uncertainty.sensitivity import InputSensitivity, Sensitivity
from model.uncertainty.streams import Input, Source

FLIP_COLUMNS = ("input", "today", "value", "cheapest_now", "cheapest_beyond", "sentence")
"""Columns of flip points in CSV."""

INPUT_COLUMNS = (
    "input", "low", "high", "difference_low", "difference_high", "swing", "first_order", "first_order_standard_error",
    "total", "total_standard_error",
)  # fmt: skip
"""Columns of a sensitivity in CSV."""

NAMES = {
    Source.HOURS: later("hours a year"),
    Source.FUEL_PRICE: later("fuel price"),
    Source.PARTS: later("level of parts prices"),
    Source.LABOUR: later("level of labour prices"),
    Source.FUEL_BURN: later("fuel burn"),
    Source.RESALE: later("value at sale"),
    Source.FAILURES: later("failures"),
}
"""What the uncertain inputs are called."""


def flip_rows(flips: Sequence[FlipPoint]) -> list[dict[str, Any]]:
    """Flip points."""
    return [
        {
            "input": flip.input.name,
            "today": flip.input.today,
            "value": flip.value,
            "cheapest_now": flip.cheapest_now,
            "cheapest_beyond": flip.cheapest_beyond,
            "sentence": sentence(flip),
        }
        for flip in flips
    ]


def sentence(flip: FlipPoint) -> str:
    """A flip point in a sentence."""
    one, engines = flip.input, (flip.cheapest_now, flip.cheapest_beyond)
    return wording_of_trials.flip(engines, one.name, one.unit, (one.today, flip.value), one.span)


def name_of(one: Input) -> str:
    """What an uncertain input is called: its source, and its engine where it belongs to one."""
    name = say(NAMES[one[0]])
    return say("{input} of {engine}", input=name, engine=one[1]) if one[1] else name


def input_row(one: InputSensitivity) -> dict[str, Any]:
    """One uncertain input."""
    return {
        "input": name_of(one.input),
        "low": one.swing.low,
        "high": one.swing.high,
        "difference_low": one.swing.at_low,
        "difference_high": one.swing.at_high,
        "swing": one.swing.width,
        "first_order": one.first_order.value,
        "first_order_standard_error": one.first_order.standard_error,
        "total": one.total.value,
        "total_standard_error": one.total.standard_error,
    }


def sensitivity_report(scenario: Scenario, found: Sensitivity | None, seed: int) -> dict[str, Any]:
    """What the uncertain inputs do to the difference between two engines."""
    if found is None:
        return {"scenario": scenario.title, "seed": seed, "difference": None, "inputs": []}
    difference = {
        "baseline": found.baseline,
        "challenger": found.challenger,
        "mean": found.difference.value,
        "standard_error": found.difference.standard_error,
        "standard_deviation": found.standard_deviation,
    }
    return {
        "scenario": scenario.title,
        "seed": seed,
        "difference": difference,
        "inputs": [input_row(one) for one in found.inputs],
    }
