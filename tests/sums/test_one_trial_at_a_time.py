"""The same model told as a story, one trial at a time, with a library for discrete events: the same figures.

Nothing of the sums is used but the scenario. `python -m tests.sums.test_one_trial_at_a_time` prints how much faster
the trials are.
"""

import math
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
import simpy

from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.uncertainty.summary import summarise
from model.uncertainty.trials import run_trials
from tests.tiny import FOUR_STROKE, two_engines

TRIALS = 3_000

PLAN = {
    "every": {"hours": 100.0, "months": 12.0},
    "visit_price": 30.0,
    "task": [{"name": "All", "every": {"hours": 100.0, "months": 12.0}, "labour": 1.0,
              "parts": [{"name": "Part", "price": 45.0}]}],
}  # fmt: skip
MODES = [
    {"name": "Wears", "clock": "hours", "scale": 700.0, "shape": 1.6, "parts_price": 400.0, "labour": 3.0,
     "days_lost": 2.0},
    {"name": "Exchanged", "clock": "years", "scale": 4.0, "shape": 2.0, "after": "as new", "parts_price": 250.0},
]  # fmt: skip
WARRANTY = {"months": 36.0, "hours": 250.0, "excess": 50.0}


def scenario() -> Scenario:
    """Two engines with a service plan, both kinds of repair, cover with an excess, and everything drawn."""
    table: dict[str, Any] = {"service": PLAN, "repair": MODES, "warranty": WARRANTY}
    return two_engines(
        two=table,
        four={**table, "resale": FOUR_STROKE["resale"]},
        ownership={"years": 6.0},
        use={"spread": {"shape": "lognormal", "variation": 0.6, "owner_share": 0.5}},
        money={"inflation": 0.02, "discount_rate": 0.05},
        downtime={"day_cost": 80.0},
        trials={"repairs": "drawn", "fuel_volatility": 0.2},
    )


@dataclass
class Owner:
    """One engine in one trial, as it happens; time in years."""

    world: simpy.Environment
    engine: Engine
    hours: list[float]
    fuel_level: list[float]
    chance: random.Random
    spent: float = 0.0
    visits: int = 0
    repairs: int = 0
    paid: int = 0

    def meter(self) -> float:
        """Hours run so far."""
        year = min(int(self.world.now), len(self.hours) - 1)
        return sum(self.hours[:year]) + self.hours[year] * (self.world.now - year)

    def pay(self, amount: float, growth: float = 0.02) -> None:
        """Pay something now, at prices grown since delivery."""
        self.spent += amount * (1.0 + growth) ** self.world.now / 1.05**self.world.now

    def runs(self) -> Iterator[simpy.Event]:
        """Burn fuel and oil, paid in the middle of each year."""
        flow = {"Two-stroke": 10.0, "Four-stroke": 7.0}[self.engine.name]
        yield self.world.timeout(0.5)
        for year, hours in enumerate(self.hours):
            litres = hours * flow
            self.pay(litres * 2.0 * self.fuel_level[year])
            if self.engine.oil is not None:
                self.pay(litres / 50.0 * 10.0)
            if year + 1 < len(self.hours):
                yield self.world.timeout(1.0)

    def goes_to_the_workshop(self) -> Iterator[simpy.Event]:
        """A visit every 100 h or 12 months."""
        while True:
            due = self.meter() + 100.0, self.world.now + 1.0
            while self.world.now < due[1] - 1e-9 and self.meter() < due[0] - 1e-9:
                rate = self.hours[min(int(self.world.now + 1e-12), len(self.hours) - 1)]
                by_hours = (due[0] - self.meter()) / rate
                end_of_year = math.floor(self.world.now + 1e-12) + 1.0 - self.world.now
                yield self.world.timeout(min(by_hours, due[1] - self.world.now, end_of_year))
            self.visits += 1
            self.pay(45.0 + 100.0 + 30.0)

    def wears_out(self) -> Iterator[simpy.Event]:
        """Minimal repair: the intensity goes on with the meter."""
        gathered = 0.0
        while True:
            gathered += self.chance.expovariate(1.0)
            at = 700.0 * gathered ** (1 / 1.6)
            while self.meter() < at - 1e-9:
                rate = self.hours[min(int(self.world.now + 1e-12), len(self.hours) - 1)]
                end_of_year = math.floor(self.world.now + 1e-12) + 1.0 - self.world.now
                yield self.world.timeout(min((at - self.meter()) / rate, end_of_year))
            self.breaks(400.0, 300.0, 2.0)

    def is_exchanged(self) -> Iterator[simpy.Event]:
        """A part that is new after each repair."""
        while True:
            yield self.world.timeout(self.chance.weibullvariate(4.0, 2.0))
            self.breaks(250.0, 0.0, 0.0)

    def breaks(self, parts: float, labour: float, days: float) -> None:
        """Pay a repair, or the excess while cover stands; and the days lost."""
        self.repairs += 1
        self.paid += 1  # with an excess there is always something left to pay
        if self.world.now <= 3.0 and self.meter() <= 250.0:
            self.spent += 50.0 / 1.05**self.world.now
        else:
            self.pay(parts + labour)
        self.pay(days * 80.0)


