"""Two choices side by side: what each costs, which costs less and how surely, and where that turns.

A choice is one engine in one scenario. A question about a change is the same sums on a changed copy: no rule of the
sums stands here.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from model.case import prepare
from model.cheapest import at_ownership_years, present_values
from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Payer
from model.language import later, say
from model.ledger import ledger
from model.measures import EngineCost, cost_of, equivalent_annual_cost
from model.questions.answer import Flip, RowBehind
from model.questions.asking import Asked
from model.uncertainty.failures import problems_of_drawing
from model.uncertainty.flip_points import flip_point
from model.uncertainty.intervals import Estimate, mean_of
from model.uncertainty.searchable import FINE_STEPS, STEPS, Input, reach
from model.uncertainty.summary import chances_cheapest
from model.uncertainty.trials import run_trials, something_varies

Amounts = NDArray[np.float64]

CAPITAL = frozenset({Element.PURCHASE, Element.FIT_UP, Element.FINANCE})
SERVICE = frozenset({Element.SERVICE_PARTS, Element.SERVICE_LABOUR})
BREAKDOWNS = frozenset({Element.REPAIRS, Element.WARRANTY_COVER, Element.DOWNTIME})
"""Cost elements that are left out together."""

HOURS = later("Hours a year")
HOURS_A_YEAR = later("h a year")
PERIOD = later("Years until the sale")
YEAR = later("year")
"""Inputs that many answers turn on, and their units."""


@dataclass(frozen=True)
class Choice:
    """One engine in one scenario, as a choice to be held against another."""

    scenario: Scenario
    """The scenario, of which only that engine counts."""
    engine: str
    """The engine's name."""
    label: str
    """What the choice is called in a sentence."""

    @cached_property
    def alone(self) -> Scenario:
        """The scenario with that engine alone."""
        return self.scenario.changed({("engines",): (self.scenario.engine(self.engine),)})

    @cached_property
    def cost(self) -> EngineCost:
        """What it costs on the stated hours."""
        return cost_of(prepare(self.alone, self.alone.engines[0]))

    @property
    def total(self) -> float:
        """Total cost of ownership in present value. [money]"""
        return self.cost.total.present_value

    def yearly(self, elements: Collection[Element] = tuple(Element)) -> float:
        """What some cost elements come to a year, in delivery-day money. [money/year]"""
        total = sum(self.cost.elements[element].present_value for element in elements)
        case = self.cost.case
        return equivalent_annual_cost(total, case.rules.real_rate, case.years)

    def only(self, elements: Collection[Element]) -> "Choice":
        """The same choice where only some cost elements cost anything."""
        return replace(self, scenario=only(self.alone, elements))

    def changed(self, changes: dict[tuple[str | int, ...], object], label: str | None = None) -> "Choice":
        """The choice with values changed; `("engine", ...)` is a path into its engine."""
        paths = {("engines", 0, *path[1:]) if path[0] == "engine" else path: to for path, to in changes.items()}
        return Choice(self.alone.changed(paths), self.engine, label or self.label)

    def over(self, years: float) -> "Choice":
        """The choice over another ownership period."""
        return replace(self, scenario=at_ownership_years(self.alone, years))

    def rows(self, elements: Collection[Element], payers: Collection[Payer] = (Payer.OWNER,)) -> tuple[RowBehind, ...]:
        """Its ledger's rows of some cost elements."""
        found = [row for row in ledger(self.cost) if row.element in elements and row.payer in payers]
        return tuple(RowBehind(self.label, row) for row in found)


def only(scenario: Scenario, elements: Collection[Element]) -> Scenario:
    """
    A copy of a scenario in which only some cost elements cost anything, the others and their causes left as they are.

    Parameters
    ----------
    scenario : Scenario
    elements : collection of Element
        What still costs; service parts and labour go together, and so do repairs, cover and downtime.

    Returns
    -------
    Scenario
    """
    changes: dict[tuple[str | int, ...], object] = {}
    if Element.FUEL not in elements:
        changes[("prices", "fuel")] = 0.0
    if Element.TWO_STROKE_OIL not in elements and scenario.prices.two_stroke_oil:
        changes[("prices", "two_stroke_oil")] = 0.0
    if Element.DOWNTIME not in elements:
        changes[("downtime",)] = None
    for place, engine in enumerate(scenario.engines):
        left_out: dict[str, object] = {}
        if not CAPITAL & set(elements):
            list_price = engine.price if engine.list_price is None else engine.list_price
            left_out |= {"price": 0.0, "list_price": list_price, "discount": 0.0, "trade_in": 0.0}
            left_out |= {"fit_up": (), "finance": None}
        if not SERVICE & set(elements):
            left_out["service"] = None
        if not BREAKDOWNS & set(elements):
            left_out |= {"repair": (), "warranty": None}
        if Element.RESALE not in elements:
            left_out["resale"] = None
        changes |= {("engines", place, key): value for key, value in left_out.items()}
    return scenario.changed(changes)


