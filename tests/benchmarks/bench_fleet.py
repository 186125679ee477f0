"""How long a fleet's budget by trials takes, how that grows, and how much memory it needs.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_fleet [--trials 10000] [--only plan|budget|linear|workers|memory]

600 units over 10 years, of the engines of the regional operator's register, replaced at 10 years, hours, seasons, fuel
price and failures drawn. Aims on two cores with 10,000 trials: 5 s at a mean of 150 h a year, 20 s with all at 900 h;
cost linear in units; 600 MB a process at 10,000 units; two workers 1.7 times one on a warm pool. Time depends on the
machine, so NumPy's time to draw the run's standard normals and exponentials stands beside it. The compiled code is
there, and every worker has done a group, before a clock is started. A plan is timed by CPU time.
"""

import argparse
import resource
import time
from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np

from model.fleet.budget import Budget, Scheduled, budget_of
from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.groups import InProcess, Workers, executor_of, groups_of, in_order, workers_for_trials
from model.fleet.policy_costs import policies_compared
from model.fleet.reading import Fleet, read_fleet
from model.fleet.replacement import plan_fleet
from model.fleet.stay_tables import stay_tables
from model.fleet.unit_trials import TrialTerms, group_trials

ROOT = Path(__file__).resolve().parents[2]
REGISTER = ROOT / "scenarios" / "registers" / "regional-operator.toml"
UNITS, MEAN_HOURS, MANY_HOURS = 600, 150.0, 900.0
AIMS = {MEAN_HOURS: 5.0, MANY_HOURS: 20.0}


def scheduled(fleet: Fleet, number: int, hours: float) -> list[Scheduled]:
    """A number of units with a mean of hours a year, or all at it where it is high, on their schedules."""
    own = [fleet.units[place % len(fleet.units)] for place in range(number)]
    mean = sum(unit.hours_per_year for unit in own) / number
    factor = hours / mean
    units = [
        replace(
            unit,
            name=f"{place}",
            count=1,
            hours_per_year=hours if hours >= MANY_HOURS else unit.hours_per_year * factor,
        )
        for place, unit in enumerate(own)
    ]
    plan = plan_fleet(PolicyTerms(at_age=10.0), GroupCosts(fleet.file, units))
    return list(zip(units, plan.schedules, strict=True))


def run(fleet: Fleet, units: Sequence[Scheduled], trials: int, executor: Executor) -> tuple[float, Budget]:
    """One budget on an executor. [s]"""
    task = partial(group_trials, fleet.file, TrialTerms(trials, 1))
    start = time.perf_counter()
    found = budget_of(fleet.file, units, results=in_order(executor, task, groups_of(units)))
    return time.perf_counter() - start, found


def on_workers(
    fleet: Fleet, units: Sequence[Scheduled], trials: int, number: int, kind: Workers | None = None
) -> tuple[float, Budget]:
    """One budget on a warm pool of the workers that the command takes, or of others. [s]"""
    with executor_of(kind or workers_for_trials(number), number) as executor:
        run(fleet, units[: 50 * number], 2, executor)
        return run(fleet, units, trials, executor)


def drawing(trials: int, units: int, years: int) -> float:
    """NumPy's time to draw normals and exponentials of such a run, unit by unit. [s]"""
    generator, start = np.random.default_rng(1), time.perf_counter()
    for _ in range(units):
        generator.standard_normal((trials, 1 + years))
        generator.standard_exponential((trials, 10))
    return time.perf_counter() - start


def budgets(fleet: Fleet, trials: int) -> None:
    """600 units at the mean hours, and all at many."""
    draws = drawing(trials, UNITS, fleet.terms.horizon)
    print(f"{UNITS} units x {fleet.terms.horizon} years x {trials:,} trials, two workers; normals alone {draws:.1f} s")
    for hours, aim in AIMS.items():
        taken, found = on_workers(fleet, scheduled(fleet, UNITS, hours), trials, 2)
        told = f"{taken / draws:6.1f} x normals   (aim {aim:g} s with 10,000 trials)"
        print(f"  {hours:5.0f} h a year {taken:8.1f} s  {told}; first year {found.expected[0]:,.0f}")


def linear(fleet: Fleet, trials: int) -> None:
    """Seconds a unit by number of units, one process."""
    print("cost a unit, one process")
    for number in (50, 100, 200, 400):
        units = scheduled(fleet, number, MEAN_HOURS)
        run(fleet, units[:25], 2, InProcess())
        taken, _ = run(fleet, units, trials, InProcess())
        print(f"  {number:5d} units {taken:8.2f} s {1000.0 * taken / number:8.1f} ms a unit")


def workers(fleet: Fleet, trials: int) -> None:
    """Two workers of each kind against one, on warm pools, and whether the bits agree."""
    units = scheduled(fleet, 200, MEAN_HOURS)
    one, first = on_workers(fleet, units, trials, 1)
    for kind in (Workers.THREADS, Workers.PROCESSES):
        two, second = on_workers(fleet, units, trials, 2, kind)
        print(f"200 units: one worker {one:.1f} s, two {kind} {two:.1f} s: {one / two:.2f} times (aim 1.7); "
              f"same bits: {np.array_equal(first.totals, second.totals)}")  # fmt: skip


def memory(fleet: Fleet, trials: int) -> None:
    """Peak memory of this process and of the largest worker process at 10,000 units."""
    units = scheduled(fleet, 10_000, MEAN_HOURS)
    taken, _ = on_workers(fleet, units, trials, 2, Workers.PROCESSES)
    peaks = [resource.getrusage(who).ru_maxrss / 1024.0 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    print(f"10,000 units x {trials:,} trials, two workers: {taken:.0f} s; peak {peaks[0]:.0f} MB here, "
          f"{peaks[1]:.0f} MB in a worker (aim 600)")  # fmt: skip


def plans(fleet: Fleet, trials: int) -> None:
    """The stays of the whole register, and all its policies compared, one process."""
    del trials  # a plan is made on mean hours
    stay_tables(fleet.file, fleet.units[:1])
    start = time.process_time()
    costs = GroupCosts(fleet.file, fleet.units, stay_tables(fleet.file, fleet.units))
    between = time.process_time()
    found = policies_compared(costs)
    print(f"{len(fleet.units)} units: stays {between - start:.1f} s, {len(found)} policies "
          f"{time.process_time() - between:.1f} s of CPU time")  # fmt: skip


PARTS: dict[str, Callable[[Fleet, int], None]] = {
    "plan": plans, "budget": budgets, "linear": linear, "workers": workers, "memory": memory,
}  # fmt: skip


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--trials", type=int, default=10_000)
    parser.add_argument("--only", choices=list(PARTS))
    options = parser.parse_args()
    fleet = read_fleet(REGISTER)
    for name, part in PARTS.items():
        if options.only in (None, name):
            part(fleet, options.trials)


if __name__ == "__main__":
    main()
