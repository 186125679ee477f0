"""Policies: when an engine is due, and with what it is replaced."""

import numpy as np

from model.fleet.best_plan import onward
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
        return say("{age} years old, limit {limit}", age=one_decimal(age), limit=plain(policy.at_age))
    if policy.at_meter_hours is not None and meter >= policy.at_meter_hours - SAME:
        return say("{meter} h on the meter, limit {limit}", meter=whole(meter), limit=plain(policy.at_meter_hours))
    if policy.at_economic_life:
        best = costs.economic_life(place, stay.engine)
        if age >= best - SAME:
            return say("{age} years old, economic life {limit}", age=one_decimal(age), limit=plain(best))
    if policy.repair_share is not None:
        share = costs.one_repair_share(place, stay, year)
        if share > policy.repair_share:
            limit = plain(100 * policy.repair_share)
            if share == np.inf:
                return say("one repair costs more than it is worth, limit {limit} %", limit=limit)
            told = whole(100 * share)
            return say("one repair costs {share} % of its value, limit {limit} %", share=told, limit=limit)
    if policy.best_plan and cost_of_waiting(costs, place, stay, year) >= 0.0:
        return say("the best plan")
    return None


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
    table = costs.stay_costs(place)
    after = onward(table.new).costs
    gone = table.held
    if not stay.is_held:  # by the year in which it goes, not by how long it has stayed
        gone = np.roll(table.new[costs.candidates(place).index(stay.engine), stay.begin], stay.begin)
    later = np.arange(year + 1, costs.horizon + 1)
    return float(np.min(gone[later] + after[later]) - (gone[year] + after[year]))


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
        return candidates[int(onward(costs.stay_costs(place).new).candidates[year])]
    return stay.engine if stay.engine in candidates else candidates[0]
