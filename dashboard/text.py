"""Labels and sentences of the pages; sentences with figures of money are the model's."""

import re
from collections.abc import Sequence

from dashboard.rules_told import rule_told
from model.inputs.problems import Problem
from model.language import later, say, separators, spoken
from model.quantities import unit_shown
from model.sweep import Stretch
from model.wording import period as years_of
from model.wording import whole

BEFORE_A_UNIT = re.compile(r"(?<=\d) (?=(?:%|h|kW|hp|L|[A-Z]{3})(?!\w))")
"""The space between a number and a unit or a currency."""

APP = later("What an outboard costs over the years")
HOURS = later("Running hours")
HOURS_UNIT = later("h a year")
YEARS = later("Ownership period")
YEARS_UNIT = later("years")
SPREAD = later("Spread of the hours")
SPREAD_UNIT = later("% of the mean")
HABITS = later("How it is run")
FUEL = later("Fuel price")
LABOUR = later("Workshop labour")
ENGINES = later("Engines compared")
CONTROLS = later("What if")
MORE = later("More: spread, labour, running, engines")
CHANGE = later("Change hours, years, prices, engines")
CLOSE = later("Done")
RESTORE = later("Back to the file")
SCHEME_SWITCH = later("Light look or dark look")
LIGHT = later("Light look")
DARK = later("Dark look")

NOT_A_NUMBER = later("A number is needed.")
NO_ENGINE = later("At least one engine stays: choose one.")
NOT_COUNTED = later("The answer below does not count this yet: {fields}. It is the last one that could be worked out.")
TROUBLE = later("Something went wrong on our side; what you see is the last good answer. Change a value to try again.")

ALL_FIGURES = later("All figures")
GOOD_TO_KNOW = later("Good to know")

COST_BY_ELEMENT = later("Cost by element over the ownership period, less resale; {currency}, present value")
OVER_HOURS_WORD = later("Hours a year")
COST_SINCE_DELIVERY = later("Cost since delivery, the sale at the end; {currency}, money of the day")
BAND = later("{engine}, 80 % of the trials")
BANDS = later("; shaded: 80 % of the trials")
OVER_HOURS = later("What each engine costs more than the cheapest; {currency} over the ownership period, present value")
CHEAPEST = later("Cheapest")
MORE_THAN_CHEAPEST = later("{currency} more than the cheapest")
SINCE_DELIVERY = later("Years since delivery")
TODAY = later("{hours} h, as set")
TOTAL_MARK = later("Total")
HOURS_A_YEAR = later("Running hours a year")
SALE = later("sale")
AFTER_THE_SALE = later("After the sale")
TOTAL = later("Total, present value")
TOTAL_NOMINAL = later("Total, money of the day")
A_YEAR = later("A year, in delivery-day money")
AN_HOUR = later("An hour, in delivery-day money")
PAID_BY_WARRANTY = later("Paid by the warranty, present value")
ESTIMATE = later(" (fuel: estimate)")
ONE_ENGINE_SINCE_DELIVERY = later("What the engine has cost since delivery")


A_MONTH = 1.0 / 12.0
"""Under which a time is no number of years. [year]"""


def said_by_the_browser() -> dict[str, str]:
    """What the pages say without asking the server, by the name under which `assets/` knows it."""
    return {
        "copied": say("Link copied"),
        "group": separators(spoken().locale)[0],
        "decimal": separators(spoken().locale)[1],
        "onlyLibrary": say("A link carries a scenario of the library only: save the file and send that."),
        "tooLong": say("These are more changes than a link can carry: save the file and send that."),
        "copyThis": say("Copy this link"),
        "tooLarge": say("This file is too large for a scenario file."),
        "noText": say("This file is no text in UTF-8, so it is no scenario file."),
    }


def fuel_burned() -> str:
    """The fuel of a whole ownership, with the unit in which it is shown."""
    return say("Fuel, {unit}", unit=unit_shown("L"))


def co2() -> str:
    """The carbon dioxide of it."""
    return say("CO2, {unit}", unit=unit_shown("kg"))


def per_hour(currency: str) -> str:
    """Unit of a price of labour."""
    return say("{currency} an hour", currency=currency)


def allowed(problem: Problem) -> str:
    """
    What is told at a field whose value cannot be, in the model's words.

    >>> allowed(Problem("boat.toml", "prices.fuel", "-1", "a number, 0 or more: Price of fuel. [money/L]"))
    'Allowed: a number, 0 or more.'
    """
    return say("Allowed: {rule}.", rule=rule_told(problem.allowed))


def not_counted(fields: Sequence[str]) -> str:
    """What is told above the last good answer."""
    return say(NOT_COUNTED, fields=", ".join(fields)) if fields else ""


def around(stretches: Sequence[Stretch], hours: float) -> str:
    """
    Which engine is cheapest below and above the hours as they are set, in a sentence.

    >>> around((Stretch(0.0, 56.5, "Two"), Stretch(56.5, 500.0, "Four")), 120.0)
    'Below 56 h a year Two is the cheapest.'
    >>> around((Stretch(0.0, 0.2, "Two"), Stretch(0.2, 500.0, "Four")), 120.0)
    'It is the cheapest at any hours from 0 to 500 a year.'
    """
    seen = [one for one in stretches if whole(one.begin) != whole(one.end)]
    stretches, last = seen or stretches, len(seen or stretches) - 1
    at = next((index for index, stretch in enumerate(stretches) if hours <= stretch.end), last)
    known: dict[str, object] = {"low": whole(stretches[at].begin), "high": whole(stretches[at].end)}
    known |= {"below": stretches[max(at - 1, 0)].engine, "above": stretches[min(at + 1, last)].engine}
    if 0 < at < last:
        return say(
            "Below {low} h a year {below} is the cheapest, above {high} h a year {above} is the cheapest.", **known
        )
    if at > 0:
        return say("Below {low} h a year {below} is the cheapest.", **known)
    if at < last:
        return say("Above {high} h a year {above} is the cheapest.", **known)
    return say("It is the cheapest at any hours from {low} to {high} a year.", **known)


