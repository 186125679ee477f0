"""Service at visits: 100 h a year for four years, so visits after 1, 2 and 3 years; labour at 100 an hour."""

from typing import Any

import pytest

from model.inputs.terms import Element
from model.ledger import ledger
from model.measures import EngineCost
from model.service_calendar import service_visits
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

ROUTINE = {"hours": 100.0, "months": 12.0}
OIL = {"name": "Oil", "every": ROUTINE, "labour": 1.0, "parts": [{"name": "Oil", "quantity": 3.0, "price": 10.0}]}


def serviced(plan: dict[str, Any], task: dict[str, Any] | None = None, **tables: Any) -> EngineCost:
    """Cost of an engine with that plan and one task."""
    return cost_of_one({"service": {"every": ROUTINE, "task": [task or OIL], **plan}}, **tables)


def parts_and_labour(cost: EngineCost) -> tuple[float, float]:
    """Nominal service parts and service labour."""
    return cost.elements[Element.SERVICE_PARTS].nominal, cost.elements[Element.SERVICE_LABOUR].nominal


IMPELLER = {
    "name": "Impeller",
    "every": ROUTINE,
    "on_condition": 0.4,
    "labour": 0.5,
    "labour_if_renewed": 0.3,
    "parts": [{"name": "Kit", "price": 55.0}],
}
MENU = {"name": "Menu", "every": ROUTINE, "menu_price": 150.0}
TOP_UP = {"litres_per_100_hours": 0.5, "price": 20.0}


@pytest.mark.parametrize(
    ("plan", "task", "parts", "labour"),
    [
        ({}, OIL, 3 * 30.0, 3 * 100.0),
        ({"visit_labour": 0.5}, OIL, 3 * 30.0, 3 * (100.0 + 50.0)),
        ({"visit_price": 40.0}, OIL, 3 * 30.0, 3 * (100.0 + 40.0)),
        ({"visit_labour": 0.5, "visit_price": 40.0, "labour_factor": 1.5}, OIL, 3 * 30.0, 3 * (150.0 + 75.0 + 40.0)),
        ({}, IMPELLER, 3 * 0.4 * 55.0, 3 * (50.0 + 0.4 * 30.0)),
        ({}, MENU, 0.0, 3 * 150.0),
        ({"labour_factor": 2.0}, MENU, 0.0, 3 * 150.0),
        ({"top_up": TOP_UP}, OIL, 3 * 30.0 + 4 * 0.5 * 20.0, 3 * 100.0),
    ],
)
def test_parts_and_labour(plan: dict[str, Any], task: dict[str, Any], parts: float, labour: float) -> None:
    assert parts_and_labour(serviced(plan, task)) == pytest.approx((parts, labour), rel=IDENTITY)


def test_a_visit_on_the_day_of_sale_is_made_only_when_it_is_asked_for() -> None:
    cost = serviced({}, ownership={"service_at_handover": True})

    assert parts_and_labour(cost) == pytest.approx((4 * 30.0, 4 * 100.0), rel=IDENTITY)


def test_parts_and_labour_each_grow_on_their_own() -> None:
    cost = serviced({"visit_price": 40.0}, money={"growth": {"parts": 0.02, "labour": 0.05}})

    parts, labour = 30.0 * (1.02 + 1.02**2 + 1.02**3), 140.0 * (1.05 + 1.05**2 + 1.05**3)
    assert parts_and_labour(cost) == pytest.approx((parts, labour), rel=IDENTITY)


def test_a_task_of_two_intervals_comes_at_every_second_visit_and_names_it() -> None:
    major = {**OIL, "name": "Valves", "every": {"hours": 200.0, "months": 24.0}}
    cost = cost_of_one({"service": {"every": ROUTINE, "task": [OIL, major]}})

    found = [(visit.t_years, visit.meter_hours, visit.name, visit.tasks) for visit in service_visits(cost.case)]
    assert found == [
        (1.0, 100.0, "100 h / 12 mo", ("Oil",)),
        (2.0, 200.0, "200 h / 24 mo", ("Oil", "Valves")),
        (3.0, 300.0, "100 h / 12 mo", ("Oil",)),
    ]
    kinds = [visit.kind.value for visit in service_visits(cost.case)]
    assert kinds == ["routine", "major", "routine"]
    assert [visit.cost for visit in service_visits(cost.case)] == pytest.approx([130.0, 260.0, 130.0], rel=IDENTITY)


def test_the_first_visit_is_called_so() -> None:
    cost = cost_of_one({"service": {"every": ROUTINE, "first": {"hours": 20.0, "months": 2.0}, "task": [OIL]}})

    assert [visit.kind.value for visit in service_visits(cost.case)] == ["first", "routine", "routine", "routine"]


