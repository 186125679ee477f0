"""A run that was cut short: every output is of the units that were counted, and says how many of how many."""

import csv
import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from typer.testing import CliRunner

from model.cli_fleet import Shared, app
from model.fleet.budgeted import cut_told
from model.fleet.reading import read_fleet
from model.fleet.rules_told import year_told
from tests.small_fleet import ENGINE, FLEET, REGISTER, write_fleet

TOLD = "Cut short: 25 of 60 units were counted, and the figures are of those only."


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    """Sixty boats alike, all due in the second year: three groups of at most 25."""
    units = "".join(f"U{number},Four-stroke,1,2023-01-01,400,100,,North,\n" for number in range(60))
    return write_fleet(tmp_path, register=REGISTER.splitlines()[0] + "\n" + units)


def after_one_group(shared: Shared, task: Any, groups: Sequence[Any], *_what: object, **_how: object) -> Iterator[Any]:
    """The results of a run that its user stops when the first group is finished."""
    yield task(groups[0])
    shared.was_cut = True


def cut_short(monkeypatch: pytest.MonkeyPatch, fleet: Path, *arguments: object) -> str:
    """What the command prints."""
    monkeypatch.setattr(Shared, "results", after_one_group)
    done = CliRunner().invoke(app, ["fleet", "budget", str(fleet), "--trials", "20", *map(str, arguments)])
    assert done.exit_code == 130
    assert TOLD in done.stderr
    return done.stdout


def test_the_table(monkeypatch: pytest.MonkeyPatch, fleet: Path) -> None:
    whole = CliRunner().invoke(app, ["fleet", "budget", str(fleet), "--trials", "20"]).stdout
    told = cut_short(monkeypatch, fleet, "--all-units")

    assert whole.startswith("Hire boats: 60 units. ")
    assert told.startswith("Hire boats: 25 of 60 units, as the run was cut short. ")
    assert f"- {TOLD}" in " ".join(told.split())
    assert "U24" in told
    assert "U25" not in told


def test_json(monkeypatch: pytest.MonkeyPatch, fleet: Path) -> None:
    report = json.loads(cut_short(monkeypatch, fleet, "--format", "json"))

    assert report["units"] == {"counted": 25, "of": 60}
    assert report["notes"][0] == TOLD
    assert [due["unit"] for due in report["replacements"]] == [f"U{number}" for number in range(25)]
    bought = [year["elements"]["purchase"] + year["elements"]["fit_up"] for year in report["years"]]
    assert bought == pytest.approx([0.0, sum(due["capital"] for due in report["replacements"]), 0.0, 0.0])


def test_csv(monkeypatch: pytest.MonkeyPatch, fleet: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(cut_short(monkeypatch, fleet, "--format", "csv"))))

    assert {(row["units_counted"], row["units"]) for row in rows} == {("25", "60")}


def test_the_spreadsheet(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, fleet: Path) -> None:
    cut_short(monkeypatch, fleet, "--save", tmp_path / "cut.xlsx")

    book = openpyxl.load_workbook(tmp_path / "cut.xlsx")
    assert TOLD in [row[0].value for row in book["Notes"].iter_rows()]
    assert book["Due"].max_row == 1 + 25


def test_a_whole_run_says_nothing() -> None:
    assert cut_told(60, 60) == []


def test_days_lost_are_told_as_no_payment(tmp_path: Path) -> None:
    path = write_fleet(tmp_path, FLEET + "[downtime]\nday_cost = 90\n")
    (tmp_path / "four.toml").write_text(ENGINE.replace("parts_price = 400", "parts_price = 400\ndays_lost = 2"))
    without, with_days = (
        CliRunner().invoke(app, ["fleet", "budget", str(one), "--trials", "20", "--format", "json"]).stdout
        for one in (write_fleet_beside(tmp_path), path)
    )

    told = "Downtime is hire or work that is lost, not a payment; it is counted in these sums all the same."
    assert told not in json.loads(without)["notes"]
    assert told in json.loads(with_days)["notes"]


def write_fleet_beside(folder: Path) -> Path:
    """The smallest fleet in a folder of its own."""
    (folder / "beside").mkdir()
    return write_fleet(folder / "beside")


def test_a_year_that_begins_in_january_has_one_name(tmp_path: Path) -> None:
    names = []
    for day in ("2027-01-01", "2027-01-02", "2027-02-01", "2027-07-01"):
        fleet = read_fleet(write_fleet(tmp_path, FLEET.replace("budget_start = 2027-01-01", f"budget_start = {day}")))
        names.append(year_told(fleet, 0))

    assert names == ["2027", "2027", "2027/28", "2027/28"]
