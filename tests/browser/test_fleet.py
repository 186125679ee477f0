"""What an operator does on the fleet's page: read the budget, change it, open a register, take the tables along."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page, expect
from typer.testing import CliRunner

from model.cli_fleet import app
from model.wording import whole
from tests.browser.chromium import until
from tests.rules.project import ROOT
from tests.small_files import changed
from tests.small_fleet import ENGINE, FLEET, REGISTER
from tests.tolerances import IDENTITY

pytestmark = pytest.mark.browser

BOATS = ROOT / "scenarios" / "registers" / "hire-boats.toml"

WORKED_OUT = (
    "document.querySelector('#fleet-parts .picture') && !document.querySelector('#page .waiting')"
    " && document.querySelector('#fleet-policy') && !document.querySelector('#fleet-progress').textContent"
)
"""Answer, pictures and tables are there, and no run goes on."""

PATIENCE = 60_000.0
"""A fleet takes longer than a boat. [ms]"""


@pytest.fixture
def page(shared: BrowserContext, address: str) -> Iterator[Page]:
    """The fleet's page as it opens for somebody new; at the end nothing may have gone wrong in it."""
    opened, told = shared.new_page(), list[str]()
    opened.set_viewport_size({"width": 1280, "height": 900})
    opened.add_init_script("localStorage.clear()")  # the fleet of an earlier test
    opened.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: told.append(str(error)))
    opened.goto(address.rstrip("/") + "/fleet")
    until(opened, WORKED_OUT, PATIENCE)
    yield opened
    opened.close()
    assert told == []


def budget(*arguments: object) -> dict[str, Any]:
    """The command's budget as JSON."""
    done = CliRunner().invoke(app, ["fleet", "budget", *map(str, arguments), "--workers", "1", "--format", "json"])
    assert done.exit_code == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def unfolded(page: Page, words: str) -> Any:
    """The part that is opened by its words, opened."""
    part = page.locator("details").filter(has=page.locator("summary", has_text=re.compile(f"^{re.escape(words)}")))
    if part.get_attribute("open") is None:
        part.locator("summary").click()
    return part


def cells(page: Page, words: str) -> list[list[str]]:
    """Cells of the table that is opened by its words."""
    rows = unfolded(page, words).locator("tbody tr")
    return [row.locator("th, td").all_inner_texts() for row in rows.all()]


def years_of(report: dict[str, Any]) -> list[list[str]]:
    """Year, expected budget and what holds with 50, 80 and 95 %, as a table shows them."""
    return [
        [str(year["year"]), *(whole(amount) for amount in (year["expected"], *year["quantiles"].values()))]
        for year in report["years"]
    ]


def years_shown(page: Page) -> list[list[str]]:
    """The same figures on the page, the standard error apart."""
    return [[row[0], row[1], *row[3:6]] for row in cells(page, "The budget by year, in figures")]


def own_files(fleet: str = FLEET, register: str = REGISTER, name: str = "units.csv") -> list[Any]:
    """The smallest fleet as files that somebody opens, its engine within the fleet file."""
    engine = "[[engines]]\n" + ENGINE.replace("format = 1\n", "").replace("\n[fuel]", "\n[engines.fuel]")
    engine = engine.replace("[[repair]]", "[[engines.repair]]").replace("[resale]", "[engines.resale]")
    text = fleet.replace('[[engines]]\nfile = "four.toml"\n', engine)
    return [
        {"name": "mine.toml", "mimeType": "text/plain", "buffer": text.encode()},
        {"name": name, "mimeType": "text/csv", "buffer": register.encode()},
    ]


def open_own(page: Page, files: list[Any]) -> None:
    """Open files of one's own."""
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Open my own (TOML, CSV)").click()
    chooser.value.set_files(files)


def test_the_budget_is_the_commands_and_follows_the_policy(page: Page) -> None:
    as_stated = budget(BOATS)
    assert years_shown(page) == years_of(as_stated)
    together = sum(year["expected"] for year in as_stated["years"])

    page.locator("#fleet-policy").click()
    page.get_by_role("option", name="keep all").click()
    expect(page.locator("#fleet-answer")).to_contain_text("With your changes the first 8 years cost")
    until(page, WORKED_OUT, PATIENCE)

    kept = budget(BOATS, "--set", "fleet.policy={ keep = true }")
    assert years_shown(page) == years_of(kept)
    less = sum(year["expected"] for year in kept["years"]) < together
    expect(page.locator("#fleet-answer")).to_contain_text("EUR less than" if less else "EUR more than")
    expect(page.locator("#fleet-parts")).to_contain_text("No engine is replaced within 8 years")


def test_units_of_one_site(page: Page) -> None:
    every = cells(page, "The register on the first budget day")
    page.locator("#fleet-site").click()
    page.get_by_role("option", name="North pier").click()
    expect(page.locator("#fleet-units-part tbody tr")).to_have_count(sum(row[1] == "North pier" for row in every))

    shown = cells(page, "The register on the first budget day")
    assert shown == [row for row in every if row[1] == "North pier"]
    assert 0 < len(shown) < len(every) == 24


