"""When a part that wears is better renewed ahead of its failure: age replacement.

Source: Barlow and Hunter, "Optimum preventive maintenance policies", Operations Research 8 (1960): renewed at age T or
at failure, whichever is first, a part of life F costs, in the long run and for each hour or year,
(planned (1 - F(T)) + failed F(T)) / (integral of 1 - F from 0 to T).
"""

from dataclasses import dataclass

import numpy as np

from model.inputs.terms import Clock

LATEST = 12.0
"""A best age beyond this many scales is no better than waiting for the failure. [scale]"""


@dataclass(frozen=True)
class PlannedRenewal:
    """The best age for renewing a part ahead of its failure."""

    clock: Clock
    """What the part ages by: meter hours or years."""
    age: float | None
    """The age; None where waiting for the failure costs least. [h or year]"""
    cost_rate: float
    """Cost for each hour or year in the long run. [money/h or money/year]"""
    cost_rate_waiting: float
    """The same when it is renewed only at failure. [money/h or money/year]"""


def best_planned_renewal(clock: Clock, scale: float, shape: float, planned: float, failed: float) -> PlannedRenewal:
    """
    The best age for renewing a part with a Weibull life ahead of its failure.

    Parameters
    ----------
    clock : Clock
        What the part ages by.
    scale : float
        Scale of the life. [h or year]
    shape : float
        Shape of the life. [-]
    planned, failed : float
        Cost of a renewal ahead of failure and after one, above 0. [money]

    Returns
    -------
    PlannedRenewal
        Root of: hazard(T) x (integral of 1 - F to T) - F(T) = planned / (failed - planned).
    """
    from scipy.optimize import brentq
    from scipy.special import gamma, gammainc

    mean = float(scale * gamma(1.0 + 1.0 / shape))
    waiting = failed / mean

    def lived(x: float) -> float:  # integral of 1 - F from 0 to x, in scales
        return float(gamma(1.0 + 1.0 / shape) * gammainc(1.0 / shape, x**shape))

    def condition(x: float) -> float:
        hazard = shape * x ** (shape - 1.0)
        return float(hazard * lived(x) + np.expm1(-(x**shape)) - planned / (failed - planned))

    if shape <= 1.0 or failed <= planned or condition(LATEST) <= 0.0:
        return PlannedRenewal(clock, None, waiting, waiting)
    x = float(brentq(condition, 1e-9, LATEST, xtol=1e-14, rtol=1e-14))
    kept = float(np.exp(-(x**shape)))
    rate = (planned * kept + failed * (1.0 - kept)) / (scale * lived(x))
    return PlannedRenewal(clock, x * scale, rate, waiting)
