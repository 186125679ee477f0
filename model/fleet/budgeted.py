"""A plan and what it costs, of the units that were counted: a run that was cut short knows nothing of the others."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from model.fleet.budget import Budget
from model.fleet.cash import ELEMENTS
from model.fleet.put_off import PutOff
from model.fleet.reading import Fleet
from model.fleet.replacement import FleetPlan
from model.inputs.terms import Element
from model.language import say
from model.wording import whole


@dataclass(frozen=True)
class Budgeted:
    """A plan and what it costs."""

    plan: FleetPlan
    """Which engines go when."""
    budget: Budget
    """What that costs, year by year."""
    put_off: tuple[PutOff, ...]
    """Units that the yearly limit makes wait."""


def of_counted(plan: FleetPlan, budget: Budget, put_off: Sequence[PutOff]) -> Budgeted:
    """
    A plan and its budget, both of the same units.

    Parameters
    ----------
    plan : FleetPlan
        Of the whole fleet, in the order of the register.
    budget : Budget
        Of the first units of the register, as many as were counted.
    put_off : sequence of PutOff
        Of the whole fleet.

    Returns
    -------
    Budgeted
        Without replacements of units that were not counted.
    """
    counted = replace(
        plan,
        schedules=plan.schedules[: budget.units],
        bought=tuple(due for due in plan.bought if due.place < budget.units),
        put_off=tuple(due for due in plan.put_off if due.place < budget.units),
    )
    return Budgeted(counted, budget, tuple(one for one in put_off if one.first.place < budget.units))


def counted_told(fleet: Fleet, budget: Budget) -> str:
    """How many units a budget is of, and of how many where the run was cut short."""
    if budget.units == len(fleet.units):
        return say("{number} {number:unit|units}", number=whole(budget.units))
    return say(
        "{number} of {all} {all:unit|units}, as the run was cut short",
        number=whole(budget.units),
        all=whole(len(fleet.units)),
    )


def cut_told(done: int, of: int) -> list[str]:
    """That a run ended early and what its figures hold, in a sentence; nothing where it did not."""
    if done == of:
        return []
    return [
        say(
            "Cut short: {done} of {all} {all:unit was|units were} counted, and the figures are of those only.",
            done=whole(done),
            all=whole(of),
        )
    ]


def downtime_told(budget: Budget) -> list[str]:
    """That days without the boat are no payment; nothing where none is lost."""
    if not np.any(budget.by_element[ELEMENTS.index(Element.DOWNTIME)]):
        return []
    return [say("Downtime is hire or work that is lost, not a payment; it is counted in these sums all the same.")]
