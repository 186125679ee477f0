"""Questions about the written warranty: flat or declining, after it ends, bought extra."""

from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from model.inputs.warranty import Cover, Extension
from model.language import later, say
from model.money import growth_factor
from model.questions.amounts import duration, money, years
from model.questions.answer import Answer, Figure, Flip, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import BREAKDOWNS, PERIOD, YEAR, Choice, in_trials, price_input, turning
from model.questions.cover import RIGHTS_CAUTION, SMALLEST, covered, repair_rows, when_it_ends, with_terms
from model.questions.saying import compared, costs_less, period, share_of, stays_or_turns, told_chance
from model.repair_bill import cover_ends, repair_bill
from model.uncertainty.searchable import Input
from model.wording import whole

NEVER_ENDING = 1200.0
"""Months of a cover that outlasts any ownership. [month]"""

NEVER_ENDING_HOURS = 1e6
"""Meter hours of such a cover. [h]"""

ONE_IN_TWENTY = 0.95
"""Below this share of the trials lies what is paid in nineteen of twenty. [-]"""


@question("flat-or-declining", later("Flat cover or cover that declines: what is the difference in money?"))
def flat_or_declining(about: Asked) -> Answer:
    """The same warranty, once whole to its last day, once falling evenly to nothing over its months."""
    scenario = about.scenario
    mine, terms = covered(about, "")
    if terms.months is None:
        raise NotApplicableError(
            say("The warranty of {engine} has no months, so it cannot decline over them.", engine=about.engine)
        )
    whole_cover = terms.model_copy(update={"steps": (), "decline": None})
    is_flat = not terms.steps and terms.decline is None
    flat = with_terms(mine, whole_cover, say("flat cover"))
    falling = whole_cover.model_copy(update={"decline": "linear"}) if is_flat else terms
    declining = with_terms(mine, falling, say("declining cover"))
    found = compared(about, flat.only(BREAKDOWNS), declining.only(BREAKDOWNS))
    amount = money(found.difference, scenario)
    reasons = (
        say(
            "Flat, the warranty pays {amount} of repairs over {months} {months:month|months}.",
            amount=money(flat.cost.paid_by_warranty.nominal, scenario),
            months=whole(terms.months),
        ),
        say("Declining, it pays {amount}.", amount=money(declining.cost.paid_by_warranty.nominal, scenario)),
        say("The file's own is flat; it is held against one that falls evenly to nothing.")
        if is_flat
        else say("The file's own declines; it is held against one whole to its last day."),
    )
    return Answer(
        costs_less(period(scenario), found, amount),
        say("Cover that stays whole to the last day is worth about {amount} more to you.", amount=amount),
        Figure(found.difference, scenario.currency),
        reasons,
        turning(_dearer_by(flat, declining), stays_or_turns),
        found.chance,
        say(RIGHTS_CAUTION),
        repair_rows(flat, declining),
    )


def _dearer_by(flat: Choice, declining: Choice) -> Input:
    """What the engine with flat cover costs more to buy, its list price held."""
    engine = flat.alone.engines[0]
    held = engine.price if engine.list_price is None else engine.list_price

    def at(more: float) -> tuple[Choice, Choice]:
        prices: dict[tuple[str | int, ...], object] = {("engine", "price"): engine.price + more}
        return flat.changed({**prices, ("engine", "list_price"): held}), declining

    name, reach = later("What flat cover costs more to buy"), _reach(flat, declining)
    return price_input(name, flat.scenario.currency, 0.0, reach, at)


def _reach(flat: Choice, declining: Choice) -> float:
    """How far the price of flat cover is looked at: beyond anything it could be worth. [money]"""
    return 2.0 * max(abs(declining.total - flat.total), 1.0)


@question("after-cover", later("What stands open after the warranty, and what does a failure just after it cost?"))
def after_cover(about: Asked) -> Answer:
    """What a warranty without end would have paid after the real one ends, and the dearest failure just after."""
    scenario = about.scenario
    mine, terms = covered(about, about.engine)
    ends = cover_ends(mine.cost)
    if ends >= scenario.ownership.years:
        raise NotApplicableError(
            say(
                "The warranty of {engine} outlasts the {years} of ownership: nothing stands open after it.",
                engine=mine.label,
                years=years(scenario.ownership.years),
            )
        )
    endless = with_terms(mine, _without_end(terms), say("cover without end"))
    open_amount = float((repair_bill(mine.cost).owner - repair_bill(endless.cost).owner).sum())
    begins = max(ends, 0.0)
    dearest, cost = _dearest_repair(mine, begins)
    words = {
        "engine": mine.label,
        "amount": money(open_amount, scenario),
        "years": duration(begins),
        "failure": dearest,
        "cost": money(cost, scenario),
        "today": years(scenario.ownership.years),
    }
    left = in_trials(about, mine.only(BREAKDOWNS), endless.only(BREAKDOWNS))
    turns = say("Sold within {years}, nothing stands open (now {today}).", **words)
    return Answer(
        say(
            "After the warranty ends, {years} on, {amount} of repairs stand open up to the sale; the dearest failure "
            "just after, {failure}, costs {cost}.",
            **words,
        ),
        say("Keep {cost} at hand for a bad day after the warranty; some {amount} are to be expected in all.", **words),
        Figure(open_amount, scenario.currency),
        (
            when_it_ends(scenario, terms, ends),
            say("{failure}: {cost} of parts, labour and charges in money of that day.", **words),
            _on_top(mine),
        ),
        Flip(say(PERIOD), say(YEAR), scenario.ownership.years, begins, turns),
        told_chance(about, share_of(None if left is None else left > SMALLEST), LEFT_TO_PAY),
        say(RIGHTS_CAUTION),
        repair_rows(mine),
    )


