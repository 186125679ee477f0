"""Pictures hold the model's figures."""

import json
from dataclasses import replace
from typing import Any

import numpy as np
import plotly.graph_objects as go
import pytest

from dashboard import answers
from dashboard.drawer import Behind, key
from dashboard.figures import cheapest_over_hours, cost_by_element, cost_since_delivery, table_of_costs
from dashboard.scenarios import scenario_of
from dashboard.theme import GRAPH_CONFIG, TEMPLATES, looks
from dashboard.work import Work
from model.cheapest import break_even
from model.curves import HoursCurve
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.language import speaking
from model.measures import compare
from model.wording import ELEMENT_LABELS, whole
from tests.front.works import tiny_work


@pytest.fixture
def work() -> Work:
    return tiny_work()


@pytest.fixture
def scenario(work: Work) -> Scenario:
    return scenario_of(work)


NAMES = ("Two-stroke", "Four-stroke")
"""Engines of the tiny comparison."""


def by_name(picture: dict[str, Any]) -> dict[str, Any]:
    """Traces by name, the picture first looked over by Plotly itself."""
    go.Figure(picture)
    return {trace["name"]: trace for trace in picture["data"]}


def test_bars_are_the_models(scenario: Scenario) -> None:
    found = compare(scenario)

    traces = by_name(cost_by_element.picture(found, looks(scenario.engines)))

    for element in Element:
        amounts = [cost.elements[element].present_value for cost in found.engines]
        if any(amounts):
            assert traces[ELEMENT_LABELS[element]]["x"] == amounts
        else:
            assert ELEMENT_LABELS[element] not in traces
    assert traces["Total"]["x"] == [cost.total.present_value for cost in found.engines]


def test_what_the_cheapest_costs_least_in_is_told(scenario: Scenario) -> None:
    assert cost_by_element.finding(compare(scenario)) == (
        "Four-stroke costs the least in fuel, repairs and two-stroke oil, and brings the most at resale"
    )


def test_lines_since_delivery_end_at_the_total_in_money_of_the_day(scenario: Scenario, work: Work) -> None:
    found = answers.since_delivery(work)
    mark = answers.main_mark(work)

    traces = by_name(cost_since_delivery.picture(found, mark, looks(scenario.engines)))

    for cost in compare(scenario).engines:
        assert traces[cost.name]["y"][-1] == pytest.approx(cost.total.nominal)
        assert traces[cost.name]["x"][-1] == scenario.ownership.years
        assert np.all(np.diff(traces[cost.name]["x"]) >= 0.0)


def test_the_dot_is_where_the_command_line_says(scenario: Scenario, work: Work) -> None:
    pair = break_even(scenario).pairs[0]

    found = answers.since_delivery(work)

    assert [(mark.challenger, mark.years) for mark in found.marks] == [(pair.challenger, pair.years.nominal)]


def test_lines_over_hours_are_zero_for_the_cheapest(scenario: Scenario, work: Work) -> None:
    curve = answers.over_hours(work)
    stretches = answers.stretches_by_hours(work)
    look = looks(scenario.engines)

    traces = by_name(cheapest_over_hours.picture(curve, stretches, 100.0, look, "EUR"))

    assert stretches == break_even(scenario).cheapest_by_hours
    lines = np.array([traces[name]["y"] for name in NAMES])
    assert np.all(lines.min(axis=0) == 0.0)
    for stretch in stretches:
        inside = (curve.hours > stretch.begin) & (curve.hours < stretch.end)
        assert np.all(lines[NAMES.index(stretch.engine)][inside] == 0.0)


def test_a_point_over_hours_says_its_hours_and_how_much_more(scenario: Scenario, work: Work) -> None:
    curve = HoursCurve(np.array([0.0, 62.55, 1200.0]), np.array([[100.0, 300.0, 5000.0], [150.0, 250.0, 3765.4]]))

    with speaking("en", "de"):
        drawn = cheapest_over_hours.picture(curve, answers.stretches_by_hours(work), 100.0, looks(scenario.engines), "")

    read = [
        [trace["hovertemplate"].replace("%{customdata[0]}", one).replace("%{customdata[1]}", other)
         for one, other in trace["customdata"]]
        for trace in drawn["data"][:2]
    ]  # fmt: skip
    dearer, other = (trace["name"] for trace in drawn["data"][:2])
    assert [line.removesuffix("<extra></extra>") for line in read[0]] == [
        f"{dearer}<br>0 h a year: 0 more",
        f"{dearer}<br>62,5 h a year: 50 more",
        f"{dearer}<br>1.200 h a year: 1.235 more",
    ]
    assert read[1][0] == f"{other}<br>0 h a year: 50 more<extra></extra>"


def test_the_cheapest_over_hours_follows_the_price_of_fuel_as_the_command_line_does(work: Work) -> None:
    found = []
    for price in (1.5, 2.25, 6.0):
        moved = work.changed({"prices.fuel": price})
        found.append(answers.stretches_by_hours(moved))
        assert found[-1] == break_even(scenario_of(moved)).cheapest_by_hours
    assert len(set(found)) == len(found)


@pytest.mark.parametrize("engine", ["Two-stroke", "Four-stroke"])
def test_a_single_engine_is_drawn_too(scenario: Scenario, engine: str) -> None:
    work = replace(tiny_work(), engines=(engine,))
    look = {engine: looks(scenario_of(tiny_work()).engines)[engine]}
    found, since = answers.comparison(work), answers.since_delivery(work)

    assert engine in cost_by_element.finding(found)
    assert cost_since_delivery.finding(since)
    by_name(cost_by_element.picture(found, look))
    by_name(cost_since_delivery.picture(since, answers.main_mark(work), look))
    curve, stretches = answers.over_hours(work), answers.stretches_by_hours(work)
    by_name(cheapest_over_hours.picture(curve, stretches, 100.0, look, "EUR"))


def test_the_table_holds_the_models_figures_and_their_rows(scenario: Scenario) -> None:
    found = compare(scenario)

    content = json.loads(getattr(table_of_costs.table_of_costs(found), "data-table"))

    assert [label for label, _ in content["columns"]] == ["EUR", *NAMES]
    assert [cell[0] for cell in content["rows"][0][1:]] == ["5,000", "6,000"]
    total = found.engines[0].total.present_value
    assert content["totals"][0][1] == [whole(total), total, key(Behind(NAMES[0]))]


def test_a_second_engine_of_one_technology_looks_different(scenario: Scenario) -> None:
    engine = scenario.engines[0]

    found = looks([engine, engine.model_copy(update={"name": "Another"})])

    assert found["Two-stroke"].colour == found["Another"].colour
    assert found["Two-stroke"].dash != found["Another"].dash
    assert found["Two-stroke"].marker != found["Another"].marker


def test_pictures_lead_nowhere() -> None:
    assert GRAPH_CONFIG["showSendToCloud"] is False
    assert GRAPH_CONFIG["displaylogo"] is False


def test_templates_are_plotlys() -> None:
    for template in TEMPLATES.values():
        go.layout.Template(template)
