"""The pictures of every page in Chromium: drawn with their findings, opened, saved, the same as the command line's."""

import csv
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Download, Page, expect

from dashboard import ids, library
from dashboard.pages import costs, cover, running, service, sure, when
from model.wording import whole
from tests.browser.chromium import until
from tests.browser.conftest import Opener
from tests.rules.project import ROOT

pytestmark = pytest.mark.browser

DEMO = library.files()[library.FIRST]
"""What the pages open on."""

PICTURES = {
    costs.PATH: [shown.name for shown in costs.PICTURES],
    when.PATH: [shown.name for shown in when.PICTURES],
    sure.PATH: [shown.name for shown in sure.PICTURES],
    service.PATH: [service.CALENDAR.name],
    cover.PATH: [cover.COVER.name],
    running.PATH: [running.FLOW.name],
}
"""Pictures by page."""

DATA = """name => document.querySelector(`#${name}-graph .js-plotly-plot`)._fullData.map(trace => ({
  name: trace.name, type: trace.type, x: Array.from(trace.x || []), y: Array.from(trace.y || []),
  z: trace.type === "heatmap" ? trace.z.map(row => Array.from(row)) : null, data: trace.customdata}))"""
"""What a picture holds, number by number."""


def told(*command: str) -> Any:
    """What the command line tells, as JSON."""
    full = [sys.executable, "-m", "model", *command, "--format", "json"]
    return json.loads(subprocess.run(full, cwd=ROOT, capture_output=True, text=True, check=True).stdout)


def drawn(picture: str) -> str:
    """Condition that a picture is drawn."""
    return f"document.querySelector('#{ids.graph(picture)} .main-svg .trace, #{ids.graph(picture)} .main-svg .contour')"


def go(page: Page, path: str) -> Page:
    """Open a page by its name and wait for its pictures."""
    page.locator(f"[data-page='{path}']").click()
    for picture in PICTURES[path]:
        until(page, drawn(picture))
    return page


def held(page: Page, picture: str) -> dict[str, dict[str, Any]]:
    """What a picture holds, by the names of its traces."""
    return {trace["name"]: trace for trace in page.evaluate(DATA, picture)}


def opened_sum(page: Page, picture: str, trace: str, place: int) -> float:
    """Click a mark of a picture; the sum that the drawer tells first. [money]"""
    click = """([name, trace, place]) => {
      const picture = document.querySelector(`#${name}-graph .js-plotly-plot`);
      const at = picture._fullData.findIndex(each => each.name === trace);
      const full = picture._fullData[at];
      picture.emit("plotly_click", {points: [{curveNumber: at, pointNumber: place, pointIndex: place, data: full,
        fullData: full, x: full.x[place], y: full.y[place], customdata: full.customdata[place]}]});
    }"""
    page.evaluate(click, [picture, trace, place])
    expect(page.locator("#drawer")).to_be_visible()
    line = page.locator("#drawer .sum").inner_text()
    page.keyboard.press("Escape")
    expect(page.locator("#drawer")).to_be_hidden()
    found = re.search(r"Sum: (-?[\d,.]+) ", line)
    assert found is not None, line
    return float(found.group(1).replace(",", ""))


@pytest.mark.parametrize(("width", "told"), [(390, "Engine speed, % of rated: "), (1280, "")])
def test_a_card_says_what_its_number_is_of(open_page: Opener, width: int, told: str) -> None:
    page = go(open_page(width), "/running")
    head = page.locator("tbody th", has_text=re.compile(r"^12$"))

    expect(head).to_have_class("number-cell bare-number")
    before = head.evaluate("(cell) => getComputedStyle(cell, '::before').content")
    assert before.strip('"').replace('" "', "").replace("none", "") == told


@pytest.mark.parametrize("path", PICTURES)
@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (820, "dark"), (390, "light")])
def test_every_picture_is_drawn_with_its_finding(open_page: Opener, path: str, width: int, scheme: str) -> None:
    page = go(open_page(width, 900, scheme), path)

    for picture in PICTURES[path]:
        finding = page.locator(f"#{ids.title(picture)}").inner_text()
        assert len(finding) > 20
        assert "{" not in finding
        expect(page.locator(f"#{ids.saves(picture, 'png')}")).to_be_visible()
        room = page.locator(f"#{ids.graph(picture)}").bounding_box()
        assert room is not None
        assert room["x"] + room["width"] <= width
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_marks_open_rows_whose_sum_is_the_mark(open_page: Opener) -> None:
    page = open_page()
    bar = next(trace for trace in page.evaluate(DATA, ids.BY_YEAR) if trace["name"].endswith(": Fuel"))

    assert opened_sum(page, ids.BY_YEAR, bar["name"], 2) == pytest.approx(bar["y"][2], abs=0.005)

    go(page, service.PATH)
    visits = next(trace for trace in page.evaluate(DATA, ids.CALENDAR) if trace["data"])
    found = opened_sum(page, ids.CALENDAR, visits["name"], 0)
    assert f"{whole(found)} EUR" == visits["data"][0][1]

    go(page, cover.PATH)
    for trace in page.evaluate(DATA, ids.COVER):
        if trace["type"] == "bar" and trace["y"][1] > 1.0:
            assert opened_sum(page, ids.COVER, trace["name"], 1) == pytest.approx(trace["y"][1], abs=0.005)

    go(page, when.PATH)
    cheapest = min(told("compare", str(DEMO))["engines"], key=lambda engine: engine["total"]["present_value"])
    total = opened_sum(page, ids.MAP_YEARS, "As set", 0)
    assert total == pytest.approx(cheapest["total"]["present_value"], abs=0.005)


