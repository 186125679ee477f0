"""Questions about breaking down: how often and at what cost, one engine or two, and when to change."""

from dataclasses import dataclass

import numpy as np

from model.fleet.economic_life import economic_lives
from model.inputs.owner import Downtime
from model.inputs.terms import Element, Technology
from model.language import later, say
from model.questions.amounts import figures, money, money_a_year, per_cent, years
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Asked, question
from model.questions.choosing import BREAKDOWNS, Choice, hours_input, over_values, turning
from model.questions.saying import (
    ESTIMATE_CAUTION,
    capital,
    compared,
    costs_less,
    costs_less_plainly,
    period,
    stays_or_turns,
)
from model.uncertainty.searchable import Input
from model.wording import plain, to_a_tenth

LOST_DAY = later("Cost of a lost day")

MOST_A_DAY = 10_000.0
"""How far the cost of a lost day is looked at. [money/day]"""

PROBLEMS = {Technology.TWO_STROKE_DIRECT_INJECTED: 73, Technology.FOUR_STROKE_INJECTED: 51}
"""Problems told by owners per 100 engines in early ownership, boats registered 2007 and 2008; trade press. [-]"""


@dataclass(frozen=True)
class Breakdowns:
    """How often an engine is expected to fail over the ownership period, all engines of its kind on the boat."""

    repairs: float
    """Repairs. [-]"""
    days: float
    """Days lost to them. [day]"""
    paid: float
    """What the owner pays for them, the excess included, money of the day. [money]"""
    lost: float
    """What all lost days cost, visits included, money of the day. [money]"""
    most_often: str
    """The failure mode that comes most often."""


def breakdowns_of(choice: Choice) -> Breakdowns:
    """How often an engine is expected to fail."""
    case, expected = choice.cost.case, choice.cost.ownership.repairs
    by_mode = expected.failures.sum(axis=-1)
    modes = [mode.name for mode in case.engine.repair]
    return Breakdowns(
        float(by_mode.sum()),
        float(by_mode @ case.days_lost),
        float((expected.owner + expected.excess).sum()),
        choice.cost.elements[Element.DOWNTIME].nominal,
        modes[int(np.argmax(by_mode))] if modes else "",
    )


@question("breakdowns", later("How often does each break down, and what does the lost time cost?"))
def breakdowns(about: Asked) -> Answer:
    """Repairs expected of the engine and of the other, the owner's bill for them, and the days lost."""
    scenario, names = about.scenario, [about.engine, *([about.against] if about.against else [])]
    choices = [Choice(scenario, name, name) for name in names]
    if not any(choice.scenario.engine(choice.engine).repair for choice in choices):
        raise NotApplicableError(say("The file names no way to fail: add [[repair]] to the engines."))
    mine = breakdowns_of(choices[0])
    reasons = [_bill(choice) for choice in choices]
    if mine.most_often:
        reasons.append(say("Most often: {failure}.", failure=mine.most_often))
    published = [PROBLEMS.get(scenario.engine(name).technology) for name in names]
    if len(set(published)) > 1 and None not in published:
        reasons.append(
            say(
                "Owners of boats of 2007 and 2008 told of {one} and {other} problems per 100 engines in the first "
                "years (trade press; not these engines).",
                one=published[0],
                other=published[1],
            )
        )
    flip, found = None, None
    if len(choices) > 1:
        pair = [choice.only(BREAKDOWNS) for choice in choices]
        found = compared(about, pair[0], pair[1])
        flip = turning(hours_input(pair[0], pair[1]), stays_or_turns)
    words = {
        "period": period(scenario),
        "number": to_a_tenth(mine.repairs),
        "engine": choices[0].label,
        "days": to_a_tenth(mine.days),
        "amount": money(mine.lost, scenario),
    }
    return Answer(
        say(
            "{period} expect {number} {number:repair|repairs} of {engine} and {days} {days:day|days} lost to "
            "{number:it|them}; lost days cost {amount}.",
            **words,
        ),
        say("Expect some {number} {number:repair|repairs} while you own it, and {amount} for lost days.", **words),
        Figure(mine.repairs, say("repairs")),
        tuple(reasons),
        flip,
        None if found is None else found.chance,
        say(ESTIMATE_CAUTION),
        tuple(row for choice in choices for row in choice.rows(BREAKDOWNS)),
    )


def _bill(choice: Choice) -> str:
    """What breaking down costs the owner of an engine."""
    found = breakdowns_of(choice)
    return say(
        "{engine}: {number} {number:repair|repairs}, of which you pay {paid}; lost days {lost}.",
        engine=choice.label,
        number=to_a_tenth(found.repairs),
        paid=money(found.paid, choice.scenario),
        lost=money(found.lost, choice.scenario),
    )


