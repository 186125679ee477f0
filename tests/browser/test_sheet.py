"""A sheet to take home, asked for on the page."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener

pytestmark = pytest.mark.browser


def test_the_sheet_is_that_of_the_values_on_screen(open_page: Opener, tmp_path: Path) -> None:
    page = open_page()
    page.get_by_role("button", name="Sheet").click()
    room = page.get_by_role("dialog")
    room.get_by_role("textbox", name="Shop").fill("Harbour Yard")
    room.get_by_role("textbox", name="Customer").fill("<b>A. Buyer</b>")

    with page.expect_download() as found:
        room.get_by_role("button", name="HTML").click()

    file = tmp_path / "sheet.html"
    found.value.save_as(file)
    content = file.read_text(encoding="utf-8")
    figure = page.locator("#answer-figure").inner_text().replace("\u00a0", " ")
    assert found.value.suggested_filename == "sheet.html"
    assert figure in content
    assert "Harbour Yard" in content
    assert "&lt;b&gt;A. Buyer&lt;/b&gt;" in content


def test_it_opens_for_printing(open_page: Opener) -> None:
    page = open_page()
    page.get_by_role("button", name="Sheet").click()

    with page.expect_popup() as found:
        page.get_by_role("dialog").get_by_role("button", name="Print").click()

    expect(found.value.locator("svg.bars")).to_be_visible()
    found.value.close()


def test_what_was_typed_is_there_the_next_time(open_page: Opener) -> None:
    page = open_page(390, 844)
    page.get_by_role("button", name="Sheet").click()
    page.get_by_role("dialog").get_by_role("textbox", name="Shop").fill("Harbour Yard")
    page.keyboard.press("Escape")

    expect(page.get_by_role("dialog")).to_be_hidden()
    page.get_by_role("button", name="Sheet").click()
    expect(page.get_by_role("textbox", name="Shop")).to_have_value("Harbour Yard")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
