"""The commands for fleets: what they print, in every format, and how they end."""

import csv
import io
import json
import os
import re
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from model.cli_fleet import app
from model.fleet.workbook import workbook, write_whole
from model.language import say
from model.wording import CAUTIONS
from tests.rules.project import ROOT
from tests.small_files import changed
from tests.small_fleet import ENGINE, FLEET, REGISTER, write_fleet

BOATS = ROOT / "scenarios" / "registers" / "hire-boats.toml"


ALONE = "A,Four-stroke,1,2026-01-01,100,100,0,North,\n"
"""A unit that runs every year alike."""

RARE = """[[repair]]
name = "Block"
clock = "years"
scale = 20
shape = 1.0
parts_price = 20000
"""
"""A failure that few years have."""


def run(*arguments: object) -> Result:
    """One command, in this process."""
    return CliRunner().invoke(app, ["fleet", *(str(argument) for argument in arguments)])


@pytest.fixture
def fleet(tmp_path: Path) -> Path:
    """The smallest fleet, its seasons uncertain."""
    return write_fleet(tmp_path, changed(FLEET, ("horizon = 4", "horizon = 4\nseason_variation = 0.2")))


class TestBudget:
    def test_json_as_documented(self, fleet: Path) -> None:
        report = json.loads(run("budget", fleet, "--format", "json", "--trials", 200).stdout)

        assert set(report) == {
            "years", "contingency", "policy", "replacements", "put_off", "hour_log", "repair_log", "rules", "notes",
            "units",
        }  # fmt: skip
        assert report["units"] == {"counted": 2, "of": 2}
        assert [year["year"] for year in report["years"]] == [2027, 2028, 2029, 2030]
        for year in report["years"]:
            assert set(year) == {
                "year", "expected", "quantiles", "elements", "sites", "technologies", "element_quantiles",
                "site_quantiles", "technology_quantiles", "replacements",
            }  # fmt: skip
            assert set(year["element_quantiles"]) == set(year["elements"])
            assert set(year["site_quantiles"]) == set(year["sites"])
            assert set(year["technology_quantiles"]) == set(year["technologies"])
            assert list(year["quantiles"]) == ["0.5", "0.8", "0.95"]
            for by in ("elements", "sites", "technologies"):
                assert sum(year[by].values()) == pytest.approx(year["expected"])
        assert [year["replacements"] for year in report["years"]] == [[], ["A"], [], ["B"]]
        yearly = sum(year["quantiles"]["0.8"] - year["expected"] for year in report["years"])
        assert report["contingency"] == pytest.approx(yearly)

    def test_csv_adds_to_the_json(self, fleet: Path) -> None:
        rows = list(csv.DictReader(io.StringIO(run("budget", fleet, "--format", "csv", "--trials", 50).stdout)))
        report = json.loads(run("budget", fleet, "--format", "json", "--trials", 50).stdout)

        assert {row["site"] for row in rows} == {"North", "South"}
        for year in report["years"]:
            of_year = sum(float(row["expected"]) for row in rows if row["year"] == str(year["year"]))
            assert of_year == pytest.approx(year["expected"])

    def test_the_table_answers_first(self, fleet: Path) -> None:
        lines = run("budget", fleet, "--trials", 50).stdout.splitlines()

        assert lines[0].startswith("Hire boats: 2 units. The budget year 2027 is expected to cost ")
        assert any("5.0 years old, limit 5" in line for line in lines)

    def test_a_mean_above_what_most_trials_cost_is_told_as_that(self, tmp_path: Path) -> None:
        # A failure in one year of twenty that costs 20,000 raises the mean by 1,000 and no year of 80 % of the trials.
        path = write_fleet(tmp_path, FLEET + '[trials]\nrepairs = "drawn"\n', REGISTER.splitlines()[0] + "\n" + ALONE)
        rare = ENGINE[: ENGINE.index("[[repair]]")] + RARE + "[resale]\nyearly_decline = 0.2\n"
        (tmp_path / "four.toml").write_text(rare, encoding="utf-8")

        told = " ".join(run("budget", path, "--trials", 2000).stdout.split("EUR in money")[0].split())
        year = json.loads(run("budget", path, "--trials", 2000, "--format", "json").stdout)["years"][0]

        less = year["expected"] - year["quantiles"]["0.8"]
        assert less > 0.0
        assert told.endswith(
            f"{year['expected']:,.0f} EUR, which holds with more than 80 %: a few dear trials raise the mean, and "
            f"{less:,.0f} EUR less hold with 80 %."
        )

    def test_the_same_seed_prints_the_same_whatever_the_workers(self, fleet: Path) -> None:
        one, two, other = (
            run("budget", fleet, "--format", "json", "--trials", 50, *more).stdout
            for more in (("--workers", 1), ("--workers", 2), ("--seed", 2))
        )

        assert one == two
        assert one != other

    def test_a_spreadsheet_holds_no_formula(self, tmp_path: Path, fleet: Path) -> None:
        # A name in quotes of the register may begin with anything but a formula; the engine's name with all.
        (tmp_path / "four.toml").write_text(ENGINE.replace('name = "Four-stroke"', 'name = "=1+1"'), encoding="utf-8")
        text = fleet.read_text(encoding="utf-8").replace('["Four-stroke"]', '["=1+1"]')
        fleet.write_text(text, encoding="utf-8")
        (tmp_path / "units.csv").write_text(REGISTER.replace("Four-stroke", "'=1+1"), encoding="utf-8")

        assert run("budget", fleet).exit_code == 2  # no register can name such an engine
        content = workbook({"Due": (("engine", "cost"), [{"engine": "=1+1", "cost": -2.5}, {"engine": "@x"}])})
        cells = [cell for row in openpyxl.load_workbook(io.BytesIO(content))["Due"].iter_rows() for cell in row]

        assert [cell.value for cell in cells] == ["engine", "cost", "=1+1", -2.5, "@x", None]
        assert {cell.data_type for cell in cells} == {"s", "n"}

    def test_all_tables_are_saved(self, tmp_path: Path, fleet: Path) -> None:
        path = tmp_path / "budget.xlsx"

        assert run("budget", fleet, "--trials", 50, "--save", path).exit_code == 0

        book = openpyxl.load_workbook(path)
        assert book.sheetnames == [
            "Years", "Elements", "Sites", "Technologies", "Spread of parts", "Due", "Put off", "Units", "Repair log",
            "Hour log", "Notes",
        ]  # fmt: skip
        assert [row[0].value for row in book["Years"].iter_rows()] == ["year", 2027, 2028, 2029, 2030]
        spread = [[cell.value for cell in row] for row in book["Spread of parts"].iter_rows()]
        assert spread[0] == ["by", "part", "holds_in", *map(str, range(2027, 2031)), "all_years"]
        assert {(row[0], row[1]) for row in spread[1:] if row[0] == "element"} >= {("element", "fuel")}
        bought = [row for row in spread if row[:2] == ["element", "purchase"]]
        assert [row[2] for row in bought] == [0.5, 0.8, 0.95]
        assert all(row[7] == pytest.approx(sum(row[3:7])) and row[7] > 0.0 for row in bought)  # no trial buys another
        assert [row[0].value for row in book["Units"].iter_rows()] == ["unit", "A", "B"]

    @pytest.mark.parametrize("name", ["budget.ods", "no-such-folder/budget.xlsx"])
    def test_where_it_cannot_be_saved_is_told(self, tmp_path: Path, fleet: Path, name: str) -> None:
        done = run("budget", fleet, "--trials", 50, "--save", tmp_path / name, "--format", "json")

        assert done.exit_code == 2
        assert [error["key"] for error in json.loads(done.stderr)["errors"]] == ["--save"]

    def test_a_file_is_written_whole_or_not_at_all(self, tmp_path: Path) -> None:
        path = tmp_path / "a.xlsx"
        write_whole(b"first", path)
        with pytest.raises(TypeError):
            write_whole("no bytes", path)  # type: ignore[arg-type]

        assert path.read_bytes() == b"first"
        assert [file.name for file in tmp_path.iterdir()] == ["a.xlsx"]

    def test_every_problem_is_told_with_exit_code_2(self, tmp_path: Path) -> None:
        path = write_fleet(tmp_path, register=changed(REGISTER, ("A,Four-stroke,1", "A,Five,0")))

        done = run("budget", path, "--format", "json")

        assert done.exit_code == 2
        assert [error["key"] for error in json.loads(done.stderr)["errors"]] == ["row 2, count", "row 2, engine"]

    def test_a_limit_too_small_is_told_with_the_year(self, fleet: Path) -> None:
        done = run("budget", fleet, "--set", "fleet.yearly_limit=6000")

        assert done.exit_code == 2
        assert "fleet.yearly_limit: found 6,000" in done.stderr
        assert "from 2027" in done.stderr

    def test_no_cluster_is_told(self, fleet: Path) -> None:
        pytest.importorskip("distributed")

        done = run("budget", fleet, "--dask", "no-such-kind://nowhere")

        assert done.exit_code == 2
        assert "--dask" in done.stderr


