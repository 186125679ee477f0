"""The break-even time of every trial, from costs at the ends of the years."""

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled

Amounts = NDArray[np.float64]


@compiled
def _pays_from(difference: Amounts, ends: Amounts, tiny: float) -> float:
    """The earliest time from which a difference at the ends of the years stays at or below zero; infinite for never."""
    last = difference.shape[0] - 1
    if difference[last] > tiny:
        return np.inf
    for place in range(last, 0, -1):
        above = difference[place - 1]
        if above > tiny:
            share = above / (above - min(difference[place], 0.0))
            return float(ends[place - 1] + share * (ends[place] - ends[place - 1]))
    return 0.0


@compiled
def _pay_back_times(delivery: float, by_year: Amounts, ends: Amounts, found: Amounts) -> None:
    """Fill in the times, from differences by year of shape (year, trial)."""
    difference = np.empty(ends.shape[0])
    for trial in range(found.shape[0]):
        difference[0] = delivery
        total, most = 0.0, abs(delivery)
        for year in range(by_year.shape[0]):
            total += by_year[year, trial]
            difference[year + 1] = total
            most = max(most, abs(total))
        found[trial] = _pays_from(difference, ends, 1e-9 * max(1.0, most))


def pay_back_times(delivery: float, by_year: Amounts, years: float) -> Amounts:
    """
    From when on a challenger stays at or below the baseline to the end, in money of the day, without resale.

    The rule of `break_even.pays_from`, on the cost at delivery and at the end of each year and straight lines between
    them: within a year all costs, dated events too, are taken to accrue evenly. What happens between the ends of two
    years is not seen: a time is right to the year, as long as the difference does not cross back within a later one.
    Whether a trial pays back at all is exact.

    Parameters
    ----------
    delivery : float
        Challenger less baseline on the delivery day. [money]
    by_year : ndarray, shape (year, trial)
        Challenger less baseline in each year, the first with the delivery day. [money]
    years : float
        Ownership period. [year]

    Returns
    -------
    ndarray, shape (trial,)
        0 from the start, infinite for never within the period. [year]
    """
    ends = np.append(np.arange(by_year.shape[0], dtype=float), years)
    found = np.empty(by_year.shape[1])
    _pay_back_times(delivery, np.ascontiguousarray(by_year), ends, found)
    return found
