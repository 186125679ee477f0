"""A first reading above those after it: a typing error, an exchanged meter, or either."""

from datetime import date
from pathlib import Path

import pytest

from model.fleet.cleaning import Reading
from model.fleet.first_reading import Cleaned, First, Registered, cleaned
from model.fleet.reading import Fleet
from model.inputs.problems import InputError
from tests.small_files import changed
from tests.small_fleet import FLEET, REGISTER, small_fleet

AS_OF = date(2027, 1, 1)

Log = list[tuple[str, float]]


LATER = date(2027, 6, 1)


def judged(since: str, meter_hours: float, log: Log, as_of: date = AS_OF) -> Cleaned:
    """A log of one engine, cleaned."""
    readings = [Reading(date.fromisoformat(day), hours, row) for row, (day, hours) in enumerate(log, start=2)]
    return cleaned(readings, Registered(date.fromisoformat(since), meter_hours, as_of))


CASES: dict[str, tuple[str, float, Log, First]] = {
    # 91 days hold 2,184 h: no new meter shows 2,300 h. A boat of 2 years 9 months may have run 9,000 h of 24,096.
    "no new meter has run that long": (
        "2022-01-01", 2500, [("2024-10-01", 9000), ("2024-12-31", 2300), ("2025-07-01", 2400)], First.WRONG),
    # From 2023-01-01 to 2023-06-30 there are 181 days, 4,344 h.
    "no engine has run that long": (
        "2023-01-01", 420, [("2023-06-30", 4400), ("2023-12-31", 95), ("2024-12-31", 200), ("2026-12-31", 420)],
        First.WRONG),
    # A digit too many: 300 h in three years, 100 h a year since. As a new meter it had run 325 h in a quarter.
    "ten times too high": (
        "2021-01-01", 600, [("2024-01-01", 3000), ("2024-04-01", 325), ("2025-04-01", 425), ("2026-12-31", 600)],
        First.TAKEN_AS_WRONG),
    "a wrong digit": (
        "2021-01-01", 600, [("2024-01-01", 800), ("2024-04-01", 325), ("2025-04-01", 425), ("2026-12-31", 600)],
        First.TAKEN_AS_WRONG),
    # 900 h in nine years, then 100 h a year on the new meter: as one meter it had run 20 h in nine years.
    "an exchanged meter, the register has the new one": (
        "2015-01-01", 290, [("2024-01-01", 900), ("2024-04-01", 20), ("2025-04-01", 120), ("2026-12-31", 290)],
        First.TAKEN_AS_RIGHT),
    # 900 h and 290 h on two meters are 1,190 h since new: the 290 h alone would have become those in a day.
    "an exchanged meter, the register has all hours": (
        "2015-01-01", 1190, [("2024-01-01", 900), ("2024-04-01", 20), ("2025-04-01", 120), ("2026-12-31", 290)],
        First.STANDS),
    # It once ran 500 h a year, now 100 h: five times less, where 20 h in six years would be thirty times less.
    "an exchanged meter of a boat that runs less now": (
        "2018-01-01", 290, [("2024-01-01", 3000), ("2024-04-01", 20), ("2025-04-01", 120), ("2026-12-31", 290)],
        First.TAKEN_AS_RIGHT),
    "a meter exchanged on the day it is read": (
        "2015-01-01", 270, [("2024-01-01", 900), ("2024-04-01", 0), ("2025-04-01", 100), ("2026-12-31", 270)],
        First.TAKEN_AS_RIGHT),
    "a boat that lies still since": (
        "2015-01-01", 20, [("2024-01-01", 900), ("2024-04-01", 20), ("2025-04-01", 20)], First.TAKEN_AS_RIGHT),
    "another reading may be the wrong one": (
        "2021-01-01", 600, [("2024-01-01", 400), ("2024-04-01", 325), ("2025-04-01", 425), ("2026-12-31", 600)],
        First.STANDS),
    "the rest contradicts itself": (
        "2021-01-01", 600, [("2024-01-01", 3000), ("2024-04-01", 325), ("2025-04-01", 425), ("2026-12-31", 60)],
        First.STANDS),
    "nothing after decides": ("2021-01-01", 600, [("2024-01-01", 3000), ("2024-04-01", 325)], First.STANDS),
    "before the engine was there": (
        "2024-02-01", 600, [("2024-01-01", 3000), ("2024-04-01", 325), ("2025-04-01", 425)], First.STANDS),
    "too low": ("2021-01-01", 600, [("2024-01-01", 3), ("2024-01-08", 325), ("2025-04-01", 425)], First.STANDS),
}  # fmt: skip


