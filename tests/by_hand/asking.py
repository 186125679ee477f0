"""Questions asked of a small scenario, and what is read off their answers."""

from model import counter
from model.inputs.scenario import Scenario
from model.questions.answer import Answer


def ask(scenario: Scenario, name: str, **arguments: object) -> Answer:
    """The answer to one question."""
    return counter.answer(counter.asked(scenario), name, **arguments)


def value(answer: Answer) -> tuple[float, str]:
    """The figure of an answer."""
    assert answer.figure is not None, answer.sentence
    return answer.figure.value, answer.figure.unit


def turns_at(answer: Answer) -> float | None:
    """Where an answer turns."""
    assert answer.flip_point is not None
    return answer.flip_point.value
