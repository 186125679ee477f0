"""A used engine at 100 h a year, kept for two and a half: its counts, its cover and its value go by its own age."""

from typing import Any

import pytest

from model.case import prepare
from model.inputs.terms import Element
from model.service_calendar import service_visits
from tests.tiny import cost_of_one, one_engine
from tests.tolerances import IDENTITY

ROUTINE = {"hours": 100.0, "months": 12.0}
MAJOR = {"hours": 200.0, "months": 24.0}
PLAN = {
    "every": ROUTINE,
    "first": {"hours": 20.0},
    "task": [{"name": "Oil", "every": ROUTINE, "first": True}, {"name": "Valves", "every": MAJOR}],
}
MODE = {"name": "Failure", "clock": "years", "scale": 2.0, "shape": 1.0, "parts_price": 600.0}


def visits(**start: Any) -> list[tuple[Any, Any, tuple[str, ...]]]:
    """Time, meter and tasks of each visit."""
    engine = {"service": PLAN, "list_price": 10000.0, "start": start}
    scenario = one_engine(engine, ownership={"years": 2.5})
    found = service_visits(prepare(scenario, scenario.engines[0]))
    return [
        (pytest.approx(visit.t_years, rel=IDENTITY, abs=IDENTITY), pytest.approx(visit.meter_hours, rel=IDENTITY),
         visit.tasks)
        for visit in found
    ]  # fmt: skip


def test_a_visit_due_on_the_day_of_delivery_is_the_new_owners() -> None:
    # Kept from new, valves were done at 200 h: due by 400 h, a year from now. Oil at 500 h: by the sale, at 550 h, it
    # would stand at 150 h.
    assert visits(meter_hours=300.0, age=3.0) == [
        (0.0, 300.0, ("Oil",)),
        (1.0, 400.0, ("Oil", "Valves")),
        (2.0, 500.0, ("Oil",)),
    ]


def test_counts_are_what_a_kept_plan_leaves() -> None:
    # The last visit was at 300 h, half a year ago, valves at 200 h: the sale at 600 h comes before the visit at 700 h.
    assert visits(meter_hours=350.0, age=3.5) == [
        (0.5, 400.0, ("Oil", "Valves")),
        (1.5, 500.0, ("Oil",)),
    ]


@pytest.mark.parametrize(("count_from", "next_visit"), [("new", 100.0), ("first visit", 120.0)])
def test_a_first_visit_before_delivery_restarts_the_counts_only_if_the_plan_says_so(
    count_from: str, next_visit: float
) -> None:
    # 50 h in half a year; the first visit was at 20 h.
    start = {"meter_hours": 50.0, "age": 0.5}
    engine = {"service": {**PLAN, "count_from": count_from}, "list_price": 10000.0, "start": start}
    scenario = one_engine(engine, ownership={"years": 1.0})

    found = service_visits(prepare(scenario, scenario.engines[0]))

    assert [visit.meter_hours for visit in found] == pytest.approx([next_visit], rel=IDENTITY)


@pytest.mark.parametrize(("sold_at", "filters"), [(245.0, 0), (255.0, 1)])
def test_what_was_done_before_delivery_was_done_for_a_plan_that_goes_on(sold_at: float, filters: int) -> None:
    # 60 h a year, a visit every 100 h, a filter every 150 h: it was renewed at 100 h, as the next visit is at 200 h.
    # At 200 h it is renewed only if the sale is later than 250 h.
    task = {"name": "Filter", "every": {"hours": 150.0}, "parts": [{"name": "Filter", "price": 20.0}]}
    start = {"meter_hours": 102.0, "age": 1.7}
    engine = {"service": {"every": {"hours": 100.0}, "task": [task]}, "list_price": 10000.0, "start": start}

    cost = cost_of_one(engine, ownership={"years": (sold_at - 102.0) / 60.0}, use={"hours_per_year": 60.0})

    assert cost.elements[Element.SERVICE_PARTS].nominal == filters * 20.0


def test_serviced_all_starts_every_count_at_delivery() -> None:
    assert visits(meter_hours=350.0, age=3.5, serviced="all") == [
        (1.0, 450.0, ("Oil",)),
        (2.0, 550.0, ("Oil", "Valves")),
    ]


def test_an_overdue_task_is_done_on_the_day_of_delivery() -> None:
    # Valves last done at 100 h, 250 h ago; oil has just been done and waits.
    found = visits(meter_hours=350.0, age=3.5, serviced="all", last_done={"Valves": {"hours": 100.0, "age": 1.0}})

    assert found == [
        (0.0, 350.0, ("Valves",)),
        (1.0, 450.0, ("Oil",)),
        (2.0, 550.0, ("Oil", "Valves")),
    ]


def test_a_task_done_lately_waits_for_its_own_interval() -> None:
    # Valves at 340 h: at 500 h the next visit would be at 600 h, 260 h after.
    found = visits(meter_hours=350.0, age=3.5, last_done={"Valves": {"hours": 340.0, "age": 3.4}})

    assert [tasks for _, _, tasks in found] == [("Oil",), ("Oil", "Valves")]


@pytest.mark.parametrize(
    ("warranty", "covered_years"),
    [
        ({"months": 60.0}, 2.0),
        ({"months": 36.0}, 0.0),
        ({"months": 24.0}, 0.0),
        ({"hours": 450.0}, 1.5),
        ({"months": 60.0, "hours": 200.0}, 0.0),
        ({"months": 24.0, "extension": {"bought": True, "price": 0.0, "months": 24.0}}, 1.0),
    ],
)
def test_cover_goes_by_the_engines_own_hours_and_age(warranty: dict[str, Any], covered_years: float) -> None:
    start = {"meter_hours": 300.0, "age": 3.0}

    cost = cost_of_one({"repair": [MODE], "warranty": warranty, "list_price": 10000.0, "start": start})

    assert cost.paid_by_warranty.nominal == pytest.approx(covered_years * 0.5 * 600.0, rel=IDENTITY)


def test_a_linear_decline_has_fallen_by_the_engines_age() -> None:
    # Three years into five: 40 % of the share is left, and falls to nothing in two years.
    start = {"meter_hours": 300.0, "age": 3.0}
    warranty = {"months": 60.0, "decline": "linear"}

    cost = cost_of_one({"repair": [MODE], "warranty": warranty, "list_price": 10000.0, "start": start})

    assert cost.paid_by_warranty.nominal == pytest.approx(0.5 * 0.4 * 2.0 * 0.5 * 600.0, rel=IDENTITY)


def test_resale_goes_by_the_engines_own_hours_and_age() -> None:
    resale = {"yearly_decline": 0.1, "normal_hours": 50.0, "per_100_hours": 0.02}

    cost = cost_of_one(
        {"price": 6000.0, "list_price": 10000.0, "start": {"meter_hours": 300.0, "age": 3.0}, "resale": resale}
    )

    share = 0.9**7 - 0.02 * (700.0 - 7 * 50.0) / 100
    assert cost.elements[Element.RESALE].nominal == pytest.approx(-share * 10000.0, rel=IDENTITY)
