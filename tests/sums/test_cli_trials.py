"""The commands trials, sensitivity and flip-points: keys, formats, files, and what is refused."""

import csv
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.rules.project import ROOT

SCENARIO = "scenarios/sailing-school-launch.toml"
WATER_TAXI = "scenarios/water-taxi.toml"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    """A command, start to finish."""
    return subprocess.run(
        [sys.executable, "-m", "model", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )


def answer(*arguments: str) -> Any:
    """What a command answers in JSON."""
    done = run(*arguments, "--format", "json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_trials_in_json() -> None:
    found = answer("trials", SCENARIO, "--trials", "3000", "--seed", "7")

    assert list(found) == [
        "scenario", "trials", "seed", "scenario_hash", "engines", "difference", "break_even_years",
        "chance_over_hours",
    ]  # fmt: skip
    assert (found["trials"], found["seed"], len(found["scenario_hash"])) == (3000, 7, 64)
    engine = found["engines"][0]
    assert list(engine) == [
        "name", "mean", "standard_error", "median", "median_standard_error", "standard_deviation", "intervals",
        "shortest_intervals", "interval_standard_errors", "chance_cheapest", "chance_cheapest_standard_error",
        "expected_regret", "expected_regret_standard_error", "visits_per_year", "repairs", "owner_paid_repairs",
        "by_year",
    ]  # fmt: skip
    for key in ("intervals", "shortest_intervals", "interval_standard_errors"):
        assert list(engine[key]) == ["0.5", "0.8", "0.95"]
    assert list(engine["visits_per_year"]) == list(engine["owner_paid_repairs"]) == ["mean", "standard_error"]
    assert list(found["difference"]) == [
        "baseline", "challenger", "mean", "standard_error", "intervals", "interval_standard_errors",
    ]  # fmt: skip
    assert list(found["break_even_years"]) == [
        "median", "median_standard_error", "intervals", "interval_standard_errors", "never", "never_standard_error",
    ]  # fmt: skip
    assert sum(engine["chance_cheapest"] for engine in found["engines"]) == pytest.approx(1.0)


def test_the_same_seed_gives_the_same_bytes_whatever_the_workers() -> None:
    first, second = (
        run("trials", WATER_TAXI, "--trials", "9000", "--workers", workers, "--format", "json").stdout
        for workers in ("1", "2")
    )

    assert first == second != ""


def test_trials_as_table_and_csv() -> None:
    table, rows = (
        run("trials", SCENARIO, "--trials", "500"),
        run("trials", SCENARIO, "--trials", "500", "--format", "csv"),
    )

    assert "costs least on average" in table.stdout
    assert "500 trials, seed 1" in table.stdout
    assert "\x1b" not in table.stdout + table.stderr
    assert table.stderr == "" or "Preparing" in table.stderr
    found = list(csv.DictReader(io.StringIO(rows.stdout)))
    assert {"engine", "figure", "value", "standard_error"} == set(found[0])
    assert {"mean", "interval_0.8_low", "chance_cheapest"} <= {row["figure"] for row in found}


def test_every_trial_is_saved(tmp_path: Path) -> None:
    target = tmp_path / "trials.csv"
    target.write_text("old")

    assert run("trials", SCENARIO, "--trials", "50", "--save", str(target)).returncode == 0
    rows = list(csv.DictReader(io.StringIO(target.read_text())))

    assert len(rows) == 150
    assert list(rows[0])[:4] == ["trial", "engine", "present_value", "year_1"]
    assert [path.name for path in tmp_path.iterdir()] == ["trials.csv"]


def test_every_trial_is_saved_as_columns(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow")
    import pandas as pd

    target = tmp_path / "trials.parquet"

    assert run("trials", SCENARIO, "--trials", "50", "--save", str(target)).returncode == 0
    assert len(pd.read_parquet(target)) == 150


@pytest.mark.parametrize(
    ("arguments", "key"),
    [
        (("--save", "trials.xlsx"), "--save"),
        (("--save", "no-such-folder/trials.csv"), "--save"),
        (("--trials", "5", "--digits", "1"), "--digits"),
        (("--set", "engines[1].repair[2].scale=0.01"), ".repair["),
    ],
)
def test_what_cannot_be_done_is_told_at_once(arguments: tuple[str, ...], key: str) -> None:
    done = run("trials", SCENARIO, *arguments, "--format", "json")

    assert done.returncode == 2
    assert done.stdout == ""
    assert key in json.loads(done.stderr)["errors"][0]["key"]


@pytest.mark.parametrize("option", [("--trials", "0"), ("--digits", "9"), ("--workers", "0"), ("--seed", "-1")])
def test_numbers_out_of_range_end_with_two(option: tuple[str, str]) -> None:
    assert run("trials", SCENARIO, *option).returncode == 2


def test_digits() -> None:
    found = answer("trials", SCENARIO, "--digits", "1")

    assert found["trials"] % (3 * 4096) == 0


def test_flip_points() -> None:
    found = answer("flip-points", SCENARIO)["flips"]

    keys = ["input", "today", "value", "cheapest_now", "cheapest_beyond", "sentence"]
    assert all(list(flip) == keys for flip in found)
    assert found[0]["input"] == "fuel price"
    assert found[0]["today"] == 1.85
    assert all((flip["value"] is None) == (flip["cheapest_beyond"] is None) for flip in found)
    assert found[0]["sentence"] in " ".join(run("flip-points", SCENARIO).stdout.split())
    assert run("flip-points", SCENARIO, "--format", "csv").stdout.startswith(",".join(keys))


def test_sensitivity() -> None:
    found = answer("sensitivity", WATER_TAXI)

    assert list(found) == ["scenario", "seed", "difference", "inputs"]
    assert {"input", "swing", "first_order", "total"} <= set(found["inputs"][0])
    assert run("sensitivity", WATER_TAXI).returncode == 0
    assert run("sensitivity", WATER_TAXI, "--format", "csv").stdout.count("\n") == len(found["inputs"]) + 1


def interrupted(process: "subprocess.Popen[str]") -> tuple[str, str]:
    """What a process says once it is stopped; pressed again and again, since libraries that are loading hear no key."""
    for _ in range(20):
        process.send_signal(signal.SIGINT)
        try:
            return process.communicate(timeout=5.0)
        except subprocess.TimeoutExpired:
            continue
    process.kill()
    return process.communicate()


def test_stopped_from_the_keyboard() -> None:
    run("trials", SCENARIO, "--trials", "100")  # so that the sums are compiled
    begun = time.perf_counter()
    run("trials", SCENARIO, "--trials", "100")
    start_up = time.perf_counter() - begun  # until then a key ends the program before there is anything to tell
    started = subprocess.Popen(
        [sys.executable, "-m", "model", "trials", SCENARIO, "--trials", "10000000", "--workers", "2"],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=os.environ | {"PYTHONUNBUFFERED": "1"},
    )  # fmt: skip
    time.sleep(start_up + 3.0)
    out, told = interrupted(started)

    assert started.returncode == 130, told
    assert out == ""
    assert "of 10,000,000 trials were done" in told
    assert "Traceback" not in told
