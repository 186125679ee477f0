"""What must hold of any comparison, whatever is in it."""

from typing import Any

import numpy_financial as npf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.measures import EngineCost, compare, equivalent_annual_cost, total_by_year
from tests.strategies import QUICK, File, changed, covers, files, scenario, scenarios
from tests.tolerances import IDENTITY

PRICES = {
    *("price", "list_price", "discount", "trade_in", "fit_up", "menu_price", "visit_price", "parts_price"),
    *("not_covered", "excess", "fuel", "two_stroke_oil", "labour", "day_cost"),
}
"""Keys of amounts of money; `fuel`, `two_stroke_oil` and `labour` only within [prices]."""


def first_of(file: File) -> EngineCost:
    """The first engine of a file."""
    return compare(scenario(file)).engines[0]


def turnover(cost: EngineCost) -> float:
    """All elements without their sign: what rounding is measured against. [money]"""
    return sum(abs(part.nominal) + abs(part.present_value) for part in cost.elements.values())


def doubled(table: Any, key: str = "", within: str = "") -> Any:
    """The same file with every amount of money twice as high."""
    if isinstance(table, dict):
        return {name: doubled(value, name, key) for name, value in table.items()}
    if isinstance(table, list):
        return [doubled(value, key, within) for value in table]
    is_price = key in PRICES and (key not in {"fuel", "two_stroke_oil", "labour"} or within == "prices")
    return 2.0 * table if is_price else table


