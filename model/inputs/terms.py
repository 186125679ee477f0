"""The vocabulary: enums of the words used in files, code and labels, and the fixed figures behind them.

House units everywhere behind the door: h, L, kW, year, money of the scenario's currency, shares 0..1.
"""

from enum import StrEnum

HOURS_IN_A_YEAR = 8766.0
"""The most hours a year can hold. [h]"""

MONTHS_IN_A_YEAR = 12.0
"""Months in a year: a month is 1/12 year in every sum. [month]"""

SMALLEST_HOURS = 1e-6
"""Two meter readings closer than this are the same reading. [h]"""

SMALLEST_MONTHS = 1e-6
"""Two times closer than this are the same time. [month]"""


class Technology(StrEnum):
    """The four kinds of outboard; never one figure for "two-strokes"."""

    TWO_STROKE_CARBURETTED = "two-stroke carburetted"
    TWO_STROKE_DIRECT_INJECTED = "two-stroke direct-injected"
    FOUR_STROKE_CARBURETTED = "four-stroke carburetted"
    FOUR_STROKE_INJECTED = "four-stroke injected"

    @property
    def is_two_stroke(self) -> bool:
        """Whether oil is burned with the fuel."""
        return self.value.startswith("two-stroke")


class Element(StrEnum):
    """Cost elements (IEC 60300-3-3: lines of the cost breakdown), in the order of the ledger."""

    PURCHASE = "purchase"
    FIT_UP = "fit_up"
    FINANCE = "finance"
    FUEL = "fuel"
    TWO_STROKE_OIL = "two_stroke_oil"
    SERVICE_PARTS = "service_parts"
    SERVICE_LABOUR = "service_labour"
    REPAIRS = "repairs"
    WARRANTY_COVER = "warranty_cover"
    DOWNTIME = "downtime"
    RESALE = "resale"


class Payer(StrEnum):
    """Who pays a row of the ledger; only the owner's rows count."""

    OWNER = "owner"
    WARRANTY = "warranty"


class Timing(StrEnum):
    """When what flows through a year is booked."""

    MID_YEAR = "mid-year"
    YEAR_END = "year-end"


class UseKind(StrEnum):
    """Which written warranty applies."""

    PRIVATE = "private"
    COMMERCIAL = "commercial"


class Servicing(StrEnum):
    """Whether the service plan is kept by a workshop, by the owner, or not at all."""

    KEPT = "kept"
    OWN = "own"
    SKIPPED = "skipped"


class VisitKind(StrEnum):
    """What kind of service a visit is."""

    FIRST = "first"
    ROUTINE = "routine"
    MAJOR = "major"


class CountFrom(StrEnum):
    """Where the counts of a service plan start."""

    NEW = "new"
    FIRST_VISIT = "first visit"


class DoneBy(StrEnum):
    """Who does a service task."""

    WORKSHOP = "workshop"
    OWNER = "owner"


class Clock(StrEnum):
    """What makes a failure mode age."""

    HOURS = "hours"
    YEARS = "years"


class AfterRepair(StrEnum):
    """The state of the part after a repair: minimal repair, or a new part."""

    AS_OLD = "as old"
    AS_NEW = "as new"


class SpreadShape(StrEnum):
    """Shapes of the distribution of yearly hours."""

    FIXED = "fixed"
    TRIANGULAR = "triangular"
    UNIFORM = "uniform"
    GAMMA = "gamma"
    LOGNORMAL = "lognormal"
    RECORDED = "recorded"
