"""Yearly hours, fuel prices and levels of the trials, drawn from keyed streams.

Every spread is a function of standard normals, so that the correlation between years is that of a Gaussian copula
whatever the shape, and a point of a distribution (10 %, 90 %) is that of its normal.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.case import Case
from model.elementary import exponentials
from model.inputs.owner import Spread
from model.inputs.scenario import Scenario
from model.inputs.terms import HOURS_IN_A_YEAR, SpreadShape
from model.levels import Levels
from model.uncertainty.streams import CHUNK, Source, Streams, normals_of_years

Amounts = NDArray[np.float64]

TABLE_REACH, TABLE_STEPS_IN_ONE = 9.0, 64
"""How far the table of a gamma quantile reaches in its normal, and its steps in one standard deviation."""


def relative_hours(spread: Spread, normals: ArrayLike) -> Amounts:
    """
    Hours of a year at points of the spread, for shapes about the stated mean: lognormal and gamma.

    Parameters
    ----------
    spread : Spread
        With `variation`, the coefficient of variation c.
    normals : array_like
        Standard normals z.

    Returns
    -------
    ndarray, shape of normals
        Hours over their mean: exp(s z - s^2 / 2) with s^2 = ln(1 + c^2), or the quantile at z of the gamma
        distribution of shape 1 / c^2 and mean 1. [-]
    """
    variation = spread.variation or 0.0
    if spread.shape is SpreadShape.LOGNORMAL:
        return lognormal_level(normals, variation)
    return np.ones(np.shape(normals)) if variation == 0.0 else _gamma_level(np.asarray(normals), variation)


def absolute_hours(spread: Spread, normals: ArrayLike) -> Amounts:
    """
    Hours of a year at points of the spread, for shapes with their own hours: triangular, uniform, recorded.

    Parameters
    ----------
    spread : Spread
        With `low`, `mode` and `high`, or the recorded `hours`.
    normals : array_like
        Standard normals; u is the share of a normal distribution below each.

    Returns
    -------
    ndarray, shape of normals
        The quantile at u; of n recorded years, number floor(n u) of them in order of size. [h/year]
    """
    from scipy.special import ndtr

    share = np.asarray(ndtr(np.asarray(normals, dtype=float)))
    if spread.shape is SpreadShape.RECORDED:
        ordered = np.sort(np.array(spread.hours))
        return np.asarray(ordered[np.minimum((share * ordered.size).astype(np.int64), ordered.size - 1)])
    low, high = spread.low or 0.0, spread.high or 0.0
    if spread.shape is SpreadShape.UNIFORM:
        return np.asarray(low + (high - low) * share)
    mode, width = spread.mode or 0.0, high - low
    rising = low + np.sqrt(share * width * (mode - low))
    falling = high - np.sqrt((1.0 - share) * width * (high - mode))
    return np.where(share * width < mode - low, rising, falling)


def hours_at(spread: Spread | None, stated: ArrayLike, normals: ArrayLike, mean: float | None = None) -> Amounts:
    """
    Hours of each year at points of the spread, never more than a year holds.

    Parameters
    ----------
    spread : Spread or None
        None is fixed.
    stated : array_like, shape (year,)
        The means of lognormal and gamma hours; of other shapes only their pattern over the years counts. [h/year]
    normals : array_like, shape (..., year)
        Standard normals.
    mean : float, optional
        Of the stated hours, a part-year counted by its part; the plain mean where none is given. [h/year]

    Returns
    -------
    ndarray, shape (..., year)
        Hours of a full year. [h/year]
    """
    stated, normals = np.asarray(stated, dtype=float), np.asarray(normals, dtype=float)
    if spread is None or spread.shape is SpreadShape.FIXED:
        return np.broadcast_to(stated, normals.shape).copy()
    if spread.shape in (SpreadShape.LOGNORMAL, SpreadShape.GAMMA):
        drawn = relative_hours(spread, normals)
        drawn *= stated
    else:
        mean = stated.mean() if mean is None else mean
        drawn = absolute_hours(spread, normals) * (stated / mean if mean > 0.0 else 1.0)
    return np.minimum(drawn, HOURS_IN_A_YEAR, out=drawn)


def variation_of(spread: Spread | None, mean: float) -> float:
    """
    Coefficient of variation of one year's hours, whatever the shape.

    Parameters
    ----------
    spread : Spread or None
    mean : float
        Stated hours. [h/year]

    Returns
    -------
    float
        As stated, or from the middles of a thousand equal shares of the shape. [-]
    """
    if spread is None or spread.shape is SpreadShape.FIXED or mean <= 0.0:
        return 0.0
    if spread.variation is not None:
        return spread.variation
    from scipy.special import ndtri

    hours = hours_at(spread, np.array([mean]), ndtri((np.arange(1000) + 0.5) / 1000.0)[:, None])
    return float(hours.std() / hours.mean()) if hours.mean() > 0.0 else 0.0


def lognormal_level(normals: ArrayLike, variation: float) -> Amounts:
    """
    Levels of mean 1, spread lognormally.

    Parameters
    ----------
    normals : array_like
        Standard normals z.
    variation : float
        Coefficient of variation c. [-]

    Returns
    -------
    ndarray, shape of normals
        exp(s z - s^2 / 2) with s^2 = ln(1 + c^2). [-]

    >>> lognormal_level([-1.0, 0.0], 0.0).tolist()
    [1.0, 1.0]
    """
    variance = math.log1p(variation**2)
    return exponentials(normals, math.sqrt(variance), -0.5 * variance)


def fuel_levels(normals: ArrayLike, volatility: float, times: ArrayLike) -> Amounts:
    """
    Fuel price on top of its stated growth: a random walk of its logarithm whose mean price is the stated one.

    Parameters
    ----------
    normals : array_like, shape (..., year)
        Standard normals, one for each step.
    volatility : float
        Standard deviation s of the yearly change of the logarithm. [-]
    times : array_like, shape (year,)
        Booking times t, rising. [year]

    Returns
    -------
    ndarray, shape (..., year)
        exp(s W(t) - s^2 t / 2) with W the sum of normals x sqrt(time between). [-]
    """
    times = np.asarray(times, dtype=float)
    walked = np.asarray(normals, dtype=float) * (volatility * np.sqrt(np.diff(times, prepend=0.0)))
    walked -= 0.5 * volatility**2 * np.diff(times, prepend=0.0)
    for year in range(1, times.size):
        walked[..., year] += walked[..., year - 1]
    return exponentials(walked)


def _gamma_level(normals: Amounts, variation: float) -> Amounts:
    """Quantiles of the gamma distribution of mean 1, from a table of their logarithms by cubics through four points."""
    table = _gamma_table(variation)
    place = (np.clip(normals, -TABLE_REACH, TABLE_REACH) + TABLE_REACH) * TABLE_STEPS_IN_ONE
    index = np.clip(place.astype(np.int64), 1, table.size - 3)
    s = place - index
    a, b, c, d = (table[index + step] for step in (-1, 0, 1, 2))
    log = (s + 1) * (s - 1) * (s - 2) / 2 * b - (s + 1) * s * (s - 2) / 2 * c
    log += (s + 1) * s * (s - 1) / 6 * d - s * (s - 1) * (s - 2) / 6 * a
    return np.asarray(np.exp(log))


@lru_cache(maxsize=16)
def _gamma_table(variation: float) -> Amounts:
    """Logarithms of the quantiles of the gamma distribution of mean 1, at steps of its normal."""
    from scipy.special import gammainccinv, gammaincinv, ndtr

    shape = 1.0 / variation**2
    normals = np.arange(-TABLE_REACH, TABLE_REACH + 1e-9, 1.0 / TABLE_STEPS_IN_ONE)
    low, high = gammaincinv(shape, ndtr(normals)), gammainccinv(shape, ndtr(-normals))
    return np.asarray(np.log(np.maximum(np.where(normals < 0.0, low, high) / shape, 1e-300)))


@dataclass(frozen=True)
class Sampled:
    """What one chunk of trials lives through, failures apart."""

    hours: Amounts
    """Hours of a full year, shape (trial, year). [h/year]"""
    levels: tuple[Levels, ...]
    """Price and burn levels, of each engine; fuel price, parts and labour are the same for all."""


def sample(cases: Sequence[Case], streams: Streams, chunk: int) -> Sampled:
    """
    Draw one chunk of trials.

    Parameters
    ----------
    cases : sequence of Case
        Engines of one scenario.
    streams : Streams
    chunk : int
        Number of the chunk.

    Returns
    -------
    Sampled
        Of `CHUNK` trials, so that a trial is the same however many are run.
    """
    scenario, terms = cases[0].scenario, cases[0].scenario.trials

    def level(source: Source, name: str, variation: float) -> ArrayLike:
        if variation == 0.0:
            return 1.0
        return lognormal_level(streams.generator((source, name), chunk).standard_normal(CHUNK), variation)

    fuel = _fuel(cases[0], streams, chunk)
    parts = level(Source.PARTS, "", terms.parts_variation)
    labour = level(Source.LABOUR, "", terms.labour_variation)
    levels = []
    for case in cases:
        burn = level(Source.FUEL_BURN, case.engine.name, terms.fuel_burn_variation)
        resale = level(Source.RESALE, case.engine.name, terms.resale_variation)
        levels.append(Levels(fuel=fuel, parts=parts, labour=labour, fuel_burn=burn, resale=resale))
    return Sampled(_hours(scenario, streams, chunk), tuple(levels))


def _hours(scenario: Scenario, streams: Streams, chunk: int) -> Amounts:
    """Hours of one chunk, shape (trial, year), the years of a trial side by side in memory. [h/year]"""
    spread, stated = scenario.use.spread, scenario.hours()
    if not is_spread(spread):
        return hours_at(None, stated, np.zeros((CHUNK, len(stated))))
    assert spread is not None
    normals = streams.generator((Source.HOURS, ""), chunk).standard_normal((1 + len(stated), CHUNK))
    years = normals_of_years(normals, spread.owner_share)
    return np.ascontiguousarray(hours_at(spread, stated, years.T, scenario.mean_hours()))


def _fuel(case: Case, streams: Streams, chunk: int) -> ArrayLike:
    """Fuel price levels of one chunk, shape (trial, year), the years of a trial side by side in memory. [-]"""
    volatility, times = case.scenario.trials.fuel_volatility, case.rules.flow_times
    if volatility == 0.0:
        return 1.0
    normals = streams.generator((Source.FUEL_PRICE, ""), chunk).standard_normal((times.size, CHUNK))
    return np.ascontiguousarray(fuel_levels(normals.T, volatility, times))


def is_spread(spread: Spread | None) -> bool:
    """Whether hours differ between trials."""
    if spread is None or spread.shape is SpreadShape.FIXED:
        return False
    return spread.shape not in (SpreadShape.LOGNORMAL, SpreadShape.GAMMA) or (spread.variation or 0.0) > 0.0


def volatility_of(prices: ArrayLike) -> float:
    """
    Standard deviation of the yearly change of a price's logarithm, for `trials.fuel_volatility`.

    Parameters
    ----------
    prices : array_like, shape (year,)
        Prices a year apart, at least three. [money]

    Returns
    -------
    float
        Of the sample, n - 1 in the denominator. [-]
    """
    return float(np.std(np.diff(np.log(np.asarray(prices, dtype=float))), ddof=1))
