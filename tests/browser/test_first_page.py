"""What people do on the first page, in Chromium."""

import json
import subprocess
import sys
from functools import cache
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from dashboard import library, text
from model.wording import ELEMENT_LABELS, cents, whole
from tests.browser.chromium import until
from tests.browser.conftest import Opener
from tests.rules.project import ROOT

pytestmark = pytest.mark.browser

DEMO = library.files()[library.FIRST]
"""What the pages open on."""

DATA = """name => document.querySelector(`#${name}-graph .js-plotly-plot`)._fullData.map(
  trace => ({name: trace.name, x: Array.from(trace.x), y: Array.from(trace.y), base: trace.base}))"""
"""What a picture holds, number by number."""


@cache
def told_by_the_command_line(*options: str) -> dict[str, Any]:
    """The comparison as JSON."""
    command = [sys.executable, "-m", "model", "compare", str(DEMO), "--format", "json", *options]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    return dict(json.loads(done.stdout))


def table_of(page: Page) -> dict[str, list[str]]:
    """All figures, row by row."""
    if not page.locator("#elements-table tbody").count():
        page.locator("#elements-open").click()
    expect(page.locator("#elements-table tbody").first).to_be_visible()
    rows = page.locator("#elements-table tbody tr").all()
    return {row.locator("th").inner_text(): row.locator("td").all_inner_texts() for row in rows}


def expected_table(told: dict[str, Any]) -> dict[str, list[str]]:
    """The same from the command line."""
    engines = told["engines"]
    rows = {
        label: [whole(engine["elements"][element.value]["present_value"]) for engine in engines]
        for element, label in ELEMENT_LABELS.items()
        if any(engine["elements"][element.value]["present_value"] for engine in engines)
    }
    return rows | {
        text.TOTAL: [whole(engine["total"]["present_value"]) for engine in engines],
        text.TOTAL_NOMINAL: [whole(engine["total"]["nominal"]) for engine in engines],
        text.A_YEAR: [whole(engine["equivalent_annual_cost"]) for engine in engines],
        text.AN_HOUR: [cents(engine["cost_per_hour"]) for engine in engines],
        text.PAID_BY_WARRANTY: [whole(engine["paid_by_warranty"]["present_value"]) for engine in engines],
        text.fuel_burned(): [whole(engine["fuel_litres"]) for engine in engines],
        text.co2(): [whole(engine["co2_kg"]) for engine in engines],
    }


def follows(page: Page) -> str:
    """Condition that the answer is another than it is now."""
    return f"document.querySelector('#answer').textContent !== {json.dumps(page.locator('#answer').inner_text())}"


def set_number(page: Page, label: str, typed: str) -> None:
    """Type into a number box."""
    page.get_by_role("textbox", name=label).fill(typed)


def test_every_number_is_the_command_lines(open_page: Opener) -> None:
    page, told = open_page(), told_by_the_command_line()

    assert table_of(page) == expected_table(told)
    engines = told["engines"]
    totals = sorted(engine["total"]["present_value"] for engine in engines)
    assert f"{whole(totals[1] - totals[0])}\u00a0EUR less" in page.locator("#answer").inner_text()
    pair = next(pair for pair in told["break_even"]["pairs"] if pair["challenger"] == told["cheapest"])
    assert f"after {pair['years']:.1f} years" in page.locator("#when").inner_text()

    bars = {trace["name"]: trace for trace in page.evaluate(DATA, "elements")}
    for element, label in ELEMENT_LABELS.items():
        if label in bars:
            amounts = [engine["elements"][element.value]["present_value"] for engine in engines]
            assert bars[label]["x"] == pytest.approx(amounts, rel=1e-12)
    assert bars[text.TOTAL_MARK]["x"] == pytest.approx([engine["total"]["present_value"] for engine in engines])
    headings = page.locator("#elements-graph .annotation-text").all_text_contents()
    assert all(whole(engine["total"]["present_value"]) in line for engine, line in zip(engines, headings, strict=True))


def test_lines_and_bands_are_the_command_lines(open_page: Opener) -> None:
    page, told = open_page(), told_by_the_command_line()

    since = {trace["name"]: trace for trace in page.evaluate(DATA, "cumulative")}
    for engine in told["engines"]:
        assert since[engine["name"]]["y"][-1] == pytest.approx(engine["total"]["nominal"], rel=1e-12)
    for pair in told["break_even"]["pairs"]:
        dot = since[text.paid_back(pair["challenger"], pair["years"])]
        assert dot["x"] == pytest.approx([pair["years"]], rel=1e-12)
    stretches = told["break_even"]["cheapest_by_hours"]
    bands = [trace for trace in page.evaluate(DATA, "hours-curve") if trace["base"] is not None]
    assert [band["base"][0] for band in bands] == pytest.approx([stretch["from"] for stretch in stretches])
    assert all(stretch["engine"] in band["name"] for stretch, band in zip(stretches, bands, strict=True))


