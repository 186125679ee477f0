"""Questions about the sale: when to sell, what the engine fetches, and whether a used one is the better buy."""

from dataclasses import replace
from typing import Annotated

import numpy as np

from model.inputs.engine import Engine, UsedStart
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.language import later, say
from model.ownership import resale_value
from model.questions.amounts import a_year, figures, money, per_cent, years
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import Choice, pair_of, price_input, turning, two, years_input
from model.questions.saying import (
    ESTIMATE_CAUTION,
    capital,
    compared,
    costs_less,
    costs_less_plainly,
    period,
    stays_or_turns,
)
from model.uncertainty.searchable import resale_input

SHORTEST = 0.25
"""Shortest time an engine is owned in an answer. [year]"""

LONGEST = 60.0
"""Longest. [year]"""


@question("sell-after", later("What if I sell after some years?"))
def sell_after(
    about: Asked,
    after: Annotated[
        float | None,
        Allowed(later("Years until the sale; half the file's period if none"), SHORTEST, LONGEST, later("years")),
    ] = None,
) -> Answer:
    """Which engine costs less when it is sold earlier, or later, than the file says."""
    scenario, pair = about.scenario, two(about)
    stated = scenario.ownership.years
    chosen = max(stated / 2.0, SHORTEST) if after is None else after
    over = (pair[0].over(chosen), pair[1].over(chosen))
    found = compared(about, *over)
    amount = money(found.difference, scenario)
    reasons = [
        say(
            "{engine}: bought for {price}, sold for {value}, {total} in all.",
            engine=choice.label,
            price=money(_bought(choice), scenario),
            value=money(-choice.cost.elements[Element.RESALE].nominal, scenario),
            total=money(choice.total, scenario),
        )
        for choice in over
    ]
    reasons.append(
        say(
            "Kept for {years}, as the file says, {engine} costs {amount} less.",
            years=years(stated),
            engine=pair[0].label,
            amount=money(pair[1].total - pair[0].total, scenario),
        )
    )
    return Answer(
        costs_less(say("Sold after {years},", years=years(chosen)), found, amount),
        costs_less_plainly(found, amount),
        Figure(found.difference, scenario.currency),
        tuple(reasons),
        turning(years_input(lambda value: (pair[0].over(value), pair[1].over(value)), scenario), stays_or_turns),
        found.chance,
        say(ESTIMATE_CAUTION),
        over[0].rows(tuple(Element)) + over[1].rows(tuple(Element)),
    )


def _bought(choice: Choice) -> float:
    """Price and fit-up of a choice, money of the day. [money]"""
    return choice.cost.elements[Element.PURCHASE].nominal + choice.cost.elements[Element.FIT_UP].nominal


@question("worth-at-the-sale", later("What will it fetch when I sell it, and does that change the answer?"))
def worth_at_the_sale(about: Asked) -> Answer:
    """What an engine fetches at the sale, and which costs less with nothing got for either."""
    scenario = about.scenario
    mine = Choice(scenario, about.engine, about.engine)
    engine, value = scenario.engine(mine.engine), -mine.cost.elements[Element.RESALE].nominal
    if engine.resale is None:
        raise NotApplicableError(
            say("{engine} has no [resale] table, so nothing is got for it: add one.", engine=mine.label)
        )
    meter = mine.cost.case.start[0] + float(mine.cost.ownership.hours.sum())
    share = value / mine.cost.case.count / mine.cost.case.list_price if mine.cost.case.list_price > 0.0 else 0.0
    words = {"engine": mine.label, "amount": money(value, scenario), "years": years(scenario.ownership.years)}
    reasons = [
        say(
            "Then {age} old with {meter} h on the meter, it fetches {share} of today's price new, money of that day.",
            age=years(mine.cost.case.start[1] + scenario.ownership.years),
            meter=figures(meter),
            share=per_cent(share),
        ),
        say(
            "It loses {amount} of what it cost, {yearly} on average.",
            amount=money(_bought(mine) - value, scenario),
            yearly=f"{figures((_bought(mine) - value) / scenario.ownership.years)} {a_year(scenario)}",
        ),
    ]
    flip, found = None, None
    if about.against is not None:
        pair = two(about)
        found = compared(about, *pair)
        reasons += _with_and_without_the_sale(pair)
        place = [choice.engine for choice in pair].index(mine.engine)
        searched = replace(resale_input(pair_of(pair), place), name=later("Value at the sale"), unit=scenario.currency)
        flip = turning(searched, stays_or_turns)
    return Answer(
        say("After {years} {engine} fetches about {amount}.", **words),
        say("Expect to get about {amount} for it after {years}.", **words),
        Figure(value, scenario.currency),
        tuple(reasons),
        flip,
        None if found is None else found.chance,
        say(ESTIMATE_CAUTION),
        mine.rows((Element.PURCHASE, Element.FIT_UP, Element.RESALE)),
    )


