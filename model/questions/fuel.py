"""Questions about fuel: at every speed, and at other prices."""

from dataclasses import dataclass, replace
from typing import Annotated

from model.elements.fuel import running_bands
from model.inputs.owner import Band
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.language import later, say
from model.quantities import as_shown, with_unit
from model.questions.amounts import a_litre, money, money_for_fuel, per_cent
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import Choice, over_values, price_input, turning, two
from model.questions.saying import (
    ESTIMATE_CAUTION,
    Compared,
    Verdict,
    compared,
    costs_less,
    costs_less_plainly,
    period,
    stays_or_turns,
)
from model.uncertainty.searchable import Input
from model.wording import plain, whole

FUEL_PRICE = later("Fuel price")
SPEED = later("Engine speed, were it the same all the time")
OF_RATED_SPEED = later("of rated speed")

LOWEST_SPEED = 0.1
"""Share of rated speed from which the search goes; below idle the flow is that of idle. [-]"""


def at_speed(scenario: Scenario, speed: float) -> Scenario:
    """The scenario run at one speed all the time."""
    return scenario.changed({("use", "band"): (Band(speed=speed, share=1.0),), ("use", "read_out"): None})


@question("at-every-speed", later("Does that hold at trolling, cruising and full throttle?"))
def at_every_speed(
    about: Asked,
    trolling: Annotated[float, Allowed(later("Trolling, share of rated engine speed"), 0.01, 1.0)] = 0.2,
    cruising: Annotated[float, Allowed(later("Cruising, share of rated engine speed"), 0.01, 1.0)] = 0.65,
) -> Answer:
    """Which engine costs less when every hour is run at trolling, at cruising, at full throttle."""
    scenario, pair = about.scenario, two(about)
    top = min(scenario.engine(choice.engine).fuel.top_speed for choice in pair)
    speeds = {
        say("trolling"): min(trolling, top),
        say("cruising"): min(cruising, top),
        say("full throttle"): top,
    }

    def at(speed: float) -> tuple[Choice, Choice]:
        run = at_speed(scenario, speed)
        return Choice(run, pair[0].engine, pair[0].label), Choice(run, pair[1].engine, pair[1].label)

    leads = {name: at(speed)[1].total - at(speed)[0].total for name, speed in speeds.items()}
    where = min(leads, key=lambda name: leads[name])
    found = compared(about, *at(speeds[where]))
    mean = sum(speed * share for speed, share in running_bands(scenario.use))
    span = (LOWEST_SPEED, top)
    today = min(max(mean, span[0]), span[1])
    lead = Lead(pair[0].label, where, leads, found)
    return Answer(
        _at_all_or_some(lead, scenario),
        _plainly(lead, scenario),
        Figure(found.difference, scenario.currency),
        tuple(_at_one_speed(at(speed), name, speed) for name, speed in speeds.items()),
        turning(Input(SPEED, say(OF_RATED_SPEED), today, span, over_values(at)), stays_or_turns),
        found.chance,
        say(ESTIMATE_CAUTION),
        pair[0].rows((Element.FUEL, Element.TWO_STROKE_OIL)) + pair[1].rows((Element.FUEL, Element.TWO_STROKE_OIL)),
    )


@dataclass(frozen=True)
class Lead:
    """By how much the engine that is cheaper today leads at each speed."""

    engine: str
    """The engine that is cheaper today."""
    where: str
    """The speed at which it leads by least."""
    by_speed: dict[str, float]
    """What the other costs more at each speed. [money]"""
    there: Compared
    """Both at the speed of the least lead."""


def _at_all_or_some(lead: Lead, scenario: Scenario) -> str:
    """The answer: at which of the speeds the engine that is cheaper today costs less."""
    words = {
        "period": period(scenario),
        "engine": lead.engine,
        "where": lead.where,
        "amount": money(lead.there.difference, scenario),
    }
    holds = [name for name, less in lead.by_speed.items() if less >= 0.0 and name != lead.where]
    at = say("{one} and {other}", one=holds[0], other=holds[1]) if len(holds) > 1 else "".join(holds)
    if lead.there.verdict is not Verdict.APART:
        if not holds:
            return say("{period} neither engine leads for sure at a single speed: at {where} {amount} apart.", **words)
        return say(
            "{period} {engine} costs less at {holds}; at {where} the two cost about the same, {amount} apart.",
            holds=at,
            **words,
        )
    if lead.by_speed[lead.where] >= 0.0:
        return say(
            "{period} {engine} costs less at trolling, cruising and full throttle; by least at {where}, {amount}.",
            **words,
        )
    other = lead.there.cheaper.label
    if not holds:
        return say(
            "{period} {engine} costs less with speeds mixed as they are alone; at {where} {other} costs {amount} less.",
            other=other,
            **words,
        )
    return say(
        "{period} {engine} costs less at {holds}, but at {where} {other} costs {amount} less.",
        holds=at,
        other=other,
        **words,
    )


