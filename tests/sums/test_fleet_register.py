"""A register is read whole, and everything wrong with it is told by row and column, all at once."""

from pathlib import Path

import pytest

from model.inputs.problems import InputError, Problem
from tests.small_files import Change, changed
from tests.small_fleet import FLEET, REGISTER, small_fleet, write_fleet


def problems_of(folder: Path, *sets: str, **texts: str) -> list[Problem]:
    """What is wrong with a fleet."""
    with pytest.raises(InputError, match="found") as caught:
        small_fleet(folder, *sets, **texts)
    return list(caught.value.problems)


def test_units_are_carried_to_the_first_budget_day(tmp_path: Path) -> None:
    fleet = small_fleet(tmp_path, fleet=changed(FLEET, ("budget_start = 2027-01-01", "budget_start = 2028-01-01")))
    a, b = fleet.units

    assert (a.meter_hours, b.meter_hours) == (500.0, 230.0)
    assert (a.age, b.age) == (5.0, 3.0)
    assert (a.count, b.count, a.site, a.variation, b.variation) == (1, 2, "North", 0.2, 0.0)


def test_a_unit_without_variation_has_that_of_the_file(tmp_path: Path) -> None:
    text = FLEET + '[use.spread]\nshape = "lognormal"\nvariation = 0.3\n'

    assert [unit.variation for unit in small_fleet(tmp_path, fleet=text).units] == [0.2, 0.3]


def test_a_variation_that_fixed_hours_leave_out_is_told(tmp_path: Path) -> None:
    fixed = small_fleet(tmp_path, fleet=FLEET + '[use.spread]\nshape = "fixed"\n')
    without = small_fleet(
        tmp_path, fleet=FLEET + '[use.spread]\nshape = "fixed"\n', register=changed(REGISTER, ("0.2", "0"))
    )
    spread = small_fleet(tmp_path)

    (told,) = set(fixed.left_out) - set(spread.left_out)
    assert told.startswith("the variation of hours of 1 unit ")
    assert set(without.left_out) == set(spread.left_out)


ROW = "A,Four-stroke,1,2023-01-01,400,100,0.2,North,"

BAD_CELLS: dict[str, tuple[Change, str, str, str]] = {
    "unknown engine": (("A,Four-stroke", "A,Four-strok"), "row 2, engine", "'Four-strok'", "Four-stroke? Known here"),
    "no engine": (("A,Four-stroke", "A,"), "row 2, engine", "nothing", "text"),
    "duplicate unit": (("B,", "A,"), "row 3, unit", "'A' a second time", "row 2 has it"),
    "no unit": (("A,Four", ",Four"), "row 2, unit", "nothing", "text"),
    "date in the future": (("2023-01-01", "2027-01-02"), "row 2, in_service", "2027-01-02", "2027-01-01, fleet.as_of"),
    "not a date": (("2023-01-01", "01.01.2023"), "row 2, in_service", "'01.01.2023'", "a date such as 2021-04-15"),
    "a date without hyphens": (("2023-01-01", "20230101"), "row 2, in_service", "'20230101'", "such as 2021-04-15"),
    "a date by weeks": (("2023-01-01", "2022-W52-7"), "row 2, in_service", "'2022-W52-7'", "such as 2021-04-15"),
    "a command to a terminal": (("A,Four", "\x1b[31mA,Four"), "row 2, unit", "'\\x1b[31mA'", "without control"),
    "a null": (("North,", "No\x00rth,"), "row 2, site", "'No\\x00rth'", "without control characters"),
    "a line break": (("North,", 'North,"one\ntwo"'), "row 3, note", "'one\\ntwo'", "text on one line"),
    "negative hours": ((",400,", ",-400,"), "row 2, meter_hours", "'-400'", "a number, 0 to 1,000,000 h"),
    "negative hours a year": ((",400,100", ",400,-1"), "row 2, hours_per_year", "'-1'", "0 to 8,766 h a year"),
    "hours not a number": ((",400,", ",NaN,"), "row 2, meter_hours", "'NaN'", "a number"),
    "no hours": ((",400,", ",,"), "row 2, meter_hours", "nothing", "a number, 0 to"),
    "more hours than there were": ((",400,", ",40000,"), "row 2, meter_hours", "40000", "all hours since in_service"),
    "count 0": (("A,Four-stroke,1", "A,Four-stroke,0"), "row 2, count", "'0'", "1 to 12 engines"),
    "half an engine": (("A,Four-stroke,1", "A,Four-stroke,1.5"), "row 2, count", "'1.5'", "a whole number"),
    "a formula": (("North,", "=1+1,"), "row 2, site", "'=1+1'", "does not run as a formula"),
    "a formula for a number": ((",400,", ",=SUM(1),"), "row 2, meter_hours", "'=SUM(1)'", "no formula"),
    "too many cells": ((ROW, ROW + ",1,2"), "row 2, cells", "11 cells", "at most 9"),
}


