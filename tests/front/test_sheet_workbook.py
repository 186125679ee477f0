"""The sheet as a workbook: its figures are ours, its formulas come to them, its text is never a formula."""

import io
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from dashboard.sheet.matter import Letterhead, Matter, matter_of_work
from dashboard.sheet.workbook import HEAD_ROW, workbook
from model.inputs.terms import Element, Payer
from model.language import say, speaking
from model.ledger import ledger
from model.reports import comparison_report
from model.wording import ELEMENT_LABELS
from tests.front import sheets
from tests.front.works import tiny_work
from tests.tolerances import IDENTITY

HOSTILE = "=1+1"
"""What a spreadsheet would run."""


@cache
def matter() -> Matter:
    """The tiny comparison."""
    return matter_of_work(tiny_work())


@cache
def content(language: str = "en") -> bytes:
    """Its workbook."""
    with speaking(language):
        return workbook(matter(), Letterhead(HOSTILE, "@SUM(A1)", "+1", day=sheets.DAY))


def cells(content: bytes, values: bool) -> dict[str, Any]:
    """Pages of a workbook by name, as their values or as their formulas."""
    book = load_workbook(io.BytesIO(content), data_only=values)
    return {name: book[name] for name in book.sheetnames}


def row_of(page: Any, label: str, start: int = 1) -> list[Any]:
    """Cells beside a label."""
    for row in page.iter_rows(min_row=start, values_only=True):
        if row[0] == label:
            return [cell for cell in row[1:] if cell is not None]
    raise AssertionError(f"no row {label!r}")


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_summary_is_the_comparison(language: str) -> None:
    page = next(iter(cells(content(language), values=True).values()))
    engines = comparison_report(matter().comparison)["engines"]

    with speaking(language):
        for element in Element:
            found = row_of(page, say(ELEMENT_LABELS[element]))
            assert found == [engine["elements"][element.value]["present_value"] for engine in engines]
        total = row_of(page, say("Total, present value"))
    assert total == pytest.approx([engine["total"]["present_value"] for engine in engines], rel=IDENTITY)


def test_every_row_of_every_ledger_is_there() -> None:
    pages = cells(content(), values=True)

    for place, cost in enumerate(matter().comparison.engines, start=1):
        rows = list(pages[f"Ledger {place}"].iter_rows(min_row=HEAD_ROW + 2, values_only=True))
        expected = ledger(cost)
        assert [row[1].date() for row in rows] == [row.date for row in expected]
        assert [row[8] for row in rows] == [row.nominal for row in expected]
        assert [row[4] for row in rows] == [row.item for row in expected]
        assert [row[10] == "You" for row in rows] == [row.payer is Payer.OWNER for row in expected]


SUMIFS = re.compile(r"=SUMIFS\('(.+?)'!\$(\w)\$(\d+):\$\w\$(\d+),'.+?'!\$(\w)\$.+?,\"(.+?)\"(?:,.+?,(.+))?\)")
"""Page, column of amounts, first and last row, column of payers, payer, cell of the element."""


def test_formulas_come_to_their_values() -> None:
    formulas, values = cells(content(), values=False), cells(content(), values=True)

    checked = 0
    for row in formulas["Summary"].iter_rows():
        for cell in row:
            match = SUMIFS.fullmatch(str(cell.value))
            if match:
                name, amounts, first, last, who, payer, element = match.groups()
                page = values[name]
                label = None if element is None else values["Summary"][element.replace("$", "")].value
                places = [
                    place
                    for place in range(int(first), int(last) + 1)
                    if page[f"{who}{place}"].value == payer and label in (None, page[f"D{place}"].value)
                ]
                total = sum(page[f"{amounts}{place}"].value for place in places)
                assert values["Summary"][cell.coordinate].value == pytest.approx(total, rel=IDENTITY)
                checked += 1
    assert checked == 2 * len(Element) * 2 + 2


def test_amounts_of_a_ledger_come_from_quantity_price_and_rate() -> None:
    formulas, page = cells(content(), values=False)["Ledger 1"], cells(content(), values=True)["Ledger 1"]

    for place in range(HEAD_ROW + 2, page.max_row + 1):
        assert formulas[f"I{place}"].value == f"=F{place}*H{place}"
        assert formulas[f"J{place}"].value == f"=I{place}/(1+$D$2)^A{place}"
        discounted = page[f"I{place}"].value / (1.0 + page["D2"].value) ** page[f"A{place}"].value
        assert page[f"J{place}"].value == pytest.approx(discounted, rel=IDENTITY)


def test_what_somebody_typed_is_text() -> None:
    page = cells(content(), values=False)["Summary"]

    assert [page[at].value for at in ("A1", "A2", "A3")] == [HOSTILE, "@SUM(A1)", "+1"]


def test_no_formula_but_ours() -> None:
    from zipfile import ZipFile

    with ZipFile(io.BytesIO(content())) as packed:
        pages = [packed.read(name).decode() for name in packed.namelist() if name.startswith("xl/worksheets/sheet")]
    found = [formula for page in pages for formula in re.findall(r"<f>(.*?)</f>", page)]
    assert found
    assert [
        one for one in found if not re.match(r"SUMIFS\(|SUM\(|F\d+\*H\d+$|I\d+/|[A-Z]\d+-MIN\(|[A-Z]\d+/", one)
    ] == []


@pytest.mark.slow
def test_recalculated_it_is_the_same(tmp_path: Path) -> None:
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None:
        pytest.skip("no LibreOffice on this machine to recalculate with (Debian: libreoffice-calc-nogui)")
    (tmp_path / "sheet.xlsx").write_bytes(_without_values(content()))
    home = f"-env:UserInstallation={(tmp_path / 'office').as_uri()}"
    made = ["--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(tmp_path / "again")]
    subprocess.run([office, home, "--headless", *made, str(tmp_path / "sheet.xlsx")], check=True, timeout=180)

    again = cells((tmp_path / "again" / "sheet.xlsx").read_bytes(), values=True)

    for name, page in cells(content(), values=True).items():
        for row in page.iter_rows():
            for cell in row:
                if isinstance(cell.value, float):
                    found = again[name][cell.coordinate].value
                    assert found == pytest.approx(cell.value, rel=IDENTITY), (name, cell.coordinate)


def _without_values(content: bytes) -> bytes:
    """The workbook without the values beside its formulas, so that whoever opens it must work them out."""
    out = io.BytesIO()
    load_workbook(io.BytesIO(content)).save(out)
    return out.getvalue()
