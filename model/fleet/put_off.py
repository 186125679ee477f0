"""What a yearly limit puts off: each unit once, from when to when, and what that costs."""

from dataclasses import dataclass

from model.fleet.cash import present_value_of
from model.fleet.group_costs import GroupCosts
from model.fleet.replacement import Due, FleetPlan, waits


@dataclass(frozen=True)
class PutOff:
    """A unit whose new engines a yearly limit puts off."""

    first: Due
    """What was due first and had to wait."""
    until: int | None
    """Budget year in which that was bought; None where that is not within the horizon. [year]"""
    times: int
    """How many of its replacements wait."""
    costs: float
    """What the limit costs it over the horizon, in present value; below 0 where waiting is cheaper. [money]"""


def units_put_off(costs: GroupCosts, plan: FleetPlan, free: FleetPlan) -> tuple[PutOff, ...]:
    """
    Units that a yearly limit makes wait.

    Parameters
    ----------
    costs : GroupCosts
        The whole fleet.
    plan, free : FleetPlan
        The same policy within the limit, and without one.

    Returns
    -------
    tuple of PutOff
        By year, then in the order of the register. Their costs add to what the limit costs the fleet: a unit that never
        waits has the same engines in both plans.
    """
    by_unit: dict[int, list[tuple[Due, int | None]]] = {}
    for wait in waits(plan):
        by_unit.setdefault(wait.first.place, []).append((wait.first, wait.until))
    return tuple(
        PutOff(*found[0], len(found), _cost(costs, place, plan) - _cost(costs, place, free))
        for place, found in sorted(by_unit.items(), key=lambda one: (one[1][0][0].year, one[0]))
    )


def _cost(costs: GroupCosts, place: int, plan: FleetPlan) -> float:
    """Present value of a unit's schedule: from the tables where they are there, else of its few stays. [money]"""
    schedule = plan.schedules[place]
    if costs.tables is not None:
        return costs.cost_of(place, schedule)
    return present_value_of(costs.cases, costs.units[place], schedule)
