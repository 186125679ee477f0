"""Policies: when an engine is due, and with what it is replaced."""

import numpy as np
from numpy.typing import NDArray

from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.stays import Stay
from model.language import say
from model.wording import one_decimal, plain, whole

SAME = 1e-9
"""Ages and meter readings closer than this to a limit have reached it. [year or h]"""


def why_due(policy: PolicyTerms, costs: GroupCosts, place: int, stay: Stay, year: int) -> str | None:
    """
    Why an engine is to be replaced at the start of a budget year.

    Parameters
    ----------
    policy : PolicyTerms
    costs : GroupCosts
    place : int
        Of the unit in the group.
    stay : Stay
        The engine that is there.
    year : int
        Budget year, from 0. [year]

    Returns
    -------
    str or None
        The reason, in words; None when it is not due.
    """
    age, meter = costs.age(place, stay, year), costs.meter(place, stay, year)
    if policy.at_age is not None and age >= policy.at_age - SAME:
        return say("{age} {age:year|years} old, limit {limit}", age=one_decimal(age), limit=plain(policy.at_age))
    if policy.at_meter_hours is not None and meter >= policy.at_meter_hours - SAME:
        return say("{meter} h on the meter, limit {limit}", meter=whole(meter), limit=plain(policy.at_meter_hours))
    if policy.at_economic_life:
        best = costs.economic_life(place, stay.engine)
        if best is not None and age >= best - SAME:
            return say("{age} {age:year|years} old, economic life {limit}", age=one_decimal(age), limit=plain(best))
    if policy.repair_share is not None:
        share = costs.one_repair_share(place, stay, year)
        if share > policy.repair_share:
            limit = plain(100 * policy.repair_share)
            if share == np.inf:
                return say("one repair costs more than it is worth, limit {limit} %", limit=limit)
            told = _told_above(100 * share, 100 * policy.repair_share)
            return say("one repair costs {share} % of its value, limit {limit} %", share=told, limit=limit)
    if policy.best_plan:
        waiting = cost_of_waiting(costs, place, stay, year)
        return _why_now(costs, cost_of_keeping(costs, place, stay, year), waiting) if waiting >= 0.0 else None
    return None


def _told_above(value: float, limit: float) -> str:
    """A value above a limit with as few decimals as leave it above."""
    for digits in range(6):
        if round(value, digits) > limit:
            return plain(round(value, digits))
    return plain(value)


def _why_now(costs: GroupCosts, keeping: float, waiting: float) -> str:
    """Why the best plan replaces an engine in a year: what that saves against keeping it, and against a later year."""
    known = {"saved": whole(keeping), "currency": costs.file.currency}
    if whole(keeping) == whole(waiting):
        return say("saves {saved} {currency} against keeping it", **known)
    return say(
        "saves {saved} {currency} against keeping it, {waiting} against waiting",
        **known,
        waiting=whole(waiting),
    )


def cost_of_waiting(costs: GroupCosts, place: int, stay: Stay, year: int) -> float:
    """
    What it costs to replace an engine one year later or more, at the best, rather than at the start of a year.

    Parameters
    ----------
    costs : GroupCosts
    place : int
        Of the unit in the group.
    stay : Stay
        The engine that is there.
    year : int
        Budget year, from 0, after the begin of the stay where that is new. [year]

    Returns
    -------
    float
        Present value; negative where waiting pays. [money]
    """
    going = _gone_in(costs, place, stay)
    return float(np.min(going[year + 1 :]) - going[year])


def cost_of_keeping(costs: GroupCosts, place: int, stay: Stay, year: int) -> float:
    """What it costs to keep an engine to the horizon rather than replace it in a year; as `cost_of_waiting`. [money]"""
    going = _gone_in(costs, place, stay)
    return float(going[costs.horizon] - going[year])


def _gone_in(costs: GroupCosts, place: int, stay: Stay) -> NDArray[np.float64]:
    """Present value by the year in which the engine goes, the best following, shape (horizon + 1,). [money]"""
    gone = costs.stay_costs(place).held
    if not stay.is_held:  # by the year in which it goes, not by how long it has stayed
        table = costs.stay_costs(place).new
        gone = np.roll(table[costs.candidates(place).index(stay.engine), stay.begin], stay.begin)
    return np.asarray(gone + costs.onward(place).costs)


def replaced_with(policy: PolicyTerms, costs: GroupCosts, place: int, stay: Stay, year: int) -> str:
    """
    With what an engine is replaced: by the best plan what that chooses; else its like, or the first fit candidate.

    Parameters
    ----------
    policy : PolicyTerms
    costs : GroupCosts
    place : int
        Of the unit in the group.
    stay : Stay
        The engine that goes.
    year : int
        Budget year, from 0. [year]

    Returns
    -------
    str
        Name of a candidate.
    """
    candidates = costs.candidates(place)
    if policy.best_plan:
        return candidates[int(costs.onward(place).candidates[year])]
    return stay.engine if stay.engine in candidates else candidates[0]
