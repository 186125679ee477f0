"""Who pays the repairs expected: the ledger's rows by payer, and the owner's share at any moment by brute force."""

from datetime import date
from typing import Any

import numpy as np
import pytest

from model.inputs.terms import Element, Payer
from model.ledger import ledger
from model.measures import EngineCost
from model.repair_bill import owners_share, repair_bill
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY, REGRESSION

STEADY = {"name": "Fuel system", "clock": "years", "scale": 5.0, "shape": 1.0, "parts_price": 400.0, "labour": 2.0}
WEARING = {"name": "Gearcase", "clock": "hours", "scale": 700.0, "shape": 2.0, "parts_price": 900.0, "labour": 6.0}
STEPS = [{"from": 12, "parts": 0.8, "labour": 0.5}, {"from": 30, "parts": 0.5, "labour": 0.0}]

WARRANTIES: dict[str, dict[str, Any] | None] = {
    "none": None,
    "flat": {"months": 30},
    "by hours": {"months": 36, "hours": 170},
    "steps": {"months": 40, "steps": STEPS},
    "linear": {"months": 36, "decline": "linear"},
    "linear with excess": {"months": 36, "decline": "linear", "excess": 150},
    "extended": {"months": 18, "excess": 50, "extension": {"bought": True, "price": 300, "months": 12, "parts": 0.5}},
}


def cost(warranty: dict[str, Any] | None, *modes: dict[str, Any]) -> EngineCost:
    """One engine under a warranty."""
    return cost_of_one({"warranty": warranty, "repair": list(modes)})


@pytest.mark.parametrize("warranty", WARRANTIES.values(), ids=WARRANTIES)
def test_the_bill_is_the_ledgers(warranty: dict[str, Any] | None) -> None:
    found = cost(warranty, STEADY, WEARING)
    bill = repair_bill(found)

    for year in range(4):
        for payer, part in ((Payer.OWNER, bill.owner), (Payer.WARRANTY, bill.warranty)):
            rows = [
                row.nominal
                for row in ledger(found)
                if row.element in (Element.REPAIRS, Element.WARRANTY_COVER)
                and row.through_year == year
                and row.payer is payer
            ]
            assert part[year] == pytest.approx(sum(rows), rel=REGRESSION)


@pytest.mark.parametrize("warranty", WARRANTIES.values(), ids=WARRANTIES)
def test_the_share_over_a_year_is_the_years_share(warranty: dict[str, Any] | None) -> None:
    # With failures as likely at any moment, the mean of the share over a year is the owner's part of its bill.
    found = cost(warranty, STEADY)
    bill, share = repair_bill(found), owners_share(found)

    for year in range(4):
        inside = (share.t >= year) & (share.t <= year + 1)
        t, level = share.t[inside], share.share[inside]
        begin = int(np.flatnonzero(t == year)[-1])  # after the step at the begin of the year
        end = int(np.flatnonzero(t == year + 1)[0])
        mean = np.trapezoid(level[begin : end + 1], t[begin : end + 1])
        assert mean == pytest.approx(bill.owner[year] / bill.total[year], abs=REGRESSION)


def test_the_day_cover_ends() -> None:
    assert repair_bill(cost({"months": 30}, STEADY)).cover_ends_on == date(2029, 7, 2)
    by_hours = repair_bill(cost({"months": 36, "hours": 170}, STEADY))
    assert by_hours.cover_ends == pytest.approx(1.7, rel=IDENTITY)
    none = repair_bill(cost(None, STEADY))
    assert none.cover_ends == 0.0
    assert none.cover_ends_on is None
    assert none.share_paid_by_warranty == 0.0
    longer = repair_bill(cost({"months": 120}, STEADY))
    assert longer.cover_ends_on is None
    assert longer.share_paid_by_warranty == pytest.approx(1.0, rel=IDENTITY)


def test_an_engine_that_never_fails_has_no_bill() -> None:
    found = cost({"months": 24})

    assert repair_bill(found).total.tolist() == [0.0, 0.0, 0.0, 0.0]
    assert repair_bill(found).share_paid_by_warranty == 0.0
    assert owners_share(found).share.min() == 1.0