@pytest.mark.parametrize(("change", "key", "found", "allowed"), BAD_CELLS.values(), ids=BAD_CELLS)
def test_a_bad_cell_is_told(tmp_path: Path, change: Change, key: str, found: str, allowed: str) -> None:
    (problem,) = problems_of(tmp_path, register=changed(REGISTER, change))

    assert problem.file == str(tmp_path / "units.csv")
    assert problem.key == key
    assert found in problem.found
    assert allowed in problem.allowed


def test_no_engine_is_older_than_a_century_or_has_run_more_than_a_meter_shows(tmp_path: Path) -> None:
    days = (("as_of = 2027-01-01", "as_of = 2140-01-01"), ("budget_start = 2027-01-01", "budget_start = 2141-01-01"))
    register = changed(REGISTER, ("2023-01-01,400,", "2023-01-01,999950,"), ("2025-01-01", "2040-12-31"))

    keys = [problem.key for problem in problems_of(tmp_path, fleet=changed(FLEET, *days), register=register)]

    assert keys == ["row 2, in_service", "row 2, meter_hours", "row 3, in_service"]


BAD_REGISTERS = {
    "empty": ("", "row 1", "no header"),
    "no header": (ROW + "\n", "row 1", "no header"),
    "a header only": (REGISTER.splitlines()[0] + "\n", "row 2", "no units"),
    "semicolons": (REGISTER.replace(",", ";"), "row 1", "no header"),
    "a missing column": (REGISTER.replace("in_service", "note2"), "row 1", "no column in_service"),
    "a column twice": (REGISTER.replace("note", "site"), "row 1", "column site twice"),
    "a broken quote": (REGISTER.replace("North", '"North'), "row 3", "no CSV"),
}


@pytest.mark.parametrize(("text", "key", "found"), BAD_REGISTERS.values(), ids=BAD_REGISTERS)
def test_a_bad_register_is_told(tmp_path: Path, text: str, key: str, found: str) -> None:
    problems = problems_of(tmp_path, register=text)

    assert problems[0].key == key
    assert found in problems[0].found


def test_all_bad_cells_are_told_at_once(tmp_path: Path) -> None:
    register = changed(REGISTER, ("A,Four-stroke,1", "A,Five,0"), ("2025-01-01", "soon"), (",80,", ",-80,"))

    keys = [problem.key for problem in problems_of(tmp_path, register=register)]

    assert keys == ["row 2, count", "row 2, engine", "row 3, in_service", "row 3, hours_per_year"]


BAD_FILES: dict[str, tuple[Change, str, str, str]] = {
    "a candidate that is no engine": (
        ('candidates = ["Four-stroke"]', 'candidates = ["Five"]'), "fleet.candidates[1]", "'Five'", '"Four-stroke"'),
    "no candidates": (
        ('candidates = ["Four-stroke"]', "candidates = []"), "fleet.candidates", "an empty list", "1 or more"),
    "two policies": (("at_age = 5", "at_age = 5, keep = true"), "fleet.policy", "at_age, keep", "one of"),
    "as_of after the start": (
        ("as_of = 2027-01-01", "as_of = 2027-01-02"), "fleet.as_of", "2027-01-02", "not after budget_start"),
    "a budget that begins a century later": (
        ("budget_start = 2027-01-01", "budget_start = 2127-01-01"), "fleet.budget_start", "2127-01-01",
        "not after 2032-01-01"),
    "a repair log from after the readings": (
        ("horizon = 4", "horizon = 4\nrepair_log_from = 2027-01-02"), "fleet.repair_log_from", "2027-01-02",
        "not after as_of"),
    "no register": (('register = "units.csv"', 'register = "none.csv"'), "fleet.register", "no such file", "a CSV"),
    "unknown key": (("horizon = 4", "horizon = 4\nhorizont = 5"), "fleet.horizont", "'horizont'", "horizon?"),
    "hours in the fleet file": (
        ("[prices]", "[use]\nhours_per_year = 3\n[prices]"), "use.hours_per_year", "3", "the register has each unit's"),
    "an ownership period": (
        ("[prices]", "[ownership]\nyears = 3\n[prices]"), "ownership", "a table", "fleet.budget_start and fleet"),
    "fits without a log": (
        ("horizon = 4", "horizon = 4\nfit_repairs = true"), "fleet.fit_repairs", "true", "repair_log"),
    "no fleet": (("[fleet]", "[fleets]"), "fleet", "nothing", "a fleet file"),
}  # fmt: skip


