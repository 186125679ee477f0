"""When a path of hours reaches a reading or a month."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model import pace, usage
from tests.strategies import QUICK, YEARS, hours_by_year


class TestWhenDue:
    @QUICK
    @given(data=st.data(), years=YEARS, meter=st.integers(1, 30000), months=st.integers(1, 150))
    def test_stands_on_the_curve_and_on_a_limit(
        self, data: st.DataObject, years: float, meter: int, months: int
    ) -> None:
        hours = np.array(data.draw(hours_by_year(years)))
        at, reading = pace.when_due(meter / 10.0, float(months), hours[None], 0)[:2]

        begun = len(hours)
        longer = np.append(hours, np.full(max(0, 160 - begun), hours[-1]))
        assert reading == pytest.approx(float(usage.meter_at(at / 12.0, longer, float(len(longer)))), abs=1e-6)
        assert at == months or reading == meter / 10.0
        assert at <= months
        assert reading <= meter / 10.0

    def test_never_without_hours_or_months(self) -> None:
        assert pace.when_due(100.0, np.inf, np.array([[0.0, 0.0]]), 0)[:2] == (np.inf, np.inf)

    def test_a_year_of_rest_is_passed_over(self) -> None:
        assert pace.when_due(150.0, np.inf, np.array([[100.0, 0.0, 50.0, 100.0]]), 0)[:2] == (36.0, 150.0)

    def test_both_limits_together_are_both_met_exactly(self) -> None:
        assert pace.when_due(100.0, 12.0, np.array([[100.0 + 5e-7, 7.0]]), 0)[:2] == (12.0, 100.0)

    def test_after_the_last_year_its_hours_go_on(self) -> None:
        assert pace.when_due(250.0, np.inf, np.array([[50.0, 100.0]]), 0)[:2] == (36.0, 250.0)


class TestWhenRead:
    @QUICK
    @given(data=st.data(), years=YEARS, share=st.floats(0.001, 1.5))
    def test_is_when_due_without_a_month(self, data: st.DataObject, years: float, share: float) -> None:
        hours = np.array(data.draw(hours_by_year(years)))
        meter, rows = max(share * hours.sum(), 0.1), np.array([hours + 1.0, hours])

        assert pace.when_read(meter, 1, rows, pace.hours_before(rows)) == pace.when_due(meter, np.inf, rows, 1)[0]