def costs_the_least_in(engine: str, labels: Sequence[str], keeps_value: bool) -> str:
    """
    Why an engine is the cheapest, in a sentence.

    Parameters
    ----------
    engine : str
        The cheapest engine.
    labels : sequence of str
        Cost elements in which it costs less than every other.
    keeps_value : bool
        Whether it brings more than every other at the sale.

    >>> costs_the_least_in("Four", ["Fuel", "Downtime"], True)
    'Four costs the least in fuel and downtime, and brings the most at resale'
    """
    elements = listed([label.split(" (")[0].lower() for label in labels]) if labels else ""
    if labels and keeps_value:
        return say(
            "{engine} costs the least in {elements}, and brings the most at resale", engine=engine, elements=elements
        )
    if labels:
        return say("{engine} costs the least in {elements}", engine=engine, elements=elements)
    if keeps_value:
        return say("{engine} brings the most at resale", engine=engine)
    return say("{engine} costs the least on the whole, though in no single element", engine=engine)


def largest_cost(engine: str, label: str) -> str:
    """What the picture of a single engine says."""
    return say("{element} is the largest cost of {engine}", element=label, engine=engine)


def in_how_many_trials(engine: str, share: float, trials: int) -> str:
    """
    In how many trials the answer holds, in a sentence.

    >>> in_how_many_trials("Four", 0.578, 4096)
    'Four is the cheapest in 58 of 100 trials (4,096 possible ownerships, with hours, prices and failures that differ).'
    """
    return say(
        "{engine} is the cheapest in {number} of 100 trials ({trials} possible ownerships, with hours, prices and "
        "failures that differ).",
        engine=engine,
        number=whole(100.0 * share),
        trials=whole(trials),
    )


def overtaken(baseline: str, paid_back: Sequence[tuple[str, float | None]], period: float) -> str:
    """
    When the engine with the lowest price and fit-up has cost as much as the others, in a sentence.

    Parameters
    ----------
    baseline : str
    paid_back : sequence of (str, float or None)
        Every other engine, and from when on it has paid back; None for never. [-, year]
    period : float
        Ownership period. [year]

    >>> overtaken("Two", [("Four", 5.32), ("Six", None)], 8.0)
    'Two, the cheapest to buy, has cost as much as Four after 5.3 years; not as much as the others within 8 years'
    >>> overtaken("Two", [("Four", None)], 8.0)
    'Two, the cheapest to buy, has cost the least up to the sale after 8 years'
    """
    reached = [_reached(engine, years) for engine, years in paid_back if years is not None]
    known: dict[str, object] = {"engine": baseline, "years": years_of(period)}
    if not reached:
        return say("{engine}, the cheapest to buy, has cost the least up to the sale after {years}", **known)
    known["others"] = listed(reached)
    if len(reached) == len(paid_back):
        return say("{engine}, the cheapest to buy, has cost as much as {others}", **known)
    return say(
        "{engine}, the cheapest to buy, has cost as much as {others}; not as much as the others within {years}", **known
    )


def _reached(engine: str, years: float) -> str:
    """An engine, and when another has cost as much."""
    if years == 0.0:
        return say("{engine} from the start", engine=engine)
    if years < A_MONTH:
        return say("{engine} within a month", engine=engine)
    return say("{engine} after {years}", engine=engine, years=years_in_words(years))


def years_in_words(years: float) -> str:
    """
    A time since delivery to a tenth of a year.

    >>> years_in_words(5.32), years_in_words(1.0), years_in_words(0.02)
    ('5.3 years', '1 year', 'within a month')
    """
    return say("within a month") if years < A_MONTH else years_of(round(years, 1))


def listed(words: Sequence[str]) -> str:
    """
    Words with an "and".

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    return words[0] if len(words) == 1 else say("{words} and {last}", words=", ".join(words[:-1]), last=words[-1])


def after_years(years: float) -> str:
    """
    A time since delivery, in words.

    >>> after_years(0.0), after_years(2.25)
    ('At delivery', 'After 2.25 years')
    """
    return say("At delivery") if years == 0.0 else say("After {years}", years=years_of(round(years, 2)))


def paid_back(engine: str, years: float) -> str:
    """What the dot of a break-even says."""
    if years == 0.0:
        return say("{engine} has paid back from the start", engine=engine)
    if years < A_MONTH:
        return say("{engine} has paid back within a month", engine=engine)
    return say("{engine} has paid back after {years}", engine=engine, years=years_in_words(years))


def cheapest_from_to(stretch: Stretch) -> str:
    """What a stretch of the band says."""
    begin, end = whole(stretch.begin), whole(stretch.end)
    return say("{engine} is the cheapest from {low} to {high} h a year", engine=stretch.engine, low=begin, high=end)


def together(sentence: str) -> str:
    r"""
    A sentence in which a number and its unit stay on one line.

    >>> together("33 % of 1,231 EUR at 45 kW")
    '33\xa0% of 1,231\xa0EUR at 45\xa0kW'
    """
    return BEFORE_A_UNIT.sub("\u00a0", sentence)
