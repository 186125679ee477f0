"""Everything that a page shows goes through the catalogues: said in circled letters, nothing of it is left plain."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from dash import dcc
from dash.development.base_component import Component

from dashboard import answers, library
from dashboard.app import build_app, layout
from dashboard.drawing import MARK
from dashboard.figures.table_of_costs import table_of_costs
from dashboard.pages import PAGES, Page
from dashboard.panel import filled
from dashboard.scenarios import reading_of
from dashboard.work import Work
from model import language
from model.inputs.files import parse_toml
from model.inputs.sources import FILE
from model.language import LANGUAGES, speaking

CIRCLED = str.maketrans(
    {chr(small + at): chr(0x24D0 + at) for at in range(26) for small in (ord("a"), ord("A"))}
)  # fmt: skip
"""Letters of no language that is spoken."""

READ = ("children", "label", "aria-label", "thumbLabel", "placeholder", "title", "data-words", "data-table")
"""Properties of a component that people read."""

DRAWN = ("text", "name", "hovertemplate", "customdata", "ticktext", "title")
"""Keys of a picture whose texts people read."""

PLAIN = re.compile(r"[A-Za-z]{3,}")
"""A word in plain letters."""

DATE = re.compile(r"[A-Za-z]{3}\s\d{1,2},\s\d{4}")
"""A day as babel writes it, its month called as in the language."""

NO_WORDS = {
    "EUR",
    "HTML",
    "PDF",
    "PNG",
    "SVG",
    "XLSX",
    "rows",
    "extra",
    "customdata",
    "TOML",
    "CSV",
    "UTF",
    "CFR",
    "kWh",
    *LANGUAGES.values(),
}
"""What is the same in every language, and marks of the code."""


class Circled(dict[str, str]):
    """A catalogue that holds every sentence, in circled letters."""

    def get(self, sentence: str, default: Any = None) -> Any:
        """The sentence, the names of its figures left as they are."""
        parts = re.split(r"(\{\w*)", sentence)
        return "".join(part if part.startswith("{") else part.translate(CIRCLED) for part in parts)


@pytest.fixture
def circled(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Everything is said in circled letters."""
    monkeypatch.setattr(language, "catalogue", lambda _: Circled())
    with speaking("es", "en"):
        yield


def texts_in(value: Any) -> Iterator[str]:
    """Every text in lists, tables and components' properties."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for one in value:
            yield from texts_in(one)
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts_in(one)


def texts_of_picture(value: Any, key: str = "") -> Iterator[str]:
    """Texts of a picture that are read."""
    if isinstance(value, dict):
        for name, one in value.items():
            yield from texts_of_picture(one, key if key in DRAWN and name != "text" else str(name))
    elif isinstance(value, list | tuple):
        for one in value:
            yield from texts_of_picture(one, key)
    elif isinstance(value, str) and key in DRAWN:
        yield value


def shown(parts: list[Component]) -> Iterator[str]:
    """Every text that people read on a page."""
    for part in parts:
        for below in [part, *part._traverse()]:
            if isinstance(below, dcc.Graph):
                yield from texts_of_picture(below.figure)
            elif isinstance(below, Component):
                given = below.to_plotly_json()["props"]
                for name in READ:
                    value = given.get(name)
                    yield from texts_in(json.loads(value) if name.startswith("data-") and value else value)
            elif isinstance(below, str):
                yield below


def data_of(work: Work) -> list[str]:
    """What a file says itself, the longest first."""
    reading = reading_of(work)
    found = {text for text in texts_in(reading.document) if PLAIN.search(text)}
    found |= {library.title(name) for name in library.files()} | set(texts_in(parse_toml(library.HOME / FILE)))
    for value in reading.sources:
        found |= {value.key, Path(value.file).name, value.unit or ""}
    return sorted(found - {""}, key=len, reverse=True)


def left_plain(parts: list[Component], work: Work) -> list[str]:
    """Texts with a word in plain letters that the file does not hold."""
    own, found = data_of(work), []
    for text in shown(parts):
        rest = "" if text.startswith(MARK) else DATE.sub("", text.replace("<br>", " ").replace("\u00a0", " "))
        for known in own:
            rest = rest.replace(known, "")
        if set(PLAIN.findall(rest)) - NO_WORDS:
            found.append(text)
    return sorted(set(found))


DEMO = Work(library.FIRST)


@pytest.mark.usefixtures("circled")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.PATH)
def test_a_page_is_said(page: Page) -> None:
    assert left_plain(page.layout(DEMO), DEMO) == []


@pytest.mark.usefixtures("circled")
def test_the_frame_is_said() -> None:
    app = build_app()

    assert left_plain([layout(app), *filled(DEMO), table_of_costs(answers.comparison(DEMO))], DEMO) == []