class TestPlan:
    def test_policies_are_compared_with_todays(self, fleet: Path) -> None:
        report = json.loads(run("plan", fleet, "--format", "json").stdout)

        policies = {row["policy"]: row for row in report["policies"]}
        assert list(policies) == ["at 5 years", "at the economic life", "by the best plan"]
        assert policies["at 5 years"]["saves"] == 0.0
        best = policies["by the best plan"]
        assert best["saves"] == pytest.approx(policies["at 5 years"]["present_value"] - best["present_value"])
        assert best["present_value"] == min(row["present_value"] for row in policies.values())

    def test_what_the_limit_puts_off_and_what_that_costs(self, fleet: Path) -> None:
        done = run(
            "plan", fleet, "--format", "json", "--set", "fleet.yearly_limit=13000", "--set", "fleet.policy.at_age=1"
        )
        report = json.loads(done.stdout)

        today = report["plans"][0]
        first = today["put_off"][0]
        assert (first["year"], first["unit"], first["until"]) == (2027, "B", 2028)
        assert report["policies"][0]["put_off"] >= 1
        assert report["policies"][0]["limit_costs"] != 0.0

    def test_table_and_csv(self, fleet: Path) -> None:
        table, rows = run("plan", fleet).stdout, run("plan", fleet, "--format", "csv").stdout

        assert table.startswith("Hire boats: over 4 years, replacing engines ")
        assert (
            rows.splitlines()[0]
            == "policy,year,unit,site,engine,bought,reason,capital,until,times,waiting_costs,put_off"
        )

    @pytest.mark.parametrize(
        ("command", "sheets"),
        [
            ("plan", ["Policies", "Replacements", "Units", "Notes"]),
            ("economic-life", ["Economic life", "Best ages", "Notes"]),
        ],
    )
    def test_the_other_commands_save_their_tables_too(
        self, tmp_path: Path, fleet: Path, command: str, sheets: list[str]
    ) -> None:
        path = tmp_path / "tables.xlsx"

        assert run(command, fleet, "--save", path).exit_code == 0

        book = openpyxl.load_workbook(path)
        assert book.sheetnames == sheets
        assert all(sheet.max_row > 1 for sheet in book.worksheets)
        assert say(CAUTIONS[1]) in [row[0].value for row in book["Notes"].iter_rows()]

    @pytest.mark.parametrize("command", [("budget", "--trials", 50), ("plan",), ("economic-life",)])
    def test_json_has_the_notes_of_the_table(self, fleet: Path, command: tuple[str | int, ...]) -> None:
        notes = json.loads(run(command[0], fleet, *command[1:], "--format", "json").stdout)["notes"]
        table = " ".join(run(command[0], fleet, *command[1:]).stdout.split())

        assert any(line.startswith("Not counted: ") for line in notes)
        assert notes[-2:] == [say(caution) for caution in CAUTIONS]
        assert all(f"- {line}" in table for line in notes)

    def test_what_the_hour_logs_variation_holds_is_told_alike_everywhere(self, tmp_path: Path) -> None:
        meters = ((2023, 0), (2024, 80), (2025, 180), (2026, 300))
        text = FLEET.replace("horizon = 4", 'horizon = 4\nhour_log = "hours.csv"\nseason_variation = 0.1')
        log = "unit,date,reading\n" + "".join(f"A,{year}-01-01,{meter}\n" for year, meter in meters)
        path, book = write_fleet(tmp_path, text, hours=log), tmp_path / "plan.xlsx"

        (note,) = json.loads(run("budget", path, "--trials", 50, "--format", "json").stdout)["hour_log"]["notes"]
        tables = [run(*command).stdout for command in (("budget", path, "--trials", 50), ("plan", path))]
        run("plan", path, "--save", book)

        assert note.startswith("The variation by the hour log holds the season's, 10 %, ")
        assert all(f"- {note}" in " ".join(table.split()) for table in tables)
        assert note in [row[0].value for row in openpyxl.load_workbook(book)["Notes"].iter_rows()]


