"""Value at sale against a textbook's declining balance and a statutory table of boats."""

import pytest

from model.elements.capital import resale_share, share_by_age
from model.inputs.engine import Resale
from tests.published.figures import check
from tests.tolerances import IDENTITY


def test_a_declining_balance_down_to_a_floor() -> None:
    # Principles of Finance 2e, section 4.4: double declining balance with a salvage value.
    inputs, answer, tolerance = check("E-G01")
    cost, salvage, rate = inputs["cost"], inputs["salvage"], inputs["rate"]

    def book_values(floor: float) -> list[float]:
        resale = Resale(yearly_decline=rate, floor=floor)
        return [cost * float(resale_share(resale, float(age), 0.0)) for age in range(6)]

    allowed, unrestricted = book_values(salvage / cost), book_values(0.0)
    assert allowed[0] - allowed[1] == pytest.approx(answer["first_year"], abs=tolerance)
    assert allowed[3] == pytest.approx(answer["book_after_3"], abs=tolerance)
    assert unrestricted[3] - unrestricted[4] == pytest.approx(answer["unrestricted_year_4"], abs=tolerance)
    assert allowed[3] - allowed[4] == pytest.approx(answer["allowed_year_4"], abs=tolerance)
    assert allowed[4] - allowed[5] == pytest.approx(answer["year_5"], abs=tolerance)


def statutory(kind: str) -> Resale:
    """A column of the Washington Administrative Code 458-20-23801; its first year of ownership is age 0."""
    shares = check("E-G04").inputs["table_by_year_1_to_17plus"][kind]
    return Resale(by_age=tuple((float(age), share) for age, share in enumerate(shares)))


@pytest.mark.parametrize("kind", list(check("E-G04").inputs["table_by_year_1_to_17plus"]))
def test_every_row_of_a_statutory_table(kind: str) -> None:
    # Washington Administrative Code 458-20-23801, 2021 archive: whole boats by year of ownership.
    shares = check("E-G04").inputs["table_by_year_1_to_17plus"][kind]

    found = [share_by_age(statutory(kind), float(age)) for age in range(len(shares))]

    assert found == pytest.approx(shares, rel=IDENTITY)


def test_the_worked_values_of_the_statutory_table() -> None:
    # The same, example 2 (a sailboat in its sixth year) and example 1 (a powerboat in its first, a quarter's tax).
    inputs, answer, tolerance = check("E-G04")
    age = inputs["year"] - 1.0

    sailboat = inputs["sailboat_price"] * float(resale_share(statutory("sailboat"), age, 0.0))
    powerboat = inputs["powerboat_price"] * float(resale_share(statutory("power_lt30ft"), 0.0, 0.0))

    assert sailboat == pytest.approx(answer["value_year6"], abs=tolerance)
    assert sailboat * inputs["tax_rate"] == pytest.approx(answer["tax"], abs=tolerance)
    assert powerboat * inputs["tax_rate"] * inputs["prorate"] == pytest.approx(answer["powerboat_tax"], abs=tolerance)
