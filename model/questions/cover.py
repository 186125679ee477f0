"""Questions about the written warranty: what it is worth, private and commercial."""

import numpy as np

from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Payer, UseKind
from model.inputs.warranty import Cover
from model.language import dated, later, say
from model.questions.amounts import duration, money, per_cent, years
from model.questions.answer import Answer, Chance, Figure, NotApplicableError, RowBehind
from model.questions.asking import Asked, question
from model.questions.choosing import BREAKDOWNS, Choice, hours_input, in_trials, turning
from model.questions.saying import (
    ESTIMATE_CAUTION,
    capital,
    compared,
    costs_less,
    period,
    share_of,
    stays_or_turns,
    told_chance,
)
from model.repair_bill import cover_ends, repair_bill
from model.uncertainty.searchable import Input
from model.usage import date_at
from model.wording import whole

SMALLEST = 1e-6
"""Amounts below this are nothing. [money]"""

RIGHTS_CAUTION = ESTIMATE_CAUTION


def covered(about: Asked, label: str) -> tuple[Choice, Cover]:
    """The engine asked about and the warranty that applies to it; the question does not apply without one."""
    choice = Choice(about.scenario, about.engine, label)
    terms = choice.cost.case.cover_terms
    if terms is None:
        stated = about.scenario.engine(about.engine).warranty
        if stated is None:
            raise NotApplicableError(
                say("{engine} has no written warranty in the file: add [warranty] to it.", engine=about.engine)
            )
        raise NotApplicableError(
            say("The warranty of {engine} does not stand with the servicing of this file.", engine=about.engine)
        )
    return choice, terms


def with_terms(choice: Choice, terms: Cover | None, label: str) -> Choice:
    """The choice under other terms of the warranty that applies to its use."""
    if choice.scenario.use.kind is UseKind.COMMERCIAL:
        return choice.changed({("engine", "warranty", "commercial"): terms}, label)
    warranty = choice.alone.engines[0].warranty
    assert warranty is not None
    if terms is None:
        return choice.changed({("engine", "warranty"): None}, label)
    fields = {name: getattr(terms, name) for name in type(terms).model_fields if name != "commercial"}
    return choice.changed({("engine", "warranty"): warranty.model_copy(update=fields)}, label)


def repair_rows(*choices: Choice) -> tuple[RowBehind, ...]:
    """Rows of repairs and cover, whoever pays them."""
    found: tuple[RowBehind, ...] = ()
    for choice in choices:
        found += choice.rows((Element.REPAIRS, Element.WARRANTY_COVER), tuple(Payer))
    return found


@question("cover-worth", later("What is the warranty worth in money?"))
def cover_worth(about: Asked) -> Answer:
    """What the written warranty is expected to pay of repairs, less the excess."""
    scenario = about.scenario
    mine, terms = covered(about, about.engine)
    bill = repair_bill(mine.cost)
    paid = float(bill.warranty.sum())
    unprotected = with_terms(mine, None, say("no warranty"))
    words = {"engine": mine.label, "amount": money(paid, scenario), "years": duration(max(bill.cover_ends, 0.0))}
    reasons = [
        say(
            "Of {bill} of repairs expected over the period it pays {share}; {left} stay with you.",
            bill=money(float(bill.total.sum()), scenario),
            share=per_cent(bill.share_paid_by_warranty),
            left=money(float(bill.owner.sum()), scenario),
        ),
        when_it_ends(scenario, terms, bill.cover_ends),
    ]
    flip = None
    if about.against is not None:
        other = Choice(scenario, about.against, about.against)
        reasons.append(
            say("{engine}: {amount}.", engine=other.label, amount=money(other.cost.paid_by_warranty.nominal, scenario))
        )
        flip = turning(_worth_over_hours(mine, other), stays_or_turns)
    return Answer(
        say("The warranty of {engine} is expected to pay {amount} of repairs.", **words),
        say("It should spare you about {amount} of repairs.", **words),
        Figure(paid, scenario.currency),
        tuple(reasons),
        flip,
        chance_of_a_claim(about, unprotected, mine),
        say(RIGHTS_CAUTION),
        mine.rows((Element.REPAIRS,), (Payer.WARRANTY,)),
    )


