"""Questions about neglect: servicing skipped, a part never renewed."""

from typing import Annotated

from model.elements.repairs import neglected_scale
from model.inputs.engine import Engine, FailureMode
from model.inputs.owner import Neglect
from model.inputs.plan import Task
from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Servicing
from model.language import later, say
from model.questions.amounts import TIMES, money
from model.questions.answer import Answer, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import BREAKDOWNS, SERVICE, Choice, over_values
from model.questions.plans import kept, require_task, tasks_of, told, what_changes
from model.questions.saying import SERVICE_CAUTION, Compared, Verdict, compared, period
from model.uncertainty.searchable import Input
from model.wording import IMPELLER_CAUTION, SKIPPED_SERVICE_CAUTION

IMPELLER_WORDS = ("impeller", "water pump", "rodete", "bomba de agua")
"""How the task that renews the impeller is called."""

OF_NEGLECT = SERVICE | BREAKDOWNS | {Element.RESALE}
"""What neglect changes."""

MOST_FACTOR = 20.0
"""How far factors on repairs are looked at. [-]"""


def _require_factors(scenario: Scenario, engine: Engine) -> None:
    """What skipped servicing does must be stated, never guessed here."""
    if scenario.neglect is None:
        raise NotApplicableError(
            say(
                "The file does not say what skipped servicing does: add [neglect] with resale_factor and repair_factor "
                "(1 says no effect)."
            )
        )
    silent = [mode.name for mode in engine.repair if mode.neglect_factor is None]
    if scenario.neglect.repair_factor is None and silent:
        raise NotApplicableError(
            say(
                "The file does not say how skipped servicing raises repairs: add neglect.repair_factor, or a "
                "neglect_factor to each of {modes}.",
                modes=", ".join(silent),
            )
        )


def _neglecting(found: Compared, neglected: Choice) -> tuple[str, str]:
    """What neglect comes to by the file's own assumptions, and the same in short: never a piece of advice."""
    scenario = found.cheaper.scenario
    words = {"period": period(scenario), "amount": money(found.difference, scenario), "choice": neglected.label}
    if found.verdict is not Verdict.APART:
        return (
            say("{period} {choice} comes to about the same money, {amount} apart, by the file's guesses.", **words),
            say("No saving to rely on: about the same money, {amount} apart, and more that can go wrong.", **words),
        )
    if found.cheaper.label == neglected.label:
        return (
            say(
                "{period} {choice} comes out {amount} cheaper, but only if the file's guesses at neglect hold.",
                **words,
            ),
            say(
                "On paper it saves some {amount}. Do not count on it: a neglected engine can fail for good, far out.",
                **words,
            ),
        )
    return (
        say(
            "{period} {choice} costs {amount} more than keeping to the plan, by the file's guesses at neglect.", **words
        ),
        say("It does not even pay: some {amount} more in repairs, cover lost and value at the sale.", **words),
    )


@question("skip-servicing", later("What if I skip the servicing?"))
def skip_servicing(about: Asked) -> Answer:
    """Servicing skipped against servicing kept, by the factors that the file states."""
    scenario = about.scenario
    keeping = kept(about, say("keeping up the service"))
    _require_factors(scenario, keeping.scenario.engines[0])
    assert scenario.neglect is not None

    def at(factor: float | None) -> tuple[Choice, Choice]:
        changes: dict[tuple[str | int, ...], object] = {("servicing",): Servicing.SKIPPED}
        if factor is not None:
            changes[("neglect", "repair_factor")] = factor
        return keeping, keeping.changed(changes, say("skipping the service"))

    today = 1.0 if scenario.neglect.repair_factor is None else scenario.neglect.repair_factor
    span = (0.0, max(MOST_FACTOR, today))
    searched = Input(later("Repairs from skipping"), TIMES, today, span, over_values(at))
    caution = f"{say(SKIPPED_SERVICE_CAUTION)} {say(SERVICE_CAUTION)} {say(IMPELLER_CAUTION)}"
    found = compared(about, *(choice.only(OF_NEGLECT) for choice in at(None)))
    neglected = found.cheaper if found.cheaper.scenario.servicing is Servicing.SKIPPED else found.dearer
    return told(found, _neglecting(found, neglected), what_changes(*at(None)), searched, caution)


@question("never-renew", later("What if I never renew the impeller?"))
def never_renew(
    about: Asked,
    task: Annotated[
        str | None,
        Allowed(
            later("The service task that is left out; the impeller's, found by its name, if none"), choices=tasks_of
        ),
    ] = None,
) -> Answer:
    """One service task left out for good: what it saves, and what the failures it prevents then cost."""
    keeping = kept(about, say("doing it as the plan says"))
    engine = keeping.scenario.engines[0]
    left_out = require_task(engine, task, IMPELLER_WORDS)
    modes = [mode for mode in engine.repair if mode.prevented_by == left_out.name and mode.neglect_factor is not None]
    if not modes:
        raise NotApplicableError(
            say(
                "The file does not say what leaving out {task} does: add prevented_by and neglect_factor to the "
                "failure modes that it prevents.",
                task=left_out.name,
            )
        )

    def at(factor: float | None) -> tuple[Choice, Choice]:
        return keeping, _without(keeping, left_out, factor)

    without = _without(keeping, left_out, None)
    found = compared(about, keeping.only(OF_NEGLECT), without.only(OF_NEGLECT))
    today = max(mode.neglect_factor or 1.0 for mode in modes)
    searched = Input(
        later("Failures from leaving it out"), TIMES, today, (0.0, max(MOST_FACTOR, today)), over_values(at)
    )
    caution = f"{say(IMPELLER_CAUTION)} {say(SKIPPED_SERVICE_CAUTION)} {say(SERVICE_CAUTION)}"
    named = say(
        "Left out: {task}; it prevents {modes}.", task=left_out.name, modes=", ".join(one.name for one in modes)
    )
    return told(found, _neglecting(found, without), (named, *what_changes(keeping, without)), searched, caution)


def _without(keeping: Choice, task: Task, factor: float | None) -> Choice:
    """The choice without one task: what it prevents fails more often, and the written warranty lapses."""
    engine = keeping.scenario.engines[0]
    assert engine.service is not None
    return keeping.changed(
        {
            ("engine", "service", "task"): tuple(one for one in engine.service.task if one.name != task.name),
            ("engine", "repair"): tuple(_neglected(mode, task, factor) for mode in engine.repair),
            ("engine", "warranty"): None,
        },
        say("leaving it out for good"),
    )


def _neglected(mode: FailureMode, task: Task, factor: float | None) -> FailureMode:
    """A failure mode whose preventing task is left out; others as they are."""
    if mode.prevented_by != task.name or mode.neglect_factor is None:
        return mode
    stated = mode if factor is None else mode.model_copy(update={"neglect_factor": factor})
    scale = neglected_scale(stated, Neglect(resale_factor=1.0))
    return mode.model_copy(update={"scale": scale})
