"""Cover, worked by hand: half a failure a year for four years, each 400 of parts and 2 h at 100 of labour."""

from typing import Any

import pytest

from model.inputs.terms import Element
from model.measures import EngineCost
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

MODE = {"name": "Failure", "clock": "years", "scale": 2.0, "shape": 1.0, "parts_price": 400.0, "labour": 2.0}
YEARLY = 0.5 * 600.0
STEPS = [{"from": 12.0, "parts": 0.8, "labour": 0.5}, {"from": 18.0, "parts": 0.5, "labour": 0.0}]


def under(warranty: dict[str, Any] | None, mode: dict[str, Any] | None = None, **tables: Any) -> EngineCost:
    """Cost of the engine under that warranty."""
    return cost_of_one({"repair": [mode or MODE], "warranty": warranty}, **tables)


def shown(cost: EngineCost) -> tuple[float, float, float]:
    """Nominal repairs, warranty cover and what the warranty paid."""
    elements = cost.elements
    return elements[Element.REPAIRS].nominal, elements[Element.WARRANTY_COVER].nominal, cost.paid_by_warranty.nominal


@pytest.mark.parametrize(
    ("warranty", "paid"),
    [
        (None, 0.0),
        ({"months": 24.0}, 2 * YEARLY),
        ({"months": 18.0}, 1.5 * YEARLY),
        ({"hours": 150.0}, 1.5 * YEARLY),
        ({"months": 24.0, "hours": 150.0}, 1.5 * YEARLY),
        ({"months": 12.0, "hours": 150.0}, YEARLY),
        ({"months": 0.0}, 0.0),
        ({"months": 480.0}, 4 * YEARLY),
        ({"months": 24.0, "steps": STEPS}, YEARLY + 0.5 * (0.5 * (320.0 + 100.0) + 0.5 * 200.0)),
        ({"months": 24.0, "hours": 150.0, "steps": STEPS}, YEARLY + 0.5 * 0.5 * (320.0 + 100.0)),
        ({"months": 24.0, "decline": "linear"}, 0.5 * 2 * YEARLY),
        ({"months": 24.0, "hours": 100.0, "decline": "linear"}, 0.75 * YEARLY),
    ],
)
def test_what_the_warranty_pays(warranty: dict[str, Any] | None, paid: float) -> None:
    assert shown(under(warranty)) == pytest.approx((4 * YEARLY - paid, 0.0, paid), rel=IDENTITY)


@pytest.mark.parametrize(
    ("warranty", "covered", "excess"),
    [
        ({"months": 24.0, "excess": 50.0}, 2 * YEARLY, 50.0),
        ({"months": 24.0, "excess": 600.0}, 2 * YEARLY, 600.0),
        ({"months": 24.0, "excess": 1000.0}, 2 * YEARLY, 600.0),  # never more than the covered amount
        # 600 for half a failure, 420 for a quarter, 200 for a quarter: the excess eats the last.
        (
            {"months": 24.0, "excess": 300.0, "steps": STEPS},
            0.5 * 600.0 + 0.25 * 420.0 + 0.25 * 200.0,
            0.5 * 300.0 + 0.25 * 300.0 + 0.25 * 200.0,
        ),
    ],
)
def test_the_excess_is_the_owners(warranty: dict[str, Any], covered: float, excess: float) -> None:
    assert shown(under(warranty)) == pytest.approx((4 * YEARLY - covered, excess, covered - excess), rel=IDENTITY)


def test_an_excess_on_a_linear_decline_eats_what_is_left_of_the_share() -> None:
    # Of 600 falling to 0 in two years, an excess of 150 eats all from a year and a half on:
    # a triangle of 450 over 1.5 years is paid, at half a failure a year.
    cost = under({"months": 24.0, "decline": "linear", "excess": 150.0})

    covered, paid = 0.5 * 2 * YEARLY, 0.5 * (0.5 * 450.0 * 1.5)
    assert shown(cost) == pytest.approx((4 * YEARLY - covered, covered - paid, paid), rel=IDENTITY)


def test_some_charges_are_always_the_owners() -> None:
    cost = under({"months": 24.0}, {**MODE, "not_covered": 90.0})

    assert shown(cost) == pytest.approx((2 * YEARLY + 4 * 0.5 * 90.0, 0.0, 2 * YEARLY), rel=IDENTITY)


@pytest.mark.parametrize(
    ("extension", "price", "paid"),
    [
        ({"bought": False, "price": 300.0, "months": 12.0}, 0.0, 2 * YEARLY),
        ({"bought": True, "price": 300.0, "months": 12.0}, 300.0, 3 * YEARLY),
        ({"bought": True, "price": 300.0, "hours": 250.0}, 300.0, 2.5 * YEARLY),
        ({"bought": True, "price": 300.0, "hours": 150.0}, 300.0, 2 * YEARLY),  # ends before the base does
        (
            {"bought": True, "price": 300.0, "months": 12.0, "parts": 0.5, "labour": 0.0},
            300.0,
            2 * YEARLY + 0.5 * 200.0,
        ),
        ({"bought": True, "price": 300.0, "months": 120.0}, 300.0, 4 * YEARLY),
    ],
)
def test_an_extension_takes_over_where_the_base_ends(extension: dict[str, Any], price: float, paid: float) -> None:
    cost = under({"months": 24.0, "extension": extension})

    assert shown(cost) == pytest.approx((4 * YEARLY - paid, price, paid), rel=IDENTITY)


def test_an_extension_takes_over_where_hours_end_the_base() -> None:
    # 150 h are run in a year and a half; the extension runs to 24 + 12 months, with the base's excess.
    extension = {"bought": True, "price": 300.0, "months": 12.0}

    cost = under({"months": 24.0, "hours": 150.0, "excess": 40.0, "extension": extension})

    assert shown(cost) == pytest.approx((YEARLY, 300.0 + 1.5 * 40.0, 3 * YEARLY - 1.5 * 40.0), rel=IDENTITY)


def test_commercial_terms_stand_in_place_of_the_private_ones() -> None:
    warranty = {"months": 48.0, "excess": 50.0, "commercial": {"months": 12.0}}

    private, commercial = (under(warranty, use={"kind": kind}) for kind in ("private", "commercial"))

    assert shown(private) == pytest.approx((0.0, 2 * 50.0, 4 * YEARLY - 100.0), rel=IDENTITY, abs=IDENTITY * YEARLY)
    assert shown(commercial) == pytest.approx((3 * YEARLY, 0.0, YEARLY), rel=IDENTITY)


def test_repairs_grow_and_the_excess_does_not() -> None:
    money = {"growth": {"parts": 0.02, "labour": 0.05}, "discount_rate": 0.1}
    cost = under({"months": 12.0, "excess": 50.0}, money=money)

    owner = sum(0.5 * (400.0 * 1.02**t + 200.0 * 1.05**t) for t in (1.5, 2.5, 3.5))
    first = 0.5 * (400.0 * 1.02**0.5 + 200.0 * 1.05**0.5)
    assert shown(cost) == pytest.approx((owner, 25.0, first - 25.0), rel=IDENTITY)
    assert cost.paid_by_warranty.present_value == pytest.approx((first - 25.0) / 1.1**0.5, rel=IDENTITY)
