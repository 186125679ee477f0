"""Words that the answers share: amounts, units, periods, who costs less, how sure, and where it turns."""

from dataclasses import dataclass
from enum import Enum
from math import floor, log10

from model.inputs.scenario import Scenario
from model.inputs.terms import Servicing
from model.language import later, say
from model.questions.answer import Chance
from model.questions.asking import Asked
from model.questions.choosing import Choice, chance, share_of_trials
from model.uncertainty.intervals import Estimate
from model.uncertainty.searchable import Input
from model.wording import (
    CAUTIONS,
    OWN_SERVICE_CAUTION,
    SKIPPED_SERVICE_CAUTION,
    cents,
    hours_in_words,
    to_a_tenth,
    whole,
)

DIGITS = 3
"""Digits of an amount in a sentence; more would claim to know more than the trials support."""

SURE = 0.75
"""Below this share of the trials, zero lies within the middle half of the differences: "about the same". [-]"""

SMALL = 0.01
"""Differences below this share of the lower cost are "about the same" too, whatever varies. [-]"""

HOURS_A_YEAR = later("h a year")
SERVICE_CAUTION = CAUTIONS[0]
ESTIMATE_CAUTION = CAUTIONS[1]


def rounded(amount: float, digits: int = DIGITS) -> float:
    """
    An amount to some digits.

    >>> rounded(24882.0), rounded(1231.4), rounded(42.31), rounded(0.0)
    (24900.0, 1230.0, 42.3, 0.0)
    """
    if amount == 0.0:
        return 0.0
    places = digits - 1 - floor(log10(abs(amount)))
    return float(round(amount, places))


def figures(amount: float) -> str:
    """
    An amount for a sentence: three digits, cents below ten.

    >>> figures(24882.0), figures(587.3), figures(42.31), figures(3.456), figures(0.0)
    ('24,900', '587', '42', '3.46', '0')
    """
    if 0.0 < abs(amount) < 9.995:
        return cents(amount)
    return whole(rounded(amount))


def money(amount: float, scenario: Scenario) -> str:
    """An amount with its currency."""
    return f"{figures(amount)} {scenario.currency}"


def a_year(scenario: Scenario) -> str:
    """The unit of money a year."""
    return say("{currency} a year", currency=scenario.currency)


def money_a_year(amount: float, scenario: Scenario) -> str:
    """An amount a year with its unit."""
    return f"{figures(amount)} {a_year(scenario)}"


def an_hour(scenario: Scenario) -> str:
    """The unit of money an hour."""
    return say("{currency} an hour", currency=scenario.currency)


def money_an_hour(amount: float, scenario: Scenario) -> str:
    """An amount an hour with its unit."""
    return f"{cents(amount)} {an_hour(scenario)}"


def a_litre(scenario: Scenario) -> str:
    """The unit of money a litre."""
    return say("{currency} a litre", currency=scenario.currency)


def years(number: float) -> str:
    """
    A number of years with its unit.

    >>> years(1.0), years(5.32), years(8)
    ('1 year', '5.3 years', '8 years')
    """
    shown = to_a_tenth(number)
    return say("1 year") if shown == "1" else say("{number} years", number=shown)


def per_cent(share: float) -> str:
    """A share in per cent, whole."""
    return say("{number} %", number=whole(100.0 * share))


def of_a_hundred(share: float) -> str:
    """
    A share of trials, in trials of a hundred; not quite none or all says so.

    >>> of_a_hundred(0.581), of_a_hundred(0.999), of_a_hundred(0.001), of_a_hundred(1.0)
    ('58', 'over 99', 'under 1', '100')
    """
    if 0.0 < share < 0.005:
        return say("under {number}", number=1)
    return say("over {number}", number=99) if 0.995 <= share < 1.0 else whole(100.0 * share)


def period(scenario: Scenario) -> str:
    """The ownership period and the hours, as a sentence begins."""
    length = scenario.ownership.years
    return say("Over {years} at {hours}", years=years(length), hours=hours_in_words(scenario.hours(), length))


class Verdict(Enum):
    """What may be said of a difference."""

    APART = "apart"
    """One costs less."""
    CLOSE = "close"
    """The difference lies within the spread."""
    SAME = "same"
    """There is none."""


def verdict(difference: float, base: float, share: Estimate | None) -> Verdict:
    """
    What may be said of a difference between two choices.

    Parameters
    ----------
    difference : float
        Between their costs. [money]
    base : float
        The lower of them. [money]
    share : Estimate or None
        In which share of the trials the cheaper one costs less; None where nothing varies. [-]

    Returns
    -------
    Verdict
    """
    if abs(difference) <= 1e-9 * max(1.0, abs(base)):
        return Verdict.SAME
    if abs(difference) < SMALL * abs(base) or (share is not None and share.value < SURE):
        return Verdict.CLOSE
    return Verdict.APART


