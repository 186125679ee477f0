"""What the command line shows of economic lives: sentences, tables and notes."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from model import wording
from model.fleet.lives_told import best_at_hours, best_told, span_told
from model.inputs.terms import Clock
from model.language import later, say
from model.telling_out import print_notes, screen
from model.telling_tables import table_of

if TYPE_CHECKING:
    from model.fleet.economic_life import BestMeter
    from model.fleet.life_reports import EngineLife
    from model.inputs.reading import Reading

LEAST_SAVED = 1.0
"""Per cent that a planned renewal must save to be worth a sentence."""

BEST_TITLES = {
    "engine": later("Engine"),
    "hours": later("Hours a year"),
    "best": later("Best age"),
    "span": later("At most 2 % more"),
    "cost": later("Cost a year"),
    "meter": later("Best meter reading, h"),
    "hour": later("Cost an hour then"),
}
"""Titles of the best age and meter reading of each engine."""


def life_tables(title: str, currency: str, lives: Sequence["EngineLife"], lines: Sequence[str]) -> None:
    """Economic lives: a sentence for each engine, tables by age, by meter and by hours a year, and notes."""
    console = screen()
    for one in lives:
        console.print(best_in_words(one, currency), markup=False)
    named = say(
        "Best age and best meter reading, {currency}; the reading is looked for between whole years too, on mean hours",
        currency=currency,
    )
    best = [
        {
            "engine": one.name,
            "hours": wording.plain(round(one.hours, 1)),
            "best": best_told(one.told),
            "span": span_told(one.told),
            "meter": None if one.best_meter is None else one.best_meter.meter_hours,
            "cost": min(one.told.costs),
            "hour": "" if one.best_meter is None else wording.cents(one.best_meter.cost_per_hour),
        }
        for one in lives
    ]
    console.print(table_of(named, BEST_TITLES, best, ("hours", "hour")))
    if any(one.standard_errors for one in lives):
        console.print(_errors_told(lives, currency), markup=False)
    by_age = [
        {"age": wording.plain(age)} | {one.name: _cost_and_meter(one, place) for one in lives}
        for place, age in enumerate(lives[0].told.ages)
    ]
    columns = {"age": later("Age, years")} | {one.name: one.name for one in lives}
    named = say(
        "{title}: {currency} a year, in delivery-day money, by replacement age and the meter then; * within 2 % of the "
        "lowest",
        title=title,
        currency=currency,
    )
    console.print(table_of(named, columns, by_age, tuple(columns)))
    hours = [{"engine": one.name} | _by_hours(one) for one in lives]
    factors = {f"x{place}": "" for place in range(len(lives[0].by_hours))}
    console.print(table_of(say("Best age at other hours a year"), {"engine": later("Engine")} | factors, hours))
    for line in renewal_lines(lives):
        console.print(line, markup=False)
    print_notes(console, lines)


def best_in_words(one: "EngineLife", currency: str) -> str:
    """The best age of one engine, its meter then, its cost, and the ages about as good, in a sentence."""
    known = {
        "engine": one.name,
        "hours": wording.plain(round(one.hours, 1)),
        "years": best_told(one.told),
        "least": wording.whole(min(one.told.costs)),
        "currency": currency,
        "span": span_told(one.told),
    }
    meter = None if one.best_meter is None else wording.whole(one.best_meter.meter_hours)
    if meter is not None and meter == wording.whole(one.told.best_age * one.hours) and one.by_trials is None:
        return say(
            "{engine}, {hours} h a year: best replaced after {years}, by the meter at {meter} h, for {least} "
            "{currency} a year; {span} within 2 %.",
            **known,
            meter=meter,
        )
    by_age = say(
        "{engine}, {hours} h a year: best replaced after {years} for {least} {currency} a year; {span} within 2 %.",
        **known,
    )
    return by_age if one.best_meter is None else f"{by_age} {_by_the_meter(one, one.best_meter, currency)}"


def _by_the_meter(one: "EngineLife", best: "BestMeter", currency: str) -> str:
    """The best reading of the meter with its own age and cost, in a sentence: it may fall between whole years."""
    return say(
        "By the meter, on mean hours and between whole years too, best at {meter} h: after {years} "
        "{years:year|years}, for {least} {currency} a year.",
        meter=wording.whole(best.meter_hours),
        years=wording.one_decimal(best.meter_hours / one.hours),
        least=wording.whole(best.cost_per_hour * one.hours),
        currency=currency,
    )


def _errors_told(lives: Sequence["EngineLife"], currency: str) -> str:
    """How sure the costs over trials are: the largest standard error of any age."""
    most = max(max(one.standard_errors) for one in lives)
    return say(
        "Costs are means over trials, with a standard error of at most {error} {currency} a year; every age has the "
        "same trials, so that ages differ more surely than that.",
        error=wording.whole(most),
        currency=currency,
    )


def _cost_and_meter(one: "EngineLife", place: int) -> str:
    """Cell of an age: cost a year, whether it is about the lowest, and the meter reading then."""
    life = one.told
    low, high = life.about_as_good
    mark = "*" if low <= life.ages[place] <= high else " "
    meter = say("{hours} h", hours=wording.whole(life.ages[place] * one.hours))
    return f"{wording.whole(life.costs[place])}{mark} {meter:>9}"


def _by_hours(one: "EngineLife") -> dict[str, str]:
    """Cells of the best ages at other hours a year."""
    return {
        f"x{place}": best_at_hours(one.life, wording.whole(hour), age) for place, (hour, age) in enumerate(one.by_hours)
    }


def renewal_lines(lives: Sequence["EngineLife"]) -> list[str]:
    """Parts worth renewing ahead of their failure, a sentence each."""
    told = []
    for one in lives:
        for mode, renewal in one.renewals.items():
            saved = 100.0 * (1.0 - renewal.cost_rate / renewal.cost_rate_waiting)
            if renewal.age is not None and saved >= LEAST_SAVED:
                told.append(
                    say(
                        "{engine}, {mode}: renewed ahead of failure at {age} it costs {saved} % less than waiting, "
                        "without cover.",
                        engine=one.name,
                        mode=mode,
                        age=_renewal_age(renewal.clock, renewal.age),
                        saved=wording.whole(saved),
                    )
                )
    return told


def _renewal_age(clock: Clock, age: float) -> str:
    """The age of a part on its own clock."""
    if clock is Clock.HOURS:
        return say("{hours} h", hours=wording.whole(age))
    return wording.period(round(age, 1))


def scenario_notes(reading: "Reading") -> list[str]:
    """Notes under the economic lives of a scenario's engines."""
    return [*reading.warnings, *map(say, wording.CAUTIONS)]