LEFT_TO_PAY = later("Something is to pay after it in {number} of 100 trials ({trials} possible ownerships).")


def _on_top(mine: Choice) -> str:
    """What a lost day costs besides the repair."""
    if mine.cost.case.day_cost <= 0.0:
        return say("The file counts nothing for a lost day: add [downtime] day_cost to count it.")
    return say("A lost day costs {amount} on top.", amount=money(mine.cost.case.day_cost, mine.scenario))


def _without_end(terms: Cover) -> Cover:
    """A warranty that goes on, whole, where its own cover ends."""
    months, hours = (NEVER_ENDING, None) if terms.months is not None else (None, NEVER_ENDING_HOURS)
    return terms.model_copy(update={"extension": Extension(bought=True, price=0.0, months=months, hours=hours)})


def _dearest_repair(mine: Choice, t: float) -> tuple[str, float]:
    """The failure mode whose repair costs most at a time, and what it then costs. [year -> -, money]"""
    case, modes = mine.cost.case, mine.alone.engines[0].repair
    if not modes:
        raise NotApplicableError(say("The file names no way to fail: add [[repair]] to {engine}.", engine=mine.label))
    parts, labour, charges = case.repair_prices()
    growth = case.rules.growth
    prices = parts * growth_factor(growth.parts, t) + (labour + charges) * growth_factor(growth.labour, t)
    place = int(np.argmax(prices))
    return modes[place].name, float(prices[place])


@question("extra-cover", later("Is the extra cover on offer worth its price?"))
def extra_cover(
    about: Asked,
    price: Annotated[float | None, Allowed(later("Its price; the file's if none"), 0.0, 1_000_000.0)] = None,
    months: Annotated[
        float | None, Allowed(later("Months it adds; the file's if none"), 0.0, 600.0, later("months"))
    ] = None,
) -> Answer:
    """Bought extra cover against none: its price, and what it is expected to pay."""
    scenario = about.scenario
    mine, terms = covered(about, "")
    offered = _offer(about, terms, price, months)
    without = with_terms(mine, terms.model_copy(update={"extension": None}), say("no extra cover"))

    def at(asked_for: float) -> tuple[Choice, Choice]:
        bought = offered.model_copy(update={"price": asked_for})
        return with_terms(mine, terms.model_copy(update={"extension": bought}), say("the extra cover")), without

    extra = at(offered.price)[0]
    found = compared(about, extra.only(BREAKDOWNS), without.only(BREAKDOWNS))
    cost = offered.price * mine.cost.case.count
    words = {
        "price": money(cost, scenario),
        "paid": money(without.total - extra.total + cost, scenario),
        "amount": money(found.difference, scenario),
    }
    if extra.total < without.total:
        sentence = say("On average yes: the extra cover costs {price} and pays {paid}, {amount} more.", **words)
        plainly = say("It is expected to pay about {amount} more than it costs.", **words)
    else:
        sentence = say("On average no: the extra cover costs {price} and pays {paid}, {amount} less.", **words)
        plainly = say("You pay about {amount} for not having to worry.", **words)
    drawn = in_trials(about, without.only(BREAKDOWNS), extra.only(BREAKDOWNS))
    searched = price_input(later("Price of the extra cover"), scenario.currency, offered.price, 1000.0, at)
    return Answer(
        sentence,
        plainly,
        Figure(found.difference, scenario.currency),
        _what_extra_does(extra, without, None if drawn is None else drawn + cost),
        turning(searched, stays_or_turns),
        told_chance(about, share_of(None if drawn is None else drawn > SMALLEST), PAYS_MORE),
        say(RIGHTS_CAUTION),
        repair_rows(extra, without),
    )


PAYS_MORE = later("It pays more than it costs in {number} of 100 trials ({trials} possible ownerships).")


def _what_extra_does(extra: Choice, without: Choice, paid: NDArray[np.float64] | None) -> tuple[str, ...]:
    """How long cover lasts and what repairs stay with the owner, with extra cover and without."""
    left, scenario = [float(repair_bill(choice.cost).owner.sum()) for choice in (without, extra)], extra.scenario
    reasons = (
        say(
            "Without it the warranty covers {before}, with it {after}.",
            before=duration(_covered_years(without)),
            after=duration(_covered_years(extra)),
        ),
        say(
            "Repairs left to you over the period: {without} without it, {after} with it.",
            without=money(left[0], scenario),
            after=money(left[1], scenario),
        ),
    )
    if paid is None:
        return reasons
    most = money(float(np.quantile(paid, ONE_IN_TWENTY)), scenario)
    return (*reasons, say("In 1 of 20 trials it pays {amount} or more: that is what it insures.", amount=most))


def _offer(about: Asked, terms: Cover, price: float | None, months: float | None) -> Extension:
    """The extra cover asked about: the file's, with another price or length where they are given."""
    if terms.extension is None and (price is None or months is None):
        raise NotApplicableError(
            say(
                "The file has no extra cover for {engine}: state its --price and --months, or add warranty.extension.",
                engine=about.engine,
            )
        )
    offered = terms.extension or Extension(price=0.0, months=1.0)
    changes: dict[str, object] = {"bought": True}
    changes |= {"price": price} if price is not None else {}
    changes |= {"months": months} if months is not None else {}
    if terms.months is None and offered.hours is None:
        raise NotApplicableError(
            say("The warranty of {engine} has no months to add to: give warranty.extension hours.", engine=about.engine)
        )
    return offered.model_copy(update=changes)


def _covered_years(choice: Choice) -> float:
    """For how long after delivery the warranty covers, the sale at the latest. [year]"""
    return max(min(cover_ends(choice.cost), choice.scenario.ownership.years), 0.0)
