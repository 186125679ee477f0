"""What the pages ask of the counter: a question, its arguments, the two engines; the answer kept."""

import json
from dataclasses import dataclass, replace
from typing import Any

from dashboard.form import number_typed
from dashboard.keeping import kept
from dashboard.scenarios import scenario_of
from dashboard.work import Work
from model import counter
from model.counter import Answer, Asked, Question
from model.language import later, say
from model.questions.asking import QUESTIONS, Argument

MARK = "asked:"
"""How the key of an answer's rows begins."""

YES, NO = "yes", "no"
"""Values of a choice between the two."""

LONGEST = 200
"""Characters of a text argument."""

OUT_OF_RANGE = later("Allowed: {low} to {high} {unit}.")
FROM_LEAST = later("Allowed: {low} or more {unit}.")
A_NUMBER = later("A number is needed.")


@dataclass(frozen=True)
class Asking:
    """One question as it is asked."""

    question: str
    """Its short name."""
    arguments: tuple[tuple[str, Any], ...] = ()
    """What it is asked with, by name; what is not in it is taken as the question has it."""
    engine: str | None = None
    """The engine asked about; the cheapest where none is named."""
    against: str | None = None
    """The one it is held against."""

    @property
    def key(self) -> str:
        """The same as one short text, for the drawer of rows."""
        parts = [self.question, dict(self.arguments), self.engine, self.against]
        return MARK + json.dumps(parts, ensure_ascii=False)


def asking_of(key: object) -> Asking | None:
    """
    The question that a key means.

    Parameters
    ----------
    key : Any
        What the browser sent.

    Returns
    -------
    Asking or None
        None where it is no key, or names no question.
    """
    if not isinstance(key, str) or not key.startswith(MARK) or len(key) > 2000:
        return None
    try:
        question, arguments, engine, against = json.loads(key[len(MARK) :])
        return asking(question, {str(name): value for name, value in arguments.items()}, (engine, against))[0]
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return None


def asking(question: str, typed: dict[str, Any], engines: tuple[object, object]) -> tuple[Asking, list[str]]:
    """
    A question as it is asked, from what was typed.

    Parameters
    ----------
    question : str
        Its short name.
    typed : dict of str to Any
        By argument; what is empty is left to the question.
    engines : (Any, Any)
        The engine asked about and the one it is held against, as chosen; nothing where none is.

    Returns
    -------
    (Asking, list of str)
        What is sound, and what is wrong with the rest, a sentence each.

    Raises
    ------
    KeyError
        If there is no such question.
    """
    known = QUESTIONS[question]
    found: list[tuple[str, Any]] = []
    wrong: list[str] = []
    for argument in known.arguments:
        raw = typed.get(argument.name)
        if raw is None or raw == "":
            continue
        value, problem = value_typed(argument, raw)
        if problem:
            wrong.append(f"{say(argument.allowed.help)}. {problem}")
        else:
            found.append((argument.name, value))
    engine, against = (one if isinstance(one, str) and 0 < len(one) <= LONGEST else None for one in engines)
    return Asking(question, tuple(found), engine, against), wrong


def value_typed(argument: Argument, raw: Any) -> tuple[Any, str]:
    """The value of an argument and nothing, or what is wrong with it."""
    if argument.kind is str:
        return (raw, "") if isinstance(raw, str) and len(raw) <= LONGEST else (None, say(A_NUMBER))
    if argument.kind is bool:
        return raw in (YES, True), ""
    number, allowed = number_typed(raw), argument.allowed
    if number is None or (argument.kind is int and number != int(number)):
        return None, say(A_NUMBER)
    if not allowed.low <= number <= allowed.high:
        unit = say(allowed.unit) if allowed.unit else ""
        words = {"low": f"{allowed.low:g}", "high": f"{allowed.high:g}", "unit": unit}
        told = say(FROM_LEAST, **words) if allowed.high == float("inf") else say(OUT_OF_RANGE, **words)
        return None, told.replace(" .", ".")
    return argument.kind(number), ""


@kept
def about(work: Work, engine: str | None, against: str | None) -> Asked:
    """A work ready to be asked about; engines that are not compared, or both the same, are left to the counter."""
    scenario = scenario_of(work)
    names = [one.name for one in scenario.engines]
    first = engine if engine in names else None
    second = against if against in names and against != first else None
    return counter.asked(scenario, first, second)


@kept
def answered(work: Work, one: Asking) -> Answer:
    """The answer to a question, the same as the command line's."""
    return counter.answer(about(work, one.engine, one.against), one.question, **dict(one.arguments))


def questions() -> tuple[Question, ...]:
    """Every question, in the order of the counter."""
    return counter.questions()


def without_arguments(one: Asking) -> Asking:
    """The same question as the counter asks it by itself."""
    return replace(one, arguments=())
