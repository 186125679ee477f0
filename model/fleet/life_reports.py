"""Economic lives as plain data: for JSON as documented in the README, and as flat rows."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.fleet.economic_life import BestMeter, EconomicLife
from model.fleet.planned_renewal import PlannedRenewal

Rows = list[dict[str, Any]]


@dataclass(frozen=True)
class EngineLife:
    """The economic life of one engine in its use."""

    name: str
    """The engine."""
    hours: float
    """Hours a year. [h/year]"""
    life: EconomicLife
    """At those hours."""
    by_hours: tuple[tuple[float, float], ...]
    """Other hours a year and the best age there. [h/year, year]"""
    best_meter: BestMeter | None
    """Best meter reading; None at zero hours."""
    renewals: Mapping[str, PlannedRenewal]
    """Parts that are renewed at a repair, by failure mode."""
    by_trials: EconomicLife | None = None
    """The same over the trials; None without."""
    standard_errors: tuple[float, ...] = ()
    """Of the costs over the trials, by age; none without trials. [money/year]"""

    @property
    def told(self) -> EconomicLife:
        """The life that is told: over the trials where there are trials."""
        return self.by_trials or self.life


def life_report(lives: Iterable[EngineLife], lines: Sequence[str] = ()) -> dict[str, Any]:
    """Economic lives by age and meter, and how they move with hours; by trials where there are trials; notes."""
    return {"engines": [_one_report(one) for one in lives], "notes": list(lines)}


def _one_report(one: EngineLife) -> dict[str, Any]:
    """The economic life of one engine."""
    life, meter = one.told, one.best_meter
    return {
        "name": one.name,
        "hours_per_year": one.hours,
        "by_age": [
            {"age": age, "meter_hours": age * one.hours, "equivalent_annual_cost": cost}
            | ({"standard_error": one.standard_errors[place]} if one.standard_errors else {})
            for place, (age, cost) in enumerate(zip(life.ages, life.costs, strict=True))
        ],
        "best_age": life.best_age,
        "within_2_percent": list(life.about_as_good),
        "or_later": life.goes_on,
        "by_trials": one.by_trials is not None,
        "best_meter": None
        if meter is None
        else {"meter_hours": meter.meter_hours, "cost_per_hour": meter.cost_per_hour},
        "by_hours_per_year": [{"hours_per_year": hours, "best_age": age} for hours, age in one.by_hours],
        "renewals": [
            {"mode": mode, "clock": renewal.clock.value, "age": renewal.age, "cost_rate": renewal.cost_rate,
             "cost_rate_waiting": renewal.cost_rate_waiting}
            for mode, renewal in one.renewals.items()
        ],
    }  # fmt: skip


LIFE_COLUMNS = (
    "engine",
    "hours_per_year",
    "age",
    "meter_hours",
    "equivalent_annual_cost",
    "by_trials",
    "standard_error",
)
"""Columns of economic lives as flat rows."""


def life_rows(lives: Iterable[EngineLife]) -> Rows:
    """Economic lives as flat rows, one for each engine and age."""
    return [
        {
            "engine": one.name,
            "hours_per_year": one.hours,
            "age": age,
            "meter_hours": age * one.hours,
            "equivalent_annual_cost": cost,
            "by_trials": None if one.by_trials is None else one.by_trials.costs[place],
            "standard_error": one.standard_errors[place] if one.standard_errors else None,
        }
        for one in lives
        for place, (age, cost) in enumerate(zip(one.life.ages, one.life.costs, strict=True))
    ]


BEST_COLUMNS = (
    "engine", "hours_per_year", "best_age", "from", "to", "or_later", "equivalent_annual_cost", "best_meter_hours",
)  # fmt: skip
"""Columns of the best age of each engine, at its own hours and at others."""


def best_rows(lives: Iterable[EngineLife]) -> Rows:
    """The best age and meter reading of each engine, then its best age at other hours a year."""
    rows: Rows = []
    for one in lives:
        low, high = one.told.about_as_good
        meter = None if one.best_meter is None else one.best_meter.meter_hours
        rows.append(
            {"engine": one.name, "hours_per_year": one.hours, "best_age": one.told.best_age, "from": low, "to": high,
             "or_later": "yes" if one.told.goes_on else "no", "equivalent_annual_cost": min(one.told.costs),
             "best_meter_hours": meter}
        )  # fmt: skip
        others = [(hours, age) for hours, age in one.by_hours if hours != one.hours]
        rows += [{"engine": one.name, "hours_per_year": hours, "best_age": age} for hours, age in others]
    return rows
