"""Services in a period at constant hours: whichever of hours and months comes first, counted from each service."""

from typing import Any

import numpy as np
import pytest

from model.counts import walk_plan
from model.inputs.plan import ServicePlan
from model.visit_times import SERVICED_AND_SOLD
from model.walk import visits_of
from tests.published.figures import check

PLANS = {
    "first20h3mo_then_100h12mo": ((100, 12), (20, 3), 5),
    "first10h1mo_then_100h6mo": ((100, 6), (10, 1), 5),
    "every_100h12mo": ((100, 12), None, 5),
    "every_300h36mo": ((300, 36), None, 5),
    "every_1000h60mo_in_10y": ((1000, 60), None, 10),
}
"""Interval, first visit (hours, months) and years of ownership."""


def services(name: str, hours_a_year: float) -> int:
    """Visits that do the one task of a plan; one due on the last day is made."""
    every, first, years = PLANS[name]
    interval = dict(zip(("hours", "months"), map(float, every), strict=True))
    content: dict[str, Any] = {"every": interval, "count_from": "first visit"}
    content["task"] = [{"name": "Service", "every": interval, "first": True}]
    if first is not None:
        content["first"] = dict(zip(("hours", "months"), map(float, first), strict=True))
    plan = walk_plan(ServicePlan.model_validate(content), None)
    visits = visits_of(np.full(years, hours_a_year), float(years), SERVICED_AND_SOLD, plan)
    return int(np.count_nonzero(visits.tasks))


@pytest.mark.parametrize("name", list(PLANS))
@pytest.mark.parametrize("hours_a_year", list(check("R-S01").answer))
def test_services_in_the_period(hours_a_year: str, name: str) -> None:
    # No printed answer: next due = last service + min(H / hours a year, T), worked out in closed form and by counting.
    assert services(name, float(hours_a_year)) == check("R-S01").answer[hours_a_year][name]
