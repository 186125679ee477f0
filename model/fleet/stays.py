"""A stay: one engine on one unit's boat from a budget year to its replacement, as a case for the ownership's sums."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from dateutil.relativedelta import relativedelta
from numpy.typing import ArrayLike, NDArray

from model import money
from model.case import Case, money_rules, over_another_period, prepare
from model.fleet.fleet_file import FleetFile
from model.fleet.register import Unit
from model.inputs.engine import Engine, UsedStart
from model.inputs.scenario import Scenario
from model.levels import Levels

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Stay:
    """One engine on a unit's boat, all its engines alike."""

    engine: str
    """Name of the engine."""
    begin: int
    """Budget year at whose start it is there or is bought. [year]"""
    years: int
    """Budget years until it is replaced or the horizon ends. [year]"""
    is_held: bool
    """Whether the budget finds it there: nothing more is paid for it."""
    reason: str = ""
    """Why it is bought; empty for the engine that the budget finds there."""
    goes_on: bool = False
    """Whether it stays where it is when the horizon ends, as cash has it; plans look at it as sold then."""

    @property
    def end(self) -> int:
        """Budget year at whose start it goes. [year]"""
        return self.begin + self.years

    def in_cash(self, horizon: int) -> "Stay":
        """The same stay as the budget pays for it: nothing is sold at the horizon."""
        return replace(self, goes_on=self.end >= horizon)


def at_prices_of(file: Scenario, year: int) -> Scenario:
    """
    A scenario whose delivery is a number of years later, at the prices of that day.

    Prices of parts and labour stand within the engines' plans; `price_levels` brings them to that day.

    Parameters
    ----------
    file : Scenario
    year : int
        Years after its own delivery. [year]

    Returns
    -------
    Scenario
    """
    growth, stated = money_rules(file).growth, file.prices
    oil = stated.two_stroke_oil
    changes: dict[tuple[str | int, ...], Any] = {
        ("ownership", "delivery"): file.ownership.delivery + relativedelta(years=year),
        ("prices", "fuel"): stated.fuel * _grown(growth.fuel, year),
        ("prices", "two_stroke_oil"): None if oil is None else oil * _grown(growth.two_stroke_oil, year),
    }
    if file.downtime is not None:
        changes["downtime", "day_cost"] = file.downtime.day_cost * _grown(growth.downtime, year)
    return file.changed(changes)


def _grown(rate: float, year: int) -> float:
    """What a price is multiplied by after whole years. [-]"""
    return float(money.growth_factor(rate, year))


def price_levels(file: Scenario, year: int, levels: Levels) -> Levels:
    """The levels of rows, with prices of parts and labour as on the day of a later delivery. [-]"""
    growth = money_rules(file).growth
    return Levels(
        levels.fuel,
        np.asarray(levels.parts) * _grown(growth.parts, year),
        np.asarray(levels.labour) * _grown(growth.labour, year),
        levels.fuel_burn,
        levels.resale,
    )


def _bought_at(engine: Engine, factor: float) -> Engine:
    """A new engine at prices that have grown by a factor: its list price too, and an extension of its cover."""
    listed = engine.price if engine.list_price is None else engine.list_price
    items = tuple(item.model_copy(update={"price": item.price * factor}) for item in engine.fit_up)
    return engine.model_copy(
        update={
            "price": engine.price * factor,
            "list_price": listed * factor,
            "discount": engine.discount * factor,
            "trade_in": 0.0,
            "fit_up": items,
            "warranty": _extension_at(engine.warranty, factor),
        }
    )


def _held(engine: Engine, unit: Unit) -> Engine:
    """A unit's own engine as old as it is, for which nothing more is paid but what running it costs."""
    listed = engine.price if engine.list_price is None else engine.list_price
    start = None if unit.age <= 0.0 else UsedStart(meter_hours=unit.meter_hours, age=unit.age)
    return engine.model_copy(
        update={
            "price": 0.0,
            "list_price": listed,
            "discount": 0.0,
            "trade_in": 0.0,
            "fit_up": (),
            "finance": None,
            "start": start,
            "warranty": _extension_at(engine.warranty, 0.0),  # paid for already
        }
    )


def _extension_at(cover: Any, factor: float) -> Any:
    """
    The same cover, an extension of it at its stated price times a factor.

    It is fixed in nominal money from the day on which it is bought; what it costs on a later day grows as the engine's
    price does. The excess is a sum of the contract and stays as stated.
    """
    if cover is None:
        return None
    changes: dict[str, Any] = {}
    if cover.extension is not None:
        changes["extension"] = cover.extension.model_copy(update={"price": cover.extension.price * factor})
    if getattr(cover, "commercial", None) is not None:
        changes["commercial"] = _extension_at(cover.commercial, factor)
    return cover.model_copy(update=changes)


def case_of(file: FleetFile, unit: Unit, stay: Stay) -> Case:
    """
    The case of a stay, its delivery at the begin of the stay.

    Parameters
    ----------
    file : FleetFile
    unit : Unit
        Gives the age and meter of a held engine, and how many there are.
    stay : Stay

    Returns
    -------
    Case
        Its period is the stay.
    """
    engine = file.engine(stay.engine)
    if stay.is_held:
        scenario, made = file.changed({}), _held(engine, unit)
    else:
        rate = money_rules(file).growth.engine_price
        scenario, made = at_prices_of(file, stay.begin), _bought_at(engine, _grown(rate, stay.begin))
    made = made.model_copy(update={"per_boat": unit.count})
    scenario = scenario.changed({("ownership", "years"): float(stay.years), ("engines",): (made,)})
    return replace(prepare(scenario, made), goes_on=stay.goes_on)


def lasting(case: Case, stay: Stay) -> Case:
    """
    The same engine's case for a stay that ends otherwise: only what depends on that is made anew.

    Parameters
    ----------
    case : Case
        From `case_of`.
    stay : Stay

    Returns
    -------
    Case
        What `case_of` gives for that stay.
    """
    ended = over_another_period(case, case.scenario.changed({("ownership", "years"): float(stay.years)}))
    return replace(ended, goes_on=stay.goes_on)


def levels_of(file: FleetFile, stay: Stay, levels: Levels) -> Levels:
    """
    Levels of a stay's rows, its value at sale being what is got for it.

    Parameters
    ----------
    file : FleetFile
    stay : Stay
    levels : Levels
        Of the whole horizon, fuel of shape (..., year).

    Returns
    -------
    Levels
    """
    fuel = np.asarray(levels.fuel)
    own = Levels(
        np.ascontiguousarray(fuel[..., stay.begin : stay.end]) if fuel.ndim else fuel,  # asked for by every unit
        levels.parts,
        levels.labour,
        levels.fuel_burn,
        np.asarray(levels.resale) * file.fleet.trade_in,
    )
    return price_levels(file, stay.begin, own)


def hours_of(units_hours: ArrayLike, stay: Stay) -> Amounts:
    """
    Hours of the years of a stay.

    Parameters
    ----------
    units_hours : array_like, shape (..., year)
        Hours of each budget year. [h/year]
    stay : Stay

    Returns
    -------
    ndarray, shape (..., year of the stay)
        Hours. [h/year]
    """
    return np.ascontiguousarray(np.asarray(units_hours, dtype=float)[..., stay.begin : stay.end])
