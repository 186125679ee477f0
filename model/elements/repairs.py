"""Repairs: expected failures of each mode, by a power law in meter hours or in years of the engine's own age.

Minimal repair ("as old"): failures expected by age x are (x / scale)^shape. A part renewed at each repair ("as new"):
the renewal function M of a Weibull life of that scale and shape, M(x) = F(x) + integral of M(x - u) dF(u), solved on a
grid by midpoint sums with Richardson extrapolation; in a used engine the first life is as old as the engine.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.compiling import compiled
from model.inputs.engine import FailureMode
from model.inputs.owner import Neglect
from model.inputs.terms import AfterRepair, Clock

Amounts = NDArray[np.float64]

GRID_SPAN = 24.0
"""How far the renewal function is tabulated; beyond, it rises by one failure for each mean life. [scale]"""

STEPS_IN_A_SCALE = 128
"""Steps of that table in one scale."""

GRID_STEP = 1.0 / STEPS_IN_A_SCALE
"""Step of that table. [scale]"""


class ModeTable(NamedTuple):
    """Failure modes as the compiled sums need them, each column of shape (mode,)."""

    by_hours: NDArray[np.bool_]
    """Whether the mode ages by meter hours (else by years)."""
    scale: Amounts
    """Age at which one failure is expected, neglect included. [h or year]"""
    shape: Amounts
    """Shape of the power law. [-]"""
    as_new: NDArray[np.bool_]
    """Whether a repair renews the part."""
    start: Amounts
    """Age of the engine at delivery on the mode's clock. [h or year]"""
    later_renewals: Amounts
    """Expected failures since delivery of as-new modes after the first, shape (mode, grid). [-]"""
    renewals_integral: Amounts
    """Their integral over age / scale, shape (mode, grid). [-]"""


@dataclass(frozen=True)
class FailureModes:
    """Failure modes of one engine; what only expected values need is worked out when it is asked for."""

    stated: tuple[FailureMode, ...]
    """As the engine states them."""
    start: tuple[float, float]
    """Meter hours and age of the engine at delivery. [h, year]"""
    neglect: Neglect | None
    """The scenario's factors when servicing is skipped; None when it is not."""

    @cached_property
    def table(self) -> ModeTable:
        """For the compiled sums."""
        return mode_table(self.stated, self.start, self.neglect)

    @cached_property
    def lives(self) -> ModeTable:
        """The same without expected renewals, which take the time and which drawn failures have no use for."""
        return mode_lives(self.stated, self.start, self.neglect)


def mode_lives(modes: Sequence[FailureMode], start: tuple[float, float], neglect: Neglect | None) -> ModeTable:
    """
    Failure modes without a table of expected renewals.

    Parameters
    ----------
    modes, start, neglect
        As of `mode_table`.

    Returns
    -------
    ModeTable
    """
    by_hours = np.array([mode.clock is Clock.HOURS for mode in modes], dtype=np.bool_)
    # A life of shape 1 is as good as new at any age: renewing the part changes nothing, and minimal repair is exact.
    as_new = np.array([mode.after is AfterRepair.AS_NEW and mode.shape != 1.0 for mode in modes], dtype=np.bool_)
    scale = np.array([neglected_scale(mode, neglect) for mode in modes])
    starts = np.where(by_hours, start[0], start[1]).astype(float)
    nothing, shape = np.zeros((len(modes), 0)), np.array([mode.shape for mode in modes])
    return ModeTable(by_hours, scale, shape, as_new, starts, nothing, nothing)


def mode_table(modes: Sequence[FailureMode], start: tuple[float, float], neglect: Neglect | None) -> ModeTable:
    """
    Failure modes as the compiled sums need them.

    Parameters
    ----------
    modes : sequence of FailureMode
    start : (float, float)
        Meter hours and age of the engine at delivery. [h, year]
    neglect : Neglect or None
        The scenario's factors when servicing is skipped, which multiply the intensity; None when it is not.

    Returns
    -------
    ModeTable
    """
    lives = mode_lives(modes, start, neglect)
    size = round(GRID_SPAN / GRID_STEP) + 1 if lives.as_new.any() else 0
    renewals, integrals = np.zeros((len(modes), size)), np.zeros((len(modes), size))
    for index, mode in enumerate(modes):
        if lives.as_new[index]:
            life = mode.shape, float(lives.start[index] / lives.scale[index])
            renewals[index], integrals[index] = renewal_table(*life)
            # The first failure is known in closed form; near delivery it is too steep for the table.
            renewals[index] -= first_life(GRID_STEP * np.arange(size, dtype=float), *life)
    return lives._replace(later_renewals=renewals, renewals_integral=integrals)