@pytest.mark.parametrize(("change", "key", "found", "allowed"), BAD_FILES.values(), ids=BAD_FILES)
def test_a_bad_fleet_file_is_told(tmp_path: Path, change: Change, key: str, found: str, allowed: str) -> None:
    text = FLEET
    if "[use]" in change[1]:  # TOML takes no table after its arrays of tables
        text = text.replace("[[use.band]]\nspeed = 0.1\nshare = 0.5\n[[use.band]]\nspeed = 1.0\nshare = 0.5\n", "")

    (problem,) = problems_of(tmp_path, fleet=changed(text, change))

    assert problem.key == key
    assert found in problem.found
    assert allowed in problem.allowed


def test_no_candidate_of_about_the_power_is_told(tmp_path: Path) -> None:
    path = write_fleet(tmp_path)
    small = (tmp_path / "four.toml").read_text(encoding="utf-8")
    (tmp_path / "large.toml").write_text(
        small.replace('"Four-stroke"', '"Large"').replace("rated_power = 30", "rated_power = 60"), encoding="utf-8"
    )
    text = FLEET.replace('["Four-stroke"]', '["Large"]') + '[[engines]]\nfile = "large.toml"\n'
    path.write_text(text, encoding="utf-8")

    problems = problems_of(tmp_path, fleet=text)

    assert [problem.key for problem in problems] == ["row 2, engine", "row 3, engine"]
    assert "within 25 %" in problems[0].allowed


def test_settings_reach_the_fleet(tmp_path: Path) -> None:
    fleet = small_fleet(tmp_path, "fleet.horizon=7", "prices.fuel=3.0")

    assert (fleet.terms.horizon, fleet.file.ownership.years, fleet.file.prices.fuel) == (7, 7.0, 3.0)


def test_a_hundred_thousand_rows_are_read(tmp_path: Path) -> None:
    rows = [f"Boat {number},Four-stroke,1,2023-01-01,400,100,0.2,North," for number in range(100_000)]
    path = write_fleet(tmp_path, register="\n".join([REGISTER.splitlines()[0], *rows]))

    fleet = small_fleet(path.parent, register=(tmp_path / "units.csv").read_text(encoding="utf-8"))

    assert len(fleet.units) == 100_000


@pytest.mark.parametrize(
    ("key", "value", "allowed"),
    [("per_boat", "2", "the register has each boat's own count"), ("trade_in", "1500", "resale and fleet.trade_in")],
)
def test_what_the_register_or_the_fleet_says_stands_on_no_engine(
    tmp_path: Path, key: str, value: str, allowed: str
) -> None:
    entry = FLEET.replace('file = "four.toml"', f'file = "four.toml"\n{key} = {value}')

    (problem,) = problems_of(tmp_path, fleet=entry)

    assert problem.key == f'engines["Four-stroke"].{key}'
    assert allowed in problem.allowed


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (('"Hire boats"', '"Hire\\u001b[2J"'), "title"),
        (('"Invented."', '"Invented\\u001b[2J"'), "note"),
        (('"units.csv"', '"units\\u001b[2J.csv"'), "fleet.register"),
        (("horizon = 4", 'horizon = 4\nhour_log = "\\u001b[2J"'), "fleet.hour_log"),
        (("horizon = 4", 'horizon = 4\nrepair_log = "\\u001b[2J"'), "fleet.repair_log"),
    ],
    ids=["title", "note", "register", "hour log", "repair log"],
)
def test_a_command_to_a_terminal_in_a_text_of_the_fleet_file_is_told(tmp_path: Path, change: Change, key: str) -> None:
    (problem,) = problems_of(tmp_path, fleet=changed(FLEET, change))

    assert (Path(problem.file).name, problem.key) == ("fleet.toml", key)
    assert "\\x1b[2J" in problem.found
    assert "without control characters" in problem.allowed


def test_a_command_to_a_terminal_in_the_name_of_an_engine_is_told(tmp_path: Path) -> None:
    text = FLEET.replace('file = "four.toml"', 'file = "four.toml"\nname = "Four\\u001b[2J"')

    allowed = [problem.allowed for problem in problems_of(tmp_path, fleet=text) if problem.key.endswith("name")]

    assert len(allowed) == 1
    assert allowed[0].startswith("text on one line, without control characters")
