"""Titles of the columns of a fleet's tables, by key of their rows, said where they are shown; names of parts."""

from model.fleet.rules_told import element_told
from model.inputs.terms import Element
from model.language import later, say
from model.questions.saying import capital

YEAR_TITLES = {
    "year": later("Year"),
    "expected": later("Expected"),
    "standard_error": later("Standard error"),
    "0.5": "50 %",
    "0.8": "80 %",
    "0.95": "95 %",
    "contingency": later("Contingency"),
}
"""Titles of a budget by year."""

DUE_TITLES = {
    "year": later("Year"),
    "unit": later("Unit"),
    "site": later("Site"),
    "engine": later("Engine"),
    "bought": later("Replaced by"),
    "reason": later("Reason"),
    "capital": later("Price and fit-up"),
}
"""Titles of replacements."""

DUE_BY_YEAR_TITLES = {
    "year": later("Year"),
    "reason": later("Reason"),
    "number": later("Units"),
    "capital": later("Price and fit-up"),
    "units": later("The first of them"),
}
"""Titles of replacements counted by year and reason."""

POLICY_TITLES = {
    "policy": later("Replaced"),
    "present_value": later("Present value"),
    "saves": later("Saves against today's"),
    "replacements": later("Replacements"),
    "put_off": later("Units put off"),
    "limit_costs": later("The limit costs"),
}
"""Titles of policies compared."""


PUT_OFF_TITLES = {
    "unit": later("Unit"),
    "site": later("Site"),
    "engine": later("Engine"),
    "reason": later("Reason"),
    "year": later("Due in"),
    "until": later("Waits until"),
    "times": later("Replacements that wait"),
    "waiting_costs": later("Waiting costs"),
}
"""Titles of units that the yearly limit makes wait."""

PUT_OFF_BY_YEAR_TITLES = {
    "year": later("Due in"),
    "until": later("Waits until"),
    "number": later("Units"),
    "waiting_costs": later("Waiting costs"),
    "units": later("The first of them"),
}
"""Titles of units that wait, counted by year."""

HOUR_TITLES = {
    "unit": later("Unit"),
    "hours_per_year": later("Hours a year"),
    "register": later("Register's own"),
    "variation": later("Variation between years, %"),
    "years": later("Years of readings"),
    "last_day": later("Last reading on"),
    "last_reading": later("Meter, h"),
    "was_reset": later("Meter began anew"),
}
"""Titles of what the hour log shows."""

REPAIR_TITLES = {
    "engine": later("Engine"),
    "mode": later("Failure mode"),
    "repairs": later("Repairs in the log"),
    "expected": later("Expected by the file"),
    "scale": later("Scale, with its 95 % interval"),
    "shape": later("Shape, with its 95 % interval"),
    "mean_cost": later("Mean cost"),
}
"""Titles of what the repair log shows."""

DIGITS = {"register": 1, "age": 1, "best_age": 1, "hours_per_year": 1, "years": 1}
"""Decimals of figures that are no money."""

TO_THE_RIGHT = ("year", "until", "expected")
"""Columns whose words are numbers."""


def part_told(by: str, name: str) -> str:
    """What an element, site or technology is called, as rows of a budget's parts name it."""
    if by == "element":
        return element_told(Element(name))
    return capital(say(name)) if by == "technology" else name or say("No site named")
