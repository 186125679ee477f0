"""What commands say, they say in the language of --language; figures of JSON stay plain numbers."""

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from babel.dates import get_month_names
from typer.testing import CliRunner

from model import language
from model.cli_ask import app
from model.counter import questions
from tests.rules.project import ROOT

SCENARIOS = ROOT / "scenarios"
SCHOOL = str(SCENARIOS / "sailing-school-launch.toml")
FLEET = str(SCENARIOS / "registers" / "hire-boats.toml")
FOUR = "Four-stroke 45 kW"

COMMANDS = (
    ("check", SCHOOL),
    ("compare", SCHOOL),
    ("compare", SCHOOL, "--nominal"),
    ("break-even", SCHOOL),
    ("ledger", SCHOOL, "--engine", FOUR),
    ("services", SCHOOL, "--engine", FOUR),
    ("trials", SCHOOL, "--trials", "64"),
    ("flip-points", SCHOOL),
    ("sensitivity", SCHOOL),
    ("ask", SCHOOL),
    ("ask", SCHOOL, "cost-of-an-hour", "--trials", "64"),
    ("fleet", "economic-life", SCHOOL),
    ("fleet", "plan", FLEET, "--workers", "1"),
    ("fleet", "budget", FLEET, "--trials", "16", "--workers", "1"),
)

PLAIN = re.compile(r"[A-Za-z]{3,}")
"""A word in plain letters."""

SAME = {"EUR", "TOML", "JSON", "JCGM", "format", "json"}
"""What is the same in every language."""

MONTHS = set(get_month_names("abbreviated", locale="es").values())
"""Months within dates, which no catalogue holds: they are already Spanish."""

CIRCLED = str.maketrans({chr(small + at): chr(0x24D0 + at) for at in range(26) for small in (ord("a"), ord("A"))})
"""Letters of no language that is spoken."""


class Circled(dict[str, str]):
    """A catalogue that holds every sentence, in circled letters."""

    def get(self, sentence: str, default: Any = None) -> Any:
        """The sentence, its figures' places left as they are."""
        parts = re.split(r"(\{\w*)", sentence)  # words that follow a number are translated with it
        return "".join(part if part.startswith("{") else part.translate(CIRCLED) for part in parts)


def texts_in(value: Any) -> Iterator[str]:
    """Every text in a file's tables and lists."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for one in value.values() if isinstance(value, dict) else value:
            yield from texts_in(one)


def words_of_the_users() -> set[str]:
    """Words that are never translated: of scenarios, engines, registers and their paths, and questions' short names."""
    found = [str(SCENARIOS), *(f"{question.name} {question.arguments}" for question in questions())]
    for path in SCENARIOS.rglob("*.toml"):
        found += [path.name, *texts_in(tomllib.loads(path.read_text(encoding="utf-8")))]
    found += [path.read_text(encoding="utf-8") for path in SCENARIOS.rglob("*.csv")]
    return {word for text in found for word in PLAIN.findall(text)}


def run(*words: str) -> str:
    """What a command writes in Spanish."""
    done = CliRunner().invoke(app, [*words, "--language", "es"])
    assert done.exit_code == 0, done.output
    return str(done.stdout)


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: " ".join(Path(word).stem for word in words))
def test_nothing_is_said_past_the_catalogues(words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(language, "catalogue", lambda _: Circled())

    left = set(PLAIN.findall(run(*words))) - words_of_the_users() - SAME - MONTHS

    assert left == set()


def test_compare_speaks_spanish() -> None:
    told = run("compare", SCHOOL)

    assert "En 8 años a 120 h al año, Four-stroke 45 kW cuesta 1.231 EUR menos" in told
    assert "Aceite dos tiempos" in told


def test_json_holds_the_same_numbers() -> None:
    english = CliRunner().invoke(app, ["compare", SCHOOL, "--format", "json"]).stdout

    assert json.loads(run("compare", SCHOOL, "--format", "json")) == json.loads(english)
