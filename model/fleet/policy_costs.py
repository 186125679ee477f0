"""What each policy costs over the horizon, and what the yearly limit adds."""

from dataclasses import dataclass

from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.put_off import PutOff, units_put_off
from model.fleet.replacement import FleetPlan, cost_of_plan, plan_fleet

ALWAYS = (PolicyTerms(at_economic_life=True), PolicyTerms(best_plan=True))
"""Policies that today's is always compared with."""


@dataclass(frozen=True)
class PolicyCost:
    """What a policy costs over the horizon."""

    plan: FleetPlan
    """What it does, within the yearly limit."""
    cost: float
    """Present value, what the engines are worth at the horizon taken off. [money]"""
    cost_without_limit: float
    """The same without the yearly limit. [money]"""
    put_off: tuple[PutOff, ...]
    """Units that the limit makes wait, and what that costs each."""


def policies_compared(costs: GroupCosts) -> list[PolicyCost]:
    """
    Every policy of a fleet file carried through, within the yearly limit and without.

    Parameters
    ----------
    costs : GroupCosts
        The whole fleet.

    Returns
    -------
    list of PolicyCost
        Today's first, then the alternatives, the economic life and the best plan.
    """
    terms, found = costs.file.fleet, []
    for policy in dict.fromkeys((terms.policy, *terms.alternatives, *ALWAYS)):
        limited = plan_fleet(policy, costs, terms.yearly_limit)
        free = limited if terms.yearly_limit is None else plan_fleet(policy, costs)
        waiting = units_put_off(costs, limited, free)
        found.append(PolicyCost(limited, cost_of_plan(costs, limited), cost_of_plan(costs, free), waiting))
    return found
