"""Hours, meter and dates."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model import usage
from tests.strategies import DELIVERIES, QUICK, YEARS, begun_years, hours_by_year
from tests.tolerances import IDENTITY


class TestHoursAndMeter:
    @QUICK
    @given(data=st.data(), years=YEARS, start=st.sampled_from([0.0, 310.5]))
    def test_the_meter_adds_up_the_hours(self, data: st.DataObject, years: float, start: float) -> None:
        hours = data.draw(hours_by_year(years))
        meter = usage.meter_at_year_starts(hours, years, start)

        assert meter[0] == start
        np.testing.assert_allclose(np.diff(meter), usage.hours_run(hours, years), rtol=0.0, atol=IDENTITY * meter[-1])
        assert usage.meter_at_end(np.array(hours), years) + start == pytest.approx(meter[-1], rel=IDENTITY)
        assert float(usage.meter_at(years, hours, years, start)) == meter[-1]

    @QUICK
    @given(data=st.data(), years=YEARS)
    def test_rows_stay_apart(self, data: st.DataObject, years: float) -> None:
        rows = np.array([[data.draw(hours_by_year(years)) for _ in range(3)] for _ in range(2)])
        meter = usage.meter_at_year_starts(rows, years)

        assert meter.shape == (2, 3, begun_years(years) + 1)
        np.testing.assert_array_equal(meter[1, 2], usage.meter_at_year_starts(rows[1, 2], years))

    def test_a_part_year_runs_its_share(self) -> None:
        assert usage.hours_run([100.0, 200.0, 300.0], 2.5).tolist() == [100.0, 200.0, 150.0]


class TestWhenDue:
    @QUICK
    @given(data=st.data(), years=YEARS, meter=st.integers(1, 30000), months=st.integers(1, 150))
    def test_stands_on_the_curve_and_on_a_limit(
        self, data: st.DataObject, years: float, meter: int, months: int
    ) -> None:
        hours = np.array(data.draw(hours_by_year(years)))
        at, reading = usage.when_due(meter / 10.0, float(months), hours)[:2]

        begun = len(hours)
        longer = np.append(hours, np.full(max(0, 160 - begun), hours[-1]))
        assert reading == pytest.approx(float(usage.meter_at(at / 12.0, longer, float(len(longer)))), abs=1e-6)
        assert at == months or reading == meter / 10.0
        assert at <= months
        assert reading <= meter / 10.0

    def test_never_without_hours_or_months(self) -> None:
        assert usage.when_due(100.0, np.inf, np.array([0.0, 0.0]))[:2] == (np.inf, np.inf)

    def test_a_year_of_rest_is_passed_over(self) -> None:
        assert usage.when_due(150.0, np.inf, np.array([100.0, 0.0, 50.0, 100.0]))[:2] == (36.0, 150.0)

    def test_both_limits_together_are_both_met_exactly(self) -> None:
        assert usage.when_due(100.0, 12.0, np.array([100.0 + 5e-7, 7.0]))[:2] == (12.0, 100.0)

    def test_after_the_last_year_its_hours_go_on(self) -> None:
        assert usage.when_due(250.0, np.inf, np.array([50.0, 100.0]))[:2] == (36.0, 250.0)


class TestDates:
    @QUICK
    @given(delivery=DELIVERIES, months=st.integers(0, 120))
    def test_never_run_backwards_and_years_begin_on_their_day(self, delivery: date, months: int) -> None:
        assert usage.date_at(months / 12.0, delivery) <= usage.date_at((months + 1) / 12.0, delivery)
        begin = usage.date_at(float(months // 12), delivery)
        assert (begin.month, begin.day) in {(delivery.month, delivery.day), (2, 28)}

    @QUICK
    @given(delivery=DELIVERIES, month=st.integers(1, 12), years=st.integers(1, 10))
    def test_lay_up_comes_once_a_year_on_its_first(self, delivery: date, month: int, years: int) -> None:
        times = usage.lay_up_times(month, delivery, float(years))

        assert len(times) == years
        assert [(day.month, day.day) for day in (usage.date_at(t, delivery) for t in times)] == [(month, 1)] * years

    def test_lay_up_after_the_sale_is_not_ours(self) -> None:
        assert usage.lay_up_times(11, date(2027, 4, 1), 0.5) == []
        assert len(usage.lay_up_times(11, date(2027, 4, 1), 0.6)) == 1
