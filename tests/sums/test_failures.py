"""Drawn failures, each dated so that cover, excess and lost days act on it."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from model.elements.cover import cover_table, span_at
from model.inputs.scenario import Scenario
from model.inputs.warranty import Warranty
from model.levels import AS_STATED
from model.ownership import own
from model.uncertainty.chunks import Ready, outcome_of, ready
from model.uncertainty.drawing import Ends, Life, arrivals, draw_mode, no_failures
from model.uncertainty.failures import owner_s_part, problems_of_drawing
from model.uncertainty.outcomes import FAILURES
from model.uncertainty.streams import Streams
from model.usage import NEVER
from tests.tiny import one_engine
from tests.tolerances import IDENTITY, standard_errors

STEPS = [{"from": 12.0, "parts": 0.5, "labour": 0.0}]
MODE = {"name": "Failure", "clock": "years", "scale": 2.0, "shape": 1.0, "parts_price": 300.0, "labour": 2.0,
        "days_lost": 3.0, "not_covered": 40.0}  # fmt: skip


def scenario(mode: dict[str, object] | None = None, **engine: object) -> Scenario:
    """One engine with a single failure mode, labour at 100 an hour, a lost day at 50."""
    return one_engine({"repair": [MODE | (mode or {})], **engine}, downtime={"day_cost": 50.0},
                      trials={"repairs": "drawn"})  # fmt: skip


def booked(engine: Ready, t: float) -> list[float]:
    """What a failure at t costs the owner: repair, excess, and whether it is not paid in full by the warranty."""
    case = engine.case
    base = NEVER if case.cover.base_years == NEVER else case.cover.base_years - case.start[1]
    ends = (base, case.cover.extension_years - case.start[1])
    parts, labour, charges = (float(price[0]) for price in case.repair_prices())
    owner, excess, in_full = owner_s_part(t, (parts, labour, charges), case.cover, case.start[1], ends)
    return [owner, excess, float(not in_full)]


@pytest.mark.parametrize(
    ("warranty", "t", "expected"),
    [
        (None, 0.5, [540.0, 0.0, 1.0]),
        ({"months": 24.0}, 2.0, [40.0, 0.0, 1.0]),  # exactly at the end: covered, the crane is not
        ({"months": 24.0}, 2.001, [540.0, 0.0, 1.0]),
        ({"months": 24.0, "excess": 75.0}, 1.0, [40.0, 75.0, 1.0]),
        ({"months": 24.0, "excess": 900.0}, 1.0, [40.0, 500.0, 1.0]),  # never more than the covered amount
        ({"months": 24.0, "steps": STEPS}, 0.99, [40.0, 0.0, 1.0]),
        ({"months": 24.0, "steps": STEPS}, 1.0, [390.0, 0.0, 1.0]),  # half the parts from the month itself on
        ({"months": 24.0, "decline": "linear"}, 1.5, [415.0, 0.0, 1.0]),  # a quarter of 500 left
    ],
)
def test_a_failure_under_cover(warranty: dict[str, object] | None, t: float, expected: list[float]) -> None:
    engine = ready(scenario(warranty=warranty))[0]

    assert booked(engine, t) == pytest.approx(expected, rel=IDENTITY)


def test_a_failure_paid_in_full_is_not_the_owner_s() -> None:
    engine = ready(scenario({"not_covered": 0.0}, warranty={"months": 24.0}))[0]

    assert booked(engine, 1.0) == pytest.approx([0.0, 0.0, 0.0], abs=IDENTITY)


def test_an_extension_takes_over_behind_the_base() -> None:
    extension = {"bought": True, "price": 0.0, "months": 12.0, "parts": 0.5}
    engine = ready(scenario({"not_covered": 0.0}, warranty={"months": 24.0, "extension": extension}))[0]

    assert booked(engine, 2.0)[0] == 0.0
    assert booked(engine, 2.5)[0] == pytest.approx(150.0, rel=IDENTITY)
    assert booked(engine, 3.1)[0] == pytest.approx(500.0, rel=IDENTITY)


def test_spans_of_cover() -> None:
    table = cover_table(Warranty.model_validate({"months": 24.0, "steps": STEPS}))
    ends = (2.0, -1.0)

    assert [span_at(t, table, 0.0, ends) for t in (0.0, 0.99, 1.0, 2.0, 2.1)] == [0, 0, 1, 1, -1]


def ages(engine: Ready, end: float, trials: int = 20_000) -> list[NDArray[np.float64]]:
    """Ages at the failures of the mode, trial by trial."""
    key, modes = arrivals(engine.case, Streams(6)).keys[0, 0], engine.case.modes
    life = Life(modes.scale[0], modes.shape[0], modes.as_new[0], modes.start[0], modes.by_hours[0])
    ends = Ends(np.full(trials, end), np.full(trials, (end / life.scale) ** life.shape))
    found, number = draw_mode((key, 0), life, ends, no_failures(1), 0)
    return [np.sort(found.at[:number][found.path[:number] == trial]) for trial in range(trials)]


@pytest.mark.parametrize("after", ["as old", "as new"])
def test_first_lives_are_weibull(after: str) -> None:
    engine = ready(scenario({"shape": 2.0, "after": after}))[0]
    first = np.array([failures[0] for failures in ages(engine, 50.0, 5_000)])

    assert stats.kstest(first, stats.weibull_min(2.0, scale=2.0).cdf).pvalue > 1e-4


def test_lives_after_a_renewal_are_weibull_too() -> None:
    engine = ready(scenario({"shape": 2.0, "after": "as new"}))[0]
    gaps = np.concatenate([np.diff(failures)[:3] for failures in ages(engine, 50.0, 2_000)])

    assert stats.kstest(gaps, stats.weibull_min(2.0, scale=2.0).cdf).pvalue > 1e-4


def test_a_used_part_s_first_life_has_come_as_far_as_its_age() -> None:
    used = {"start": {"meter_hours": 400.0, "age": 3.0}, "list_price": 10000.0}
    engine = ready(scenario({"shape": 2.5, "after": "as new"}, **used))[0]
    life = stats.weibull_min(2.5, scale=2.0)
    first = np.array([failures[0] for failures in ages(engine, 60.0, 5_000)])

    assert first.min() > 3.0
    assert stats.kstest(first, lambda x: 1.0 - life.sf(x) / life.sf(3.0)).pvalue > 1e-4


@pytest.mark.parametrize("clock", ["years", "hours"])
@pytest.mark.parametrize("after", ["as old", "as new"])
@pytest.mark.parametrize("start", [None, {"meter_hours": 150.0, "age": 2.5}])
def test_drawn_costs_are_the_expected_ones_on_the_mean(clock: str, after: str, start: dict[str, float] | None) -> None:
    extension = {"bought": True, "price": 10.0, "months": 12.0, "labour": 0.5}
    warranty = {"months": 30.0, "hours": 260.0, "excess": 60.0, "steps": STEPS, "extension": extension}
    mode = {"clock": clock, "after": after, "shape": 1.7, "scale": 1.4 if clock == "years" else 140.0}
    made = scenario(mode, warranty=warranty, start=start, list_price=10000.0)
    engine = ready(made)[0]
    hours = np.tile([60.0, 0.0, 180.0, 120.0], (60_000, 1))

    drawn = outcome_of(engine, hours, AS_STATED, arrivals(engine.case, Streams(9)))
    owned = own(engine.case, hours[0])

    assert drawn.counts[FAILURES].mean() == pytest.approx(
        owned.repairs.failures.sum(), abs=standard_errors(4, drawn.counts[FAILURES])
    )
    expected = sum(float(booked.present_value.sum()) for booked in owned.elements.values())
    assert drawn.present.mean() == pytest.approx(expected, abs=standard_errors(4, drawn.present))
    paid = owned.repairs.failures - owned.repairs.paid_in_full
    assert drawn.counts[2].mean() == pytest.approx(paid.sum(), abs=standard_errors(4, drawn.counts[2]))


def test_more_failures_than_can_be_drawn_are_refused() -> None:
    problems = problems_of_drawing(scenario({"scale": 0.001}), "boat.toml")

    assert [(problem.key, problem.found) for problem in problems] == [
        ('engines["Engine"].repair["Failure"].scale', "0.001, 4,000 failures expected")
    ]
    assert problems_of_drawing(scenario(), "boat.toml") == []
