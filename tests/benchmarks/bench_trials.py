"""How long trials take, against NumPy's time to draw the random numbers that such a run needs.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_trials [--long]

The sailing-school example, its two new engines, ten years, 100,000 trials; hours, fuel price and failures drawn, all
elements, and the summary. The yardstick is NumPy's time for the run's standard normals (trials x (1 + 2 x years)) and
standard exponentials (one for each failure and each failure mode of each trial). Aims: at most 6 yardsticks on one
worker, 3.5 on two. Beside it, how many of our trials run in the time of one that is told as a story, one event after
another. `--long` adds 10,000 to 1,000,000 trials and their memory.
"""

import argparse
import resource
import time
from collections.abc import Callable

import numpy as np

from model.inputs.reading import read_scenario
from model.inputs.scenario import Scenario
from model.uncertainty.chunks import outcomes_of_chunk, ready, together
from model.uncertainty.outcomes import FAILURES
from model.uncertainty.sampling import sample
from model.uncertainty.streams import CHUNK, Streams
from model.uncertainty.summary import summarise
from model.uncertainty.trials import TrialRun, run_trials
from tests.rules.project import ROOT
from tests.sums.test_one_trial_at_a_time import seconds_of_a_trial

TRIALS, YEARS, RUNS = 100_000, 10, 7


def scenario() -> Scenario:
    """The example with its two new engines, over ten years, with hours, fuel price and failures drawn."""
    found = read_scenario(
        ROOT / "scenarios" / "sailing-school-launch.toml", overrides={"ownership.years": float(YEARS)}
    ).scenario
    off = {("trials", f"{name}_variation"): 0.0 for name in ("parts", "labour", "fuel_burn", "resale")}
    return found.changed({("engines",): found.engines[:2], **off})


def best(*runs: Callable[[], object]) -> list[float]:
    """Shortest of some rounds of each, in turn, after one that compiles. [ms]"""
    taken: list[list[float]] = [[] for _ in runs]
    for _ in range(RUNS):
        for place, run in enumerate(runs):
            start = time.perf_counter()
            run()
            taken[place].append(time.perf_counter() - start)
    return [1000.0 * min(times[1:]) for times in taken]


def exponentials(run: TrialRun) -> int:
    """Standard exponentials that a run looks at: each failure, and one more for each mode of each trial."""
    modes = sum(len(engine.case.engine.repair) * engine.case.count for engine in run.engines)
    return modes * run.trials + int(run.counts.total[:, FAILURES].sum())


def main() -> None:
    """Print the tables."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--long", action="store_true")
    asked = arguments.parse_args()
    made, generator = scenario(), np.random.default_rng(7)
    run = run_trials(made, TRIALS)
    number = exponentials(run)
    engines = ready(made)
    sampled, side_by_side = sample([engine.case for engine in engines], Streams(1), 0), together(engines, Streams(1))
    normals, drawn, one, two, said, sampling, owning = best(
        lambda: generator.standard_normal((TRIALS, 1 + 2 * YEARS)),
        lambda: generator.standard_exponential(number),
        lambda: summarise(run_trials(made, TRIALS)),
        lambda: summarise(run_trials(made, TRIALS, workers=2)),
        lambda: summarise(run),
        lambda: sample([engine.case for engine in engines], Streams(1), 0),
        lambda: outcomes_of_chunk(side_by_side, sampled, 0),
    )
    yardstick, chunks = normals + drawn, TRIALS / CHUNK
    print(f"{TRIALS:,} trials x {YEARS} years, 2 engines, {number / TRIALS:.1f} exponentials a trial")
    print(f"{'':34}{'ms':>8}{'yardsticks':>12}{'aim':>6}")
    for name, taken, aim in (
        ("standard normals", normals, ""),
        ("standard exponentials", drawn, ""),
        ("yardstick", yardstick, ""),
        ("one worker", one, "6"),
        ("two workers", two, "3.5"),
        ("of it: sampling", sampling * chunks, ""),
        ("of it: owning", owning * chunks, ""),
        ("of it: summary", said, ""),
    ):
        print(f"{name:34}{taken:8.1f}{taken / yardstick:12.2f}{aim:>6}")
    print(f"two workers are {one / two:.2f} times as fast as one")
    ours, told = (1e6 * taken for taken in seconds_of_a_trial())
    print(f"a trial of the smaller example: {ours:.1f} us, {told:,.0f} us as a story: {told / ours:,.0f} times")
    for trials in (10_000, 100_000, 1_000_000) if asked.long else ():
        start = time.perf_counter()
        summarise(run_trials(made, trials, workers=2))
        taken = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
        print(f"{trials:>9,} trials, two workers: {taken:6.2f} s, {1e6 * taken / trials:5.2f} us each, {peak:5.0f} MB")


if __name__ == "__main__":
    main()
