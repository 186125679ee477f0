"""Expected repairs and what the warranty covers of them: cover's edges handed to repairs, repairs' amounts to cover."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.case import Case
from model.compiling import compiled
from model.elements import cover, repairs
from model.elements.cover import CoverTable
from model.elements.repairs import ModeTable
from model.levels import AS_STATED, Levels

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class ExpectedRepairs:
    """Repairs of all engines on the boat, expected, nominal."""

    failures: Amounts
    """Shape (..., mode, year). [-]"""
    whole: Amounts
    """What they cost, whoever pays: parts, labour, and charges never covered, shape (..., mode, year). [money]"""
    covered: Amounts
    """What the warranty covers, before the excess, shape (..., mode, year). [money]"""
    excess: Amounts
    """The owner's excess on it, shape (..., mode, year). [money]"""
    paid_in_full: Amounts
    """Failures of which the warranty pays everything, shape (..., mode, year). [-]"""

    @property
    def owner(self) -> Amounts:
        """Repairs the owner pays, without the excess, shape (..., mode, year). [money]"""
        return self.whole - self.covered


def expected_repairs(case: Case, hours: ArrayLike, levels: Levels = AS_STATED) -> ExpectedRepairs:
    """
    Repairs expected by mode and year, and what the warranty covers of them.

    Parameters
    ----------
    case : Case
    hours : array_like, shape (..., year)
        Hours of a full year. [h/year]
    levels : Levels

    Returns
    -------
    ExpectedRepairs
    """
    hours = np.asarray(hours, dtype=float)
    rows, growth = hours.reshape(-1, hours.shape[-1]), case.rules.growth
    parts, labour, charges = (price[:, None] for price in case.repair_prices())
    parts = parts * case.rules.at_flow_times(growth.parts)
    labour, charges = (price * case.rules.at_flow_times(growth.labour) for price in (labour, charges))
    terms = RepairTerms(case.years, *case.start, case.modes, case.cover, parts, labour, charges)
    filled = np.zeros((5, rows.shape[0], *parts.shape))
    _fill_repairs(rows, levels.by_row(hours.shape[:-1]), terms, filled)
    filled *= case.count
    failures, whole, covered, excess, in_full = filled.reshape(5, *hours.shape[:-1], *parts.shape)
    return ExpectedRepairs(failures, whole, covered, excess, in_full * (charges == 0.0))


class RepairTerms(NamedTuple):
    """What the expected repairs of one engine are worked out from."""

    years: float
    """Ownership period. [year]"""
    start_meter: float
    """Meter hours at delivery. [h]"""
    start_age: float
    """Age at delivery. [year]"""
    modes: ModeTable
    """Failure modes."""
    cover: CoverTable
    """The warranty."""
    parts: Amounts
    """Parts of one repair by mode and year, nominal, shape (mode, year). [money]"""
    labour: Amounts
    """Labour of one repair by mode and year, nominal, shape (mode, year). [money]"""
    charges: Amounts
    """Charges never covered of one repair by mode and year, nominal, shape (mode, year). [money]"""


class Within(NamedTuple):
    """One failure mode within one year of a path."""

    mode: int
    """Failure mode."""
    year: int
    """Ownership year."""
    end: float
    """End of the year or part-year. [year]"""
    age: float
    """Of the mode at the begin of the year. [h or year]"""
    speed: float
    """How fast it ages. [h/year or year/year]"""
    failures: float
    """Failures expected within the year. [-]"""
    ends: tuple[float, float]
    """When base cover and extension end. [year]"""


@compiled
def _cover_year(within: Within, price: tuple[float, float], terms: RepairTerms) -> tuple[float, float, float]:
    """Covered amount, excess and failures paid in full of a mode within a year, span by span. [money, money, -]"""
    warranty, year = terms.cover, float(within.year)
    covered, excess, in_full = 0.0, 0.0, 0.0
    for span in range(warranty.begin.shape[0]):
        begin, until = cover.span_edges(span, warranty, terms.start_age, within.ends)
        begin, until = max(begin, year), min(until, within.end)
        if until <= begin:
            continue
        turn = cover.excess_eats_all_at(span, warranty, terms.start_age, price[0] + price[1])
        turn = min(max(turn, begin), until)
        for low, high in ((begin, turn), (turn, until)):
            if high <= low:
                continue
            expected = (within.failures, 0.0)
            if warranty.linear or low > year or high < within.end:
                here = (within.age + within.speed * (low - year), within.speed)
                expected = repairs.failures_between(within.mode, terms.modes, here, low, high)
            more_covered, more_excess = cover.covered_amount(span, warranty, terms.start_age, price, expected)
            covered += more_covered
            excess += more_excess
            if cover.is_paid_in_full(price[0] + price[1], expected[0], more_covered, more_excess):
                in_full += expected[0]
    return covered, excess, in_full


@compiled
def _fill_repairs(rows: Amounts, levels: Amounts, terms: RepairTerms, filled: Amounts) -> None:
    """
    Fill in the repairs of one engine, shape (5, path, mode, year).

    They are failures, what they cost, what the warranty covers of it, the excess, and failures paid in full.
    """
    modes, warranty = terms.modes, terms.cover
    ends_before = (np.nan, np.nan)
    for path in range(rows.shape[0]):
        ends = cover.cover_ends(rows, path, terms.start_meter, terms.start_age, warranty)
        level = (levels[0, path], levels[1, path])
        is_alike = path > 0 and ends == ends_before and level == (levels[0, path - 1], levels[1, path - 1])
        for mode in range(modes.scale.shape[0]):
            if is_alike and not modes.by_hours[mode]:  # what ages by the calendar is as on the path before
                filled[:, path, mode] = filled[:, path - 1, mode]
                continue
            age = terms.start_meter if modes.by_hours[mode] else terms.start_age
            by_begin = repairs.failures_by(mode, age, modes)
            for year in range(rows.shape[1]):
                end = min(terms.years, year + 1.0)
                speed = rows[path, year] if modes.by_hours[mode] else 1.0
                by_end = repairs.failures_by(mode, age + speed * (end - year), modes)
                price = (terms.parts[mode, year] * level[0], terms.labour[mode, year] * level[1])
                charges = terms.charges[mode, year] * level[1]
                filled[0, path, mode, year] = by_end - by_begin
                filled[1, path, mode, year] = (by_end - by_begin) * (price[0] + price[1] + charges)
                if year < ends[0] or year < ends[1]:
                    within = Within(mode, year, end, age, speed, by_end - by_begin, ends)
                    covered, excess, in_full = _cover_year(within, price, terms)
                    filled[2, path, mode, year] = covered
                    filled[3, path, mode, year] = excess
                    filled[4, path, mode, year] = in_full
                age, by_begin = age + speed * (end - year), by_end
        ends_before = ends
