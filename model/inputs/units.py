"""Numbers at the door: bare in house units, or a table with `value`, `unit`, `source` and, for prices, `tax`.

Conversions are used here and nowhere else. Exact definitions: the international foot-pound system (1959) and the SI;
1 hp = 0.7456999 kW is the mechanical horsepower of 550 ft lbf/s.
"""

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, Strict, ValidationInfo, WithJsonSchema

from model.inputs.problems import not_allowed, shown
from model.inputs.terms import HOURS_IN_A_YEAR

LITRES_IN_A_US_GALLON = 3.785411784
"""Volume of a US gallon of 231 cubic inches. [L]"""

KILOWATTS_IN_A_HORSEPOWER = 0.7456999
"""Power of a mechanical horsepower. [kW]"""

KILOGRAMS_IN_A_POUND = 0.45359237
"""Mass of the international pound. [kg]"""

GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR = 1000.0 * KILOGRAMS_IN_A_POUND / KILOWATTS_IN_A_HORSEPOWER
"""Specific fuel consumption of 1 lb/hp-h, 608.277 g/kWh. [g/kWh]"""

CONVERSIONS: dict[str, dict[str, float]] = {
    "h": {"h": 1.0, "min": 1.0 / 60.0, "day": 24.0},
    "year": {"year": 1.0, "years": 1.0, "month": 1.0 / 12.0, "months": 1.0 / 12.0},
    "month": {"month": 1.0, "months": 1.0, "year": 12.0, "years": 12.0},
    "kW": {"kW": 1.0, "W": 0.001, "hp": KILOWATTS_IN_A_HORSEPOWER, "PS": 0.73549875},
    "L": {
        "L": 1.0,
        "mL": 0.001,
        "US gal": LITRES_IN_A_US_GALLON,
        "US qt": LITRES_IN_A_US_GALLON / 4.0,
        "US fl oz": LITRES_IN_A_US_GALLON / 128.0,
    },
    "L/h": {"L/h": 1.0, "US gal/h": LITRES_IN_A_US_GALLON},
    "L/100 h": {"L/100 h": 1.0, "US gal/100 h": LITRES_IN_A_US_GALLON},
    "kg": {"kg": 1.0, "lb": KILOGRAMS_IN_A_POUND},
    "money/L": {"L": 1.0, "US gal": 1.0 / LITRES_IN_A_US_GALLON, "US qt": 4.0 / LITRES_IN_A_US_GALLON},
    "g/kWh": {"g/kWh": 1.0, "lb/hp-h": GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR},
    "day": {"day": 1.0, "days": 1.0, "h": 1.0 / 24.0},
    "share": {"share": 1.0, "%": 0.01},
    "money": {},
    "money/h": {"h": 1.0},
    "": {},
}
"""House unit -> {unit allowed in a file: factor to the house unit}."""

DOOR_KEYS = ("value", "unit", "source", "tax")
"""Keys of a number written as a table."""


def to_house_unit(value: float, unit: str, house_unit: str) -> float:
    """
    Convert a number from a unit of a file to the house unit.

    Parameters
    ----------
    value : float
        The number as it stands in the file. [unit]
    unit : str
        One of the units of `CONVERSIONS[house_unit]`.
    house_unit : str
        The unit used behind the door.

    Returns
    -------
    float
        The same quantity. [house_unit]

    Raises
    ------
    KeyError
        If the unit is not known for that house unit.

    >>> round(to_house_unit(60.0, "hp", "kW"), 3)
    44.742
    """
    return value * CONVERSIONS[house_unit][unit]


def unwrap(house_unit: str, is_price: bool = False) -> Callable[[Any, ValidationInfo], Any]:
    """Make the validator that brings a number of a file to its house unit, prices to what the user pays.

    The validation context may hold `tax_rate` (share) and `net` (True: all figures net of that tax).
    """

    def at_the_door(value: Any, info: ValidationInfo) -> Any:
        tax, unit = None, None
        if isinstance(value, dict):
            unknown = [key for key in value if key not in DOOR_KEYS]
            if unknown or "value" not in value:
                not_allowed("a number, or a table with value and, where wanted, unit, source, tax")
            tax, unit, value = value.get("tax"), value.get("unit"), value["value"]
        if isinstance(value, bool) or not isinstance(value, int | float):
            return value  # the strict number check that follows tells it
        if unit is not None:
            if not isinstance(unit, str) or unit not in CONVERSIONS[house_unit]:
                not_allowed("unit: " + (", ".join(CONVERSIONS[house_unit]) or "none here") + f" (found {shown(unit)})")
            value = to_house_unit(float(value), unit, house_unit)
        return _as_paid(value, tax, info) if is_price or tax is not None else value

    def _as_paid(value: float, tax: Any, info: ValidationInfo) -> float:
        if tax is not None and not is_price:
            not_allowed("no `tax` here: this is no price")
        if tax not in (None, "included", "excluded"):
            not_allowed('tax: "included" or "excluded"')
        context = info.context or {}
        rate = context.get("tax_rate")
        if tax == "excluded" and rate is None:
            not_allowed('tax = "excluded" needs [money] tax_rate')
        if context.get("net"):
            return value if tax == "excluded" else value / (1.0 + float(rate or 0.0))
        return value * (1.0 + float(rate)) if tax == "excluded" and rate is not None else value

    return at_the_door


