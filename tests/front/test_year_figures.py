"""Pictures over the ownership years: running costs, service visits, who pays repairs; every mark opens its rows."""

from typing import Any

import plotly.graph_objects as go
import pytest

from dashboard.drawer import behind_of, rows_behind
from dashboard.figures import cost_by_year, cover_over_time, service_calendar
from dashboard.scenarios import looks_of, scenario_of, start
from dashboard.work import Work
from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Payer
from model.measures import Comparison, compare
from model.repair_bill import repair_bill
from model.service_calendar import service_visits
from tests.front.works import tiny_work
from tests.tiny import one_engine, two_engines
from tests.tolerances import IDENTITY, REGRESSION

NO_SERVICE = {"service": None, "repair": None, "warranty": None}

PICTURES = {
    "by year": cost_by_year.picture,
    "calendar": service_calendar.picture,
    "cover": cover_over_time.picture,
}


def traces(picture: dict[str, Any]) -> list[dict[str, Any]]:
    """Traces, the picture first looked over by Plotly itself."""
    go.Figure(picture)
    return list(picture["data"])


def comparison(work: Work) -> Comparison:
    """What a work's engines cost."""
    return compare(scenario_of(work))


WORKS = [start(), tiny_work(), tiny_work(money={"timing": "year-end", "inflation": 0.03, "discount_rate": 0.06})]


@pytest.mark.parametrize("work", WORKS, ids=["demo", "tiny", "year-end"])
@pytest.mark.parametrize("name", ["by year", "calendar", "cover"])
def test_the_rows_behind_every_mark_sum_to_it(work: Work, name: str) -> None:
    found = comparison(work)
    visits = {cost.name: [visit.cost for visit in service_visits(cost.case)] for cost in found.engines}

    marks = 0
    for trace in traces(PICTURES[name](found, looks_of(work))):
        for place, data in enumerate(trace.get("customdata", [])):
            behind = behind_of(data[-1])
            assert behind is not None
            value = trace["y"][place] if behind.visit is None else visits[behind.engine][behind.visit]
            rows = rows_behind(work, behind)
            assert sum(row.nominal for row in rows) == pytest.approx(value, rel=REGRESSION, abs=1e-6)
            marks += 1
    assert marks > 0


class TestCostByYear:
    def test_bars_are_the_models_years(self, tiny: Scenario) -> None:
        found = compare(tiny)
        by_name = {trace["name"]: trace for trace in traces(cost_by_year.picture(found, looks_of(tiny_work())))}

        fuel = found.engines[0].ownership.elements[Element.FUEL].nominal
        assert by_name["Two-stroke: Fuel"]["y"] == pytest.approx(fuel.tolist(), rel=IDENTITY)
        assert by_name["Two-stroke: Fuel"]["x"] == [1, 2, 3, 4]
        assert "Two-stroke: Purchase" not in by_name

    def test_bars_and_what_is_left_out_are_the_total(self, tiny: Scenario) -> None:
        cost = compare(tiny).engines[1]
        left_out = [element for element in Element if element not in cost_by_year.RUNNING]

        whole = sum(cost_by_year.running_by_year(cost)) + sum(cost.elements[element].nominal for element in left_out)
        assert whole == pytest.approx(cost.total.nominal, rel=IDENTITY)

    def test_the_finding_counts_the_years(self, tiny: Scenario) -> None:
        assert cost_by_year.finding(compare(tiny)).startswith("Four-stroke costs the least to run in every year; ")
        dear = two_engines(four={"price": 1000.0, "fuel": {"points": [[0.1, 2.0], [1.0, 22.0]]}})
        assert "in no year, yet the least in all" in cost_by_year.finding(compare(dear))

    def test_one_engine_and_no_hours(self) -> None:
        alone = compare(one_engine({"name": "Engine"}))
        assert cost_by_year.finding(alone).startswith("The dearest year of Engine is year 1")
        idle = compare(one_engine({"name": "Engine"}, use={"hours_per_year": 0.0}))
        assert cost_by_year.finding(idle) == "Engine costs nothing to run"


