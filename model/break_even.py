"""Break-even in time: from when on a dearer engine has paid back what it cost more.

Cumulative cost grows evenly within a year by what flows through it and jumps at dated events, whatever `timing` says.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import money
from model.case import prepare
from model.elements import capital
from model.entries import entries
from model.inputs.scenario import Scenario
from model.inputs.terms import MONTHS_IN_A_YEAR, Element, Payer, Timing
from model.measures import EngineCost, cost_of
from model.ownership import resale_value
from model.usage import meter_at

Amounts = NDArray[np.float64]

SAME_TIME = 1e-9
"""Events closer than this are at one time. [year]"""

STEPS_IN_A_YEAR = 96
"""Points a year between which a curve of value at sale is taken as smooth."""


@dataclass(frozen=True)
class Cumulative:
    """Cost since delivery of one engine: straight lines between times, jumps at them."""

    t: Amounts
    """Times, from 0 to the end of the ownership period, rising, shape (n,). [year]"""
    before: Amounts
    """Cost just before each time, shape (n,). [money]"""
    after: Amounts
    """Cost at each time, its events included, shape (n,). [money]"""

    def at(self, times: ArrayLike) -> tuple[Amounts, Amounts]:
        """
        Cost at any times.

        Parameters
        ----------
        times : array_like, shape (m,)
            Times. [year]

        Returns
        -------
        (ndarray, ndarray), shape (m,)
            Just before, and with the events at that very time. [money]
        """
        times = np.asarray(times, dtype=float)
        right = np.clip(np.searchsorted(self.t, times - SAME_TIME, side="left"), 1, len(self.t) - 1)
        left = right - 1
        share = np.clip((times - self.t[left]) / np.maximum(self.t[right] - self.t[left], SAME_TIME), 0.0, 1.0)
        inside = self.after[left] + share * (self.before[right] - self.after[left])
        place = np.clip(np.searchsorted(self.t, times - SAME_TIME, side="left"), 0, len(self.t) - 1)
        on_event = np.abs(self.t[place] - times) <= SAME_TIME
        return np.where(on_event, self.before[place], inside), np.where(on_event, self.after[place], inside)


def accumulate(
    yearly: ArrayLike, years: float, event_times: ArrayLike = (), event_amounts: ArrayLike = ()
) -> Cumulative:
    """
    Cumulative cost from yearly flows, accruing evenly within each year or part-year, and dated events.

    Parameters
    ----------
    yearly : array_like, shape (year,)
        What flows through each begun year. [money]
    years : float
        Length of the ownership period. [year]
    event_times, event_amounts : array_like, shape (event,)
        Dated events. [year, money]

    Returns
    -------
    Cumulative
    """
    yearly = np.asarray(yearly, dtype=float)
    edges = np.append(np.arange(yearly.size, dtype=float), years)
    flowed = np.append(0.0, np.cumsum(yearly))
    times = np.concatenate([edges, np.asarray(event_times, dtype=float)])
    times = np.sort(times)
    times = times[np.append(True, np.diff(times) > SAME_TIME)]
    order = np.argsort(np.asarray(event_times, dtype=float), kind="stable")
    when = np.asarray(event_times, dtype=float)[order]
    total = np.append(0.0, np.cumsum(np.asarray(event_amounts, dtype=float)[order]))
    flow = np.interp(times, edges, flowed)
    before = flow + total[np.searchsorted(when, times - SAME_TIME, side="left")]
    after = flow + total[np.searchsorted(when, times + SAME_TIME, side="right")]
    return Cumulative(times, before, after)


@lru_cache(maxsize=32)
def cumulative_cost(cost: EngineCost, discounted: bool = False) -> Cumulative:
    """
    Cost since delivery of one engine, without resale.

    Parameters
    ----------
    cost : EngineCost
        From `mid_year_cost`.
    discounted : bool
        Present value in place of money of the day.

    Returns
    -------
    Cumulative
    """
    case = cost.case
    yearly, times, amounts = np.zeros(case.scenario.ownership.begun_years), [np.zeros(0)], [np.zeros(0)]
    for entry in entries(cost):
        if entry.payer is not Payer.OWNER or entry.element is Element.RESALE:
            continue
        when, amount = entry.when, entry.nominal
        if discounted:
            amount = amount * money.discount_factor(case.rules.discount_rate, when.t)
        if when.flows:
            yearly[when.years] += amount
        else:
            times.append(when.t)
            amounts.append(amount)
    return accumulate(yearly, case.years, np.concatenate(times), np.concatenate(amounts))


def mid_year_cost(scenario: Scenario, name: str) -> EngineCost:
    """The cost of one engine with every event at its own time, whatever the scenario's timing."""
    scenario = scenario.changed({("money", "timing"): Timing.MID_YEAR})
    return cost_of(prepare(scenario, scenario.engine(name)))


