"""Every sentence for people is in every catalogue, with the same figures in it."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest
from babel.messages.catalog import Message
from babel.messages.pofile import read_po

from model.cli_language import Language
from model.language import CATALOGUES, LANGUAGES
from tests.rules.project import name_of, python_files
from tests.rules.sentences import SAYING, missing, other_languages, said

SOURCES = [path for path in python_files("model", "dashboard") if name_of(path) != "model/language.py"]


def put_together(source: str) -> Iterator[int]:
    """Lines on which a sentence is put together before it is said, so that no catalogue can hold it."""
    nodes = list(ast.walk(ast.parse(source)))
    taken = [node for node in nodes if isinstance(node, ast.ImportFrom) and node.module == "model.language"]
    saying = {alias.name for node in taken for alias in node.names if alias.name in SAYING}
    calls = [node for node in nodes if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args]
    for call in calls:
        if getattr(call.func, "id", "") in saying and isinstance(call.args[0], ast.JoinedStr | ast.BinOp):
            yield call.lineno


def unmarked(source: str) -> Iterator[int]:
    """Lines of sentences that are said by the name of what holds them, and that no `later` marks for the catalogues."""
    nodes = list(ast.walk(ast.parse(source)))
    given = [node.args[0] for node in nodes if isinstance(node, ast.Call) and _is_saying(node) and node.args]
    held = [one.value if isinstance(one, ast.Subscript) else one for one in given]
    names = {one.id for one in held if isinstance(one, ast.Name)}
    for node in nodes:
        if isinstance(node, ast.Assign) and any(getattr(target, "id", "") in names for target in node.targets):
            kept = node.value.values if isinstance(node.value, ast.Dict) else [node.value]
            yield from (one.lineno for one in kept if isinstance(one, ast.Constant) and isinstance(one.value, str))


def _is_saying(call: ast.Call) -> bool:
    """Whether a call says something."""
    return getattr(call.func, "id", "") in ("say", "say_around")


def places(sentence: str) -> Counter[str]:
    """The figures that a sentence has a place for, and its marks of the main figure."""
    fields = {name for _, name, _, _ in Formatter().parse(sentence) if name is not None}
    return Counter([*fields, *("*" * sentence.count("*"))])


def entries(language: str) -> list[tuple[Path, Message]]:
    """Every entry of every file of a language."""
    found = []
    for path in sorted((CATALOGUES / language).glob("*.po")):
        with path.open("rb") as file:
            found += [(path, entry) for entry in read_po(file) if entry.id]
    return found


def told(found: list[tuple[Path, Message]]) -> list[str]:
    """Entries as a reader looks for them."""
    return [f"{path.name}: {entry.id!r}" for path, entry in found]


@pytest.mark.parametrize("language", other_languages())
class TestCatalogue:
    def test_holds_every_sentence(self, language: str) -> None:
        assert sorted(f"{place}: {sentence!r}" for sentence, place in missing(language).items()) == []

    def test_has_a_place_for_every_figure(self, language: str) -> None:
        wrong = [one for one in entries(language) if places(str(one[1].id)) != places(str(one[1].string))]

        assert told(wrong) == []

    def test_leaves_nothing_empty(self, language: str) -> None:
        assert told([one for one in entries(language) if not str(one[1].string).strip()]) == []

    def test_says_each_sentence_in_one_way(self, language: str) -> None:
        ways = {(str(entry.id), str(entry.string)) for _, entry in entries(language)}

        assert [sentence for sentence, count in Counter(id for id, _ in ways).items() if count > 1] == []

    def test_holds_nothing_that_is_no_longer_said(self, language: str) -> None:
        known = {one.text for one in said()}

        assert told([one for one in entries(language) if str(one[1].id) not in known]) == []

    def test_begins_and_ends_as_the_english_does(self, language: str) -> None:
        """Spaces at the ends join sentences to others."""

        def ends(text: str) -> tuple[bool, bool]:
            return text[:1].isspace(), text[-1:].isspace()

        assert told([one for one in entries(language) if ends(str(one[1].id)) != ends(str(one[1].string))]) == []


@pytest.mark.parametrize("path", SOURCES, ids=name_of)
def test_no_sentence_is_put_together_before_it_is_said(path: Path) -> None:
    assert list(put_together(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("path", SOURCES, ids=name_of)
def test_no_sentence_is_said_that_catalogues_cannot_know(path: Path) -> None:
    assert list(unmarked(path.read_text(encoding="utf-8"))) == []


def test_the_command_line_takes_every_language() -> None:
    assert [language.value for language in Language] == list(LANGUAGES)


@pytest.mark.parametrize("source", ['say(f"{x} h")', 'say("one" + x)', 'later("%s h" % x)'])
def test_a_sentence_put_together_is_found(source: str) -> None:
    assert list(put_together(f"from model.language import later, say\n{source}")) == [2]


@pytest.mark.parametrize("source", ['WORDS = {1: "one"}\nsay(WORDS[1])', 'word = "one"\nsay(word)'])
def test_a_sentence_without_a_mark_is_found(source: str) -> None:
    assert list(unmarked(source)) == [1]
    assert list(unmarked(source.replace('"one"', 'later("one")'))) == []


def test_places_are_those_of_figures() -> None:
    assert places("*{a} {b}* and {a}") == Counter({"a": 1, "b": 1, "*": 2})
