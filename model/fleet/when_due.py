"""What kind of replacement each is: in time, overdue, or put off by the yearly limit."""

from enum import StrEnum

from model.fleet.replacement import Due, FleetPlan, waits
from model.language import later


class Why(StrEnum):
    """What kind of replacement one is."""

    IN_TIME = "in time"
    OVERDUE = "overdue"
    PUT_OFF = "put off"


KINDS = {
    Why.IN_TIME: later("When it is due"),
    Why.OVERDUE: later("Due a year or more before the budget begins"),
    Why.PUT_OFF: later("Put off until then by the yearly limit"),
}
"""What each kind is called."""


def kinds(plan: FleetPlan) -> list[tuple[Due, Why]]:
    """Every replacement and what kind it is."""
    waited = {(wait.first.place, wait.until) for wait in waits(plan)}
    return [
        (due, Why.PUT_OFF if (due.place, due.year) in waited else Why.OVERDUE if due.is_overdue else Why.IN_TIME)
        for due in plan.bought
    ]
