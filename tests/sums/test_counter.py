"""Every question on every example and on random scenarios: an answer or a reason, its unit, its shape."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model import counter
from model.answer_reports import answers_report, option_of
from model.inputs.reading import read_scenario
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.language import LANGUAGES, speaking
from model.measures import compare, equivalent_annual_cost
from model.questions.amounts import figures
from model.questions.answer import Answer
from model.questions.asking import Asked
from model.questions.choosing import BREAKDOWNS, CAPITAL, SERVICE, Choice, in_trials, only
from model.uncertainty.trials import run_trials
from model.wording import cents, to_a_tenth
from tests.rules.project import ROOT
from tests.strategies import QUICK, engines, files, scenario
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION

EXAMPLES = sorted(path for path in (ROOT / "scenarios").glob("*.toml") if path.stem != "sources")
NAMES = [question.name for question in counter.questions()]
FEW = 256
"""Trials where only the shape of an answer is looked at."""

RESERVED = {"--years", "--hours", "--set", "--all", "--engine", "--against", "--trials", "--seed", "--plain"}
RESERVED |= {"--language", "--format", "--help"}
KEYS = {"question", "sentence", "figure", "reasons", "flip_point", "chance", "caution", "rows"}


@cache
def example(path: Path) -> Asked:
    """An example ready to be asked about."""
    return replace(counter.asked(read_scenario(path).scenario), trials=FEW)


@cache
def answered(path: Path) -> tuple[Answer, ...]:
    """Every question of the counter, answered on an example."""
    return tuple(counter.answer(example(path), name) for name in NAMES)


def ways_to_tell(value: float) -> set[str]:
    """A figure as a sentence may have it."""
    return {figures(abs(value)), to_a_tenth(value), cents(value)}


def faults(answer: Answer) -> list[str]:
    """What is wrong with the words of an answer."""
    if answer.figure is None:
        return [] if answer.sentence and not answer.rows else ["no figure, and no reason why"]
    found = []
    for words in (answer.sentence, answer.plain):
        if answer.figure.unit not in words:
            found.append(f"no {answer.figure.unit!r} in {words!r}")
        if "{" in words or "nan" in words.split() or "inf" in words.split():
            found.append(f"not filled in: {words!r}")
    if not any(way in answer.sentence for way in ways_to_tell(answer.figure.value)):
        found.append(f"no {answer.figure.value} in {answer.sentence!r}")
    if not 2 <= len(answer.reasons) <= 4:
        found.append(f"{len(answer.reasons)} reasons")
    return found + [f"no figure in {reason!r}" for reason in answer.reasons if "{" in reason]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_question_is_answered_on_every_example(path: Path) -> None:
    found = {answer.question: faults(answer) for answer in answered(path)}

    assert list(found) == NAMES
    assert {name: wrong for name, wrong in found.items() if wrong} == {}


def test_every_question_has_an_answer_on_some_example() -> None:
    assert {answer.question for path in EXAMPLES for answer in answered(path) if answer.applies} == set(NAMES)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sentence_holds_its_unit_in_every_language(language: str) -> None:
    with speaking(language):
        answers = [counter.answer(example(EXAMPLES[1]), name) for name in NAMES]
        found = [wrong for answer in answers for wrong in faults(answer)]

    assert found == []


def two_of(drawn: st.DataObject) -> Scenario:
    """A random scenario with two random engines."""
    file = drawn.draw(files())
    return scenario({**file, "engines": [drawn.draw(engines("One")), drawn.draw(engines("Two"))]})


@settings(QUICK, max_examples=8)
@given(drawn=st.data())
def test_no_question_raises_on_random_scenarios(drawn: st.DataObject) -> None:
    about = replace(counter.asked(two_of(drawn)), trials=8)

    answers = [counter.answer(about, name) for name in NAMES]

    assert [wrong for answer in answers for wrong in faults(answer)] == []


@settings(QUICK, max_examples=4)
@given(file=files())
def test_no_question_raises_with_a_single_engine(file: dict) -> None:
    about = replace(counter.asked(scenario(file)), trials=8)

    answers = [counter.answer(about, name) for name in NAMES]

    assert [wrong for answer in answers for wrong in faults(answer)] == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_report_has_the_keys_it_should(path: Path) -> None:
    report = answers_report(answered(path))

    assert list(report) == ["answers"]
    assert all(set(answer) == KEYS for answer in report["answers"])
    for answer in report["answers"]:
        assert answer["figure"] is None or set(answer["figure"]) == {"value", "unit"}


def test_short_names_and_options_are_fit_for_a_command() -> None:
    assert [name for name in NAMES if not re.fullmatch(r"[a-z]+(-[a-z]+)*", name)] == []
    options = {option_of(argument) for question in counter.questions() for argument in question.arguments}
    assert options & RESERVED == set()


def test_every_argument_says_what_it_is() -> None:
    arguments = [argument for question in counter.questions() for argument in question.arguments]

    assert [argument.name for argument in arguments if not argument.allowed.help] == []
    assert {argument.kind for argument in arguments} <= {float, int, bool, str}


class TestOnly:
    """A copy in which only some elements cost anything."""

    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
    @pytest.mark.parametrize(
        "elements",
        [
            CAPITAL,
            SERVICE,
            BREAKDOWNS - {Element.DOWNTIME},
            frozenset({Element.FUEL}),
            frozenset({Element.TWO_STROKE_OIL}) | SERVICE,
            frozenset({Element.RESALE}),
        ],
        ids=lambda elements: "-".join(sorted(elements)),
    )
    def test_costs_what_those_elements_cost(self, path: Path, elements: frozenset[Element]) -> None:
        whole = read_scenario(path).scenario

        bared = compare(only(whole, elements))

        for cost, kept in zip(compare(whole).engines, bared.engines, strict=True):
            stated = sum(cost.elements[element].present_value for element in elements)
            assert kept.total.present_value == pytest.approx(stated, rel=REGRESSION, abs=1e-9)


class TestThePair:
    """Which two engines a question is about."""

    def test_is_the_cheapest_and_the_cheapest_of_the_other_stroke(self) -> None:
        about = counter.asked(two_engines())

        assert (about.engine, about.against) == ("Four-stroke", "Two-stroke")

    def test_may_be_named(self) -> None:
        about = counter.asked(two_engines(), engine="Two-stroke")

        assert (about.engine, about.against) == ("Two-stroke", "Four-stroke")

    def test_leaves_out_the_one_held_against(self) -> None:
        about = counter.asked(two_engines(), against="Four-stroke")

        assert (about.engine, about.against) == ("Two-stroke", "Four-stroke")

    @pytest.mark.parametrize("names", [("Three", None), (None, "Three"), ("Two-stroke", "Two-stroke")])
    def test_is_two_engines_of_the_file(self, names: tuple[str | None, str | None]) -> None:
        with pytest.raises(KeyError):
            counter.asked(two_engines(), *names)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_answers_are_those_of_compare(path: Path) -> None:
    about = example(path)
    costs = {cost.name: cost for cost in compare(about.scenario).engines}
    mine, other = costs[about.engine], costs[about.against or ""]
    by_name = {answer.question: answer for answer in answered(path)}

    apart = abs(mine.total.present_value - other.total.present_value)
    assert by_name["which-is-cheaper"].figure.value == pytest.approx(apart, rel=REGRESSION)  # type: ignore[union-attr]
    assert by_name["cost-of-an-hour"].figure.value == pytest.approx(mine.cost_per_hour, rel=IDENTITY)  # type: ignore[union-attr]
    assert by_name["worth-at-the-sale"].figure.value == pytest.approx(  # type: ignore[union-attr]
        -mine.elements[Element.RESALE].nominal, rel=IDENTITY
    )
    if by_name["service-or-oil"].figure is not None:
        sums = [
            sum(cost.elements[element].present_value for element in SERVICE | {Element.TWO_STROKE_OIL})
            for cost in (mine, other)
        ]
        yearly = [equivalent_annual_cost(total, mine.case.rules.real_rate, mine.case.years) for total in sums]
        assert by_name["service-or-oil"].figure.value == pytest.approx(abs(yearly[0] - yearly[1]), rel=REGRESSION)


def test_the_rows_behind_an_answer_add_up_to_it() -> None:
    about = example(EXAMPLES[1])
    answer = counter.answer(about, "which-is-cheaper")
    assert answer.figure is not None

    sums = dict.fromkeys((about.engine, about.against or ""), 0.0)
    for behind in answer.rows:
        sums[behind.whose] += behind.row.present_value

    first, second = sums.values()
    assert abs(first - second) == pytest.approx(answer.figure.value, rel=REGRESSION)


def test_a_chance_is_that_of_the_trials() -> None:
    about = example(EXAMPLES[1])
    assert about.against is not None
    answer = counter.answer(about, "which-is-cheaper")
    assert answer.chance is not None

    run = run_trials(about.scenario, FEW, about.seed)
    places = [run.names.index(name) for name in (about.engine, about.against)]
    share = float((run.present[places[0]] < run.present[places[1]]).mean())

    assert answer.chance.share == pytest.approx(share, rel=IDENTITY)


def test_both_choices_live_the_same_hours_and_failures() -> None:
    about = example(EXAMPLES[1])
    mine = Choice(about.scenario, about.engine, "")

    more = in_trials(about, mine, mine.changed({("engine", "price"): mine.alone.engines[0].price + 100.0}))

    assert more == pytest.approx([-100.0] * FEW, abs=1e-6)
