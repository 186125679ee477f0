"""Fuel flow of an engine over its speed, as it is measured or estimated, beside the time run in each band."""

from dataclasses import dataclass

import numpy as np

from model.elements import fuel
from model.inputs.engine import Engine
from model.inputs.owner import UsePattern

ESTIMATED_SPEEDS = 45
"""Points of an estimated curve."""


@dataclass(frozen=True)
class FlowCurve:
    """Fuel flow of one engine over its speed."""

    speeds: tuple[float, ...]
    """Fractions of rated speed, rising from idle. [-]"""
    flows: tuple[float, ...]
    """Flow at them. [L/h]"""
    is_estimated: bool
    """Whether the flow is an estimate."""

    @property
    def idle(self) -> tuple[float, float]:
        """The idle point: fraction of rated speed and flow. [-, L/h]"""
        return self.speeds[0], self.flows[0]


def flow_curve(engine: Engine) -> FlowCurve:
    """
    Fuel flow of an engine over its speed.

    Parameters
    ----------
    engine : Engine

    Returns
    -------
    FlowCurve
        The measured points, straight between them; an estimate at even steps from idle to rated speed.
    """
    if fuel.is_estimated(engine):
        speeds = np.linspace(fuel.IDLE_SPEED, 1.0, ESTIMATED_SPEEDS).tolist()
        return FlowCurve(tuple(speeds), tuple(fuel.flow_at(engine, speeds)), True)
    points = engine.fuel.litres_an_hour_points()
    speeds, flows = zip(*points, strict=True)
    return FlowCurve(tuple(speeds), tuple(flows), False)


@dataclass(frozen=True)
class Band:
    """One running band, and what an engine burns in it."""

    speed: float
    """Fraction of rated speed; 0 for idle. [-]"""
    time: float
    """Share of the running time. [-]"""
    litres: float
    """Fuel burned in it in a mean running hour of one engine. [L/h]"""


def bands_of(engine: Engine, use: UsePattern) -> tuple[Band, ...]:
    """
    Time and fuel of an engine in each running band.

    Parameters
    ----------
    engine : Engine
    use : UsePattern

    Returns
    -------
    tuple of Band
        In order of speed; times sum to 1, litres to the fuel of a mean running hour.
    """
    together = zip(fuel.running_bands(use), fuel.band_litres(engine, use), strict=True)
    return tuple(sorted((Band(speed, time, litres) for (speed, time), (_, litres) in together), key=_speed_of))


def _speed_of(band: Band) -> float:
    """By which bands are ordered."""
    return band.speed
