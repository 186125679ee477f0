"""How the boat is run, as three shares of the time: slow, at middle speed, near full throttle."""

from collections.abc import Sequence
from typing import Any

from model.elements.fuel import running_bands
from model.inputs.scenario import Scenario

Bands = Sequence[tuple[float, float]]
"""Fraction of rated speed and share of running time. [-, -]"""

EDGES = (0.35, 0.8)
"""Below the first a band is slow, from the second on it is near full throttle. [-]"""

STAND_INS = (0.15, 0.6, 0.95)
"""A band of each kind where the boat had none. [-]"""


def kind_of(speed: float) -> int:
    """
    Slow, middle or near full throttle: 0, 1, 2.

    >>> [kind_of(speed) for speed in (0.12, 0.35, 0.8)]
    [0, 1, 2]
    """
    return sum(speed >= edge - 1e-9 for edge in EDGES)


def shares_of(bands: Bands) -> tuple[float, float, float]:
    """
    Share of the time of each kind.

    Parameters
    ----------
    bands : sequence of (float, float)

    Returns
    -------
    tuple of float
        Slow, middle, near full throttle; they add to 1. [-]
    """
    slow, middle, fast = (sum(share for speed, share in bands if kind_of(speed) == kind) for kind in range(3))
    return slow, middle, fast


def marks_of(scenario: Scenario) -> tuple[int, int]:
    """Where the two marks on the scale of time stand: after the slow part, and after the middle one. [%]"""
    slow, middle, _ = shares_of(running_bands(scenario.use))
    return round(100.0 * slow), round(100.0 * (slow + middle))


def with_marks(scenario: Scenario, marks: tuple[int, int]) -> list[dict[str, Any]]:
    """
    The running bands with other shares of the three kinds; within a kind they keep their proportions.

    Parameters
    ----------
    scenario : Scenario
        Whose bands they are.
    marks : (int, int)
        As from `marks_of`. [%]

    Returns
    -------
    list of dict
        Bands for `use.band`, their shares adding to 1.
    """
    bands = running_bands(scenario.use)
    now, top = shares_of(bands), min(engine.fuel.top_speed for engine in scenario.engines)
    wanted = (marks[0] / 100.0, (marks[1] - marks[0]) / 100.0, 1.0 - marks[1] / 100.0)
    found = [
        (speed, share * wanted[kind_of(speed)] / now[kind_of(speed)]) for speed, share in bands if now[kind_of(speed)]
    ]
    found += [(min(STAND_INS[kind], top), wanted[kind]) for kind in range(3) if not now[kind]]
    kept = [(speed, round(share, 6)) for speed, share in sorted(found) if share > 0.0]
    rest = 1.0 - sum(share for _, share in kept)
    largest = max(range(len(kept)), key=lambda place: kept[place][1])
    return [
        {"speed": speed, "share": round(share + (rest if place == largest else 0.0), 6)}
        for place, (speed, share) in enumerate(kept)
    ]
