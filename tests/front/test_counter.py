"""The page of questions: its cards, what is typed in them, the rows behind an answer."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from dash import Dash
from dash.development.base_component import Component
from flask.testing import FlaskClient

from dashboard import asked, drawer, ids
from dashboard.app import build_app
from dashboard.asked import MARK, Asking, answered, asking, asking_of
from dashboard.pages import counter as page
from dashboard.scenarios import scenario_of
from dashboard.work import Work
from model import counter
from model.language import catalogue
from tests.front.works import tiny_work

TINY = tiny_work()
STORED = TINY.as_data()
LAKE = Work("weekend-lake-boat")


@pytest.fixture(scope="module")
def app() -> Dash:
    return build_app()


@pytest.fixture(scope="module")
def client(app: Dash) -> Iterator[FlaskClient]:
    with app.server.test_client() as made:
        made.get("/_dash-dependencies")
        yield made


def texts(parts: list[Component]) -> str:
    """What stands in the parts, as the browser is sent it."""
    return json.dumps([part.to_plotly_json() for part in parts], default=lambda part: part.to_plotly_json())


def test_every_question_has_a_card() -> None:
    grouped = [theme for _, themes in page.GROUPS for theme in themes]
    drawn = texts(page.layout(TINY))

    assert {question.theme for question in asked.questions()} == set(grouped)
    assert [one.name for one in asked.questions() if json.dumps(one.asks)[1:-1] not in drawn] == []


@pytest.mark.parametrize("question", asked.questions(), ids=lambda question: question.name)
def test_an_open_card_holds_its_arguments_and_the_counters_answer(question: counter.Question) -> None:
    parts = page.opened(LAKE, question, (None, None), is_plain=False)

    drawn = texts(parts)
    told = counter.answer(counter.asked(scenario_of(LAKE)), question.name)
    assert json.dumps(told.sentence)[1:-1] in drawn
    assert drawn.count('"type": "card-argument"') == len(question.arguments)


def test_plain_words_are_the_short_version() -> None:
    one = Asking("which-is-cheaper")

    drawn = texts(page.content(TINY, one, (), is_plain=True))

    assert answered(TINY, one).plain in drawn
    assert answered(TINY, one).sentence not in drawn


def ask_card(client: FlaskClient, kind: str, name: str, inputs: dict[str, Any], states: dict[str, Any]) -> Any:
    """What the callback of a card answers."""
    for known in client.get("/_dash-dependencies").get_json():
        if f'"type":"{kind}"' in known["output"]:
            break
    else:
        raise AssertionError(kind)

    def filled(parts: list[dict[str, Any]], values: dict[str, Any]) -> list[Any]:
        found: list[Any] = []
        for part in parts:
            if not part["id"].startswith("{"):
                found.append({**part, "value": values.get(part["id"])})
                continue
            pattern = json.loads(part["id"])
            if pattern.get("argument") == ["ALL"]:
                arguments = values.get("arguments", {})
                made = [{"type": pattern["type"], "question": name, "argument": one} for one in arguments]
                found.append(
                    [
                        {
                            "id": one,
                            "property": part["property"],
                            "value": one if part["property"] == "id" else arguments[one["argument"]],
                        }
                        for one in made
                    ]
                )
            else:
                own = {"type": pattern["type"], "question": name}
                found.append({"id": own, "property": part["property"], "value": values.get(part["property"], own)})
        return found

    outputs = [
        {"id": {**json.loads(one.rsplit(".", 1)[0]), "question": name}, "property": one.rsplit(".", 1)[1]}
        for one in known["output"].strip(".").split("...")
    ]
    body = {
        "output": known["output"],
        "outputs": outputs if known["output"].startswith("..") else outputs[0],
        "inputs": filled(known["inputs"], inputs),
        "state": filled(known["state"], {**inputs, **states}),
        "changedPropIds": [],
    }
    answer = client.post("/_dash-update-component", json=body)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return json.dumps(answer.get_json(), ensure_ascii=False)


def test_a_card_opens_and_shuts(client: FlaskClient) -> None:
    for clicks, is_open in ((1, True), (2, False)):
        told = ask_card(client, "card-room", "fuel-price", {"n_clicks": clicks}, {ids.WORK: STORED})

        assert ("With fuel 30 % dearer" in told) == is_open
        assert f'"aria-expanded": "{str(is_open).lower()}"' in told


def test_an_answer_follows_work_and_arguments(client: FlaskClient) -> None:
    work = {**STORED, "changes": {"prices.fuel": "4.0"}}

    told = ask_card(client, "card-answer", "fuel-price", {ids.WORK: work, "arguments": {"change": "50"}}, {})

    assert "With fuel 50 % dearer, at 6.00 EUR a litre" in told


def test_what_cannot_be_is_told_and_the_answer_goes_without_it(client: FlaskClient) -> None:
    told = ask_card(client, "card-answer", "fuel-price", {ids.WORK: STORED, "arguments": {"change": -5}}, {})

    assert "Allowed: 0 to 1000 per cent." in told
    assert "With fuel 30 % dearer" in told


@pytest.mark.parametrize(
    ("name", "typed", "arguments", "wrong"),
    [
        ("fuel-price", {"change": "12,5"}, (("change", 12.5),), 0),
        ("fuel-price", {"change": ""}, (), 0),
        ("fuel-price", {"change": "much"}, (), 1),
        ("fuel-price", {"change": [1]}, (), 1),
        ("fuel-price", {"colour": "white"}, (), 0),
        ("next-years", {"ahead": 2.5}, (), 1),
        ("next-years", {"ahead": 2}, (("ahead", 2),), 0),
        ("own-servicing", {"keeps_cover": "no"}, (("keeps_cover", False),), 0),
        ("service-quote", {"visit": "x" * 300}, (), 1),
        ("service-quote", {"amount": 1e99}, (), 1),
    ],
)
def test_what_is_typed(name: str, typed: dict[str, Any], arguments: tuple[Any, ...], wrong: int) -> None:
    found, told = asking(name, typed, (None, None))

    assert (found.arguments, len(told)) == (arguments, wrong)


def test_engines_that_are_not_there_are_left_to_the_counter() -> None:
    about = asked.about(TINY, "Six", "Two-stroke")

    assert (about.engine, about.against) == ("Four-stroke", "Two-stroke")
    assert asked.about(TINY, "Two-stroke", "Two-stroke").against == "Four-stroke"


def test_a_key_comes_back_as_it_went() -> None:
    one = Asking("used-instead", (("age", 4.0), ("meter", 200.0)), "Four-stroke", None)

    back = asking_of(one.key)

    assert back is not None
    assert dict(back.arguments) == dict(one.arguments)
    assert (back.question, back.engine, back.against) == (one.question, one.engine, one.against)


@pytest.mark.parametrize(
    "key", [None, 5, "rows:x", MARK, MARK + "[", MARK + "[1]", MARK + '["none", {}, null, null]', MARK + "[" * 900]
)
def test_what_is_no_key_is_none(key: object) -> None:
    assert asking_of(key) is None


def test_the_drawer_holds_the_rows_behind_an_answer() -> None:
    one = Asking("which-is-cheaper")

    drawn = texts(drawer.content_of_answer(TINY, one))

    assert answered(TINY, one).sentence in drawn
    assert "Four-stroke. Sum: 10,092.40 EUR in present value" in drawn
    assert "Two-stroke. Sum: 12,762.00 EUR in present value" in drawn
    assert drawn.count("Spark") == 0
    assert drawn.count("Plugs: Plug") == 6  # three visits of either


def test_the_words_of_the_page_are_in_the_catalogue() -> None:
    words = [page.QUESTION, page.PLAIN, page.ABOUT, page.AGAINST, page.ROWS, *(heading for heading, _ in page.GROUPS)]
    words += [question.asks for question in asked.questions()]

    assert [word for word in words if word not in catalogue("es")] == []
