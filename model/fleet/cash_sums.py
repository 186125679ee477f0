"""Cash summed over the units of a group: by site and technology, and by what differs between trials."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from model.fleet.adding_up import StayTerms, add_up, live_and_add_up
from model.fleet.cash import ELEMENTS, RESALE
from model.fleet.stays import Stay
from model.uncertainty.drawing import Arrivals
from model.uncertainty.outcomes import FUEL, VARYING, Lives

Amounts = NDArray[np.float64]

Part = tuple[str, str]
"""Site and technology."""


@dataclass
class CashSums:
    """Cash of the units added so far, in so many rows of hours over so many budget years."""

    rows: int
    """Rows of hours: trials."""
    horizon: int
    """Budget years."""
    by_part: dict[Part, Amounts] = field(default_factory=dict)
    """Sums over the rows by site and technology, each of shape (element, year). [money]"""
    totals_by_part: dict[Part, Amounts] = field(default_factory=dict)
    """Of every row, by site and technology, each of shape (row, year). [money]"""
    varying: Amounts = field(init=False)
    """Of every row, by element that differs between them, shape (row, year, varying element). [money]"""

    def __post_init__(self) -> None:
        """Begin with nothing."""
        self.varying = np.zeros((self.rows, self.horizon, len(VARYING)))

    def add(self, part: Part, cash: Amounts) -> None:
        """Add cash of all rows over all budget years, shape (element, row, year). [money]"""
        sums, totals = self._of(part)
        sums += cash.sum(axis=1)
        totals += cash.sum(axis=0)
        self.varying += np.moveaxis(cash[FUEL:], 0, -1)

    def add_stay(self, part: Part, stay: Stay, first: int, cash: tuple[Amounts, Amounts]) -> None:
        """
        Add one stay in some rows, its value at the end apart.

        Parameters
        ----------
        part : (str, str)
        stay : Stay
        first : int
            The first of the rows.
        cash : (ndarray, ndarray)
            What differs between the rows, shape (row, year of the stay, varying element), and what all of them have,
            shape (element, year of the stay). [money]
        """
        sums, totals = self._of(part)
        rows = slice(first, first + cash[0].shape[0])
        add_up(cash[0], cash[1], stay.begin, (sums, totals[rows], self.varying[rows]))

    def live_stay(self, part: Part, stay: Stay, first: int, lived: tuple[Lives, StayTerms, Arrivals]) -> None:
        """
        Live through one stay with drawn failures in some rows and add it, its value at the end apart.

        Parameters
        ----------
        part : (str, str)
        stay : Stay
        first : int
            The first of the rows.
        lived : (Lives, StayTerms, Arrivals)
            What the rows live through, the engine, and its failure streams.
        """
        sums, totals = self._of(part)
        rows = slice(first, first + lived[0].hours.shape[0])
        live_and_add_up(*lived, stay.begin, (sums, totals[rows], self.varying[rows]))

    def add_resale(self, part: Part, year: int, first: int, got: Amounts) -> None:
        """Add what is got for engines in a budget year, a receipt in rows from the first on, shape (row,). [money]"""
        sums, totals = self._of(part)
        rows = slice(first, first + got.size)
        totals[rows, year] += got
        self.varying[rows, year, RESALE - FUEL] += got
        sums[RESALE, year] += got.sum()

    def _of(self, part: Part) -> tuple[Amounts, Amounts]:
        """Sums and totals of a site and technology."""
        if part not in self.by_part:
            self.by_part[part] = np.zeros((len(ELEMENTS), self.horizon))
            self.totals_by_part[part] = np.zeros((self.rows, self.horizon))
        return self.by_part[part], self.totals_by_part[part]
