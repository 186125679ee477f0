"""How the engines are used and paid for: ownership period, hours, running bands, prices, money, trials."""

import math
from collections.abc import Iterable
from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from model.inputs.base import Flag, Rule, Table, Text
from model.inputs.problems import Refusal
from model.inputs.terms import SpreadShape, Timing, UseKind
from model.inputs.units import (
    Factor,
    HoursAYear,
    LabourRate,
    Money,
    PricePerLitre,
    Rate,
    RevolutionsAMinute,
    Share,
    Speed,
    Variation,
    Years,
)


class OwnershipPeriod(Table):
    """From delivery to sale (ISO 15686-5: period of analysis)."""

    years: Annotated[Years, Field(gt=0, le=60)]
    """Length of the period; may end within a year. [year]"""
    delivery: Annotated[date, Field(strict=True, ge=date(1950, 1, 1), le=date(2150, 12, 31))]
    """Day of delivery."""
    service_at_handover: Flag = False
    """Whether a visit that falls on the day of sale is made."""

    @property
    def begun_years(self) -> int:
        """Ownership years that begin within the period."""
        return max(1, math.ceil(self.years - 1e-9))


class Band(Table):
    """A running band: a share of running time at one engine speed."""

    speed: Speed
    """Fraction of rated engine speed. [-]"""
    share: Share
    """Share of running time. [-]"""


class ReadOut(Table):
    """Running bands from an engine's own record, a CSV of speed_from, speed_to, hours."""

    file: Text
    """The CSV, beside the scenario. [rev/min, rev/min, h]"""
    rated_speed: RevolutionsAMinute
    """Rated speed of that engine. [rev/min]"""
    bins: tuple[tuple[float, float, float], ...] = ()
    """What the file held; filled in by the reading. [rev/min, rev/min, h]"""


class Spread(Table):
    """How yearly hours vary, for the trials."""

    shape: SpreadShape
    """Shape of the distribution."""
    variation: Variation | None = None
    """Coefficient of variation of one year's hours: gamma, lognormal. [-]"""
    low: HoursAYear | None = None
    """Fewest hours: triangular, uniform. [h/year]"""
    mode: HoursAYear | None = None
    """Most likely hours: triangular. [h/year]"""
    high: HoursAYear | None = None
    """Most hours: triangular, uniform. [h/year]"""
    hours: tuple[HoursAYear, ...] = ()
    """Recorded hours of past years: recorded. [h/year]"""
    owner_share: Share = 1.0
    """Correlation between years; 1: every year alike. [-]"""

    def rules(self) -> Iterable[Rule]:
        """Each shape has its own keys, in order."""
        return (self._shape_refusals,)

    def _shape_refusals(self) -> list[Refusal]:
        needed = {
            SpreadShape.LOGNORMAL: ("variation",),
            SpreadShape.GAMMA: ("variation",),
            SpreadShape.TRIANGULAR: ("low", "mode", "high"),
            SpreadShape.UNIFORM: ("low", "high"),
            SpreadShape.RECORDED: ("hours",),
            SpreadShape.FIXED: (),
        }[self.shape]
        found: list[Refusal] = []
        for key in ("variation", "low", "mode", "high", "hours"):
            given = getattr(self, key) not in (None, ())
            if key in needed and not given:
                found.append(Refusal((key,), "none", f'a value, for shape = "{self.shape}"'))
            if given and key not in needed:
                found.append(
                    Refusal((key,), f'it with shape = "{self.shape}"', "only " + (", ".join(needed) or "shape"))
                )
        limits = [value for value in (self.low, self.mode, self.high) if value is not None]
        if limits != sorted(limits) or (len(limits) > 1 and limits[0] == limits[-1]):
            found.append(Refusal(("low",), f"{limits}", "low <= mode <= high, low below high"))
        return found


class UsePattern(Table):
    """How the boat is run."""

    kind: UseKind = UseKind.PRIVATE
    """ "private" or "commercial": which warranty applies."""
    hours_per_year: HoursAYear | None = None
    """Running hours of every year. [h/year]"""
    hours_by_year: tuple[HoursAYear, ...] | None = None
    """Running hours of each begun year. [h/year]"""
    per_boat: Annotated[int, Field(ge=1, le=12, strict=True)] = 1
    """Engines on the boat."""
    share_with_one_left: Share = 1.0
    """Share of a lost day that is lost while another engine runs. [-]"""
    bands: Literal["E4"] = "E4"
    """ "E4": the marine test cycle of 40 CFR Part 1045, where no bands or read-out are given."""
    band: tuple[Band, ...] = ()
    """Running bands by hand."""
    read_out: ReadOut | None = None
    """Running bands from an engine's own record."""
    spread: Spread | None = None
    """How yearly hours vary, for the trials."""

    def rules(self) -> Iterable[Rule]:
        """Hours one way; bands one way, their shares adding to 1."""
        return (self._hours_refusals, self._band_refusals)

    def _hours_refusals(self) -> list[Refusal]:
        if (self.hours_per_year is None) != (self.hours_by_year is None):
            return []
        what = "neither" if self.hours_per_year is None else "both"
        return [Refusal(("hours_per_year",), what, "hours_per_year or hours_by_year, 0 to 8766 h")]

    def _band_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        if self.band and self.read_out:
            found.append(Refusal(("read_out",), "it beside [[use.band]]", "one of the two"))
        total = sum(band.share for band in self.band)
        if self.band and abs(total - 1.0) > 1e-6:
            found.append(Refusal(("band",), f"shares that add to {total:.6g}", "shares that add to 1"))
        return found