def _plainly(lead: Lead, scenario: Scenario) -> str:
    """The answer as short as can be."""
    amount = money(lead.there.difference, scenario)
    if lead.there.verdict is not Verdict.APART:
        return say("Nearly: at {where} the two cost about the same, {amount} apart.", where=lead.where, amount=amount)
    if lead.by_speed[lead.where] >= 0.0:
        return say(
            "Yes: {engine} costs less at any of these speeds, by {amount} or more.", engine=lead.engine, amount=amount
        )
    return say(
        "Not at {where}: there {other} costs {amount} less.",
        where=lead.where,
        other=lead.there.cheaper.label,
        amount=amount,
    )


def _at_one_speed(pair: tuple[Choice, Choice], name: str, speed: float) -> str:
    """What both engines burn and cost at one speed."""
    (one, other), scenario = pair, pair[0].scenario
    cheaper = one if one.total <= other.total else other
    return say(
        "{name}, {speed} of rated: {one} burns {litres}, {other} {others}; {cheaper} costs {amount} less.",
        name=name.capitalize(),
        speed=per_cent(speed),
        one=one.label,
        litres=with_unit(one.cost.case.litres_an_hour, "L/h"),
        other=other.label,
        others=with_unit(other.cost.case.litres_an_hour, "L/h"),
        cheaper=cheaper.label,
        amount=money(abs(other.total - one.total), scenario),
    )


@question("fuel-price", later("What if fuel gets dearer or cheaper?"))
def fuel_price(
    about: Asked,
    change: Annotated[
        float, Allowed(later("How far the price goes up, and down"), 0.0, 1000.0, later("per cent"))
    ] = 30.0,
) -> Answer:
    """Which engine costs less with dearer fuel and with cheaper fuel."""
    scenario, pair, today = about.scenario, two(about), about.scenario.prices.fuel
    if today <= 0.0:
        raise NotApplicableError(say("The file has no price of fuel: add prices.fuel, a price a litre."))

    def at(price: float) -> tuple[Choice, Choice]:
        changes: dict[tuple[str | int, ...], object] = {("prices", "fuel"): price}
        return pair[0].changed(changes), pair[1].changed(changes)

    up, down = today * (1.0 + change / 100.0), today * max(1.0 - change / 100.0, 0.0)
    found = compared(about, *at(up))
    litres = [choice.cost.fuel_litres / scenario.ownership.years for choice in pair]
    reasons = (
        _with_fuel_at(at(today), today),
        _with_fuel_at(at(down), down),
        say(
            "{one} burns {litres} a year, {other} {others}.",
            one=pair[0].label,
            litres=with_unit(litres[0], "L", whole),
            other=pair[1].label,
            others=with_unit(litres[1], "L", whole),
        ),
    )
    amount = money(found.difference, scenario)
    return Answer(
        costs_less(
            say("With fuel {change} % dearer, at {price},", change=plain(change), price=money_for_fuel(up, scenario)),
            found,
            amount,
        ),
        costs_less_plainly(found, amount),
        Figure(found.difference, scenario.currency),
        reasons,
        turning(price_input(FUEL_PRICE, a_litre(scenario), today, 10.0, at), _price_turns),
        found.chance,
        say(ESTIMATE_CAUTION),
        at(up)[0].rows((Element.FUEL,)) + at(up)[1].rows((Element.FUEL,)),
    )


def _price_turns(one: Input, value: float | None) -> str:
    """Where the price of fuel turns the answer, in a sentence."""
    today, low, high = (as_shown(price, "money/L") for price in (one.today, *one.span))
    told = replace(one, today=today, span=(low, high))
    return stays_or_turns(told, None if value is None else as_shown(value, "money/L"))


def _with_fuel_at(pair: tuple[Choice, Choice], price: float) -> str:
    """Which of two engines costs less with fuel at a price."""
    cheaper, dearer = sorted(pair, key=lambda choice: choice.total)
    return say(
        "At {price} {engine} costs {amount} less than {other}.",
        price=money_for_fuel(price, cheaper.scenario),
        engine=cheaper.label,
        amount=money(dearer.total - cheaper.total, cheaper.scenario),
        other=dearer.label,
    )