@dataclass(frozen=True)
class Compared:
    """Two choices compared, ready to be told."""

    cheaper: Choice
    """The one that costs less on the stated figures."""
    dearer: Choice
    """The other."""
    difference: float
    """What the other costs more, present value. [money]"""
    share: Estimate | None
    """In which share of the trials the cheaper one costs less; None where nothing varies. [-]"""
    chance: Chance | None
    """The same with its sentence."""
    verdict: Verdict
    """What may be said of it."""


def compared(about: Asked, one: Choice, other: Choice) -> Compared:
    """Compare two choices on the stated figures and over the trials."""
    cheaper, dearer = sorted((one, other), key=lambda choice: choice.total)
    difference = dearer.total - cheaper.total
    share = share_of_trials(about, cheaper, dearer)
    told = chance(about, share, lambda found, trials: comes_out_cheaper(cheaper.label, found, trials))
    return Compared(cheaper, dearer, difference, share, told, verdict(difference, cheaper.total, share))


def comes_out_cheaper(label: str, share: float, trials: int) -> str:
    """In how many trials a choice is the cheaper one, in a sentence."""
    return say(
        "{choice}: the cheaper one in {number} of 100 trials ({trials} possible ownerships).",
        choice=label,
        number=of_a_hundred(share),
        trials=whole(trials),
    )


def costs_less(matter: str, found: Compared, amount: str) -> str:
    """
    Which of two choices costs less in some matter, in a sentence.

    Parameters
    ----------
    matter : str
        What is compared, as a sentence begins: "Over 8 years at 120 h a year".
    found : Compared
    amount : str
        The difference with its unit.
    """
    if found.verdict is Verdict.SAME:
        return say(
            "{matter} {one} and {other} cost the same: {amount} apart.",
            matter=matter,
            one=found.cheaper.label,
            other=found.dearer.label,
            amount=amount,
        )
    if found.verdict is Verdict.CLOSE:
        return say(
            "{matter} {one} and {other} cost about the same: {amount} less for {one}, {why}.",
            matter=matter,
            one=found.cheaper.label,
            other=found.dearer.label,
            amount=amount,
            why=why_about_the_same(found),
        )
    return say(
        "{matter} {one} costs {amount} less than {other}.",
        matter=matter,
        one=found.cheaper.label,
        other=found.dearer.label,
        amount=amount,
    )


def why_about_the_same(found: Compared) -> str:
    """Why a difference is none to rely on, as the end of a sentence."""
    if found.share is not None and found.share.value < SURE:
        turned = of_a_hundred(1.0 - found.share.value)
        return say("but the other way round in {number} of 100 trials", number=turned)
    return say("not one part in a hundred of the cost")


def costs_less_plainly(found: Compared, amount: str) -> str:
    """Which of two choices costs less, as short as can be."""
    if found.verdict is not Verdict.APART:
        return say(
            "About the same money either way, {one} or {other}: some {amount} apart. Choose by what else matters.",
            one=found.cheaper.label,
            other=found.dearer.label,
            amount=amount,
        )
    return say("{one} is the cheaper one for you, by about {amount}.", one=found.cheaper.label, amount=amount)


def stays_or_turns(one: Input, value: float | None) -> str:
    """Where an input turns an answer, in a sentence."""
    name, today = say(one.name), in_unit(one.today, one.unit)
    if value is None:
        low, high = (in_unit(end, one.unit) for end in one.span)
        return say(
            "{input}: the answer stays the same from {low} to {high} (now {today}).",
            input=name,
            low=low,
            high=high,
            today=today,
        )
    if value < one.today:
        return say(
            "{input}: the answer turns below {value} (now {today}).",
            input=name,
            value=in_unit(value, one.unit),
            today=today,
        )
    return say(
        "{input}: the answer turns above {value} (now {today}).",
        input=name,
        value=in_unit(value, one.unit),
        today=today,
    )


def in_unit(number: float, unit: str) -> str:
    """A value of an input with its unit: hours and years as they are told, money to three digits."""
    if unit == HOURS_A_YEAR:
        return say("{number} h a year", number=figures(number) if number > 10.0 else to_a_tenth(number))
    return years(number) if unit == "year" else f"{figures(number)} {unit}".rstrip()


def servicing_caution(scenario: Scenario) -> str:
    """The caution that belongs to how a scenario is serviced."""
    extra = {Servicing.OWN: OWN_SERVICE_CAUTION, Servicing.SKIPPED: SKIPPED_SERVICE_CAUTION}
    told = extra.get(scenario.servicing)
    return say(SERVICE_CAUTION) if told is None else f"{say(told)} {say(SERVICE_CAUTION)}"
