"""The sheet on paper: its figures are those of compare, trials and services; what somebody typed stays text."""

import io
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from dashboard.sheet import paper
from dashboard.sheet.calendar import MOST_VISITS, YEARS
from dashboard.sheet.matter import LONGEST, Letterhead, matter_of_work
from model.inputs.terms import Element
from model.language import say, speaking
from model.reports import break_even_report, comparison_report, visit_rows
from model.service_calendar import service_visits
from model.trial_reports import trials_report
from model.wording import ELEMENT_LABELS, cents, to_a_tenth, whole
from tests.front import sheets
from tests.front.works import tiny_work
from tests.rules.project import ROOT

pytestmark = pytest.mark.slow

LANGUAGES = ("en", "es")


@pytest.fixture(scope="module", autouse=True)
def _pdf() -> None:
    sheets.require_pdf()


def rows_of(report: dict[str, Any]) -> list[str]:
    """Rows of the table of costs, from the comparison as JSON, in the language of the moment."""
    engines = report["engines"]
    amounts = [
        (say(ELEMENT_LABELS[element]), [engine["elements"][element.value]["present_value"] for engine in engines])
        for element in Element
    ]
    rows = [" ".join([label, *map(whole, found)]) for label, found in amounts if any(found)]
    rows.append(" ".join(whole(engine["total"]["present_value"]) for engine in engines))
    rows.append(" ".join(whole(engine["total"]["nominal"]) for engine in engines))
    rows.append(" ".join(whole(engine["equivalent_annual_cost"]) for engine in engines))
    rows.append(" ".join(cents(engine["cost_per_hour"]) for engine in engines))
    return [*rows, " ".join(whole(engine["fuel_litres"]) for engine in engines)]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", sheets.EXAMPLES)
def test_costs_are_those_of_compare(name: str, language: str) -> None:
    text = " ".join(sheets.pages(name, language))

    with speaking(language):
        missing = [row for row in rows_of(comparison_report(sheets.matter(name).comparison)) if row not in text]
    assert missing == []


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", sheets.EXAMPLES)
def test_spread_and_chances_are_those_of_trials(name: str, language: str) -> None:
    text, summary = " ".join(sheets.pages(name, language)), sheets.matter(name).summary
    assert summary is not None
    engines = trials_report(summary, None)["engines"]

    with speaking(language):
        intervals = [" – ".join(map(whole, engine["intervals"]["0.8"])) for engine in engines]
        chances = [whole(100.0 * engine["chance_cheapest"]) for engine in engines]
        assert " ".join(intervals) in text
        assert " ".join(chances) in text
    assert f"{sheets.TRIALS}" in text
    assert trials_report(summary, None)["scenario_hash"][: paper.DIGITS_OF_HASH] in text


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", sheets.EXAMPLES)
def test_visits_are_those_of_services(name: str, language: str) -> None:
    text = " ".join(sheets.pages(name, language))

    for cost in sheets.matter(name).comparison.engines:
        visits = [visit for visit in visit_rows(service_visits(cost.case)) if visit["t_years"] <= YEARS + 1e-9]
        assert len(visits) <= MOST_VISITS
        prices = [visit["parts"] + visit["labour"] for visit in visits]
        with speaking(language):
            told = [f"{whole(visit['meter_hours'])} " for visit in visits] + [f" {whole(price)}" for price in prices]
            assert [figure for figure in told if figure not in text] == []
            assert not visits or f" {whole(sum(prices))}" in text


@pytest.mark.parametrize("name", sheets.EXAMPLES)
def test_break_even_is_that_of_break_even(name: str) -> None:
    text = " ".join(sheets.pages(name))

    for pair in break_even_report(sheets.matter(name).found)["pairs"]:
        if pair["years"] and pair["years"] > 1.0:
            assert f"after {to_a_tenth(pair['years'])} years" in text
        if pair["about_equal_hours"]:
            assert f"{whole(pair['about_equal_hours'][0])} " in text


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", sheets.EXAMPLES)
def test_it_has_at_most_two_pages_and_numbers_them(name: str, language: str) -> None:
    found = sheets.pages(name, language)

    assert len(found) <= 2
    for number, text in enumerate(found, start=1):
        assert re.search(rf"{number} (of|de) {len(found)}", text)


def test_paper_has_the_size_that_was_asked_for() -> None:
    from pypdf import PdfReader

    sizes = {}
    for language, size in sheets.PAPERS.items():
        box = PdfReader(io.BytesIO(sheets.pdf("weekend-lake-boat", language))).pages[0].mediabox
        sizes[size] = (round(float(box.width)), round(float(box.height)))
    # ISO 216 and ANSI/ASME Y14.1 in points of 1/72 inch.
    assert sizes == {"A4": (595, 842), "Letter": (612, 792)}


