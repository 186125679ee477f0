"""What people ask at the counter: every question, and its answer for a scenario."""

from typing import Any

from model.inputs.scenario import Scenario
from model.questions import (
    breakdowns,
    budget,
    cover,
    fuel,
    keeping_cover,
    life,
    longer_cover,
    neglect,
    own_work,
    ownership,
    plugs,
    running,
    selling,
    workshop,
)
from model.questions.answer import Answer
from model.questions.asking import QUESTIONS, Asked, Question, asked

THEMES = (
    ownership,
    running,
    fuel,
    own_work,
    neglect,
    plugs,
    workshop,
    cover,
    longer_cover,
    keeping_cover,
    selling,
    breakdowns,
    budget,
    life,
)
"""Files of questions, in the order in which they are asked; importing them enters their questions."""

__all__ = ["Answer", "Asked", "Question", "answer", "answer_all", "asked", "questions"]


def questions() -> tuple[Question, ...]:
    """Every question, in the order of the counter."""
    order = {theme.__name__.rpartition(".")[2]: place for place, theme in enumerate(THEMES)}
    return tuple(sorted(QUESTIONS.values(), key=lambda one: order[one.theme]))


def answer(about: Asked, name: str, **arguments: Any) -> Answer:
    """
    Answer one question.

    Parameters
    ----------
    about : Asked
        A scenario and the engines that it is asked about, from `asked`.
    name : str
        Short name of the question.
    **arguments
        Its own arguments, those of `Question.arguments`.

    Returns
    -------
    Answer
        One that does not apply says why in its sentence, and has no figure.

    Raises
    ------
    KeyError
        If there is no such question.
    """
    return QUESTIONS[name].answer(about, **arguments)


def answer_all(scenario: Scenario) -> tuple[Answer, ...]:
    """Every question with the arguments taken where none are given."""
    about = asked(scenario)
    return tuple(answer(about, one.name) for one in questions())