def neglected_scale(mode: FailureMode, neglect: Neglect | None) -> float:
    """The scale at which the neglected intensity expects one failure: intensity x f is scale / f^(1 / shape)."""
    if neglect is None:
        return mode.scale
    factor = 1.0 if neglect.repair_factor is None else neglect.repair_factor
    factor *= 1.0 if mode.neglect_factor is None else mode.neglect_factor
    return mode.scale / factor ** (1.0 / mode.shape) if factor > 0.0 else float(np.inf)


@compiled
def _sum_of_products(first: Amounts, second: Amounts) -> float:
    """Sum of the products of two arrays of one length, in four sums that need not wait for one another."""
    a, b, c, d, fours = 0.0, 0.0, 0.0, 0.0, first.size - first.size % 4
    for place in range(0, fours, 4):
        a += first[place] * second[place]
        b += first[place + 1] * second[place + 1]
        c += first[place + 2] * second[place + 2]
        d += first[place + 3] * second[place + 3]
    for place in range(fours, first.size):
        a += first[place] * second[place]
    return (a + b) + (c + d)


@compiled
def _renewal_sums(life: Amounts, life_at_half: Amounts) -> Amounts:
    """Renewal function on a grid by midpoint sums; `life` is F at the steps, `life_at_half` at the half steps."""
    size, turned = life.shape[0], life_at_half[::-1].copy()
    renewals, rise = np.zeros(size), np.zeros(size)
    for i in range(1, size):
        total = life[i] + _sum_of_products(rise[1:i], turned[size - i : size - 1])
        total -= renewals[i - 1] * life_at_half[0]
        renewals[i] = total / (1.0 - life_at_half[0])
        rise[i] = renewals[i] - renewals[i - 1]
    return renewals


@lru_cache(maxsize=64)
def _renewals_from_new(shape: float, step: float) -> Amounts:
    """Renewals of new parts on a grid of that step: they take the time, and know of no first part's age."""
    age_at_step = step * np.arange(round(GRID_SPAN / step) + 1, dtype=float)
    return _renewal_sums(-np.expm1(-(age_at_step**shape)), -np.expm1(-((age_at_step + 0.5 * step) ** shape)))


@lru_cache(maxsize=64)
def renewal_table(shape: float, age: float = 0.0) -> tuple[Amounts, Amounts]:
    """
    Expected renewals of a Weibull life of scale 1, tabulated from the delivery of a part of some age.

    Parameters
    ----------
    shape : float
        Shape of the life. [-]
    age : float
        Age of the first part over its scale; later ones are new. [-]

    Returns
    -------
    (ndarray, ndarray), shape (grid,)
        Expected renewals by 0, GRID_STEP, ..., GRID_SPAN since delivery, and their integral. [-]
    """
    fine = _renewals_from_new(shape, GRID_STEP / 2)
    if age == 0.0:
        renewals = _extrapolated(_renewals_from_new(shape, GRID_STEP), fine[::2])
    else:
        finer = _renewals_from_new(shape, GRID_STEP / 4)
        once = _after_first_life(GRID_STEP, (shape, age), fine[1::2])
        twice = _after_first_life(GRID_STEP / 2, (shape, age), finer[1::2])
        renewals = _extrapolated(once, twice[::2])
    return renewals, _running_integral(renewals)


def _running_integral(values: Amounts) -> Amounts:
    """Integral of a table up to each of its points, each step by the parabola through it and the step before."""
    first = 5.0 * values[0] + 8.0 * values[1] - values[2]
    others = -values[:-2] + 8.0 * values[1:-1] + 5.0 * values[2:]
    return np.cumsum(np.concatenate([[0.0, first], others]) * (GRID_STEP / 12.0))


def first_life(since_delivery: ArrayLike, shape: float, age: float) -> Amounts:
    """Probability that the first part has failed by then, given its age at delivery; all over its scale. [-]"""
    return np.asarray(-np.expm1(age**shape - (age + np.asarray(since_delivery)) ** shape))


def _extrapolated(coarse: Amounts, fine: Amounts) -> Amounts:
    """Richardson extrapolation of midpoint sums at a step and at half of it."""
    return np.asarray((4.0 * fine - coarse) / 3.0)


