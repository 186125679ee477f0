"""The command ask: what it lists, answers and refuses."""

import csv
import io
import json
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from model.cli import app
from model.cli_ask import _pairs
from model.counter import questions
from tests.rules.project import ROOT

SCENARIO = str(ROOT / "scenarios" / "sailing-school-launch.toml")
PUBLISHED = str(ROOT / "scenarios" / "published-figures.toml")
SOURCES = str(ROOT / "scenarios" / "sources.toml")
KEYS = ["question", "sentence", "figure", "reasons", "flip_point", "chance", "caution", "rows"]


def run(*arguments: str) -> Result:
    """The command, start to finish, in this process."""
    return CliRunner().invoke(app, ["ask", *arguments])


def answers(*arguments: str) -> list[Any]:
    """What a command answers in JSON."""
    done = run(SCENARIO, *arguments, "--format", "json")
    assert done.exit_code == 0, done.stderr
    found = json.loads(done.stdout)
    assert list(found) == ["answers"]
    return list(found["answers"])


def problems(*arguments: str) -> list[dict[str, str]]:
    """What a command refuses, in JSON."""
    done = run(SCENARIO, *arguments, "--format", "json")
    assert (done.exit_code, done.stdout) == (2, "")
    return list(json.loads(done.stderr)["errors"])


def test_without_a_question_all_are_listed() -> None:
    done = run(SCENARIO)

    assert done.exit_code == 0
    assert [question.name for question in questions() if question.name not in done.stdout] == []
    listed = json.loads(run(SCENARIO, "--format", "json").stdout)["questions"]
    assert [row["question"] for row in listed] == [question.name for question in questions()]
    assert listed[0].keys() == {"question", "asks", "arguments"}


def test_one_question_is_answered() -> None:
    (found,) = answers("fuel-price", "--change", "50", "--trials", "64")

    assert list(found) == KEYS
    assert found["question"] == "fuel-price"
    assert "With fuel 50 % dearer" in found["sentence"]
    assert found["chance"]["trials"] == 64
    assert found["rows"][0].keys() >= {"whose", "date", "element", "nominal", "payer"}


def test_every_question_is_answered_at_once() -> None:
    assert [found["question"] for found in answers("--all", "--trials", "16")] == [one.name for one in questions()]


def test_a_table_holds_answer_reasons_and_caution() -> None:
    told = " ".join(run(SCENARIO, "cost-of-an-hour", "--trials", "16").stdout.split())

    assert "At 120 h a year Four-stroke 45 kW costs 27.02 EUR an hour." in told
    assert "Hours a year: the answer turns below 56 h a year" in told
    assert "The engine maker's manual and local rules govern" in told


def test_plain_words_are_short() -> None:
    told = run(SCENARIO, "cost-of-an-hour", "--plain", "--trials", "16").stdout

    assert "Going out costs you some 27.02 EUR an hour" in told
    assert "Of it" not in told


def test_rows_as_csv() -> None:
    done = run(SCENARIO, "cost-of-an-hour", "--format", "csv", "--trials", "16")

    (row,) = csv.DictReader(io.StringIO(done.stdout))
    assert (row["question"], row["unit"]) == ("cost-of-an-hour", "EUR an hour")
    assert float(row["value"]) == pytest.approx(27.02, abs=0.005)


def test_the_engines_may_be_named() -> None:
    (found,) = answers(
        "which-is-cheaper",
        "--engine",
        "Four-stroke 45 kW",
        "--against",
        "Two-stroke carburetted 45 kW",
        "--trials",
        "16",
    )

    assert "Two-stroke carburetted 45 kW" in found["sentence"]


def test_hours_and_settings_change_the_scenario() -> None:
    (found,) = answers("normal-hours", "--hours", "34.8", "--set", "prices.fuel=2.10", "--trials", "16")

    assert found["figure"] == {"value": pytest.approx(34.8), "unit": "h a year"}


def test_a_question_that_does_not_apply_says_why() -> None:
    done = run(PUBLISHED, "breakdowns", "--format", "json")

    assert done.exit_code == 0
    (found,) = json.loads(done.stdout)["answers"]
    assert (found["figure"], found["rows"]) == (None, [])
    assert "[[repair]]" in found["sentence"]


def test_a_yes_or_no_argument() -> None:
    (found,) = answers("own-servicing", "--keeps-cover=yes", "--trials", "16")

    assert "is taken to stand" in found["reasons"][1]


@pytest.mark.parametrize(
    ("words", "key", "allowed"),
    [
        (("fuel-pric",), "QUESTION", "fuel-price? one of"),
        (("--change", "5"), "QUESTION", "a question, and then its arguments"),
        (("fuel-price", "--chnge", "5"), "--chnge", "arguments of fuel-price: --change"),
        (("fuel-price", "--change"), "--change", "How far the price goes up, and down"),
        (("fuel-price", "--change", "much"), "--change", "a number, 0 to 1000 per cent"),
        (("fuel-price", "--change", "-5"), "--change", "a number, 0 to 1000 per cent"),
        (("fuel-price", "--change", "nan"), "--change", "a number"),
        (("service-quote", "--amount", "inf"), "--amount", "a number"),
        (("next-years", "--ahead", "2.5"), "--ahead", "a whole number, 1 to 60 years"),
        (("own-servicing", "--keeps-cover", "perhaps"), "--keeps-cover", "yes or no"),
        (("cost-of-an-hour", "--change", "5"), "--change", "arguments of cost-of-an-hour: none"),
        (("cost-of-an-hour", "--engine", "Six"), "--engine", 'one of "Four-stroke 45 kW"'),
    ],
)
def test_what_is_wrong_is_told_with_what_is_allowed(words: tuple[str, ...], key: str, allowed: str) -> None:
    found = problems(*words)

    assert [problem["key"] for problem in found] == [key]
    assert allowed in found[0]["allowed"]


def test_everything_wrong_is_told_at_once() -> None:
    found = problems("used-instead", "--meter", "x", "--age", "-1", "--colour", "white")

    assert [problem["key"] for problem in found] == ["--meter", "--age", "--colour"]


def test_an_engine_is_not_held_against_itself() -> None:
    (found,) = problems("which-is-cheaper", "--engine", "Four-stroke 45 kW", "--against", "Four-stroke 45 kW")

    assert found["key"] == "--against"


def test_a_bad_file_is_told_as_ever() -> None:
    done = run(SOURCES, "cost-of-an-hour")

    assert done.exit_code == 2
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("words", "pairs"),
    [
        (["--a", "1", "--b=2"], [("--a", "1"), ("--b", "2")]),
        (["--a", "-1"], [("--a", "-1")]),
        (["--a", "--b", "2"], [("--a", None), ("--b", "2")]),
        (["stray"], [("stray", None)]),
        (["--a=x=y"], [("--a", "x=y")]),
    ],
)
def test_words_fall_into_pairs(words: list[str], pairs: list[tuple[str, str | None]]) -> None:
    assert list(_pairs(words)) == pairs
