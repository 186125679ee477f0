"""Purchase, fit-up, finance and resale, worked by hand."""

from typing import Any

import pytest

from model.inputs.terms import Element
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

LOAN = {"deposit": 0.2, "rate": 0.06, "months": 24}
MONTHLY = 0.005
PAYMENT = 8000.0 * MONTHLY / (1.0 - 1.005**-24)
"""On the 8,000 that 10,000 less a fifth leaves."""

SHARES = [[0.0, 1.0], [2.0, 0.7], [6.0, 0.4]]


def test_discount_trade_in_and_a_list_of_fit_up() -> None:
    fit_up = [{"name": "Rigging", "price": 300.0}, {"name": "Propeller", "price": 200.0}]
    cost = cost_of_one({"discount": 500.0, "trade_in": 1500.0, "fit_up": fit_up}, money={"discount_rate": 0.05})

    assert cost.elements[Element.PURCHASE].nominal == 10000.0 - 500.0 - 1500.0
    assert cost.elements[Element.FIT_UP].nominal == 300.0 + 200.0
    assert cost.elements[Element.PURCHASE].present_value == 8000.0


def test_finance_is_the_interest() -> None:
    cost = cost_of_one({"finance": LOAN})

    assert cost.elements[Element.FINANCE].nominal == pytest.approx(24 * PAYMENT - 8000.0, rel=IDENTITY)
    assert cost.elements[Element.PURCHASE].nominal == 10000.0


def test_a_loan_at_the_discount_rate_is_worth_nothing() -> None:
    cost = cost_of_one({"finance": LOAN}, money={"discount_rate": 1.005**12 - 1.0})

    assert cost.elements[Element.FINANCE].present_value == pytest.approx(0.0, abs=IDENTITY * 24 * 8000.0)


def test_a_loan_is_paid_off_at_the_sale() -> None:
    # Sold after a year: twelve payments, and the balance of the twelve that are left.
    balance = PAYMENT * (1.0 - 1.005**-12) / MONTHLY
    cost = cost_of_one({"finance": LOAN}, ownership={"years": 1.0}, money={"discount_rate": 0.1})

    finance = cost.elements[Element.FINANCE]
    assert finance.nominal == pytest.approx(12 * PAYMENT + balance - 8000.0, rel=IDENTITY)
    paid = sum(PAYMENT / 1.1 ** (month / 12) for month in range(1, 13)) + balance / 1.1
    assert finance.present_value == pytest.approx(paid - 8000.0, rel=IDENTITY)


def test_payments_stay_at_their_own_months_at_year_ends() -> None:
    at_mid, at_end = (
        cost_of_one({"finance": LOAN}, money={"discount_rate": 0.1, "timing": timing}).elements[Element.FINANCE]
        for timing in ("mid-year", "year-end")
    )

    assert at_mid == at_end


def test_net_price_and_fit_up_are_lent_less_the_deposit() -> None:
    engine = {"discount": 500.0, "trade_in": 1500.0, "fit_up": 2000.0, "finance": {**LOAN, "rate": 0.12, "months": 1}}

    cost = cost_of_one(engine)

    assert cost.elements[Element.FINANCE].nominal == pytest.approx(0.8 * 10000.0 * 0.01, rel=IDENTITY)


@pytest.mark.parametrize(
    ("years", "share"),
    [
        (1.0, 0.85),  # half-way down the first segment
        (2.0, 0.7),
        (5.0, 0.7 - 0.3 * 3 / 4),
        (6.0, 0.4),
        (10.0, 0.4 * (0.4 / 0.7)),  # the last segment's ratio over four more years
        (8.0, 0.4 * (0.4 / 0.7) ** 0.5),
    ],
)
def test_resale_from_a_table(years: float, share: float) -> None:
    cost = cost_of_one({"resale": {"by_age": SHARES}}, ownership={"years": years})

    assert cost.elements[Element.RESALE].nominal == pytest.approx(-share * 10000.0, rel=IDENTITY)


@pytest.mark.parametrize(
    ("resale", "share"),
    [
        ({}, 0.8**4),
        ({"normal_hours": 50.0, "per_100_hours": 0.02}, 0.8**4 - 0.02 * (400.0 - 200.0) / 100),
        ({"normal_hours": 162.5, "per_100_hours": 0.02}, 0.8**4 + 0.02 * (650.0 - 400.0) / 100),
        ({"normal_hours": 100.0, "per_100_hours": 0.02}, 0.8**4),
        ({"normal_hours": 0.0, "per_100_hours": 0.2}, 0.0),
        ({"normal_hours": 0.0, "per_100_hours": 0.2, "floor": 0.05}, 0.05),
        ({"normal_hours": 1000.0, "per_100_hours": 0.2}, 1.0),
    ],
)
def test_hours_above_normal_lower_it_below_raise_it(resale: dict[str, float], share: float) -> None:
    cost = cost_of_one({"resale": {"yearly_decline": 0.2, **resale}})

    assert cost.elements[Element.RESALE].nominal == pytest.approx(-share * 10000.0, rel=IDENTITY)


@pytest.mark.parametrize(
    ("engine", "of"),
    [({"discount": 500.0, "trade_in": 1000.0}, 10000.0), ({"list_price": 12000.0}, 12000.0)],
)
def test_resale_is_of_the_list_price_of_a_new_one_then(engine: dict[str, Any], of: float) -> None:
    cost = cost_of_one(
        {**engine, "resale": {"yearly_decline": 0.2}},
        money={"growth": {"engine_price": 0.03}, "discount_rate": 0.05},
    )

    value = 0.8**4 * of * 1.03**4
    assert cost.elements[Element.RESALE].nominal == pytest.approx(-value, rel=IDENTITY)
    assert cost.elements[Element.RESALE].present_value == pytest.approx(-value / 1.05**4, rel=IDENTITY)
