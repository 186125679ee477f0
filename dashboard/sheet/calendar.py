"""The service calendar of the first years, with prices, as a sheet has room for."""

from collections import Counter
from dataclasses import dataclass

from dashboard.sheet.matter import Matter
from model import wording
from model.language import dated, say
from model.measures import EngineCost
from model.service_calendar import VisitSummary, service_visits

YEARS = 3.0
"""How far the calendar reaches. [year]"""

MOST_VISITS = 30
"""Visits told one by one; more are told together by year and kind."""


@dataclass(frozen=True)
class Calendar:
    """The visits of one engine."""

    engine: str
    """Its name."""
    rows: tuple[tuple[str, str, str, str], ...]
    """When, at what meter hours, which visit, its price."""
    total: str
    """What they come to together, money of the day."""


def first_visits(cost: EngineCost) -> list[VisitSummary]:
    """The visits of the first years, the last day included."""
    return [visit for visit in service_visits(cost.case) if visit.t_years <= YEARS + 1e-9]


def calendars(matter: Matter) -> list[Calendar]:
    """The calendar of every engine."""
    found = []
    for cost in matter.comparison.engines:
        visits = first_visits(cost)
        rows = [_row(visit) for visit in visits] if len(visits) <= MOST_VISITS else _by_year(visits)
        found.append(Calendar(cost.name, tuple(rows), wording.whole(sum(visit.cost for visit in visits))))
    return found


def _row(visit: VisitSummary) -> tuple[str, str, str, str]:
    """One visit."""
    return dated(visit.date), wording.whole(visit.meter_hours), visit.name, wording.whole(visit.cost)


def _by_year(visits: list[VisitSummary]) -> list[tuple[str, str, str, str]]:
    """Visits of one name in one ownership year together."""
    keys = [(min(int(visit.t_years + 1e-9), int(YEARS) - 1), visit.name) for visit in visits]
    rows = []
    for (year, name), number in sorted(Counter(keys).items()):
        those = [visit for visit, key in zip(visits, keys, strict=True) if key == (year, name)]
        meter = f"{wording.whole(those[0].meter_hours)} – {wording.whole(those[-1].meter_hours)}"
        told = say("{visit}, {number:once|{number} times}", number=number, visit=name)
        rows.append((say("Year {year}", year=year + 1), meter, told, wording.whole(sum(v.cost for v in those))))
    return rows
