"""Two-stroke oil burned with the fuel."""

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.engine import OilUse


def oil_litres_an_hour(oil: OilUse | None, band_litres: Sequence[tuple[float, float]]) -> float:
    """
    Mean oil of a running hour of one engine, run in: each band's fuel over that band's ratio (50:1 means fuel / 50).

    Parameters
    ----------
    oil : OilUse or None
        None burns none.
    band_litres : sequence of (float, float)
        Fraction of rated speed and fuel of the band in a mean hour. [-, L/h]

    Returns
    -------
    float
        Oil. [L/h]
    """
    if oil is None:
        return 0.0
    if oil.ratio is not None:
        return sum(litres for _, litres in band_litres) / oil.ratio
    points = np.array(oil.points)
    return sum(litres / float(np.interp(speed, points[:, 0], points[:, 1])) for speed, litres in band_litres)


def oil_hours(meter: NDArray[np.float64], oil: OilUse | None) -> NDArray[np.float64]:
    """
    Running hours weighted by the break-in factor: what the oil of an hour is multiplied by, year by year.

    Parameters
    ----------
    meter : ndarray, shape (..., year + 1)
        Meter hours at the start of each year and at the sale. [h]
    oil : OilUse or None

    Returns
    -------
    ndarray, shape (..., year)
        Hours run, those of the break-in times its factor. [h]
    """
    return np.asarray(_weighted_hours(meter[..., :-1], meter[..., 1:], *break_in_of(oil)))


def break_in_of(oil: OilUse | None) -> tuple[float, float]:
    """Hours that the break-in takes and its factor; none: 0 h at factor 1. [h, -]"""
    return (0.0, 1.0) if oil is None or oil.break_in is None else (oil.break_in.hours, oil.break_in.factor)


def _weighted_hours(begin: Any, end: Any, hours: float, factor: float) -> Any:
    """Hours between two meter readings, those within the break-in times its factor. [h]"""
    return (end - begin) + (factor - 1.0) * (np.minimum(end, hours) - np.minimum(begin, hours))


weighted_hours: Callable[[float, float, float, float], float] = compiled(_weighted_hours)
"""The same for single readings in compiled sums: hours between two meter readings, break-in hours, factor. [h]"""
