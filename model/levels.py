"""Levels that prices and burn of single rows have on top of what the scenario states."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Levels:
    """What prices and burn are multiplied by on top of their stated growth; 1 is as stated. Each broadcasts."""

    fuel: ArrayLike = 1.0
    """Fuel price, shape (..., year). [-]"""
    parts: ArrayLike = 1.0
    """Prices of parts, shape (...). [-]"""
    labour: ArrayLike = 1.0
    """Price of labour, shape (...). [-]"""
    fuel_burn: ArrayLike = 1.0
    """Fuel burn of this engine, shape (...). [-]"""
    resale: ArrayLike = 1.0
    """Value of this engine at sale, shape (...). [-]"""

    def first(self, rows: int) -> "Levels":
        """Levels of the first rows only, where there is a level for each."""

        def cut(level: ArrayLike) -> ArrayLike:
            return level if np.ndim(level) == 0 else np.asarray(level)[:rows]

        return Levels(*(cut(level) for level in (self.fuel, self.parts, self.labour, self.fuel_burn, self.resale)))

    @staticmethod
    def joined(parts: "Sequence[Levels]") -> "Levels":
        """Levels of rows behind one another, from those of some rows each that state the same of them."""

        def join(levels: Sequence[ArrayLike]) -> ArrayLike:
            return levels[0] if np.ndim(levels[0]) == 0 else np.concatenate([np.asarray(level) for level in levels])

        rows = [(part.fuel, part.parts, part.labour, part.fuel_burn, part.resale) for part in parts]
        return Levels(*(join(levels) for levels in zip(*rows, strict=True)))

    def by_row(self, shape: tuple[int, ...]) -> Amounts:
        """
        Levels of parts and labour prices for each row of hours.

        Parameters
        ----------
        shape : tuple of int
            Shape of the hours without the year, (...).

        Returns
        -------
        ndarray, shape (2, path)
            Parts and labour, the rows flattened. [-]
        """
        both = [
            np.broadcast_to(np.asarray(level, dtype=float), shape).reshape(-1) for level in (self.parts, self.labour)
        ]
        return np.array(both)


AS_STATED = Levels()
"""Prices and burn as the scenario states them."""
