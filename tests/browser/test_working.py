"""What people do from page to page: change, come back, open rows, edit a service task, save and open, by keys alone."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from dashboard import text
from dashboard.pages import PAGES
from dashboard.theme import LARGE_TYPE
from model.inputs.reading import read_scenario
from model.measures import compare
from model.wording import cents, whole
from tests.browser.chromium import until
from tests.browser.conftest import WAIT

pytestmark = pytest.mark.browser

READY = (
    "document.querySelector('#answer') && document.querySelector('#answer').textContent"
    " && document.querySelector('#hours-box') && !document.querySelector('#page .waiting')"
)
"""The answer, the controls and the page in sight are there."""

OIL = 'engines["Four-stroke 45 kW"].service.task["Engine oil and filter"].labour'
"""A service price of the demo."""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page in a browser that has never been here; at the end nothing may have gone wrong in it."""
    context, told = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True), list[str]()
    context.set_default_timeout(WAIT)
    opened = context.new_page()
    opened.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: told.append(str(error)))
    yield opened
    context.close()
    assert told == []


def at(page: Page, address: str, path: str = "/") -> Page:
    """The page at an address, drawn."""
    page.goto(address.rstrip("/") + path)
    until(page, READY)
    return page


def box(page: Page, label: str) -> str:
    """What stands in a number box."""
    return page.get_by_role("textbox", name=label).input_value()


def test_nothing_typed_is_lost_by_a_reload_or_a_bad_value(page: Page, address: str) -> None:
    at(page, address)
    page.get_by_role("textbox", name="Fuel price").fill("2.5")
    expect(page.locator(".changes, #undo:not([disabled])")).to_be_visible()
    page.get_by_role("textbox", name="Running hours").fill("99999")
    expect(page.locator("#not-counted")).to_contain_text("Running hours")
    answer = page.locator("#answer").inner_text()

    page.reload()
    until(page, READY)

    expect(page.locator("#not-counted")).to_contain_text("Running hours")
    assert (box(page, "Fuel price"), box(page, "Running hours")) == ("2.5", "99999")
    expect(page.locator("#answer")).to_have_text(answer)


def test_undo_and_back_to_the_file(page: Page, address: str) -> None:
    at(page, address)
    first = page.locator("#answer").inner_text()
    page.get_by_role("textbox", name="Running hours").fill("300")
    expect(page.locator("#answer")).to_contain_text("at 300 h a year")

    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#answer")).to_have_text(first)
    expect(page.get_by_role("textbox", name="Running hours")).to_have_value("120")

    page.get_by_role("textbox", name="Ownership period").fill("3")
    expect(page.locator("#answer")).to_contain_text("Over 3 years")
    page.get_by_role("button", name=text.RESTORE).click()
    expect(page.locator("#answer")).to_have_text(first)


def test_a_figure_opens_its_rows_by_keys_alone(page: Page, address: str) -> None:
    at(page, address)
    page.locator("#elements-open").press("Enter")
    figure = page.locator("#elements-table .opens").first
    figure.press("Enter")

    drawer = page.get_by_role("dialog")
    expect(drawer.get_by_role("heading")).to_contain_text("Four-stroke 45 kW")
    amounts = drawer.locator("tbody tr td:nth-child(9)").all_inner_texts()
    total = sum(float(amount.replace(",", "")) for amount in amounts)
    expect(drawer.locator(".sum")).to_contain_text(cents(total))
    assert whole(total) == figure.inner_text()
    page.keyboard.press("Escape")

    expect(drawer).not_to_be_visible()
    expect(figure).to_be_focused()


def test_a_mark_opens_its_rows(page: Page, address: str) -> None:
    at(page, address)
    until(page, "document.querySelectorAll('#elements-graph .barlayer .point path').length")
    mark = page.locator("#elements-graph .barlayer .point path").first
    mark.scroll_into_view_if_needed()
    mark.click(force=True)

    expect(page.get_by_role("dialog").locator(".sum")).to_contain_text("in present value")


