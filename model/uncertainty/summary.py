"""What trials say: how cost is spread, how sure the cheapest engine is, and when a dearer one has paid back."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.uncertainty.intervals import Distribution, Estimate, distribution, mean_of
from model.uncertainty.outcomes import FAILURES, OWNER_PAID, VISITS
from model.uncertainty.paying_back import pay_back_times
from model.uncertainty.trials import TrialRun

Amounts = NDArray[np.float64]

SAME = 1e-9
"""Costs closer than this share of the lower one are the same."""


@dataclass(frozen=True)
class EngineSummary:
    """One engine over all trials."""

    name: str
    """The engine."""
    cost: Distribution
    """Total cost of ownership in present value. [money]"""
    chance_cheapest: Estimate
    """Share of the trials in which it is the cheapest, ties shared. [-]"""
    expected_regret: Estimate
    """What choosing it costs more, on the mean, than having chosen the cheapest of each trial. [money]"""
    visits_per_year: Estimate
    """Workshop visits. [1/year]"""
    repairs: Estimate
    """Failures within the ownership period, all engines on the boat. [-]"""
    owner_paid_repairs: Estimate
    """Of them, those not paid in full by the warranty. [-]"""


@dataclass(frozen=True)
class PairSummary:
    """A challenger against the baseline over all trials."""

    baseline: str
    """The engine with the lowest price and fit-up."""
    challenger: str
    """Another engine."""
    difference: Distribution
    """Challenger less baseline, present value. [money]"""
    break_even: Distribution
    """From when on the challenger has paid back; infinite for never within the period. [year]"""
    never: Estimate
    """Share of the trials in which it never does. [-]"""


@dataclass(frozen=True)
class Summary:
    """What the trials of a scenario say."""

    run: TrialRun
    """The trials."""
    engines: tuple[EngineSummary, ...]
    """In the scenario's order."""
    pairs: tuple[PairSummary, ...]
    """Every other engine against the baseline."""

    @property
    def likely(self) -> EngineSummary:
        """The engine that is cheapest on the mean."""
        return min(self.engines, key=lambda engine: engine.cost.mean.value)

    @property
    def pair(self) -> PairSummary | None:
        """The pair that the answer is about: the cheapest challenger on the mean against the baseline."""
        means = {engine.name: engine.cost.mean.value for engine in self.engines}
        return min(self.pairs, key=lambda pair: means[pair.challenger], default=None)


def chances_cheapest(present: Amounts) -> Amounts:
    """
    Shares of being the cheapest in each trial.

    Parameters
    ----------
    present : ndarray, shape (engine, trial)
        Costs. [money]

    Returns
    -------
    ndarray, shape (engine, trial)
        1 for the only cheapest, 1 / n for each of n that cost the same, 0 for the others. [-]
    """
    least = present.min(axis=0)
    is_least = present <= least + SAME * np.maximum(1.0, np.abs(least))
    return np.asarray(is_least / is_least.sum(axis=0))


def baseline_of(run: TrialRun) -> int:
    """Position of the baseline: the lowest price and fit-up of the whole boat, the first of equals."""
    return int(np.argmin([engine.first_cost for engine in run.engines]))


def is_within_the_spread(run: TrialRun, engine: str, other: str) -> bool:
    """
    Whether two engines cost about the same: half of the trials lie on both sides of no difference.

    Parameters
    ----------
    run : TrialRun
    engine, other : str
        Names of two engines.

    Returns
    -------
    bool
        Whether no difference lies within the symmetric 50 % coverage interval of theirs (JCGM 101:2008, 7.7).
    """
    places = {name: place for place, name in enumerate(run.names)}
    low, high = np.quantile(run.present[places[other]] - run.present[places[engine]], (0.25, 0.75))
    return bool(low < 0.0 < high)


def summarise(run: TrialRun) -> Summary:
    """
    Summarise trials.

    Parameters
    ----------
    run : TrialRun

    Returns
    -------
    Summary
    """
    shares, regrets = chances_cheapest(run.present), run.present - run.present.min(axis=0)
    years = run.scenario.ownership.years
    engines = []
    for place, name in enumerate(run.names):
        counts = [_count(run, place, kind) for kind in (VISITS, FAILURES, OWNER_PAID)]
        engines.append(
            EngineSummary(
                name,
                distribution(run.present[place]),
                mean_of(shares[place]),
                mean_of(regrets[place]),
                Estimate(counts[0].value / years, counts[0].standard_error / years),
                counts[1],
                counts[2],
            )
        )
    base = baseline_of(run)
    pairs = [_pair(run, base, place) for place in range(len(run.engines)) if place != base]
    return Summary(run, tuple(engines), tuple(pairs))


def _count(run: TrialRun, engine: int, kind: int) -> Estimate:
    """Mean of a count over the trials."""
    number, total, squares = run.trials, run.counts.total[engine, kind], run.counts.squares[engine, kind]
    variance = max(squares - total**2 / number, 0.0) / max(number - 1, 1)
    return Estimate(float(total / number), float(np.sqrt(variance / number)))


def _pair(run: TrialRun, base: int, place: int) -> PairSummary:
    """One challenger against the baseline."""
    times = break_even_times(run, base, place)
    return PairSummary(
        run.names[base],
        run.names[place],
        distribution(run.present[place] - run.present[base]),
        distribution(times),
        mean_of(np.isinf(times).astype(float)),
    )


def break_even_times(run: TrialRun, baseline: int, challenger: int) -> Amounts:
    """
    The break-even time of each trial.

    Parameters
    ----------
    run : TrialRun
    baseline, challenger : int
        Positions of two engines.

    Returns
    -------
    ndarray, shape (trial,)
        As `paying_back.pay_back_times`. [year]
    """
    delivery = run.engines[challenger].delivery - run.engines[baseline].delivery
    by_year = run.by_year[challenger] - run.by_year[baseline]
    return pay_back_times(delivery, by_year, run.scenario.ownership.years)


@dataclass(frozen=True)
class YearSummary:
    """One engine in one year over all trials, money of the day without the value at sale."""

    year: int
    """Ownership year, from 0."""
    cost: Distribution
    """Of that year, the first with the delivery day. [money]"""
    since_delivery: Distribution
    """Up to its end. [money]"""
    counts: tuple[float, float, float]
    """Means of visits, failures, and failures not paid in full by the warranty. [-]"""


def by_year(run: TrialRun, engine: int) -> tuple[YearSummary, ...]:
    """
    What an engine costs year by year, for budgets and for the band around its curve.

    Parameters
    ----------
    run : TrialRun
    engine : int
        Position of the engine.

    Returns
    -------
    tuple of YearSummary
    """
    found, since = [], np.zeros(run.trials)
    for year, cost in enumerate(run.by_year[engine]):
        since = since + cost
        counts = run.counts.by_year[engine, :, year] / run.trials
        visits, failed, paid = (float(count) for count in counts)
        found.append(YearSummary(year, distribution(cost), distribution(since), (visits, failed, paid)))
    return tuple(found)
