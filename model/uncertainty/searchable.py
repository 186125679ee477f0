"""The inputs that flip points are looked for in: today's value, the range looked at, and costs as a function of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.case import Case, prepare
from model.cheapest import costs_over_hours, costs_over_years
from model.entries import entries
from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.inputs.terms import Payer
from model.language import later, say
from model.levels import AS_STATED, Levels
from model.measures import cost_of, total_by_year
from model.ownership import own, resale_value
from model.sweep import Costs
from model.usage import hours_run

Amounts = NDArray[np.float64]

STEPS = 60
"""Steps of the grid over an input's range, besides what stands in the scenario."""

FINE_STEPS = 1000
"""The same for hours a year, where service steps make slivers and a row costs little."""

MOST_TIMES = 5.0
"""How many times today's value the range of a price reaches. [-]"""

RATIOS = (10.0, 400.0)
"""Range of the oil ratio: litres of fuel for a litre of oil. [-]"""

DISCOUNT_RATES = (0.0, 0.3)
"""Range of the nominal discount rate. [1/year]"""


@dataclass(frozen=True)
class Input:
    """One input, as far as a search needs it."""

    name: str
    """What it is: "fuel price", "price of Four-stroke 45 kW"."""
    unit: str
    """Its unit in words, for a sentence: "a litre", "h"."""
    today: float
    """As the scenario states it."""
    span: tuple[float, float]
    """The range that is looked at."""
    costs: Costs
    """Values, shape (n,) -> present value of every engine, shape (engine, n). [money]"""
    steps: int = STEPS
    """Steps of the grid over the range."""


def inputs(scenario: Scenario) -> Iterator[Input]:
    """
    Every input that is looked at, as it stands in a scenario.

    Parameters
    ----------
    scenario : Scenario

    Yields
    ------
    Input
    """
    prices, engines = scenario.prices, scenario.engines
    burning = [place for place, engine in enumerate(engines) if engine.oil]
    yield _price(scenario, (later("fuel price"), later("a litre")), ("prices", "fuel"), (prices.fuel, 10.0))
    if burning:
        oil = (prices.two_stroke_oil or 0.0, 50.0)
        yield _price(scenario, (later("two-stroke oil price"), later("a litre")), ("prices", "two_stroke_oil"), oil)
    yield from (_oil_ratio(scenario, place) for place in burning)
    yield _labour_rate(scenario)
    yield from (engine_price_input(scenario, place) for place in range(len(engines)))
    yield from (resale_input(scenario, place) for place, engine in enumerate(engines) if engine.resale)
    yield _discount_rate(scenario)
    yield _ownership_years(scenario)
    yield _hours(scenario)


def _costs(scenario: Scenario) -> Amounts:
    """Present value of every engine on the stated hours, shape (engine,). [money]"""
    return np.array([_total(prepare(scenario, engine)) for engine in scenario.engines])


def _total(case: Case, levels: Levels = AS_STATED) -> float:
    """Present value of one engine on the stated hours. [money]"""
    owned = own(case, np.array(case.scenario.hours()), levels)
    return float(total_by_year(owned).present_value.sum())


def _each(costs: Callable[[float], Amounts]) -> Costs:
    """Costs at single values as costs at many."""
    return lambda values: np.array([costs(float(value)) for value in values]).T


def _straight(costs: Callable[[float], Amounts]) -> Costs:
    """Costs that are a straight line in a value, from two points of it."""
    at_none, at_one = costs(0.0), costs(1.0)
    return lambda values: at_none[:, None] + (at_one - at_none)[:, None] * values


def _line(total: Callable[[float], float], ends: tuple[float, float]) -> Callable[[float], float]:
    """A total that is a straight line in a value, from its two ends."""
    (low, high), (at_low, at_high) = ends, (total(end) for end in ends)
    return lambda value: at_low + (at_high - at_low) * (value - low) / (high - low)


def _one_engine(scenario: Scenario, place: int, total: Callable[[float], float]) -> Costs:
    """Costs where a value concerns a single engine."""
    others = _costs(scenario)

    def costs(values: Amounts) -> Amounts:
        found = np.repeat(others[:, None], len(values), axis=1)
        found[place] = [total(float(value)) for value in values]
        return found

    return costs


def reach(today: float, otherwise: float) -> tuple[float, float]:
    """Range of a price: up to some times today's, or up to a stated one where it is nothing today."""
    return 0.0, MOST_TIMES * today if today > 0.0 else otherwise


def _price(
    scenario: Scenario, words: tuple[str, str], path: tuple[str | int, ...], today: tuple[float, float]
) -> Input:
    """A price that costs are a straight line in; today's, and how far to look where it is nothing."""
    costs = _straight(lambda price: _costs(scenario.changed({path: price})))
    return Input(*words, today[0], reach(*today), costs)


