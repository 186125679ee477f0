"""The rows behind a figure sum to the figure."""

import pytest

from dashboard import answers, drawer
from dashboard.drawer import Behind, behind_of, key, keys_by_year, rows_behind
from dashboard.scenarios import start
from model.inputs.terms import Element, Payer
from model.wording import cents
from tests.tolerances import IDENTITY

WORK = start()
"""The demo."""

COSTS = answers.comparison(WORK).engines
"""What its engines cost."""


@pytest.mark.parametrize("cost", COSTS, ids=lambda cost: cost.name)
class TestRows:
    def test_of_an_element_sum_to_it(self, cost: answers.EngineCost) -> None:
        for element, amount in cost.elements.items():
            rows = rows_behind(WORK, Behind(cost.name, (element,)))

            assert sum(row.present_value for row in rows) == pytest.approx(amount.present_value, rel=IDENTITY)

    def test_of_everything_sum_to_the_total(self, cost: answers.EngineCost) -> None:
        rows = rows_behind(WORK, Behind(cost.name))

        assert sum(row.nominal for row in rows) == pytest.approx(cost.total.nominal, rel=IDENTITY)

    def test_of_the_years_share_out_the_element(self, cost: answers.EngineCost) -> None:
        for year, amount in enumerate(cost.ownership.elements[Element.SERVICE_LABOUR].nominal.tolist()):
            rows = rows_behind(WORK, Behind(cost.name, (Element.SERVICE_LABOUR,), (year, year + 1)))

            assert sum(row.nominal for row in rows) == pytest.approx(amount, rel=IDENTITY)

    def test_of_the_warranty_sum_to_what_it_paid(self, cost: answers.EngineCost) -> None:
        rows = rows_behind(WORK, Behind(cost.name, payer=Payer.WARRANTY))

        assert sum(row.present_value for row in rows) == pytest.approx(
            cost.paid_by_warranty.present_value, rel=IDENTITY
        )


class TestKey:
    @pytest.mark.parametrize(
        "behind",
        [
            Behind("Four"),
            Behind('A "name", [odd]', (Element.FUEL, Element.REPAIRS), (0, 3), None, True, 3),
        ],
    )
    def test_comes_back_the_same(self, behind: Behind) -> None:
        assert behind_of(key(behind)) == behind

    def test_by_year_each_opens_its_own_year(self) -> None:
        fuel = (Element.FUEL, Element.TWO_STROKE_OIL)
        for years in (3, 2):  # fewer after more: what is kept is of one period
            found = [behind_of(one) for one in keys_by_year("Four", fuel, years)]
            assert found == [Behind("Four", fuel, (year, year + 1), is_nominal=True) for year in range(years)]

    @pytest.mark.parametrize(
        "text", [None, 3, "", "rows:", "rows:[]", "rows:[1, [2], 3, 4, 5, 6]", "rows:" + "[" * 900, "x" * 2000]
    )
    def test_what_is_no_key_is_none(self, text: object) -> None:
        assert behind_of(text) is None


def test_the_first_line_is_the_sum_in_the_money_of_the_figure() -> None:
    cost = COSTS[0]
    amount = cost.elements[Element.FUEL]

    present = drawer.content(WORK, Behind(cost.name, (Element.FUEL,)))[1]
    nominal = drawer.content(WORK, Behind(cost.name, (Element.FUEL,), is_nominal=True))[1]

    assert present.children.startswith(f"Sum: {cents(amount.present_value)} EUR in present value")
    assert nominal.children.startswith(f"Sum: {cents(amount.nominal)} EUR in money of the day")


def test_nothing_is_said_of_an_engine_that_is_not_there() -> None:
    shown = drawer.content(WORK, Behind("Nobody's"))

    assert shown[2].children == "No rows: nothing is paid for this."