@pytest.mark.parametrize(
    ("years", "done"),
    [(1.4, 0), (1.5, 0), (1.6, 1), (2.0, 1), (2.4, 1), (2.5, 1), (2.6, 2), (3.0, 2)],
)
def test_a_task_is_done_before_it_overruns_and_not_for_the_next_owner(years: float, done: int) -> None:
    # Every 150 h or 18 months: after one year only if the sale is later than a year and a half, and so on.
    task = {"name": "Filter", "every": {"hours": 150.0, "months": 18.0}, "parts": [{"name": "Filter", "price": 20.0}]}

    cost = serviced({}, task, ownership={"years": years})

    assert cost.elements[Element.SERVICE_PARTS].nominal == done * 20.0


@pytest.mark.parametrize("limit", [{"hours": 150.0}, {"months": 18.0}])
def test_either_limit_alone_makes_a_task_due(limit: dict[str, float]) -> None:
    task = {"name": "Filter", "every": limit, "parts": [{"name": "Filter", "price": 20.0}]}

    found = [
        serviced({}, task, ownership={"years": years}).elements[Element.SERVICE_PARTS].nominal for years in (1.5, 1.6)
    ]

    assert found == [0.0, 20.0]


def test_at_a_handover_tasks_are_chosen_as_if_ownership_went_on() -> None:
    task = {"name": "Filter", "every": {"hours": 150.0}, "parts": [{"name": "Filter", "price": 20.0}]}

    sold, handed_over = (
        serviced({}, task, ownership={"years": 1.0, "service_at_handover": asked}).elements[Element.SERVICE_PARTS]
        for asked in (False, True)
    )

    assert (sold.nominal, handed_over.nominal) == (0.0, 20.0)


def test_days_at_the_workshop() -> None:
    cost = serviced({"visit_days": 2.0}, downtime={"day_cost": 250.0})

    assert cost.elements[Element.DOWNTIME].nominal == pytest.approx(3 * 2 * 250.0, rel=IDENTITY)


def test_days_at_the_workshop_grow_with_downtime() -> None:
    cost = serviced({"visit_days": 1.0}, downtime={"day_cost": 250.0}, money={"growth": {"downtime": 0.1}})

    assert cost.elements[Element.DOWNTIME].nominal == pytest.approx(250.0 * (1.1 + 1.21 + 1.331), rel=IDENTITY)


def test_a_task_at_lay_up_is_a_dated_cost_without_a_visit() -> None:
    # The first of October of 2027 to 2030, delivery on New Year's Day: day 273 of the year, 274 of the leap year 2028.
    lay_up = {**OIL, "every": None, "at_lay_up": True}
    lay_up.pop("every")
    cost = serviced({"lay_up_month": 10}, lay_up, money={"growth": {"parts": 0.1}})

    grown = sum(1.1 ** (year + day / length) for year, day, length in
                [(0, 273, 365), (1, 274, 366), (2, 273, 365), (3, 273, 365)])  # fmt: skip
    assert parts_and_labour(cost) == pytest.approx((30.0 * grown, 4 * 100.0), rel=IDENTITY)
    assert service_visits(cost.case)[0].tasks == ()


def test_the_owners_task_has_its_own_count_and_no_visit() -> None:
    # Every 50 h, shorter than the base: at 50, 100, ... 350 h; 400 h is the sale. Parts only.
    by_owner = {"name": "Grease", "by": "owner", "every": {"hours": 50.0}, "parts": [{"name": "Grease", "price": 7.0}]}
    cost = cost_of_one({"service": {"every": ROUTINE, "visit_labour": 0.5, "task": [by_owner]}})

    assert parts_and_labour(cost) == pytest.approx((7 * 7.0, 3 * 50.0), rel=IDENTITY)
    assert cost.ownership.visits.sum() == 3


def test_the_owners_task_that_falls_due_as_the_hours_end_is_left() -> None:
    # Every 50 h; 100 h in the first year, none after: done at 50 h; at 100 h it would not overrun before the sale.
    by_owner = {"name": "Grease", "by": "owner", "every": {"hours": 50.0}, "parts": [{"name": "Grease", "price": 7.0}]}
    cost = cost_of_one(
        {"service": {"every": ROUTINE, "task": [by_owner]}},
        use={"hours_per_year": None, "hours_by_year": [100.0, 0.0, 0.0, 0.0]},
    )

    assert parts_and_labour(cost)[0] == pytest.approx(7.0, rel=IDENTITY)
    assert sum(row.nominal for row in ledger(cost) if row.element is Element.SERVICE_PARTS) == pytest.approx(
        7.0, rel=IDENTITY
    )
