"""The service calendar of one engine: its visits in order, named, dated and priced."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from model import booking, money
from model.case import Case
from model.elements.service import visit_price
from model.inputs.plan import Interval
from model.inputs.terms import MONTHS_IN_A_YEAR, VisitKind
from model.language import say
from model.usage import date_at
from model.walk import visits_of
from model.wording import interval_in_words


@dataclass(frozen=True)
class VisitSummary:
    """One visit at the workshop, all engines of the kind on the boat."""

    t_years: float
    """When, since delivery. [year]"""
    date: date
    """The day it falls on."""
    meter_hours: float
    """On the meter of one engine. [h]"""
    name: str
    """Its longest interval done, "200 h / 24 mo"; a first visit by its own."""
    kind: VisitKind
    """First; major where a longer interval than the base is done; routine."""
    tasks: tuple[str, ...]
    """Tasks done."""
    parts: float
    """Nominal. [money]"""
    labour: float
    """With menu prices and the visit's own charge, nominal. [money]"""
    days: float
    """Days the visit takes. [day]"""

    @property
    def cost(self) -> float:
        """Parts and labour, nominal. [money]"""
        return self.parts + self.labour


def service_visits(case: Case) -> tuple[VisitSummary, ...]:
    """
    The visits of one engine on the stated hours.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of VisitSummary
    """
    if case.walk is None or case.plan is None:
        return ()
    period, growth = case.scenario.ownership, case.rules.growth
    visits = visits_of(np.array(case.scenario.hours()), case.years, case.ending, case.walk)
    found = []
    for months, meter, tasks, is_first in zip(*(column.tolist() for column in visits), strict=True):
        t = months / MONTHS_IN_A_YEAR
        booked = booking.booking_time(t, case.rules.timing, case.years)
        done = [index for index in range(len(case.task_costs)) if tasks >> index & 1]
        parts, labour = visit_price(tasks, case.visit_prices)
        name, kind = _named(case, done, is_first)
        found.append(
            VisitSummary(
                t_years=t,
                date=date_at(t, period.delivery),
                meter_hours=meter + case.start[0],
                name=name,
                kind=kind,
                tasks=tuple(case.task_costs[index].task.name for index in done),
                parts=parts * float(money.growth_factor(growth.parts, booked)),
                labour=labour * float(money.growth_factor(growth.labour, booked)),
                days=case.visit_days,
            )
        )
    return tuple(found)


def _named(case: Case, done: list[int], is_first: bool) -> tuple[str, VisitKind]:
    """Name and kind of a visit: the longest interval done, measured in base intervals."""
    assert case.plan is not None
    base = case.plan.every
    if is_first and case.plan.first is not None:
        return say("first, {interval}", interval=interval_in_words(case.plan.first)), VisitKind.FIRST
    intervals = [every for index in done if (every := case.task_costs[index].task.every) is not None]
    longest = max([base, *intervals], key=lambda every: _in_base_intervals(every, base))
    is_major = _in_base_intervals(longest, base) > 1.0 + SMALLEST_STEP
    return interval_in_words(longest), VisitKind.MAJOR if is_major else VisitKind.ROUTINE


SMALLEST_STEP = 1e-9
"""An interval no longer than the base by more than this share is the base. [-]"""


def _in_base_intervals(every: Interval, base: Interval) -> float:
    """How many base intervals an interval is long, by its longer limit. [-]"""
    limits = ((every.hours, base.hours), (every.months, base.months))
    return max(own / limit for own, limit in limits if own and limit)
