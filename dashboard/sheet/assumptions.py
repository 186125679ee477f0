"""What a sheet rests on: the main values with their sources, and how many values each source stands behind."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dashboard.sheet.matter import Matter
from model import wording
from model.inputs.scenario import Scenario
from model.inputs.sources import INVENTED
from model.language import later, say
from model.quantities import as_shown, money_a_litre


@dataclass(frozen=True)
class Assumption:
    """A value that the figures rest on."""

    label: str
    """What it is."""
    value: str
    """With its unit."""
    source: str
    """Where it comes from, in words or as the number of an entry of the list."""


INVENTED_WORDS = later("invented")
"""Beside a value that nobody published."""


def values(scenario: Scenario) -> list[tuple[tuple[str, ...], str, str]]:
    """
    The main values of a scenario.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    list of (path, label, value)
        Those that are stated, in the units in which they are shown.
    """
    years, prices = scenario.ownership.years, scenario.prices
    hours = wording.hours_in_words(scenario.hours(), years)
    has_one = scenario.use.hours_per_year is not None
    found = [
        (("ownership", "years"), say("Ownership period"), wording.period(years)),
        (("use", "hours_per_year" if has_one else "hours_by_year"), say("Running hours"), hours),
        (("prices", "fuel"), say("Fuel"), _a_litre(scenario, prices.fuel)),
    ]
    if prices.two_stroke_oil is not None:
        price = _a_litre(scenario, prices.two_stroke_oil)
        found.append((("prices", "two_stroke_oil"), say("Two-stroke oil"), price))
    if prices.labour:
        price = _price(scenario, prices.labour, later("{amount} {currency} an hour"))
        found.append((("prices", "labour"), say("Workshop labour"), price))
    if scenario.downtime is not None:
        price = _price(scenario, scenario.downtime.day_cost, later("{amount} {currency} a day"))
        found.append((("downtime", "day_cost"), say("A day without the boat"), price))
    return [*found, *_rates(scenario)]


def _a_litre(scenario: Scenario, price: float) -> str:
    """A price of fuel or oil with its unit."""
    return f"{wording.cents(as_shown(price, 'money/L'))} {money_a_litre(scenario.currency)}"


def _price(scenario: Scenario, amount: float, unit: str) -> str:
    """A price with its unit."""
    return say(unit, amount=wording.cents(amount), currency=scenario.currency)


def _rates(scenario: Scenario) -> list[tuple[tuple[str, ...], str, str]]:
    """Yearly rates that are stated, and how far the hours differ."""
    money = scenario.money
    rates = [
        (("money", "inflation"), say("Inflation"), money.inflation if "inflation" in money.model_fields_set else None),
        (("money", "discount_rate"), say("Discount rate"), money.discount_rate),
        (("money", "real_discount_rate"), say("Discount rate above inflation"), money.real_discount_rate),
        (("money", "growth", "fuel"), say("Fuel price grows by"), money.growth.fuel),
    ]
    found = [
        (path, label, say("{number} % a year", number=wording.plain(round(100.0 * rate, 2))))
        for path, label, rate in rates
        if rate is not None
    ]
    spread = scenario.use.spread
    if spread is not None and spread.variation is not None:
        told = say("standard deviation {number} %", number=wording.plain(round(100.0 * spread.variation, 1)))
        found.append((("use", "spread", "variation"), say("Hours differ between owners"), told))
    return found


def source_at(document: Mapping[str, Any], path: tuple[str, ...]) -> str | None:
    """
    The source beside a value of a document.

    >>> source_at({"prices": {"fuel": {"value": 1.85, "source": "invented"}}}, ("prices", "fuel"))
    'invented'
    """
    node: Any = document
    for step in path:
        node = node.get(step) if isinstance(node, Mapping) else None
    source = node.get("source") if isinstance(node, Mapping) else None
    return source if isinstance(source, str) else None


def sources_of(matter: Matter) -> list[tuple[str, int]]:
    """Keys of the sources by the number of values that rest on them, most first; invented ones last."""
    counted = Counter(value.source for value in matter.reading.sources)
    return sorted(counted.items(), key=lambda item: (item[0] == INVENTED, -item[1], item[0]))


def assumptions(matter: Matter) -> list[Assumption]:
    """The main values of the scenario, each with its source."""
    places = {key: place for place, (key, _) in enumerate(sources_of(matter), start=1)}
    document, found = matter.reading.document, []
    for path, label, value in values(matter.scenario):
        source = source_at(document, path)
        found.append(Assumption(label, value, _short(source, places)))
    return found


def _short(source: str | None, places: Mapping[str, int]) -> str:
    """A source beside its value: a number of the list, "invented", or that none is stated."""
    if source == INVENTED:
        return say(INVENTED_WORDS)
    return say("as entered") if source is None else f"[{places[source]}]"


def source_lines(matter: Matter) -> list[str]:
    """Every source with its number in the list, and how many values rest on it."""
    lines = []
    for place, (key, number) in enumerate(sources_of(matter), start=1):
        counted = say("1 value") if number == 1 else say("{number} {number:value|values}", number=wording.whole(number))
        lines.append(f"[{place}] {in_words(key, matter.entries)}: {counted}")
    return lines


def in_words(key: str, entries: Mapping[str, Any]) -> str:
    """A source's title, year and place; its key where nothing is known of it."""
    if key == INVENTED:
        return say("Invented for the example, nobody published it")
    entry = entries.get(key, {})
    return ", ".join(str(entry[part]) for part in ("title", "year", "place") if entry.get(part)) or key
