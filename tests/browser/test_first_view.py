"""The first page, sent whole to who comes new to it; who has kept something never sees anything but that."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from dashboard.theme import INK
from tests.browser.chromium import until
from tests.browser.conftest import WAIT

pytestmark = pytest.mark.browser

DRAWN = "document.querySelectorAll('#elements-graph .barlayer path').length"
"""The first picture is there."""

NOTE_ANSWERS = """
  window.answers = new Set();
  new MutationObserver(() => {
    const answer = document.querySelector('#answer');
    if (answer && answer.textContent) { window.answers.add(answer.textContent); }
  }).observe(document, { childList: true, subtree: true, characterData: true });
"""
"""Note every answer that was ever on the page."""

INK_OF_PICTURE = "document.querySelector('#elements-graph .js-plotly-plot')._fullLayout.font.color"


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A browser that has never been here."""
    opened = browser.new_context(viewport={"width": 1280, "height": 900})
    opened.set_default_timeout(WAIT)
    yield opened
    opened.close()


def asked_for(page: Page) -> list[str]:
    """What the page asks the server for from now on, by the parts that it wants."""
    asked: list[str] = []

    def note(body: str | None) -> None:
        asked.append(str(json.loads(body)["output"]) if body else "")

    page.on("request", lambda request: note(request.post_data) if "_dash-update" in request.url else None)
    return asked


def drawn(page: Page, address: str) -> Page:
    """The first page, its first picture drawn."""
    page.goto(address)
    until(page, DRAWN)
    return page


def test_it_asks_for_neither_answer_nor_page_once_more(context: BrowserContext, address: str) -> None:
    page = context.new_page()
    asked = asked_for(page)

    drawn(page, address)
    until(page, "document.querySelector('#hours-box') && document.querySelector('#notes li')")
    page.wait_for_timeout(1000)

    assert [output for output in asked if "answer" in output or output.startswith(("page.", "panel.", "when."))] == []
    assert page.evaluate("localStorage.getItem('outboard-costs')") is None


def test_its_first_change_is_counted_kept_and_can_be_undone(context: BrowserContext, address: str) -> None:
    page = drawn(context.new_page(), address)
    first = page.locator("#answer").inner_text()

    page.get_by_role("textbox", name="Running hours").fill("300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")
    kept: dict[str, Any] = json.loads(page.evaluate("localStorage.getItem('outboard-costs')"))
    assert kept["work"]["changes"] == {"use.hours_per_year": "300.0"}
    page.get_by_role("button", name="Undo").click()

    expect(page.locator("#answer")).to_have_text(first)


def test_who_has_kept_something_sees_nothing_else(context: BrowserContext, address: str) -> None:
    page = drawn(context.new_page(), address)
    demo = page.locator("#answer").inner_text()
    page.get_by_role("textbox", name="Running hours").fill("300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")
    kept = page.locator("#answer").inner_text()

    page.add_init_script(NOTE_ANSWERS)
    page.reload()
    until(page, DRAWN)
    expect(page.locator("#answer")).to_have_text(kept)

    answers = page.evaluate("Array.from(window.answers)")
    assert kept in answers
    assert demo not in answers


def test_who_follows_a_link_sees_nothing_else(context: BrowserContext, address: str) -> None:
    demo = drawn(context.new_page(), address).locator("#answer").inner_text()

    page = context.new_page()
    page.add_init_script(NOTE_ANSWERS)
    page.goto(f"{address}?scenario=sailing-school-launch&use.hours_per_year=300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")

    assert demo not in page.evaluate("Array.from(window.answers)")


def test_a_link_to_the_unchanged_file_is_kept_in_place_of_what_was(context: BrowserContext, address: str) -> None:
    page = drawn(context.new_page(), address)
    demo = page.locator("#answer").inner_text()
    page.get_by_role("textbox", name="Running hours").fill("300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")

    page.goto(f"{address}?scenario=sailing-school-launch")
    expect(page.locator("#answer")).to_have_text(demo)
    page.reload()
    until(page, DRAWN)

    expect(page.locator("#answer")).to_have_text(demo)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")


def test_a_first_view_sent_to_who_has_kept_something_gives_way(context: BrowserContext, address: str) -> None:
    page = drawn(context.new_page(), address)
    page.get_by_role("textbox", name="Running hours").fill("300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")

    def as_first_view(route: Route) -> None:
        route.continue_(headers={**route.request.headers, "cookie": "first-view=yes"})

    page.route("**/_dash-layout", as_first_view)  # as if another tab had said so in between
    page.reload()
    until(page, DRAWN)

    expect(page.locator("#answer")).to_contain_text("at 300 h a year")
    expect(page.get_by_role("textbox", name="Running hours")).to_have_value("300")


def test_another_page_opened_first_is_that_page(context: BrowserContext, address: str) -> None:
    page = context.new_page()
    page.goto(f"{address.rstrip('/')}/service")

    expect(page.locator("#calendar-graph")).to_be_visible()
    expect(page.locator("#elements-graph")).to_have_count(0)


def test_its_picture_is_dark_where_the_browser_is(browser: Browser, address: str) -> None:
    context = browser.new_context(color_scheme="dark")
    page = drawn(context.new_page(), address)
    found = page.evaluate(INK_OF_PICTURE)
    context.close()

    assert found == INK["dark"]
