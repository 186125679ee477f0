"""The service plan of an engine: predetermined maintenance (EN 13306) as visits and tasks."""

from collections.abc import Iterable
from functools import partial
from typing import Annotated

from pydantic import AfterValidator, Field, StringConstraints

from model.inputs.base import Flag, Rule, Table, Text, named_twice
from model.inputs.problems import Refusal, on_one_line
from model.inputs.terms import SMALLEST_HOURS, SMALLEST_MONTHS, CountFrom, DoneBy
from model.inputs.units import Days, Factor, Hours, LitresPer100Hours, Months, Price, PricePerLitre, Quantity, Share

MOST_TASKS = 60
"""Workshop tasks of one plan; more do not fit the walk's record of what a visit did."""


Name = Annotated[
    str, StringConstraints(min_length=1, max_length=80, strip_whitespace=True), AfterValidator(on_one_line)
]
"""A name of 1 to 80 characters."""


class Interval(Table):
    """A limit of running hours and/or months, whichever comes first."""

    hours: Annotated[Hours, Field(ge=1)] | None = None
    """Running hours. [h]"""
    months: Annotated[Months, Field(ge=0.25)] | None = None
    """Months. [month]"""

    def rules(self) -> Iterable[Rule]:
        """At least one limit."""
        return (self._limit_refusals,)

    def _limit_refusals(self) -> list[Refusal]:
        return [] if self.hours or self.months else [Refusal(("hours",), "no limit", "hours, months or both")]

    def __str__(self) -> str:
        """The trade's short form: 200 h / 24 mo."""
        limits = [f"{self.hours:g} h"] if self.hours else []
        return " / ".join(limits + ([f"{self.months:g} mo"] if self.months else []))


class Part(Table):
    """A part used at a service task."""

    name: Text
    """Name of the part."""
    quantity: Quantity = 1.0
    """How many. [unit]"""
    unit: Text = "piece"
    """What is counted: piece, L, set."""
    price: Price
    """Price of one unit. [money]"""


class Task(Table):
    """One service task with its own interval."""

    name: Name
    """Name of the task."""
    every: Interval | None = None
    """Its interval; none for a task at lay-up."""
    first: Flag = False
    """Done at the first visit as well."""
    by: DoneBy = DoneBy.WORKSHOP
    """ "workshop" at a visit, or "owner": parts only, its own count, no visit."""
    at_lay_up: Flag = False
    """Once a year on the first of the plan's lay-up month, no visit."""
    on_condition: Share = 1.0
    """Share of inspections that end in new parts. [-]"""
    labour: Hours = 0.0
    """Labour each time. [h]"""
    labour_if_renewed: Hours = 0.0
    """Labour more when parts are renewed. [h]"""
    parts: tuple[Part, ...] = ()
    """Parts used."""
    menu_price: Price | None = None
    """One price for parts and labour together. [money]"""

    def rules(self) -> Iterable[Rule]:
        """An interval or the lay-up; a menu price or parts and labour."""
        return (self._task_refusals,)

    def _task_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        if self.every is None and not self.at_lay_up:
            found.append(Refusal(("every",), "no interval", "every = { hours, months }, or at_lay_up = true"))
        if self.menu_price is not None and (self.parts or self.labour or self.labour_if_renewed):
            found.append(Refusal(("menu_price",), "it beside parts or labour", "a menu price, or parts and labour"))
        if self.by is DoneBy.OWNER and (self.menu_price is not None or self.labour or self.labour_if_renewed):
            found.append(Refusal(("by",), '"owner" beside labour or a menu price', "parts only when the owner does it"))
        if self.first and (self.by is DoneBy.OWNER or self.at_lay_up):
            found.append(Refusal(("first",), "true on a task without a visit", "only on tasks done at visits"))
        return found

    @property
    def is_at_visits(self) -> bool:
        """Whether the workshop does it at a visit."""
        return self.by is DoneBy.WORKSHOP and not self.at_lay_up


class TopUp(Table):
    """Crankcase oil added between changes."""

    litres_per_100_hours: LitresPer100Hours
    """Oil added. [L/100 h]"""
    price: PricePerLitre
    """Price of the oil. [money/L]"""


class ServicePlan(Table):
    """Visits at a base interval, and the tasks done at them."""

    every: Interval
    """Base interval of the routine visit."""
    first: Interval | None = None
    """The first visit of a new engine."""
    count_from: CountFrom = CountFrom.NEW
    """Where all counts start: "new" or "first visit"."""
    visit_labour: Hours = 0.0
    """Labour of every visit, once for the boat. [h]"""
    visit_price: Price = 0.0
    """Price of every visit, once for the boat: haul-out, test run, disposal. [money]"""
    visit_days: Days = 0.0
    """Days a visit takes the boat. [day]"""
    labour_factor: Factor = 1.0
    """Raises all labour of the plan (salt water). [-]"""
    lay_up_month: Annotated[int, Field(ge=1, le=12, strict=True)] | None = None
    """Month of the year in which the boat is laid up, 1 to 12."""
    top_up: TopUp | None = None
    """Crankcase oil added between changes."""
    task: tuple[Task, ...] = ()
    """The tasks."""

    def rules(self) -> Iterable[Rule]:
        """Every workshop task fits the base interval."""
        yield lambda: named_twice("task", [task.name for task in self.task])
        yield self._number_refusals
        for index, _ in enumerate(self.task):
            yield partial(self._task_refusals, index)

    def _task_refusals(self, index: int) -> list[Refusal]:
        task = self.task[index]
        if task.at_lay_up and self.lay_up_month is None:
            return [Refusal(("lay_up_month",), f"none, but {task.name!r} is at lay-up", "a month, 1 to 12")]
        return _misfits(index, task.every, self.every) if task.is_at_visits and task.every is not None else []

    def _number_refusals(self) -> list[Refusal]:
        number = len([task for task in self.task if task.is_at_visits])
        return [Refusal(("task",), f"{number} tasks at visits", f"at most {MOST_TASKS}")] if number > MOST_TASKS else []


def _misfits(index: int, every: Interval, base: Interval) -> list[Refusal]:
    """Limits of a workshop task that the base interval has not, or that are shorter than its own."""
    found: list[Refusal] = []
    for kind, own, limit, smallest, unit in (
        ("hours", every.hours, base.hours, SMALLEST_HOURS, "h"),
        ("months", every.months, base.months, SMALLEST_MONTHS, "months"),
    ):
        if own is None:
            continue
        at = ("task", index, "every", kind)
        if limit is None:
            found.append(
                Refusal(at, f"{own:g} {unit}", f"only limits that the base interval has: add service.every.{kind}")
            )
        elif own < limit - smallest:
            found.append(
                Refusal(
                    at,
                    f"{own:g} {unit}",
                    f'at least the base interval, {limit:g} {unit}: shorten service.every.{kind}, or by = "owner"',
                )
            )
    return found
