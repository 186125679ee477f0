"""How many trials: as many as the wanted digits take.

Source: JCGM 101:2008, 7.9.4, with runs of three chunks (12,288 trials; the source asks for at least 10,000, or
100 / (1 - p) where that is more). A run's estimates are one sample; their standard deviation over the runs says how far
the average of all may be off.
"""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from model.inputs.scenario import Scenario
from model.uncertainty.intervals import symmetric
from model.uncertainty.streams import CHUNK
from model.uncertainty.trials import Progress, Runner, TrialRun

Amounts = NDArray[np.float64]

RUN = 3 * CHUNK
"""Trials of one run."""

SHARE = 0.95
"""Share of the trials that the interval holds whose ends must be stable. [-]"""

MOST_TRIALS = 2_000_000
"""Where the procedure gives up."""


def tolerance(uncertainty: float, digits: int) -> float:
    """
    Numerical tolerance of a standard uncertainty.

    Source: JCGM 101, 7.9.2: with u = c x 10^l and c a whole number of that many digits, 10^l / 2.

    >>> tolerance(0.35, 2), tolerance(1234.0, 1)
    (0.005, 500.0)
    """
    if uncertainty <= 0.0:
        return 0.0
    power = math.floor(math.log10(uncertainty)) - digits + 1
    if round(uncertainty / 10.0**power) >= 10**digits:  # 9.96 with two digits is 10
        power += 1
    return 0.5 * 10.0**power


@dataclass
class Stability:
    """Whether estimates over runs have become stable."""

    digits: int
    """Digits of the standard uncertainty that must stand."""
    estimates: list[Amounts] = field(default_factory=list)
    """Of each run: mean, standard deviation and ends of the interval, shape (quantity, 4)."""

    def add(self, values: Amounts) -> None:
        """Note one run's values, shape (quantity, trial)."""
        ordered = np.sort(values, axis=-1)
        ends = [symmetric(row, SHARE) for row in ordered]
        self.estimates.append(np.column_stack([values.mean(axis=-1), values.std(axis=-1, ddof=1), np.array(ends)]))

    def is_stable(self, values: Amounts) -> bool:
        """Whether twice the standard deviation of every average is within the tolerance; values of all runs."""
        runs = len(self.estimates)
        if runs < 2:
            return False
        errors = np.std(self.estimates, axis=0, ddof=1) / math.sqrt(runs)
        allowed = np.array([tolerance(float(row.std(ddof=1)), self.digits) for row in values])
        return bool(np.all(2.0 * errors <= allowed[:, None]))


def run_until_stable(
    scenario: Scenario, digits: int, seed: int = 1, workers: int = 1, progress: Progress | None = None
) -> tuple[TrialRun, bool]:
    """
    Run trials until every engine's total cost is known to a number of digits of its standard deviation.

    Parameters
    ----------
    scenario : Scenario
    digits : int
        One or two, as a rule.
    seed : int
        Any whole number from 0.
    workers : int
        Threads that share the chunks; changes no bit of the result.
    progress : function, optional
        Told how many trials are done.

    Returns
    -------
    (TrialRun, bool)
        All trials, and whether the digits were reached before the procedure gave up.

    Raises
    ------
    StoppedError
        If the run was interrupted from the keyboard.
    """
    runner, stability = Runner(scenario, seed, workers, progress), Stability(digits)
    while True:
        runner.extend(RUN)
        found = runner.present()
        stability.add(found[:, -RUN:])
        if stability.is_stable(found):
            return runner.result(), True
        if runner.done + RUN > MOST_TRIALS:
            return runner.result(), False
