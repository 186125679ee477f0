"""Measures of an ownership: totals, equivalent annual cost, cost an hour, and the cheapest engine."""

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from model import money
from model.case import Case, prepare
from model.elements.fuel import co2, is_estimated
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.ownership import Booked, Ownership, own


@dataclass(frozen=True)
class Sum:
    """An amount in money of the day and in delivery-day worth."""

    nominal: float
    """Money of the day. [money]"""
    present_value: float
    """Discounted to the delivery day. [money]"""


@dataclass(frozen=True, eq=False)  # each is itself, so that what is worked out from one can be kept with it
class EngineCost:
    """What one engine costs over the ownership period."""

    case: Case
    """The engine in its scenario."""
    ownership: Ownership
    """Amounts by element and year."""
    elements: dict[Element, Sum]
    """The owner's cost by element."""
    total: Sum
    """Total cost of ownership."""
    equivalent_annual_cost: float
    """In delivery-day money. [money/year]"""
    cost_per_hour: float | None
    """The same for an hour run; None at zero hours. [money/h]"""
    paid_by_warranty: Sum
    """What the cover was worth."""
    fuel_litres: float
    """Fuel over the period. [L]"""
    co2_kg: float
    """CO2 of that fuel. [kg]"""
    fuel_is_estimated: bool
    """Whether the fuel rests on an estimated curve."""

    @property
    def name(self) -> str:
        """The engine's name."""
        return self.case.engine.name


@dataclass(frozen=True)
class Comparison:
    """Every engine of a scenario over the ownership period."""

    scenario: Scenario
    """The scenario."""
    engines: tuple[EngineCost, ...]
    """In the scenario's order."""

    @property
    def cheapest(self) -> EngineCost:
        """The engine with the lowest present value, the first of equals."""
        return min(self.engines, key=lambda cost: cost.total.present_value)


def total_by_year(ownership: Ownership, left_out: Collection[Element] = ()) -> Booked:
    """The owner's total of each year without the elements that are left out, shape (..., year). [money]"""
    booked = [amounts for element, amounts in ownership.elements.items() if element not in left_out]
    return Booked(
        np.sum([element.nominal for element in booked], axis=0),
        np.sum([element.present_value for element in booked], axis=0),
    )


def equivalent_annual_cost(present_value: float, real_rate: float, years: float) -> float:
    """
    Equal yearly sum in delivery-day money that an ownership is worth; ranks unequal lives as chains of replacements do.

    Parameters
    ----------
    present_value : float
        Total cost of ownership. [money]
    real_rate : float
        Discount rate after inflation. [1/year]
    years : float
        Ownership period. [year]

    Returns
    -------
    float
        Present value x capital recovery factor at the real rate. [money/year]
    """
    return present_value * money.capital_recovery_factor(real_rate, years)


def _over_the_period(booked: Booked) -> Sum:
    """Sum over the years."""
    return Sum(float(booked.nominal.sum()), float(booked.present_value.sum()))


def cost_of(case: Case) -> EngineCost:
    """
    What one engine costs on the stated hours.

    Parameters
    ----------
    case : Case

    Returns
    -------
    EngineCost
    """
    ownership = own(case, np.array(case.scenario.hours()))
    elements = {element: _over_the_period(booked) for element, booked in ownership.elements.items()}
    total = Sum(sum(part.nominal for part in elements.values()), sum(part.present_value for part in elements.values()))
    yearly = equivalent_annual_cost(total.present_value, case.rules.real_rate, case.years)
    mean_hours = float(ownership.hours.sum()) / case.years
    litres = float(ownership.fuel_litres.sum())
    return EngineCost(
        case,
        ownership,
        elements,
        total,
        yearly,
        yearly / mean_hours if mean_hours > 0.0 else None,
        _over_the_period(ownership.paid_by_warranty),
        litres,
        co2(litres),
        is_estimated(case.engine),
    )


def compare(scenario: Scenario) -> Comparison:
    """
    What every engine of a scenario costs.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    Comparison
    """
    return Comparison(scenario, tuple(cost_of(prepare(scenario, engine)) for engine in scenario.engines))
