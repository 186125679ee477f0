"""Sentences that the code says, and those that the catalogues of other languages lack."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass

from model.language import LANGUAGES, catalogue
from tests.rules.project import name_of, python_files

SAYING = ("say", "say_around", "later")
"""Functions that are given a sentence in English."""


@dataclass(frozen=True)
class Sentence:
    """A sentence, where it is said."""

    text: str
    """In English."""
    place: str
    """File and line."""


def sentences_of(source: str, name: str) -> Iterator[Sentence]:
    """
    Sentences said in a file, both sides of a choice.

    >>> [one.text for one in sentences_of('say("a" if x else "b")\\nlanguage.later("c")\\nsay(KNOWN)', "file.py")]
    ['a', 'b', 'c']
    """
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and node.args and _called(node.func) in SAYING:
            for given in _branches(node.args[0]):
                if isinstance(given, ast.Constant) and isinstance(given.value, str):
                    yield Sentence(given.value, f"{name}:{given.lineno}")


def _called(function: ast.expr) -> str:
    """Name of a function that is called, without its module."""
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _branches(given: ast.expr) -> list[ast.expr]:
    """Both sides of a choice, or what is given itself."""
    if isinstance(given, ast.IfExp):
        return [*_branches(given.body), *_branches(given.orelse)]
    return [given]


def said() -> list[Sentence]:
    """Every sentence of the project."""
    paths = [path for path in python_files("model", "dashboard") if name_of(path) != "model/language.py"]
    return [one for path in paths for one in sentences_of(path.read_text(encoding="utf-8"), name_of(path))]


def other_languages() -> list[str]:
    """Every language that needs catalogues."""
    return [language for language in LANGUAGES if language != "en"]


def missing(language: str) -> dict[str, str]:
    """Sentences that a language lacks, each with the place where it is said first."""
    found: dict[str, str] = {}
    for one in said():
        if one.text not in catalogue(language):
            found.setdefault(one.text, one.place)
    return found
