"""Units, formats and currency chosen on the page: what is shown follows, what is typed counts, a reload keeps it."""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from dashboard.scenarios import scenario_of, work_of
from model.inputs.units import LITRES_IN_A_US_GALLON
from tests.browser.chromium import until
from tests.browser.test_working import READY, at, page
from tests.tolerances import IDENTITY

__all__ = ["page"]

pytestmark = pytest.mark.browser


def chosen(page: Page, label: str, value: str, is_kept_by_cookie: bool = True) -> None:
    """Choose by keys in the room, and wait for the page."""
    page.get_by_role("button", name="Units and format").press("Enter")
    choice = page.get_by_role("combobox", name=label)
    if not is_kept_by_cookie:
        choice.select_option(value)
        page.keyboard.press("Escape")
        return
    with page.expect_event("load"):
        choice.select_option(value)
    until(page, READY)


def test_us_units_another_currency_and_format(page: Page, address: str) -> None:
    at(page, address)
    chosen(page, "Units", "US")
    chosen(page, "Numbers", "de")
    chosen(page, "Dates", "lt")
    chosen(page, "Currency", "USD", is_kept_by_cookie=False)
    expect(page.locator("#answer")).to_contain_text("1.231 USD")

    price = page.get_by_role("textbox", name="Fuel price")
    expect(price).to_have_value("7,003")
    price.fill("8,5")
    expect(page.locator("#answer")).not_to_contain_text("1.231 USD")
    page.wait_for_timeout(500)
    kept = json.loads(page.evaluate("localStorage.getItem('outboard-costs')"))
    scenario = scenario_of(work_of(kept["work"]))
    assert scenario.prices.fuel == pytest.approx(8.5 / LITRES_IN_A_US_GALLON, rel=IDENTITY)

    page.locator("#elements-open").press("Enter")
    page.locator("#elements-table tr", has_text="Fuel").first.locator(".opens").first.click()
    expect(page.get_by_role("dialog").locator("tbody tr").first).to_contain_text("US gal")
    page.keyboard.press("Escape")
    page.reload()
    until(page, READY)
    expect(page.get_by_role("textbox", name="Fuel price")).to_have_value("8,5")

    page.goto(address + "running")
    until(page, READY)
    expect(page.locator("#flow-graph .ytitle")).to_have_text("US gal/h")
    page.goto(address + "service")
    until(page, READY)
    expect(page.locator(".figures-table tbody tr").first).to_contain_text("2027-")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_everyone_can_use_the_room(page: Page, address: str, scheme: str) -> None:
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 900})
        at(page, address).get_by_role("button", name="Units and format").click()
        expect(page.get_by_role("dialog")).to_be_visible()
        found = Axe().run(page).response["violations"]
        assert [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")] == []
