"""The command for questions at the counter: python -m model ask FILE QUESTION."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from model.cli import File, Format, FormatOption, HoursOption, SetOption, YearsOption, app, read, refuse, write
from model.cli_fleet import main
from model.inputs.problems import Problem, shown

if TYPE_CHECKING:
    from model.counter import Answer, Asked, Question
    from model.questions.asking import Argument

__all__ = ["main"]

YES, NO = ("yes", "true"), ("no", "false")
"""How a yes or no is written."""

COMMAND = "ask"
"""Where what is wrong with the words of the command stands."""

QuestionName = Annotated[
    str | None,
    typer.Argument(metavar="[QUESTION] [ITS ARGUMENTS]", help="A question by its short name; none: the list of them."),
]


@app.command(context_settings={"allow_extra_args": True, "ignore_unknown_options": True})
def ask(
    context: typer.Context,
    file: File,
    name: QuestionName = None,
    style: FormatOption = Format.TABLE,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
    is_all: Annotated[bool, typer.Option("--all", help="Answer every question.")] = False,
    engine: Annotated[
        str | None, typer.Option("--engine", help="The engine asked about; the cheapest where none is named.")
    ] = None,
    against: Annotated[
        str | None,
        typer.Option("--against", help="The engine it is held against; the cheapest of the other stroke if none."),
    ] = None,
    trials: Annotated[int, typer.Option("--trials", min=2, max=1_000_000, help="Trials behind a chance.")] = 4096,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Seed of the random numbers.")] = 1,
    is_plain: Annotated[bool, typer.Option("--plain", help="In short and plain words.")] = False,
) -> None:
    """What people ask at the counter: a question in, one figure out, with what stands behind it."""
    from dataclasses import replace

    from model import counter, telling_out

    known = counter.questions()
    _refuse_unless_known(name, [question.name for question in known], style)
    question = next((one for one in known if one.name == name), None)
    arguments = _arguments(context.args, question, style)
    reading = read(file, (years, hours, sets), style)
    if question is None and not is_all:
        return _list(known, style)
    telling_out.say_preparing()
    _require_engines([one.name for one in reading.scenario.engines], {"--engine": engine, "--against": against}, style)
    about = replace(counter.asked(reading.scenario, engine, against), trials=trials, seed=seed)
    return _answer(about, [question] if question else list(known), arguments, (style, is_plain))


def _refuse_unless_known(name: str | None, known: Sequence[str], style: Format) -> None:
    """End with the questions there are, unless it is one of them that is asked."""
    from difflib import get_close_matches

    if name is None or name in known:
        return
    near = get_close_matches(name, known, 1)
    allowed = (f"{near[0]}? " if near else "") + "one of " + ", ".join(known)
    if name.startswith("-"):
        allowed = "a question, and then its arguments; the questions: " + ", ".join(known)
    refuse([Problem(COMMAND, "QUESTION", shown(name), allowed)], style)


def _require_engines(names: Sequence[str], wanted: dict[str, str | None], style: Format) -> None:
    """End with the names there are, unless the engines wanted are among them and two different ones."""
    listed = ", ".join(f'"{known}"' for known in names)
    problems = [
        Problem(COMMAND, option, shown(name), f"one of {listed}")
        for option, name in wanted.items()
        if name is not None and name not in names
    ]
    if not problems and None not in wanted.values() and len(set(wanted.values())) == 1:
        problems = [Problem(COMMAND, "--against", "the same as --engine", f"another of {listed}")]
    if problems:
        refuse(problems, style)


def _arguments(words: Sequence[str], question: "Question | None", style: Format) -> dict[str, Any]:
    """The arguments of a question from the words after it, or the end with everything that is wrong with them."""
    from model.answer_reports import option_of

    known = {option_of(argument): argument for argument in (question.arguments if question else ())}
    allowed = ", ".join(known) or "none" if question else "a question before its arguments"
    found: dict[str, Any] = {}
    problems: list[Problem] = []
    for option, text in _pairs(words):
        argument = known.get(option)
        if argument is None:
            told = f"arguments of {question.name}: {allowed}" if question else allowed
            problems.append(Problem(COMMAND, option, "an unknown argument", told))
        else:
            value, problem = _value(argument, option, text)
            found[argument.name] = value
            problems += [problem] if problem else []
    if problems:
        refuse(problems, style)
    return found


def _pairs(words: Sequence[str]) -> Iterator[tuple[str, str | None]]:
    """Options with the word after each: `--amount 480` and `--amount=480` alike; none after it: None."""
    waiting = list(words)
    while waiting:
        word = waiting.pop(0)
        option, equals, text = word.partition("=")
        if equals and option.startswith("--"):
            yield option, text
        elif word.startswith("--"):
            yield word, waiting.pop(0) if waiting and not waiting[0].startswith("--") else None
        else:
            yield word, None


def _value(argument: "Argument", option: str, text: str | None) -> tuple[Any, Problem | None]:
    """The value of an argument, or what is wrong with it."""
    low, high, unit = argument.allowed.low, argument.allowed.high, argument.allowed.unit
    if text is None:
        return None, Problem(COMMAND, option, "no value", argument.allowed.help)
    if argument.kind is str:
        return text, None
    if argument.kind is bool:
        is_one = text.lower() in YES + NO
        return text.lower() in YES, None if is_one else Problem(COMMAND, option, shown(text), "yes or no")
    try:
        value = argument.kind(text)
    except ValueError:
        value = None
    if value is None or not low <= value <= high or value == float("inf"):
        whole = "a whole number" if argument.kind is int else "a number"
        most = "" if high == float("inf") else f" to {high:g}"
        return None, Problem(COMMAND, option, shown(text), f"{whole}, {low:g}{most or ' or more'} {unit}".rstrip())
    return value, None


def _list(known: Sequence["Question"], style: Format) -> None:
    """The questions there are."""
    from model import answer_reports, reports, telling_answers

    rows = answer_reports.question_rows(known)
    flat = [{**row, "arguments": [argument["option"] for argument in row["arguments"]]} for row in rows]
    write(
        style,
        {"questions": rows},
        lambda: reports.csv_text(flat, answer_reports.QUESTION_COLUMNS),
        lambda: telling_answers.questions_table(known),
    )


def _answer(
    about: "Asked", questions: Sequence["Question"], arguments: dict[str, Any], how: tuple[Format, bool]
) -> None:
    """Answer questions and write the answers."""
    from model import answer_reports, counter, reports, telling_answers

    style, is_plain = how
    answers: list[Answer] = [counter.answer(about, question.name, **arguments) for question in questions]
    asked = list(zip(questions, answers, strict=True))
    write(
        style,
        answer_reports.answers_report(answers, is_plain),
        lambda: reports.csv_text(answer_reports.answer_rows(answers, is_plain), answer_reports.ANSWER_COLUMNS),
        lambda: telling_answers.answers_table(asked, is_plain, shows_rows=len(asked) == 1),
    )
