"""Expected failures: minimal repair in closed form, renewals between bounds that hold without any tolerance."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from model.case import prepare
from model.elements.repairs import GRID_STEP, failures_between, mode_table
from model.inputs.engine import FailureMode
from model.inputs.owner import Neglect
from model.repairs_and_cover import expected_repairs
from tests.strategies import QUICK, YEARS, files, hours_by_year, scenario
from tests.tolerances import IDENTITY


def mode(**changes: object) -> FailureMode:
    """A failure mode in years."""
    return FailureMode.model_validate({"name": "A", "clock": "years", "scale": 4.0, "shape": 1.5} | changes)


def renewals_between(shape: float, until: float, age: float, cells: int) -> tuple[float, float]:
    """
    Bounds of the expected renewals of a Weibull life of scale 1, the first part of some age.

    Lives rounded up to whole cells renew later than the true ones, lives rounded down sooner, whatever the cells.
    """
    edges = np.linspace(0.0, until, cells + 1)
    first = np.diff(-np.expm1(age**shape - (age + edges) ** shape))
    later = np.diff(-np.expm1(-(edges**shape)))
    return _lattice(np.append(0.0, first), np.append(0.0, later)), _lattice(
        np.append(first, 0.0), np.append(later, 0.0)
    )


def _lattice(first: NDArray[np.float64], later: NDArray[np.float64]) -> float:
    """Expected renewals by the last cell, of lives that end in whole cells; element k is the chance of k cells."""
    renewing = np.zeros(first.size)
    for cell in range(first.size):
        before = renewing[:cell] @ later[cell:0:-1] if cell else 0.0
        renewing[cell] = (first[cell] + before) / (1.0 - later[0])
    return float(renewing.sum())


def off_by_the_table(shape: float) -> float:
    """
    How far a table of renewals with `GRID_STEP` cells, read by cubics through four points, may be off.

    Near a new part renewals go as x^shape, which a cubic misses most within the first cell; further out midpoint sums
    and cubics leave out what goes with the square of the step at most.
    """
    s = np.linspace(0.0, 1.0, 201)
    cubic = np.polyval(np.polyfit(np.arange(4.0), np.arange(4.0) ** shape, 3), s)
    return float(np.abs(cubic - s**shape).max() * GRID_STEP**shape + GRID_STEP**2)


class TestMinimalRepair:
    @QUICK
    @given(
        scale=st.floats(0.5, 50.0),
        shape=st.floats(0.3, 5.0),
        low=st.floats(0.0, 9.0),
        length=st.floats(0.0, 1.0),
        age=st.floats(0.0, 12.0),
    )
    def test_closed_form(self, scale: float, shape: float, low: float, length: float, age: float) -> None:
        table = mode_table([mode(scale=scale, shape=shape)], (0.0, age), None)
        failures, _ = failures_between(0, table, (age + low, 1.0), low, low + length)
        by = [((age + low + more) / scale) ** shape for more in (0.0, length)]

        assert failures == pytest.approx(by[1] - by[0], rel=0.0, abs=2.0 * IDENTITY * by[1])

    @QUICK
    @given(shape=st.sampled_from([0.5, 1.0, 1.7, 3.0]), low=st.floats(0.1, 9.0), length=st.floats(0.05, 1.0))
    def test_the_sum_of_times_is_that_of_fine_cells(self, shape: float, low: float, length: float) -> None:
        table = mode_table([mode(shape=shape)], (0.0, 0.0), None)
        failures, times = failures_between(0, table, (low, 1.0), low, low + length)
        edges = np.linspace(low, low + length, 1001)
        mass = np.diff((edges / 4.0) ** shape)

        # A failure lies somewhere within its cell: half a cell off at most.
        assert times == pytest.approx((mass * 0.5 * (edges[1:] + edges[:-1])).sum(), abs=failures * length / 2000.0)

    def test_no_hours_no_failures_by_hours(self) -> None:
        table = mode_table([mode(clock="hours", scale=900.0)], (0.0, 0.0), None)

        assert failures_between(0, table, (50.0, 0.0), 0.0, 1.0) == (0.0, 0.0)


class TestRenewals:
    @pytest.mark.parametrize("shape", [0.8, 1.0, 1.2, 2.0, 3.5])
    @pytest.mark.parametrize("age", [0.0, 0.4, 1.5])
    @pytest.mark.parametrize("until", [0.003, 0.11, 0.5, 1.3, 3.0])
    def test_lie_between_bounds(self, shape: float, age: float, until: float) -> None:
        table = mode_table([mode(scale=1.0, shape=shape, after="as new")], (0.0, age), None)
        failures, _ = failures_between(0, table, (age, 1.0), 0.0, until)
        low, high = renewals_between(shape, until, age, 3000)

        off = off_by_the_table(shape)
        assert low - off <= failures <= high + off

    def test_of_a_constant_rate_are_those_of_minimal_repair(self) -> None:
        old, new = (
            mode_table([mode(scale=2.0, shape=1.0, after=after)], (0.0, 3.0), None) for after in ("as old", "as new")
        )

        for low, high in [(0.0, 0.01), (0.3, 0.9), (5.0, 6.0), (60.0, 61.0)]:
            one, other = (failures_between(0, table, (3.0 + low, 1.0), low, high) for table in (old, new))
            assert other[0] == pytest.approx(one[0], rel=0.0, abs=off_by_the_table(1.0))
            assert other[1] == pytest.approx(one[1], rel=0.0, abs=(high + 1.0) * off_by_the_table(1.0))

    @QUICK
    @given(
        shape=st.sampled_from([0.5, 0.8, 1.5, 3.0]),
        low=st.floats(0.0, 2.0),
        length=st.floats(1e-4, 1.0),
        rate=st.sampled_from([1e-4, 0.01, 0.1, 1.0]),
    )
    def test_are_dated_within_the_time_they_fall_in(self, shape: float, low: float, length: float, rate: float) -> None:
        table = mode_table([mode(scale=1.0, shape=shape, after="as new")], (0.0, 0.0), None)
        high = low + length
        failures, times = failures_between(0, table, (rate * low, rate), low, high)
        off = high * off_by_the_table(shape) * (rate * length)

        assert low * failures - off <= times <= high * failures + off

    def test_far_out_come_once_a_mean_life(self) -> None:
        table = mode_table([mode(scale=1.0, shape=2.0, after="as new")], (0.0, 0.0), None)
        mean_life = np.sqrt(np.pi) / 2.0

        assert failures_between(0, table, (40.0, 1.0), 40.0, 41.0)[0] == pytest.approx(1.0 / mean_life, rel=1e-4)


class TestNeglect:
    @pytest.mark.parametrize("shape", [0.8, 1.0, 2.5])
    @pytest.mark.parametrize(
        ("all_modes", "own", "factor"), [(2.0, None, 2.0), (None, 1.5, 1.5), (2.0, 1.5, 3.0), (0.0, None, 0.0)]
    )
    def test_multiplies_the_intensity(
        self, shape: float, all_modes: float | None, own: float | None, factor: float
    ) -> None:
        neglect = Neglect(resale_factor=1.0, repair_factor=all_modes)
        one = mode(shape=shape) if own is None else mode(shape=shape, neglect_factor=own)
        kept, skipped = (mode_table([one], (0.0, 0.0), rule) for rule in (None, neglect))
        (before, _), (after, _) = (failures_between(0, table, (2.3, 1.0), 2.3, 3.1) for table in (kept, skipped))

        assert after == pytest.approx(factor * before, rel=10.0 * IDENTITY)


class TestOverTheYears:
    @QUICK
    @given(data=st.data(), years=YEARS, shape=st.sampled_from([0.8, 1.5, 3.0]))
    def test_uneven_years_add_up_to_the_meter(self, data: st.DataObject, years: float, shape: float) -> None:
        file = data.draw(files())
        hours = data.draw(hours_by_year(years))
        file["ownership"]["years"], file["use"]["hours_by_year"] = years, hours
        file["engines"][0]["repair"] = [{"name": "A", "clock": "hours", "scale": 700.0, "shape": shape}]
        made = scenario(file)
        case = prepare(made, made.engines[0])
        end = case.start[0] + sum(rate * min(1.0, years - year) for year, rate in enumerate(hours))
        by = [(meter / 700.0) ** shape for meter in (case.start[0], end)]

        failures = expected_repairs(case, hours).failures.sum()
        assert failures == pytest.approx(case.count * (by[1] - by[0]), rel=0.0, abs=10.0 * IDENTITY * (by[1] + 1.0))
