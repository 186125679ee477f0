"""How long the visits of 100,000 paths take: the walk alone, and with every visit booked.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_walk

Ten tasks, ten years, about 120 h a year that differ from path to path and year to year, one thread, best of five. The
aim is 30 ms an engine for the walk with its booking. Milliseconds depend on the machine; the ratio to NumPy's drawing
of the standard normals of such a run (100,000 x 21) hardly does.
"""

import time
from collections.abc import Callable
from datetime import date

import numpy as np
from numpy.typing import NDArray

from model.booking import Booking
from model.case import prepare
from model.compiling import compiled
from model.elements.service import VisitTerms, add_visits, no_sums
from model.inputs.scenario import Scenario
from model.visit_times import SOLD
from model.walk import WalkPlan, visits_of

PATHS, YEARS, MEAN_HOURS = 100_000, 10, 120.0
AIM_MS = 30.0

INTERVALS = [
    (100, 12),
    (100, 12),
    (100, 12),
    (100, 12),
    (200, 24),
    (200, 24),
    (300, 36),
    (400, None),
    (600, None),
    (1000, 60),
]
"""Hours and months of the ten tasks."""


def scenario() -> Scenario:
    """One engine with a plan of ten tasks."""
    tasks = [
        {
            "name": f"Task {number}",
            "every": {"hours": float(hours)} | ({"months": float(months)} if months else {}),
            "first": number < 2,
            "labour": 0.5,
            "parts": [{"name": "Part", "price": 30.0}],
        }
        for number, (hours, months) in enumerate(INTERVALS)
    ]
    plan = {
        "every": {"hours": 100.0, "months": 12.0},
        "first": {"hours": 20.0, "months": 1.0},
        "visit_labour": 0.5,
        "task": tasks,
    }
    engine = {"name": "One", "technology": "four-stroke injected", "rated_power": 45.0, "price": 9000.0}
    return Scenario.model_validate(
        {
            "ownership": {"years": float(YEARS), "delivery": date(2027, 4, 1)},
            "use": {"hours_per_year": MEAN_HOURS},
            "prices": {"fuel": 1.85, "labour": 85.0},
            "money": {"inflation": 0.02, "discount_rate": 0.05},
            "engines": [engine | {"service": plan}],
        }
    )


@compiled
def walk_all(rows: NDArray[np.float64], years: float, plan: WalkPlan) -> int:
    """Visits of all paths."""
    total = 0
    for path in range(rows.shape[0]):
        total += visits_of(rows[path], years, SOLD, plan).months.size
    return total


def best(run: Callable[[], object], times: int = 5) -> float:
    """Least processor time of some runs, after one that compiles. [ms]"""
    run()
    taken = []
    for _ in range(times):
        start = time.process_time()
        run()
        taken.append(time.process_time() - start)
    return 1000.0 * min(taken)


def hours(generator: np.random.Generator) -> NDArray[np.float64]:
    """Lognormal hours of the paths, correlated between a path's years. [h/year]"""
    owner, years = generator.standard_normal((PATHS, 1)), generator.standard_normal((PATHS, YEARS))
    spread = np.sqrt(np.log1p(0.6**2))
    return np.asarray(MEAN_HOURS * np.exp(spread * (np.sqrt(0.7) * owner + np.sqrt(0.3) * years) - spread**2 / 2))


def main() -> None:
    """Print the table."""
    case = prepare(made := scenario(), made.engines[0])
    plan, booking = case.walk, case.rules.booking
    assert plan is not None
    generator = np.random.default_rng(7)
    rows, levels = hours(generator), np.ones((2, PATHS))
    terms = VisitTerms(plan, case.visit_prices, False)
    flat = Booking(0.0, 0.0, 0.0, 0.0, booking.year_end, booking.years)
    normals = best(lambda: generator.standard_normal((PATHS, 1 + 2 * YEARS)))
    lines = [
        ("standard normals", normals),
        ("walk alone", best(lambda: walk_all(rows, float(YEARS), plan))),
        ("walk and booking", best(lambda: add_visits(rows, levels, terms, booking, no_sums(PATHS, YEARS)))),
        ("the same, no growth or discount", best(lambda: add_visits(rows, levels, terms, flat, no_sums(PATHS, YEARS)))),
    ]
    print(f"{PATHS:,} paths x {YEARS} years, {walk_all(rows, float(YEARS), plan) / PATHS:.1f} visits a path")
    print(f"{'':34}{'ms':>8}{'x normals':>11}   (aim: {AIM_MS:g} ms for walk and booking)")
    for name, taken in lines:
        print(f"{name:34}{taken:8.1f}{taken / normals:11.2f}")


if __name__ == "__main__":
    main()
