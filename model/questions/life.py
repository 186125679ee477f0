"""Questions about hours: how long until it is worn, whether the hours are normal."""

from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from model.inputs.terms import MONTHS_IN_A_YEAR, Element
from model.language import later, say
from model.questions.amounts import figures, in_unit, years
from model.questions.answer import Answer, Chance, Figure, Flip, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import HOURS, HOURS_A_YEAR, Choice, hours_input, turning, two
from model.questions.saying import SERVICE_CAUTION, compared, share_of, stays_or_turns, told_chance
from model.uncertainty.sampling import sample
from model.uncertainty.streams import CHUNK, Streams
from model.usage import hours_run
from model.wording import plain, to_a_tenth, whole

Amounts = NDArray[np.float64]

WORN_AT = 2500.0
"""Surveyors call 2,000 to 2,500 h high for a petrol engine; generic figures of the trade, no maker's data. [h]"""

REPOWERED_AT = (3000.0, 3500.0)
"""Charter boats are repowered at these hours; generic figures of the trade. [h]"""

RECREATIONAL_HOURS = 34.8
"""Recreational outboards, US EPA nonroad data, ACTIVITY.DAT (2008a inputs). [h/year]"""

CHARTER_HOURS = (1200.0, 1500.0)
"""Charter boats; generic figures of the trade. [h/year]"""

HOURS_A_MONTH = ((10.0, 0.65), (25.0, 0.23), (float("inf"), 0.12))
"""Up to so many hours a month, and the share of US boaters that run them: US BTS OmniStats 2002. [h/month, -]"""


LASTS = later("It lasts up to the sale in {number} of 100 trials ({trials} possible ownerships).")


@question("worn-out", later("How long until it is worn out?"))
def worn_out(
    about: Asked,
    life: Annotated[
        float,
        Allowed(later("Meter hours at which you call it worn; what surveyors call high if none"), 1.0, 100_000.0, "h"),
    ] = WORN_AT,
) -> Answer:
    """After how many years the meter reaches the hours at which an engine is called worn."""
    scenario, mine = about.scenario, Choice(about.scenario, about.engine, about.engine)
    start, mean = mine.cost.case.start[0], scenario.mean_hours()
    if mean <= 0.0:
        raise NotApplicableError(say("No hours are run, so the meter stands still: set use.hours_per_year."))
    if start >= life:
        raise NotApplicableError(
            say(
                "{engine} already stands at {meter} h: ask with a larger --life.",
                engine=mine.label,
                meter=figures(start),
            )
        )
    length, left = scenario.ownership.years, life - start
    at_sale = start + float(mine.cost.ownership.hours.sum())
    words = {"engine": mine.label, "life": figures(life), "years": years(left / mean), "hours": plain(round(mean, 1))}
    reasons = (
        say(
            "{left} h are left from {meter} h, at {hours} h a year.",
            left=figures(left),
            meter=figures(start),
            hours=words["hours"],
        ),
        say("At the sale after {years} it stands at {meter} h.", years=years(length), meter=figures(at_sale)),
        say(
            "Trade figures, no maker's: surveyors call {high} h high, charter boats change engines at {low} to "
            "{most} h; engines kept in tune have run far longer.",
            high=figures(WORN_AT),
            low=figures(REPOWERED_AT[0]),
            most=figures(REPOWERED_AT[1]),
        ),
    )
    return Answer(
        say("At {hours} h a year {engine} reaches {life} h after {years}.", **words),
        say("It has about {years} in it at your hours.", **words),
        Figure(left / mean, say("year")),
        reasons,
        _worn_above(mean, left / length),
        _chance_of_lasting(about, mine, left),
        say(SERVICE_CAUTION),
        mine.rows((Element.FUEL, Element.RESALE)),
    )


def _worn_above(mean: float, turns: float) -> Flip:
    """The hours a year above which the engine is worn before the sale."""
    value, today = in_unit(turns, HOURS_A_YEAR), in_unit(mean, HOURS_A_YEAR)
    sentence = say("Above {value} it is worn before the sale (now {today}).", value=value, today=today)
    return Flip(say(HOURS), say(HOURS_A_YEAR), mean, turns, sentence)


def _chance_of_lasting(about: Asked, mine: Choice, left: float) -> Chance | None:
    """In how many trials the meter stays below the hours at which an engine is worn, up to the sale."""
    if mine.scenario.use.spread is None:
        return None
    streams, found = Streams(about.seed), list[Amounts]()
    for chunk in range(-(-about.trials // CHUNK)):
        hours = sample([mine.cost.case], streams, chunk).hours
        found.append(hours_run(hours, mine.cost.case.years).sum(axis=-1))
    lasts = np.concatenate(found)[: about.trials] <= left
    return told_chance(about, share_of(lasts), LASTS)


@question("normal-hours", later("Are my hours a year normal?"))
def normal_hours(about: Asked) -> Answer:
    """The hours a year against published use, and whether other hours would change which engine costs less."""
    scenario = about.scenario
    mean = scenario.mean_hours()
    monthly = mean / MONTHS_IN_A_YEAR
    most, share = next((limit, share) for limit, share in HOURS_A_MONTH if monthly <= limit)
    band = (
        say("more than {low} h", low=plain(HOURS_A_MONTH[-2][0]))
        if most == float("inf")
        else say("up to {most} h", most=plain(most))
    )
    reasons = [
        say(
            "Over twelve months that is {monthly} h a month: of US boaters {share} in 100 reported {band} a month "
            "(US Bureau of Transportation Statistics, 2002).",
            monthly=to_a_tenth(monthly),
            share=whole(100.0 * share),
            band=band,
        ),
        say(
            "Charter boats run {low} to {high} h a year (trade figures).",
            low=figures(CHARTER_HOURS[0]),
            high=figures(CHARTER_HOURS[1]),
        ),
    ]
    flip, found = None, None
    if about.against is not None:
        pair = two(about)
        found = compared(about, *pair)
        flip = turning(hours_input(*pair), stays_or_turns)
    return Answer(
        *_against_usual(mean),
        tuple(reasons),
        flip,
        None if found is None else found.chance,
        None,
        Choice(scenario, about.engine, about.engine).rows((Element.FUEL,)),
    )


def _against_usual(mean: float) -> tuple[str, str, Figure]:
    """Hours against usual ones: the sentence, the short one, and their figure, which is the hours where it reads 1."""
    times, words = mean / RECREATIONAL_HOURS, {"hours": plain(round(mean, 1)), "usual": plain(RECREATIONAL_HOURS)}
    if round(times, 1) == 1.0:
        told = say(
            "{hours} h a year are about the same as the {usual} h that recreational outboards run on average (US EPA).",
            **words,
        )
        plainly = say("That is quite usual: leisure boats run about {usual} h a year.", usual=words["usual"])
        return told, plainly, Figure(mean, say(HOURS_A_YEAR))
    told = say(
        "{hours} h a year are {times} {times:time|times} the {usual} h that recreational outboards run on average "
        "(US EPA).",
        **words,
        times=to_a_tenth(times),
    )
    return told, _plainly(times), Figure(times, say("times"))


def _plainly(times: float) -> str:
    """Hours against usual ones, as short as can be."""
    shown = to_a_tenth(times)
    if times < 0.5:
        return say("That is little: {times} {times:time|times} what leisure boats run.", times=shown)
    if times <= 2.0:
        return say("That is quite usual: {times} {times:time|times} what leisure boats run.", times=shown)
    return say("That is a lot for leisure: {times} {times:time|times} what such boats run.", times=shown)
