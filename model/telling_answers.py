"""What the command line shows of questions and answers, drawn by rich."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich import box
from rich.table import Table

from model.answer_reports import option_of
from model.counter import Answer, Question
from model.language import say
from model.telling_out import print_notes, screen
from model.wording import cents, plain

if TYPE_CHECKING:
    from rich.console import Console

MOST_ROWS = 12
"""Rows of the ledger that are shown under an answer; JSON holds all."""


def questions_table(questions: Sequence[Question]) -> None:
    """The questions that can be asked."""
    table = Table(box=box.SIMPLE_HEAD)
    for name in (say("Question"), say("What it answers"), say("May be asked with")):
        table.add_column(name)
    for question in questions:
        options = " ".join(option_of(argument) for argument in question.arguments)
        table.add_row(question.name, say(question.asks), options)
    screen().print(table)


def answers_table(asked: Sequence[tuple[Question, Answer]], is_plain: bool, shows_rows: bool) -> None:
    """Answers one under the other, each with what stands behind it."""
    console = screen()
    for question, answer in asked:
        console.print(say(question.asks), style="bold", markup=False)
        console.print(answer.plain if is_plain else answer.sentence, markup=False)
        if not is_plain:
            flips = [answer.flip_point.sentence] if answer.flip_point else []
            chances = [answer.chance.sentence] if answer.chance else []
            print_notes(console, [*answer.reasons, *flips, *chances])
        if shows_rows and not is_plain:
            _rows(console, answer)
        if answer.caution:
            console.print(answer.caution, style="dim", markup=False)
        console.print()


def _rows(console: "Console", answer: Answer) -> None:
    """The first rows of the ledger behind an answer."""
    if not answer.rows:
        return
    table = Table(box=box.SIMPLE_HEAD)
    for name, justify in (
        (say("Date"), "right"),
        (say("Whose"), "left"),
        (say("Item"), "left"),
        (say("Quantity"), "right"),
        (say("Money of the day"), "right"),
        (say("Payer"), "left"),
    ):
        table.add_column(name, justify=justify)  # type: ignore[arg-type]
    for behind in answer.rows[:MOST_ROWS]:
        row = behind.row
        quantity = f"{plain(round(row.quantity, 2))} {row.unit}"
        table.add_row(row.date.isoformat(), behind.whose, row.item, quantity, cents(row.nominal), row.payer.value)
    console.print(table)
    if len(answer.rows) > MOST_ROWS:
        more = len(answer.rows) - MOST_ROWS
        console.print(say("{number} more {number:row|rows} with --format json.", number=more), markup=False)