def test_changed_hours_are_the_command_lines_too(open_page: Opener) -> None:
    page = open_page()
    changed = follows(page)

    set_number(page, "Running hours", "210")
    until(page, changed)

    page.wait_for_timeout(500)
    assert table_of(page) == expected_table(told_by_the_command_line("--hours", "210"))


@pytest.mark.parametrize("width", [1280, 820, 390])
def test_it_fits_and_everyone_can_use_it(open_page: Opener, width: int) -> None:
    page = open_page(width=width)
    for scheme in ("light", "dark"):
        shown = f"document.documentElement.dataset.mantineColorScheme === '{scheme}'"
        if scheme == "dark":
            page.get_by_role("button", name="Light look or dark look").click()
        until(page, shown)

        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        found = Axe().run(page).response["violations"]
        assert [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")] == []
    page.get_by_role("button", name="Light look or dark look").click()


def test_it_follows_a_dark_system(open_page: Opener) -> None:
    page = open_page(scheme="dark")

    ink = page.evaluate("getComputedStyle(document.querySelector('#elements-graph .annotation-text')).fill")

    assert page.evaluate("document.documentElement.dataset.mantineColorScheme") == "dark"
    assert ink == "rgb(230, 232, 235)"


def test_a_slider_moved_by_keyboard_changes_the_answer(open_page: Opener) -> None:
    page = open_page()
    changed = follows(page)

    page.get_by_role("slider", name="Running hours").press("ArrowRight")

    until(page, changed)
    expect(page.get_by_role("textbox", name="Running hours")).to_have_value("125")
    expect(page.locator("#answer")).to_contain_text("at 125 h a year")


def test_a_typed_number_moves_its_slider(open_page: Opener) -> None:
    page = open_page()

    set_number(page, "Ownership period", "12")

    expect(page.locator("#answer")).to_contain_text("Over 12 years")
    expect(page.get_by_role("slider", name="Ownership period")).to_have_attribute("aria-valuenow", "12")


@pytest.mark.parametrize(("typed", "told"), [("99999", "at most 8,766"), ("-5", "0 or more"), ("", text.NOT_A_NUMBER)])
def test_nonsense_is_told_and_the_last_answer_stays(open_page: Opener, typed: str, told: str) -> None:
    page = open_page()
    before = page.locator("#answer").inner_text()

    set_number(page, "Running hours", typed)

    expect(page.locator(".field", has=page.locator("#hours-box")).get_by_role("alert")).to_contain_text(told)
    expect(page.locator("#not-counted")).to_contain_text("does not count this yet: Running hours")
    assert page.locator("#answer").inner_text() == before
    expect(page.get_by_role("slider", name="Running hours")).to_have_attribute("aria-valuenow", "120")
    set_number(page, "Running hours", "130")
    expect(page.locator("#answer")).to_contain_text("at 130 h a year")
    expect(page.locator("#not-counted")).to_be_empty()


def test_engines_come_and_go_but_one_stays(open_page: Opener) -> None:
    page = open_page()
    boxes = page.get_by_role("checkbox")

    boxes.nth(0).click()
    expect(page.locator("#answer")).not_to_contain_text("Four-stroke")
    boxes.nth(1).click()
    expect(page.locator("#answer")).to_contain_text("Two-stroke carburetted 45 kW costs")
    last = page.locator("#answer").inner_text()
    boxes.nth(2).click()
    expect(page.get_by_role("alert").filter(has_text=text.NO_ENGINE)).to_be_visible()
    assert page.locator("#answer").inner_text() == last

    page.get_by_role("button", name=text.RESTORE).click()
    expect(page.locator("#answer")).to_contain_text("Four-stroke 45 kW")
    expect(page.get_by_role("checkbox", checked=True)).to_have_count(3)


def test_two_users_do_not_see_each_others_changes(open_page: Opener) -> None:
    one, other = open_page(), open_page()
    before = other.locator("#answer").inner_text()

    set_number(one, "Fuel price", "3.5")
    expect(one.locator("#answer")).not_to_have_text(before)

    assert other.locator("#answer").inner_text() == before


def test_the_controls_rise_on_a_phone(open_page: Opener) -> None:
    page = open_page(width=390, height=844)
    slider = page.get_by_role("slider", name="Running hours")
    expect(slider).not_to_be_visible()

    page.get_by_role("button", name=text.CHANGE).click()
    slider.press("ArrowRight")
    expect(page.locator("#answer")).to_contain_text("at 125 h a year")
    page.keyboard.press("Escape")

    expect(slider).not_to_be_visible()


def test_nothing_on_a_picture_leads_off_the_machine(open_page: Opener) -> None:
    page = open_page()

    page.locator("#elements-graph").hover()

    assert page.locator(".modebar-btn").count() == 0
    assert page.locator("a[href^='http']").count() == 0
