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
    totals_by_site: dict[str, Amounts] = field(default_factory=dict)
    """Of every row, by site, each of shape (row, year). [money]"""
    totals_by_technology: dict[str, Amounts] = field(default_factory=dict)
    """Of every row, by technology, each of shape (row, year). [money]"""
    varying: Amounts = field(init=False)
    """Of every row, by element that differs between them, shape (row, year, varying element). [money]"""

    def __post_init__(self) -> None:
        """Begin with nothing."""
        self.varying = np.zeros((self.rows, self.horizon, len(VARYING)))

    def add(self, part: Part, cash: Amounts) -> None:
        """Add cash of all rows over all budget years, shape (element, row, year). [money]"""
        (sums, totals), of_all = self._of(part), cash.sum(axis=0)
        sums += cash.sum(axis=1)
        for of_name in totals:
            of_name += of_all
        self.varying += np.moveaxis(cash[FUEL:], 0, -1)

    def add_stay(self, part: Part, stay: Stay, cash: tuple[Amounts, Amounts]) -> None:
        """
        Add one stay, its value at the end apart.

        Parameters
        ----------
        part : (str, str)
        stay : Stay
        cash : (ndarray, ndarray)
            What differs between the rows, shape (row, year of the stay, varying element), and what all of them have,
            shape (element, year of the stay). [money]
        """
        add_up(cash[0], cash[1], stay.begin, (*self._of(part), self.varying))

    def live_stay(self, part: Part, stay: Stay, lived: tuple[Lives, StayTerms, Arrivals]) -> None:
        """
        Live through one stay with drawn failures and add it, its value at the end apart.

        Parameters
        ----------
        part : (str, str)
        stay : Stay
        lived : (Lives, StayTerms, Arrivals)
            What the rows live through, the engine, and its failure streams.
        """
        live_and_add_up(*lived, stay.begin, (*self._of(part), self.varying))

    def add_resale(self, part: Part, year: int, got: Amounts) -> None:
        """Add what is got for engines in a budget year, a receipt in every row, shape (row,). [money]"""
        sums, totals = self._of(part)
        for of_name in totals:
            of_name[:, year] += got
        self.varying[:, year, RESALE - FUEL] += got
        sums[RESALE, year] += got.sum()

    def _of(self, part: Part) -> tuple[Amounts, tuple[Amounts, Amounts]]:
        """Sums of a site and technology, and the totals of both."""
        if part not in self.by_part:
            self.by_part[part] = np.zeros((len(ELEMENTS), self.horizon))
        return self.by_part[part], (
            self._total(self.totals_by_site, part[0]),
            self._total(self.totals_by_technology, part[1]),
        )

    def _total(self, totals: dict[str, Amounts], name: str) -> Amounts:
        """The totals of a site or technology."""
        if name not in totals:
            totals[name] = np.zeros((self.rows, self.horizon))
        return totals[name]
