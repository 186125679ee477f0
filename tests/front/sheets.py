"""Sheets for the tests: made from the examples, read back from their PDFs."""

import io
import os
from datetime import date
from functools import cache

import pytest

from dashboard.sheet import paper
from dashboard.sheet.matter import Letterhead, Matter, matter_of_reading
from model.inputs.reading import read_scenario
from model.language import speaking
from tests.rules.project import ROOT

EXAMPLES = sorted(path.stem for path in (ROOT / "scenarios").glob("*.toml") if path.stem != "sources")
"""Every example scenario."""

TRIALS, SEED = 256, 7
"""Of the sheets here."""

DAY = date(2027, 3, 9)
"""The day on them."""


def require_pdf() -> None:
    """Skip where no PDF can be made, or fail where it must be."""
    if not paper.can_make_pdf():
        reason = "no WeasyPrint, or no Pango (Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0)"
        (pytest.fail if os.environ.get("CI", "") not in ("", "0", "false") else pytest.skip)(reason)


PAPERS = {"en": "A4", "es": "Letter"}
"""Which paper each language is looked at on: between them both languages and both sizes, for every example."""


@cache
def matter(name: str) -> Matter:
    """What the sheet on an example is about."""
    return matter_of_reading(read_scenario(ROOT / "scenarios" / f"{name}.toml"), TRIALS, SEED)


@cache
def page(name: str, language: str = "en") -> str:
    """The sheet on an example as HTML."""
    with speaking(language):
        return paper.html(matter(name), Letterhead("Harbour Yard", "A. Buyer", "Ask us.", PAPERS[language], DAY))


@cache
def pdf(name: str, language: str = "en") -> bytes:
    """The sheet on an example as PDF."""
    return paper.pdf(page(name, language))


@cache
def pages(name: str, language: str = "en") -> tuple[str, ...]:
    """The text of each page of an example's PDF, its white space even."""
    return texts(pdf(name, language))


def texts(content: bytes) -> tuple[str, ...]:
    """The text of each page of a PDF, its white space even."""
    from pypdf import PdfReader

    return tuple(even(one.extract_text()) for one in PdfReader(io.BytesIO(content)).pages)


def even(text: str) -> str:
    """Text with single spaces."""
    return " ".join(text.split())