HOSTILE = "<script>alert(1)</script> =1+1 {{ 7 * 7 }} </style><b> url('http://localhost/x')"


def test_what_somebody_typed_is_text() -> None:
    page = paper.html(sheets.matter("weekend-lake-boat"), Letterhead(HOSTILE, HOSTILE, HOSTILE, "A4", sheets.DAY))

    assert page.count("<script") == 0
    assert page.count("<b>") == sheets.page("weekend-lake-boat").count("<b>")
    assert page.count("</style>") == 1
    text = "".join(sheets.texts(paper.pdf(page)))
    assert "".join(text.split()).count("".join(HOSTILE.split())) == 3


def test_long_words_wrap() -> None:
    words = {name: "x" * longest for name, longest in LONGEST.items()}

    found = sheets.texts(paper.pdf(paper.html(sheets.matter("weekend-lake-boat"), Letterhead(**words))))

    assert "".join(found).count("x") >= sum(LONGEST.values())


def test_a_hostile_name_of_an_engine_is_text() -> None:
    work = tiny_work()
    name = "<img src=x onerror=alert(1)>"
    hostile = type(work)(work.name, work.text.replace('name = "Two-stroke"', f'name = "{name}"'))

    page = paper.html(matter_of_work(hostile), Letterhead(day=sheets.DAY))

    assert name not in page
    assert "&lt;img" in page


def test_a_sheet_asks_for_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    from weasyprint.urls import URLFetcher

    asked = list[str]()
    monkeypatch.setattr(URLFetcher, "fetch", lambda _, url, headers=None: asked.append(url))

    paper.pdf(sheets.page("sailing-school-launch"))

    assert asked == []


def test_what_a_page_asks_for_is_not_fetched(tmp_path: Path) -> None:
    secret = tmp_path / "secret.svg"
    secret.write_text('<svg xmlns="http://www.w3.org/2000/svg"><text y="20">secret</text></svg>', encoding="utf-8")
    asked = list[str]()
    with listening(asked) as address:
        content = paper.pdf(f'<p>Sheet</p><img src="{address}"><img src="{secret.as_uri()}">')

    assert asked == []
    assert sheets.texts(content) == ("Sheet",)


@contextmanager
def listening(asked: list[str]) -> Iterator[str]:
    """The address of a server on this machine that notes what it is asked for."""

    class Noting(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_error(404)

    with ThreadingHTTPServer(("127.0.0.1", 0), Noting) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/picture.svg"
        server.shutdown()


def test_the_page_needs_nothing_else() -> None:
    page = sheets.page("sailing-school-launch")

    assert not re.search(r"<(script|link|img|iframe|object)\b|@import|\bsrc=", page)
    assert re.findall(r"url\((?!#)", page) == []


def command(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """The command, run to its end."""
    import os

    line = [sys.executable, "-m", "dashboard", "sheet", *words]
    known = {**os.environ, **environment}
    return subprocess.run(line, cwd=ROOT, capture_output=True, text=True, check=False, timeout=300, env=known)


DEMO = "scenarios/weekend-lake-boat.toml"


def test_the_command_tells_every_wrong_option(tmp_path: Path) -> None:
    done = command(DEMO, "-o", str(tmp_path / "out.doc"), "--paper", "A5", "--language", "xx", "--note", "x" * 2001)

    assert done.returncode == 2
    assert [word for word in ("out.doc", "'A5'", "'xx'") if word not in done.stderr] == []
    assert "Traceback" not in done.stderr


def test_without_what_makes_pdfs_the_page_is_written_beside(tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.mkdir()
    (blocked / "weasyprint.py").write_text("raise OSError('no pango')\n", encoding="utf-8")

    done = command(DEMO, "-o", str(tmp_path / "out.pdf"), "--trials", "2", PYTHONPATH=str(blocked))

    assert done.returncode == 2
    assert "out.html" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out.pdf").exists()
    assert "<h1>" in (tmp_path / "out.html").read_text(encoding="utf-8")


def test_the_command_writes_a_pdf(tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"

    done = command(DEMO, "-o", str(out), "--trials", "64", "--set", "prices.fuel=3.21", "--shop", "Harbour Yard")

    assert (done.returncode, done.stderr) == (0, "")
    text = " ".join(sheets.texts(out.read_bytes()))
    assert "3.21" in text
    assert "Harbour Yard" in text
