"""Words that the answers share: amounts, units, periods, who costs less, how sure, and where it turns."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from model.inputs.scenario import Scenario
from model.inputs.terms import Servicing
from model.language import later, say
from model.questions.amounts import in_unit, of_a_hundred, years
from model.questions.answer import Chance
from model.questions.asking import Asked
from model.questions.choosing import Choice, share_of_trials
from model.uncertainty.intervals import Estimate, mean_of
from model.uncertainty.searchable import Input
from model.wording import (
    CAUTIONS,
    OWN_SERVICE_CAUTION,
    SKIPPED_SERVICE_CAUTION,
    hours_in_words,
    whole,
)

SURE = 0.75
"""Below this share of the trials, zero lies within the middle half of the differences: "about the same". [-]"""

SMALL = 0.01
"""Differences below this share of the lower cost are "about the same" too, whatever varies. [-]"""

CHEAPER = later("{choice}: the cheaper one in {number} of 100 trials ({trials} possible ownerships).")
"""In how many trials a choice is the cheaper one."""

SERVICE_CAUTION = CAUTIONS[0]
ESTIMATE_CAUTION = CAUTIONS[1]


def capital(words: str) -> str:
    """
    Words at the begin of a sentence.

    >>> capital("the used one")
    'The used one'
    """
    return words[:1].upper() + words[1:]


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
    told = told_chance(about, share, CHEAPER, choice=capital(cheaper.label))
    return Compared(cheaper, dearer, difference, share, told, verdict(difference, cheaper.total, share))


def told_chance(about: Asked, share: Estimate | None, sentence: str, **words: object) -> Chance | None:
    """
    A share of the trials with its sentence.

    Parameters
    ----------
    about : Asked
    share : Estimate or None
        The share; None where nothing varies. [-]
    sentence : str
        Marked with `later`; `{number}` is of a hundred trials, `{trials}` how many there were.
    **words : object
        What else stands in it.
    """
    if share is None:
        return None
    said = say(sentence, number=of_a_hundred(share.value), trials=whole(about.trials), **words)
    return Chance(share.value, share.standard_error, about.trials, about.seed, said)


def share_of(holds: NDArray[np.bool_] | None) -> Estimate | None:
    """In which share of the trials something holds, from one truth for each; None without trials. [-]"""
    return None if holds is None else mean_of(holds.astype(float))


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
    return say("{one} is the cheaper one for you, by about {amount}.", one=capital(found.cheaper.label), amount=amount)


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


def servicing_caution(scenario: Scenario) -> str:
    """The caution that belongs to how a scenario is serviced."""
    extra = {Servicing.OWN: OWN_SERVICE_CAUTION, Servicing.SKIPPED: SKIPPED_SERVICE_CAUTION}
    told = extra.get(scenario.servicing)
    return say(SERVICE_CAUTION) if told is None else f"{say(told)} {say(SERVICE_CAUTION)}"
