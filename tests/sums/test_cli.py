"""The command line: what each command writes, in every format, and how it ends."""

import csv
import io
import json
import subprocess
import sys
from typing import Any

import pytest
from typer.testing import CliRunner

from model.cli import app
from model.inputs.terms import Element
from tests.rules.project import ROOT
from tests.tolerances import REGRESSION

SCHOOL = str(ROOT / "scenarios" / "sailing-school-launch.toml")
FOUR = "Four-stroke 45 kW"
LEDGER = [
    "t_years",
    "date",
    "meter_hours",
    "element",
    "item",
    "quantity",
    "unit",
    "unit_price",
    "nominal",
    "present_value",
    "payer",
]


def run(*arguments: str, code: int = 0) -> Any:
    """What a command ends with."""
    done = CliRunner().invoke(app, list(arguments))
    assert done.exit_code == code, done.output
    return done


def told(*arguments: str) -> dict[str, Any]:
    """What a command writes as JSON."""
    return dict(json.loads(run(*arguments, "--format", "json").stdout))


def test_compare_holds_every_element_and_its_parts_add_up() -> None:
    found = told("compare", SCHOOL)

    assert {"scenario", "currency", "ownership_years", "engines", "cheapest", "break_even"} <= set(found)
    for engine in found["engines"]:
        assert list(engine["elements"]) == [element.value for element in Element]
        for money in ("nominal", "present_value"):
            parts = sum(amount[money] for amount in engine["elements"].values())
            assert engine["total"][money] == pytest.approx(parts, rel=REGRESSION)
    least = min(found["engines"], key=lambda engine: engine["total"]["present_value"])
    assert found["cheapest"] == least["name"]


def test_the_ledger_adds_up_to_compare_and_csv_says_what_json_says() -> None:
    engine = told("compare", SCHOOL)["engines"][0]
    rows = told("ledger", SCHOOL, "--engine", FOUR)["rows"]
    table = list(csv.DictReader(io.StringIO(run("ledger", SCHOOL, "--engine", FOUR, "--format", "csv").stdout)))

    assert list(rows[0]) == LEDGER
    assert list(table[0]) == LEDGER
    assert [float(row["nominal"]) for row in table] == [row["nominal"] for row in rows]
    for payer, expected in (("owner", engine["total"]), ("warranty", engine["paid_by_warranty"])):
        for money in ("nominal", "present_value"):
            total = sum(row[money] for row in rows if row["payer"] == payer)
            assert total == pytest.approx(expected[money], rel=REGRESSION)


def test_services_are_the_visits_of_the_ledger() -> None:
    visits = told("services", SCHOOL, "--engine", FOUR)["visits"]

    assert list(visits[0]) == ["t_years", "date", "meter_hours", "name", "tasks", "parts", "labour", "days"]
    assert visits[0]["name"] == "first, 20 h / 1 mo"
    assert [visit["t_years"] for visit in visits] == sorted(visit["t_years"] for visit in visits)


def test_options_change_what_is_computed() -> None:
    found = told("compare", SCHOOL, "--years", "5", "--hours", "60", "--set", "prices.fuel=2.5")
    litres = {engine["name"]: engine["fuel_litres"] for engine in found["engines"]}
    before = {engine["name"]: engine["fuel_litres"] for engine in told("compare", SCHOOL)["engines"]}

    assert found["ownership_years"] == 5
    assert litres[FOUR] == pytest.approx(before[FOUR] * 5 * 60 / (8 * 120), rel=REGRESSION)


def test_break_even_can_be_asked_against_a_dearer_engine() -> None:
    found = told("break-even", SCHOOL, "--baseline", FOUR)

    assert found["baseline"] == FOUR
    assert {pair["challenger"] for pair in found["pairs"]}.isdisjoint({FOUR})
    assert "is cheaper to buy" in run("break-even", SCHOOL, "--baseline", FOUR).stdout


@pytest.mark.parametrize("command", ["check", "compare", "break-even"])
def test_a_table_carries_its_answer(command: str) -> None:
    assert FOUR in run(command, SCHOOL).stdout


def test_an_estimate_is_called_one_wherever_its_figure_is_shown() -> None:
    published = str(ROOT / "scenarios" / "published-figures.toml")

    for command in (("compare",), ("break-even",), ("ledger", "--engine", "Four-stroke injected 85 hp")):
        assert "estimate" in run(command[0], published, *command[1:]).stdout
    rows = told("ledger", published, "--engine", "Four-stroke injected 85 hp")["rows"]
    assert {row["item"] for row in rows if row["element"] == "fuel"} == {"Fuel (estimate)"}


def test_the_schema_is_json() -> None:
    assert json.loads(run("schema").stdout)["type"] == "object"
    assert json.loads(run("schema", "engine").stdout)["type"] == "object"


@pytest.mark.parametrize(
    ("arguments", "key", "allowed"),
    [
        (("compare", SCHOOL, "--hours", "9000"), "use.hours_per_year", "8766"),
        (("compare", SCHOOL, "--years", "-1"), "ownership.years", "above 0"),
        (("ledger", SCHOOL, "--engine", "Six-stroke"), "--engine", FOUR),
        (("break-even", SCHOOL, "--baseline", "Six-stroke"), "--baseline", FOUR),
        (("compare", str(ROOT / "scenarios" / "engines" / "four-stroke-45kw.toml")), "engines", "[[engines]]"),
    ],
)
def test_bad_input_ends_with_2_and_says_what_is_allowed(arguments: tuple[str, ...], key: str, allowed: str) -> None:
    done = run(*arguments, "--format", "json", code=2)

    problems = json.loads(done.stderr)["errors"]
    assert [problem for problem in problems if problem["key"] == key and allowed in problem["allowed"]]


@pytest.mark.parametrize(("pipe", "code"), [("| head -1", 0), ("> /dev/full", 2)])
def test_an_output_that_takes_no_more_ends_without_a_traceback(pipe: str, code: int) -> None:
    line = f"{sys.executable} -m model ledger {SCHOOL} --engine '{FOUR}' {pipe}; exit ${{PIPESTATUS[0]}}"

    done = subprocess.run(["bash", "-c", line], cwd=ROOT, capture_output=True, text=True, check=False)

    assert done.returncode == code
    assert "Traceback" not in done.stderr


class TestOptions:
    """A program that asked for JSON is told in JSON what is wrong with the words of its command."""

    @pytest.mark.parametrize(
        ("words", "key", "part"),
        [
            (["compare", SCHOOL, "--years", "abc"], "--years", "number"),
            (["compare", SCHOOL, "--yaers", "3"], "--yaers", "No such option"),
            (["compare"], "FILE", "Missing"),
            (["compar", SCHOOL], "", "compare"),
            (["trials", SCHOOL, "--trials", "5x"], "--trials", "integer"),
            (["compare", SCHOOL, "--language", "xx"], "--language", "en"),
        ],
    )
    def test_that_are_wrong_are_told_as_json(self, words: list[str], key: str, part: str) -> None:
        done = subprocess.run(
            [sys.executable, "-m", "model", *words, "--format", "json"], cwd=ROOT, capture_output=True, text=True
        )
        assert (done.returncode, done.stdout) == (2, "")
        (error,) = json.loads(done.stderr)["errors"]
        assert error["key"] == key
        assert part in error["found"]
