"""The question of standard or long-life spark plugs."""

from typing import Annotated

from model.inputs.plan import Interval, Task
from model.language import later, say
from model.questions.amounts import figures, money
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import SERVICE, Choice, over_values, turning
from model.questions.plans import kept, require_task
from model.questions.saying import (
    SERVICE_CAUTION,
    Compared,
    capital,
    compared,
    costs_less,
    costs_less_plainly,
    period,
    stays_or_turns,
)
from model.uncertainty.searchable import Input

PLUG_WORDS = ("spark plug", "plugs", "bujía", "bujia")
"""How the task of the spark plugs is called."""

LONG_LIFE = 300.0
"""Plugs that stay in for as many hours or more are the long-life kind. [h]"""

MOST_TIMES = 20.0
"""How many times the plan's price of a plug is looked at. [-]"""

STANDARD_HOURS, LONG_LIFE_HOURS = 100.0, 400.0
"""Intervals of standard and of iridium plugs; common practice of the trade. [h]"""


@question("long-life-plugs", later("Standard or long-life spark plugs?"))
def long_life_plugs(
    about: Asked,
    price: Annotated[
        float | None,
        Allowed(later("Price of one plug of the other kind; none: what it may cost at most"), 0.0, 10_000.0),
    ] = None,
    interval: Annotated[
        float | None,
        Allowed(
            later("Hours that the other kind stays in; standard 100, long-life 400 if none"), 1.0, 10_000.0, later("h")
        ),
    ] = None,
) -> Answer:
    """The plugs of the plan against the other kind, with their parts and labour."""
    scenario, mine = about.scenario, kept(about, "").only(SERVICE)
    task, base = _plug_task(mine)
    assert task.every is not None
    assert task.every.hours is not None
    now = task.every.hours
    usual = STANDARD_HOURS if now >= LONG_LIFE else LONG_LIFE_HOURS
    other_hours = max(usual if interval is None else interval, base)
    fitted = _plugs(mine, task, now, task.parts[0].price)

    def at(value: float) -> tuple[Choice, Choice]:
        return fitted, _plugs(mine, task, other_hours, value)

    today = task.parts[0].price if price is None else price
    name = say("Price of a plug for {hours} h", hours=figures(other_hours))
    flip = turning(
        Input(name, scenario.currency, today, (0.0, MOST_TIMES * max(today, 1.0)), over_values(at)), stays_or_turns
    )
    reasons = tuple(
        say(
            "{choice}: {price} each, {total} with labour over the period.",
            choice=capital(choice.label),
            price=money(each, scenario),
            total=money(choice.total, scenario),
        )
        for choice, each in zip(at(today), (task.parts[0].price, today), strict=True)
    )
    found = compared(about, *at(0.0 if price is None and flip.value is None else today))
    sentence, plainly, figure = _plugs_told(found, fitted, at(0.0)[1], flip.value if price is None else price)
    if price is not None:
        amount = money(found.difference, scenario)
        sentence, plainly = costs_less(period(scenario), found, amount), costs_less_plainly(found, amount)
        figure = Figure(found.difference, scenario.currency)
    return Answer(
        sentence,
        plainly,
        figure,
        reasons,
        flip,
        found.chance if price is not None else None,
        say(SERVICE_CAUTION),
        found.cheaper.rows(SERVICE) + found.dearer.rows(SERVICE),
    )


def _plug_task(choice: Choice) -> tuple[Task, float]:
    """The task of the spark plugs, which has parts and hours, and the base interval of its plan. [-, h]"""
    engine = choice.alone.engines[0]
    task, plan = require_task(engine, None, PLUG_WORDS), engine.service
    if plan is None or plan.every.hours is None or task.every is None or task.every.hours is None or not task.parts:
        raise NotApplicableError(
            say(
                "{task} has no interval in hours or no parts with a price: state both to compare plugs.", task=task.name
            )
        )
    return task, plan.every.hours


def _plugs_told(found: Compared, fitted: Choice, other: Choice, most: float | None) -> tuple[str, str, Figure]:
    """What the other kind of plugs may cost at most, and the same in short; None where no price turns the answer."""
    scenario = fitted.scenario
    unit = say("{currency} a plug", currency=scenario.currency)
    words = {"one": fitted.label, "other": capital(other.label)}
    if most is not None:
        told = f"{figures(most)} {unit}"
        return (
            say("{other} costs no more than {one} if a plug is had for {amount} or less.", amount=told, **words),
            say("{other} pays at {amount} or less.", amount=told, **words),
            Figure(most, unit),
        )
    amount, figure = money(found.difference, scenario), Figure(found.difference, scenario.currency)
    if found.cheaper.label == fitted.label:
        return (
            say("{other} costs {amount} more than {one} even with plugs for nothing.", amount=amount, **words),
            say("{other} never pays: {amount} more, even with plugs for nothing.", amount=amount, **words),
            figure,
        )
    return (
        say(
            "{other} costs {amount} less than {one}, and still less with plugs twenty times the price.",
            amount=amount,
            **words,
        ),
        say("{other} pays: {amount} less or more.", amount=amount, **words),
        figure,
    )


def _plugs(choice: Choice, task: Task, hours: float, price: float) -> Choice:
    """The choice where of the plan only the plugs cost anything: renewed at so many hours, at that price each."""
    first = task.parts[0].model_copy(update={"price": price})
    changes = {"every": Interval(hours=hours), "parts": (first, *task.parts[1:])}
    changed = task.model_copy(update=changes)
    plan = {"task": (changed,), "visit_labour": 0.0, "visit_price": 0.0, "visit_days": 0.0, "top_up": None}
    label = say("changing plugs every {hours} h", hours=figures(hours))
    return choice.changed({("engine", "service", key): value for key, value in plan.items()}, label)
