"""The sheet asked for on the pages: what the route makes, and what it refuses."""

import io
from typing import Any

import pytest
from flask.testing import FlaskClient
from openpyxl import load_workbook

from dashboard import ids
from dashboard.app import build_app
from dashboard.scenarios import start
from dashboard.sheet import paper
from dashboard.sheet.matter import LONGEST
from tests.front import sheets
from tests.front.works import tiny_work


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return build_app().server.test_client()


def asked(**changes: Any) -> dict[str, Any]:
    """What the browser sends, some of it changed."""
    words = {"shop": "Harbour Yard", "customer": "<b>A. Buyer</b>", "note": "=1+1"}
    return {"work": tiny_work().as_data(), "kind": "html", "paper": "A4", "language": "en"} | words | changes


def test_the_page_is_that_of_the_work(client: FlaskClient) -> None:
    work = tiny_work().changed({"prices.fuel": 3.21})

    done = client.post("/sheet", json=asked(work=work.as_data()))

    page = done.get_data(as_text=True)
    assert done.status_code == 200
    assert done.headers["Cache-Control"] == "no-store"
    assert "3.21 EUR a litre" in page
    assert "&lt;b&gt;A. Buyer&lt;/b&gt;" in page


def test_it_is_in_the_language_asked_for(client: FlaskClient) -> None:
    page = client.post("/sheet", json=asked(language="es", paper="Letter")).get_data(as_text=True)

    assert '<html lang="es">' in page
    assert "size: Letter" in page


def test_the_workbook_is_one(client: FlaskClient) -> None:
    content = client.post("/sheet", json=asked(kind="xlsx")).get_data()

    assert load_workbook(io.BytesIO(content))["Summary"]["A1"].value == "Harbour Yard"


def test_the_pdf_is_one(client: FlaskClient) -> None:
    sheets.require_pdf()

    assert "Harbour Yard" in sheets.texts(client.post("/sheet", json=asked(kind="pdf")).get_data())[0]


def test_where_no_pdf_can_be_made_it_says_so(client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paper, "can_make_pdf", lambda: False)

    done = client.post("/sheet", json=asked(kind="pdf"))

    assert done.status_code == 400
    assert "HTML" in done.get_json()["told"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"work": None},
        {"work": {"name": "../../etc/passwd"}},
        {"work": {"name": start().name, "changes": {"prices.fuel": "-1"}}},
        {"work": {"name": "own.toml", "text": "format = 1"}},
        {"kind": "exe"},
        {"kind": ["html"]},
        {"paper": "A4; } body { display: none"},
        {"language": "xx"},
        {"language": None},
        {"shop": 5},
        {"shop": "x" * (LONGEST["shop"] + 1)},
        {"note": "x" * (LONGEST["note"] + 1)},
    ],
)
def test_what_is_wrong_is_told(client: FlaskClient, wrong: dict[str, Any]) -> None:
    done = client.post("/sheet", json=asked(**wrong))

    assert done.status_code == 400
    assert done.get_json()["told"]


def test_nothing_but_json_is_read(client: FlaskClient) -> None:
    assert client.post("/sheet", data={"kind": "html"}).status_code == 400
    assert client.post("/sheet", json=[1, 2]).status_code == 400
    assert client.get("/sheet").get_data(as_text=True).count(ids.PAPER_TOLD) == 0