def _number_or_table(house_unit: str, is_price: bool = False) -> WithJsonSchema:
    """JSON schema of a number at the door."""
    units = list(CONVERSIONS[house_unit])
    properties: dict[str, Any] = {"value": {"type": "number"}, "source": {"type": "string"}}
    if units:
        properties["unit"] = {"enum": units}
    if is_price:
        properties["tax"] = {"enum": ["included", "excluded"]}
    table = {"type": "object", "properties": properties, "required": ["value"], "additionalProperties": False}
    return WithJsonSchema({"anyOf": [{"type": "number"}, table]})


_FINITE = Field(allow_inf_nan=False)

Hours = Annotated[float, Strict(), BeforeValidator(unwrap("h")), Field(ge=0, le=1e6), _FINITE, _number_or_table("h")]
"""Running hours or hours of labour. [h]"""
HoursAYear = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("h")),
    Field(ge=0, le=HOURS_IN_A_YEAR),
    _FINITE,
    _number_or_table("h"),
]
"""Running hours in one year. [h]"""
Years = Annotated[
    float, Strict(), BeforeValidator(unwrap("year")), Field(ge=0, le=100), _FINITE, _number_or_table("year")
]
"""Time. [year]"""
Months = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("month")),
    Field(ge=0, le=1200),
    _FINITE,
    _number_or_table("month"),
]
"""Time. [month]"""
Days = Annotated[float, Strict(), BeforeValidator(unwrap("day")), Field(ge=0, le=366), _FINITE, _number_or_table("day")]
"""Days lost. [day]"""
Kilowatts = Annotated[
    float, Strict(), BeforeValidator(unwrap("kW")), Field(gt=0, le=1000), _FINITE, _number_or_table("kW")
]
"""Power. [kW]"""
SpecificConsumption = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("g/kWh")),
    Field(gt=0, le=3000),
    _FINITE,
    _number_or_table("g/kWh"),
]
"""Fuel burned for a unit of work. [g/kWh]"""
Money = Annotated[
    float, Strict(), BeforeValidator(unwrap("money")), Field(ge=0, le=1e8), _FINITE, _number_or_table("money")
]
"""A sum that carries no sales tax of its own (excess, trade-in, a lost day). [money]"""
Price = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("money", is_price=True)),
    Field(ge=0, le=1e8),
    _FINITE,
    _number_or_table("money", is_price=True),
]
"""A price as the user pays it. [money]"""
LabourRate = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("money/h", is_price=True)),
    Field(ge=0, le=1e5),
    _FINITE,
    _number_or_table("money/h", is_price=True),
]
"""Price of an hour of labour as the user pays it. [money/h]"""
PricePerLitre = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("money/L", is_price=True)),
    Field(ge=0, le=1e6),
    _FINITE,
    _number_or_table("money/L", is_price=True),
]
"""Price of a litre as the user pays it. [money/L]"""
Share = Annotated[
    float, Strict(), BeforeValidator(unwrap("share")), Field(ge=0, le=1), _FINITE, _number_or_table("share")
]
"""A share of a whole, 0..1. [-]"""
Rate = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("share")),
    Field(gt=-0.5, le=1),
    _FINITE,
    _number_or_table("share"),
]
"""A yearly rate as a fraction (0.05, not 5). [1/year]"""
Variation = Annotated[
    float, Strict(), BeforeValidator(unwrap("share")), Field(ge=0, le=3), _FINITE, _number_or_table("share")
]
"""Standard deviation as a share of the mean. [-]"""
Factor = Annotated[float, Strict(), BeforeValidator(unwrap("")), Field(ge=0, le=1000), _FINITE, _number_or_table("")]
"""A multiplier; 1 has no effect. [-]"""
Quantity = Annotated[float, Strict(), BeforeValidator(unwrap("")), Field(ge=0, le=1e5), _FINITE, _number_or_table("")]
"""How many of a part, in the part's own unit. [-]"""
LitresPer100Hours = Annotated[
    float,
    Strict(),
    BeforeValidator(unwrap("L/100 h")),
    Field(ge=0, le=1e5),
    _FINITE,
    _number_or_table("L/100 h"),
]
"""Oil added. [L/100 h]"""
Positive = Annotated[float, Strict(), BeforeValidator(unwrap("")), Field(gt=0, le=1e6), _FINITE, _number_or_table("")]
"""A number above zero. [-]"""
Speed = Annotated[
    float, Strict(), BeforeValidator(unwrap("share")), Field(ge=0, le=2), _FINITE, _number_or_table("share")
]
"""Engine speed as a fraction of rated speed. [-]"""
RevolutionsAMinute = Annotated[
    float, Strict(), BeforeValidator(unwrap("")), Field(gt=0, le=20000), _FINITE, _number_or_table("")
]
"""Engine speed. [rev/min]"""
