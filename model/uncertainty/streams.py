"""Random streams by key: what one source draws depends on the seed, the source, its name and the chunk, nothing else.

So an engine, a failure mode, a worker or a trial more changes no other draw. Generators: NumPy's PCG64 from a
SeedSequence for each chunk; for failures SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number
generators", OOPSLA 2014) from a key for each mode, read by position: a trial's n-th failure is the same draw however
many the other trials have, and whatever the hours are.
"""

import hashlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.elementary import log_of

CHUNK = 4096
"""Trials that share a stream. [-]"""

MOST_ARRIVALS = 1 << 20
"""Places in a failure stream that are one trial's. [-]"""


class Source(IntEnum):
    """What is drawn; the numbers are part of the streams' keys."""

    HOURS = 0
    FUEL_PRICE = 1
    PARTS = 2
    LABOUR = 3
    FUEL_BURN = 4
    RESALE = 5
    FAILURES = 6


Input = tuple[Source, str]
"""An uncertain input: its source, and the engine it belongs to, "" for what all engines share."""


@dataclass(frozen=True)
class Streams:
    """The random streams of a run."""

    seed: int
    """Seed of the run."""
    others: Mapping[Input, int] = field(default_factory=dict)
    """Seeds of single inputs in its place, for sensitivity."""

    def _sequence(self, source: Input, name: str, *place: int) -> np.random.SeedSequence:
        """The seed sequence of an input, or of a part of it (a failure mode)."""
        seed = self.others.get(source, self.seed)
        return np.random.SeedSequence(seed, spawn_key=(int(source[0]), stable_hash(source[1], name), *place))

    def generator(self, source: Input, chunk: int) -> np.random.Generator:
        """Generator of an input in a chunk."""
        return np.random.Generator(np.random.PCG64(self._sequence(source, "", chunk)))

    def key(self, source: Input, name: str) -> int:
        """Key of a failure stream, for `fill_exponentials`; the trial is counted over all chunks."""
        return int(self._sequence(source, name).generate_state(1, np.uint64)[0])


def stable_hash(engine: str, mode: str) -> int:
    """
    The same number for the same names on every machine and in every run: 64 bits of a SHA-256.

    >>> stable_hash("", "") == stable_hash("", ""), stable_hash("a", "b") == stable_hash("ab", "")
    (True, False)
    """
    return int.from_bytes(hashlib.sha256(f"{engine}\0{mode}".encode()).digest()[:8], "little")


@compiled
def normals_of_years(normals: NDArray[np.float64], owner_share: float) -> NDArray[np.float64]:
    """
    Normals of years that have something in common: their owner.

    Parameters
    ----------
    normals : ndarray, shape (1 + year, trial)
        Independent ones of the owner and of each year. Written over.
    owner_share : float
        Correlation r between any two years. [-]

    Returns
    -------
    ndarray, shape (year, trial)
        sqrt(1 - r) z of the year + sqrt(r) z of the owner; standard normals.
    """
    of_year, of_owner = math.sqrt(1.0 - owner_share), math.sqrt(owner_share)
    for year in range(1, normals.shape[0]):
        for trial in range(normals.shape[1]):
            normals[year, trial] = of_year * normals[year, trial] + of_owner * normals[0, trial]
    return normals[1:]


@compiled
def _scrambled(state: np.uint64) -> np.uint64:
    """SplitMix64's output function."""
    state = (state ^ (state >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    state = (state ^ (state >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return state ^ (state >> np.uint64(31))


@compiled
def random_bits(key: np.uint64, place: np.uint64) -> np.uint64:
    """The output of SplitMix64 with a seed at a place, counted from 0."""
    return _scrambled(key + (place + np.uint64(1)) * np.uint64(0x9E3779B97F4A7C15))


@compiled
def unit_uniform(key: np.uint64, trial: int, arrival: int) -> float:
    """A uniform number above 0 and below 1: the trial's number `arrival` of a stream, in steps of 2^-53."""
    bits = random_bits(key, np.uint64(trial) * np.uint64(MOST_ARRIVALS) + np.uint64(arrival))
    return (float(bits >> np.uint64(11)) + 0.5) * (1.0 / 9007199254740992.0)


@compiled
def fill_exponentials(
    key: np.uint64, first: int, arrival: int, paths: NDArray[np.int64], filled: NDArray[np.float64]
) -> None:
    """
    Fill in times between two arrivals of rate 1: minus the logarithms of uniform numbers.

    Parameters
    ----------
    key : uint64
        Key of the stream.
    first : int
        Number of the trial that path 0 is.
    arrival : int
        Which of each trial's.
    paths : ndarray, shape (n,)
        Which trials.
    filled : ndarray, with room for n
        [-]
    """
    # One loop after the other: together they need more numbers at a time than a processor holds.
    for place in range(paths.size):
        filled[place] = unit_uniform(key, first + paths[place], arrival)
    for place in range(paths.size):
        filled[place] = -log_of(filled[place])
