"""Pictures of trials: chance over hours, the difference, swings."""

from typing import Any

import numpy as np
import plotly.graph_objects as go
import pytest

from dashboard.figures import chance_over_hours, difference, swing
from dashboard.scenarios import looks_of
from dashboard.theme import PAPER, TEMPLATES
from model.inputs.scenario import Scenario
from model.uncertainty.bands import ChanceCurve
from model.uncertainty.difference import difference as difference_of
from model.uncertainty.sensitivity import Swings, swings
from model.uncertainty.streams import Source
from model.uncertainty.summary import summarise
from model.uncertainty.trials import TrialRun, run_trials
from tests.front.works import tiny_work
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION

VARYING: dict[str, Any] = {
    "use": {"spread": {"shape": "lognormal", "variation": 0.8}},
    "trials": {"repairs": "drawn", "fuel_volatility": 0.2, "labour_variation": 0.1},
}
LOOKS = looks_of(tiny_work())


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return two_engines(**VARYING)


@pytest.fixture(scope="module")
def run(scenario: Scenario) -> TrialRun:
    return run_trials(scenario, 2048, seed=5)


class TestDifference:
    def test_bars_are_the_trials(self, run: TrialRun) -> None:
        found = difference_of(run, 1, 0)

        picture = difference.picture(found, LOOKS, "EUR")

        go.Figure(picture)
        bars = [trace for trace in picture["data"] if trace["type"] == "bar"]
        assert sum(sum(trace["y"]) for trace in bars) == pytest.approx(100.0, rel=REGRESSION)
        above = next(trace for trace in bars if trace["name"] == "Four-stroke costs less")
        assert min(above["x"]) > 0.0
        told = [note["text"] for note in picture["layout"]["annotations"]]
        chance = summarise(run).engines[1].chance_cheapest.value
        assert any(f"{100.0 * chance:.0f} %" in text and "Four-stroke" in text for text in told)

    def test_the_finding_for_either_side(self, run: TrialRun) -> None:
        wins, loses = difference_of(run, 1, 0), difference_of(run, 0, 1)

        assert difference.finding(wins, "EUR").startswith("Four-stroke costs less than Two-stroke in ")
        assert "half of all trials save" in difference.finding(wins, "EUR")
        assert "in only" in difference.finding(loses, "EUR")
        assert difference.finding(loses, "EUR").endswith("EUR more")

    def test_engines_that_cost_the_same_are_drawn_too(self, scenario: Scenario) -> None:
        twin = scenario.engines[0].model_copy(update={"name": "Four-stroke"})
        same = run_trials(two_engines().changed({("engines",): (scenario.engines[0], twin)}), 64)

        go.Figure(difference.picture(difference_of(same, 0, 1), LOOKS, "EUR"))


