"""Conversions at the door, against the definitions of the units; and prices as the user pays them.

The international foot (0.3048 m), pound (0.45359237 kg) and the standard fall (9.80665 m/s2) are exact by definition;
so is the US gallon of 231 cubic inches. Printed values: NIST SP 811 (2008), Appendix B.8, written down from memory.
"""

from datetime import date
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from model.inputs.owner import OwnershipPeriod, Prices
from model.inputs.units import CONVERSIONS, Kilowatts, to_house_unit
from tests.tolerances import IDENTITY, half_last_digit

INCH = 0.0254
FOOT = 12 * INCH
POUND = 0.45359237
FALL = 9.80665
DAY = date(2027, 4, 1)
HORSEPOWER = 550 * FOOT * POUND * FALL / 1000
"""550 ft lbf/s. [kW]"""


class TestDefinitions:
    @pytest.mark.parametrize(
        ("unit", "house_unit", "expected"),
        [
            ("US gal", "L", 231 * INCH**3 * 1000),
            ("US qt", "L", 231 * INCH**3 * 1000 / 4),
            ("US fl oz", "L", 231 * INCH**3 * 1000 / 128),
            ("US gal/h", "L/h", 231 * INCH**3 * 1000),
            ("US gal", "money/L", 1 / (231 * INCH**3 * 1000)),
            ("PS", "kW", 75 * FALL / 1000),
            ("min", "h", 1 / 60),
            ("month", "year", 1 / 12),
            ("%", "share", 1 / 100),
        ],
    )
    def test_exact(self, unit: str, house_unit: str, expected: float) -> None:
        assert to_house_unit(1.0, unit, house_unit) == pytest.approx(expected, rel=IDENTITY)

    def test_horsepower_to_the_digits_kept(self) -> None:
        assert to_house_unit(1.0, "hp", "kW") == pytest.approx(HORSEPOWER, abs=half_last_digit(7))

    def test_specific_consumption_to_the_digits_kept(self) -> None:
        expected = POUND * 1000 / HORSEPOWER

        assert to_house_unit(1.0, "lb/hp-h", "g/kWh") == pytest.approx(expected, abs=half_last_digit(3))

    @pytest.mark.parametrize("house_unit", [unit for unit in CONVERSIONS if CONVERSIONS[unit]])
    def test_the_first_unit_is_the_house_unit(self, house_unit: str) -> None:
        assert next(iter(CONVERSIONS[house_unit].values())) == 1.0


class TestPrintedValues:
    @pytest.mark.parametrize(
        ("unit", "house_unit", "printed", "decimals"),
        [
            ("US gal", "L", 3.785412, 6),
            ("US qt", "L", 0.9463529, 7),
            ("US fl oz", "L", 0.02957353, 8),
            ("hp", "kW", 0.7456999, 7),
            ("PS", "kW", 0.7354988, 7),
        ],
    )
    def test_from_the_table(self, unit: str, house_unit: str, printed: float, decimals: int) -> None:
        assert to_house_unit(1.0, unit, house_unit) == pytest.approx(printed, abs=half_last_digit(decimals))

    def test_pound_an_hour_and_horsepower(self) -> None:
        # 1 lb/(hp h) = 1.689659 E-07 kg/J; 1 kg/J = 3.6 E+09 g/kWh.
        grams = to_house_unit(1.0, "lb/hp-h", "g/kWh")

        assert grams / 3.6e9 == pytest.approx(1.689659e-7, abs=half_last_digit(13))


class TestAtTheDoor:
    @pytest.mark.parametrize(
        ("value", "expected"),
        [(45, 45.0), ({"value": 45}, 45.0), ({"value": 60, "unit": "hp", "source": "x"}, 60 * 0.7456999)],
    )
    def test_a_number_or_a_table(self, value: Any, expected: float) -> None:
        assert TypeAdapter(Kilowatts).validate_python(value) == pytest.approx(expected, rel=IDENTITY)

    def test_limits_hold_in_house_units(self) -> None:
        assert OwnershipPeriod.model_validate({"years": {"value": 18, "unit": "month"}, "delivery": DAY}).years == 1.5
        with pytest.raises(ValidationError, match="less than or equal to 60"):
            OwnershipPeriod.model_validate({"years": {"value": 721, "unit": "month"}, "delivery": DAY})

    @pytest.mark.parametrize(
        "value",
        [True, "45", None, [45], float("nan"), float("inf"), {}, {"value": True},
         {"value": 1, "unit": "L"}, {"value": 1, "unit": []}, {"value": 1, "units": "kW"},
         {"value": {"value": 1}}, {"value": 1, "tax": "excluded"}],
    )  # fmt: skip
    def test_what_is_no_number_is_refused(self, value: Any) -> None:
        with pytest.raises(ValidationError, match="validation error"):
            TypeAdapter(Kilowatts).validate_python(value)


class TestTax:
    """Prices as the user pays them: with the tax, or net of it for a business that gets it back."""

    @staticmethod
    def fuel(value: Any, **context: Any) -> float:
        return Prices.model_validate({"fuel": value}, context=context).fuel

    @pytest.mark.parametrize(
        ("tax", "net", "expected"),
        [
            (None, False, 2.0),
            ("included", False, 2.0),
            ("excluded", False, 2.0 * 1.25),
            (None, True, 2.0 / 1.25),
            ("included", True, 2.0 / 1.25),
            ("excluded", True, 2.0),
        ],
    )
    def test_with_and_without(self, tax: str | None, net: bool, expected: float) -> None:
        value = {"value": 2.0} | ({} if tax is None else {"tax": tax})

        assert self.fuel(value, tax_rate=0.25, net=net) == pytest.approx(expected, rel=IDENTITY)

    def test_a_bare_price_is_net_too(self) -> None:
        assert self.fuel(2.0, tax_rate=0.25, net=True) == pytest.approx(1.6, rel=IDENTITY)

    def test_unit_and_tax_together(self) -> None:
        value = {"value": 3.785411784, "unit": "US gal", "tax": "excluded"}

        assert self.fuel(value, tax_rate=0.2) == pytest.approx(1.2, rel=IDENTITY)

    def test_excluded_needs_a_rate(self) -> None:
        with pytest.raises(ValidationError, match="needs \\[money\\] tax_rate"):
            self.fuel({"value": 2.0, "tax": "excluded"})

    def test_an_unknown_word_is_refused(self) -> None:
        with pytest.raises(ValidationError, match='"included" or "excluded"'):
            self.fuel({"value": 2.0, "tax": "plus"}, tax_rate=0.2)
