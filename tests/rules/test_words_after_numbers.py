"""A word that follows a number follows it in number too: "1 year", never "1 years"."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from model.language import CATALOGUES
from tests.rules.project import name_of, python_files
from tests.rules.sentences import said

SEVERAL = (
    "boats|characters|claims|days|engines|failures|files|groups|hours|modes|months|numbers|ownerships|parts|"
    "payments|points|problems|readings|repairs|rows|services|sites|times|trials|trips|units|visits|years|años|"
    "averías|archivos|barcos|bujías|caracteres|cuotas|días|filas|grupos|horas|lecturas|meses|modos|motores|"
    "números|piezas|problemas|propiedades|puntos|reclamaciones|reparaciones|revisiones|salidas|simulaciones|"
    "sitios|unidades|veces|visitas"
)
"""Words for several of a thing, in every language."""

BY_NUMBER = re.compile(r"\{\w+:[^{}|]*\|(?:[^{}]|\{\w+\})*\}")
"""A word that follows its number already."""

FIXED = re.compile(r"\{(\w+)\} (?:(?:more|further|other|failure|possible) )?(?:" + SEVERAL + r")\b")
"""A number, and a word for several whatever it is."""

AT_LEAST_TWO = {
    "trials": "a run has two trials at least",
    "wanted": "a run has two trials at least",
    "of": "a run has two trials at least",
    "most": "what is allowed at most is more than one",
    "names": "what is allowed at most is more than one",
    "other": "figures of a survey",
}
"""Figures that never read 1, and why."""

SENTENCES = {
    "from {low} to {high} years": "from one age to a later one",
    "from {low} to {high} years or later": "from one age to a later one",
    "It is the cheapest at any hours from {low} to {high} a year.": "from some hours to more",
    "After {years} years the owner pays {share} of a repair": "a decimal is always shown",
    "The {number} visits of that name come to {low} to {high}, by what else is due.": "they differ, so there are two",
    "{count} engines on the boat together": "said of several only",
    "a list of {number} numbers": "a list of one is no list of numbers",
    "from month {month} parts {parts} %, labour {labour} %": "parts of an engine, not a number of them",
}
"""English sentences whose number never reads 1, and why."""

PUT_TOGETHER = {
    "a list of {figure} numbers": "a list of one is no list of numbers",
    'a scale of at most {figure} failures, or trials.repairs = "expected"': "many are allowed",
    "at least {figure} points of {figure}": "two at least",
    "at most {figure} characters": "many are allowed",
    "up to {figure} characters": "many are allowed",
    "{figure} characters": "too many of them",
    "{figure} rows": "too many of them",
    "{figure}, {figure} failures expected": "too many of them",
    "stopped after {figure} of {figure} trials": "a run has two trials at least",
    "The password is too short: {figure} of at least {figure} characters.": "more than one is needed",
}
"""The same of what is put together of figures and words."""


def fixed_words(sentence: str) -> list[str]:
    """
    Words of a sentence that stay for several when their number is 1.

    >>> fixed_words("{days} days"), fixed_words("{days} {days:day|days} and {trials} trials")
    (['{days} days'], [])
    """
    found = FIXED.finditer(BY_NUMBER.sub("", sentence))
    return [match.group() for match in found if match.group(1) not in AT_LEAST_TWO]


def put_together(source: str) -> Iterator[str]:
    """
    Sentences that a source puts together of figures and words.

    >>> list(put_together('f"{len(found):,d} rows of {name}"'))
    ['{figure} rows of {figure}']
    """
    nodes = list(ast.walk(ast.parse(source)))
    formats = {id(node.format_spec) for node in nodes if isinstance(node, ast.FormattedValue)}
    for node in nodes:
        if isinstance(node, ast.JoinedStr) and id(node) not in formats:
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{figure}" for part in node.values)


def translations() -> Iterator[tuple[str, str]]:
    """Every sentence of every catalogue in English and in its language."""
    for path in sorted(CATALOGUES.glob("*/*.po")):
        with path.open("rb") as file:
            yield from ((str(entry.id), str(entry.string)) for entry in read_po(file) if entry.id)


def test_words_follow_their_number_in_every_sentence() -> None:
    assert [one for one in said() if one.text not in SENTENCES and fixed_words(one.text)] == []


def test_words_follow_their_number_in_every_translation() -> None:
    assert [told for english, told in translations() if english not in SENTENCES and fixed_words(told)] == []


@pytest.mark.parametrize("path", python_files("model", "dashboard"), ids=name_of)
def test_words_follow_their_number_in_what_is_put_together(path: Path) -> None:
    found = [one for one in put_together(path.read_text(encoding="utf-8")) if fixed_words(one)]

    assert [one for one in found if one not in PUT_TOGETHER] == []


def test_every_exception_is_still_said() -> None:
    sources = [path.read_text(encoding="utf-8") for path in python_files("model", "dashboard")]

    assert SENTENCES.keys() - {one.text for one in said()} == set()
    assert PUT_TOGETHER.keys() - {one for source in sources for one in put_together(source)} == set()


@pytest.mark.parametrize("sentence", ["{age} years old", "a los {años} años", "{number} more rows"])
def test_a_word_that_stays_for_several_is_found(sentence: str) -> None:
    assert fixed_words(sentence) != []