def test_years_sum_to_the_command_lines_elements(open_page: Opener) -> None:
    page = open_page()
    by_year = held(page, ids.BY_YEAR)

    for engine in told("compare", str(DEMO))["engines"]:
        fuel = engine["elements"]["fuel"]["nominal"]
        assert sum(by_year[f"{engine['name']}: Fuel"]["y"]) == pytest.approx(fuel)


def test_flip_points_are_the_command_lines(open_page: Opener) -> None:
    page = go(open_page(), when.PATH)

    until(page, "document.querySelectorAll('.flips li').length")

    shown = {line.replace("\u00a0", " ") for line in page.locator(".flips li").all_inner_texts()}
    assert shown == {flip["sentence"] for flip in told("flip-points", str(DEMO))["flips"]}


def test_trials_are_the_command_lines(open_page: Opener) -> None:
    page = go(open_page(), sure.PATH)
    trials = told("trials", str(DEMO), "--trials", "4096", "--seed", "1")

    chances = {engine["name"]: engine["chance_cheapest"] for engine in trials["engines"]}
    until(page, f"document.querySelector('#{ids.graph(ids.CHANCE)} .js-plotly-plot').data[0].x.length > 10")
    finding = page.locator(f"#{ids.title(ids.CHANCE)}").inner_text().replace("\u00a0", " ")
    likeliest = max(chances, key=lambda name: chances[name])
    assert likeliest in finding
    assert abs(float(re.findall(r"in (\d+) %", finding)[0]) - 100.0 * chances[likeliest]) <= 2.0  # read off the curve
    swings = told("sensitivity", str(DEMO))["inputs"]
    bars = [trace for trace in page.evaluate(DATA, ids.SWING) if trace["type"] == "bar"]
    for bar, swing in zip(bars, swings, strict=False):
        assert sum(bar["x"]) == pytest.approx(swing["swing"])


def saved(page: Page, button: str) -> Download:
    """The file that a button saves."""
    with page.expect_download() as waiting:
        page.locator(button).click()
    return waiting.value


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pictures_are_saved(open_page: Opener, tmp_path: Path, scheme: str) -> None:
    page = open_page(scheme=scheme)
    finding = page.locator(f"#{ids.title(ids.ELEMENTS)}").inner_text()

    png = saved(page, f"#{ids.saves(ids.ELEMENTS, 'png')}")
    svg = saved(page, f"#{ids.saves(ids.ELEMENTS, 'svg')}")

    png.save_as(tmp_path / "picture.png")
    svg.save_as(tmp_path / "picture.svg")
    assert (tmp_path / "picture.png").read_bytes().startswith(b"\x89PNG")
    drawing = (tmp_path / "picture.svg").read_text(encoding="utf-8")
    assert drawing.startswith("<svg")
    assert finding.split()[0] in drawing
    assert "#ffffff" in drawing.lower() or "rgb(255, 255, 255)" in drawing
    assert png.suggested_filename.endswith(".png")
    assert svg.suggested_filename.endswith(".svg")


def test_figures_beside_a_picture_are_saved_as_a_table(open_page: Opener, tmp_path: Path) -> None:
    page = open_page()
    page.locator(f"#{ids.opens_figures(ids.BY_YEAR)}").click()
    table = page.locator(f"#{ids.figures(ids.BY_YEAR)}")
    expect(table.locator("tbody tr").first).to_be_visible()

    saved(page, f"#{ids.figures(ids.BY_YEAR)} .plain-button").save_as(tmp_path / "figures.csv")

    lines = list(csv.reader((tmp_path / "figures.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert lines[0][:2] == ["Engine", "Cost element"]
    fuel = next(line for line in lines if line[1] == "Fuel")
    bar = next(trace for trace in page.evaluate(DATA, ids.BY_YEAR) if trace["name"] == f"{fuel[0]}: Fuel")
    assert [float(cell) for cell in fuel[2:]] == pytest.approx(bar["y"])


def test_pictures_follow_a_slider(open_page: Opener) -> None:
    page = go(open_page(), when.PATH)
    before = held(page, ids.MAP_YEARS)["As set"]["x"]

    page.get_by_role("textbox", name="Running hours").fill("80")

    point = f"document.querySelector('#{ids.graph(ids.MAP_YEARS)} .js-plotly-plot').data.at(-1).x[0]"
    until(page, f"{point} === 80")
    assert before != [80]
