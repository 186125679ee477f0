"""What a running hour costs, year by year: fuel, two-stroke oil and top-ups flow with the hours."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.case import Case

Amounts = NDArray[np.float64]


class RunningRates(NamedTuple):
    """Cost of a running hour of all engines on the boat; each of shape (2, year): money of the day, present value."""

    fuel: Amounts
    """At stated price and burn. [money/h]"""
    oil: Amounts
    """Two-stroke oil, run in. [money/h]"""
    top_up: Amounts
    """Crankcase oil added between changes. [money/h]"""


def running_rates(case: Case) -> RunningRates:
    """
    What a running hour costs in each year, booked at the year's flow time.

    Parameters
    ----------
    case : Case

    Returns
    -------
    RunningRates
    """
    prices, growth = case.scenario.prices, case.rules.growth
    top_up = case.plan.top_up if case.plan else None
    topped = top_up.litres_per_100_hours / 100.0 * top_up.price if top_up else 0.0

    def by_year(price: float, rate: float) -> Amounts:
        nominal = case.count * price * case.rules.at_flow_times(rate)
        return np.array([nominal, nominal * case.rules.flow_discount])

    return RunningRates(
        fuel=by_year(case.litres_an_hour * prices.fuel, growth.fuel),
        oil=by_year(case.oil_litres_an_hour * (prices.two_stroke_oil or 0.0), growth.two_stroke_oil),
        top_up=by_year(topped, growth.parts),
    )