def two(about: Asked) -> tuple[Choice, Choice]:
    """The two engines asked about as choices, the cheaper first."""
    pair = [Choice(about.scenario, name, name) for name in (about.engine, about.other)]
    first, second = sorted(pair, key=lambda choice: choice.total)
    return first, second


def pair_of(pair: tuple[Choice, Choice]) -> Scenario:
    """The scenario of two engines with those two alone."""
    scenario = pair[0].scenario
    return scenario.changed({("engines",): tuple(scenario.engine(choice.engine) for choice in pair)})


def can_be_tried(*scenarios: Scenario) -> bool:
    """Whether trials say anything: something varies, and failures are few enough to be drawn one by one."""
    return any(map(something_varies, scenarios)) and not any(problems_of_drawing(one, "") for one in scenarios)


def in_trials(about: Asked, one: Choice, other: Choice) -> Amounts | None:
    """
    What one choice costs more than another in every trial; both live the same hours, prices and streams of failures.

    Returns
    -------
    ndarray, shape (trial,), or None
        Present value; None where nothing varies, or failures are too many to be drawn one by one. [money]
    """
    scenarios = (one.alone, other.alone)
    if not can_be_tried(*scenarios):
        return None
    costs = [run_trials(scenario, about.trials, about.seed).present[0] for scenario in scenarios]
    return np.asarray(costs[0] - costs[1])


def share_of_trials(about: Asked, one: Choice, other: Choice) -> Estimate | None:
    """In which share of the trials one choice costs less than another, ties shared; None where nothing varies. [-]"""
    more = in_trials(about, one, other)
    if more is None:
        return None
    return mean_of(chances_cheapest(np.array([more, np.zeros(about.trials)]))[0])


Costs = Callable[[float], Sequence[Choice]]
"""A value of an input -> the two choices at that value."""


def over_values(choices: Costs) -> Callable[[Amounts], Amounts]:
    """Costs of two choices as a search wants them: values, shape (n,) -> present value, shape (2, n). [money]"""
    return lambda values: np.array([[choice.total for choice in choices(float(value))] for value in values]).T


def years_input(choices: Costs, scenario: Scenario) -> Input:
    """Ownership years as an input to be searched."""
    today, (low, high) = scenario.ownership.years, scenario.range.ownership_years
    return Input(PERIOD, YEAR, today, (min(low, today), max(high, today)), over_values(choices), STEPS)


def over_hours(one: Choice, other: Choice) -> Callable[[Amounts], Amounts]:
    """Costs of two choices as a function of hours a year, shape (n,) -> shape (2, n). [money]"""
    cases = (one.cost.case, other.cost.case)
    return lambda hours: np.concatenate([present_values([case], hours) for case in cases])


def hours_input(one: Choice, other: Choice) -> Input:
    """Hours a year as an input to be searched."""
    scenario = one.scenario
    mean, (low, high) = scenario.mean_hours(), scenario.range.hours_per_year
    return Input(HOURS, HOURS_A_YEAR, mean, (min(low, mean), max(high, mean)), over_hours(one, other), FINE_STEPS)


def price_input(name: str, unit: str, today: float, otherwise: float, choices: Costs) -> Input:
    """A price as an input to be searched, from nothing to some times today's, or to another where that is nothing."""
    return Input(name, unit, today, reach(today, otherwise), over_values(choices), STEPS)


def turning(one: Input, words: Callable[[Input, float | None], str]) -> Flip:
    """Where an input turns which of two choices costs less, by the bracketed search of flip points."""
    found = flip_point(one, ["one", "other"])
    return Flip(say(one.name), say(one.unit), one.today, found.value, words(one, found.value))
