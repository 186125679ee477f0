"""Purchase, loan and resale."""

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.elements import capital
from model.inputs.engine import Finance, Resale
from model.inputs.terms import Element
from model.measures import compare
from tests.strategies import QUICK, YEARS, File, files, scenario
from tests.tolerances import IDENTITY

TABLE = Resale(by_age=((0.0, 0.8), (4.0, 0.5), (8.0, 0.25)), normal_hours=50.0, per_100_hours=0.02, floor=0.1)


class TestLoanFlows:
    @QUICK
    @given(rate=st.sampled_from([0.0, 0.03, 0.12]), months=st.integers(1, 120), years=YEARS)
    def test_discounted_monthly_at_the_loans_own_rate_come_to_nothing(
        self, rate: float, months: int, years: float
    ) -> None:
        years = round(12 * years) / 12  # a sale between two payments would owe interest since the last
        flows = capital.loan_flows(7000.0, Finance(deposit=0.0, rate=rate, months=months), years)
        worth = [amount * (1.0 + rate / 12) ** (-12 * t) for t, _, amount in flows]

        assert sum(worth) == pytest.approx(0.0, abs=IDENTITY * 7000.0 * len(flows))

    @QUICK
    @given(rate=st.sampled_from([0.01, 0.06]), months=st.integers(1, 60))
    def test_nominal_sum_is_the_interest(self, rate: float, months: int) -> None:
        flows = capital.loan_flows(7000.0, Finance(deposit=0.0, rate=rate, months=months), 10.0)
        interest = -npf.ipmt(rate / 12, np.arange(1, months + 1), months, 7000.0).sum()

        assert sum(amount for _, _, amount in flows) == pytest.approx(interest, abs=IDENTITY * 7000.0 * months)

    def test_without_a_loan_there_is_nothing(self) -> None:
        assert capital.loan_flows(7000.0, None, 5.0) == ()
        assert capital.loan_flows(0.0, Finance(deposit=0.0, rate=0.1, months=12), 5.0) == ()

    @QUICK
    @given(file=files())
    def test_the_finance_element_is_the_interest_until_the_sale(self, file: File) -> None:
        engine = file["engines"][0]
        engine["finance"] = {"deposit": 0.25, "rate": 0.06, "months": 30}
        years = file["ownership"]["years"]
        count = file["use"]["per_boat"]
        lent = 0.75 * count * (engine["price"] - engine["trade_in"] + engine["fit_up"])
        paid = min(30, int(12 * years + 1e-6))
        interest = -npf.ipmt(0.06 / 12, np.arange(1, paid + 1), 30, lent).sum()

        finance = compare(scenario(file)).engines[0].elements[Element.FINANCE].nominal
        assert finance == pytest.approx(interest, abs=IDENTITY * lent * 30)


class TestResale:
    @pytest.mark.parametrize(
        ("age", "share"), [(0.0, 0.8), (2.0, 0.65), (4.0, 0.5), (8.0, 0.25), (12.0, 0.125), (16.0, 0.1)]
    )
    def test_by_age_and_beyond_the_table(self, age: float, share: float) -> None:
        normal = 50.0 * age

        assert float(capital.resale_share(TABLE, age, normal)) == pytest.approx(share, rel=IDENTITY)

    def test_more_hours_take_off_and_fewer_add(self) -> None:
        shares = capital.resale_share(TABLE, 4.0, [100.0, 200.0, 300.0])

        np.testing.assert_allclose(shares, [0.52, 0.5, 0.48], rtol=IDENTITY)

    @QUICK
    @given(age=st.floats(0.0, 40.0), meter=st.floats(0.0, 20000.0))
    def test_stays_between_its_floor_and_whole(self, age: float, meter: float) -> None:
        assert 0.1 <= float(capital.resale_share(TABLE, age, meter)) <= 1.0

    def test_a_yearly_decline(self) -> None:
        share = capital.resale_share(Resale(yearly_decline=0.2), 2.5, 999.0)

        assert float(share) == pytest.approx(0.8**2.5, rel=IDENTITY)

    def test_nothing_stated_is_worth_nothing(self) -> None:
        assert capital.resale_share(None, 3.0, [1.0, 2.0]).tolist() == [0.0, 0.0]

    @QUICK
    @given(file=files())
    def test_a_discount_does_not_lower_it(self, file: File) -> None:
        cheap = {**file, "engines": [{**file["engines"][0], "discount": 500.0}]}
        full, less = (compare(scenario(one)).engines[0].elements for one in (file, cheap))

        assert full[Element.RESALE] == less[Element.RESALE]
        assert full[Element.PURCHASE].nominal - less[Element.PURCHASE].nominal == 500.0 * file["use"]["per_boat"]
