"""The ledger's rows add up to what the measures say."""

from collections import defaultdict

import pytest
from hypothesis import given

from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Payer
from model.ledger import Row, ledger
from model.measures import EngineCost, Sum, compare
from tests.strategies import QUICK, scenarios
from tests.tolerances import IDENTITY


def sums(rows: tuple[Row, ...], payer: Payer) -> dict[Element, Sum]:
    """Sums of a payer's rows by element."""
    nominal: dict[Element, float] = defaultdict(float)
    present: dict[Element, float] = defaultdict(float)
    for row in rows:
        if row.payer is payer:
            nominal[row.element] += row.nominal
            present[row.element] += row.present_value
    return {element: Sum(nominal[element], present[element]) for element in Element}


def turnover(cost: EngineCost) -> float:
    """All amounts without their sign: what rounding is measured against. [money]"""
    return sum(abs(row.nominal) + abs(row.present_value) for row in ledger(cost))


class TestSums:
    @QUICK
    @given(scenario=scenarios())
    def test_the_owners_rows_are_the_elements_and_the_total(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        found, exact = sums(ledger(cost), Payer.OWNER), IDENTITY * turnover(cost)

        for element in Element:
            assert found[element].nominal == pytest.approx(cost.elements[element].nominal, rel=0.0, abs=exact)
            assert found[element].present_value == pytest.approx(
                cost.elements[element].present_value, rel=0.0, abs=exact
            )
        assert sum(part.nominal for part in found.values()) == pytest.approx(cost.total.nominal, rel=0.0, abs=exact)
        assert sum(part.present_value for part in found.values()) == pytest.approx(
            cost.total.present_value, rel=0.0, abs=exact
        )

    @QUICK
    @given(scenario=scenarios())
    def test_the_owners_rows_of_a_year_are_what_that_year_comes_to(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        found: dict[tuple[Element, int], float] = defaultdict(float)
        for row in ledger(cost):
            if row.payer is Payer.OWNER:
                found[row.element, row.year] += row.nominal

        exact = IDENTITY * turnover(cost)
        for element, booked in cost.ownership.elements.items():
            for year, amount in enumerate(booked.nominal.tolist()):
                assert found[element, year] == pytest.approx(amount, rel=0.0, abs=exact)

    @QUICK
    @given(scenario=scenarios())
    def test_the_warrantys_rows_are_what_it_paid(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        found, exact = sums(ledger(cost), Payer.WARRANTY), IDENTITY * turnover(cost)

        assert found[Element.REPAIRS].nominal == pytest.approx(cost.paid_by_warranty.nominal, rel=0.0, abs=exact)
        assert found[Element.REPAIRS].present_value == pytest.approx(
            cost.paid_by_warranty.present_value, rel=0.0, abs=exact
        )
        assert all(part == Sum(0.0, 0.0) for element, part in found.items() if element is not Element.REPAIRS)

    @QUICK
    @given(scenario=scenarios())
    def test_the_rows_of_a_year_are_the_elements_of_that_year(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        exact = IDENTITY * turnover(cost)

        for element, booked in cost.ownership.elements.items():
            for year, nominal in enumerate(booked.nominal.tolist()):
                rows = [row for row in ledger(cost) if (row.element, row.year, row.payer) == (element, year, "owner")]
                assert sum(row.nominal for row in rows) == pytest.approx(nominal, rel=0.0, abs=exact)


class TestRows:
    @QUICK
    @given(scenario=scenarios())
    def test_are_dated_within_the_period_in_order_of_time(self, scenario: Scenario) -> None:
        rows = ledger(compare(scenario).engines[0])
        times = [row.t_years for row in rows]

        assert times == sorted(times)
        assert all(0.0 <= t <= scenario.ownership.years for t in times)
        assert [row.date for row in rows] == sorted(row.date for row in rows)
        assert rows[0].date == scenario.ownership.delivery
        meter = [row.meter_hours for row in rows]
        assert meter == sorted(meter)

    @QUICK
    @given(scenario=scenarios())
    def test_amount_is_quantity_times_price_and_nothing_is_empty(self, scenario: Scenario) -> None:
        for row in ledger(compare(scenario).engines[0]):
            assert row.nominal == row.quantity * row.unit_price
            assert row.nominal != 0.0
            assert row.quantity > 0.0
