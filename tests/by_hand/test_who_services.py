"""Servicing by the owner, and none at all. Failures at 1 in 1000 h, 600 each; 400 h over four years."""

from typing import Any

import pytest

from model.inputs.terms import Element
from model.measures import EngineCost
from tests.tiny import TWO_STROKE, cost_of_one
from tests.tolerances import IDENTITY

ENGINE = {
    "service": {**TWO_STROKE["service"], "visit_labour": 0.5, "visit_price": 40.0, "visit_days": 1.0},
    "repair": TWO_STROKE["repair"],
    "warranty": {"months": 24.0},
    "resale": {"yearly_decline": 0.2},
}
DAYS = {"day_cost": 250.0}


def nominal(cost: EngineCost, *elements: Element) -> tuple[float, ...]:
    """Nominal amounts of these elements."""
    return tuple(cost.elements[element].nominal for element in elements)


@pytest.mark.parametrize(("keeps_cover", "covered"), [(True, 0.2 * 600.0), (False, 0.0)])
def test_own_service_costs_parts_and_keeps_cover_only_if_so_stated(keeps_cover: bool, covered: float) -> None:
    cost = cost_of_one(ENGINE, servicing="own", own_service_keeps_cover=keeps_cover, downtime=DAYS)

    assert nominal(cost, Element.SERVICE_PARTS, Element.SERVICE_LABOUR, Element.DOWNTIME) == (90.0, 0.0, 0.0)
    assert cost.paid_by_warranty.nominal == pytest.approx(covered, rel=IDENTITY)
    assert nominal(cost, Element.REPAIRS) == pytest.approx((0.4 * 600.0 - covered,), rel=IDENTITY)


def test_own_service_pays_no_menu_price() -> None:
    menu = {"name": "Menu", "every": {"hours": 100.0, "months": 12.0}, "menu_price": 150.0}
    engine = {"service": {"every": {"hours": 100.0, "months": 12.0}, "task": [menu]}}

    cost = cost_of_one(engine, servicing="own", own_service_keeps_cover=True)

    assert nominal(cost, Element.SERVICE_PARTS, Element.SERVICE_LABOUR) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("repair_factor", "mode_factor", "intensity"),
    [(1.0, None, 1.0), (1.5, None, 1.5), (None, 2.0, 2.0), (1.5, 2.0, 3.0), (0.0, None, 0.0)],
)
@pytest.mark.parametrize("shape", [1.0, 2.0])
def test_skipped_service_is_not_free(
    repair_factor: float | None, mode_factor: float | None, intensity: float, shape: float
) -> None:
    mode = {**TWO_STROKE["repair"][0], "shape": shape, "prevented_by": "Plugs"}
    neglect: dict[str, Any] = {"resale_factor": 0.7, "repair_factor": repair_factor}
    if mode_factor is not None:
        mode["neglect_factor"] = mode_factor

    cost = cost_of_one({**ENGINE, "repair": [mode]}, servicing="skipped", neglect=neglect)

    assert nominal(cost, Element.SERVICE_PARTS, Element.SERVICE_LABOUR) == (0.0, 0.0)
    assert cost.paid_by_warranty.nominal == 0.0
    repairs = intensity * 0.4**shape * 600.0
    assert nominal(cost, Element.REPAIRS, Element.RESALE) == pytest.approx(
        (repairs, -0.7 * 0.8**4 * 10000.0), rel=IDENTITY
    )


def test_an_extension_bought_but_forfeited_covers_nothing() -> None:
    warranty = {"months": 24.0, "extension": {"bought": True, "price": 300.0, "months": 24.0}}

    cost = cost_of_one(
        {**ENGINE, "warranty": warranty}, servicing="skipped", neglect={"resale_factor": 1.0, "repair_factor": 1.0}
    )

    assert cost.paid_by_warranty.nominal == 0.0
    assert nominal(cost, Element.REPAIRS) == pytest.approx((0.4 * 600.0,), rel=IDENTITY)