def _with_and_without_the_sale(pair: tuple[Choice, Choice]) -> list[str]:
    """Which of two engines costs less as it is, and with nothing got for either."""
    scenario = pair[0].scenario
    unsold = [choice.total - choice.cost.elements[Element.RESALE].present_value for choice in pair]
    kept = 0 if unsold[0] <= unsold[1] else 1
    return [
        say(
            "{other} fetches {amount}.",
            other=choice.label,
            amount=money(-choice.cost.elements[Element.RESALE].nominal, scenario),
        )
        for choice in pair[1:]
    ] + [
        say(
            "With the sale {one} costs {amount} less; with nothing got for either, {other} costs {others} less.",
            one=pair[0].label,
            amount=money(pair[1].total - pair[0].total, scenario),
            other=pair[kept].label,
            others=money(abs(unsold[1] - unsold[0]), scenario),
        )
    ]


@question("used-instead", later("Is a used engine the better buy?"))
def used_instead(
    about: Asked,
    meter: Annotated[float, Allowed(later("Hours on its meter"), 0.0, 100_000.0, later("h"))] = 300.0,
    age: Annotated[float, Allowed(later("Its age"), 0.01, LONGEST, later("years"))] = 5.0,
    price: Annotated[
        float | None,
        Allowed(later("What is asked for it; what the file's resale rule says if none"), 0.0, 10_000_000.0),
    ] = None,
) -> Answer:
    """A used engine of the same kind against the new one, both owned for the same years."""
    scenario = about.scenario
    engine = scenario.engine(about.engine)
    if engine.start is not None:
        new = next((one for one in scenario.engines if one.start is None), None)
        if new is None:
            raise NotApplicableError(say("Every engine of the file is a used one: add the new one to compare with."))
        engine = new
    fresh = Choice(scenario, engine.name, say("the new one"))
    asked_for = _worth(scenario, engine, (meter, age)) if price is None else price

    def at(value: float) -> tuple[Choice, Choice]:
        return fresh, _used(fresh, (meter, age), value)

    found = compared(about, *at(asked_for))
    used = at(asked_for)[1]
    amount = money(found.difference, scenario)
    reasons = (
        say(
            "{engine}: the used one costs {price} with {meter} h on the meter at {age}, the new one {new}.",
            engine=engine.name,
            price=money(asked_for, scenario),
            meter=figures(meter),
            age=years(age),
            new=money(engine.price - engine.discount - engine.trade_in, scenario),
        ),
        _line(used),
        _line(fresh),
    )
    return Answer(
        costs_less(period(scenario), found, amount),
        costs_less_plainly(found, amount),
        Figure(found.difference, scenario.currency),
        reasons,
        turning(
            price_input(later("Price of the used one"), scenario.currency, asked_for, engine.price, at), stays_or_turns
        ),
        found.chance,
        say("Have a used engine looked at by a qualified technician before you buy; ask for its service record.")
        + " "
        + say(ESTIMATE_CAUTION),
        used.rows(tuple(Element)) + fresh.rows(tuple(Element)),
    )


def _line(choice: Choice) -> str:
    """What a choice costs in repairs, and fetches in the end."""
    scenario, elements = choice.scenario, choice.cost.elements
    return say(
        "{choice}: {repairs} of repairs, cover and lost days, and {value} got at the sale.",
        choice=capital(choice.label),
        repairs=money(
            sum(elements[one].nominal for one in (Element.REPAIRS, Element.WARRANTY_COVER, Element.DOWNTIME)), scenario
        ),
        value=money(-elements[Element.RESALE].nominal, scenario),
    )


def _worth(scenario: Scenario, engine: Engine, stands: tuple[float, float]) -> float:
    """What the resale rule says that a used engine is worth on the delivery day, for one engine. [money]"""
    if engine.resale is None:
        raise NotApplicableError(
            say(
                "{engine} has no [resale] table to say what a used one is worth: state its --price.", engine=engine.name
            )
        )
    used = _used(Choice(scenario, engine.name, engine.name), stands, 0.0).cost.case
    return float(resale_value(used, np.array(0.0), np.array(stands[0]))) / used.count


def _used(fresh: Choice, stands: tuple[float, float], price: float) -> Choice:
    """A used engine of the same kind at a price, its servicing kept from new."""
    engine = fresh.scenario.engine(fresh.engine)
    changes: dict[tuple[str | int, ...], object] = {
        ("engine", "start"): UsedStart(meter_hours=stands[0], age=stands[1]),
        ("engine", "list_price"): engine.price if engine.list_price is None else engine.list_price,
        ("engine", "price"): price,
        ("engine", "discount"): 0.0,
        ("engine", "trade_in"): 0.0,
    }
    label = say("the used one")
    return fresh.changed(changes, label)
