"""The application: it builds, its ids are its own, its callbacks answer, its server refuses what it should."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from dash import Dash
from dash.development.base_component import Component
from flask.testing import FlaskClient

from dashboard import ids, text
from dashboard.app import app_of, layout
from dashboard.form import form_of
from dashboard.security import LONGEST_REQUEST, trusted_hosts
from dashboard.theme import INK
from model.inputs.scenario import Scenario


@pytest.fixture(scope="module")
def app() -> Dash:
    from tests.tiny import two_engines

    return app_of(form_of(two_engines()))


@pytest.fixture(scope="module")
def client(app: Dash) -> Iterator[FlaskClient]:
    with app.server.test_client() as made:
        made.get("/_dash-dependencies")  # callbacks are made ready with the first request
        yield made


def components(root: Component) -> Iterator[Component]:
    """A component and all below it."""
    yield root
    yield from (part for part in root._traverse() if isinstance(part, Component))


def ask(client: FlaskClient, output: str, changed: dict[str, Any]) -> Any:
    """What a callback answers to values by id (of states by id and property), the last one changed."""
    for known in client.get("/_dash-dependencies").get_json():
        if output in known["output"]:
            break
    else:
        raise AssertionError(f"nothing answers {output}")
    names = known["output"].strip(".").split("...")
    outputs = [dict(zip(("id", "property"), name.rsplit(".", 1), strict=True)) for name in names]
    inputs = [{**part, "value": changed.get(part["id"])} for part in known["inputs"]]
    state = [{**part, "value": changed.get(f"{part['id']}.{part['property']}")} for part in known["state"]]
    causes = [part for part in inputs if part["id"] in changed][-1:]
    body = {
        "output": known["output"],
        "outputs": outputs if known["output"].startswith("..") else outputs[0],
        "inputs": inputs,
        "state": state,
        "changedPropIds": [f"{part['id']}.{part['property']}" for part in causes],
    }
    answer = client.post("/_dash-update-component", json=body)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return answer.get_json()


def test_all_ids_are_their_own(tiny: Scenario) -> None:
    found = [part.id for part in components(layout(form_of(tiny))) if getattr(part, "id", None)]

    assert sorted(found) == sorted(set(found))


def test_every_id_of_a_callback_is_on_the_page(tiny: Scenario, client: FlaskClient) -> None:
    there = {part.id for part in components(layout(form_of(tiny))) if getattr(part, "id", None)}

    for known in client.get("/_dash-dependencies").get_json():
        named = {name.rsplit(".", 1)[0] for name in known["output"].strip(".").split("...")}
        named |= {part["id"] for part in [*known["inputs"], *known["state"]]}
        assert named <= there


def test_values_that_are_sound_are_counted(client: FlaskClient) -> None:
    boxes = {"hours-box": 150, "years-box": "6", "fuel-box": 2.5, "labour-box": 80, ids.ENGINES: ["Four-stroke"]}

    told = ask(client, ids.VALUES, boxes)["response"]

    assert told[ids.VALUES]["data"] == {
        "hours": 150.0, "years": 6.0, "fuel": 2.5, "labour": 80.0, "engines": ["Four-stroke"]
    }  # fmt: skip
    assert "hours-box" not in told


def test_nonsense_leaves_the_last_values_alone(client: FlaskClient) -> None:
    boxes = {"hours-box": 1e308, "years-box": {}, "fuel-box": 2.5, "labour-box": 80, ids.ENGINES: ["Four-stroke"]}

    told = ask(client, ids.VALUES, boxes)["response"]

    assert ids.VALUES not in told
    assert told["hours-box"]["error"] == "Allowed: 0 to 1,000 h a year."
    assert told[ids.NOT_COUNTED]["children"] == text.not_counted([text.HOURS, text.YEARS])


@pytest.mark.parametrize("stored", [None, "x", {}, {"hours": 1e308}, {"engines": [["a"]]}])
def test_a_store_that_was_tampered_with_counts_as_the_file(client: FlaskClient, stored: object) -> None:
    told = ask(client, ids.ANSWER_BEFORE, {ids.VALUES: stored})["response"]

    assert told[ids.ANSWER_BEFORE]["children"].startswith("Over 4 years at 100 h a year")


@pytest.mark.parametrize("picture", [ids.ELEMENTS, ids.CUMULATIVE, ids.HOURS_CURVE])
def test_every_picture_comes_with_its_finding(client: FlaskClient, picture: str) -> None:
    told = ask(client, f"{ids.graph(picture)}.figure..", {ids.VALUES: {}})["response"]

    assert told[ids.graph(picture)]["figure"]["data"]
    assert told[ids.title(picture)]["children"]


@pytest.mark.parametrize(("scheme", "ink"), [("dark", INK["dark"]), ("light", INK["light"]), ({"x": 1}, INK["light"])])
def test_pictures_come_in_the_looks_of_the_page(client: FlaskClient, scheme: object, ink: str) -> None:
    asked = {ids.VALUES: {}, f"{ids.SCHEME}.data": scheme}

    told = ask(client, f"{ids.graph(ids.ELEMENTS)}.figure..", asked)["response"]

    assert told[ids.graph(ids.ELEMENTS)]["figure"]["layout"]["template"]["layout"]["font"]["color"] == ink


def test_the_table_is_there_only_while_it_is_open(client: FlaskClient) -> None:
    opened = ask(client, ids.ELEMENTS_TABLE, {ids.VALUES: {}, ids.ELEMENTS_OPEN: 1})
    closed = ask(client, ids.ELEMENTS_TABLE, {ids.VALUES: {}, ids.ELEMENTS_OPEN: 2})

    assert opened["response"][ids.ELEMENTS_TABLE]["children"]["type"] == "Table"
    assert closed["response"][ids.ELEMENTS_TABLE]["children"] == []


def test_what_is_shown_already_is_not_sent_again(client: FlaskClient) -> None:
    first = ask(client, ids.NOTES, {ids.VALUES: {}})["response"][ids.NOTES]["children"]

    again = ask(client, ids.NOTES, {ids.VALUES: {}, f"{ids.NOTES}.children": first})["response"]

    assert first
    assert ids.NOTES not in again


def test_headers_are_strict(client: FlaskClient) -> None:
    headers = client.get("/").headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    scripts = policy.split("script-src ")[1].split(";")[0]
    assert "unsafe" not in scripts
    assert "http" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cache-Control"] == "no-cache"


def test_what_does_not_change_is_kept_by_browsers(client: FlaskClient) -> None:
    asked = client.get("/assets/page.js?m=1")
    pictures = client.get("/_dash-component-suites/plotly/package_data/plotly.min.js")

    assert "max-age=31536000" in asked.headers["Cache-Control"]
    assert "max-age=86400" in pictures.headers["Cache-Control"]
    asked.close()


def test_a_strange_name_of_the_server_is_refused(client: FlaskClient) -> None:
    assert client.get("/", headers={"Host": "elsewhere.example"}).status_code == 400
    assert client.get("/", headers={"Host": "localhost:8050"}).status_code == 200


def test_a_huge_request_is_refused(client: FlaskClient) -> None:
    body = b"x" * (LONGEST_REQUEST + 1)

    assert client.post("/_dash-update-component", data=body, content_type="application/json").status_code == 413


def test_the_server_says_that_it_is_well(client: FlaskClient) -> None:
    assert client.get("/healthz").get_data(as_text=True) == "OK"


def test_no_path_leads_out_of_the_assets(client: FlaskClient) -> None:
    assert client.get("/assets/../app.py").status_code == 404
    assert client.get("/assets/%2e%2e/app.py").status_code == 404


def test_hosts_that_are_trusted() -> None:
    assert trusted_hosts("127.0.0.1") == ["127.0.0.1", "[::1]", "localhost"]
    assert "boat.example" in trusted_hosts("boat.example")
    assert "0.0.0.0" not in trusted_hosts("0.0.0.0")


def test_an_error_says_nothing_of_itself(app: Dash, client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> str:
        raise RuntimeError("a secret")

    monkeypatch.setattr("dashboard.answers.sentence", fails)

    answer = json.dumps(ask(client, ids.ANSWER_BEFORE, {ids.VALUES: {}}))

    assert "secret" not in answer
    assert text.TROUBLE in answer