def test_a_mark_of_the_repair_log_opens_its_rows(page: Page) -> None:
    page.locator("#fleet-mode").click()
    page.get_by_role("option", name="Valve train and cylinder head, Four-stroke 15 kW (").click()
    expect(page.locator("#fleet-mode-part")).to_contain_text("Valve train and cylinder head of Four-stroke 15 kW")
    until(page, "document.querySelectorAll('#fleet-log-graph .scatterlayer .point').length > 1")
    mark = page.locator("#fleet-log-graph .scatterlayer .point").first
    mark.scroll_into_view_if_needed()
    mark.click(force=True)

    drawer = page.get_by_role("dialog")
    expect(drawer.get_by_role("heading")).to_have_text("Valve train and cylinder head of Four-stroke 15 kW")
    expect(drawer.locator(".sum")).to_contain_text("h on the meter")
    assert drawer.locator("tbody tr").count() > 1
    page.keyboard.press("Escape")
    expect(drawer).not_to_be_visible()


def test_a_register_of_ones_own_and_its_tables_to_take_along(page: Page, tmp_path: Path) -> None:
    files = own_files()
    open_own(page, files)
    expect(page.locator("#fleet-answer")).to_contain_text("The 2 units are expected to cost")
    until(page, WORKED_OUT, PATIENCE)
    for file in files:
        (tmp_path / file["name"]).write_bytes(file["buffer"])
    report = budget(tmp_path / "mine.toml")
    assert years_shown(page) == years_of(report)

    with page.expect_download() as saved:
        unfolded(page, "The budget by year, in figures").get_by_role("button", name="Save as CSV").click()
    saved.value.save_as(tmp_path / "years.csv")
    lines = (tmp_path / "years.csv").read_text(encoding="utf-8-sig").splitlines()
    expected = [float(line.split(",")[1]) for line in lines[1:]]
    assert expected == [year["expected"] for year in report["years"]]

    with page.expect_download() as saved:
        page.get_by_role("button", name="Save all tables (XLSX)").click()
    saved.value.save_as(tmp_path / "all.xlsx")
    book = openpyxl.load_workbook(tmp_path / "all.xlsx")
    assert [row[1].value for row in book["Years"].iter_rows(min_row=2)] == pytest.approx(expected, rel=IDENTITY)
    assert {"Policies", "Due", "Put off", "Sites", "Technologies", "Units", "Economic life"} <= set(book.sheetnames)


BAD_FILES = [
    (own_files(register=changed(REGISTER, (",0.2,North,", ",0.2,North,=1+1"))), "row 2, note"),
    (own_files(register=changed(REGISTER, ("A,Four-stroke", "A,Five-stroke"))), "row 2, engine"),
    (own_files(fleet=changed(FLEET, ('"units.csv"', '"../../etc/passwd"'))), "fleet.register"),
    (own_files()[1:], "no fleet"),
]
"""What is wrong with files of one's own, and what is told: a formula, no such engine, a path for a name, no fleet."""


def test_bad_files_are_told_and_change_nothing(page: Page) -> None:
    answer = page.locator("#fleet-answer").inner_text()
    for files, told in BAD_FILES:
        open_own(page, files)

        expect(page.locator("#fleet-told")).to_contain_text(told)
        assert page.locator("#fleet-answer").inner_text() == answer


def test_by_keys_alone(page: Page) -> None:
    def to(place: str) -> None:
        """Press the tab key until something has the focus."""
        for _ in range(120):
            page.keyboard.press("Tab")
            if page.evaluate(f"document.activeElement.matches({json.dumps(place)})"):
                return
        raise AssertionError(f"{place} cannot be reached")

    page.locator("#fleet-policy").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("#fleet-parts")).to_contain_text("policy: at 2,500 h")
    until(page, WORKED_OUT, PATIENCE)

    to("summary")
    page.keyboard.press("Enter")
    expect(page.locator("details[open] table").first).to_be_visible()
    to("#fleet-site, #fleet-mode")
    to("#fleet-save")


@pytest.mark.parametrize(("width", "is_answer_first"), [(390, True), (820, False)])
def test_the_answer_stands_first_on_a_phone(page: Page, width: int, is_answer_first: bool) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    answer, controls = (page.locator(f"#fleet-{name}").bounding_box() for name in ("answer", "controls"))

    assert answer is not None
    assert controls is not None
    assert (answer["y"] + answer["height"] <= controls["y"]) == is_answer_first


def test_everyone_can_use_it(page: Page) -> None:
    page.evaluate("document.querySelectorAll('#page details').forEach((part) => { part.open = true; })")
    for width in (1280, 820, 390):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width
    # Whose tables are open takes long to look through: once narrow and light, once wide and dark.
    for scheme, width in (("light", 390), ("dark", 1280)):
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        until(page, f"document.documentElement.dataset.mantineColorScheme === '{scheme}'")
        page.set_viewport_size({"width": width, "height": 900})
        found = Axe().run(page).response["violations"]
        serious = [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")]
        assert serious == [], (scheme, width)
