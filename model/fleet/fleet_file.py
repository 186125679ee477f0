"""The fleet file: prices, money and engines as in a scenario, and `[fleet]` with the register and the policy."""

from collections.abc import Iterable
from datetime import date
from typing import Annotated

from dateutil.relativedelta import relativedelta
from pydantic import Field

from model.inputs.base import Flag, Rule, Table, Text
from model.inputs.engine import Engine
from model.inputs.problems import Refusal, shown
from model.inputs.scenario import Scenario
from model.inputs.terms import SpreadShape
from model.inputs.units import Hours, Money, Share, Variation, Years
from model.language import say, written

Day = Annotated[date, Field(strict=True, ge=date(1950, 1, 1), le=date(2150, 12, 31))]
"""A day."""

LONGEST_AHEAD = 5
"""Years from the reading of the meters to the first budget day, at most. [year]"""

ALIKE_IN_POWER = 0.25
"""A candidate may replace an engine whose rated power differs by at most this share of its own. [-]"""


class PolicyTerms(Table):
    """When an engine is replaced; one of these."""

    at_age: Annotated[Years, Field(gt=0)] | None = None
    """From this age on. [year]"""
    at_meter_hours: Annotated[Hours, Field(gt=0)] | None = None
    """From this meter reading on. [h]"""
    at_economic_life: Flag = False
    """At the age with the lowest equivalent annual cost for its own hours; not at all while that cost goes on
    falling."""
    repair_share: Annotated[Share, Field(gt=0)] | None = None
    """When one repair of the coming year would cost more than this share of the engine's value. [-]"""
    best_plan: Flag = False
    """By the plan with the lowest present value over the horizon."""
    keep: Flag = False
    """Never within the horizon."""

    def rules(self) -> Iterable[Rule]:
        """One policy."""
        return (self._one_refusals,)

    def _one_refusals(self) -> list[Refusal]:
        given = [name for name in type(self).model_fields if getattr(self, name)]
        known = " or ".join(type(self).model_fields)
        return [] if len(given) == 1 else [Refusal((), ", ".join(given) or "nothing", f"one of {known}")]

    @property
    def in_words(self) -> str:
        """The policy as people say it."""
        if self.at_age is not None:
            return say("at {age} {age:year|years}", age=written(f"{self.at_age:,.10g}"))
        if self.at_meter_hours is not None:
            return say("at {hours} h", hours=written(f"{self.at_meter_hours:,.10g}"))
        if self.repair_share is not None:
            share = f"{100 * self.repair_share:g}"
            return say("when one repair costs more than {share} % of the value", share=share)
        if self.at_economic_life:
            return say("at the economic life")
        return say("by the best plan") if self.best_plan else say("keep all")


class FleetTerms(Table):
    """The register, the years of the budget, and the rules for replacing."""

    register_file: Annotated[Text, Field(alias="register")]
    """The register, a CSV beside the fleet file."""
    as_of: Day
    """Day on which the meters were read."""
    budget_start: Day
    """First day of the first budget year."""
    horizon: Annotated[int, Field(ge=1, le=30, strict=True)]
    """Budget years. [year]"""
    policy: PolicyTerms
    """When an engine is replaced today."""
    alternatives: tuple[PolicyTerms, ...] = ()
    """Policies to compare it with, beside the economic life and the best plan."""
    candidates: Annotated[tuple[str, ...], Field(min_length=1)]
    """Engines that may be bought."""
    trade_in: Share = 1.0
    """Share of an engine's value that is got for it. [-]"""
    yearly_limit: Money | None = None
    """Most that may be spent on engines in a budget year, price and fit-up in money of the day. [money]"""
    season_variation: Variation = 0.0
    """Coefficient of variation of a season's hours, shared by all units. [-]"""
    hour_log: Text | None = None
    """Meter readings over time, a CSV of unit, date, reading."""
    repair_log: Text | None = None
    """Repairs, a CSV of unit, date, meter_hours, mode, cost."""
    repair_log_from: Day | None = None
    """Day from which the repair log is whole; from the first day of service where none is given."""
    fit_repairs: Flag = False
    """Whether scale and shape fitted from the repair log stand in place of the engine files'."""

    def rules(self) -> Iterable[Rule]:
        """Dates in order; fits need a log."""
        return (self._date_refusals, self._log_refusals)

    def _date_refusals(self) -> list[Refusal]:
        found, begin, latest = list[Refusal](), self.repair_log_from, self.as_of + relativedelta(years=LONGEST_AHEAD)
        if self.as_of > self.budget_start:
            found.append(Refusal(("as_of",), str(self.as_of), f"a day not after budget_start, {self.budget_start}"))
        if self.budget_start > latest:
            allowed = f"a day not after {latest}: meters are carried to it from as_of, over five years at most"
            found.append(Refusal(("budget_start",), str(self.budget_start), allowed))
        if begin is not None and begin > self.as_of:
            found.append(Refusal(("repair_log_from",), str(begin), f"a day not after as_of, {self.as_of}"))
        return found

    def _log_refusals(self) -> list[Refusal]:
        is_missing = self.fit_repairs and self.repair_log is None
        return [Refusal(("fit_repairs",), "true without repair_log", "repair_log beside it")] if is_missing else []


class FleetFile(Scenario):
    """A scenario's prices, money and engines, for a whole register."""

    fleet: FleetTerms
    """The register, the years of the budget, and the rules for replacing."""

    def rules(self) -> Iterable[Rule]:
        """Those of a scenario; candidates are engines; what the register or `[fleet]` says stands on no engine."""
        yield from super().rules()
        yield from (self._candidate_refusals, self._engine_refusals, self._spread_refusals)

    def _engine_refusals(self) -> list[Refusal]:
        found = []
        for index, engine in enumerate(self.engines):
            if engine.per_boat is not None:
                told = "no per_boat here: the register has each boat's own count"
                found.append(Refusal(("engines", index, "per_boat"), f"{engine.per_boat}", told))
            if engine.trade_in > 0.0:
                told = "no trade_in here: what old engines bring follows from their resale and fleet.trade_in"
                found.append(Refusal(("engines", index, "trade_in"), f"{engine.trade_in:,.10g}", told))
        return found

    def _spread_refusals(self) -> list[Refusal]:
        spread = self.use.spread
        if spread is None or spread.shape in (SpreadShape.FIXED, SpreadShape.LOGNORMAL, SpreadShape.GAMMA):
            return []
        return [Refusal(("use", "spread", "shape"), f'"{spread.shape}"', "a shape about each unit's own hours: "
                                                                        "lognormal, gamma or fixed")]  # fmt: skip

    def _candidate_refusals(self) -> list[Refusal]:
        names = [engine.name for engine in self.engines]
        found = [
            Refusal(("fleet", "candidates", index), shown(name), "one of " + ", ".join(f'"{known}"' for known in names))
            for index, name in enumerate(self.fleet.candidates)
            if name not in names
        ]
        return found + [
            Refusal(("fleet", "candidates", index), shown(name), "an engine that is offered new, without `start`")
            for index, name in enumerate(self.fleet.candidates)
            if name in names and (self.engine(name).start is not None or self.engine(name).offered == "used")
        ]

    def candidates_for(self, engine: Engine) -> tuple[Engine, ...]:
        """The candidates that may replace an engine: those of about its power, in the order of the file."""
        able = [self.engine(name) for name in self.fleet.candidates]
        span = ALIKE_IN_POWER * engine.rated_power * (1.0 + 1e-9)
        return tuple(one for one in able if abs(one.rated_power - engine.rated_power) <= span)
