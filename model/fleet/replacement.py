"""The replacement plan of a fleet: which engines go in which year, under a policy and a yearly limit of capital."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from model.fleet.cash import Schedule, capital_of
from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.policies import cost_of_waiting, replaced_with, why_due
from model.fleet.stays import Stay
from model.inputs.problems import Problem


@dataclass(frozen=True)
class Due:
    """A unit whose engine is to be replaced in a budget year."""

    place: int
    """Of the unit in the group."""
    year: int
    """Budget year, from 0. [year]"""
    gone: str
    """The engine that goes."""
    engine: str
    """What is bought."""
    reason: str
    """Why, in words."""
    capital: float
    """Price and fit-up, in money of the day. [money]"""
    is_overdue: bool = False
    """Whether it was due a year before the budget begins; told of ages and meters only."""


@dataclass(frozen=True)
class FleetPlan:
    """What a policy does with a fleet."""

    policy: PolicyTerms
    """The policy."""
    schedules: tuple[Schedule, ...]
    """Stays of each unit, in the order of the register."""
    bought: tuple[Due, ...]
    """Replacements, by year."""
    put_off: tuple[Due, ...]
    """Replacements that a year's limit did not allow; the same unit stands here once for each year it waits."""


def plan_fleet(policy: PolicyTerms, costs: GroupCosts, limit: float | None = None) -> FleetPlan:
    """
    Carry a policy through the budget years.

    Where the limit does not allow all, by the best plan those go first that waiting costs most, else those that were
    due first, of these the oldest; a smaller purchase may still fit where a larger one did not.

    Parameters
    ----------
    policy : PolicyTerms
    costs : GroupCosts
        The whole fleet.
    limit : float, optional
        Most that may be spent on engines in a budget year. [money]

    Returns
    -------
    FleetPlan
    """
    now = [Stay(unit.engine, 0, costs.horizon, is_held=True) for unit in costs.units]
    done: list[list[Stay]] = [[] for _ in costs.units]
    first_due: dict[int, int] = {}
    bought, put_off = list[Due](), list[Due]()
    for year in range(costs.horizon):
        due = list(_due_in(policy, costs, now, year))
        for one in due:
            first_due.setdefault(one.place, year)
        left = float("inf") if limit is None else limit
        for one in sorted(due, key=lambda one: _urgency(policy, costs, now[one.place], (one, first_due[one.place]))):
            if one.capital > left + 1e-9:
                put_off.append(one)
                continue
            left -= one.capital
            bought.append(one)
            del first_due[one.place]
            going = now[one.place]
            if year > going.begin:
                done[one.place].append(replace(going, years=year - going.begin))
            now[one.place] = Stay(one.engine, year, costs.horizon - year, is_held=False, reason=one.reason)
    schedules = tuple((*before, last) for before, last in zip(done, now, strict=True))
    return FleetPlan(policy, schedules, tuple(bought), tuple(put_off))


def _due_in(policy: PolicyTerms, costs: GroupCosts, now: Sequence[Stay], year: int) -> Iterable[Due]:
    """Units whose engine is due at the start of a budget year."""
    is_by_age = not policy.best_plan and policy.repair_share is None
    for place, stay in enumerate(now):
        reason = why_due(policy, costs, place, stay, year)
        if reason is not None:
            engine = replaced_with(policy, costs, place, stay, year)
            capital = capital_of(costs.cases, costs.units[place], engine, year)
            is_overdue = year == 0 and is_by_age and why_due(policy, costs, place, stay, -1) is not None
            yield Due(place, year, stay.engine, engine, reason, capital, is_overdue)


def _urgency(policy: PolicyTerms, costs: GroupCosts, stay: Stay, one: tuple[Due, int]) -> tuple[int, float, int]:
    """Order in which purchases are made: the lowest first."""
    due, since = one
    if policy.best_plan:
        return 0, -cost_of_waiting(costs, due.place, stay, due.year), due.place
    return since, -costs.age(due.place, stay, due.year), due.place


@dataclass(frozen=True)
class Wait:
    """A unit whose replacement a yearly limit puts off."""

    first: Due
    """When it was due."""
    until: int | None
    """Budget year in which it is replaced; None where that is not within the horizon. [year]"""


def waits(plan: FleetPlan) -> tuple[Wait, ...]:
    """
    What a plan puts off, each replacement once, from the year in which it was first due.

    Parameters
    ----------
    plan : FleetPlan

    Returns
    -------
    tuple of Wait
        By year, then in the order of the register.
    """
    bought: dict[int, list[int]] = {}
    for one in plan.bought:
        bought.setdefault(one.place, []).append(one.year)
    found: dict[tuple[int, int | None], Due] = {}
    for one in plan.put_off:
        until = min((year for year in bought.get(one.place, []) if year > one.year), default=None)
        found.setdefault((one.place, until), one)
    made = [Wait(first, until) for (_, until), first in found.items()]
    return tuple(sorted(made, key=lambda wait: (wait.first.year, wait.first.place)))


def never_bought(costs: GroupCosts) -> tuple[int, ...]:
    """Units that a yearly limit never lets have a new engine: places of those with no candidate within it."""
    limit = costs.file.fleet.yearly_limit
    if limit is None:
        return ()
    return tuple(
        place
        for place, unit in enumerate(costs.units)
        if all(
            capital_of(costs.cases, unit, engine, year) > limit
            for engine in costs.candidates(place)
            for year in range(costs.horizon)
        )
    )


def cost_of_plan(costs: GroupCosts, plan: FleetPlan) -> float:
    """Present value of a plan over the horizon, what engines are worth at its end taken off. [money]"""
    return sum(costs.cost_of(place, schedule) for place, schedule in enumerate(plan.schedules))


def limit_problems(costs: GroupCosts, label: str) -> list[Problem]:
    """
    A yearly limit that is too small to buy even one engine, told with the year.

    Parameters
    ----------
    costs : GroupCosts
        The whole fleet.
    label : str
        The fleet file's name.

    Returns
    -------
    list of Problem
        None, or one with the first such year.
    """
    limit = costs.file.fleet.yearly_limit
    if limit is None:
        return []
    start = costs.file.fleet.budget_start
    kinds = {(unit.count, engine): unit for place, unit in enumerate(costs.units) for engine in costs.candidates(place)}
    for year in range(costs.horizon):
        least, engine = min(
            (capital_of(costs.cases, unit, engine, year), engine) for (_, engine), unit in kinds.items()
        )
        if least > limit:
            allowed = (
                f"at least {least:,.0f}, what {engine!r} with fit-up costs in the year from {start.year + year}: "
                "less can never buy one engine then"
            )
            return [Problem(label, "fleet.yearly_limit", f"{limit:,.10g}", allowed)]
    return []
