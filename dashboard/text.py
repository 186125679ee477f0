"""Labels and sentences of the pages; sentences with figures of money are the model's."""

from collections.abc import Sequence

from model.cheapest import Stretch
from model.inputs.problems import Problem
from model.language import say
from model.wording import plain, whole

APP = "What an outboard costs over the years"
HOURS, HOURS_UNIT = "Running hours", "h a year"
YEARS, YEARS_UNIT = "Ownership period", "years"
FUEL = "Fuel price"
LABOUR = "Workshop labour"
ENGINES = "Engines compared"
CONTROLS = "What if"
MORE = "More: labour and engines"
CHANGE = "Change hours, years, prices, engines"
CLOSE = "Done"
RESTORE = "Back to the file"
SCHEME_SWITCH = "Light look or dark look"
LIGHT, DARK = "Light look", "Dark look"

NOT_A_NUMBER = "A number is needed."
NO_ENGINE = "At least one engine stays: choose one."
NOT_COUNTED = "The answer below does not count this yet: {fields}. It is the last one that could be worked out."
TROUBLE = "Something went wrong on our side; what you see is the last good answer. Change a value to try again."

ALL_FIGURES = "All figures"
GOOD_TO_KNOW = "Good to know"

COST_BY_ELEMENT = "Cost by element over the ownership period, less resale; {currency}, present value"
OVER_HOURS_WORD = "Hours a year"
COST_SINCE_DELIVERY = "Cost since delivery, the sale at the end; {currency}, money of the day"
BAND = "{engine}, 80 % of the trials"
BANDS = "; shaded: 80 % of the trials"
OVER_HOURS = "What each engine costs more than the cheapest; {currency} over the ownership period, present value"
CHEAPEST = "Cheapest"
MORE_THAN_CHEAPEST = "{currency} more than the cheapest"
SINCE_DELIVERY = "Years since delivery"
TODAY = "{hours} h, as set"
TOTAL_MARK = "Total"
HOURS_A_YEAR = "Running hours a year"
SALE = "sale"
AFTER_THE_SALE = "After the sale"
TOTAL = "Total, present value"
TOTAL_NOMINAL = "Total, money of the day"
A_YEAR = "A year, in delivery-day money"
AN_HOUR = "An hour, in delivery-day money"
PAID_BY_WARRANTY = "Paid by the warranty, present value"
FUEL_LITRES = "Fuel, L"
CO2 = "CO2, kg"
ESTIMATE = " (fuel: estimate)"
ONE_ENGINE_SINCE_DELIVERY = "What the engine has cost since delivery"
MONEY_OF_THE_DAY = "in money of the day"


def said_by_the_browser() -> dict[str, str]:
    """What the pages say without asking the server, by the name under which `assets/` knows it."""
    return {
        "copied": say("Link copied"),
        "onlyLibrary": say("A link carries a scenario of the library only: save the file and send that."),
        "tooLong": say("These are more changes than a link can carry: save the file and send that."),
        "copyThis": say("Copy this link"),
        "tooLarge": say("This file is too large for a scenario file."),
        "noText": say("This file is no text in UTF-8, so it is no scenario file."),
    }


def per_litre(currency: str) -> str:
    """Unit of a price of fuel."""
    return f"{currency} a litre"


def per_hour(currency: str) -> str:
    """Unit of a price of labour."""
    return f"{currency} an hour"


def allowed(problem: Problem) -> str:
    """
    What is told at a field whose value cannot be, in the model's words.

    >>> allowed(Problem("boat.toml", "prices.fuel", "-1", "a number, 0 or more: Price of fuel. [money/L]"))
    'Allowed: a number, 0 or more.'
    """
    return say("Allowed: {rule}.", rule=problem.allowed.split(": ")[0])


def not_counted(fields: Sequence[str]) -> str:
    """What is told above the last good answer."""
    return NOT_COUNTED.format(fields=", ".join(fields)) if fields else ""


