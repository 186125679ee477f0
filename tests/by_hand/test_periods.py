"""Part-years, uneven years, zero hours and the two timings, worked by hand: 7 L/h of fuel at 2 a litre."""

import pytest

from model.inputs.terms import Element
from model.service_calendar import service_visits
from tests.tiny import TWO_STROKE, cost_of_one
from tests.tolerances import IDENTITY

ROUTINE = {"hours": 100.0, "months": 12.0}
UNEVEN = {"hours_per_year": None, "hours_by_year": [100.0, 200.0, 300.0]}
MONEY = {"inflation": 0.02, "discount_rate": 0.05}
HALF_YEAR = {"years": 2.5}


@pytest.mark.parametrize(("timing", "times"), [("mid-year", (0.5, 1.5, 2.25)), ("year-end", (1.0, 2.0, 2.5))])
def test_a_part_year_has_its_share_of_hours_and_its_own_middle_and_end(timing: str, times: tuple[float, ...]) -> None:
    cost = cost_of_one(use=UNEVEN, ownership=HALF_YEAR, money={**MONEY, "timing": timing})

    flows = [14.0 * hours for hours in (100.0, 200.0, 0.5 * 300.0)]
    fuel = cost.elements[Element.FUEL]
    assert cost.fuel_litres == pytest.approx(7.0 * 450.0, rel=IDENTITY)
    assert fuel.nominal == pytest.approx(
        sum(flow * 1.02**t for flow, t in zip(flows, times, strict=True)), rel=IDENTITY
    )
    assert fuel.present_value == pytest.approx(
        sum(flow * (1.02 / 1.05) ** t for flow, t in zip(flows, times, strict=True)), rel=IDENTITY
    )


@pytest.mark.parametrize(("timing", "booked"), [("mid-year", (1.25, 2.25)), ("year-end", (2.0, 2.5))])
def test_a_visit_is_booked_at_its_own_time_or_at_the_end_of_its_year(timing: str, booked: tuple[float, ...]) -> None:
    # 80 h a year: by months after 1 and 2 years, were it not for a plan by hours alone: 100 and 180 h.
    plan = {"every": {"hours": 100.0}, "visit_price": 40.0}
    use = {"hours_per_year": None, "hours_by_year": [80.0, 80.0, 160.0]}

    cost = cost_of_one({"service": plan}, use=use, ownership=HALF_YEAR, money={**MONEY, "timing": timing})

    labour = cost.elements[Element.SERVICE_LABOUR]
    assert [visit.t_years for visit in service_visits(cost.case)] == pytest.approx([1.25, 2.25], rel=IDENTITY)
    assert labour.nominal == pytest.approx(sum(40.0 * 1.02**t for t in booked), rel=IDENTITY)
    assert labour.present_value == pytest.approx(sum(40.0 * (1.02 / 1.05) ** t for t in booked), rel=IDENTITY)


def test_a_visit_on_a_year_end_is_booked_there() -> None:
    cost = cost_of_one({"service": {"every": ROUTINE, "visit_price": 40.0}}, money={**MONEY, "timing": "year-end"})

    assert cost.elements[Element.SERVICE_LABOUR].nominal == pytest.approx(
        40.0 * (1.02 + 1.02**2 + 1.02**3), rel=IDENTITY
    )


def test_resale_of_a_part_year_is_at_its_end() -> None:
    cost = cost_of_one({"resale": {"yearly_decline": 0.2}}, ownership=HALF_YEAR, money={**MONEY, "timing": "year-end"})

    value = 10000.0 * (0.8 * 1.02) ** 2.5
    assert cost.elements[Element.RESALE].nominal == pytest.approx(-value, rel=IDENTITY)
    assert cost.elements[Element.RESALE].present_value == pytest.approx(-value / 1.05**2.5, rel=IDENTITY)


def test_visits_follow_uneven_years() -> None:
    # 100 h by the end of the first year, then 200 h a year: every half-year; 300 h a year: every four months.
    cost = cost_of_one({"service": {"every": ROUTINE}}, use=UNEVEN, ownership=HALF_YEAR)

    found = [(visit.t_years, visit.meter_hours) for visit in service_visits(cost.case)]
    assert found == [(1.0, 100.0), (1.5, 200.0), (2.0, 300.0), (pytest.approx(2.0 + 1 / 3, rel=IDENTITY), 400.0)]


def test_a_boat_that_never_runs_is_still_serviced_by_months() -> None:
    cost = cost_of_one(
        {
            "service": {"every": ROUTINE, "visit_price": 40.0},
            "repair": TWO_STROKE["repair"],
            "resale": {"yearly_decline": 0.2, "normal_hours": 50.0, "per_100_hours": 0.02},
        },
        use={"hours_per_year": 0.0},
    )

    found = {element: total.nominal for element, total in cost.elements.items() if total.nominal}
    assert found == pytest.approx(
        {
            Element.PURCHASE: 10000.0,
            Element.SERVICE_LABOUR: 3 * 40.0,
            Element.RESALE: -10000.0 * (0.8**4 + 0.02 * 200.0 / 100),
        },
        rel=IDENTITY,
    )
    assert cost.cost_per_hour is None


def test_a_plan_by_hours_alone_needs_running() -> None:
    assert service_visits(cost_of_one({"service": {"every": {"hours": 100.0}}}, use={"hours_per_year": 0.0}).case) == ()