class TestServiceCalendar:
    def test_a_mark_for_each_visit_at_its_time(self, tiny: Scenario) -> None:
        found = compare(tiny)

        marks = [
            trace for trace in traces(service_calendar.picture(found, looks_of(tiny_work()))) if "customdata" in trace
        ]

        assert [trace["name"] for trace in marks] == ["Two-stroke: routine visit", "Four-stroke: routine visit"]
        assert marks[0]["x"] == pytest.approx([12.0, 24.0, 36.0], rel=IDENTITY)

    def test_the_finding_tells_cost_and_visits(self) -> None:
        cheaper = two_engines(two={"service": {"every": {"hours": 100.0}, "task": []}})
        assert service_calendar.finding(compare(cheaper)) == (
            "Service costs the least with Two-stroke: 0 EUR, 3 visits; with Four-stroke: 390 EUR, 3 visits"
        )
        assert "cost the same to service" in service_calendar.finding(compare(two_engines()))

    def test_no_service_at_all(self) -> None:
        bare = compare(two_engines(two=NO_SERVICE, four=NO_SERVICE))

        assert service_calendar.finding(bare) == "No service is planned"
        assert not [
            trace for trace in traces(service_calendar.picture(bare, looks_of(tiny_work()))) if "customdata" in trace
        ]

    def test_marks_grow_with_the_cost(self) -> None:
        assert service_calendar.size_of(0.0, 100.0) == service_calendar.SMALLEST
        assert service_calendar.size_of(100.0, 100.0) == service_calendar.LARGEST
        assert service_calendar.size_of(5.0, 0.0) == service_calendar.SMALLEST

    def test_no_hours(self) -> None:
        traces(service_calendar.picture(compare(two_engines(use={"hours_per_year": 0.0})), looks_of(tiny_work())))


class TestCover:
    def test_bars_are_the_bill_by_payer(self, tiny: Scenario) -> None:
        found = compare(tiny)
        bill = repair_bill(found.engines[0])

        by_name = {trace["name"]: trace for trace in traces(cover_over_time.picture(found, looks_of(tiny_work())))}

        assert by_name["Two-stroke: the owner pays"]["y"] == bill.owner.tolist()
        assert by_name["Two-stroke: the warranty pays"]["y"] == bill.warranty.tolist()
        payers = {behind_of(data[-1]).payer for data in by_name["Two-stroke: the warranty pays"]["customdata"]}  # type: ignore[union-attr]
        assert payers == {Payer.WARRANTY}

    def test_the_finding_tells_each_share(self, tiny: Scenario) -> None:
        assert cover_over_time.finding(compare(tiny)) == (
            "Of the repairs expected the warranty pays 50 % with Two-stroke and 75 % with Four-stroke"
        )

    def test_of_many_engines_the_first_and_the_last_are_told(self, tiny: Scenario) -> None:
        two, four = tiny.engines
        more = (two, four, two.model_copy(update={"name": "Third"}), four.model_copy(update={"name": "Fourth"}))

        told = cover_over_time.finding(compare(tiny.changed({("engines",): more})))

        assert told == "Of the repairs expected the warranty pays 75 % with Fourth, 50 % with Two-stroke"

    def test_without_cover_or_repairs(self) -> None:
        none = two_engines(two={"warranty": None}, four={"warranty": None})
        assert cover_over_time.finding(compare(none)) == "No cover: every repair is the owner's to pay"
        bare = compare(two_engines(two=NO_SERVICE, four=NO_SERVICE))
        assert cover_over_time.finding(bare) == "No repairs are expected"
        traces(cover_over_time.picture(bare, looks_of(tiny_work())))
        one = compare(two_engines(two={"warranty": None}))
        assert cover_over_time.finding(one).endswith("nothing with Two-stroke and 75 % with Four-stroke")
