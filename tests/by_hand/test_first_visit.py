"""The first visit, and what counts from it: 100 h a year for four years, visits every 100 h or 12 months."""

from typing import Any

import pytest

from model.case import prepare
from model.service_calendar import service_visits
from tests.tiny import one_engine
from tests.tolerances import IDENTITY

ROUTINE = {"hours": 100.0, "months": 12.0}
TASKS = [
    {"name": "Oil", "every": ROUTINE, "first": True},
    {"name": "Plugs", "every": ROUTINE},
    {"name": "Valves", "every": {"hours": 200.0, "months": 24.0}, "first": True},
]


def visits(**plan: Any) -> list[tuple[Any, tuple[str, ...]]]:
    """Time and tasks of each visit."""
    scenario = one_engine({"service": {"every": ROUTINE, "task": TASKS, **plan}})
    found = service_visits(prepare(scenario, scenario.engines[0]))
    return [(pytest.approx(visit.t_years, rel=IDENTITY), visit.tasks) for visit in found]


def test_the_first_visit_restarts_no_routine_count() -> None:
    # Valves were done at 50 h: at 200 h they would stand at 250 h by the next visit.
    assert visits(first={"hours": 50.0}) == [
        (0.5, ("Oil", "Valves")),
        (1.0, ("Oil", "Plugs")),
        (2.0, ("Oil", "Plugs", "Valves")),
        (3.0, ("Oil", "Plugs")),
    ]


def test_all_counts_may_start_at_the_first_visit() -> None:
    # The tasks' too. Undone at 250 h, valves would stand at 300 h by the next visit; at 350 h oil and plugs, last done
    # at 250 h, would stand at 150 h by the sale, and valves at 150 h of their 200 h.
    assert visits(first={"hours": 50.0}, count_from="first visit") == [
        (0.5, ("Oil", "Valves")),
        (1.5, ("Oil", "Plugs")),
        (2.5, ("Oil", "Plugs", "Valves")),
        (3.5, ("Oil", "Plugs")),
    ]


@pytest.mark.parametrize("count_from", ["new", "first visit"])
@pytest.mark.parametrize("first", [{"hours": 100.0}, {"months": 12.0}, {"hours": 130.0}])
def test_a_first_visit_on_or_after_the_first_routine_one_is_that_visit(
    first: dict[str, float], count_from: str
) -> None:
    found = visits(first=first, count_from=count_from)

    assert [t for t, _ in found] == [1.0, 2.0, 3.0]
    assert found[0][1] == ("Oil", "Plugs", "Valves")


def test_without_a_first_visit_the_tasks_wait_for_their_own_interval() -> None:
    assert visits()[0] == (1.0, ("Oil", "Plugs"))


def test_the_first_visit_comes_by_months_where_few_hours_are_run() -> None:
    assert visits(first={"hours": 50.0, "months": 3.0})[0] == (0.25, ("Oil", "Valves"))
