"""What a field allows, in the language and the units of the moment: the model's rules are put together from parts."""

import re

from model.language import later, say
from model.quantities import as_shown, unit_key
from model.wording import plain

PARTS = (
    (re.compile(r"a number"), later("a number")),
    (re.compile(r"a whole number"), later("a whole number")),
    (re.compile(r"(?P<limit>[-\d.e+]+) or more"), later("{limit} or more")),
    (re.compile(r"above (?P<limit>[-\d.e+]+)"), later("above {limit}")),
    (re.compile(r"at most (?P<limit>[-\d.e+]+)"), later("at most {limit}")),
    (re.compile(r"below (?P<limit>[-\d.e+]+)"), later("below {limit}")),
    (re.compile(r"true or false"), later("true or false")),
    (re.compile(r"text in quotes"), later("text")),
    (re.compile(r"text of 1 to 80 characters in quotes"), later("text of 1 to 80 characters")),
    (re.compile(r"text on one line"), later("text on one line")),
    (re.compile(r"without control characters"), later("without control characters")),
    (
        re.compile(r"text without control characters other than tabs and line breaks"),
        later("text without control characters other than tabs and line breaks"),
    ),
    (re.compile(r"text such as (?P<example>.+)"), later("text such as {example}")),
    (re.compile(r"a table"), later("a table")),
    (re.compile(r"a list of (?P<number>\d+) numbers"), later("a list of {number} numbers")),
    (re.compile(r"one of (?P<choices>.+)"), later("one of {choices}")),
    (
        re.compile(r"a date from (?P<first>\S+) to (?P<last>\S+), such as (?P<example>\S+)"),
        later("a date from {first} to {last}, such as {example}"),
    ),
)
"""Parts of a rule as the model writes them, and the sentence that each is."""

UNIT = re.compile(r"\[([^\],]+)\]\.?$")
"""The unit of a field, at the end of what a rule says of it."""

DIGITS = 5
"""Of a limit in a unit that is not the house's."""


def rule_told(allowed: str) -> str:
    """
    A rule of the model for people, without what follows on the field itself; limits in the unit that is shown.

    Parameters
    ----------
    allowed : str
        As a problem has it.

    Returns
    -------
    str
        A rule that is put together from other parts stays as the model writes it.

    >>> rule_told("a number, 0 or more, at most 5: Price of fuel. [money/L]")
    'a number, 0 or more, at most 5'
    """
    rule, stated = allowed.split(": ")[0], UNIT.search(allowed)
    unit = stated.group(1) if stated else ""
    whole = _part_told(rule, unit)
    if whole is not None:
        return whole
    told = [_part_told(part, unit) for part in rule.split(", ")]
    return ", ".join(part for part in told if part) if all(told) else rule


def _part_told(part: str, unit: str) -> str | None:
    """One part of a rule on a field in a house unit, None where it is none of these."""
    for pattern, sentence in PARTS:
        found = pattern.fullmatch(part)
        if found:
            figures = found.groupdict()
            return say(sentence, **figures | ({"limit": _limit(figures["limit"], unit)} if "limit" in figures else {}))
    return None


def _limit(limit: str, unit: str) -> str:
    """A limit in the unit in which the field is shown, as the language writes numbers."""
    number = float(limit)
    return plain(number) if unit_key(unit) == unit else plain(float(f"{as_shown(number, unit):.{DIGITS}g}"))