def _after_first_life(step: float, life: tuple[float, float], at_midpoints: Amounts) -> Amounts:
    """Renewals of an aged first part: its own failure, and the renewals of new parts after it, by midpoint sums."""
    first = first_life(step * np.arange(at_midpoints.size + 1, dtype=float), *life)
    size = 2 * at_midpoints.size  # a transform of at least both lengths together leaves no wrap-around
    later = np.fft.irfft(np.fft.rfft(np.diff(first), size) * np.fft.rfft(at_midpoints, size), size)
    return np.asarray(first + np.append(0.0, later[: at_midpoints.size]))


@compiled
def _tabulated(table: Amounts, x: float) -> float:
    """A table read at x by local cubics, and beyond its end along its last slope."""
    last = table.shape[0] - 1
    place = x / GRID_STEP
    if place >= last:
        last_slope = (table[last] - table[last - STEPS_IN_A_SCALE]) / STEPS_IN_A_SCALE
        return float(table[last] + (place - last) * last_slope)
    i = min(max(int(place), 1), last - 2)
    s = place - i
    a, b, c, d = table[i - 1], table[i], table[i + 1], table[i + 2]
    return float(
        -s * (s - 1) * (s - 2) / 6 * a
        + (s + 1) * (s - 1) * (s - 2) / 2 * b
        - (s + 1) * s * (s - 2) / 2 * c
        + (s + 1) * s * (s - 1) / 6 * d
    )


@compiled
def failures_by(mode: int, x: float, modes: ModeTable) -> float:
    """Failures of a mode expected by its age x, up to a constant. [h or year -> -]"""
    if modes.as_new[mode]:
        age, now = modes.start[mode] / modes.scale[mode], x / modes.scale[mode]
        first = -math.expm1(age ** modes.shape[mode] - now ** modes.shape[mode])
        return float(first + _tabulated(modes.later_renewals[mode], now - age))
    return float((x / modes.scale[mode]) ** modes.shape[mode])


@compiled
def failures_by_integral(mode: int, x: float, modes: ModeTable) -> float:
    """Integral of `failures_by` over age, up to a constant. [h or year]"""
    if modes.as_new[mode]:
        since_delivery = (x - modes.start[mode]) / modes.scale[mode]
        within, beyond = min(since_delivery, GRID_SPAN), max(since_delivery - GRID_SPAN, 0.0)
        # Beyond the table renewals rise evenly, so their integral is the mean of both ends.
        end_of_table = modes.start[mode] + GRID_SPAN * modes.scale[mode]
        ends = failures_by(mode, end_of_table, modes) + failures_by(mode, x, modes)
        area = _tabulated(modes.renewals_integral[mode], within) + 0.5 * ends * beyond
        return float(area * modes.scale[mode])
    return float(x * (x / modes.scale[mode]) ** modes.shape[mode] / (modes.shape[mode] + 1.0))


@compiled
def failures_between(
    mode: int, modes: ModeTable, ageing: tuple[float, float], low: float, high: float
) -> tuple[float, float]:
    """
    Failures of a mode expected within part of one year, and their times.

    Parameters
    ----------
    mode : int
    modes : ModeTable
    ageing : (float, float)
        The mode's age at `low`, and how fast it ages there. [h or year, and that a year]
    low, high : float
        Times since delivery, within one year of use. [year]

    Returns
    -------
    (float, float)
        Failures expected, and the sum of their expected times: integral of t over d(failures). [-, year]
    """
    x_low, rate = ageing
    if high <= low or rate <= 0.0:
        return 0.0, 0.0
    x_high = x_low + rate * (high - low)
    by_low, by_high = failures_by(mode, x_low, modes), failures_by(mode, x_high, modes)
    if modes.as_new[mode] and x_high - x_low < 4.0 * GRID_STEP * modes.scale[mode]:
        # Few cells of the table: a difference of tabulated integrals over a low rate would be mostly rounding, and date
        # the failures outside the time they fall in. Simpson's rule keeps them between its ends.
        middle = failures_by(mode, 0.5 * (x_low + x_high), modes)
        area = (high - low) * (by_low + 4.0 * middle + by_high) / 6.0
    elif not modes.as_new[mode]:  # `failures_by_integral` with the powers at hand: they take most of the time
        area = (x_high * by_high - x_low * by_low) / (modes.shape[mode] + 1.0) / rate
    else:
        area = (failures_by_integral(mode, x_high, modes) - failures_by_integral(mode, x_low, modes)) / rate
    return by_high - by_low, high * by_high - low * by_low - area
