"""Cash of one stay lived and added up; imports no words, since compiled code depends on all that it imports."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking
from model.compiling import compiled
from model.uncertainty.calendars import Calendars
from model.uncertainty.drawing import Arrivals, FailureTerms
from model.uncertainty.failures import add_failures
from model.uncertainty.outcomes import FUEL, Lives, RunningTerms, add_running, outcome_in_cash, outcome_of_first
from model.uncertainty.visits import add_service

Amounts = NDArray[np.float64]

Sums = tuple[Amounts, Amounts, Amounts]
"""Of shapes (element, year), (row, year) and (row, year, varying element); added to. [money]"""

ROWS = 512
"""Rows that are lived through together: few enough for their cash to stay near the processor until it is added up."""


class StayTerms(NamedTuple):
    """One engine made ready: what happens to it in a stay, and what all rows have."""

    calendar: Calendars
    """Its service plan and its owner's tasks."""
    booking: Booking
    """How dated events are booked."""
    running: RunningTerms
    """What flows through the years."""
    failures: FailureTerms
    """Failure modes and what a repair costs."""
    fixed: Amounts
    """Purchase, fit-up, finance and extension, shape (element, year of the stay). [money]"""


@compiled
def live_and_add_up(lives: Lives, terms: StayTerms, drawn: Arrivals, begin: int, sums: Sums) -> None:
    """
    Live through one stay, its value at the end apart, and add its cash to sums.

    Parameters
    ----------
    lives : Lives
    terms : StayTerms
    drawn : Arrivals
    begin : int
        Budget year of the stay's first.
    sums : (ndarray, ndarray, ndarray)
        Of shapes (element, year), (row, year) and (row, year, varying element); added to. [money]
    """
    (over_rows, totals, varying), (rows, years) = sums, lives.hours.shape
    room = np.empty((min(rows, ROWS), years, varying.shape[2]))
    for first in range(0, rows, ROWS):
        behind = min(first + ROWS, rows)
        cash, prices = room[: behind - first], lives.prices[:, first:behind].copy()
        some = Lives(lives.hours[first:behind], lives.fuel[first:behind], prices, lives.burn[first:behind])
        cash[:] = 0.0
        outcome = outcome_in_cash(cash)
        one = outcome_of_first(outcome)
        add_service(some, terms.calendar, terms.booking, outcome)
        add_running(some, terms.running, one)
        add_failures(some, terms.failures, terms.booking, Arrivals(drawn.keys, drawn.first + first), one)
        add_up(cash, terms.fixed, begin, (over_rows, totals[first:behind], varying[first:behind]))


@compiled
def add_up(cash: Amounts, fixed: Amounts, begin: int, sums: Sums) -> None:
    """
    Add the cash of one stay to sums over the rows, to totals of each row, and to each row's elements.

    Parameters
    ----------
    cash : ndarray, shape (row, year of the stay, varying element)
        [money]
    fixed : ndarray, shape (element, year of the stay)
        The same in all rows. [money]
    begin : int
        Budget year of the stay's first.
    sums : (ndarray, ndarray, ndarray)
        Of shapes (element, year), (row, year) and (row, year, varying element); added to. [money]
    """
    over_rows, totals, varying = sums
    rows, years, elements = cash.shape
    same = np.zeros(years)
    for year in range(years):
        for element in range(fixed.shape[0]):
            over_rows[element, begin + year] += rows * fixed[element, year]
            same[year] += fixed[element, year] if element < FUEL else 0.0
    of_elements = np.zeros((years, elements))
    for row in range(rows):
        for year in range(years):
            total = same[year]
            for element in range(elements):
                amount = cash[row, year, element]
                of_elements[year, element] += amount
                amount += fixed[FUEL + element, year]
                varying[row, begin + year, element] += amount
                total += amount
            totals[row, begin + year] += total
    for year in range(years):
        for element in range(elements):
            over_rows[FUEL + element, begin + year] += of_elements[year, element]
