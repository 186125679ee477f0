"""One engine in one scenario, made ready for the sums: everything that does not depend on the hours run."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from model import booking, counts, money
from model.elements import capital, cover, fuel, oil, repairs, service
from model.inputs.engine import Engine, OilUse
from model.inputs.owner import MoneyTerms
from model.inputs.plan import ServicePlan
from model.inputs.scenario import Scenario
from model.inputs.terms import Servicing, Timing
from model.inputs.warranty import Cover
from model.usage import lay_up_times
from model.visit_times import GOES_ON, SERVICED_AND_SOLD, SOLD
from model.walk import WalkPlan

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class GrowthRates:
    """Yearly nominal growth of each kind of price. [1/year]"""

    fuel: float
    two_stroke_oil: float
    parts: float
    labour: float
    downtime: float
    engine_price: float


@dataclass(frozen=True)
class MoneyRules:
    """How prices grow, when they are booked and how they are discounted."""

    growth: GrowthRates
    """Growth of prices."""
    discount_rate: float
    """Nominal discount rate. [1/year]"""
    real_rate: float
    """The same after inflation. [1/year]"""
    timing: Timing
    """When flows are booked."""
    years: float
    """Ownership period. [year]"""
    flow_times: Amounts
    """Booking times of what flows through each year, shape (year,). [year]"""

    def at_flow_times(self, rate: float) -> Amounts:
        """Growth of a price by the booking time of each year's flows, shape (year,). [-]"""
        return money.growth_factor(rate, self.flow_times)

    @property
    def booking(self) -> booking.Booking:
        """How dated events are booked in the compiled sums."""
        growth = self.growth
        return booking.Booking(
            parts=math.log1p(growth.parts),
            labour=math.log1p(growth.labour),
            downtime=math.log1p(growth.downtime),
            discount=-math.log1p(self.discount_rate),
            year_end=self.timing is Timing.YEAR_END,
            years=self.years,
        )

    @property
    def flow_discount(self) -> Amounts:
        """Discount factor of each year's flows, shape (year,). [-]"""
        return money.discount_factor(self.discount_rate, self.flow_times)


@dataclass(frozen=True)
class DatedTask:
    """A task done without a visit: by the owner on its own count, or at lay-up."""

    cost: service.TaskCost
    """One time on one engine."""
    walk: WalkPlan | None
    """The owner's count; None at lay-up."""
    times: tuple[float, ...]
    """Times at lay-up. [year]"""


@dataclass(frozen=True)
class Case:
    """One engine in one scenario, ready for the sums."""

    scenario: Scenario
    """The scenario."""
    engine: Engine
    """The engine."""
    count: int
    """Engines of this kind on the boat."""
    years: float
    """Ownership period. [year]"""
    start: tuple[float, float]
    """Meter hours and age at delivery. [h, year]"""
    rules: MoneyRules
    """Growth, booking, discount."""
    litres_an_hour: float
    """Fuel of one engine. [L/h]"""
    oil_litres_an_hour: float
    """Two-stroke oil of one engine, run in. [L/h]"""
    oil: OilUse | None
    """Two-stroke oil."""
    plan: ServicePlan | None
    """The service plan, None when there is none or servicing is skipped."""
    walk: WalkPlan | None
    """The plan for the walk."""
    task_costs: tuple[service.TaskCost, ...]
    """Tasks at visits, in the walk's order."""
    dated_tasks: tuple[DatedTask, ...]
    """Tasks without a visit."""
    failure_modes: repairs.FailureModes
    """Failure modes."""
    cover_terms: Cover | None
    """The warranty that applies."""
    cover: cover.CoverTable
    """The same for the sums."""
    lent: float
    """Sum lent on the whole boat. [money]"""
    goes_on: bool = False
    """Whether the engine stays after the period: no sale ends it, and what is done or owed later is left to later."""

    @property
    def ending(self) -> int:
        """How the period ends, for the walk."""
        sold = SERVICED_AND_SOLD if self.scenario.ownership.service_at_handover else SOLD
        return GOES_ON if self.goes_on else sold

    @property
    def modes(self) -> repairs.ModeTable:
        """Failure modes for the sums of expected failures."""
        return self.failure_modes.table

    @property
    def labour_rate(self) -> float:
        """Workshop labour. [money/h]"""
        return self.scenario.prices.labour

    @property
    def visit_prices(self) -> service.VisitPrices:
        """Prices of visits for all engines on the boat, at delivery-day prices."""
        plan, own = self.plan, self.scenario.servicing is Servicing.OWN
        visit = 0.0 if plan is None or own else self.visit_labour_hours * self.labour_rate + plan.visit_price
        return service.VisitPrices(
            np.array([self.count * cost.parts_price for cost in self.task_costs]),
            np.array([self.count * cost.labour_price(self.labour_rate) for cost in self.task_costs]),
            visit,
            self.visit_days * self.day_cost,
        )

    def task_prices(self, cost: service.TaskCost) -> service.VisitPrices:
        """Prices of one task done without a visit, for all engines on the boat, at delivery-day prices."""
        parts, labour = self.count * cost.parts_price, self.count * cost.labour_price(self.labour_rate)
        return service.VisitPrices(np.array([parts]), np.array([labour]), 0.0, 0.0)

    @property
    def visit_labour_hours(self) -> float:
        """Labour of a visit itself, the plan's factor included. [h]"""
        return 0.0 if self.plan is None else self.plan.visit_labour * self.plan.labour_factor

    @property
    def visit_days(self) -> float:
        """Days a visit takes the boat; none when the owner does the servicing. [day]"""
        own = self.scenario.servicing is Servicing.OWN
        return 0.0 if self.plan is None or own else self.plan.visit_days

    @property
    def day_cost(self) -> float:
        """Cost of a lost day. [money/day]"""
        return 0.0 if self.scenario.downtime is None else self.scenario.downtime.day_cost

    @property
    def days_lost(self) -> Amounts:
        """Days lost at a failure of each mode, less where another engine runs on, shape (mode,). [day]"""
        share = self.scenario.use.share_with_one_left if self.count > 1 else 1.0
        return np.array([mode.days_lost * share for mode in self.engine.repair])

    def repair_prices(self) -> tuple[Amounts, Amounts, Amounts]:
        """Parts, labour and never-covered charges of one repair of each mode, shapes (mode,). [money]"""
        modes = self.engine.repair
        return (
            np.array([mode.parts_price for mode in modes]),
            np.array([mode.labour * self.labour_rate for mode in modes]),
            np.array([mode.not_covered for mode in modes]),
        )

    @property
    def list_price(self) -> float:
        """Price of the same engine new that resale is a share of. [money]"""
        return self.engine.price if self.engine.list_price is None else self.engine.list_price