def test_a_foreman_changes_a_service_task_and_the_figures_follow(page: Page, address: str) -> None:
    at(page, address, "/numbers")
    before = page.locator("#answer").inner_text()
    page.get_by_role("button", name="Four-stroke 45 kW", exact=True).click()
    labour = page.locator(f"[data-path='{OIL}']")

    labour.fill("soon")
    labour.press("Tab")
    expect(page.locator("#editor").get_by_role("alert")).to_contain_text("Allowed: a number, 0 or more")
    assert page.locator("#answer").inner_text() == before
    labour.fill("5")
    labour.press("Tab")

    expect(page.locator("#answer")).not_to_have_text(before)
    expect(page.locator(".changes")).to_contain_text(OIL)
    page.get_by_role("link", name="What service, and when?").click()
    expect(page).to_have_url(re.compile("/service$"))
    expect(page.locator("#answer")).not_to_have_text(before)


def test_what_is_saved_opens_again_and_is_the_command_lines(page: Page, address: str, tmp_path: Path) -> None:
    at(page, address)
    page.get_by_role("textbox", name="Fuel price").fill("2.5")
    expect(page.locator("#undo")).to_be_enabled()
    page.wait_for_timeout(1500)
    answer = page.locator("#answer").inner_text()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save", exact=True).click()
    file = tmp_path / saved.value.suggested_filename
    saved.value.save_as(file)

    found = compare(read_scenario(file).scenario)
    assert found.scenario.prices.fuel == 2.5
    page.get_by_role("button", name=text.RESTORE).click()
    expect(page.locator("#answer")).not_to_have_text(answer)
    page.get_by_role("button", name="Open", exact=True).click()
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Choose a file of your own (TOML)").click()
    chooser.value.set_files(file)

    expect(page.locator("#answer")).to_have_text(answer)
    expect(page.get_by_role("textbox", name="Fuel price")).to_have_value("2.5")


@pytest.mark.parametrize(
    ("content", "told"),
    [(b"x" * 2_000_000, "too large"), (b"PK\x03\x04\xff\xfe", "no text"), (b"<html>", "cannot be opened")],
)
def test_a_hostile_file_is_told(page: Page, address: str, content: bytes, told: str) -> None:
    at(page, address)
    answer = page.locator("#answer").inner_text()
    page.get_by_role("button", name="Open", exact=True).click()
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Choose a file of your own (TOML)").click()
    chooser.value.set_files({"name": "../../x.toml", "mimeType": "text/plain", "buffer": content})

    expect(page.locator("#open-told")).to_contain_text(told)
    assert page.locator("#answer").inner_text() == answer


def test_a_link_carries_the_changes(page: Page, address: str) -> None:
    at(page, address, "/?scenario=weekend-lake-boat&prices.fuel=2.4")

    expect(page.locator("#title")).to_have_text("Weekend lake boat")
    assert box(page, "Fuel price") == "2.4"
    assert page.url.rstrip("/") == address.rstrip("/")


@pytest.mark.parametrize("path", [page.PATH for page in PAGES])
def test_everyone_can_use_every_page(page: Page, address: str, path: str) -> None:
    at(page, address, path)
    page.wait_for_timeout(500)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        until(page, f"document.documentElement.dataset.mantineColorScheme === '{scheme}'")
        for width in (1280, 390):
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (path, width)
            found = Axe().run(page).response["violations"]
            serious = [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")]
            assert serious == [], (path, scheme, width)


def test_large_type_is_kept(page: Page, address: str) -> None:
    size = "parseFloat(getComputedStyle(document.querySelector('#answer')).fontSize)"
    small = at(page, address).evaluate(size)

    page.get_by_role("button", name="Large type").click()
    expect(page.get_by_role("button", name="Large type", pressed=True)).to_be_visible()
    assert round(page.evaluate(size)) == round(LARGE_TYPE * small)
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280

    page.reload()
    until(page, READY)
    expect(page.get_by_role("button", name="Large type", pressed=True)).to_be_visible()
    assert round(page.evaluate(size)) == round(LARGE_TYPE * small)
