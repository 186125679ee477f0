"""Two-stroke oil: 10 L of fuel an hour, 400 h, oil at 10 a litre."""

from typing import Any

import pytest

from model.inputs.terms import Element
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

FUEL = {"points": [[0.1, 1.0], [1.0, 19.0]]}
BREAK_IN = {"hours": 10.0, "factor": 2.0}
RATIO_POINTS = [[0.1, 100.0], [1.0, 50.0]]


@pytest.mark.parametrize(
    ("oil", "litres"),
    [
        ({"ratio": 50.0}, 4000.0 / 50),
        ({"ratio": 50.0, "break_in": BREAK_IN}, 4000.0 / 50 + 10.0 * 10.0 / 50),
        ({"points": RATIO_POINTS}, 400.0 * (0.5 * 1.0 / 100 + 0.5 * 19.0 / 50)),
        ({"points": RATIO_POINTS, "break_in": BREAK_IN}, 410.0 * (0.5 * 1.0 / 100 + 0.5 * 19.0 / 50)),
    ],
)
def test_litres_of_oil(oil: dict[str, Any], litres: float) -> None:
    cost = cost_of_one({"technology": "two-stroke carburetted", "fuel": FUEL, "oil": oil})

    assert cost.ownership.oil_litres.sum() == pytest.approx(litres, rel=IDENTITY)
    assert cost.elements[Element.TWO_STROKE_OIL].nominal == pytest.approx(litres * 10.0, rel=IDENTITY)


@pytest.mark.parametrize(("meter", "left"), [(4.0, 6.0), (10.0, 0.0), (300.0, 0.0)])
def test_a_used_engine_has_only_the_rest_of_its_break_in(meter: float, left: float) -> None:
    engine = {
        "technology": "two-stroke carburetted",
        "fuel": FUEL,
        "oil": {"ratio": 50.0, "break_in": BREAK_IN},
        "list_price": 10000.0,
        "start": {"meter_hours": meter, "age": 1.0},
    }

    assert cost_of_one(engine).ownership.oil_litres.sum() == pytest.approx((4000.0 + left * 10.0) / 50, rel=IDENTITY)
