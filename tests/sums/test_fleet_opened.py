"""A fleet opened in a browser is read like one on disk, and none of its names becomes a path outside one folder."""

from pathlib import Path

import pytest

from model.fleet.reading import Opened, read_fleet, read_opened
from model.inputs.problems import InputError, Problem
from tests.small_files import changed
from tests.small_fleet import FLEET, REGISTER, REGISTER_FILE, write_fleet


def opened(folder: Path, fleet: str = FLEET, **tables: str) -> Opened:
    """The smallest fleet as somebody opens it, its engine file in the folder that may be read."""
    write_fleet(folder)
    texts = {REGISTER_FILE: REGISTER} | {name.replace("__", "."): text for name, text in tables.items()}
    return Opened("mine.toml", fleet, tuple(texts.items()), folder / "opened.toml", folder)


def problem_of(what: Opened) -> Problem:
    """What is wrong with it."""
    with pytest.raises(InputError, match="found") as caught:
        read_opened(what)
    (problem,) = caught.value.problems
    return problem


def test_it_is_the_fleet_on_disk(tmp_path: Path) -> None:
    fleet = read_opened(opened(tmp_path), {"fleet.horizon": 3})

    on_disk = read_fleet(tmp_path / "fleet.toml", ["fleet.horizon=3"])
    assert (fleet.file, fleet.units) == (on_disk.file, on_disk.units)


def test_problems_have_the_names_that_their_owner_knows(tmp_path: Path) -> None:
    told = problem_of(opened(tmp_path, units__csv=changed(REGISTER, ("A,Four-stroke,1", "A,Four-stroke,0"))))

    assert (told.file, told.key) == ("units.csv", "row 2, count")


def test_a_table_that_was_not_opened_with_it_is_told(tmp_path: Path) -> None:
    text = changed(FLEET, ("horizon = 4", 'horizon = 4\nrepair_log = "repairs.csv"'))

    told = problem_of(opened(tmp_path, text))

    assert (told.file, told.key, told.found) == ("mine.toml", "fleet.repair_log", "'repairs.csv'")
    assert told.allowed == "one of the files opened with it: units.csv"


@pytest.mark.parametrize("name", ["/etc/passwd", "../../secrets.csv", "fleet.toml", "."])
def test_a_register_is_never_read_from_disk(tmp_path: Path, name: str) -> None:
    told = problem_of(opened(tmp_path, changed(FLEET, ('"units.csv"', f'"{name}"'))))

    assert told.key == "fleet.register"


@pytest.mark.parametrize("name", ["/etc/passwd", "../four.toml"])
def test_an_engine_outside_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="found") as caught:
        read_opened(opened(tmp_path, changed(FLEET, ('"four.toml"', f'"{name}"'))))

    assert any(problem.key == "engines[1].file" for problem in caught.value.problems)


@pytest.mark.parametrize(("text", "found"), [("horizon = ", "Invalid value"), ("a = 1", "nothing")])
def test_what_is_no_fleet_file_is_told(tmp_path: Path, text: str, found: str) -> None:
    assert found in problem_of(opened(tmp_path, text)).found
