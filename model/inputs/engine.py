"""What is sold: an engine with its fuel, oil, service plan, failure modes, warranty and resale."""

from collections.abc import Iterable
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from model.inputs.base import Note, Rule, Table, named_twice, out_of_order
from model.inputs.plan import Name, ServicePlan
from model.inputs.problems import Refusal
from model.inputs.terms import AfterRepair, Clock, Technology
from model.inputs.units import (
    CONVERSIONS,
    Days,
    Factor,
    Hours,
    Kilowatts,
    Money,
    Positive,
    Price,
    Rate,
    Share,
    SpecificConsumption,
    Speed,
    Years,
    to_house_unit,
)
from model.inputs.warranty import Warranty

FlowPoint = tuple[Speed, Annotated[float, Field(ge=0, le=2000, allow_inf_nan=False, strict=True)]]
RatioPoint = tuple[Speed, Annotated[float, Field(gt=0, le=10000, allow_inf_nan=False, strict=True)]]
AgePoint = tuple[Years, Share]


class FuelBurn(Table):
    """Fuel the engine burns: measured points, or else an estimate from published specific consumption."""

    points: tuple[FlowPoint, ...] | None = None
    """Fraction of rated speed and flow; the first point is idle. [-, L/h]"""
    unit: str = "L/h"
    """Unit of the points' flow."""
    specific_consumption: SpecificConsumption | None = None
    """Cycle average to estimate from, in place of the published one of the power class. [g/kWh]"""
    source: str | None = None
    """Source of the points."""

    def rules(self) -> Iterable[Rule]:
        """Points rise in speed; a known unit; points or specific consumption, not both."""
        return (self._point_refusals,)

    def _point_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        if self.unit not in CONVERSIONS["L/h"]:
            found.append(Refusal(("unit",), repr(self.unit), ", ".join(CONVERSIONS["L/h"])))
        if self.points is not None:
            found += out_of_order("points", self.points, "[fraction of rated speed, L/h]")
            if self.specific_consumption is not None:
                found.append(Refusal(("specific_consumption",), "it beside points", "points or an estimate, not both"))
        return found

    @property
    def top_speed(self) -> float:
        """Fraction of rated speed up to which the flow is known: the last point, rated speed in an estimate. [-]"""
        return self.points[-1][0] if self.points else 1.0

    def litres_an_hour_points(self) -> tuple[tuple[float, float], ...]:
        """Measured points in house units, empty when there are none. [-, L/h]"""
        return tuple((speed, to_house_unit(flow, self.unit, "L/h")) for speed, flow in self.points or ())


class BreakIn(Table):
    """Richer oil while the engine is run in."""

    hours: Hours
    """Meter hours the running-in takes. [h]"""
    factor: Factor
    """What the oil is multiplied by meanwhile. [-]"""


class OilUse(Table):
    """Two-stroke oil burned with the fuel."""

    ratio: Positive | None = None
    """Litres of fuel for a litre of oil; 50 means oil = fuel / 50. [-]"""
    points: tuple[RatioPoint, ...] | None = None
    """Fraction of rated speed and ratio, linear between. [-, -]"""
    break_in: BreakIn | None = None
    """Richer oil while the engine is run in."""
    source: str | None = None
    """Source of the ratio or points."""

    def rules(self) -> Iterable[Rule]:
        """One ratio or a table of points."""
        return (self._ratio_refusals,)

    def _ratio_refusals(self) -> list[Refusal]:
        found = [] if self.points is None else out_of_order("points", self.points, "[fraction of rated speed, ratio]")
        if (self.ratio is None) == (self.points is None):
            found.append(Refusal((), "both" if self.points else "neither", "ratio or points"))
        return found


class FailureMode(Table):
    """One way to fail, by a power law in meter hours or in years (a Weibull life where the part is renewed)."""

    name: Name
    """Name of the failure mode."""
    clock: Clock
    """What makes it age: "hours" on the meter or "years" of age."""
    scale: Positive
    """Age at which one failure is expected. [h or year, by clock]"""
    shape: Annotated[float, Field(gt=0, le=20, allow_inf_nan=False, strict=True)]
    """1 = constant, above 1 = wears, below 1 = early failures. [-]"""
    after: AfterRepair = AfterRepair.AS_OLD
    """State after the repair: "as old" (minimal repair) or "as new" (its clock restarts)."""
    parts_price: Price = 0.0
    """Parts of one repair. [money]"""
    labour: Hours = 0.0
    """Labour of one repair. [h]"""
    days_lost: Days = 0.0
    """Days the boat lies still for one repair. [day]"""
    not_covered: Price = 0.0
    """What is the owner's at every repair, whatever the warranty says: crane, tow. [money]"""
    prevented_by: str | None = None
    """Service task whose neglect raises this mode."""
    neglect_factor: Factor | None = None
    """What the intensity is multiplied by when servicing is skipped. [-]"""


class Resale(Table):
    """Value at sale as a share of the list price of the same engine new at that time."""

    by_age: tuple[AgePoint, ...] | None = None
    """Age and share of the list price; linear between. [year, -]"""
    yearly_decline: Annotated[Share, Field(lt=1)] | None = None
    """Share of its value lost each year. [1/year]"""
    normal_hours: Hours = 0.0
    """Hours a year the shares are meant for. [h/year]"""
    per_100_hours: Share = 0.0
    """Share points less for each 100 h above normal, more below. [-]"""
    floor: Share = 0.0
    """Least share. [-]"""
    source: str | None = None
    """Source of the shares."""

    def rules(self) -> Iterable[Rule]:
        """A table or a decline."""
        return (self._share_refusals,)

    def _share_refusals(self) -> list[Refusal]:
        found = [] if self.by_age is None else out_of_order("by_age", self.by_age, "[age in years, share]")
        if (self.by_age is None) == (self.yearly_decline is None):
            found.append(Refusal((), "both" if self.by_age else "neither", "by_age or yearly_decline"))
        return found


