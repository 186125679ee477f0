"""Cash of one stay added up in one pass; imports no words, since compiled code depends on all that it imports."""

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.uncertainty.outcomes import FUEL

Amounts = NDArray[np.float64]


@compiled
def add_up(cash: Amounts, fixed: Amounts, begin: int, sums: tuple[Amounts, Amounts, Amounts]) -> None:
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
