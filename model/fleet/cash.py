"""What a stay comes to by budget year and element, in cash and nominal money, and in present value.

What is got for an engine at its replacement stands in the year in which the next one is bought; what it is worth at the
horizon is no cash and stands in no budget, but counts when plans are compared.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model import money
from model.case import Case, money_rules
from model.elements import capital
from model.fleet.fleet_file import FleetFile
from model.fleet.register import Unit
from model.fleet.stays import Stay, case_of, hours_of, lasting, levels_of
from model.inputs.terms import Element
from model.levels import AS_STATED, Levels
from model.measures import total_by_year
from model.ownership import Ownership, own, resale_value

Amounts = NDArray[np.float64]

ELEMENTS = tuple(Element)
"""Order of the elements in arrays."""

RESALE = ELEMENTS.index(Element.RESALE)
"""Place of resale among them."""

Schedule = tuple[Stay, ...]
"""The stays of one unit, one behind the other from the first budget year to the horizon."""


class Cases:
    """Cases made ready once: a new engine's is the same for every unit with as many of them, whenever it goes."""

    def __init__(self, file: FleetFile) -> None:
        """Remember the file; nothing is made ready before it is asked for."""
        self.file = file
        self._new: dict[tuple[str, int, int, int, bool], Case] = {}
        self._bought: dict[tuple[str, int, int], Case] = {}
        self._held: tuple[Unit | None, dict[tuple[int, bool], Case]] = (None, {})

    def of(self, unit: Unit, stay: Stay) -> Case:
        """The case of a stay."""
        if stay.is_held:
            return self._of_held(unit, stay)
        key = (stay.engine, stay.begin, stay.years, unit.count, stay.goes_on)
        if key not in self._new:
            bought = (stay.engine, stay.begin, unit.count)
            first = self._bought.get(bought)
            if first is None:
                first = self._bought[bought] = case_of(self.file, unit, stay)
            self._new[key] = lasting(first, stay)
        return self._new[key]

    def _of_held(self, unit: Unit, stay: Stay) -> Case:
        """The case of an engine that is there already; those of the last unit asked for are kept."""
        held = self._held  # another thread may put its own unit's in the place meanwhile
        if held[0] != unit:
            held = self._held = (unit, {})
        known, key = held[1], (stay.years, stay.goes_on)
        if key not in known:
            first = next(iter(known.values()), None)
            known[key] = case_of(self.file, unit, stay) if first is None else lasting(first, stay)
        return known[key]


@dataclass(frozen=True)
class Rows:
    """Hours of one unit over the horizon, and the levels of prices that they meet."""

    hours: Amounts
    """Hours of each budget year, shape (..., year). [h/year]"""
    levels: Levels = AS_STATED
    """Levels of prices, fuel of shape (..., year)."""


def stated_rows(unit: Unit, horizon: int) -> Rows:
    """The unit's mean hours in every budget year, shape (year,). [h/year]"""
    return Rows(np.full(horizon, unit.hours_per_year))


def owned(cases: Cases, unit: Unit, stay: Stay, rows: Rows) -> Ownership:
    """
    The ownership of a stay.

    Parameters
    ----------
    cases : Cases
    unit : Unit
    stay : Stay
    rows : Rows

    Returns
    -------
    Ownership
        Amounts of shape (..., year of the stay).
    """
    return own(cases.of(unit, stay), hours_of(rows.hours, stay), levels_of(cases.file, stay, rows.levels))


def cash_by_year(ownership: Ownership, stay: Stay, horizon: int) -> Amounts:
    """
    Cash of a stay by element and budget year.

    Parameters
    ----------
    ownership : Ownership
        From `owned`.
    stay : Stay
    horizon : int
        Budget years. [year]

    Returns
    -------
    ndarray, shape (element, ..., year)
        Nominal; resale in the year of the replacement, none at the horizon. [money]
    """
    by_element = np.array([ownership.elements[element].nominal for element in ELEMENTS])
    cash = np.zeros((*by_element.shape[:-1], horizon))
    cash[..., stay.begin : stay.end] = by_element
    cash[RESALE] = 0.0
    if stay.end < horizon:
        cash[RESALE, ..., stay.end] = by_element[RESALE].sum(axis=-1)
    return cash


def present_value(file: FleetFile, ownership: Ownership, stay: Stay) -> Amounts:
    """
    Worth on the first budget day of a stay, its engine sold at its end.

    Parameters
    ----------
    file : FleetFile
    ownership : Ownership
        From `owned`.
    stay : Stay

    Returns
    -------
    ndarray, shape (...)
        Present value. [money]
    """
    rate = money_rules(file).discount_rate
    total = total_by_year(ownership).present_value.sum(axis=-1)
    return np.asarray(total * money.discount_factor(rate, stay.begin))


def present_value_of(cases: Cases, unit: Unit, schedule: Schedule) -> float:
    """
    Worth on the first budget day of a unit's schedule at its mean hours, what its engines are worth at the horizon off.

    Parameters
    ----------
    cases : Cases
    unit : Unit
    schedule : tuple of Stay

    Returns
    -------
    float
        Present value. [money]
    """
    rows = stated_rows(unit, cases.file.fleet.horizon)
    total = 0.0 if schedule[0].is_held else -float(value_got(cases, unit))
    return total + sum(float(present_value(cases.file, owned(cases, unit, stay, rows), stay)) for stay in schedule)


def value_got(cases: Cases, unit: Unit, levels: Levels = AS_STATED) -> Amounts:
    """What is got on the first budget day for the engines found on a boat, shape of the resale level. [money]"""
    stay = Stay(unit.engine, 0, 1, is_held=True)
    case = cases.of(unit, stay)
    return np.asarray(resale_value(case, 0.0, case.start[0]) * np.asarray(levels_of(cases.file, stay, levels).resale))


def capital_of(cases: Cases, unit: Unit, engine: str, year: int) -> float:
    """
    Price and fit-up of the engines of a unit that are bought at the start of a budget year.

    Parameters
    ----------
    cases : Cases
    unit : Unit
    engine : str
        The engine that is bought.
    year : int
        Budget year, from 0. [year]

    Returns
    -------
    float
        In money of the day, without what is got for the old ones. [money]
    """
    case = cases.of(unit, Stay(engine, year, 1, is_held=False))
    return case.count * (capital.net_price(case.engine) + capital.fit_up(case.engine))
