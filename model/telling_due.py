"""What the command line shows of the units that are due: each of a small fleet, by year and reason of a large one."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from model import wording
from model.fleet import reports
from model.fleet.group_costs import GroupCosts
from model.fleet.replacement import never_bought
from model.fleet.rules_told import never_bought_told, some_named, year_told
from model.fleet.when_due import KINDS, Why, kinds
from model.fleet_titles import DUE_BY_YEAR_TITLES, DUE_TITLES, PUT_OFF_BY_YEAR_TITLES, PUT_OFF_TITLES
from model.language import say
from model.telling_out import screen
from model.telling_tables import Rows, table_of

if TYPE_CHECKING:
    from model.fleet.put_off import PutOff
    from model.fleet.reading import Fleet
    from model.fleet.replacement import Due, FleetPlan

MOST_LISTED = 40
"""Units in a table on a terminal; more are shown by year and reason, unless all are asked for."""


def in_budget_years(fleet: "Fleet", rows: Rows) -> list[dict[str, Any]]:
    """Rows whose years are called as people call budget years."""
    start = fleet.terms.budget_start.year
    return [
        {**row}
        | {key: year_told(fleet, row[key] - start) for key in ("year", "until") if isinstance(row.get(key), int)}
        for row in rows
    ]


def due_tables(fleet: "Fleet", plan: "FleetPlan", put_off: Sequence["PutOff"], lists_all: bool = False) -> None:
    """
    What a policy replaces with the reason, and what the yearly limit makes wait.

    Parameters
    ----------
    fleet : Fleet
    plan : FleetPlan
    put_off : sequence of PutOff
    lists_all : bool
        Each unit, however many there are.
    """
    console, policy, currency = screen(), plan.policy.in_words, fleet.file.currency
    if plan.bought:
        title = say("Units due, policy: {policy}; {currency}", policy=policy, currency=currency)
        if lists_all or len(plan.bought) <= MOST_LISTED:
            console.print(table_of(title, DUE_TITLES, in_budget_years(fleet, reports.due_rows(fleet, plan.bought))))
        else:
            console.print(table_of(title, DUE_BY_YEAR_TITLES, due_by_year(fleet, plan)))
            _say_where_all_are(len(plan.bought))
    else:
        console.print(say("Units due, policy: {policy}: none.", policy=policy), markup=False)
    if put_off:
        told = say(
            "Put off by the yearly limit: {number} {number:unit|units}; waiting costs {amount} {currency} in present "
            "value",
            number=wording.whole(len(put_off)),
            amount=wording.whole(sum(one.costs for one in put_off)),
            currency=currency,
        )
        if lists_all or len(put_off) <= MOST_LISTED:
            console.print(table_of(told, PUT_OFF_TITLES, _waiting(fleet, put_off)))
        else:
            console.print(table_of(told, PUT_OFF_BY_YEAR_TITLES, put_off_by_year(fleet, put_off)))
            _say_where_all_are(len(put_off))
    for line in never_bought_told(fleet, never_bought(GroupCosts(fleet.file, fleet.units))):
        console.print(line, markup=False)


def _say_where_all_are(number: int) -> None:
    """Where every unit is listed."""
    told = say(
        "Each of the {number} with its reason: with --all-units here, with --format json, or with --save FILE.xlsx.",
        number=wording.whole(number),
    )
    screen().print(told, markup=False)


def due_by_year(fleet: "Fleet", plan: "FleetPlan") -> list[dict[str, Any]]:
    """Replacements by year and by what kind they are: how many, for how much, the first units by name."""
    found: dict[tuple[int, Why], list[Due]] = {}
    for due, why in sorted(kinds(plan), key=lambda one: (one[0].year, list(KINDS).index(one[1]), one[0].place)):
        found.setdefault((due.year, why), []).append(due)
    return [
        {
            "year": year_told(fleet, year),
            "reason": say(KINDS[why]),
            "number": len(of_year),
            "capital": sum(due.capital for due in of_year),
            "units": some_named(fleet, [due.place for due in of_year]),
        }
        for (year, why), of_year in found.items()
    ]


def put_off_by_year(fleet: "Fleet", put_off: Sequence["PutOff"]) -> list[dict[str, Any]]:
    """Units that wait by the year in which they were due and until when: how many, what that costs, the first ones."""
    found: dict[tuple[int, int | None], list[PutOff]] = {}
    never = fleet.terms.horizon
    for one in sorted(put_off, key=lambda one: (one.first.year, never if one.until is None else one.until)):
        found.setdefault((one.first.year, one.until), []).append(one)
    return [
        {
            "year": year_told(fleet, year),
            "until": say("after the last year") if until is None else year_told(fleet, until),
            "number": len(waiting),
            "waiting_costs": sum(one.costs for one in waiting),
            "units": some_named(fleet, [one.first.place for one in waiting]),
        }
        for (year, until), waiting in found.items()
    ]


def _waiting(fleet: "Fleet", put_off: Sequence["PutOff"]) -> Rows:
    """Each unit that waits."""
    return [
        row | {"until": row["until"] or say("after the last year")}
        for row in in_budget_years(fleet, reports.put_off_rows(fleet, put_off))
    ]
