"""What questions about a service plan share: servicing kept, a task by its name, and how another way is told."""

from model.inputs.engine import Engine
from model.inputs.plan import Task
from model.inputs.terms import Element, Payer, Servicing
from model.language import later, say
from model.questions.amounts import money
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Asked
from model.questions.choosing import BREAKDOWNS, SERVICE, Choice, turning
from model.questions.saying import Compared, stays_or_turns
from model.uncertainty.searchable import Input

LABOUR = later("Labour rate")


def kept(about: Asked, label: str) -> Choice:
    """The engine asked about with its servicing kept by a workshop."""
    choice = Choice(about.scenario, about.engine, label).changed({("servicing",): Servicing.KEPT})
    if choice.scenario.engines[0].service is None:
        raise NotApplicableError(
            say("The file says nothing of servicing {engine}: add a [service] plan to it.", engine=about.engine)
        )
    return choice


def told(found: Compared, words: tuple[str, str], reasons: tuple[str, ...], searched: Input, caution: str) -> Answer:
    """The answer to what another way of servicing costs."""
    elements = SERVICE | {Element.REPAIRS, Element.WARRANTY_COVER, Element.RESALE}
    return Answer(
        *words,
        Figure(found.difference, found.cheaper.scenario.currency),
        reasons,
        turning(searched, stays_or_turns),
        found.chance,
        caution,
        found.cheaper.rows(elements, tuple(Payer)) + found.dearer.rows(elements, tuple(Payer)),
    )


def what_changes(kept_up: Choice, other: Choice) -> tuple[str, ...]:
    """Service saved, repairs and cover changed, and the sale, when servicing is another."""
    scenario = kept_up.scenario

    def apart(*elements: Element) -> float:
        return sum(
            other.cost.elements[one].present_value - kept_up.cost.elements[one].present_value for one in elements
        )

    breakdowns = [sum(choice.cost.elements[one].present_value for one in BREAKDOWNS) for choice in (kept_up, other)]
    return (
        say("Service saved: {amount}.", amount=money(-apart(*SERVICE), scenario)),
        say(
            "Repairs and lost days paid by you: from {before} to {after}; the warranty pays {paid} less.",
            before=money(breakdowns[0], scenario),
            after=money(breakdowns[1], scenario),
            paid=money(
                kept_up.cost.paid_by_warranty.present_value - other.cost.paid_by_warranty.present_value, scenario
            ),
        ),
        say("Got less at the sale: {amount}.", amount=money(apart(Element.RESALE), scenario)),
    )


def tasks_of(about: Asked) -> tuple[str, ...]:
    """Names of the service tasks of the engine asked about."""
    plan = about.scenario.engine(about.engine).service
    return tuple(task.name for task in plan.task) if plan else ()


def task_called(engine: Engine, task: str | None, words: tuple[str, ...]) -> Task | None:
    """The task of a plan that is named, or else the first whose name holds one of some words."""
    tasks = engine.service.task if engine.service else ()
    if task is not None:
        return next((one for one in tasks if one.name == task), None)
    return next((one for one in tasks if any(word in one.name.lower() for word in words)), None)


def require_task(engine: Engine, task: str | None, words: tuple[str, ...]) -> Task:
    """The same; the question does not apply where there is none."""
    found = task_called(engine, task, words)
    if found is None:
        names = ", ".join(one.name for one in engine.service.task) if engine.service else ""
        raise NotApplicableError(
            say(
                "No such task is known in the plan of {engine}: name it with --task. There are: {tasks}.",
                engine=engine.name,
                tasks=names or say("none"),
            )
        )
    return found