class TestEconomicLife:
    def test_json_as_documented(self, fleet: Path) -> None:
        report = json.loads(
            run("economic-life", fleet, "--format", "json", "--set", "range.ownership_years=[1, 6]").stdout
        )

        (engine,) = report["engines"]
        assert {"name", "by_age", "best_age", "within_2_percent"} < set(engine)
        assert [row["age"] for row in engine["by_age"]] == [1, 2, 3, 4, 5, 6]
        low, high = engine["within_2_percent"]
        assert low <= engine["best_age"] <= high

    def test_a_scenario_has_economic_lives_too(self) -> None:
        done = run("economic-life", ROOT / "scenarios" / "water-taxi.toml", "--format", "csv")

        assert done.exit_code == 0
        header = "engine,hours_per_year,age,meter_hours,equivalent_annual_cost,by_trials,standard_error"
        assert done.stdout.startswith(header)

    def test_the_table_tells_each_engine(self, fleet: Path) -> None:
        done = run("economic-life", fleet, "--trials", 20)

        assert done.stdout.startswith("Four-stroke, 90 h a year: best replaced after ")

    def test_a_file_that_is_none_is_told(self, tmp_path: Path) -> None:
        assert run("economic-life", tmp_path / "none.toml").exit_code == 2


def test_the_logs_of_the_demo_show_what_logs_are_for() -> None:
    from model.fleet.reading import read_fleet

    fleet = read_fleet(BOATS)

    for kind in ("Boat 14: no reading for 457 days", "Boat 08: row 61, the meter begins anew", "Boat 03: row 27"):
        assert sum(line.startswith(kind) for line in fleet.hour_findings) == 1
    short = [line for line in fleet.hour_findings if "less than a year" in line]
    assert [line[:8] for line in short] == ["Boat 06:", "Boat 07:"]
    assert len(fleet.hour_findings) == 5
    assert set(fleet.hour_fits) == {unit.name for unit in fleet.units}
    assert any(one.fit is not None for one in fleet.mode_fits)
    # Drawn from the engine files' own modes, so about as many as those expect: 4 standard errors of a count.
    seen, expected = (sum(getattr(one, name) for one in fleet.mode_fits) for name in ("repairs", "expected"))
    assert abs(seen - expected) < 4.0 * expected**0.5


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="progress is shown on a terminal")
def test_a_run_cut_short_keeps_what_was_finished_and_says_so(tmp_path: Path) -> None:
    # 500 units, one process, trials enough that a group takes a while: stopped once the bar says that one is finished.
    units = "".join(f"U{number},Four-stroke,1,2023-01-01,400,100,0.2,North,\n" for number in range(500))
    fleet = write_fleet(tmp_path, register=REGISTER.splitlines()[0] + "\n" + units)
    command = [sys.executable, "-m", "model", "fleet", "budget", str(fleet)]
    screen, terminal = os.openpty()
    process = subprocess.Popen(
        [*command, "--trials", "30000", "--workers", "1", "--format", "json"],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=terminal, text=True,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "100"},
    )  # fmt: skip
    os.close(terminal)
    shown = until_shown(screen, r"[1-9]\d* / 20")
    os.kill(process.pid, signal.SIGINT)
    with ThreadPoolExecutor(1) as reader:  # what is told is read beside, so that the terminal never fills
        told = reader.submit(until_shown, screen, r"Cut short: [^.]*\.")
        out, _ = process.communicate(timeout=120)

    assert process.returncode == 130, shown
    finished = re.search(r"Cut short: (\d+) of 500 units were counted", told.result())
    assert finished is not None
    assert 0 < int(finished[1]) < 500
    assert int(finished[1]) % 25 == 0
    report = json.loads(out)
    assert report["units"] == {"counted": int(finished[1]), "of": 500}
    assert finished[0] in report["notes"][0]
    names = {f"U{place}" for place in range(int(finished[1]))}
    assert {due["unit"] for due in report["replacements"]} <= names


def until_shown(screen: int, words: str) -> str:
    """What a terminal shows until words are there; all of it where they never come."""
    shown = ""
    while not re.search(words, shown):
        try:
            more = os.read(screen, 4096)
        except OSError:  # the other end is closed
            return shown
        if not more:
            return shown
        shown += more.decode("utf-8", errors="replace").replace("\r\n", " ")
    return shown


@pytest.mark.parametrize("name", ["hire-boats", "regional-operator"])
def test_the_registers_of_the_project_are_sound(name: str) -> None:
    from model.fleet.reading import read_fleet

    fleet = read_fleet(ROOT / "scenarios" / "registers" / f"{name}.toml")

    assert "nvented" in fleet.file.note
    assert sum(unit.count for unit in fleet.units) == {"hire-boats": 24, "regional-operator": 600}[name]