def around(stretches: Sequence[Stretch], hours: float) -> str:
    """
    Which engine is cheapest below and above the hours as they are set, in a sentence.

    >>> around((Stretch(0.0, 56.5, "Two"), Stretch(56.5, 500.0, "Four")), 120.0)
    'Below 56 h a year Two is the cheapest.'
    """
    last = len(stretches) - 1
    at = next((index for index, stretch in enumerate(stretches) if hours <= stretch.end), last)
    parts = []
    if at > 0:
        parts.append(f"below {whole(stretches[at].begin)} h a year {stretches[at - 1].engine} is the cheapest")
    if at < last:
        parts.append(f"above {whole(stretches[at].end)} h a year {stretches[at + 1].engine} is the cheapest")
    if not parts:
        begin, end = whole(stretches[0].begin), whole(stretches[-1].end)
        return f"It is the cheapest at any hours from {begin} to {end} a year."
    sentence = ", ".join(parts)
    return f"{sentence[0].upper()}{sentence[1:]}."


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
    at_resale = "brings the most at resale"
    if not labels:
        return (
            f"{engine} {at_resale}"
            if keeps_value
            else f"{engine} costs the least on the whole, though in no single element"
        )
    least = f"{engine} costs the least in {_listed([label.split(' (')[0].lower() for label in labels])}"
    return f"{least}, and {at_resale}" if keeps_value else least


def largest_cost(engine: str, label: str) -> str:
    """What the picture of a single engine says."""
    return f"{label} is the largest cost of {engine}"


def in_how_many_trials(engine: str, share: float, trials: int) -> str:
    """
    In how many trials the answer holds, in a sentence.

    >>> in_how_many_trials("Four", 0.578, 4096)
    'Four is the cheapest in 58 of 100 trials (4,096 possible ownerships, with hours, prices and failures that differ).'
    """
    possible = f"{whole(trials)} possible ownerships, with hours, prices and failures that differ"
    return f"{engine} is the cheapest in {whole(100.0 * share)} of 100 trials ({possible})."


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
    reached = [f"{engine} {_when(years)}" for engine, years in paid_back if years is not None]
    if not reached:
        return f"{baseline}, the cheapest to buy, has cost the least up to the sale after {plain(period)} years"
    others = f"; not as much as the others within {plain(period)} years" if len(reached) < len(paid_back) else ""
    return f"{baseline}, the cheapest to buy, has cost as much as {_listed(reached)}{others}"


def _when(years: float) -> str:
    """A time for a sentence."""
    if years == 0.0:
        return "from the start"
    return f"after {years_in_words(years)}" if years >= 1.0 / 12.0 else "within a month"


def years_in_words(years: float) -> str:
    """
    A time since delivery to a tenth of a year.

    >>> years_in_words(5.32), years_in_words(1.0), years_in_words(0.02)
    ('5.3 years', '1 year', 'within a month')
    """
    if years < 1.0 / 12.0:
        return "within a month"
    shown = plain(round(years, 1))
    return f"{shown} year" if shown == "1" else f"{shown} years"


def _listed(words: Sequence[str], comma: str = ", ") -> str:
    """Words with an "and"."""
    return words[0] if len(words) == 1 else f"{comma.join(words[:-1])} and {words[-1]}"


def after_years(years: float) -> str:
    """
    A time since delivery, in words.

    >>> after_years(0.0), after_years(2.25)
    ('At delivery', 'After 2.25 years')
    """
    return "At delivery" if years == 0.0 else f"After {plain(round(years, 2))} years"


def paid_back(engine: str, years: float) -> str:
    """What the dot of a break-even says."""
    return f"{engine} has paid back {_when(years)}"


def cheapest_from_to(stretch: Stretch) -> str:
    """What a stretch of the band says."""
    return f"{stretch.engine} is the cheapest from {whole(stretch.begin)} to {whole(stretch.end)} h a year"