class TestSwing:
    def test_bars_are_the_models(self, scenario: Scenario) -> None:
        found = swings(scenario)
        assert found is not None

        picture = swing.picture(found, LOOKS, "EUR")

        go.Figure(picture)
        bars = [trace for trace in picture["data"] if trace["type"] == "bar"]
        widths = [sum(trace["x"]) for trace in bars]
        assert widths == pytest.approx([one.width for _, one in swing.shown(found)], rel=REGRESSION)
        assert widths == sorted(widths, reverse=True)

    def test_values_stand_at_the_ends_on_the_papers_own_ground(self) -> None:
        one = ((Source.HOURS, ""), swing.Swing(50.0, 200.0, 300.0, -900.0))
        picture = swing.picture(Swings("Four-stroke", "Two-stroke", -500.0, (one,)), LOOKS, "EUR")

        ends = [note for note in picture["layout"]["annotations"] if note["text"].endswith(" h")]
        assert [(note["text"], note["x"], note["xanchor"]) for note in ends] == [
            ("50 h", 300.0, "left"),
            ("200 h", -900.0, "right"),
        ]
        for scheme in ("light", "dark"):
            (covering,) = TEMPLATES[scheme]["layout"]["annotations"]
            assert {note["templateitemname"] for note in ends} == {covering["name"]}
            assert covering["bgcolor"] == PAPER[scheme]

    def test_findings(self) -> None:
        def of(*ends: tuple[float, float]) -> str:
            inputs = zip(
                [(Source.HOURS, ""), (Source.FUEL_PRICE, ""), (Source.FAILURES, "Two-stroke"), (Source.PARTS, "")],
                ends,
                strict=False,
            )
            made = tuple((one, swing.Swing(1.0, 2.0, *pair)) for one, pair in inputs)
            return swing.finding(Swings("Two-stroke", "Four-stroke", -500.0, made), "EUR")

        assert of() == "Nothing that is uncertain moves the difference"
        assert of((-900.0, -100.0), (-600.0, -400.0)) == (
            "No input alone turns this difference round; what moves it most: hours a year, 100 to 900 EUR"
        )
        assert of((-900.0, 100.0), (-600.0, -400.0)) == "One input alone can turn this difference round: hours a year"
        assert of((-900.0, 100.0), (200.0, -400.0), (-10.0, 10.0)) == (
            "Each of these alone can turn this difference round: hours a year, fuel price, failures of Two-stroke"
        )
        assert of((-900.0, 100.0), (200.0, -400.0), (-10.0, 10.0), (-9.0, 9.0)).endswith("Two-stroke and 1 more")

    def test_what_is_too_narrow_is_not_drawn(self) -> None:
        inputs = (
            ((Source.HOURS, ""), swing.Swing(1.0, 2.0, 0.0, 1000.0)),
            ((Source.PARTS, ""), swing.Swing(1.0, 2.0, 5.0, 6.0)),
        )

        assert [one for one, _ in swing.shown(Swings("A", "B", 0.0, inputs))] == [(Source.HOURS, "")]

    def test_nothing_uncertain_is_drawn_too(self, tiny: Scenario) -> None:
        found = swings(tiny)
        assert found is not None

        go.Figure(swing.picture(found, LOOKS, "EUR"))


class TestChance:
    CURVE = ChanceCurve(np.array([0.0, 100.0, 200.0]), np.array([[0.9, 0.5, 0.1], [0.1, 0.5, 0.9]]), np.zeros((2, 3)))

    def test_lines_are_the_curve(self) -> None:
        picture = chance_over_hours.picture(self.CURVE, 150.0, LOOKS)

        go.Figure(picture)
        assert [trace["y"] for trace in picture["data"]] == [[90.0, 50.0, 10.0], [10.0, 50.0, 90.0]]

    def test_the_finding_on_either_side_of_even_odds(self) -> None:
        names = ["Two-stroke", "Four-stroke"]

        assert chance_over_hours.finding(self.CURVE, names, 150.0) == (
            "At 150 h a year Four-stroke is the cheapest in 70 % of the trials, and the likeliest above 100 h"
        )
        assert chance_over_hours.finding(self.CURVE, names, 50.0).endswith("and the likeliest below 100 h")

    def test_a_single_engine_is_always_the_cheapest(self) -> None:
        alone = ChanceCurve(self.CURVE.hours, np.ones((1, 3)), np.zeros((1, 3)))

        assert chance_over_hours.finding(alone, ["One"], 100.0).endswith(
            "is the cheapest in 100 % of the trials, and the likeliest at any hours shown"
        )

    def test_between_two_others(self) -> None:
        curve = ChanceCurve(
            np.array([0.0, 100.0, 200.0]),
            np.array([[0.7, 0.2, 0.0], [0.3, 0.6, 0.3], [0.0, 0.2, 0.7]]),
            np.zeros((3, 3)),
        )

        begin, end = chance_over_hours.likeliest_from_to(curve, 1, 100.0)
        assert (begin, end) == pytest.approx((50.0, 150.0), rel=IDENTITY)
        assert chance_over_hours.finding(curve, ["A", "B", "C"], 100.0).endswith("the likeliest from 50 to 150 h")
