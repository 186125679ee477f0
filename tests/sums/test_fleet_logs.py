"""Hour-meter and repair logs: what is fitted, what is told, what is refused."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from model.fleet.csv_rows import MOST_COMPARED, UnitNames
from model.fleet.log_reports import FIT_COLUMNS, fit_rows, stated_hours
from model.fleet.logs_told import notes_of_hours
from model.fleet.power_law import fit_power_law, mean_cumulative_repairs, observed
from model.fleet.workbook import workbook
from model.inputs.problems import InputError
from model.inputs.terms import HOURS_IN_A_YEAR
from tests.small_files import changed
from tests.small_fleet import FLEET, REGISTER, small_fleet
from tests.tolerances import IDENTITY, half_last_digit

WITH_HOURS = changed(FLEET, ("horizon = 4", 'horizon = 4\nhour_log = "hours.csv"'))
WITH_REPAIRS = changed(FLEET, ("horizon = 4", 'horizon = 4\nrepair_log = "repairs.csv"'))


def hour_log(*readings: tuple[str, str, float]) -> str:
    """A log of unit, date, reading."""
    return "unit,date,reading\n" + "".join(f"{unit},{day},{hours:g}\n" for unit, day, hours in readings)


def yearly(unit: str, hours: list[float]) -> list[tuple[str, str, float]]:
    """Readings about a year apart, from 2023-01-01."""
    total, rows = 0.0, [(unit, "2023-01-01", 0.0)]
    for year, more in enumerate(hours, start=1):
        total += more
        rows.append((unit, (date(2023, 1, 1) + timedelta(days=365.25 * year)).isoformat(), total))
    return rows


class TestHourLog:
    def test_hours_and_spread_stand_for_empty_cells(self, tmp_path: Path) -> None:
        register = changed(REGISTER, (",400,100,0.2,", ",400,,,"))
        log = hour_log(*yearly("A", [80.0, 100.0, 120.0]))

        a = small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=log).units[0]

        assert a.hours_per_year == pytest.approx(100.0, abs=half_last_digit(0))
        assert a.variation == pytest.approx(0.2, abs=half_last_digit(2))

    def test_cells_that_are_filled_stay(self, tmp_path: Path) -> None:
        log = hour_log(*yearly("A", [20.0, 20.0, 20.0]))

        assert small_fleet(tmp_path, fleet=WITH_HOURS, hours=log).units[0].hours_per_year == 100.0

    @pytest.mark.parametrize(
        ("readings", "told"),
        [
            ([("2023-01-01", 0), ("2023-06-01", 500), ("2024-01-01", 90), ("2025-01-01", 200)], "row 3, 500 h does"),
            ([("2023-01-01", 0), ("2023-06-01", 50), ("2024-01-01", 10), ("2025-01-01", 200)], "row 4, 10 h does not"),
            ([("2023-01-01", 0), ("2023-06-01", 9999), ("2024-01-01", 100)], "row 3, 9,999 h does not"),
            ([("2023-01-05", 90), ("2024-01-01", 190), ("2024-06-01", 20), ("2025-01-01", 90)], "begins anew at 20 h"),
            ([("2023-01-01", 0), ("2025-01-01", 150)], "no reading for 731 days before Jan 1, 2025"),
            ([("2026-06-01", 100), ("2026-08-31", 250)], "readings over 91 days, less than a year"),
            ([("2026-08-24", 100), ("2026-08-31", 160)], "readings over 7 days make no hours a year"),
            ([("2026-08-31", 160)], "A: one reading alone makes no hours a year; it takes readings over 56 days"),
        ],
    )  # fmt: skip
    def test_gaps_resets_and_typing_errors_are_told(
        self, tmp_path: Path, readings: list[tuple[str, float]], told: str
    ) -> None:
        log = hour_log(*(("A", day, hours) for day, hours in readings))

        warnings = small_fleet(tmp_path, fleet=WITH_HOURS, hours=log).hour_findings

        assert len([line for line in warnings if told in line]) == 1

    def test_a_reset_meter_goes_on_from_zero(self, tmp_path: Path) -> None:
        register = changed(REGISTER, (",400,100,0.2,", ",400,,0.2,"))
        read = ((2023, 100), (2024, 200), (2025, 80), (2026, 180))
        log = hour_log(*(("A", f"{year}-02-01", hours) for year, hours in read))

        a = small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=log).units[0]

        assert a.hours_per_year == pytest.approx((100 + 80 + 100) / 3, rel=0.01)

    @pytest.mark.parametrize(
        ("rows", "key", "found"),
        [
            ([("A", "2023-01-01", 100), ("A", "2024-01-01", 90)], "row 3, reading", "90"),
            ([("A", "2023-01-01", 100), ("A", "2023-01-01", 90)], "row 3, date", "a second time"),
            ([("A", "2027-06-01", 100)], "row 2, date", "2027-06-01"),
            ([("A", "spring", 100)], "row 2, date", "'spring'"),
            ([("A", "2023-01-01", -5)], "row 2, reading", "'-5'"),
            ([("A", "2023-01-01", 5), ("AA", "2023-01-01", 5)], "row 3, unit", "'AA'"),
            ([("A", "2023-01-01", 0), ("A", "2026-12-01", 450)], "row 2, meter_hours", "400"),
            ([*yearly("A", [50.0, 60.0]), ("A", "2025-01-11", 390)], "row 5, reading", "390"),
            ([("A", "2026-10-13", 7), ("A", "2026-10-14", 100)], "row 3, reading", "100"),
            ([("A", "2022-12-31", 0), ("A", "2024-12-31", 100)], "row 2, date", "2022-12-31"),
            ([("A", "2023-01-05", 150), ("A", "2024-12-31", 300)], "row 2, reading", "150"),
        ],
        ids=[
            "runs backwards",
            "twice a day",
            "in the future",
            "not a date",
            "negative",
            "no such unit",
            "register below the log",
            "a digit too many at the end",
            "more than a day has hours",
            "before the engine was there",
            "more than the engine has had hours",
        ],
    )
    def test_bad_readings_are_refused(
        self, tmp_path: Path, rows: list[tuple[str, str, float]], key: str, found: str
    ) -> None:
        with pytest.raises(InputError, match="found") as caught:
            small_fleet(tmp_path, fleet=WITH_HOURS, hours=hour_log(*rows))

        (problem,) = caught.value.problems
        assert problem.key == key
        assert found in problem.found

    @pytest.mark.parametrize(
        ("readings", "found"),
        [
            ([("A", "2026-08-31", 160)], "nothing, and one reading in the hour log"),
            (
                [("A", "2026-08-24", 100), ("A", "2026-08-31", 160)],
                "nothing, and readings from 2026-08-24 to 2026-08-31 only",
            ),
            ([("B", "2025-06-01", 20), ("B", "2026-06-01", 90)], "nothing, and no reading in the hour log"),
        ],
    )
    def test_what_the_log_lacks_for_an_empty_cell_is_told(
        self, tmp_path: Path, readings: list[tuple[str, str, float]], found: str
    ) -> None:
        register = changed(REGISTER, (",400,100,0.2,", ",400,,0.2,"))

        with pytest.raises(InputError, match="found") as caught:
            small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=hour_log(*readings))

        (problem,) = caught.value.problems
        assert (problem.key, problem.allowed.endswith("readings over eight weeks or more in the hour log")) == (
            "row 2, hours_per_year", True)  # fmt: skip
        assert problem.found.startswith(found)

    @pytest.mark.parametrize(
        ("season", "own"),
        # 80, 100, 120 h vary by 0.2; 1.04 / 1.0144 - 1 is 0.0252366.
        [(0.0, 0.2), (0.12, 0.15886), (0.3, 0.0)],
    )
    def test_the_season_in_a_log_is_not_counted_as_the_units_own(
        self, tmp_path: Path, season: float, own: float
    ) -> None:
        register = changed(REGISTER, (",400,100,0.2,", ",400,,,"))
        log = hour_log(*yearly("A", [80.0, 100.0, 120.0]))

        a = small_fleet(
            tmp_path, f"fleet.season_variation={season}", fleet=WITH_HOURS, register=register, hours=log
        ).units[0]

        assert a.variation == pytest.approx(own, abs=half_last_digit(2))

    @pytest.mark.parametrize(
        ("season", "hours", "told"),
        [
            (0.12, [80.0, 100.0, 120.0], ["The variation by the hour log holds the season's, 12 %, which all units"]),
            (0.0, [80.0, 100.0, 120.0], []),
            (0.12, [80.0, 100.0], []),
        ],
        ids=["both", "no season", "too short for a variation"],
    )
    def test_what_the_variation_of_a_log_holds_is_told(
        self, tmp_path: Path, season: float, hours: list[float], told: list[str]
    ) -> None:
        log = hour_log(*yearly("A", hours))

        fleet = small_fleet(tmp_path, f"fleet.season_variation={season}", fleet=WITH_HOURS, hours=log)

        assert [line[: len(told[0])] for line in notes_of_hours(fleet)] == told

    def test_of_two_readings_that_contradict_the_later_one_is_told_with_the_most_it_could_be(
        self, tmp_path: Path
    ) -> None:
        # 87 days hold 2,088 h: the second 690 may have a digit too many, and nothing after it decides.
        log = hour_log(("A", "2025-07-15", 60), ("A", "2026-07-15", 190), ("A", "2026-10-10", 6990))

        with pytest.raises(InputError, match="24 h a day from 2026-07-15") as caught:
            small_fleet(tmp_path, fleet=WITH_HOURS, hours=log)

        assert caught.value.problems[0].allowed.startswith("at most 2,278 h")

    def test_two_wrong_readings_in_a_row_are_told(self, tmp_path: Path) -> None:
        days = ("2023-01-01", "2023-04-01", "2023-07-01", "2023-10-01", "2024-01-01")
        log = hour_log(*(("A", day, hours) for day, hours in zip(days, (20, 9000, 9100, 90, 190), strict=True)))

        with pytest.raises(InputError, match="24 h a day") as caught:
            small_fleet(tmp_path, fleet=WITH_HOURS, hours=log)

        assert [problem.key for problem in caught.value.problems] == ["row 3, reading"]

    def test_no_log_has_more_hours_a_year_than_a_year_has(self, tmp_path: Path) -> None:
        register = changed(REGISTER, ("2023-01-01,400,100,0.2,", "2023-01-01,9000,,0.2,"))
        log = hour_log(("A", "2025-01-01", 0), ("A", "2026-01-01", 24 * 365))

        a = small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=log).units[0]

        assert a.hours_per_year == pytest.approx(HOURS_IN_A_YEAR, rel=IDENTITY)

    @pytest.mark.parametrize(("meter", "is_told"), [(400, True), (1290, False)])
    def test_a_register_without_the_old_meters_hours_is_told(self, tmp_path: Path, meter: int, is_told: bool) -> None:
        register = changed(REGISTER, ("2023-01-01,400,100,0.2,", f"2023-01-01,{meter},,0.2,"))
        log = hour_log(
            ("A", "2024-01-01", 900), ("A", "2024-04-01", 20), ("A", "2025-04-01", 120), ("A", "2026-04-01", 390)
        )

        found = small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=log)

        told = "A: by the log it has run 1,290 h or more since new"
        assert any(line.startswith(told) for line in found.hour_findings) is is_told

    def test_a_register_below_the_new_meters_last_reading_is_refused(self, tmp_path: Path) -> None:
        register = changed(REGISTER, ("2023-01-01,400,100,0.2,", "2023-01-01,10,,0.2,"))
        log = hour_log(
            ("A", "2024-01-01", 900), ("A", "2024-04-01", 20), ("A", "2025-04-01", 120), ("A", "2026-04-01", 390)
        )

        with pytest.raises(InputError, match="meters do not run backwards"):
            small_fleet(tmp_path, fleet=WITH_HOURS, register=register, hours=log)

    def test_hours_that_the_register_takes_from_the_log_are_not_its_own(self, tmp_path: Path) -> None:
        log = hour_log(*yearly("A", [100.0, 120.0, 110.0]))
        empty = changed(REGISTER, ("2023-01-01,400,100,0.2,", "2023-01-01,400,,0.2,"))

        assert stated_hours(small_fleet(tmp_path, fleet=WITH_HOURS, hours=log)) == {"A": 100.0}
        assert stated_hours(small_fleet(tmp_path, fleet=WITH_HOURS, register=empty, hours=log)) == {"A": None}


def test_a_log_of_another_fleet_is_told_without_comparing_every_name_with_every_other() -> None:
    names = UnitNames([f"Boat {number}" for number in range(MOST_COMPARED // 2)])

    assert names.instead_of("Boat 0x") == names.instead_of("Boat 0x")
    assert "? " in names.instead_of("Boat 1x")  # the first was looked up once, so this one is the second
    assert names.instead_of("Boat 2x") == "a unit of the register"


class TestRepairLog:
    HEAD = "unit,date,meter_hours,mode,cost\n"
    DATED = (("2024-01-01", 50), ("2024-05-01", 200), ("2024-09-01", 380))

    @pytest.mark.parametrize(
        ("row", "key", "found"),
        [
            ("C,2024-01-01,100,Fuel system,", "row 2, unit", "'C'"),
            ("A,2024-01-01,100,Fuel,", "row 2, mode", "'Fuel'"),
            ("A,2024-01-01,9000,Fuel system,", "row 2, meter_hours", "9000"),
            ("A,2028-01-01,100,Fuel system,", "row 2, date", "2028-01-01"),
            ("A,2024-01-01,100,Fuel system,=1", "row 2, cost", "'=1'"),
        ],
    )
    def test_bad_rows_are_refused(self, tmp_path: Path, row: str, key: str, found: str) -> None:
        with pytest.raises(InputError, match="found") as caught:
            small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + row + "\n")

        (problem,) = caught.value.problems
        assert problem.key == key
        assert found in problem.found

    def test_modes_are_fitted_on_their_own_clocks(self, tmp_path: Path) -> None:
        rows = [f"A,{day},{hours},Fuel system,{hours}" for day, hours in self.DATED]
        rows += [f"B,{year}-07-01,20,Wiring," for year in (2025, 2026)] + ["A,2025-01-01,390,Wiring,"]

        fleet = small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows))
        fits = {fit.mode: fit for fit in fleet.mode_fits}

        fuel, wiring = fits["Fuel system"], fits["Wiring"]
        assert fuel.fit == fit_power_law(observed([50, 200, 380], [0, 0, 0], [400, 150, 150]))
        assert fuel.mean_cost == pytest.approx(210.0)
        assert wiring.fit is not None
        assert wiring.repairs == 3
        assert wiring.mean_cost is None

    def test_repairs_seen_stand_beside_those_that_the_file_expects(self, tmp_path: Path) -> None:
        rows = [f"A,{day},{hours},Fuel system," for day, hours in self.DATED[:2]] + ["B,2026-01-01,100,Fuel system,"]

        (fuel, wiring) = small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows)).mode_fits

        # A was watched to 400 h, both engines of B to 150 h; the file expects one by 1,000 h, shape 1.5.
        assert fuel.expected == pytest.approx(0.4**1.5 + 2 * 0.15**1.5, rel=IDENTITY)
        # At 50 and 100 h three engines were watched, at 200 h one.
        assert [age for age, _ in fuel.seen] == [50.0, 100.0, 200.0]
        assert [mean for _, mean in fuel.seen] == pytest.approx([1 / 3, 2 / 3, 5 / 3], rel=IDENTITY)
        assert (wiring.repairs, wiring.seen) == (0, ())
        assert wiring.expected == pytest.approx((4 + 2 * 2) / 4, rel=IDENTITY)  # one by four years, shape 1

    def test_what_is_counted_and_what_is_expected_are_of_the_same_time(self, tmp_path: Path) -> None:
        rows = ["A,2024-06-01,100,Fuel system,", "A,2026-07-02,300,Fuel system,", "B,2026-07-02,100,Fuel system,"]

        fleet = small_fleet(
            tmp_path, "fleet.repair_log_from=2026-07-02", fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows)
        )
        fuel = fleet.mode_fits[0]

        # Since that day A went from 300 h, as its repair says, to 400 h; both engines of B from 100 h to 150 h.
        assert (fuel.repairs, fuel.left_out) == (2, 1)
        assert fuel.expected == pytest.approx(0.4**1.5 - 0.3**1.5 + 2 * (0.15**1.5 - 0.1**1.5), rel=IDENTITY)
        assert [mean for _, mean in fuel.seen] == pytest.approx([1 / 2, 3 / 2], rel=IDENTITY)

    @pytest.mark.parametrize(
        ("rows", "key", "found"),
        [
            (["A,2022-12-31,0,Wiring,"], "row 2, date", "2022-12-31"),
            (["A,2023-01-12,350,Wiring,"], "row 2, meter_hours", "350"),
            (["A,2024-05-01,200,Wiring,", "A,2024-01-01,250,Wiring,"], "row 2, meter_hours", "200"),
            (["A,2024-05-03,173,Wiring,", "A,2024-05-01,100,Wiring,"], "row 2, meter_hours", "173"),
            (["A,2024-05-01,100,Wiring,", "A,2024-05-01,125,Wiring,"], "row 3, meter_hours", "125"),
        ],
        ids=[
            "before the engine was there",
            "more than there were hours",
            "backwards",
            "more than three days have hours",
            "more than a day has hours",
        ],
    )
    def test_dates_and_meters_that_contradict_are_refused(
        self, tmp_path: Path, rows: list[str], key: str, found: str
    ) -> None:
        with pytest.raises(InputError, match="found") as caught:
            small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows))

        (problem,) = caught.value.problems
        assert (problem.key, problem.found) == (key, found)

    def test_a_meter_that_rises_too_fast_is_told_with_the_most_it_could_be(self, tmp_path: Path) -> None:
        rows = ["A,2024-05-01,100,Wiring,", "A,2024-05-03,300,Wiring,", "A,2024-06-01,150,Wiring,"]

        with pytest.raises(InputError, match="24 h a day") as caught:
            small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows))

        # Three days hold 72 h. The last row goes with the first one, so the one between them is the only one told.
        (problem,) = caught.value.problems
        assert (problem.key, problem.found) == ("row 3, meter_hours", "300")
        assert problem.allowed == (
            "at most 172 h, 24 h a day from 2024-05-01 (row 2) on; correct or delete one of the two rows"
        )

    @pytest.mark.parametrize(
        "rows",
        [
            ["A,2024-05-01,100,Wiring,", "A,2024-05-03,172,Wiring,"],
            ["A,2024-05-01,100,Wiring,", "A,2024-05-01,124,Wiring,"],
            ["B,2025-05-01,10,Wiring,", "B,2025-05-01,60,Wiring,"],
        ],
        ids=["all hours of three days", "all hours of a day", "two engines on the boat"],
    )
    def test_a_meter_may_run_all_day_and_two_engines_have_two(self, tmp_path: Path, rows: list[str]) -> None:
        assert small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=self.HEAD + "\n".join(rows)).mode_fits

    def test_an_interval_without_upper_end_is_an_empty_cell(self, tmp_path: Path) -> None:
        log = self.HEAD + "\n".join(f"A,{day},{hours},Fuel system," for day, hours in self.DATED)
        fleet = small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=log)
        fuel = fleet.mode_fits[0]
        assert fuel.fit is not None
        endless = replace(fuel.fit, scale_interval=(1.0, float("inf")), shape_interval=(0.1, float("inf")))

        (row,) = fit_rows(replace(fleet, mode_fits=(replace(fuel, fit=endless),)))

        assert (row["scale_high"], row["shape_high"], row["scale_low"]) == (None, None, 1.0)
        assert workbook({"log": (FIT_COLUMNS, [row])})

    def test_fits_stand_in_place_of_the_file_only_when_asked(self, tmp_path: Path) -> None:
        log = self.HEAD + "\n".join(f"A,{day},{hours},Fuel system," for day, hours in self.DATED)

        as_told = small_fleet(tmp_path, fleet=WITH_REPAIRS, repairs=log)
        fitted = small_fleet(tmp_path, "fleet.fit_repairs=true", fleet=WITH_REPAIRS, repairs=log)

        fit = fitted.mode_fits[0].fit
        assert fit is not None
        assert as_told.file.engines[0].repair[0].scale == 1000.0
        (mode, _) = fitted.file.engines[0].repair
        assert (mode.scale, mode.shape) == (fit.scale, fit.shape)
        assert fitted.file.engines[0].repair[1] == as_told.file.engines[0].repair[1]  # too few repairs of that mode


class TestPowerLaw:
    def test_a_true_law_lies_within_its_interval_about_as_often_as_it_says(self) -> None:
        generator, held, runs = np.random.default_rng(11), np.zeros(2), 400
        for _ in range(runs):
            ages, ends = [], generator.uniform(500.0, 4000.0, 12)
            for end in ends:
                arrivals = np.cumsum(generator.exponential(size=60))
                own = 1000.0 * arrivals ** (1.0 / 1.6)
                ages += own[own < end].tolist()
            fit = fit_power_law(observed(ages, np.zeros(12), ends))
            assert fit is not None
            (low, high), (least, most) = fit.scale_interval, fit.shape_interval
            held += low < 1000.0 < high, least < 1.6 < most

        error = np.sqrt(0.95 * 0.05 / runs)
        assert held / runs == pytest.approx(0.95, abs=4.0 * error)

    def test_lives_cut_short_give_the_life_they_come_from(self) -> None:
        generator = np.random.default_rng(5)
        lives = 800.0 * generator.weibull(2.0, 4000)
        ends = np.minimum(lives, 700.0)

        fit = fit_power_law(observed(lives[lives < 700.0], np.zeros(4000), ends))

        assert fit is not None
        assert fit.scale_interval[0] < 800.0 < fit.scale_interval[1]
        assert fit.shape_interval[0] < 2.0 < fit.shape_interval[1]

    def test_too_few_failures_are_no_fit(self) -> None:
        assert fit_power_law(observed([10.0, 20.0], [0.0], [50.0])) is None

    def test_an_interval_without_a_lower_end_reaches_to_nothing(self) -> None:
        # Four repairs on three engines watched from late on: any shape below the best is about as likely.
        fit = fit_power_law(
            observed([960.0, 1200.0, 1540.0, 2930.0], [600.0, 1200.0, 2900.0], [1100.0, 1600.0, 3700.0])
        )

        assert fit is not None
        assert (fit.scale_interval[0], fit.shape_interval[0]) == (0.0, 0.0)
        assert fit.scale_interval[1] > fit.scale
        assert fit.shape_interval[1] > fit.shape

    def test_systems_watched_from_later_on_count_from_there(self) -> None:
        ages, repaired = mean_cumulative_repairs([30.0, 60.0], [0.0, 50.0], [100.0, 100.0])

        assert ages.tolist() == [30.0, 60.0]
        assert repaired.tolist() == [1.0, 1.5]
