"""How a question is asked: of which engines, with which arguments, under which name."""

import inspect
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, update_wrapper
from typing import Any, Concatenate, ParamSpec, get_args, get_type_hints

from model.inputs.scenario import Scenario
from model.language import say
from model.measures import Comparison, EngineCost, compare
from model.questions.answer import Answer, NotApplicableError

TRIALS = 4096
"""Trials behind a chance: good to one in a hundred, and no buyer waits for them."""

SEED = 1
"""The seed of every other command, so that the same trials give the same figures."""

Terms = ParamSpec("Terms")


@dataclass(frozen=True)
class Allowed:
    """What an argument of a question may be; stands beside its type."""

    help: str
    """What it is, in words, marked with `later`."""
    low: float = 0.0
    """Least. [unit]"""
    high: float = float("inf")
    """Most. [unit]"""
    unit: str = ""
    """Its unit, marked with `later`; money without a word before it stands in the scenario's currency."""
    choices: "Callable[[Asked], Sequence[str]] | None" = None
    """What a text may be, to choose from; None for a number, a yes or no."""


@dataclass(frozen=True)
class Argument:
    """One argument of a question."""

    name: str
    """As a function takes it; commands write it with hyphens."""
    kind: type
    """float, int, bool or str."""
    default: Any
    """What is taken where none is given; None: see its help."""
    allowed: Allowed
    """What it may be."""


@dataclass(frozen=True)
class Question:
    """A question that can be asked."""

    name: str
    """Short name."""
    asks: str
    """In the words of a buyer, English; `say` gives the language of the moment."""
    theme: str
    """What it is about: the file that answers it."""
    answer: Callable[..., Answer]
    """What answers it."""
    arguments: tuple[Argument, ...]
    """What it can be asked with."""


QUESTIONS: dict[str, Question] = {}
"""Every question by its short name, in the order in which they are asked at the counter."""


@dataclass(frozen=True)
class Asked:
    """A scenario that a question is asked about, and the two engines it is about."""

    scenario: Scenario
    """The scenario, with all its engines."""
    engine: str
    """The engine that the question is about."""
    against: str | None
    """The one it is held against; None with a single engine."""
    trials: int = TRIALS
    """Trials behind a chance."""
    seed: int = SEED
    """Their seed."""

    @cached_property
    def comparison(self) -> Comparison:
        """What every engine costs."""
        return compare(self.scenario)

    def cost(self, name: str) -> EngineCost:
        """What one engine costs."""
        return next(cost for cost in self.comparison.engines if cost.name == name)

    @property
    def other(self) -> str:
        """The engine it is held against; the question does not apply where there is none."""
        if self.against is None:
            raise NotApplicableError(say("There is a single engine in the file: add a second one to compare it with."))
        return self.against

    @property
    def by_stroke(self) -> tuple[str, str]:
        """The four-stroke and the two-stroke of the pair; the question does not apply to two of a kind."""
        names = (self.engine, self.other)
        strokes = [self.scenario.engine(name).technology.is_two_stroke for name in names]
        if strokes[0] == strokes[1]:
            raise NotApplicableError(
                say("This asks about a four-stroke against a two-stroke, and the file has only one kind of the two.")
            )
        return (names[1], names[0]) if strokes[0] else (names[0], names[1])


def asked(scenario: Scenario, engine: str | None = None, against: str | None = None) -> Asked:
    """
    A scenario ready to be asked about.

    Parameters
    ----------
    scenario : Scenario
    engine : str, optional
        The engine that questions are about; the cheapest where none is named.
    against : str, optional
        The one it is held against; where none is named the cheapest of the other stroke, or else of the others.

    Returns
    -------
    Asked

    Raises
    ------
    KeyError
        If a name is no engine of the scenario, or both are the same.
    """
    for name in (engine, against):
        if name is not None:
            scenario.engine(name)
    if engine is not None and engine == against:
        raise KeyError(against)
    ranked = sorted(compare(scenario).engines, key=lambda cost: cost.total.present_value)
    names = [cost.name for cost in ranked]
    first = engine or next(name for name in names if name != against or len(names) == 1)
    others = [name for name in names if name != first]
    stroke = scenario.engine(first).technology.is_two_stroke
    unlike = [name for name in others if scenario.engine(name).technology.is_two_stroke != stroke]
    second = against or next(iter(unlike + others), None)
    return Asked(scenario, first, None if second == first else second)


Answering = Callable[Concatenate[Asked, Terms], Answer]


def question(name: str, asks: str) -> Callable[[Answering[Terms]], Answering[Terms]]:
    """
    Enter a function among the questions; where it does not apply, its answer says why.

    Parameters
    ----------
    name : str
        Short name.
    asks : str
        The question in the words of a buyer, marked with `later`.

    Returns
    -------
    function
        Takes the function that answers, whose arguments beyond the first each have a type `Annotated` with `Allowed`.
    """

    def enter(function: Answering[Terms]) -> Answering[Terms]:
        def answering(about: Asked, /, *args: Terms.args, **terms: Terms.kwargs) -> Answer:
            try:
                return replace(function(about, *args, **terms), question=name)
            except NotApplicableError as reason:
                return Answer(str(reason), str(reason), None, question=name)

        update_wrapper(answering, function)
        theme = function.__module__.rpartition(".")[2]
        QUESTIONS[name] = Question(name, asks, theme, answering, _arguments(function))
        return answering

    return enter


def _arguments(function: Callable[..., Answer]) -> tuple[Argument, ...]:
    """Arguments of a function beyond the first, with their types and what they may be."""
    hints = get_type_hints(function, include_extras=True)
    found = []
    for name, parameter in list(inspect.signature(function).parameters.items())[1:]:
        kind, allowed = get_args(hints[name])
        plain = next((one for one in (bool, int, float, str) if one is kind or one in get_args(kind)), str)
        found.append(Argument(name, plain, parameter.default, allowed))
    return tuple(found)
