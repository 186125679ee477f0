"""What the warranty covers of expected repairs, against adding up fine cells of time."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from model.case import Case, prepare
from model.elements.cover import cover_ends, cover_table
from model.elements.repairs import failures_by
from model.inputs.warranty import Cover
from model.levels import Levels
from model.repairs_and_cover import expected_repairs
from tests.strategies import QUICK, START, File, covers, failure_modes, hours_by_year, scenario
from tests.sums.test_repairs import off_by_the_table
from tests.tolerances import IDENTITY

CELLS = 1000
"""Cells of a year."""


def shares_paid(terms: File, months: float, meter: float) -> tuple[float, float]:
    """Shares of parts and labour paid for a failure, read from the terms in words."""
    if months <= terms["months"] and meter <= terms.get("hours", np.inf):
        if terms.get("decline"):
            return 1.0 - months / terms["months"], 1.0 - months / terms["months"]
        begun = [step for step in terms.get("steps", ()) if step["from"] <= months]
        return (begun[-1]["parts"], begun[-1]["labour"]) if begun else (1.0, 1.0)
    more = terms.get("extension")
    if more and months <= terms["months"] + more["months"] and meter <= more.get("hours", np.inf):
        return more["parts"], more.get("labour", 1.0)
    return 0.0, 0.0


def in_cells(case: Case, terms: File, hours: list[float], year: int, mode: int) -> NDArray[np.float64]:
    """Covered amount and excess in one year, and how far off they may be."""
    table, times, money = case.modes, case.rules.flow_times, case.scenario.money
    failure = case.engine.repair[mode]
    price = (1.0 + money.inflation) ** times[year]
    parts, labour = failure.parts_price * price, failure.labour * case.labour_rate * price
    edges = np.linspace(year, min(year + 1.0, case.years), CELLS + 1)
    begun = case.start[0] + sum(hours[:year])
    meter, age = begun + hours[year] * (edges - year), case.start[1] + edges
    clock = meter if table.by_hours[mode] else age
    by = np.array([failures_by(mode, float(x), table) for x in clock])
    mass = np.diff(by)
    middle = [(12.0 * (age[i] + age[i + 1]) / 2.0, (meter[i] + meter[i + 1]) / 2.0) for i in range(CELLS)]
    shares = np.array([shares_paid(terms, *at) for at in middle])
    each = shares[:, 0] * parts + shares[:, 1] * labour
    # Five edges at most (three steps or a turn, two ends), and a linear decline is exact but for half a cell.
    off = 5.0 * mass.max() + mass.sum() / CELLS
    if table.as_new[mode] and terms.get("decline"):  # weighted by times, which the table of renewals gives
        off += off_by_the_table(failure.shape)
    return case.count * np.array([each @ mass, np.minimum(each, terms["excess"]) @ mass, off * (parts + labour)])


@st.composite
def covered(draw: st.DrawFn) -> tuple[Case, File, list[float]]:
    """An engine with one failure mode under cover, its terms, and uneven hours."""
    years = draw(st.sampled_from([1.0, 3.5, 6.0]))
    hours, terms = draw(hours_by_year(years)), draw(covers())
    engine: dict[str, Any] = {
        "name": "One",
        "technology": "four-stroke injected",
        "rated_power": 45.0,
        "price": 9000.0,
        "list_price": 9000.0,
        "repair": [draw(failure_modes("A"))],
        "warranty": terms,
    }
    if draw(st.booleans()):
        engine["start"] = {"meter_hours": draw(st.sampled_from([0.0, 120.0, 500.0])), "age": 1.25}
    made = scenario(
        {
            "ownership": {"years": years, "delivery": START},
            "use": {"hours_by_year": hours, "per_boat": draw(st.integers(1, 2))},
            "prices": {"fuel": 1.0, "labour": 80.0},
            "money": {"inflation": draw(st.sampled_from([0.0, 0.03]))},
            "engines": [engine],
        }
    )
    return prepare(made, made.engines[0]), terms, hours


class TestAgainstFineCells:
    @QUICK
    @given(of=covered(), data=st.data())
    def test_covered_amount_and_excess_of_any_year(
        self, of: tuple[Case, File, list[float]], data: st.DataObject
    ) -> None:
        case, terms, hours = of
        year = data.draw(st.integers(0, len(hours) - 1))
        found = expected_repairs(case, hours)
        amount, excess, off = in_cells(case, terms, hours, year, 0)

        assert found.covered[0, year] == pytest.approx(amount, rel=0.0, abs=off)
        assert found.excess[0, year] == pytest.approx(excess, rel=0.0, abs=off)

    @QUICK
    @given(of=covered())
    def test_nobody_pays_more_than_there_is(self, of: tuple[Case, File, list[float]]) -> None:
        case, _, hours = of
        found = expected_repairs(case, hours)
        charges = case.repair_prices()[2][:, None] * case.rules.at_flow_times(case.rules.growth.labour)
        never_covered = found.failures * charges
        all_of_it = found.whole - never_covered
        rounding = IDENTITY * all_of_it.sum()

        assert (found.excess >= -rounding).all()
        assert (found.excess <= found.covered + rounding).all()
        assert (found.covered <= all_of_it + rounding).all()
        assert (found.owner >= never_covered - rounding).all()


class TestEnds:
    @pytest.mark.parametrize(
        ("start", "rate", "end"),
        [
            ((0.0, 0.0), 60.0, 3.0),  # months first
            ((0.0, 0.0), 100.0, 3.0),  # both together
            ((0.0, 0.0), 200.0, 1.5),  # hours first, within a year
            ((150.0, 1.0), 100.0, 1.5),
            ((150.0, 2.0), 100.0, 1.0),
            ((0.0, 0.0), 0.0, 3.0),
        ],
    )
    def test_months_or_hours_whichever_first(self, start: tuple[float, float], rate: float, end: float) -> None:
        table = cover_table(Cover(months=36.0, hours=300.0))

        assert cover_ends(np.full((1, 5), rate), 0, *start, table)[0] == pytest.approx(end)

    @pytest.mark.parametrize("start", [(301.0, 1.0), (10.0, 3.5)])
    def test_over_before_delivery(self, start: tuple[float, float]) -> None:
        assert cover_ends(np.full((1, 5), 0.0), 0, *start, cover_table(Cover(months=36.0, hours=300.0)))[0] < 0.0

    def test_there_is_none(self) -> None:
        assert cover_table(None).begin.size == 0


@QUICK
@given(of=covered())
def test_a_path_among_others_is_that_path_alone(of: tuple[Case, File, list[float]]) -> None:
    case, _, hours = of
    # Paths alike in a row, and alike but for their prices: what ages by the calendar is taken from the one before.
    rows = np.array([hours, hours, np.zeros_like(hours), hours, hours, hours])
    parts, labour = np.array([1.0, 1.0, 1.0, 1.0, 1.2, 1.2]), np.array([1.0, 1.0, 1.0, 0.9, 0.9, 0.9])

    together = expected_repairs(case, rows, Levels(parts=parts, labour=labour))

    for path, row in enumerate(rows):
        alone = expected_repairs(case, row, Levels(parts=parts[path], labour=labour[path]))
        for kind in ("failures", "whole", "covered", "excess", "paid_in_full"):
            assert np.array_equal(getattr(together, kind)[path], getattr(alone, kind))
