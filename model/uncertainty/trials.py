"""Trials: owning every engine of a scenario many times over, in chunks that workers share.

All engines live the same hours and prices; failures are each engine's own. The same scenario, seed and number of trials
give the same bits whatever the number of workers: a chunk depends on nothing but its number, and sums over chunks are
added in the order of the chunks.
"""

import hashlib
import json
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.inputs.owner import TrialTerms
from model.inputs.scenario import Scenario
from model.uncertainty.chunks import Ready, outcomes_of_chunk, ready, together
from model.uncertainty.sampling import sample
from model.uncertainty.streams import CHUNK, Streams

Amounts = NDArray[np.float64]

TRIALS = 20_000
"""Trials where nobody says how many."""

Progress = Callable[[int], None]
"""Told the number of trials done, now and then."""


class StoppedError(Exception):
    """The trials were stopped from outside."""

    def __init__(self, done: int, wanted: int) -> None:
        """Keep how many were done of how many."""
        self.done, self.wanted = done, wanted
        super().__init__(f"stopped after {done} of {wanted} trials")


@dataclass(frozen=True)
class CountSums:
    """Counts of visits, failures and failures that the owner pays for, summed over the trials."""

    total: Amounts
    """Shape (engine, 3). [-]"""
    squares: Amounts
    """Squares of the trials' counts, shape (engine, 3). [-]"""
    by_year: Amounts
    """Shape (engine, 3, year). [-]"""


@dataclass(frozen=True)
class TrialRun:
    """What every trial of every engine came to."""

    scenario: Scenario
    """The scenario."""
    engines: tuple[Ready, ...]
    """Its engines, made ready."""
    seed: int
    """Seed of the run."""
    present: Amounts
    """Total cost of ownership in present value, shape (engine, trial). [money]"""
    by_year: Amounts
    """Money of the day without the value at sale, shape (engine, year, trial). [money]"""
    counts: CountSums
    """Visits and failures."""
    elements: Amounts
    """Mean present value of each cost element, shape (engine, element). [money]"""

    @property
    def trials(self) -> int:
        """How many trials."""
        return int(self.present.shape[1])

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the engines."""
        return tuple(engine.case.engine.name for engine in self.engines)


def scenario_hash(scenario: Scenario) -> str:
    """SHA-256 of a checked scenario without title, note and sources: the same figures, the same hash."""
    content = _without(scenario.model_dump(mode="json"), {"title", "note", "source", "sources"})
    canonical = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()


def _without(content: object, keys: set[str]) -> object:
    """Content without some keys, at whatever depth they stand."""
    if isinstance(content, dict):
        return {key: _without(value, keys) for key, value in content.items() if key not in keys}
    return [_without(value, keys) for value in content] if isinstance(content, list) else content


def something_varies(scenario: Scenario) -> bool:
    """Whether the scenario states anything that differs from trial to trial."""
    return scenario.use.spread is not None or scenario.trials != TrialTerms()


class ChunkSums(NamedTuple):
    """Sums over the trials of one chunk."""

    counts: Amounts
    """Counts and their squares, shape (2, engine, 3). [-]"""
    counts_by_year: Amounts
    """Shape (engine, 3, year). [-]"""
    elements: Amounts
    """Present value by cost element, shape (engine, element). [money]"""


class Runner:
    """Runs trials block by block, each block's chunks shared by the workers."""

    def __init__(self, scenario: Scenario, seed: int = 1, workers: int = 1, progress: Progress | None = None) -> None:
        """Make the engines ready; `progress` is told how many trials are done."""
        self.scenario, self.workers, self.progress = scenario, workers, progress
        self.engines, self.streams = ready(scenario), Streams(seed)
        self._together = together(self.engines, self.streams)
        self.done = 0
        self._blocks: list[tuple[Amounts, Amounts]] = []
        self._sums: list[ChunkSums] = []

    def extend(self, trials: int) -> None:
        """
        Run that many trials more; whole chunks but for the last block.

        Raises
        ------
        StoppedError
            If the run was interrupted from the keyboard.
        """
        years, number = self.scenario.ownership.begun_years, len(self.engines)
        begin, wanted = self.done, self.done + trials
        block = np.empty((number, trials)), np.empty((number, years, trials))
        starts = range(0, trials, CHUNK)

        def run(start: int) -> ChunkSums:
            size = min(CHUNK, trials - start)
            return self._chunk((begin + start) // CHUNK, [part[..., start : start + size] for part in block])

        try:
            self._sums += self._in_order(run, starts, trials)
        except KeyboardInterrupt as stop:
            raise StoppedError(self.done, wanted) from stop
        self._blocks.append(block)

    def _in_order(self, run: Callable[[int], ChunkSums], starts: range, trials: int) -> list[ChunkSums]:
        """Results of the chunks in their order, however they are shared."""
        found: dict[int, ChunkSums] = {}

        def note(start: int, sums: ChunkSums) -> None:
            found[start] = sums
            self.done += min(CHUNK, trials - start)
            if self.progress is not None:
                self.progress(self.done)

        if self.workers == 1 or len(starts) == 1:
            for start in starts:
                note(start, run(start))
            return [found[start] for start in starts]
        with ThreadPoolExecutor(self.workers) as pool:
            waiting = {pool.submit(run, start): start for start in starts}
            try:
                for future in as_completed(waiting):
                    note(waiting[future], future.result())
            except BaseException:
                pool.shutdown(wait=True, cancel_futures=True)
                raise
        return [found[start] for start in starts]

    def _chunk(self, chunk: int, block: Sequence[Amounts]) -> ChunkSums:
        """Run one chunk: fill in its part of the block, and sum the rest."""
        cases = [engine.case for engine in self.engines]
        trials = block[0].shape[-1]
        found = outcomes_of_chunk(self._together, sample(cases, self.streams, chunk), chunk, trials)
        block[0][:] = found.present
        block[1][:] = found.by_year.transpose(0, 2, 1)
        counts = found.counts
        return ChunkSums(
            np.array([counts.sum(axis=-1), (counts**2).sum(axis=-1)]), found.counts_by_year, found.elements
        )

    def present(self) -> Amounts:
        """Total cost of ownership of every trial so far, shape (engine, trial). [money]"""
        return _together([present for present, _ in self._blocks])

    def result(self) -> TrialRun:
        """All blocks together."""
        counts, counts_by_year, elements = (sum(parts[1:], parts[0]) for parts in zip(*self._sums, strict=True))
        return TrialRun(
            self.scenario,
            self.engines,
            self.streams.seed,
            self.present(),
            _together([by_year for _, by_year in self._blocks]),
            CountSums(counts[0], counts[1], counts_by_year),
            elements / self.done,
        )


def _together(parts: Sequence[Amounts]) -> Amounts:
    """Blocks behind one another, a single one as it is."""
    return parts[0] if len(parts) == 1 else np.concatenate(parts, axis=-1)


def run_trials(
    scenario: Scenario, trials: int = TRIALS, seed: int = 1, workers: int = 1, progress: Progress | None = None
) -> TrialRun:
    """
    Run a number of trials.

    Parameters
    ----------
    scenario : Scenario
    trials : int
        How many, above 0.
    seed : int
        Any whole number from 0.
    workers : int
        Threads that share the chunks; changes no bit of the result.
    progress : function, optional
        Told how many trials are done.

    Returns
    -------
    TrialRun

    Raises
    ------
    StoppedError
        If the run was interrupted from the keyboard.
    """
    runner = Runner(scenario, seed, workers, progress)
    runner.extend(trials)
    return runner.result()
