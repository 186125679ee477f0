"""Questions about what running costs: service against oil, oil against oil, an hour."""

from dataclasses import replace
from typing import Annotated

from model.inputs.terms import Element
from model.language import later, say
from model.quantities import with_unit
from model.questions.amounts import a_year, an_hour, figures, money_a_year, money_an_hour
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import SERVICE, Choice, hours_input, turning, two
from model.questions.plans import task_called, tasks_of
from model.questions.saying import (
    SERVICE_CAUTION,
    Compared,
    compared,
    costs_less,
    costs_less_plainly,
    servicing_caution,
    stays_or_turns,
)
from model.wording import plain

SERVICE_AND_OIL = (Element.SERVICE_PARTS, Element.SERVICE_LABOUR, Element.TWO_STROKE_OIL)
OILS = (Element.TWO_STROKE_OIL, Element.SERVICE_PARTS, Element.SERVICE_LABOUR)
OUT_OF_POCKET = (
    Element.FUEL,
    Element.TWO_STROKE_OIL,
    Element.SERVICE_PARTS,
    Element.SERVICE_LABOUR,
    Element.REPAIRS,
)
"""What an hour costs besides the engine itself and the days lost."""

OIL_WORDS = ("engine oil", "crankcase", "aceite de motor", "aceite del motor", "cárter")
"""How the task of an oil change is called."""


def by_stroke(about: Asked) -> tuple[Choice, Choice]:
    """The four-stroke and the two-stroke of the pair as choices."""
    four, two_stroke = about.by_stroke
    return Choice(about.scenario, four, four), Choice(about.scenario, two_stroke, two_stroke)


@question("service-or-oil", later("Isn't a four-stroke dearer to service?"))
def service_or_oil(about: Asked) -> Answer:
    """Service parts and labour a year of a four-stroke against those of a two-stroke with its oil."""
    scenario = about.scenario
    four, other = by_stroke(about)
    if all(about.scenario.engine(choice.engine).service is None for choice in (four, other)):
        raise NotApplicableError(say("The file says nothing of servicing: add a [service] plan to the engines."))
    found = compared(about, four.only(SERVICE_AND_OIL), other.only(SERVICE_AND_OIL))
    apart = found.dearer.yearly() - found.cheaper.yearly()
    reasons = [
        say(
            "{engine}: {service} for service, {oil} for two-stroke oil.",
            engine=choice.label,
            service=money_a_year(choice.yearly(SERVICE), scenario),
            oil=money_a_year(choice.yearly((Element.TWO_STROKE_OIL,)), scenario),
        )
        for choice in (four, other)
    ]
    fuel = other.yearly((Element.FUEL,)) - four.yearly((Element.FUEL,))
    reasons.append(
        say(
            "Fuel is not in it: there {engine} burns {amount} less.",
            engine=(four if fuel >= 0.0 else other).label,
            amount=money_a_year(abs(fuel), scenario),
        )
    )
    amount = money_a_year(apart, scenario)
    return Answer(
        costs_less(say("In service and two-stroke oil"), found, amount),
        costs_less_plainly_in(found, amount),
        Figure(apart, a_year(scenario)),
        tuple(reasons),
        turning(hours_input(found.cheaper, found.dearer), stays_or_turns),
        found.chance,
        servicing_caution(scenario),
        four.rows(SERVICE_AND_OIL) + other.rows(SERVICE_AND_OIL),
    )


def costs_less_plainly_in(found: Compared, amount: str) -> str:
    """Which of two choices costs less in a part of the costs, as short as can be."""
    told = costs_less_plainly(found, amount)
    return say("{answer} That is this part of the costs alone.", answer=told)


def tasks_of_four(about: Asked) -> tuple[str, ...]:
    """Names of the service tasks of the four-stroke of the pair, where there is one."""
    names = [name for name in (about.engine, about.against) if name is not None]
    four = [name for name in names if not about.scenario.engine(name).technology.is_two_stroke]
    return tasks_of(replace(about, engine=four[0])) if four else ()


