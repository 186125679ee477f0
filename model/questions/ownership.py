"""Questions about owning: which engine costs less, and from when on the dearer one pays."""

from model.break_even import break_even_years, first_cost, mid_year_cost
from model.inputs.terms import MONTHS_IN_A_YEAR, Element
from model.language import later, say
from model.questions.amounts import duration, money, years
from model.questions.answer import Answer, Chance, Figure
from model.questions.asking import Asked, question
from model.questions.choosing import (
    BREAKDOWNS,
    CAPITAL,
    SERVICE,
    Choice,
    can_be_tried,
    hours_input,
    pair_of,
    turning,
    two,
)
from model.questions.saying import (
    ESTIMATE_CAUTION,
    compared,
    costs_less,
    costs_less_plainly,
    period,
    stays_or_turns,
    told_chance,
)
from model.uncertainty.intervals import Estimate
from model.uncertainty.summary import summarise
from model.uncertainty.trials import run_trials

PAID_BACK = later("{dearer} has paid back by the sale in {number} of 100 trials ({trials} possible ownerships).")

BOUGHT_AND_SOLD = CAPITAL | {Element.RESALE}

PARTS_OF_THE_ANSWER = (
    (later("Bought, less what the sale brings"), BOUGHT_AND_SOLD),
    (later("Fuel and two-stroke oil"), frozenset({Element.FUEL, Element.TWO_STROKE_OIL})),
    (later("Service"), SERVICE),
    (later("Repairs, cover and lost days"), BREAKDOWNS),
)
"""What a difference between two engines is made of."""


def parts_of(one: Choice, other: Choice, elements: frozenset[Element]) -> tuple[float, float]:
    """What some cost elements come to for either choice, present value. [money]"""
    first, second = (
        sum(choice.cost.elements[element].present_value for element in elements) for choice in (one, other)
    )
    return first, second


@question("which-is-cheaper", later("Which is cheaper overall for my hours?"))
def which_is_cheaper(about: Asked) -> Answer:
    """Which of the two engines costs less over the ownership period, and in what."""
    scenario, pair = about.scenario, two(about)
    found = compared(about, *pair)
    amount = money(found.difference, scenario)
    reasons = []
    for name, elements in PARTS_OF_THE_ANSWER:
        one, other = parts_of(*pair, elements)
        reasons.append(
            say(
                "{matter}: {one} {amount}, {other} {others}.",
                matter=say(name),
                one=pair[0].label,
                amount=money(one, scenario),
                other=pair[1].label,
                others=money(other, scenario),
            )
        )
    return Answer(
        costs_less(period(scenario), found, amount),
        costs_less_plainly(found, amount),
        Figure(found.difference, scenario.currency),
        tuple(reasons),
        turning(hours_input(*pair), stays_or_turns),
        found.chance,
        say(ESTIMATE_CAUTION),
        pair[0].rows(tuple(Element)) + pair[1].rows(tuple(Element)),
    )


@question("when-it-pays", later("When, and from how many hours a year, does the dearer engine pay?"))
def when_it_pays(about: Asked) -> Answer:
    """After how many years the engine that is dearer to buy has paid back what it cost more."""
    scenario, pair = about.scenario, two(about)
    # Of two at one price the one that costs less in all is taken for the dearer: it has paid from the start.
    baseline, dearer = sorted((mid_year_cost(scenario, choice.engine) for choice in pair[::-1]), key=first_cost)
    names, broken = (dearer.name, baseline.name), break_even_years(dearer, baseline)
    running = {choice.engine: choice.total - parts_of(choice, choice, BOUGHT_AND_SOLD)[0] for choice in pair}
    saved = running[baseline.name] - running[dearer.name]
    reasons = (
        say(
            "{dearer} costs {extra} more to buy and fit than {other}.",
            dearer=dearer.name,
            extra=money(first_cost(dearer) - first_cost(baseline), scenario),
            other=baseline.name,
        ),
        say(
            "To run, service and repair over the period, {engine} costs {amount} less.",
            engine=dearer.name if saved >= 0.0 else baseline.name,
            amount=money(abs(saved), scenario),
        ),
        say("With interest counted: {when}.", when=_when(broken.discounted)),
        say("If both are sold then: {when}.", when=_when(broken.if_sold)),
    )
    unsold = tuple(element for element in Element if element is not Element.RESALE)
    sentence, plainly, figure = _paying(names, broken.nominal, pair)
    return Answer(
        sentence,
        plainly,
        figure,
        reasons,
        turning(hours_input(*pair), stays_or_turns),
        _chance_of_paying(about, pair, names),
        say(ESTIMATE_CAUTION),
        pair[0].rows(unsold) + pair[1].rows(unsold),
    )


def _when(found: float | None) -> str:
    """From when on a dearer engine has paid back, as the end of a line."""
    if found is None:
        return say("never within the period")
    return say("from the start") if found == 0.0 else say("after {years}", years=duration(found))


def _paying(names: tuple[str, str], found: float | None, pair: tuple[Choice, Choice]) -> tuple[str, str, Figure]:
    """The answer, the same in short, and its figure: years, or what is still to be paid back at the sale."""
    scenario = pair[0].scenario
    dearer, baseline = names
    if found is None:
        behind = {choice.engine: _without_the_sale(choice) for choice in pair}
        left = behind[dearer] - behind[baseline]
        words = {"dearer": dearer, "other": baseline, "amount": money(left, scenario)}
        length = years(scenario.ownership.years)
        return (
            say(
                "{dearer} does not pay back its higher price over {other} within {years}: {amount} are still to come.",
                years=length,
                **words,
            ),
            say("It does not pay while you own it: {dearer} stays {amount} behind {other}.", **words),
            Figure(left, scenario.currency),
        )
    if found == 0.0:
        return (
            say("{dearer} costs no more than {other} from the start: after 0 years.", dearer=dearer, other=baseline),
            say("It pays from the first day, after 0 years: {dearer} costs no more.", dearer=dearer),
            Figure(0.0, say("year")),
        )
    return (
        say(
            "{dearer} has paid back its higher price over {other} after {years}.",
            dearer=dearer,
            other=baseline,
            years=duration(found),
        ),
        say("After {years} the dearer one, {dearer}, has paid for itself.", years=duration(found), dearer=dearer),
        Figure(found, say("year")) if found >= 1.0 else Figure(found * MONTHS_IN_A_YEAR, say("month")),
    )


def _without_the_sale(choice: Choice) -> float:
    """What a choice has cost by the sale, before anything is got for it, money of the day. [money]"""
    return choice.cost.total.nominal - choice.cost.elements[Element.RESALE].nominal


def _chance_of_paying(about: Asked, pair: tuple[Choice, Choice], names: tuple[str, str]) -> Chance | None:
    """In how many trials the dearer engine has paid back by the sale."""
    scenario = pair_of(pair)
    if not can_be_tried(scenario):
        return None
    found = summarise(run_trials(scenario, about.trials, about.seed)).pair
    assert found is not None
    is_same = found.challenger == names[0]
    share = Estimate(1.0 - found.never.value, found.never.standard_error) if is_same else found.never
    return told_chance(about, share, PAID_BACK, dearer=names[0])