class TestAnyComparison:
    @QUICK
    @given(file=files())
    def test_two_identical_engines_differ_by_exactly_nothing(self, file: File) -> None:
        (engine,) = file["engines"]
        one, other = compare(scenario({**file, "engines": [engine, {**engine, "name": "Other"}]})).engines

        assert one.elements == other.elements
        assert one.total == other.total
        assert one.equivalent_annual_cost == other.equivalent_annual_cost

    @QUICK
    @given(file=files())
    def test_twice_every_price_is_exactly_twice_every_total(self, file: File) -> None:
        one, twice = first_of(file), first_of(doubled(file))

        # Doubling a float is exact, and so every step of a sum that is linear in prices.
        assert {element: (2.0 * part.nominal, 2.0 * part.present_value) for element, part in one.elements.items()} == {
            element: (part.nominal, part.present_value) for element, part in twice.elements.items()
        }
        assert twice.total.present_value == 2.0 * one.total.present_value
        assert twice.paid_by_warranty.nominal == 2.0 * one.paid_by_warranty.nominal

    @QUICK
    @given(file=files())
    def test_at_rate_zero_present_value_is_the_plain_sum(self, file: File) -> None:
        cost = first_of(changed(file, ("money", "discount_rate"), 0.0))

        assert cost.total.present_value == cost.total.nominal
        assert all(part.present_value == part.nominal for part in cost.elements.values())

    @QUICK
    @given(
        file=files(),
        inflation=st.sampled_from([-0.02, 0.02, 0.1]),
        real=st.sampled_from([0.0, 0.03, -0.01]),
        states_real=st.booleans(),
    )
    def test_nominal_money_at_the_nominal_rate_is_delivery_day_money_at_the_real_rate(
        self, file: File, inflation: float, real: float, states_real: bool
    ) -> None:
        file = changed(file, ("engines", 0, "finance"), None)
        if "warranty" in file["engines"][0]:  # excess and extension are fixed in nominal money
            file = changed(file, ("engines", 0, "warranty", "excess"), 0.0)
            file = changed(file, ("engines", 0, "warranty", "extension"), None)
        nominal_rate = {"discount_rate": (1.0 + real) * (1.0 + inflation) - 1.0}
        rate = {"real_discount_rate": real} if states_real else nominal_rate
        timing = file["money"]["timing"]
        nominal = first_of({**file, "money": {"inflation": inflation, "timing": timing} | rate})
        day = first_of({**file, "money": {"inflation": 0.0, "timing": timing, "discount_rate": real}})

        exact = IDENTITY * turnover(day)
        for element in Element:
            assert nominal.elements[element].present_value == pytest.approx(
                day.elements[element].present_value, rel=0.0, abs=exact
            )
        assert nominal.equivalent_annual_cost == pytest.approx(day.equivalent_annual_cost, rel=0.0, abs=exact)

    @QUICK
    @given(scenario=scenarios())
    def test_totals_are_the_sums_of_the_years(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        by_year, exact = total_by_year(cost.ownership), IDENTITY * turnover(cost)

        assert by_year.nominal.sum() == pytest.approx(cost.total.nominal, rel=0.0, abs=exact)
        assert by_year.present_value.sum() == pytest.approx(cost.total.present_value, rel=0.0, abs=exact)
        burned = (Element.FUEL, Element.TWO_STROKE_OIL)
        rest = total_by_year(cost.ownership, left_out=burned).nominal.sum()
        without = cost.total.nominal - sum(cost.elements[element].nominal for element in burned)
        assert rest == pytest.approx(without, rel=0.0, abs=exact)

    @QUICK
    @given(file=files())
    def test_the_order_of_engines_does_not_matter(self, file: File) -> None:
        (engine,) = file["engines"]
        two = [engine, {**engine, "name": "Other", "price": engine["price"] + 1000.0}]
        forth, back = (compare(scenario({**file, "engines": order})) for order in (two, two[::-1]))

        assert [cost.total for cost in forth.engines] == [cost.total for cost in back.engines][::-1]
        assert forth.cheapest.name == back.cheapest.name == engine["name"]


class TestMoreCover:
    """More cover never costs the owner more, before its price."""

    @staticmethod
    def before_its_price(file: File, terms: File | None) -> float:
        """Repairs and excess the owner pays, nominal. [money]"""
        file = changed(file, ("engines", 0, "warranty"), terms)
        cost = first_of(file)
        price = terms["extension"]["price"] * cost.case.count if terms and "extension" in terms else 0.0
        return cost.elements[Element.REPAIRS].nominal + cost.elements[Element.WARRANTY_COVER].nominal - price

    def never_costs_more(self, file: File, less: File | None, more: File) -> None:
        low, high = self.before_its_price(file, more), self.before_its_price(file, less)

        assert low <= high + IDENTITY * turnover(first_of(file))

    @QUICK
    @given(file=files(), terms=covers())
    def test_than_none_at_all(self, file: File, terms: File) -> None:
        self.never_costs_more(file, None, terms)

    @QUICK
    @given(file=files(), terms=covers(), months=st.sampled_from([1.0, 7.0, 12.0]))
    def test_for_longer(self, file: File, terms: File, months: float) -> None:
        # Without an extension: a longer base that has declined would hold back an extension that pays more.
        terms = changed(terms, ("extension",), None)

        self.never_costs_more(file, terms, {**terms, "months": terms["months"] + months})
        if "hours" in terms:
            self.never_costs_more(file, terms, {**terms, "hours": terms["hours"] + 10.0 * months})

    @QUICK
    @given(file=files(), terms=covers())
    def test_for_longer_by_an_extension(self, file: File, terms: File) -> None:
        self.never_costs_more(file, changed(terms, ("extension",), None), terms)

    @QUICK
    @given(file=files(), terms=covers())
    def test_in_bigger_shares(self, file: File, terms: File) -> None:
        self.never_costs_more(
            file, terms, {key: kept for key, kept in terms.items() if key not in ("steps", "decline")}
        )
        if "extension" in terms:
            whole = changed(terms, ("extension", "parts"), 1.0)
            self.never_costs_more(file, terms, whole)

    @QUICK
    @given(file=files(), terms=covers(), excess=st.sampled_from([10.0, 300.0]))
    def test_with_less_excess(self, file: File, terms: File, excess: float) -> None:
        self.never_costs_more(file, {**terms, "excess": terms["excess"] + excess}, terms)


class TestZeroHours:
    @QUICK
    @given(file=files(), years=st.integers(1, 8))
    def test_burn_nothing_and_still_have_yearly_service(self, file: File, years: int) -> None:
        file = {**file, "use": {**file["use"], "hours_by_year": [0.0] * years}}
        file["ownership"] = {**file["ownership"], "years": float(years), "service_at_handover": False}
        file["engines"][0]["service"]["every"] = {"hours": 100.0, "months": 12.0}
        file["engines"][0]["service"]["task"] = []
        file["engines"][0].pop("start", None)
        cost = first_of(file)

        assert cost.elements[Element.FUEL].nominal == 0.0
        assert cost.elements[Element.TWO_STROKE_OIL].nominal == 0.0
        assert cost.cost_per_hour is None
        first = 1 if file["engines"][0]["service"].get("first", {}).get("months") else 0
        late = first and file["engines"][0]["service"].get("count_from") == "first visit"
        assert cost.ownership.visits.sum() == first + years - 1
        assert late or cost.ownership.visits[1:].tolist() == [1.0] * (years - 1)


class TestEquivalentAnnualCost:
    @QUICK
    @given(scenario=scenarios())
    def test_its_own_present_value_at_the_real_rate_is_the_total(self, scenario: Scenario) -> None:
        (cost,) = compare(scenario).engines
        rate, years = cost.case.rules.real_rate, cost.case.years
        # Inflation taken off a rate as high leaves 0 or the rounding of floats, which the other library divides by.
        factor = years if abs(rate) < IDENTITY else -npf.pv(rate, years, 1.0)

        assert cost.equivalent_annual_cost * factor == pytest.approx(cost.total.present_value, rel=IDENTITY, abs=0.0)

    def test_is_an_even_share_at_rate_zero(self) -> None:
        assert equivalent_annual_cost(900.0, 0.0, 4.5) == 200.0
