"""Amounts, units and lengths of time as the answers write them."""

from math import floor, log10

from model.inputs.scenario import Scenario
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.language import later, say
from model.quantities import as_shown, money_a_litre
from model.questions.choosing import HOURS_A_YEAR, YEAR
from model.wording import cents, plain, to_a_tenth, whole

DIGITS = 4
"""Digits of an amount in a sentence; more would claim to know more than the trials support."""

TIMES = later("times as many")
"""Unit of a factor."""


def rounded(amount: float, digits: int = DIGITS) -> float:
    """
    An amount to some digits.

    >>> rounded(24882.0), rounded(1231.4), rounded(42.31), rounded(0.0)
    (24880.0, 1231.0, 42.31, 0.0)
    """
    if amount == 0.0:
        return 0.0
    places = digits - 1 - floor(log10(abs(amount)))
    return float(round(amount, places))


def figures(amount: float) -> str:
    """
    An amount for a sentence: four digits, cents below ten.

    >>> figures(24882.0), figures(587.3), figures(42.31), figures(3.456), figures(0.0)
    ('24,880', '587', '42', '3.46', '0')
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
    """The unit of money a litre, or what fuel is sold by where quantities are shown otherwise."""
    return money_a_litre(scenario.currency)


def money_for_fuel(price: float, scenario: Scenario) -> str:
    """A price of fuel with its unit. [money/L]"""
    return f"{cents(as_shown(price, 'money/L'))} {a_litre(scenario)}"


def years(number: float) -> str:
    """
    A number of years with its unit.

    >>> years(1.0), years(5.32), years(8)
    ('1 year', '5.3 years', '8 years')
    """
    shown = to_a_tenth(number)
    return say("{years} {years:year|years}", years=shown)


def duration(number: float) -> str:
    """
    A time in years, or in months where it is less than one.

    >>> duration(5.32), duration(0.5), duration(1.0 / 12.0)
    ('5.3 years', '6 months', '1 month')
    """
    if number >= 1.0:
        return years(number)
    shown = to_a_tenth(number * MONTHS_IN_A_YEAR)
    return say("{months} {months:month|months}", months=shown)


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


def in_unit(number: float, unit: str) -> str:
    """A value of an input with its unit: hours and years as they are told, money to four digits."""
    if unit == HOURS_A_YEAR:
        return say("{number} h a year", number=figures(number) if number > 10.0 else to_a_tenth(number))
    if unit == TIMES:
        return say("{number:just|{number} times} as many", number=plain(round(number, 1)))
    return years(number) if unit == YEAR else f"{figures(number)} {unit}".rstrip()