def _labour_rate(scenario: Scenario) -> Input:
    """The labour rate; what an excess takes off a repair bends the line."""
    today = scenario.prices.labour
    is_bent = any(prepare(scenario, engine).cover.excess > 0.0 for engine in scenario.engines)
    over = _each if is_bent else _straight
    costs = over(lambda rate: _costs(scenario.changed({("prices", "labour"): rate})))
    return Input(later("labour rate"), later("an hour"), today, reach(today, 300.0), costs)


def engine_price_input(scenario: Scenario, place: int) -> Input:
    """The price of one engine, its list price held, so that resale stays."""
    engine = scenario.engines[place]
    held = scenario.changed({("engines", place, "list_price"): engine.list_price or engine.price})

    def total(price: float) -> float:
        changed = held.changed({("engines", place, "price"): price})
        return _total(prepare(changed, changed.engines[place]))

    low, high = reach(engine.price, 1e4)
    span = (max(low, engine.discount), high)
    # A trade-in worth more than the rest leaves nothing to lend: only there is the line bent.
    is_bent = engine.finance is not None and engine.trade_in > sum(fitted.price for fitted in engine.fit_up)
    over = total if is_bent else _line(total, span)
    return Input(
        say("price of {engine}", engine=engine.name),
        "",
        engine.price,
        span,
        _one_engine(held, place, over),
    )


def _oil_ratio(scenario: Scenario, place: int) -> Input:
    """The oil ratio of one engine; of a table of points, the mean over the running bands, all points in proportion."""
    engine = scenario.engines[place]
    case = prepare(scenario, engine)
    today = case.litres_an_hour / case.oil_litres_an_hour if case.oil_litres_an_hour > 0.0 else RATIOS[0]
    others = _costs(scenario)
    changed = scenario.changed({("engines", place): _with_leaner_oil(engine)})
    oil_cost = 2.0 * (others[place] - _total(prepare(changed, changed.engines[place])))

    def costs(values: Amounts) -> Amounts:
        found = np.repeat(others[:, None], len(values), axis=1)
        found[place] += oil_cost * (today / values - 1.0)
        return found

    span = (min(RATIOS[0], today), max(RATIOS[1], today))
    return Input(say("oil ratio of {engine}", engine=engine.name), later("to 1"), today, span, costs)


def _with_leaner_oil(engine: Engine) -> Engine:
    """The engine with half the oil in its fuel."""
    assert engine.oil is not None
    ratio = None if engine.oil.ratio is None else engine.oil.ratio * 2.0
    points = None if engine.oil.points is None else tuple((speed, 2.0 * ratio) for speed, ratio in engine.oil.points)
    return engine.model_copy(update={"oil": engine.oil.model_copy(update={"ratio": ratio, "points": points})})


def resale_input(scenario: Scenario, place: int) -> Input:
    """Value at sale of one kind of engine, all of them on the boat, money of the day."""
    engine = scenario.engines[place]
    case = prepare(scenario, engine)
    run = float(hours_run(np.array(scenario.hours()), case.years).sum())
    today = float(resale_value(case, case.years, case.start[0] + run))
    unsold, sold = _total(case, Levels(resale=0.0)), _total(case)
    slope = (sold - unsold) / today if today > 0.0 else 0.0
    return Input(
        say("value at sale of {engine}", engine=engine.name),
        "",
        today,
        reach(today, case.list_price * case.count),
        _one_engine(scenario, place, lambda value: unsold + slope * value),
    )


def _discount_rate(scenario: Scenario) -> Input:
    """The nominal discount rate, in place of a real one: what the owner pays discounted anew."""
    cases = [prepare(scenario, engine) for engine in scenario.engines]
    flows = [_owners_flows(case) for case in cases]
    rate = cases[0].rules.discount_rate

    def costs(rates: Amounts) -> Amounts:
        return np.array([((1.0 + rates[:, None]) ** -t) @ amounts for t, amounts in flows])

    span = (min(DISCOUNT_RATES[0], rate), max(DISCOUNT_RATES[1], rate))
    return Input(later("discount rate"), later("a year"), rate, span, costs)


def _owners_flows(case: Case) -> tuple[Amounts, Amounts]:
    """What the owner pays of one engine on the stated hours: booking times and money of the day. [year, money]"""
    found = [entry for entry in entries(cost_of(case)) if entry.payer is Payer.OWNER]
    return np.concatenate([entry.when.t for entry in found]), np.concatenate([entry.nominal for entry in found])


def _ownership_years(scenario: Scenario) -> Input:
    """The ownership period; the last year's hours go on."""
    years, (low, high) = scenario.ownership.years, scenario.range.ownership_years
    span = (min(low, years), max(high, years))
    return Input(later("ownership years"), later("years"), years, span, costs_over_years(scenario))


def _hours(scenario: Scenario) -> Input:
    """Mean hours a year."""
    mean, (low, high) = float(np.mean(scenario.hours())), scenario.range.hours_per_year
    span = (min(low, mean), max(high, mean))
    return Input(later("hours a year"), later("h"), mean, span, costs_over_hours(scenario), FINE_STEPS)