def sold_at(cost: EngineCost) -> Callable[[Amounts], tuple[Amounts, Amounts]]:
    """
    Nominal cost of one engine if it is sold at a time, as a function of that time.

    Visits and task choices are those of the full period; the loan's balance is repaid at the sale.

    Parameters
    ----------
    cost : EngineCost
        From `mid_year_cost`.

    Returns
    -------
    function
        Times -> cost just before and with the events at those times. [year -> money]
    """
    case, running = cost.case, cumulative_cost(cost)
    hours = np.array(case.scenario.hours())
    balances = capital.loan_balances(case.lent, case.engine.finance)
    payments = np.arange(1, balances.size) / MONTHS_IN_A_YEAR
    owed_at_the_end = balances[np.searchsorted(payments, case.years + SAME_TIME, side="right")]

    def at(times: Amounts) -> tuple[Amounts, Amounts]:
        value = resale_value(case, times, meter_at(times, hours, case.years, case.start[0]))
        owed_before = balances[np.searchsorted(payments, times - SAME_TIME, side="left")]
        owed_after = balances[np.searchsorted(payments, times + SAME_TIME, side="right")]
        before, after = running.at(times)
        repaid_anyway = np.where(times >= case.years - SAME_TIME, owed_at_the_end, 0.0)
        return before + owed_before - value, after - repaid_anyway + owed_after - value

    return at


def pays_from(
    times: Amounts, before: Amounts, after: Amounts, between: Callable[[float], float] | None = None
) -> float | None:
    """
    The earliest time from which a difference stays at or below zero to the end.

    Parameters
    ----------
    times : ndarray, shape (n,)
        Times, rising. [year]
    before, after : ndarray, shape (n,)
        Challenger less baseline just before and at each time. [money]
    between : function, optional
        The difference inside a gap between times; straight lines where none is given. [year -> money]

    Returns
    -------
    float or None
        0 from the start, None for never within the period. [year]
    """
    tiny = 1e-9 * max(1.0, float(np.max(np.abs(after))))
    if after[-1] > tiny:
        return None
    for index in range(len(times) - 1, 0, -1):
        if before[index] > tiny:
            return float(times[index])
        start = after[index - 1]
        if start <= tiny:
            continue
        low, high = float(times[index - 1]), float(times[index])
        if between is not None:
            return _crossing(between, low, high)
        return float(low + (high - low) * start / (start - before[index]))
    return 0.0


def _crossing(difference: Callable[[float], float], low: float, high: float) -> float:
    """Where a difference that is above zero just after `low` falls to zero, by bisection; loads no root finder."""
    while high - low > SAME_TIME * 1e-3:
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        low, high = (middle, high) if difference(middle) > 0.0 else (low, middle)
    return high


@dataclass(frozen=True)
class BreakEvenYears:
    """When a challenger has paid back, in years; None for never within the period."""

    nominal: float | None
    """In money of the day, without resale. [year]"""
    discounted: float | None
    """In present value, without resale. [year]"""
    if_sold: float | None
    """In money of the day, both engines sold then. [year]"""


def break_even_years(challenger: EngineCost, baseline: EngineCost) -> BreakEvenYears:
    """
    From when on a challenger stays at or below the baseline.

    Parameters
    ----------
    challenger, baseline : EngineCost
        From `mid_year_cost`.

    Returns
    -------
    BreakEvenYears
    """
    found = []
    for discounted in (False, True):
        dearer, cheaper = (cumulative_cost(cost, discounted) for cost in (challenger, baseline))
        times = _merged(dearer.t, cheaper.t)
        found.append(pays_from(times, *_less(dearer.at(times), cheaper.at(times))))
    steps = np.linspace(0.0, challenger.case.years, int(challenger.case.years * STEPS_IN_A_YEAR) + 2)
    times = _merged(times, steps)
    sold_dearer, sold_cheaper = sold_at(challenger), sold_at(baseline)

    def inside(t: float) -> float:
        return float(_less(sold_dearer(np.array([t])), sold_cheaper(np.array([t])))[0][0])

    if_sold = pays_from(times, *_less(sold_dearer(times), sold_cheaper(times)), inside)
    return BreakEvenYears(found[0], found[1], if_sold)


def _merged(one: Amounts, other: Amounts) -> Amounts:
    """Times of both, rising, each once."""
    times = np.sort(np.concatenate([one, other]))
    return np.asarray(times[np.append(True, np.diff(times) > SAME_TIME)])


def _less(one: tuple[Amounts, Amounts], other: tuple[Amounts, Amounts]) -> tuple[Amounts, Amounts]:
    """Difference of costs just before and at times."""
    return one[0] - other[0], one[1] - other[1]


def first_cost(cost: EngineCost) -> float:
    """Price and fit-up of the whole boat. [money]"""
    case = cost.case
    return case.count * (capital.net_price(case.engine) + capital.fit_up(case.engine))
