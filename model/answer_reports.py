"""Answers at the counter as plain data for JSON and CSV."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from model.counter import Answer, Question
from model.language import say
from model.questions.asking import Argument
from model.reports import ledger_rows

ANSWER_COLUMNS = ("question", "sentence", "value", "unit", "flips_at", "chance")
"""Columns of answers in CSV."""

QUESTION_COLUMNS = ("question", "asks", "arguments")
"""Columns of questions in CSV."""


def answer_report(answer: Answer, is_plain: bool = False) -> dict[str, Any]:
    """One answer; in plain words, its short version stands for the sentence."""
    return {
        "question": answer.question,
        "sentence": answer.plain if is_plain else answer.sentence,
        "figure": None if answer.figure is None else asdict(answer.figure),
        "reasons": list(answer.reasons),
        "flip_point": None if answer.flip_point is None else asdict(answer.flip_point),
        "chance": None if answer.chance is None else asdict(answer.chance),
        "caution": answer.caution,
        "rows": [
            {"whose": behind.whose, **row}
            for behind, row in zip(answer.rows, ledger_rows(behind.row for behind in answer.rows), strict=True)
        ],
    }


def answers_report(answers: Iterable[Answer], is_plain: bool = False) -> dict[str, Any]:
    """Several answers."""
    return {"answers": [answer_report(answer, is_plain) for answer in answers]}


def answer_rows(answers: Iterable[Answer], is_plain: bool = False) -> list[dict[str, Any]]:
    """Answers as flat rows."""
    return [
        {
            "question": answer.question,
            "sentence": answer.plain if is_plain else answer.sentence,
            "value": answer.figure.value if answer.figure else None,
            "unit": answer.figure.unit if answer.figure else None,
            "flips_at": answer.flip_point.value if answer.flip_point else None,
            "chance": answer.chance.share if answer.chance else None,
        }
        for answer in answers
    ]


def option_of(argument: Argument) -> str:
    """An argument as a command takes it."""
    return "--" + argument.name.replace("_", "-")


def argument_report(argument: Argument) -> dict[str, Any]:
    """One argument of a question."""
    allowed = argument.allowed
    return {
        "option": option_of(argument),
        "kind": argument.kind.__name__,
        "default": argument.default,
        "help": say(allowed.help),
        "unit": say(allowed.unit) if allowed.unit else "",
    }


def question_rows(questions: Iterable[Question]) -> list[dict[str, Any]]:
    """The questions that can be asked, and what with."""
    return [
        {
            "question": question.name,
            "asks": say(question.asks),
            "arguments": [argument_report(argument) for argument in question.arguments],
        }
        for question in questions
    ]