def _with_oil_changes_alone(choice: Choice, task: str | None) -> Choice:
    """The choice where of the service plan only oil changes and top-ups cost anything."""
    engine = choice.scenario.engine(choice.engine)
    found = task_called(engine, task, OIL_WORDS)
    if engine.service is None or (found is None and engine.service.top_up is None):
        names = ", ".join(one.name for one in engine.service.task) if engine.service else say("none")
        raise NotApplicableError(
            say(
                "No task of {engine} is known as the oil change: name it with --task. There are: {tasks}.",
                engine=choice.label,
                tasks=names,
            )
        )
    changes = {"task": (found,) if found else (), "visit_labour": 0.0, "visit_price": 0.0, "visit_days": 0.0}
    return choice.only(OILS).changed({("engine", "service", key): value for key, value in changes.items()})


@question("oil-against-oil", later("What does two-stroke oil come to, against oil changes?"))
def oil_against_oil(
    about: Asked,
    task: Annotated[
        str | None,
        Allowed(later("The service task that changes the oil; found by its name if none"), choices=tasks_of_four),
    ] = None,
) -> Answer:
    """Two-stroke oil a year against the four-stroke's oil changes and top-ups, their labour included."""
    scenario = about.scenario
    four, other = by_stroke(about)
    changed = _with_oil_changes_alone(four, task)
    burned = other.only((Element.TWO_STROKE_OIL,))
    found = compared(about, changed, burned)
    litres = float(other.cost.ownership.oil_litres.sum()) / scenario.ownership.years
    fuel = other.cost.fuel_litres / scenario.ownership.years
    reasons = (
        say(
            "{engine} burns {litres} of oil a year with {fuel} of fuel: {amount}.",
            engine=other.label,
            litres=with_unit(litres, "L", figures),
            fuel=with_unit(fuel, "L", figures),
            amount=money_a_year(burned.yearly(), scenario),
        ),
        say(
            "{engine} takes {parts} in oil and filters and {labour} in labour, top-ups included.",
            engine=four.label,
            parts=money_a_year(changed.yearly((Element.SERVICE_PARTS,)), scenario),
            labour=money_a_year(changed.yearly((Element.SERVICE_LABOUR,)), scenario),
        ),
    )
    apart = found.dearer.yearly() - found.cheaper.yearly()
    amount = money_a_year(apart, scenario)
    return Answer(
        costs_less(say("In oil"), found, amount),
        costs_less_plainly_in(found, amount),
        Figure(apart, a_year(scenario)),
        reasons,
        turning(hours_input(found.cheaper, found.dearer), stays_or_turns),
        found.chance,
        say(SERVICE_CAUTION),
        changed.rows(OILS) + burned.rows(OILS),
    )


@question("cost-of-an-hour", later("What does each hour cost me?"))
def cost_of_an_hour(about: Asked) -> Answer:
    """What an hour run costs in all, and what of it is paid out of pocket."""
    scenario = about.scenario
    mine = Choice(scenario, about.engine, about.engine)
    hourly, mean = mine.cost.cost_per_hour, scenario.mean_hours()
    if hourly is None:
        raise NotApplicableError(say("No hours are run, so there is no cost of an hour: set use.hours_per_year."))
    pocket = mine.yearly(OUT_OF_POCKET) / mean
    fuel = mine.yearly((Element.FUEL, Element.TWO_STROKE_OIL)) / mean
    reasons = [
        say(
            "Of it {pocket} goes on fuel, oil, service and repairs, {fuel} of that on fuel and two-stroke oil.",
            pocket=money_an_hour(pocket, scenario),
            fuel=money_an_hour(fuel, scenario),
        ),
        say(
            "The rest, {rest}, is mostly the engine itself: what it loses in value does not wait for hours.",
            rest=money_an_hour(hourly - pocket, scenario),
        ),
    ]
    found = None
    if about.against is not None:
        found = compared(about, *two(about))
        other = Choice(scenario, about.against, about.against)
        reasons.append(
            say(
                "{engine}: {amount}.",
                engine=other.label,
                amount=money_an_hour(other.cost.cost_per_hour or 0.0, scenario),
            )
        )
    told = money_an_hour(hourly, scenario)
    return Answer(
        say(
            "At {hours} h a year {engine} costs {amount}.",
            hours=plain(round(mean, 1)),
            engine=mine.label,
            amount=told,
        ),
        say("Going out costs you some {amount}, the engine itself included.", amount=told),
        Figure(hourly, an_hour(scenario)),
        tuple(reasons),
        None if found is None else turning(hours_input(found.cheaper, found.dearer), stays_or_turns),
        None if found is None else found.chance,
        servicing_caution(scenario),
        mine.rows(tuple(Element)),
    )