@pytest.mark.parametrize(("since", "meter_hours", "log", "first"), CASES.values(), ids=CASES)
def test_what_a_first_reading_is(since: str, meter_hours: float, log: Log, first: First) -> None:
    assert judged(since, meter_hours, log).first is first


@pytest.mark.parametrize(
    ("since", "log", "kept"),
    [
        ("2021-01-01", [9000.0, 325.0, 9500.0, 425.0, 525.0], [325.0, 425.0, 525.0]),
        ("2015-01-01", [900.0, 20.0, 950.0, 120.0, 220.0], [900.0, 20.0, 120.0, 220.0]),
    ],
    ids=["a typing error", "an exchanged meter"],
)
def test_the_second_reading_is_not_judged_by_the_first(since: str, log: list[float], kept: list[float]) -> None:
    # Between the first and the third the second would be the one that does not fit.
    days = ("2024-01-01", "2024-04-01", "2024-07-01", "2025-04-01", "2026-04-01")

    found = judged(since, 600.0, list(zip(days, log, strict=True)))

    assert [one.hours for one in found.kept] == kept
    assert [one.hours for one in found.errors] == [log[2]]


def test_without_a_register_the_first_reading_stands() -> None:
    readings = [Reading(date(2024, 1, day), hours, day) for day, hours in ((1, 9000.0), (2, 9.0), (3, 10.0))]

    assert cleaned(readings, None) == Cleaned(readings, [], First.STANDS)


WITH_HOURS = changed(FLEET, ("horizon = 4", 'horizon = 4\nhour_log = "hours.csv"'))


def logged(folder: Path, in_service: str, meter_hours: int, log: Log) -> Fleet:
    """The small fleet, unit A with that log in place of its hours a year."""
    register = changed(REGISTER, ("2023-01-01,400,100,", f"{in_service},{meter_hours},,"))
    rows = "".join(f"A,{day},{hours:g}\n" for day, hours in log)
    return small_fleet(folder, fleet=WITH_HOURS, register=register, hours="unit,date,reading\n" + rows)


@pytest.mark.parametrize(
    ("name", "told", "hours_per_year", "was_reset"),
    [
        ("no engine has run that long", "A: row 2, the first reading, 4,400 h, does not fit those after it",
         325.0 / 3, False),
        ("ten times too high", "It is taken as a typing error and left out", 275.0 / 2.75, False),
        ("an exchanged meter, the register has the new one",
         "It is taken as right, and the meter as begun anew at 20 h in row 3", 290.0 / 3, True),
        ("an exchanged meter, the register has all hours", "A: row 3, the meter begins anew at 20 h.", 290.0 / 3, True),
    ],
)  # fmt: skip
def test_it_is_told_and_counted_as_it_was_taken(
    tmp_path: Path, name: str, told: str, hours_per_year: float, was_reset: bool
) -> None:
    since, meter_hours, log, _ = CASES[name]

    fleet = logged(tmp_path, since, int(meter_hours), log)

    assert len([line for line in fleet.hour_findings if told in line]) == 1
    assert len([line for line in fleet.hour_findings if "row" in line]) == 1
    assert fleet.hour_fits["A"].hours_per_year == pytest.approx(hours_per_year, rel=0.002)  # a day more or less
    assert fleet.hour_fits["A"].was_reset is was_reset


def test_a_first_reading_that_the_engine_cannot_have_run_is_refused_where_nothing_speaks_against_it(
    tmp_path: Path,
) -> None:
    log = [("2023-06-30", 4400.0), ("2023-12-31", 4500.0), ("2024-12-31", 4600.0)]

    with pytest.raises(InputError, match="all hours since in_service") as caught:
        logged(tmp_path, "2023-01-01", 4700, log)

    assert [problem.key for problem in caught.value.problems] == ["row 2, reading"]


@pytest.mark.parametrize("as_of", [AS_OF, LATER])
def test_a_register_that_counts_both_meters_decides_whenever_it_was_written(as_of: date) -> None:
    log = [("2024-01-01", 3000.0), ("2024-04-01", 325.0), ("2025-04-01", 425.0), ("2026-12-31", 600.0)]

    assert judged("2021-01-01", 3600, log, as_of).first is First.STANDS
