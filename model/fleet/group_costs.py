"""What the policies need to know of a group of units, each table worked out for all of them at once."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from model.fleet.best_plan import Onward, StayCosts, onward
from model.fleet.cash import Cases, Schedule, owned, stated_rows
from model.fleet.economic_life import best_ages
from model.fleet.fleet_file import FleetFile
from model.fleet.register import Unit
from model.fleet.stay_tables import candidates_of, stay_tables
from model.fleet.stays import Stay
from model.levels import Levels
from model.ownership import resale_value
from model.usage import meter_at

Amounts = NDArray[np.float64]


@dataclass
class GroupCosts:
    """Costs and ages of a group of units at their mean hours, worked out when they are first asked for."""

    file: FleetFile
    """The fleet file."""
    units: Sequence[Unit]
    """The units of the group."""
    cases: Cases = field(init=False)
    """Cases made ready for the whole group."""
    tables: list[StayCosts] | None = None
    """Costs of every stay of every unit; handed in where other processes have worked them out."""
    _lives: dict[tuple[str, int], dict[float, float | None]] = field(default_factory=dict)
    _onward: dict[int, Onward] = field(default_factory=dict)
    _candidates: dict[str, tuple[str, ...]] = field(default_factory=dict)
    _repair_shares: dict[tuple[int, float, str, int], Amounts] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Begin without any case."""
        self.cases = Cases(self.file)

    @property
    def horizon(self) -> int:
        """Budget years. [year]"""
        return self.file.fleet.horizon

    def candidates(self, place: int) -> tuple[str, ...]:
        """Names of the engines that may replace a unit's."""
        engine = self.units[place].engine
        if engine not in self._candidates:
            self._candidates[engine] = candidates_of(self.file, engine)
        return self._candidates[engine]

    def stay_costs(self, place: int) -> StayCosts:
        """Present value of every stay that a unit may have, its candidates in their order."""
        if self.tables is None:
            self.tables = stay_tables(self.file, self.units)
        return self.tables[place]

    def onward(self, place: int) -> Onward:
        """The lowest cost of a unit from each year on, when a new engine is bought then."""
        if place not in self._onward:
            self._onward[place] = onward(self.stay_costs(place).new)
        return self._onward[place]

    def cost_of(self, place: int, schedule: Schedule) -> float:
        """Present value of a unit's schedule, what its engines are worth at the horizon taken off. [money]"""
        table, candidates = self.stay_costs(place), self.candidates(place)
        first = schedule[0].years if schedule[0].is_held else 0
        bought = [stay for stay in schedule if not stay.is_held]
        new = sum(table.new[candidates.index(stay.engine), stay.begin, stay.years] for stay in bought)
        return float(table.held[first] + new)

    def economic_life(self, place: int, engine: str) -> float | None:
        """Best replacement age of an engine at a unit's hours; None where cost goes on falling. [year]"""
        unit = self.units[place]
        key = (engine, unit.count)
        if key not in self._lives:
            hours = sorted({one.hours_per_year for one in self.units if one.count == unit.count})
            new = self.file.engine(engine).model_copy(update={"start": None, "per_boat": unit.count})
            best = best_ages(self.file, new, hours, Levels(resale=self.file.fleet.trade_in))
            self._lives[key] = dict(zip(hours, best, strict=True))
        return self._lives[key][unit.hours_per_year]

    def age(self, place: int, stay: Stay, year: int) -> float:
        """Age of a stay's engine at the start of a budget year. [year]"""
        return float(year - stay.begin) + (self.units[place].age if stay.is_held else 0.0)

    def meter(self, place: int, stay: Stay, year: int) -> float:
        """Meter of a stay's engine at the start of a budget year, at the unit's mean hours. [h]"""
        unit = self.units[place]
        return (year - stay.begin) * unit.hours_per_year + (unit.meter_hours if stay.is_held else 0.0)

    def one_repair_share(self, place: int, stay: Stay, year: int) -> float:
        """
        What one repair expected in a budget year would cost, over the value of the engine at its start.

        Parameters
        ----------
        place : int
            Of the unit in the group.
        stay : Stay
            The engine that is there.
        year : int
            Budget year, from 0. [year]

        Returns
        -------
        float
            The mean of the year's expected repairs, the owner's part of parts, labour and charges, for one engine;
            infinite where the engine is worth nothing. [-]
        """
        unit = self.units[place]
        # A new engine's share is the same for every unit that runs as much.
        key = (place, 0.0, "", 0) if stay.is_held else (unit.count, unit.hours_per_year, stay.engine, stay.begin)
        if key not in self._repair_shares:
            self._repair_shares[key] = self._repair_shares_of(unit, stay)
        return float(self._repair_shares[key][year - stay.begin])

    def _repair_shares_of(self, unit: Unit, stay: Stay) -> Amounts:
        """The same for every year that the engine may be there, shape (year,). [-]"""
        stay = Stay(stay.engine, stay.begin, self.horizon - stay.begin, stay.is_held)
        rows = stated_rows(unit, self.horizon)
        case, repairs = self.cases.of(unit, stay), owned(self.cases, unit, stay, rows).repairs
        failures = repairs.failures.sum(axis=0)
        one = np.divide(repairs.owner.sum(axis=0), failures, out=np.zeros_like(failures), where=failures > 0.0)
        t = np.arange(stay.years, dtype=float)
        value = resale_value(case, t, meter_at(t, rows.hours[stay.begin :], case.years, case.start[0])) / case.count
        return np.asarray(np.divide(one, value, out=np.where(one > 0.0, np.inf, 0.0), where=value > 0.0))
