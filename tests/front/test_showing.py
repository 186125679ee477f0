"""Pictures on pages: drawn for any work, with figures beside them, or with the reason why there are none."""

import json
from dataclasses import replace

import plotly.graph_objects as go
import pytest

from dashboard import sweeps
from dashboard.drawer import behind_of, rows_behind
from dashboard.pages import costs, cover, running, service, sure, when
from dashboard.scenarios import scenario_of, start
from dashboard.showing import Shown, place
from dashboard.text import together
from dashboard.work import Work
from model.cheapest import break_even
from model.measures import compare
from model.uncertainty.flip_points import flip_points
from tests.front.works import tiny_work
from tests.tolerances import REGRESSION

PICTURES = (*costs.PICTURES, *when.PICTURES, *sure.PICTURES, service.CALENDAR, cover.COVER, running.FLOW)

DEMO = start()
ALONE = replace(DEMO, engines=(scenario_of(DEMO).engines[0].name,))
IDLE = DEMO.changed({"use.hours_per_year": 0.0})
STEADY = tiny_work()

WORKS = {"demo": DEMO, "one engine": ALONE, "no hours": IDLE, "nothing varies": STEADY}


@pytest.mark.parametrize("work", WORKS.values(), ids=WORKS)
@pytest.mark.parametrize("shown", PICTURES, ids=lambda shown: shown.name)
def test_every_picture_is_drawn_for_every_work(shown: Shown, work: Work) -> None:
    drawn = shown.draw(work)

    go.Figure(drawn.picture)
    assert drawn.finding
    assert "{" not in drawn.finding
    assert place(shown, work).children
    if shown.figures is not None:
        shown.figures(work)


@pytest.mark.parametrize("shown", PICTURES, ids=lambda shown: shown.name)
def test_every_mark_that_opens_rows_opens_some(shown: Shown) -> None:
    for trace in shown.draw(DEMO).picture["data"]:
        for data in trace.get("customdata", []):
            behind = behind_of(data[-1])
            if behind is not None and trace.get("type") != "bar":
                assert rows_behind(DEMO, behind)


def test_a_finer_chance_is_the_trials_own_at_the_hours_as_set() -> None:
    coarse, fine = (sweeps.chances(DEMO, is_fine) for is_fine in (False, True))
    assert coarse is not None
    assert fine is not None

    assert fine.hours.size > coarse.hours.size
    assert fine.standard_errors.max() < coarse.standard_errors.max()


class TestSweeps:
    """What is swept does not depend on the slider that sweeps it."""

    def test_a_map_is_the_same_whatever_its_sliders_say(self) -> None:
        moved = DEMO.changed({"use.hours_per_year": 125.0, "ownership.years": 7.0})

        assert sweeps.map_by_years(moved, False) is sweeps.map_by_years(DEMO, False)
        dearer = DEMO.changed({"prices.fuel": 2.0})
        assert sweeps.map_by_fuel_price(dearer) is sweeps.map_by_fuel_price(DEMO)
        assert sweeps.map_by_years(dearer, False) is not sweeps.map_by_years(DEMO, False)

    def test_a_map_at_the_hours_and_years_as_set_is_the_answer(self) -> None:
        found = sweeps.map_by_years(DEMO, True)
        column, row = found.hours.size // 2, found.other.size // 3
        there = DEMO.changed({
            "use.hours_per_year": float(found.hours[column]), "ownership.years": float(found.other[row])
        })  # fmt: skip

        exact = [cost.total.present_value for cost in compare(scenario_of(there)).engines]
        assert found.costs[:, row, column] == pytest.approx(exact, rel=REGRESSION)

    def test_chances_are_the_same_whatever_hours_are_set(self) -> None:
        assert sweeps.chances(DEMO.changed({"use.hours_per_year": 125.0}), False) is sweeps.chances(DEMO, False)

    def test_sentences_are_the_command_lines(self) -> None:
        assert sweeps.stretches_by_years(DEMO) == break_even(scenario_of(DEMO)).cheapest_by_years
        told = json.dumps([str(line.children) for line in when.flips(DEMO)[-1].children], ensure_ascii=False)
        for flip in flip_points(scenario_of(DEMO)):
            assert together(flip.input.name) in told

    def test_prices_in_sight_hold_todays(self) -> None:
        for price in (0.0, 1.85, 3.6, 9.0):
            low, high = sweeps.span_of_prices(DEMO.changed({"prices.fuel": price}))
            assert low == 0.0
            assert high > price
