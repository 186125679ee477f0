"""The service visits once more, in fractions: no rounding, so no tolerance, and nothing shared with the model.

Read from the rules in words: positions are (months, meter) since delivery; the curve of meter over time is a list of
corners; a visit falls where the first of two limits is met. `closest` is the nearest that two compared values came
without being equal; a float walk with a tolerance can agree only where that is above the tolerance.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

Position = tuple[Fraction, Fraction]
"""Months and meter hours since delivery."""
Limit = tuple[Fraction | None, Fraction | None]
"""Months and hours, None where there is no limit."""


@dataclass
class Task:
    """An interval, and whether it is done at the first visit as well."""

    every: Limit
    first: bool = False


@dataclass
class Plan:
    """Base interval, first visit and tasks."""

    every: Limit
    tasks: Sequence[Task]
    first: Limit = (None, None)
    counts_from_first: bool = False


@dataclass
class ExactWalk:
    """One path; `visits` holds position, tasks done, and whether it is the first visit ahead of the routine."""

    hours: Sequence[Fraction]
    years: Fraction
    plan: Plan
    at_handover: bool = False
    closest: Fraction = Fraction(10**9)
    visits: list[tuple[Position, tuple[int, ...], bool]] = field(default_factory=list)

    def exceeds(self, value: Fraction, limit: Fraction) -> bool:
        """Plain `>`, keeping how near the two came."""
        if value != limit:
            self.closest = min(self.closest, abs(value - limit))
        return value > limit

    def meter_at(self, months: Fraction) -> Fraction:
        """Meter at a month; after the last year its hours go on."""
        meter, year = Fraction(0), 0
        while year < len(self.hours) - 1 and months > 12 * (year + 1):
            meter += self.hours[year]
            year += 1
        return meter + self.hours[year] * (months - 12 * year) / 12

    def months_at(self, meter: Fraction) -> Fraction | None:
        """First month at which the meter shows it."""
        before = Fraction(0)
        for year, hours in enumerate(self.hours):
            is_last = year == len(self.hours) - 1
            if hours and (is_last or meter <= before + hours):
                return 12 * year + 12 * (meter - before) / hours
            before += hours
        return None

    def after(self, start: Position, limit: Limit) -> Position | None:
        """Where a limit counted from a position is met."""
        by_months = None if limit[0] is None else start[0] + limit[0]
        by_hours = None if limit[1] is None else self.months_at(start[1] + limit[1])
        if by_months is None and by_hours is None:
            return None
        if by_months is None or (by_hours is not None and not self.exceeds(by_hours, by_months)):
            assert by_hours is not None
            assert limit[1] is not None
            return by_hours, start[1] + limit[1]
        return by_months, self.meter_at(by_months)

    def is_over(self, done: Position, then: Position, limit: Limit) -> bool:
        """Whether an interval would be overrun by then."""
        gone = (then[0] - done[0], then[1] - done[1])
        return any(most is not None and self.exceeds(gone[i], most) for i, most in enumerate(limit))

    def is_made(self, at: Position | None) -> bool:
        """Whether a visit comes before the sale, or on it with service at handover."""
        end = 12 * self.years
        if at is None or self.exceeds(at[0], end):
            return False
        return self.at_handover if at[0] == end else not self.exceeds(at[0], end)

    def run(self) -> "ExactWalk":
        """Make all visits."""
        plan, origin = self.plan, (Fraction(0), Fraction(0))
        done = [origin for _ in plan.tasks]
        end = (12 * self.years, self.meter_at(12 * self.years))
        at, first = self.after(origin, plan.every), self.after(origin, plan.first)
        has_first = plan.first != (None, None)
        merged = has_first and (first is None or (at is not None and not self.exceeds(at[0], first[0])))
        if has_first and not merged and self.is_made(first):
            assert first is not None
            self.visits.append((first, tuple(i for i, task in enumerate(plan.tasks) if task.first), True))
            done = [first if task.first or plan.counts_from_first else origin for task in plan.tasks]
            if plan.counts_from_first:
                at = self.after(first, plan.every)
        while self.is_made(at):
            assert at is not None
            following = self.after(at, plan.every)
            until = following
            if at[0] != end[0] and (following is None or self.exceeds(following[0], end[0])):
                until = end
            chosen = [
                i
                for i, task in enumerate(plan.tasks)
                if (merged and task.first) or (until is not None and self.is_over(done[i], until, task.every))
            ]
            self.visits.append((at, tuple(chosen), False))
            fresh = range(len(done)) if merged and plan.counts_from_first else chosen
            for i in fresh:
                done[i] = at
            merged, at = False, following
        return self
