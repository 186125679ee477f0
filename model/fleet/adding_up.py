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

Sums = tuple[Amounts, tuple[Amounts, Amounts], Amounts]
"""Over the rows, shape (element, year); of every row, its site's and its technology's, both of shape (row, year); of
every row by element that differs between them, shape (row, year, varying element). All are added to. [money]"""

ROWS = 2048
"""Rows that are lived through together: enough to share the calls, few enough for their cash to stay in a cache."""


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
    sums : Sums
    """
    (over_rows, (of_site, of_technology), varying), (rows, years) = sums, lives.hours.shape
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
        totals = (of_site[first:behind], of_technology[first:behind])
        add_up(cash, terms.fixed, begin, (over_rows, totals, varying[first:behind]))


@compiled
def add_up(cash: Amounts, fixed: Amounts, begin: int, sums: Sums) -> None:
    """
    Add the cash of one stay to sums over the rows, to totals of each row, and to each row's elements.

    Parameters
    ----------
    cash : ndarray, shape (row, year of the stay, varying element)
        Written over. [money]
    fixed : ndarray, shape (element, year of the stay)
        The same in all rows. [money]
    begin : int
        Budget year of the stay's first.
    sums : Sums
    """
    over_rows, (of_site, of_technology), varying = sums
    rows, years, elements = cash.shape
    same, alike, of_cash = np.zeros(years), fixed[FUEL:].T.copy().ravel(), np.zeros(years * elements)
    for year in range(years):
        for element in range(fixed.shape[0]):
            over_rows[element, begin + year] += rows * fixed[element, year]
            same[year] += fixed[element, year] if element < FUEL else 0.0
    # Years and elements in one, so that a processor takes several together.
    flat, flat_varying, first = cash.reshape((rows, -1)), varying.reshape((rows, -1)), np.uint64(begin * elements)
    for row in range(rows):
        for place in range(of_cash.size):
            of_cash[place] += flat[row, place]
            flat[row, place] += alike[place]
        for place in range(of_cash.size):  # an index that has no sign needs no look whether it counts from the end
            flat_varying[row, first + np.uint64(place)] += flat[row, place]
        for year in range(years):
            total = same[year]
            for element in range(elements):
                total += cash[row, year, element]
            of_site[row, begin + year] += total
            of_technology[row, begin + year] += total
    for year in range(years):
        for element in range(elements):
            over_rows[FUEL + element, begin + year] += of_cash[year * elements + element]