def one_trial(engines: tuple[Engine, ...], chance: random.Random) -> list[Owner]:
    """One owner's years with each engine, the same hours and fuel prices for all."""
    s, owner = math.sqrt(math.log1p(0.36)), chance.gauss(0.0, 1.0)
    mixed = [math.sqrt(0.5) * (owner + chance.gauss(0.0, 1.0)) for _ in range(6)]
    hours = [100.0 * math.exp(s * z - s**2 / 2) for z in mixed]
    walked, level = 0.0, []
    for year in range(6):
        walked += chance.gauss(0.0, 1.0) * math.sqrt(1.0 if year else 0.5)
        level.append(math.exp(0.2 * walked - 0.02 * (year + 0.5)))
    found = []
    for engine in engines:
        world = simpy.Environment()
        one = Owner(world, engine, hours, level, chance)
        for story in (one.runs, one.goes_to_the_workshop, one.wears_out, one.is_exchanged):
            world.process(story())
        world.run(until=6.0)
        one.spent += engine.price + 500.0 - 0.8**6 * engine.price * (1.02 / 1.05) ** 6
        found.append(one)
    return found


def told() -> list[list[Owner]]:
    """All trials, one at a time."""
    chance, engines = random.Random(17), scenario().engines
    return [one_trial(engines, chance) for _ in range(TRIALS)]


def estimate(values: list[float]) -> tuple[float, float]:
    """Mean and the variance of the mean."""
    mean = sum(values) / len(values)
    return mean, sum((value - mean) ** 2 for value in values) / (len(values) - 1) / len(values)


@pytest.mark.slow
def test_the_same_figures() -> None:
    summary, stories = summarise(run_trials(scenario(), 100_000)), told()

    for place, engine in enumerate(summary.engines):
        owners = [trial[place] for trial in stories]
        for ours, values in (
            (engine.cost.mean, [owner.spent for owner in owners]),
            (engine.visits_per_year, [owner.visits / 6.0 for owner in owners]),
            (engine.repairs, [float(owner.repairs) for owner in owners]),
            (engine.owner_paid_repairs, [float(owner.paid) for owner in owners]),
        ):
            mean, variance = estimate(values)
            assert ours.value == pytest.approx(mean, abs=4 * math.sqrt(variance + ours.standard_error**2))
        deviation = math.sqrt(estimate([owner.spent for owner in owners])[1] * TRIALS)
        assert engine.cost.standard_deviation == pytest.approx(deviation, rel=0.1)
    cheapest = [float(trial[1].spent < trial[0].spent) for trial in stories]
    mean, variance = estimate(cheapest)
    ours = summary.engines[1].chance_cheapest
    assert ours.value == pytest.approx(mean, abs=4 * math.sqrt(variance + ours.standard_error**2))


def seconds_of_a_trial() -> tuple[float, float]:
    """What a trial of both engines takes here, on one worker with the summary, and as a story. [s]"""
    made = scenario()
    run_trials(made, 4096)
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        summarise(run_trials(made, 100_000))
        taken.append((time.perf_counter() - start) / 100_000)
    start = time.perf_counter()
    told()
    return min(taken), (time.perf_counter() - start) / TRIALS


def main() -> None:
    """Print the ratio of speeds."""
    ours, theirs = (1e6 * taken for taken in seconds_of_a_trial())
    print(f"a trial of two engines: {ours:.1f} us here, {theirs:.0f} us as a story: {theirs / ours:.0f} times")


if __name__ == "__main__":
    main()
