"""Engines in the form of all numbers, as people do it: add a copy, rename it, change its price, save, reload, open."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from dashboard import text
from tests.browser.chromium import until
from tests.browser.test_working import READY, at, page

__all__ = ["page"]

pytestmark = pytest.mark.browser

FOUR = "Four-stroke 45 kW"


def field(page: Page, path: str, value: str) -> None:
    """Type into a field of the form and leave it."""
    page.locator(f"[data-path='{path}']").fill(value)
    page.locator(f"[data-path='{path}']").press("Tab")


def with_a_second_one(page: Page, address: str) -> None:
    """The demo with a copy of the four-stroke, called otherwise, at another price."""
    at(page, address, "/numbers")
    page.get_by_role("button", name=FOUR, exact=True).click()
    page.get_by_role("button", name="Make a copy").click()
    expect(page.get_by_role("button", name=f"{FOUR} 2", pressed=True)).to_be_visible()
    field(page, f'engines["{FOUR} 2"].name', "Second quote")
    expect(page.get_by_role("button", name="Second quote", pressed=True)).to_be_visible()
    field(page, 'engines["Second quote"].price', "5100")
    expect(page.locator("#answer")).to_contain_text("Second quote costs")


def test_a_second_quote_is_added_saved_and_opened_again(page: Page, address: str, tmp_path: Path) -> None:
    with_a_second_one(page, address)
    answer = page.locator("#answer").inner_text()

    page.reload()
    until(page, READY)
    expect(page.locator("#answer")).to_have_text(answer)
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save", exact=True).click()
    file = tmp_path / saved.value.suggested_filename
    saved.value.save_as(file)
    page.get_by_role("button", name=text.RESTORE).click()
    expect(page.locator("#answer")).not_to_contain_text("Second quote")
    expect(page.locator(".controls")).not_to_contain_text("Second quote")
    page.get_by_role("button", name="Open", exact=True).click()
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Choose a file of your own (TOML)").click()
    chooser.value.set_files(file)

    expect(page.locator("#answer")).to_have_text(answer)
    expect(page.get_by_role("checkbox", name="Second quote")).to_be_checked()


def test_a_link_carries_engines_and_trials(page: Page, address: str) -> None:
    with_a_second_one(page, address)
    page.get_by_role("link", name="How sure is that?").click()
    page.get_by_text("20,000", exact=True).click()
    expect(page.locator("#when")).to_contain_text("20,000")
    answer, when = page.locator("#answer").inner_text(), page.locator("#when").inner_text()
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Link", exact=True).click()
    expect(page.locator("#link-told")).to_have_text("Link copied")
    link = page.evaluate("navigator.clipboard.readText()")

    page.evaluate("localStorage.clear()")
    page.goto(link)
    until(page, READY)

    expect(page.locator("#answer")).to_have_text(answer)
    expect(page.locator("#when")).to_have_text(when)


def test_a_taken_name_is_told_and_an_engine_comes_back_by_undo(page: Page, address: str) -> None:
    at(page, address, "/numbers")
    answer = page.locator("#answer").inner_text()
    page.get_by_role("button", name=FOUR, exact=True).click()
    field(page, f'engines["{FOUR}"].name', "Two-stroke carburetted 45 kW")
    expect(page.locator("#editor").get_by_role("alert")).to_contain_text("Another engine is called")
    field(page, f'engines["{FOUR}"].name', FOUR)
    expect(page.locator("#editor").get_by_role("alert")).to_have_count(0)

    page.get_by_role("button", name="Take this engine out").click()
    expect(page.locator("#answer")).not_to_have_text(answer)
    expect(page.get_by_role("checkbox", name=FOUR)).to_have_count(0)
    page.get_by_role("button", name="Undo").click()

    expect(page.locator("#answer")).to_have_text(answer)
    expect(page.get_by_role("checkbox", name=FOUR)).to_be_checked()


def test_an_engine_of_the_library_is_added_by_keys(page: Page, address: str) -> None:
    at(page, address, "/numbers")
    page.get_by_label("Engine of the library").select_option("four-stroke-90kw")
    page.get_by_role("button", name="Add it").press("Enter")

    expect(page.get_by_role("button", name="Four-stroke 90 kW", pressed=True)).to_be_visible()
    expect(page.get_by_role("checkbox", name="Four-stroke 90 kW")).to_be_checked()