def when_it_ends(scenario: Scenario, terms: Cover, ends: float) -> str:
    """On which day a cover ends on the stated hours, and by which of its limits."""
    if ends <= 0.0:
        return say("It has already ended at delivery.")
    if ends >= scenario.ownership.years:
        return say("It outlasts the {years} of ownership.", years=years(scenario.ownership.years))
    day = dated(date_at(ends, scenario.ownership.delivery))
    limits = [say("{months} {months:month|months}", months=whole(terms.months))] if terms.months else []
    limits += [say("{hours} h", hours=whole(terms.hours))] if terms.hours else []
    return say(
        "It ends on {day}, after {years}, by the first of its limits: {limits}.",
        day=day,
        years=duration(ends),
        limits=", ".join(limits) or say("none"),
    )


def _worth_over_hours(mine: Choice, other: Choice) -> Input:
    """Hours a year, at which two warranties are held against each other by what they pay."""
    searched = hours_input(mine, other)

    def pays(choice: Choice, hours: float) -> float:
        changes: dict[tuple[str | int, ...], object] = {
            ("use", "hours_per_year"): hours,
            ("use", "hours_by_year"): None,
        }
        return choice.changed(changes).cost.paid_by_warranty.nominal

    def costs(values: np.ndarray) -> np.ndarray:
        return np.array([[pays(choice, float(hours)) for hours in values] for choice in (mine, other)])

    return Input(searched.name, searched.unit, searched.today, searched.span, costs)


PAYS_SOMETHING = later("The warranty pays for something in {number} of 100 trials ({trials} possible ownerships).")


def chance_of_a_claim(about: Asked, unprotected: Choice, mine: Choice) -> Chance | None:
    """In how many trials the warranty pays anything."""
    paid = in_trials(about, unprotected.only(BREAKDOWNS), mine.only(BREAKDOWNS))
    return told_chance(about, share_of(None if paid is None else paid > SMALLEST), PAYS_SOMETHING)


@question("private-or-commercial", later("Private or commercial use: what does that do to the warranty?"))
def private_or_commercial(about: Asked) -> Answer:
    """The same hours under the warranty for private and the one for commercial use."""
    scenario = about.scenario
    warranty = scenario.engine(about.engine).warranty
    if warranty is None:
        raise NotApplicableError(
            say("{engine} has no written warranty in the file: add [warranty] to it.", engine=about.engine)
        )
    if warranty.commercial is None:
        raise NotApplicableError(
            say(
                "The file does not say what the warranty of {engine} is in commercial use: add [warranty.commercial] "
                "(months = 0 says no cover).",
                engine=about.engine,
            )
        )
    mine = Choice(scenario, about.engine, about.engine)
    private = mine.changed({("use", "kind"): UseKind.PRIVATE}, say("private use"))
    commercial = mine.changed({("use", "kind"): UseKind.COMMERCIAL}, say("commercial use"))
    found = compared(about, private.only(BREAKDOWNS), commercial.only(BREAKDOWNS))
    amount = money(found.difference, scenario)
    reasons = [
        say(
            "{use}: cover for {years}, expected to pay {amount}.",
            use=capital(choice.label),
            years=duration(max(min(cover_ends(choice.cost), scenario.ownership.years), 0.0)),
            amount=money(choice.cost.paid_by_warranty.nominal, scenario),
        )
        for choice in (private, commercial)
    ]
    return Answer(
        costs_less(period(scenario), found, amount),
        say("By the warranty alone, {use} spares you about {amount}.", use=found.cheaper.label, amount=amount),
        Figure(found.difference, scenario.currency),
        tuple(reasons),
        turning(hours_input(private, commercial), stays_or_turns),
        found.chance,
        say("Private cover may lapse when the boat earns money, and a business may have fewer rights: ask first.")
        + " "
        + say(RIGHTS_CAUTION),
        repair_rows(private, commercial),
    )
