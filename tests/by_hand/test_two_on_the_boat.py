"""Two engines on one boat: what is bound to an engine doubles, what is bound to the boat does not."""

import pytest

from model.inputs.terms import Element
from tests.tiny import TWO_STROKE, cost_of_one
from tests.tolerances import IDENTITY

ENGINE = {
    "fit_up": 500.0,
    "service": {
        **TWO_STROKE["service"],
        "visit_labour": 0.5,
        "visit_price": 40.0,
        "visit_days": 1.0,
        "top_up": {"litres_per_100_hours": 1.0, "price": 15.0},
    },
    "repair": [{**TWO_STROKE["repair"][0], "days_lost": 3.0, "not_covered": 80.0}],
    "warranty": {"months": 24.0, "excess": 50.0, "extension": {"bought": True, "price": 300.0, "months": 12.0}},
    "resale": {"yearly_decline": 0.2},
    "finance": {"deposit": 0.5, "rate": 0.0, "months": 10},
}
EXPECTED = {
    Element.PURCHASE: 2 * 10000.0,
    Element.FIT_UP: 2 * 500.0,
    Element.FINANCE: 0.0,
    Element.FUEL: 2 * 5600.0,
    Element.TWO_STROKE_OIL: 0.0,
    Element.SERVICE_PARTS: 2 * (3 * 30.0 + 4 * 15.0),
    Element.SERVICE_LABOUR: 3 * (2 * 100.0 + 50.0 + 40.0),  # the visit once
    Element.REPAIRS: 2 * (0.1 * 600.0 + 0.4 * 80.0),  # one year of four without cover
    Element.WARRANTY_COVER: 2 * (300.0 + 0.3 * 50.0),
    Element.DOWNTIME: 3 * 250.0 + 2 * 0.4 * 3.0 * 0.3 * 250.0,  # a visit takes the whole boat
    Element.RESALE: -2 * 0.8**4 * 10000.0,
}


@pytest.mark.parametrize("where", ["use", "engine"])
def test_every_element_of_two_engines(where: str) -> None:
    use = {"share_with_one_left": 0.3, "per_boat": 2 if where == "use" else 1}
    engine = {**ENGINE, "per_boat": 2} if where == "engine" else ENGINE

    cost = cost_of_one(engine, use=use, downtime={"day_cost": 250.0})

    found = {element: total.nominal for element, total in cost.elements.items()}
    assert found == pytest.approx(EXPECTED, rel=IDENTITY, abs=IDENTITY * 10000.0)
    assert cost.ownership.visits.sum() == 3


def test_the_share_with_one_left_is_of_no_use_with_one_engine() -> None:
    cost = cost_of_one(
        {"repair": [{**TWO_STROKE["repair"][0], "days_lost": 3.0}]},
        use={"share_with_one_left": 0.3},
        downtime={"day_cost": 250.0},
    )

    assert cost.elements[Element.DOWNTIME].nominal == pytest.approx(0.4 * 3.0 * 250.0, rel=IDENTITY)


def test_an_engine_entry_goes_before_the_use() -> None:
    cost = cost_of_one({"per_boat": 1}, use={"per_boat": 2})

    assert cost.elements[Element.PURCHASE].nominal == 10000.0