class FitUpItem(Table):
    """One item of putting the engine on the boat."""

    name: Name
    """What it is: rigging, propeller, old engine off."""
    price: Price
    """Its price, for each engine. [money]"""


def _one_sum(value: Any) -> Any:
    """A single sum is a list of one item."""
    return value if isinstance(value, list | tuple) else ({"name": "Fit-up", "price": value},)


class Finance(Table):
    """A loan on net price and fit-up, repaid monthly in arrears."""

    deposit: Share
    """Share paid at delivery. [-]"""
    rate: Rate
    """Yearly rate; a month's is a twelfth. [1/year]"""
    months: Annotated[int, Field(ge=1, le=600, strict=True)]
    """Number of monthly payments. [-]"""


class LastDone(Table):
    """When a service task was last done on a used engine."""

    hours: Hours
    """Meter hours then. [h]"""
    age: Years
    """Age of the engine then. [year]"""


class UsedStart(Table):
    """Where a used engine stands at delivery."""

    meter_hours: Hours
    """Hours on the meter. [h]"""
    age: Annotated[Years, Field(gt=0)]
    """Age. [year]"""
    serviced: Literal["all"] | None = None
    """ "all": every task was just done, every count starts at delivery."""
    last_done: dict[str, LastDone] = Field(default_factory=dict)
    """When single tasks were last done, by task name."""


class Engine(Table):
    """An engine as sold, and how it is bought here."""

    format: Literal[1] = 1
    """Version of the file format."""
    name: Name
    """What the comparison calls it."""
    technology: Technology
    """One of the four kinds of outboard."""
    rated_power: Kilowatts
    """Rated power at the propeller. [kW]"""
    price: Price
    """Price of one engine. [money]"""
    list_price: Price | None = None
    """Price its resale is a share of; the file's own price where none is given. [money]"""
    discount: Price = 0.0
    """Taken off the price. [money]"""
    trade_in: Money = 0.0
    """Allowed for the old engine. [money]"""
    fit_up: Annotated[tuple[FitUpItem, ...], BeforeValidator(_one_sum)] = ()
    """Putting it on the boat, for each engine: a sum or a list. [money]"""
    offered: Literal["new", "used"] = "new"
    """ "used" where a new one may no longer be sold."""
    note: Note = ""
    """Anything a reader should know."""
    fuel: FuelBurn = FuelBurn()
    """Fuel it burns."""
    oil: OilUse | None = None
    """Two-stroke oil it burns."""
    service: ServicePlan | None = None
    """Its service plan."""
    repair: tuple[FailureMode, ...] = ()
    """Its failure modes."""
    warranty: Warranty | None = None
    """Its written warranty."""
    resale: Resale | None = None
    """Its value at sale."""
    per_boat: Annotated[int, Field(ge=1, le=12, strict=True)] | None = None
    """Engines of this kind on the boat; [use] per_boat where none is given."""
    finance: Finance | None = None
    """The loan it is bought with."""
    start: UsedStart | None = None
    """Where it stands at delivery if it is used."""

    def rules(self) -> Iterable[Rule]:
        """Rules between the tables of one engine."""
        yield from (self._oil_refusals, self._discount_refusals, self._list_price_refusals)
        yield from (self._prevention_refusals, self._start_refusals)
        yield lambda: named_twice("repair", [mode.name for mode in self.repair])

    def _oil_refusals(self) -> list[Refusal]:
        if self.oil is None or self.technology.is_two_stroke:
            return []
        return [Refusal(("oil",), f"it on a {self.technology}", "no [oil]; top-ups stand in service.top_up")]

    def _discount_refusals(self) -> list[Refusal]:
        is_more = self.discount > self.price
        return [Refusal(("discount",), f"{self.discount:g}", f"at most the price, {self.price:g}")] if is_more else []

    def _list_price_refusals(self) -> list[Refusal]:
        is_missing = self.start is not None and self.list_price is None
        allowed = "the price of the same engine new"
        return [Refusal(("list_price",), "none on a used engine", allowed, asked_by=("start",))] if is_missing else []

    def _task_names(self) -> list[str]:
        return [task.name for task in self.service.task] if self.service else []

    def _prevention_refusals(self) -> list[Refusal]:
        tasks = self._task_names()
        return [
            Refusal(("repair", index, "prevented_by"), repr(mode.prevented_by), ", ".join(tasks) or "a service task")
            for index, mode in enumerate(self.repair)
            if mode.prevented_by is not None and mode.prevented_by not in tasks
        ]

    def _start_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        if self.start is None:
            return found
        tasks = self._task_names()
        for name, done in self.start.last_done.items():
            at = ("start", "last_done", name)
            if name not in tasks:
                found.append(Refusal(at, "no such task", ", ".join(tasks) or "a service task"))
            if done.hours > self.start.meter_hours or done.age > self.start.age:
                found.append(
                    Refusal(
                        at,
                        f"{done.hours:g} h at age {done.age:g}",
                        "not after delivery: at most start.meter_hours and start.age",
                    )
                )
        return found
