"""Two-stroke oil burned with the fuel."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

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
    hours = np.diff(meter, axis=-1)
    if oil is None or oil.break_in is None:
        return hours
    running_in = np.diff(np.minimum(meter, oil.break_in.hours), axis=-1)
    return np.asarray(hours + (oil.break_in.factor - 1.0) * running_in)
