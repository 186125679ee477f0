"""A scenario: engines to compare, one owner, and where the numbers come from. Frozen; a change makes a copy."""

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from model.inputs.base import Flag, Note, Rule, Table, Text, named_twice
from model.inputs.engine import Engine
from model.inputs.owner import (
    Downtime,
    MoneyTerms,
    Neglect,
    OwnershipPeriod,
    Prices,
    Ranges,
    TrialTerms,
    UsePattern,
)
from model.inputs.problems import Refusal
from model.inputs.terms import Servicing, UseKind
from model.inputs.warranty import Cover

SPEED_OVER = 1.05
"""A read-out may reach this far above the last fuel point and is clipped to it; instruments overshoot. [-]"""


class Source(Table):
    """Where a number comes from."""

    title: Text
    """What was read."""
    year: int | None = None
    """Year of it, or the year in which it was read."""
    place: Text = ""
    """Where in it the number stands."""
    address: Text = ""
    """Where it is found."""


class Scenario(Table):
    """Everything one comparison needs."""

    format: Literal[1] = 1
    """Version of the file format."""
    title: Text = "Untitled"
    """What the comparison is called."""
    note: Note = ""
    """Where it comes from and what a reader should know; invented data says so."""
    currency: Annotated[str, Field(pattern="^[A-Z]{3}$")] = "EUR"
    """Currency of all money (ISO 4217)."""
    servicing: Servicing = Servicing.KEPT
    """ "kept" by a workshop, "own" by the owner, or "skipped"."""
    own_service_keeps_cover: Flag | None = None
    """Whether the written warranty stands when the owner does the servicing; must be stated then."""
    ownership: OwnershipPeriod
    """The ownership period."""
    use: UsePattern
    """How the boat is run."""
    prices: Prices
    """Prices of running."""
    money: MoneyTerms = MoneyTerms()
    """Inflation, discount and tax."""
    trials: TrialTerms = TrialTerms()
    """What else varies between trials."""
    neglect: Neglect | None = None
    """What skipped servicing does."""
    downtime: Downtime | None = None
    """What a day without the boat costs."""
    range: Ranges = Ranges()
    """Ranges that curves and searches run over."""
    engines: Annotated[tuple[Engine, ...], Field(min_length=1, max_length=12)]
    """The engines to compare."""
    sources: dict[Text, Source] = Field(default_factory=dict)
    """Where its numbers come from, in a file that travels without a sources.toml."""

    def rules(self) -> Iterable[Rule]:
        """Rules between the owner and the engines."""
        yield lambda: named_twice("engines", [engine.name for engine in self.engines])
        yield from (self._hours_refusals, self._servicing_refusals)
        for index, _ in enumerate(self.engines):
            for rule in (self._cover_refusals, self._oil_refusals, self._band_refusals, self._read_out_refusals):
                yield partial(rule, index)

    def _hours_refusals(self) -> list[Refusal]:
        by_year, years = self.use.hours_by_year, self.ownership.begun_years
        if by_year is None or len(by_year) == years:
            return []
        return [
            Refusal(
                ("use", "hours_by_year"),
                f"{len(by_year)} given",
                f"one for each begun year: {years} for ownership.years = {self.ownership.years:g}",
            )
        ]

    def _servicing_refusals(self) -> list[Refusal]:
        if self.servicing is Servicing.OWN and self.own_service_keeps_cover is None:
            return [Refusal(("own_service_keeps_cover",), "none", 'true or false, with servicing = "own"')]
        if self.servicing is not Servicing.SKIPPED:
            return []
        if self.neglect is None:
            return [
                Refusal(
                    ("neglect",),
                    "none",
                    '[neglect] resale_factor and repair_factor (1: no effect), with servicing = "skipped"',
                )
            ]
        if self.neglect.repair_factor is None:
            return [
                Refusal(
                    ("engines", index, "repair", position, "neglect_factor"),
                    "none",
                    "neglect.repair_factor, or a neglect_factor on every failure mode (1: no effect)",
                )
                for index, engine in enumerate(self.engines)
                for position, mode in enumerate(engine.repair)
                if mode.neglect_factor is None
            ]
        return []

    def _cover_refusals(self, index: int) -> list[Refusal]:
        warranty = self.engines[index].warranty
        if self.use.kind is not UseKind.COMMERCIAL or warranty is None or warranty.commercial is not None:
            return []
        return [
            Refusal(
                ("engines", index, "warranty", "commercial"),
                "none",
                '[warranty.commercial], with use.kind = "commercial" (months = 0 says no cover)',
            )
        ]

    def _oil_refusals(self, index: int) -> list[Refusal]:
        engine = self.engines[index]
        if engine.oil is None or self.prices.two_stroke_oil is not None:
            return []
        return [Refusal(("prices", "two_stroke_oil"), f"none, but {engine.name!r} burns oil", "a price per L")]

    def _band_refusals(self, index: int) -> list[Refusal]:
        engine, found = self.engines[index], list[Refusal]()
        top = engine.fuel.top_speed
        if top < 1.0 - 1e-9 and not self.use.band and self.use.read_out is None:
            found.append(
                Refusal(
                    ("engines", index, "fuel", "points"),
                    f"the last point at {top:g} of rated speed",
                    "points up to 1, which the E4 cycle runs at, or [[use.band]]",
                )
            )
        for position, band in enumerate(self.use.band):
            if band.speed > top + 1e-9:
                found.append(
                    Refusal(
                        ("use", "band", position, "speed"),
                        f"{band.speed:g}",
                        f"at most {top:g}, the last fuel point of {engine.name!r}",
                    )
                )
        return found

    def _read_out_refusals(self, index: int) -> list[Refusal]:
        engine, read_out = self.engines[index], self.use.read_out
        if read_out is None:
            return []
        top = engine.fuel.top_speed * read_out.rated_speed
        return [
            Refusal(
                ("use", "read_out"),
                f"{hours:g} h at {low:g} to {high:g} rev/min",
                f"at most 5 % above the last fuel point of {engine.name!r}, {top:g} rev/min",
            )
            for low, high, hours in read_out.bins
            if hours > 0 and 0.5 * (low + high) > top * SPEED_OVER
        ]

    def engine(self, name: str) -> Engine:
        """
        The engine of that name.

        Raises
        ------
        KeyError
            If the scenario has none of that name.
        """
        for engine in self.engines:
            if engine.name == name:
                return engine
        raise KeyError(name)

    def engines_on_the_boat(self, engine: Engine) -> int:
        """How many of that engine the boat carries."""
        return engine.per_boat or self.use.per_boat

    def cover_terms(self, engine: Engine) -> Cover | None:
        """The written warranty that applies to this use, None where there is none or servicing forfeits it."""
        kept = self.servicing is Servicing.KEPT or (self.servicing is Servicing.OWN and self.own_service_keeps_cover)
        if engine.warranty is None or not kept:
            return None
        return engine.warranty.commercial if self.use.kind is UseKind.COMMERCIAL else engine.warranty

    def hours(self) -> tuple[float, ...]:
        """Stated running hours of each begun year. [h/year]"""
        if self.use.hours_by_year is not None:
            return self.use.hours_by_year
        assert self.use.hours_per_year is not None
        return (self.use.hours_per_year,) * self.ownership.begun_years

    def mean_hours(self) -> float:
        """Stated hours a year over the ownership period, a part-year counted by its part. [h/year]"""
        years = self.ownership.years
        run = sum(hours * min(1.0, years - year) for year, hours in enumerate(self.hours()))
        return run / years

    def changed(self, changes: Mapping[tuple[str | int, ...], Any]) -> "Scenario":
        """
        A copy with single values changed; the scenario itself stays.

        For the model's own searches and sweeps, whose values are sound by construction: nothing is checked again.
        What a user typed goes through `model.inputs.reading`.

        Parameters
        ----------
        changes : mapping of path to value
            Paths by key and position, `("engines", 0, "price")`; values in house units.

        Returns
        -------
        Scenario

        Raises
        ------
        KeyError
            If a path names no field.
        """
        copy: Any = self
        for path, value in changes.items():
            copy = _with_value(copy, path, value)
        assert isinstance(copy, Scenario)
        return copy


def _with_value(table: Any, path: tuple[str | int, ...], value: Any) -> Any:
    """Copy of a table or tuple with the value at the path replaced."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(table, tuple):
        assert isinstance(step, int)
        return (*table[:step], _with_value(table[step], rest, value), *table[step + 1 :])
    if not isinstance(table, BaseModel) or step not in type(table).model_fields:
        raise KeyError(f"no {step!r} in {type(table).__name__}")
    return table.model_copy(update={step: _with_value(getattr(table, str(step)), rest, value)})
