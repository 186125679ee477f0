"""The map of the cheapest engine, and fuel flow over speed."""

from typing import Any

import numpy as np
import plotly.graph_objects as go
import pytest

from dashboard.drawer import behind_of, rows_behind
from dashboard.figures import cheapest_map, fuel_flow
from dashboard.figures.words_on_maps import depth
from dashboard.scenarios import looks_of, scenario_of
from dashboard.theme import tint
from model.elements.fuel import flow_at, litres_an_hour
from model.inputs.scenario import Scenario
from model.language import speaking
from model.maps import CostMap, map_over_fuel_price, map_over_years
from model.measures import compare
from model.sweep import Stretch
from tests.front.works import tiny_work
from tests.tiny import one_engine, two_engines
from tests.tolerances import IDENTITY, REGRESSION

WORK = tiny_work()
LOOKS = looks_of(WORK)
HOURS, YEARS = np.linspace(0.0, 300.0, 13), np.linspace(1.0, 8.0, 8)


def drawn(found: CostMap, today: tuple[float, float]) -> dict[str, Any]:
    """The map drawn and looked over by Plotly."""
    looks = dict(list(LOOKS.items())[: len(found.costs)])
    picture = cheapest_map.picture(found, today, looks, cheapest_map.years_upwards(), "EUR")
    go.Figure(picture)
    return picture


class TestMap:
    def test_what_is_told_is_the_margin_of_the_cheapest(self) -> None:
        found = map_over_years(scenario_of(WORK), HOURS, YEARS)

        told = {trace["name"]: trace for trace in drawn(found, (100.0, 4.0))["data"] if trace["type"] == "heatmap"}

        assert set(told) == {"Two-stroke", "Four-stroke"}
        for place, name in enumerate(LOOKS):
            for row in range(YEARS.size):
                for column in range(HOURS.size):
                    cell = told[name]["z"][row][column]
                    is_cheapest = found.cheapest[row, column] == place
                    assert (cell is not None) == is_cheapest
                    if is_cheapest:
                        assert cell == round(found.margin[row, column])

    def test_the_smaller_region_is_drawn_on_the_larger_ones_ground(self) -> None:
        found = map_over_years(scenario_of(WORK), HOURS, YEARS)
        smaller, larger = np.argsort(np.bincount(found.cheapest.ravel()))

        picture = drawn(found, (100.0, 4.0))

        names = list(LOOKS)
        region = next(trace for trace in picture["data"] if trace["contours"]["type"] == "constraint")
        assert region["fillcolor"] == tint(LOOKS[names[smaller]].colour, 0.45)
        assert np.array(region["z"]) == pytest.approx(found.lead(smaller), abs=0.051)  # drawn to a tenth
        assert picture["layout"]["shapes"][0]["fillcolor"] == tint(LOOKS[names[larger]].colour, 0.45)

    def test_todays_point_opens_all_rows_of_the_cheapest(self) -> None:
        found = map_over_years(scenario_of(WORK), HOURS, YEARS)

        point = next(trace for trace in drawn(found, (100.0, 4.0))["data"] if trace.get("name") == "As set")

        behind = behind_of(point["customdata"][0][-1])
        assert behind is not None
        cheapest = compare(scenario_of(WORK)).cheapest
        assert behind.engine == cheapest.name
        rows = rows_behind(WORK, behind)
        assert sum(row.present_value for row in rows) == pytest.approx(cheapest.total.present_value, rel=REGRESSION)

    def test_every_engine_with_room_is_named(self) -> None:
        found = map_over_years(scenario_of(WORK), HOURS, YEARS)

        notes = [note["text"] for note in drawn(found, (100.0, 4.0))["layout"]["annotations"]]

        assert notes.count("break-even") == 1
        assert "As set" in notes
        assert any("Four-stroke" in note for note in notes)

    def test_a_single_engine_and_one_that_never_wins(self) -> None:
        scenario = scenario_of(WORK)
        alone = map_over_years(scenario.changed({("engines",): scenario.engines[:1]}), HOURS, YEARS)
        drawn(alone, (0.0, 1.0))
        never = map_over_fuel_price(two_engines(four={"price": 90000.0}), HOURS, np.linspace(0.0, 2.0, 5))
        drawn(never, (300.0, 2.0))

    @pytest.mark.parametrize(
        ("stretches", "expected"),
        [
            ([Stretch(1, 20, "A")], "however long it is kept, 1 to 20 years"),
            ([Stretch(1, 1.05, "B"), Stretch(1.05, 20, "A")], "however long it is kept, 1.1 to 20 years"),
            ([Stretch(1, 3.2, "B"), Stretch(3.2, 20, "A")], "if kept 3.2 years or longer"),
            ([Stretch(1, 9, "A"), Stretch(9, 20, "B")], "if kept up to 9 years"),
            ([Stretch(1, 3, "B"), Stretch(3, 9, "A"), Stretch(9, 20, "B")], "if kept 3 to 9 years"),
        ],
    )
    def test_findings_over_years(self, stretches: list[Stretch], expected: str) -> None:
        told = cheapest_map.finding(stretches, (120.0, 8.0), cheapest_map.years_upwards())

        assert told == f"At 120 h a year A is the cheapest {expected}"

    @pytest.mark.parametrize(
        ("language", "up_to", "longer"),
        [("en", "if kept up to 1 year", "if kept 1 year or longer"), ("es", "hasta 1 año", "si se tiene 1 año o más")],
    )
    def test_one_year_is_not_years(self, language: str, up_to: str, longer: str) -> None:
        stretches = [Stretch(0.5, 1, "A"), Stretch(1, 20, "B")]

        with speaking(language):
            told = [
                cheapest_map.finding(stretches, (120.0, years), cheapest_map.years_upwards()) for years in (0.8, 8.0)
            ]

        assert told[0].endswith(up_to)
        assert told[1].endswith(longer)

    def test_findings_over_the_fuel_price(self) -> None:
        upwards = cheapest_map.price_upwards("EUR")

        low = cheapest_map.finding([Stretch(0, 2.5, "A"), Stretch(2.5, 4, "B")], (120.0, 1.8), upwards)
        high = cheapest_map.finding([Stretch(0, 0.284, "A"), Stretch(0.284, 4, "B")], (120.0, 1.8), upwards)

        assert low == "At 120 h a year A is the cheapest while fuel costs less than 2.5 EUR a litre"
        assert high == "At 120 h a year B is the cheapest from a fuel price of 0.28 EUR a litre on"


