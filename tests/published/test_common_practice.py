"""Facts of the trade: common practice, no source."""

from collections.abc import Mapping

import numpy as np
import pytest

from model.case import prepare
from model.measures import compare
from model.service_calendar import VisitSummary, service_visits
from tests.tiny import one_engine
from tests.tolerances import IDENTITY

pytestmark = pytest.mark.common_practice

ROUTINE = {"hours": 100.0, "months": 12.0}
MAJOR = {"hours": 200.0, "months": 24.0}
PLAN = {
    "every": ROUTINE,
    "first": {"hours": 20.0},
    "task": [
        {"name": "Oil and filters", "every": ROUTINE, "first": True},
        {"name": "Valve clearances", "every": MAJOR},
    ],
}


def visits(
    service: Mapping[str, object], years: float, hours_a_year: float, handover: bool
) -> tuple[VisitSummary, ...]:
    """Visits of an engine with that plan."""
    scenario = one_engine(
        {"service": service},
        ownership={"years": years, "service_at_handover": handover},
        use={"hours_per_year": hours_a_year},
    )
    return service_visits(prepare(scenario, scenario.engines[0]))


@pytest.mark.parametrize("hours_a_year", [30.0, 100.0, 142.3, 600.0])
def test_the_first_visit_is_at_20_hours(hours_a_year: float) -> None:
    first = visits(PLAN, 5.0, hours_a_year, handover=True)[0]

    assert first.meter_hours == pytest.approx(20.0, rel=IDENTITY)
    assert first.tasks == ("Oil and filters",)


@pytest.mark.parametrize("hours_a_year", [30.0, 100.0, 142.3, 600.0])
def test_a_routine_visit_every_100_hours_or_yearly(hours_a_year: float) -> None:
    routine = visits(PLAN, 5.0, hours_a_year, handover=True)[1:]
    meter = [0.0, *(visit.meter_hours for visit in routine)]

    between = 100.0 if hours_a_year > 100.0 else hours_a_year
    assert np.diff(meter) == pytest.approx(between, rel=IDENTITY)
    assert all("Oil and filters" in visit.tasks for visit in routine)


@pytest.mark.parametrize("hours_a_year", [30.0, 100.0, 142.3, 600.0])
def test_a_major_visit_at_every_second_routine_one(hours_a_year: float) -> None:
    routine = visits(PLAN, 5.0, hours_a_year, handover=True)[1:]

    is_major = ["Valve clearances" in visit.tasks for visit in routine]
    assert is_major == [number % 2 == 0 for number in range(1, len(routine) + 1)]


@pytest.mark.parametrize(("every", "sets"), [(100.0, 12), (400.0, 3)])
@pytest.mark.parametrize("years", [2.0, 6.0, 12.0])
def test_sets_of_plugs_over_1200_hours(years: float, every: float, sets: int) -> None:
    # Standard plugs 100 h, long-life ones 400 h; the last set goes in at the service at handover.
    plan = {"every": {"hours": 100.0}, "task": [{"name": "Plugs", "every": {"hours": every}}]}

    found = visits(plan, years, 1200.0 / years, handover=True)

    assert sum("Plugs" in visit.tasks for visit in found) == sets


def share_paid(at: float, length: float) -> float:
    """Share of a repair that a flat five-year cover pays of what fails in a stretch of time."""
    mode = {"name": "Failure", "clock": "years", "scale": 1.0, "shape": 1.0, "parts_price": 365.25}

    def paid_by(years: float) -> np.ndarray:
        scenario = one_engine({"repair": [mode], "warranty": {"months": 60.0}}, ownership={"years": years})
        cost = compare(scenario).engines[0]
        return np.array([cost.paid_by_warranty.nominal, cost.ownership.repairs.whole.sum()])

    before = paid_by(at) if at else np.zeros(2)
    paid, repairs = paid_by(at + length) - before
    return float(paid / repairs)


@pytest.mark.parametrize(("day", "share"), [(0.0, 1.0), (5.0 * 365.25 - 1.0, 1.0), (5.0 * 365.25, 0.0)])
def test_a_flat_five_year_cover_pays_the_same_on_its_first_and_last_day(day: float, share: float) -> None:
    # First day, last day, and the day after: it does not fall away with age.
    a_day = 1.0 / 365.25

    # Each is the difference of two ownerships; what one day costs stands four digits below their sums.
    assert share_paid(day * a_day, a_day) == pytest.approx(share, abs=IDENTITY * 1e4)