def money_rules(scenario: Scenario) -> MoneyRules:
    """Growth, booking and discount as a scenario states them, inflation where no growth is given."""
    terms, period = scenario.money, scenario.ownership
    times = booking.flow_times(terms.timing, period.years, period.begun_years)
    return MoneyRules(*_rates_of(terms), terms.timing, period.years, times)


@lru_cache(maxsize=64)
def _rates_of(terms: MoneyTerms) -> tuple[GrowthRates, float, float]:
    """Growth rates, nominal and real discount rate; the same for every stay of a fleet. [1/year]"""
    inflation = terms.inflation
    stated = {name: getattr(terms.growth, name) for name in type(terms.growth).model_fields}
    growth = GrowthRates(**{name: inflation if rate is None else rate for name, rate in stated.items()})
    if terms.real_discount_rate is not None:
        nominal, real = money.nominal_rate(terms.real_discount_rate, inflation), terms.real_discount_rate
    else:
        nominal = terms.discount_rate or 0.0
        real = money.real_rate(nominal, inflation)
    return growth, nominal, real


def prepare(scenario: Scenario, engine: Engine) -> Case:
    """
    Make one engine of a scenario ready for the sums.

    Parameters
    ----------
    scenario : Scenario
    engine : Engine
        One of its engines.

    Returns
    -------
    Case
    """
    skipped = scenario.servicing is Servicing.SKIPPED
    plan = None if skipped else engine.service
    start = (0.0, 0.0) if engine.start is None else (engine.start.meter_hours, engine.start.age)
    bands = fuel.band_litres(engine, scenario.use)
    count, terms = scenario.engines_on_the_boat(engine), scenario.cover_terms(engine)
    tasks = () if plan is None else counts.tasks_at_visits(plan)
    return Case(
        scenario=scenario,
        engine=engine,
        count=count,
        years=scenario.ownership.years,
        start=start,
        rules=money_rules(scenario),
        litres_an_hour=sum(litres for _, litres in bands),
        oil_litres_an_hour=oil.oil_litres_an_hour(engine.oil, bands),
        oil=engine.oil,
        plan=plan,
        walk=None if plan is None else counts.walk_plan(plan, engine.start),
        task_costs=tuple(service.task_cost(task, plan, scenario.servicing) for task in tasks) if plan else (),
        dated_tasks=_dated_tasks(scenario, engine, plan),
        failure_modes=repairs.FailureModes(engine.repair, start, scenario.neglect if skipped else None),
        cover_terms=terms,
        cover=cover.cover_table(terms),
        lent=count * capital.sum_lent(engine),
    )


def over_another_period(case: Case, scenario: Scenario) -> Case:
    """
    The same engine over another ownership period; only what depends on it is made anew.

    Parameters
    ----------
    case : Case
    scenario : Scenario
        The case's own but for the ownership period and its hours.

    Returns
    -------
    Case
        What `prepare` gives for that scenario.
    """
    return replace(
        case,
        scenario=scenario,
        years=scenario.ownership.years,
        rules=money_rules(scenario),
        dated_tasks=_dated_tasks(scenario, case.engine, case.plan),
    )


def _dated_tasks(scenario: Scenario, engine: Engine, plan: ServicePlan | None) -> tuple[DatedTask, ...]:
    """Tasks of a plan that are done without a visit."""
    found: list[DatedTask] = []
    for task in plan.task if plan else ():
        if task.is_at_visits:
            continue
        assert plan is not None
        cost = service.task_cost(task, plan, scenario.servicing)
        if task.at_lay_up:
            assert plan.lay_up_month is not None
            period = scenario.ownership
            found.append(DatedTask(cost, None, tuple(lay_up_times(plan.lay_up_month, period.delivery, period.years))))
        else:
            found.append(DatedTask(cost, counts.owner_task_plan(task, engine.start), ()))
    return tuple(found)