def test_depth_is_greatest_in_the_middle() -> None:
    inside = np.ones((5, 5), dtype=bool)

    assert np.unravel_index(int(np.argmax(depth(inside))), (5, 5)) == (2, 2)
    assert depth(~inside).max() == 0.0


class TestFuelFlow:
    def test_lines_and_bars_are_the_models(self, tiny: Scenario) -> None:
        picture = fuel_flow.picture(tiny, LOOKS)

        go.Figure(picture)
        by_name = {trace["name"]: trace for trace in picture["data"]}
        line = by_name["Two-stroke (measured)"]
        assert line["y"] == pytest.approx(
            flow_at(tiny.engines[0], [speed / 100.0 for speed in line["x"]]), rel=IDENTITY
        )
        assert by_name["Share of the running time"]["y"] == [50.0, 50.0]
        assert by_name["Two-stroke: idle: 1 L/h"]["x"] == [10.0]

    def test_an_estimate_is_called_one(self) -> None:
        scenario = one_engine({"fuel": {}})

        picture = fuel_flow.picture(scenario, {"Engine": LOOKS["Four-stroke"]})

        assert picture["data"][0]["name"] == "Engine (estimate)"
        assert fuel_flow.finding(scenario).startswith("Engine burns ")

    def test_the_finding_for_either_winner(self, tiny: Scenario) -> None:
        two, four = (litres_an_hour(engine, tiny.use) for engine in tiny.engines)
        assert (two, four) == pytest.approx((10.0, 7.0), rel=IDENTITY)
        assert fuel_flow.finding(tiny) == "Four-stroke burns 7 L in an hour as it is run, 30 % less than Two-stroke"
        thirsty = two_engines(four={"fuel": {"points": [[0.1, 5.0], [1.0, 35.0]]}})
        assert fuel_flow.finding(thirsty) == "Two-stroke burns 10 L in an hour as it is run, 50 % less than Four-stroke"
        pair = two_engines(four={"per_boat": 2})
        assert fuel_flow.finding(pair) == "Two-stroke burns 10 L in an hour as it is run, 29 % less than Four-stroke"
        assert fuel_flow.picture(pair, LOOKS)["data"][2]["name"] == "Four-stroke (measured, each)"
        same = two_engines(four={"fuel": {"points": [[0.1, 1.0], [1.0, 19.0]]}})
        assert "burn the same in an hour" in fuel_flow.finding(same)