class Prices(Table):
    """Prices of running, at delivery-day prices."""

    fuel: PricePerLitre
    """Price of fuel. [money/L]"""
    two_stroke_oil: PricePerLitre | None = None
    """Price of two-stroke oil. [money/L]"""
    labour: LabourRate = 0.0
    """Price of workshop labour. [money/h]"""


class Growth(Table):
    """Yearly nominal growth of single prices; general inflation where none is given."""

    fuel: Rate | None = None
    """Growth of the price of fuel. [1/year]"""
    two_stroke_oil: Rate | None = None
    """Growth of the price of two-stroke oil. [1/year]"""
    parts: Rate | None = None
    """Growth of prices of parts. [1/year]"""
    labour: Rate | None = None
    """Growth of labour and of all workshop charges that are no parts. [1/year]"""
    downtime: Rate | None = None
    """Growth of the cost of a lost day. [1/year]"""
    engine_price: Rate | None = None
    """Growth of the price of a new engine. [1/year]"""


class MoneyTerms(Table):
    """Inflation, discount and tax."""

    inflation: Rate = 0.0
    """General inflation. [1/year]"""
    discount_rate: Rate | None = None
    """Nominal discount rate. [1/year]"""
    real_discount_rate: Rate | None = None
    """Real discount rate, in place of the nominal one. [1/year]"""
    timing: Timing = Timing.MID_YEAR
    """When what flows through a year is booked."""
    growth: Growth = Growth()
    """Growth of single prices."""
    tax_rate: Share | None = None
    """Sales tax, for prices marked tax = "excluded". [-]"""
    net: Flag = False
    """All figures net of that tax, for a business that gets it back."""

    def rules(self) -> Iterable[Rule]:
        """One discount rate at most; net figures need a tax rate."""
        return (self._discount_refusals, self._tax_refusals)

    def _discount_refusals(self) -> list[Refusal]:
        if self.discount_rate is None or self.real_discount_rate is None:
            return []
        return [Refusal(("real_discount_rate",), "it beside discount_rate", "one of the two")]

    def _tax_refusals(self) -> list[Refusal]:
        is_missing = self.net and self.tax_rate is None
        return [Refusal(("net",), "true without tax_rate", "tax_rate beside it")] if is_missing else []


class TrialTerms(Table):
    """What else varies between trials; each is off when left out."""

    repairs: Literal["drawn", "expected"] = "expected"
    """ "drawn": each trial has its own failures."""
    fuel_volatility: Variation = 0.0
    """Standard deviation of the yearly log change of the fuel price. [-]"""
    parts_variation: Variation = 0.0
    """Coefficient of variation of the level of parts prices. [-]"""
    labour_variation: Variation = 0.0
    """Coefficient of variation of the level of labour prices. [-]"""
    fuel_burn_variation: Variation = 0.0
    """Coefficient of variation of each engine's fuel burn. [-]"""
    resale_variation: Variation = 0.0
    """Coefficient of variation of each engine's value at sale. [-]"""


class Neglect(Table):
    """What skipped servicing does; stated by the scenario, 1 says "no effect"."""

    resale_factor: Factor
    """What the value at sale is multiplied by. [-]"""
    repair_factor: Factor | None = None
    """What the intensity of every failure mode is multiplied by. [-]"""


class Downtime(Table):
    """What a day without the boat costs."""

    day_cost: Money
    """Cost of a lost day. [money/day]"""


class Ranges(Table):
    """Ranges that curves and searches run over."""

    hours_per_year: tuple[HoursAYear, HoursAYear] = (0.0, 1000.0)
    """Least and most hours a year. [h/year]"""
    ownership_years: tuple[Years, Years] = (1.0, 20.0)
    """Shortest and longest ownership period. [year]"""

    def rules(self) -> Iterable[Rule]:
        """Least below most."""
        return (self._order_refusals,)

    def _order_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        for key, (low, high) in (("hours_per_year", self.hours_per_year), ("ownership_years", self.ownership_years)):
            if low >= high or (key == "ownership_years" and not low >= 0.25):
                least = ", from 0.25 years" if key == "ownership_years" else ""
                found.append(Refusal((key,), f"[{low:g}, {high:g}]", f"[least, most], least below most{least}"))
        return found
