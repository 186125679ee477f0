"""Money factors against another library of the same formulas, and what they must be at the edges."""

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model import money
from tests.strategies import QUICK
from tests.tolerances import IDENTITY

# Below a millionth a rate loses digits in the plain formula (1 - v^n) / r of the other library, not in this one.
PLAIN_RATES = st.one_of(st.floats(0.001, 0.6), st.floats(-0.3, -0.001))
PERIODS = st.integers(1, 360)


class TestAgainstAnotherLibrary:
    @QUICK
    @given(rate=PLAIN_RATES, years=st.integers(1, 60))
    def test_annuity(self, rate: float, years: int) -> None:
        # Its own error: the difference 1 - v^n keeps 16 digits less those of n x r, at worst three.
        assert money.annuity_factor(rate, years) == pytest.approx(-npf.pv(rate, years, 1.0), rel=IDENTITY)

    @QUICK
    @given(rate=PLAIN_RATES, years=st.integers(1, 60))
    def test_capital_recovery(self, rate: float, years: int) -> None:
        assert money.capital_recovery_factor(rate, years) == pytest.approx(-npf.pmt(rate, years, 1.0), rel=IDENTITY)

    @QUICK
    @given(yearly=st.floats(0.012, 0.4), months=PERIODS)
    def test_loan(self, yearly: float, months: int) -> None:
        payment = money.loan_payment(9000.0, yearly, months)
        interest = money.loan_interest(9000.0, yearly, months)
        theirs = -npf.ipmt(yearly / 12, np.arange(1, months + 1), months, 9000.0)

        assert payment == pytest.approx(-npf.pmt(yearly / 12, months, 9000.0), rel=IDENTITY)
        # Theirs comes from a balance built up by compounding, so it is off by that much of the sum lent.
        np.testing.assert_allclose(interest, theirs, rtol=0.0, atol=IDENTITY * 9000.0)

    @QUICK
    @given(rate=PLAIN_RATES, amounts=st.lists(st.floats(-1e4, 1e4), min_size=1, max_size=30))
    def test_present_value(self, rate: float, amounts: list[float]) -> None:
        scale = IDENTITY * sum(abs(amount) * (1.0 + rate) ** -t for t, amount in enumerate(amounts))

        ours = money.present_value(amounts, np.arange(len(amounts)), rate)
        assert ours == pytest.approx(npf.npv(rate, amounts), rel=0.0, abs=scale)


class TestLoan:
    @QUICK
    @given(yearly=st.sampled_from([0.0, 0.01, 0.06, 0.3]), months=PERIODS)
    def test_payments_are_the_sum_lent_and_its_interest(self, yearly: float, months: int) -> None:
        paid = months * money.loan_payment(9000.0, yearly, months)

        assert paid == pytest.approx(9000.0 + money.loan_interest(9000.0, yearly, months).sum(), rel=IDENTITY)

    @QUICK
    @given(yearly=st.sampled_from([0.0, 0.01, 0.06, 0.3]), months=PERIODS)
    def test_balances_fall_by_payment_less_interest(self, yearly: float, months: int) -> None:
        balances = money.loan_balances(9000.0, yearly, months)
        repaid = money.loan_payment(9000.0, yearly, months) - money.loan_interest(9000.0, yearly, months)

        np.testing.assert_allclose(-np.diff(balances), repaid, rtol=0.0, atol=IDENTITY * 9000.0)
        assert balances[0] == pytest.approx(9000.0, rel=IDENTITY)
        assert balances[-1] == 0.0


class TestFactors:
    @QUICK
    @given(real=st.floats(-0.2, 0.5), inflation=st.floats(-0.2, 0.5))
    def test_real_and_nominal_rates_are_each_others_inverse(self, real: float, inflation: float) -> None:
        there = money.nominal_rate(real, inflation)

        assert 1.0 + money.real_rate(there, inflation) == pytest.approx(1.0 + real, rel=IDENTITY)

    def test_at_rate_zero_everything_is_a_plain_sum(self) -> None:
        assert money.annuity_factor(0.0, 7.5) == 7.5
        assert money.capital_recovery_factor(0.0, 8.0) == 1.0 / 8.0
        assert money.present_value([1.0, 2.0, 4.0], [0.0, 3.5, 9.0], 0.0) == 7.0

    @QUICK
    @given(rate=st.floats(-1e-9, 1e-9), years=st.floats(0.1, 60.0))
    def test_a_tiny_rate_is_nearly_the_plain_sum(self, rate: float, years: float) -> None:
        # The first term left out is rate x years (years + 1) / 2.
        assert money.annuity_factor(rate, years) == pytest.approx(years, rel=abs(rate) * (years + 1.0) + IDENTITY)

    def test_growth_and_discount_undo_each_other(self) -> None:
        t = np.array([[0.0, 0.5], [3.0, 7.25]])

        np.testing.assert_allclose(money.growth_factor(0.04, t) * money.discount_factor(0.04, t), 1.0, rtol=IDENTITY)
        assert money.yearly_growth(100.0, 100.0 * 1.03**6, 6.0) == pytest.approx(0.03, rel=1.0 / 0.03 * IDENTITY)
        assert money.effective_yearly_rate(0.005) == pytest.approx(1.005**12 - 1.0, rel=IDENTITY)
