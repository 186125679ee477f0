"""For pictures: the band around cost since delivery, and the chance of being the cheapest over hours a year."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.cheapest import hours_rows
from model.inputs.scenario import Scenario
from model.inputs.terms import HOURS_IN_A_YEAR
from model.uncertainty.chunks import outcomes_of_chunk, ready, together
from model.uncertainty.failures import problems_of_drawing
from model.uncertainty.intervals import symmetric
from model.uncertainty.sampling import Sampled, sample
from model.uncertainty.streams import CHUNK, Streams
from model.uncertainty.summary import chances_cheapest
from model.uncertainty.trials import TrialRun, something_varies

Amounts = NDArray[np.float64]

STEPS_OF_A_TABLE = 10
"""Steps from the least to the most hours a year in a table of chances."""


@dataclass(frozen=True)
class Band:
    """Cost since delivery of one engine over the trials, money of the day without the value at sale."""

    t: Amounts
    """Delivery and the ends of the years, shape (n,). [year]"""
    low: Amounts
    """Lower end of the coverage interval, shape (n,). [money]"""
    middle: Amounts
    """Mean, shape (n,). [money]"""
    high: Amounts
    """Upper end, shape (n,). [money]"""


def band(run: TrialRun, engine: int, share: float = 0.8) -> Band:
    """
    The band that holds a share of the trials' costs since delivery at the end of each year.

    Parameters
    ----------
    run : TrialRun
    engine : int
        Position of the engine.
    share : float
        Share of the trials within the band at any one time. [-]

    Returns
    -------
    Band
    """
    delivery, years = run.engines[engine].delivery, run.scenario.ownership.years
    found, since = [(delivery, delivery, delivery)], np.zeros(run.trials)
    for cost in run.by_year[engine]:
        since = since + cost
        low, high = symmetric(np.sort(since), share)
        found.append((low, float(since.mean()), high))
    low_ends, middle, high_ends = np.array(found).T
    t = np.append(np.arange(len(found) - 1, dtype=float), years)
    return Band(t, low_ends, middle, high_ends)


@dataclass(frozen=True)
class ChanceCurve:
    """Chance of being the cheapest over mean hours a year."""

    hours: Amounts
    """Mean hours a year, shape (n,). [h/year]"""
    chances: Amounts
    """Of each engine, shape (engine, n). [-]"""
    standard_errors: Amounts
    """Of the chances, shape (engine, n). [-]"""


def chance_over_hours(
    scenario: Scenario, hours: Amounts, seed: int = 1, chunks: int = 1, trials: int = CHUNK
) -> ChanceCurve:
    """
    Chance of being the cheapest at other mean hours a year, the spread about the mean scaled with it.

    The same draws serve all hours, so that the curve is as smooth as its engines allow.

    Parameters
    ----------
    scenario : Scenario
    hours : ndarray, shape (n,)
        Mean hours a year. [h/year]
    seed : int
    chunks : int
        Chunks of trials at each.
    trials : int
        Of each chunk, the first of its trials.

    Returns
    -------
    ChanceCurve
    """
    streams = Streams(seed)
    engines, stated = together(ready(scenario), streams), np.array(scenario.hours())
    drawn = [sample([engine.case for engine in engines.engines], streams, chunk) for chunk in range(chunks)]
    over_stated = [_relative(one.hours, stated) for one in drawn]
    shares = np.zeros((2, len(engines.engines), len(hours)))
    for place, row in enumerate(hours_rows(scenario, hours)):
        for chunk, one in enumerate(drawn):
            scaled = np.minimum(over_stated[chunk] * row, HOURS_IN_A_YEAR)
            share = chances_cheapest(outcomes_of_chunk(engines, Sampled(scaled, one.levels), chunk, trials).present)
            shares[:, :, place] += share.sum(axis=-1), (share**2).sum(axis=-1)
    mean, squares = shares / (chunks * trials)
    return ChanceCurve(hours, mean, np.sqrt(np.maximum(squares - mean**2, 0.0) / (chunks * trials)))


def chances_to_tell(scenario: Scenario, seed: int = 1) -> ChanceCurve | None:
    """
    Chance of being the cheapest at the stated mean hours and at even steps over the range of hours a year.

    Parameters
    ----------
    scenario : Scenario
    seed : int

    Returns
    -------
    ChanceCurve or None
        None where nothing varies. Hours at which a failure mode fails too often to be drawn are left out.
    """
    if not something_varies(scenario):
        return None
    steps = np.linspace(*scenario.range.hours_per_year, STEPS_OF_A_TABLE + 1)
    hours = np.unique(np.append(steps, scenario.mean_hours()))
    rows = hours_rows(scenario, hours).tolist()
    changed = [
        scenario.changed({("use", "hours_by_year"): tuple(row), ("use", "hours_per_year"): None}) for row in rows
    ]
    can_be_drawn = [not problems_of_drawing(one, "") for one in changed]
    return chance_over_hours(scenario, hours[can_be_drawn], seed)


def _relative(hours: Amounts, stated: Amounts) -> Amounts:
    """Drawn hours over the stated ones; 1 where none are stated. [-]"""
    return np.where(stated > 0.0, hours / np.where(stated > 0.0, stated, 1.0), 1.0)