def _one_and_several(about: Asked) -> tuple[Choice, Choice]:
    """The choice with fewer engines on the boat and the one with more: the file's own, or one engine and two of it."""
    scenario = about.scenario
    ranked = sorted(about.comparison.engines, key=lambda cost: cost.total.present_value)
    pair = [Choice(scenario, name, name) for name in (about.engine, about.against) if name is not None]
    if len({choice.cost.case.count for choice in pair}) < 2:
        fewest = min(cost.case.count for cost in ranked)
        few = next(cost for cost in ranked if cost.case.count == fewest)
        many = next((cost for cost in ranked if cost.case.count > fewest), None)
        if many is None:
            mine = Choice(scenario, about.engine, say("one engine"))
            one, several = (
                mine.changed({("engine", "per_boat"): fewest}, say("one engine")),
                mine.changed({("engine", "per_boat"): fewest + 1}, say("two engines of the kind")),
            )
            return one, several
        pair = [Choice(scenario, cost.name, cost.name) for cost in (few, many)]
    few_engines, more_engines = sorted(pair, key=lambda choice: choice.cost.case.count)
    return few_engines, more_engines


@question("one-or-two", later("One engine or two?"))
def one_or_two(about: Asked) -> Answer:
    """Fewer engines on the boat against more of them: what they cost to own, and what lost days they save."""
    scenario = about.scenario
    one, several = _one_and_several(about)
    found = compared(about, one, several)
    amount = money(found.difference, scenario)

    def at(day_cost: float) -> tuple[Choice, Choice]:
        changes: dict[tuple[str | int, ...], object] = {("downtime",): Downtime(day_cost=day_cost)}
        return one.changed(changes), several.changed(changes)

    today = 0.0 if scenario.downtime is None else scenario.downtime.day_cost
    span = (0.0, max(MOST_A_DAY, today))
    searched = Input(LOST_DAY, say("{currency} a day", currency=scenario.currency), today, span, over_values(at))
    reasons = (
        *(
            say(
                "{choice}: {bought} bought and fitted, {run} to run and service, {days} {days:day|days} lost.",
                choice=capital(choice.label),
                bought=money(_spent(choice, Element.PURCHASE, Element.FIT_UP), scenario),
                run=money(_spent(choice, *RUN), scenario),
                days=to_a_tenth(breakdowns_of(choice).days),
            )
            for choice in (one, several)
        ),
        say(
            "While one engine still runs, {share} of a lost day is counted as lost.",
            share=per_cent(scenario.use.share_with_one_left),
        ),
    )
    return Answer(
        costs_less(period(scenario), found, amount),
        costs_less_plainly(found, amount),
        Figure(found.difference, scenario.currency),
        reasons,
        turning(searched, stays_or_turns),
        found.chance,
        say("What a second engine is worth for coming home safely is not counted in money.")
        + " "
        + say(ESTIMATE_CAUTION),
        one.rows(tuple(Element)) + several.rows(tuple(Element)),
    )


RUN = (Element.FUEL, Element.TWO_STROKE_OIL, Element.SERVICE_PARTS, Element.SERVICE_LABOUR)
"""What running an engine takes."""


def _spent(choice: Choice, *elements: Element) -> float:
    """What some cost elements come to, present value. [money]"""
    return sum(choice.cost.elements[element].present_value for element in elements)


@question("best-age", later("When should I change the engine?"))
def best_age(about: Asked) -> Answer:
    """The age at which replacing an engine by one of its kind costs least a year."""
    scenario = about.scenario
    mean = scenario.mean_hours()
    engine = scenario.engine(about.engine)
    (life,) = economic_lives(scenario, engine, np.array([mean]))
    least, (low, high) = min(life.costs), life.about_as_good
    words = {
        "engine": engine.name,
        "hours": plain(round(mean, 1)),
        "age": years(life.best_age),
        "cost": money_a_year(least, scenario),
        "low": figures(low),
        "high": figures(high),
    }
    reasons = [
        say("At {hours} h a year, from {low} to {high} {high:year|years} it costs within 2 % of that.", **words),
        *(
            say("After {age} it costs {cost}.", age=years(age), cost=money_a_year(cost, scenario))
            for age, cost in ((life.ages[0], life.costs[0]), (life.ages[-1], life.costs[-1]))
        ),
    ]
    if life.best_age == life.ages[-1]:
        sentence = say("{engine} costs less a year the longer it is kept, up to {age}: then {cost}.", **words)
        plainly = say("Keep it: even at {age}, the longest looked at, a year costs least, {cost}.", **words)
    else:
        sentence = say("{engine} costs least a year when it is changed after {age}: {cost}.", **words)
        plainly = say("Change it after about {age}; that comes to {cost}.", **words)
    return Answer(
        sentence,
        plainly,
        Figure(life.best_age, say("year")),
        tuple(reasons),
        None,
        None,
        say(ESTIMATE_CAUTION),
        Choice(scenario, engine.name, engine.name).rows(tuple(Element)),
    )
