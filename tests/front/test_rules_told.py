"""What a field allows is told in the language of the moment, and no name of an engine is taken for markup."""

import pytest
from dash import dcc

from dashboard import showing
from dashboard.edits import edited
from dashboard.engines import renamed
from dashboard.form import FUEL, check
from dashboard.pages import costs, running
from dashboard.rules_told import rule_told
from dashboard.scenarios import scenario_of, start
from dashboard.sweeps import swings_of
from dashboard.trials import comparison
from dashboard.work import Work
from model.language import US, speaking

WORK = start()
FOUR = scenario_of(WORK).engines[0].name


@pytest.mark.parametrize(
    ("allowed", "told"),
    [
        ("a number, 0 or more: Price of fuel. [money/L]", "un número, 0 o más"),
        ("a number, above 0, at most 1000: Rated power. [kW]", "un número, más de 0, como máximo 1.000"),
        ('one of "kept", "own", "skipped"', 'uno de "kept", "own", "skipped"'),
        ("a date from 1990-01-01 to 2100-12-31, such as 2027-04-01",
         "una fecha del 1990-01-01 al 2100-12-31, como 2027-04-01"),
        ("text on one line, without control characters: What the comparison is called.",
         "texto en una sola línea, sin caracteres de control"),
        ("text without control characters other than tabs and line breaks: Anything a reader should know.",
         "texto sin más caracteres de control que tabulaciones y saltos de línea"),
        ("one for each begun year: 8 for ownership.years = 8", "one for each begun year"),
    ],
)  # fmt: skip
def test_a_rule_is_told_in_spanish(allowed: str, told: str) -> None:
    with speaking("es"):
        assert rule_told(allowed) == told


@pytest.mark.parametrize(
    ("allowed", "told"),
    [
        ("a number, above 0, at most 1000: Rated power. [kW]", "a number, above 0, at most 1,341"),
        ("a number, 0 or more, at most 1000: Price of fuel. [money/L]", "a number, 0 or more, at most 3,785.4"),
        ("a number, at most 8766: Hours. [h/year]", "a number, at most 8,766"),
        ("a number, at most 10: Points. [-, L/h]", "a number, at most 10"),
    ],
)
def test_limits_are_in_the_units_that_are_shown(allowed: str, told: str) -> None:
    """A horsepower is 0.7457 kW, a gallon 3.7854 L. Source: NIST Special Publication 811."""
    with speaking("en", units=US):
        assert rule_told(allowed) == told


def test_it_is_told_at_controls_and_in_the_form() -> None:
    with speaking("es"):
        assert check(WORK, {FUEL: -1}).problems[FUEL] == "Se admite: un número, 0 o más."
        found = edited(WORK, {}, {"does": "set", "path": "prices.fuel", "raw": "-1", "kind": "number"})
    assert "un número, 0 o más" in found.problems["prices.fuel"]


def test_a_name_in_angle_brackets_is_text_in_every_picture() -> None:
    work = renamed(WORK, FOUR, "<b>A</b>").work
    for shown in (running.FLOW, *costs.PICTURES):
        section = showing.place(shown, work)
        (graph,) = [part for part in section._traverse() if isinstance(part, dcc.Graph)]
        texts = [text for text in texts_of(graph.figure) if not text.startswith("rows:")]
        assert any("&lt;b&gt;A&lt;/b&gt;" in text for text in texts)
        assert not any("<b>A</b>" in text for text in texts)
        assert not any("&lt;" in text for text in texts_of(graph.figure) if text.startswith("rows:"))


def texts_of(value: object) -> list[str]:
    """Every text in a picture."""
    if isinstance(value, str):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list | tuple) else ()
    return [text for one in inner for text in texts_of(one)]


def test_the_swing_is_of_the_two_engines_of_the_answer() -> None:
    work = Work("two-small-or-one-large")
    for one in (WORK, work):
        ranked = sorted(comparison(one).engines, key=lambda cost: cost.total.present_value)
        found = swings_of(one)
        assert found is not None
        assert {found.baseline, found.challenger} == {cost.name for cost in ranked[:2]}
