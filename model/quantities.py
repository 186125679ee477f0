"""Quantities as they are shown: in house units, or in those of the United States where these are spoken.

What is shown and what is typed is converted here and nowhere else, by the factors of `model.inputs.units`; the sums
know house units only. Hours stay hours, and money stays money: a currency is a name.
"""

from collections.abc import Callable

from model.inputs.units import CONVERSIONS, to_house_unit
from model.language import SI, US, later, say, spoken
from model.wording import cents, to_a_tenth

SYSTEMS = {SI: later("SI: L, kW, kg"), US: later("US: gallons, hp, lb")}
"""Systems of units to choose from."""

SHOWN_AS = {
    SI: {},
    US: {
        "L": "US gal",
        "L/h": "US gal/h",
        "L/100 h": "US gal/100 h",
        "money/L": "US gal",
        "kW": "hp",
        "kg": "lb",
        "g/kWh": "lb/hp-h",
    },
}
"""System -> {house unit: the unit it is shown in}; every other one is shown as it is."""

NAMES = {"US gal": later("US gal"), "US gal/h": later("US gal/h"), "US gal/100 h": later("US gal/100 h")}
"""Units with words in them, as they are written."""


def unit_key(house_unit: str) -> str:
    """
    The unit in which a quantity is shown, as a file names it.

    >>> unit_key("L/h"), unit_key("h")
    ('L/h', 'h')
    """
    return SHOWN_AS[spoken().units].get(house_unit, house_unit)


def unit_shown(house_unit: str) -> str:
    """What the unit is called in which a quantity is shown, in the language of the moment."""
    unit = unit_key(house_unit)
    return say(NAMES[unit]) if unit in NAMES else unit


def as_shown(value: float, house_unit: str) -> float:
    """
    A quantity in the unit in which it is shown.

    Parameters
    ----------
    value : float
        [house_unit]
    house_unit : str

    Returns
    -------
    float
        In the unit of `unit_key`. Source of the factors: `model.inputs.units`.
    """
    return value / _factor(house_unit)


def house_value(value: float, house_unit: str) -> float:
    """
    A quantity typed in the unit in which it is shown, in house units: the way back of `as_shown`.

    Parameters
    ----------
    value : float
        In the unit of `unit_key`.
    house_unit : str

    Returns
    -------
    float
        [house_unit]
    """
    return value * _factor(house_unit)


def _factor(house_unit: str) -> float:
    """House units in one unit as shown."""
    unit = unit_key(house_unit)
    return 1.0 if unit == house_unit else to_house_unit(1.0, unit, house_unit)


def is_of_files(house_unit: str) -> bool:
    """Whether a file may state a number in the unit in which it is shown."""
    return unit_key(house_unit) != house_unit and house_unit in CONVERSIONS


def with_unit(value: float, house_unit: str, write: Callable[[float], str] | None = None) -> str:
    """
    A quantity with its unit, for a sentence.

    Parameters
    ----------
    value : float
        [house_unit]
    house_unit : str
    write : function of float to str
        How the number is written; to a tenth, gallons to a hundredth, if it is not said.

    >>> with_unit(9.42, "L")
    '9.4 L'
    """
    write = write or (cents if unit_key(house_unit).startswith("US gal") else to_a_tenth)
    return f"{write(as_shown(value, house_unit))} {unit_shown(house_unit)}"


def sold_by(quantity: float, unit: str, unit_price: float) -> tuple[float, str, float]:
    """
    How much of something, its unit's name and the price of one, as they are shown: their product stays.

    Parameters
    ----------
    quantity : float
        [unit]
    unit : str
        As a ledger row or a part has it.
    unit_price : float
        [money/unit]

    Returns
    -------
    (float, str, float)

    >>> sold_by(4.2, "L", 13.0)
    (4.2, 'L', 13.0)
    """
    if unit not in CONVERSIONS:
        return quantity, say(unit), unit_price
    return as_shown(quantity, unit), unit_shown(unit), unit_price * _factor(unit)


def a_litre() -> str:
    """What a price of fuel is for: "a litre", "a US gallon"."""
    return say("a litre") if spoken().units == SI else say("a US gallon")


def money_a_litre(currency: str) -> str:
    """Unit of a price of fuel."""
    if spoken().units == SI:
        return say("{currency} a litre", currency=currency)
    return say("{currency} a US gallon", currency=currency)
