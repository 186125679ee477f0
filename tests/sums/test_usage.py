"""Hours, meter and dates."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model import pace, usage
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
        assert pace.meters_at_end(np.array([hours]), years)[0] + start == pytest.approx(meter[-1], rel=IDENTITY)
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
