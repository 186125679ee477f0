"""The repairs expected year by year and who pays them, with the day on which the cover ends."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from model.elements import cover
from model.measures import EngineCost
from model.usage import date_at

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class RepairBill:
    """Expected repairs of one engine, all engines of its kind on the boat, money of the day."""

    owner: Amounts
    """What the owner pays of each year's repairs, the excess included, shape (year,). [money]"""
    warranty: Amounts
    """What the warranty pays of them, less the excess, shape (year,). [money]"""
    cover_ends: float
    """When the last cover ends on the stated hours; not above 0 where it has ended or never was. [year]"""
    cover_ends_on: date | None
    """The day on which it ends; None outside the ownership period."""
    years: float
    """Ownership period. [year]"""

    @property
    def total(self) -> Amounts:
        """The whole bill of each year, shape (year,). [money]"""
        return np.asarray(self.owner + self.warranty)

    @property
    def share_paid_by_warranty(self) -> float:
        """Share of the whole bill that the warranty pays; 0 without a bill. [-]"""
        whole = float(self.total.sum())
        return float(self.warranty.sum()) / whole if whole > 0.0 else 0.0


def repair_bill(cost: EngineCost) -> RepairBill:
    """
    Who pays the repairs expected of an engine.

    Parameters
    ----------
    cost : EngineCost

    Returns
    -------
    RepairBill
        Its parts sum to the ledger's rows of repairs and excess, by payer.
    """
    expected, case = cost.ownership.repairs, cost.case
    ends = cover_ends(cost)
    within = 0.0 < ends < case.years
    return RepairBill(
        (expected.owner + expected.excess).sum(axis=0),
        (expected.covered - expected.excess).sum(axis=0),
        ends,
        date_at(ends, case.scenario.ownership.delivery) if within else None,
        case.years,
    )


def cover_ends(cost: EngineCost) -> float:
    """
    When the last cover of an engine ends on the stated hours.

    Parameters
    ----------
    cost : EngineCost

    Returns
    -------
    float
        Since delivery; not above 0 where it has ended or never was. [year]
    """
    case = cost.case
    base, extension = cover.cover_ends(np.array([case.scenario.hours()]), 0, *case.start, case.cover)
    return float(max(base, extension)) if case.cover.base_spans else 0.0


@dataclass(frozen=True)
class OwnersShare:
    """The owner's share of a repair over the years since delivery."""

    t: Amounts
    """Rising, twice where the share steps, shape (n,). [year]"""
    share: Amounts
    """Share that the owner pays of a mean repair then, shape (n,). [-]"""


def owners_share(cost: EngineCost) -> OwnersShare:
    """
    What share of a repair the owner pays, if the engine fails at a time.

    Of a mean repair: the engine's failure modes weighted by how many are expected within that year, each with its
    excess and what is never covered. Without any failure expected it is that of a repair without a price: the whole.

    Parameters
    ----------
    cost : EngineCost

    Returns
    -------
    OwnersShare
        Straight between its points; both sides of a step.
    """
    t = np.repeat(_edges(cost), 2)[1:-1]
    sides = np.tile([1.0, -1.0], t.size // 2)
    share = [_share_at(cost, at, side) for at, side in zip(t.tolist(), sides.tolist(), strict=True)]
    return OwnersShare(t, np.array(share))


JUST = 1e-9
"""How far beside a step its two sides are looked at. [year]"""


def _edges(cost: EngineCost) -> Amounts:
    """Where the share may step or bend: ends of years and of spans of cover. [year]"""
    case, table = cost.case, cost.case.cover
    ends = cover.cover_ends(np.array([case.scenario.hours()]), 0, *case.start, table)
    spans = [cover.span_edges(span, table, case.start[1], ends) for span in range(table.begin.shape[0])]
    years = range(case.scenario.ownership.begun_years)
    turns = [turn for year in years for turn in _turns(cost, year)] if table.base_spans else []
    found = np.array([*years, case.years, *np.ravel(spans), *turns])
    return np.unique(found[(found >= 0.0) & (found <= case.years)])


def _turns(cost: EngineCost, year: int) -> list[float]:
    """When within a year, on a linear decline, the excess begins to take all that is covered of a mode. [year]"""
    parts, labour, _ = _prices(cost, year)
    age = cost.case.start[1]
    turns = [cover.excess_eats_all_at(0, cost.case.cover, age, float(price)) for price in parts + labour]
    return [turn for turn in turns if year < turn < year + 1]


def _prices(cost: EngineCost, year: int) -> tuple[Amounts, Amounts, Amounts]:
    """Parts, labour and never-covered charges of one repair of each mode in a year, shapes (mode,). [money]"""
    parts, labour, charges = cost.case.repair_prices()
    growth = cost.case.rules.growth
    at_parts, at_labour = (cost.case.rules.at_flow_times(rate)[year] for rate in (growth.parts, growth.labour))
    return parts * at_parts, labour * at_labour, charges * at_labour


def _share_at(cost: EngineCost, t: float, side: float) -> float:
    """The owner's share at a time, seen from just after it (side 1) or just before it (side -1). [-]"""
    case, table, at = cost.case, cost.case.cover, t + side * JUST
    year = min(int(max(at, 0.0)), case.scenario.ownership.begun_years - 1)
    parts, labour, charges = _prices(cost, year)
    failures = cost.ownership.repairs.failures[:, year]
    whole = float((failures * (parts + labour + charges)).sum())
    ends = cover.cover_ends(np.array([case.scenario.hours()]), 0, *case.start, table)
    span = cover.span_at(at, table, case.start[1], ends)
    if whole <= 0.0 or span < 0:
        return 1.0
    paid = 0.0
    for mode in range(failures.size):
        price = float(parts[mode]), float(labour[mode])
        covered, excess = cover.covered_amount(span, table, case.start[1], price, (1.0, t))
        paid += float(failures[mode]) * (covered - excess)
    return min(max(1.0 - paid / whole, 0.0), 1.0)
