"""What a reader of a fleet's figures must know of the rules behind them, a sentence each."""

from collections.abc import Sequence

from model.fleet.fleet_file import ALIKE_IN_POWER
from model.fleet.reading import Fleet
from model.inputs.terms import Element
from model.language import say
from model.wording import CAUTIONS, ELEMENT_LABELS, plain, whole

NAMED = 5
"""Units named in a sentence before it only counts the others."""


def rules_of_replacing(fleet: Fleet) -> list[str]:
    """How the plan is made: on mean hours, with engines alike in power, in which order within a yearly limit."""
    share = plain(100.0 * ALIKE_IN_POWER)
    told = [
        say("When engines are replaced is planned on mean hours and expected repairs; every trial follows that plan."),
        say(
            "An engine may be replaced by a candidate whose rated power is within {share} % of its own: by the best "
            "plan by the one that costs least, otherwise by its like, or by the first of the list that fits.",
            share=share,
        ),
    ]
    told.append(
        say(
            "What a policy saves, and what a new engine saves against keeping the old one to the last year or waiting "
            "a year or more, is in present value over the budget years, the engines' worth at their end counted."
        )
    )
    if fleet.terms.yearly_limit is not None:
        told.append(
            say(
                "Within the yearly limit of {limit} {currency}, what has been due longest is bought first, of that the "
                "oldest; by the best plan what waiting costs most. That is an order, not a search: another choice "
                "within the limit may cost less. Where the limit costs less than nothing, putting off comes cheaper "
                "than the policy itself.",
                limit=whole(fleet.terms.yearly_limit),
                currency=fleet.file.currency,
            )
        )
    return told


def notes_of(fleet: Fleet) -> list[str]:
    """The file's own note, what is unusual, what is not counted, and the cautions that go with costs."""
    found = [fleet.file.note] if fleet.file.note else []
    left_out = [say("Not counted: {line}", line=line) for line in fleet.left_out]
    return [*found, *fleet.warnings, *left_out, *map(say, CAUTIONS)]


def never_bought_told(fleet: Fleet, places: Sequence[int]) -> list[str]:
    """That a yearly limit lets some units never have a new engine; nothing where there are none."""
    if not places:
        return []
    told = some_named(fleet, places)
    return [say("The yearly limit is less than any engine that fits: never replaced are {units}.", units=told)]


def some_named(fleet: Fleet, places: Sequence[int]) -> str:
    """The first units by name, and how many more there are."""
    names, others = ", ".join(fleet.units[place].name for place in places[:NAMED]), len(places) - NAMED
    return names if others <= 0 else say("{names} and {number} more", names=names, number=whole(others))


def element_told(element: Element) -> str:
    """What an element is called in a budget: trials have their own failures, and what comes back is for old engines."""
    if element is Element.RESALE:
        return say("Got for old engines")
    return say("Repairs") if element is Element.REPAIRS else say(ELEMENT_LABELS[element])


def year_told(fleet: Fleet, year: int) -> str:
    """
    A budget year as people call it: 2027, or 2027/28 where it does not begin in January.

    Parameters
    ----------
    fleet : Fleet
    year : int
        Budget year, from 0. [year]
    """
    start = fleet.terms.budget_start
    begins = start.year + year
    return str(begins) if start.month == 1 else f"{begins}/{(begins + 1) % 100:02d}"
