"""Words that stand nowhere in the project, and what stands at its top.

The words are put together from halves, so that this file does not find itself.
"""

import re
from pathlib import Path

import pytest

from tests.rules.project import ROOT, name_of, tracked_files

WORDS = (
    "tran" + "script",
    "seed " + "document",
    "seed " + "file",
    "before-" + "stop",
    "py" + "pi",
    "python" + "hosted",
)
"""Where the project came from, and hosts that packages come from; in any case of letters."""
MARKS = ("TO" + "DO", "FIX" + "ME", "XX" + "X")
"""Things left for later."""
PLACES = ("/wo" + "rk/", "/ro" + "ot/", "/ho" + "me/")
"""Paths of one machine."""

FORBIDDEN = re.compile(rf"(?i:\b(?:{'|'.join(WORDS)})s?\b)|\b(?:{'|'.join(MARKS)})\b|(?<![\w.])(?:{'|'.join(PLACES)})")

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "requirements.txt", "model", "dashboard", "tests", "scenarios"}

FILES = tracked_files()


def found_in(text: str) -> list[str]:
    """Forbidden words with their line numbers."""
    lines = enumerate(text.split("\n"), start=1)
    return [f"line {number}: {hit.group()}" for number, line in lines for hit in FORBIDDEN.finditer(line)]


def top_level() -> set[str]:
    """What a visitor sees first: no dotfiles."""
    return {name_of(path).split("/")[0] for path in FILES if not name_of(path).startswith(".")}


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_no_file_holds_a_forbidden_word(path: Path) -> None:
    content = path.read_bytes()
    is_text = b"\0" not in content
    text = content.decode("utf-8") if is_text else ""

    assert found_in(f"{name_of(path)}\n{text}") == []


def test_nothing_more_stands_at_the_top() -> None:
    assert top_level() - TOP_LEVEL == set()


def test_nothing_is_missing_at_the_top() -> None:
    assert TOP_LEVEL - top_level() == set()


def test_this_file_is_looked_at() -> None:
    assert ROOT / "tests" / "rules" / "test_words.py" in FILES


@pytest.mark.parametrize("word", WORDS + MARKS + PLACES)
def test_a_forbidden_word_is_found(word: str) -> None:
    assert len(found_in(f"fine\nsee {word}")) == 1


@pytest.mark.parametrize("text", ["seed = 7", "todo el dinero", "https://example.org/home/x", "network/working"])
def test_a_harmless_word_passes(text: str) -> None:
    assert found_in(text) == []
