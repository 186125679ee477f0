"""What is worked out of a fleet, kept while it is looked at: budget, plan, economic lives, policies compared."""

from dataclasses import dataclass, replace
from functools import partial

from dashboard.fleet_work import LIMIT, POLICY, FleetWork, fleet_of
from dashboard.jobs import Job
from dashboard.keeping import Shelf
from model.fleet.best_plan import StayCosts
from model.fleet.budget import Budget, budget_of
from model.fleet.group_costs import GroupCosts
from model.fleet.groups import InProcess, groups_of, in_order
from model.fleet.life_reports import EngineLife
from model.fleet.lives import fleet_lives
from model.fleet.policy_costs import PolicyCost, policies_compared
from model.fleet.put_off import PutOff
from model.fleet.reading import Fleet, with_terms
from model.fleet.replacement import FleetPlan, never_bought, plan_fleet
from model.fleet.stay_tables import stay_part, stay_tasks, tables_of
from model.fleet.unit_trials import TrialTerms, group_trials
from model.language import say

TERMS = TrialTerms(2000, 1)
"""Trials behind a page and their seed: the command line's own, so that both give the same figures."""


@dataclass(frozen=True)
class FleetAnswer:
    """What is known of a fleet so far."""

    fleet: Fleet
    """The fleet."""
    plan: FleetPlan
    """Which engines go when."""
    budget: Budget
    """What that costs, year by year."""
    never: tuple[int, ...]
    """Places of units that the yearly limit never lets have a new engine."""
    before: Budget | None
    """The budget as the file says; None where nothing is changed."""
    put_off: tuple[PutOff, ...] = ()
    """Units that the yearly limit makes wait; none while the policies are still compared."""
    lives: tuple[EngineLife, ...] = ()
    """Economic lives of the candidates; none while they are still worked out."""
    policies: tuple[PolicyCost, ...] = ()
    """Policies compared; none while they are still worked out."""


ANSWERS, BUDGETS, TABLES, LIVES = Shelf(), Shelf(), Shelf(4), Shelf()


def ready(work: FleetWork) -> FleetAnswer | None:
    """The whole answer, where it has been worked out before."""
    found: FleetAnswer | None = ANSWERS.peek(work)
    return found


def work_out(work: FleetWork, job: Job) -> None:
    """
    Work a fleet out, the budget first; what is found so far is published.

    Parameters
    ----------
    work : FleetWork
        One that can be counted.
    job : Job
    """
    fleet, costs = fleet_of(work), _costs_of(work)
    if fleet.terms.policy.best_plan:
        costs.tables = _tables_of(work, job)
    plan, budget = _budget_of(work, costs, job)
    before = _budget_of(work.origin, _costs_of(work.origin), job)[1] if work.changes else None
    answer = FleetAnswer(fleet, plan, budget, never_bought(costs), before)
    job.publish(answer)
    lives = LIVES.get(work.without(POLICY, LIMIT), lambda: fleet_lives(fleet))
    answer = replace(answer, lives=lives)
    job.publish(answer)
    policies = _policies_of(work, job)
    chosen = next(one for one in policies if one.plan.policy == fleet.terms.policy)
    answer = replace(answer, policies=policies, put_off=chosen.put_off)
    job.publish(ANSWERS.get(work, lambda: answer))


def _policies_of(work: FleetWork, job: Job) -> tuple[PolicyCost, ...]:
    """Policies compared: the file's as today's, then the one chosen on the page, then the others."""
    fleet, today = fleet_of(work), fleet_of(work.without(POLICY)).terms
    compared = with_terms(fleet, policy=today.policy, alternatives=(fleet.terms.policy, *today.alternatives))
    costs = GroupCosts(compared.file, compared.units, _tables_of(work, job))
    return tuple(policies_compared(costs))


def _costs_of(work: FleetWork) -> GroupCosts:
    """What the policies need to know of all units."""
    fleet = fleet_of(work)
    return GroupCosts(fleet.file, fleet.units)


def _tables_of(work: FleetWork, job: Job) -> list[StayCosts]:
    """Costs of every stay of every unit; policy and limit change nothing in them."""
    fleet, stage = fleet_of(work), say("Comparing what each engine would cost")

    def make() -> list[StayCosts]:
        told = partial(job.tell, stage)
        parts = list(in_order(InProcess(), partial(stay_part, fleet.file), stay_tasks(fleet.file, fleet.units), told))
        return tables_of(fleet.file, fleet.units, parts)

    tables: list[StayCosts] = TABLES.get(work.without(POLICY, LIMIT), make)
    return tables


def _budget_of(work: FleetWork, costs: GroupCosts, job: Job) -> tuple[FleetPlan, Budget]:
    """The plan and its budget over all trials."""
    fleet, stage = fleet_of(work), say("Running the trials")

    def make() -> tuple[FleetPlan, Budget]:
        if fleet.terms.policy.best_plan and costs.tables is None:
            costs.tables = _tables_of(work, job)
        plan = plan_fleet(fleet.terms.policy, costs, fleet.terms.yearly_limit)
        scheduled = list(zip(fleet.units, plan.schedules, strict=True))
        task = partial(group_trials, fleet.file, TERMS)
        results = in_order(InProcess(), task, groups_of(scheduled), partial(job.tell, stage))
        return plan, budget_of(fleet.file, scheduled, results=results)

    found: tuple[FleetPlan, Budget] = BUDGETS.get(work, make)
    return found
