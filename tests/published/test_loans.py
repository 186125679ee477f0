"""Loan payments, interest and balances against a textbook and a library."""

import numpy as np
import numpy_financial
import pytest

from model.money import loan_balances, loan_interest, loan_payment
from tests.published.figures import check
from tests.tolerances import IDENTITY


def loan_of(key: str) -> tuple[float, float, int]:
    """Principal, yearly rate and months of a published loan."""
    inputs = check(key).inputs
    return inputs["principal"], inputs["annual_rate"], inputs["months"]


def test_a_three_year_loan_with_printed_rows() -> None:
    # Principles of Finance 2e, section 8.3; its total is of rounded payments, 36 of them.
    _, answer, tolerance = check("E-E01")
    interest, balances = loan_interest(*loan_of("E-E01")), loan_balances(*loan_of("E-E01"))

    assert loan_payment(*loan_of("E-E01")) == pytest.approx(answer["payment"], abs=tolerance)
    assert {month: interest[int(month) - 1] for month in answer["interest"]} == pytest.approx(
        answer["interest"], abs=tolerance
    )
    assert {month: balances[int(month)] for month in answer["balance"]} == pytest.approx(
        answer["balance"], abs=tolerance
    )
    assert interest.sum() == pytest.approx(answer["total_interest"], abs=tolerance)


def test_a_year_of_interest_and_repayment() -> None:
    # numpy-financial 1.0.0, docstring of ipmt (what is paid is negative there).
    _, answer, tolerance = check("E-E03")
    interest, balances = loan_interest(*loan_of("E-E03")), loan_balances(*loan_of("E-E03"))

    assert -interest == pytest.approx(answer["ipmt"], abs=tolerance)
    assert np.diff(balances) == pytest.approx(answer["ppmt"], abs=tolerance)
    assert -interest.sum() == pytest.approx(answer["total_interest"], abs=tolerance)


def test_a_fifteen_year_payment_to_thirteen_digits() -> None:
    # numpy-financial 1.0.0, docstring of pmt (what is paid is negative there).
    _, answer, tolerance = check("E-E04")

    assert -loan_payment(*loan_of("E-E04")) == pytest.approx(answer, abs=tolerance)


@pytest.mark.parametrize("rate", [0.01, 0.06, 0.0824, 0.3])
@pytest.mark.parametrize("months", [1, 12, 84, 360])
def test_against_the_reference_library(rate: float, months: int) -> None:
    # numpy-financial 1.0.0: pmt, ipmt and fv.
    principal, paid = 10000.0, np.arange(1, months + 1)
    payment = numpy_financial.pmt(rate / 12, months, -principal)
    # Differences of large sums: exact to float rounding of the principal, not of what is left of it.
    rounding = IDENTITY * principal * months

    assert loan_payment(principal, rate, months) == pytest.approx(payment, rel=IDENTITY * months)
    assert loan_interest(principal, rate, months) == pytest.approx(
        -numpy_financial.ipmt(rate / 12, paid, months, principal), abs=rounding
    )
    assert loan_balances(principal, rate, months)[1:] == pytest.approx(
        numpy_financial.fv(rate / 12, paid, payment, -principal), abs=rounding
    )


@pytest.mark.parametrize("rate", [0.0, 1e-13, 1e-6, 0.0001, 0.06])
def test_a_loan_of_one_month_is_repaid_with_its_interest(rate: float) -> None:
    # Closed form; the reference library loses digits at small rates and warns at 0.
    assert loan_payment(10000.0, rate, 1) == pytest.approx(10000.0 * (1.0 + rate / 12.0), rel=IDENTITY)


def test_without_interest_a_loan_is_paid_in_equal_parts() -> None:
    assert loan_payment(1200.0, 0.0, 12) == pytest.approx(1200.0 / 12, rel=IDENTITY)
    assert loan_balances(1200.0, 0.0, 12) == pytest.approx(1200.0 - 100.0 * np.arange(13), rel=IDENTITY)
    assert loan_interest(1200.0, 0.0, 12).sum() == 0.0
