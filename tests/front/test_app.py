"""The application: it builds, its ids are its own, its callbacks answer, its server refuses what it should."""

import json
from collections.abc import Iterator

import pytest
from dash import Dash
from dash.development.base_component import Component
from flask.testing import FlaskClient

from dashboard import fleet_ids, ids, text
from dashboard.app import build_app, layout
from dashboard.form import PATHS
from dashboard.pages import PAGES, Page, costs, cover, running, service, sure, when
from dashboard.panel import filled
from dashboard.scenarios import start
from dashboard.security import LONGEST_REQUEST, trusted_hosts
from dashboard.theme import INK
from tests.front.asking import ask
from tests.front.works import tiny_work


@pytest.fixture(scope="module")
def app() -> Dash:
    return build_app()


@pytest.fixture(scope="module")
def client(app: Dash) -> Iterator[FlaskClient]:
    with app.server.test_client() as made:
        made.get("/_dash-dependencies")  # callbacks are made ready with the first request
        yield made


def components(root: Component) -> Iterator[Component]:
    """A component and all below it."""
    yield root
    yield from (part for part in root._traverse() if isinstance(part, Component))


TINY = tiny_work()
"""The tiny comparison, opened from a file."""

PICTURES_OF_PAGES = [shown.name for page in (costs, when, sure) for shown in page.PICTURES] + [
    shown.name for shown in (service.CALENDAR, cover.COVER, running.FLOW)
]
"""Every picture."""

STORED = TINY.as_data()
"""The same as the browser keeps it."""


def ids_of(*parts: Component) -> list[str]:
    """Every id among the parts and below them."""
    return [below.id for part in parts for below in components(part) if isinstance(getattr(below, "id", None), str)]


@pytest.mark.parametrize("page", PAGES)
def test_all_ids_are_their_own(app: Dash, page: Page) -> None:
    found = ids_of(layout(app), *filled(TINY), *page.layout(TINY))

    assert sorted(found) == sorted(set(found))


def test_every_id_of_a_callback_is_on_some_page(app: Dash, client: FlaskClient) -> None:
    there = set(ids_of(layout(app), *filled(TINY), *(part for page in PAGES for part in page.layout(TINY))))
    of_fleet = {name for name in vars(fleet_ids).values() if isinstance(name, str)}  # test_fleet_page.py finds them
    there |= of_fleet | {ids.graph(name) for name in of_fleet}

    for known in client.get("/_dash-dependencies").get_json():
        named = {name.rsplit(".", 1)[0] for name in known["output"].strip(".").split("...") if "." in name}
        named |= {part["id"] for part in [*known["inputs"], *known["state"]]}
        assert {name for name in named if not name.startswith("{")} <= there


def test_values_that_are_sound_are_counted(client: FlaskClient) -> None:
    boxes = {"hours-box": 150, "years-box": "6", "fuel-box": 2.5, "labour-box": 100, "spread-box": 0}
    boxes |= {ids.HABITS: [50, 50], ids.ENGINES: ["Four-stroke"]}

    told = ask(client, "hours-box.error", {**boxes, f"{ids.WORK}.data": STORED})["response"]

    changes = {"use.hours_per_year": "150.0", "ownership.years": "6.0", "prices.fuel": "2.5"}
    assert told[ids.WORK]["data"] == {**STORED, "changes": changes, "engines": ["Four-stroke"]}
    assert told[ids.DRAFTS]["data"] == {}
    assert "hours-box" not in told


def test_nonsense_leaves_the_last_values_alone_and_is_kept_as_it_was_typed(client: FlaskClient) -> None:
    boxes = {"hours-box": 1e308, "years-box": {}, "fuel-box": 2, "labour-box": 100, "spread-box": 0}

    told = ask(
        client, "hours-box.error", {**boxes, ids.ENGINES: ["Four-stroke", "Two-stroke"], f"{ids.WORK}.data": STORED}
    )

    told = told["response"]
    assert ids.WORK not in told
    assert told[ids.DRAFTS]["data"] == {"hours": 1e308, "years": {}}
    assert told["hours-box"]["error"] == "Allowed: a number, 0 or more, at most 8,766."
    assert told["years-box"]["error"] == text.NOT_A_NUMBER
    assert told[ids.NOT_COUNTED]["children"] == text.not_counted([text.HOURS, text.YEARS])


@pytest.mark.parametrize("stored", [None, "x", {}, {"name": "../sources"}, {"name": "a", "text": "["}, [STORED]])
def test_a_store_that_was_tampered_with_counts_as_the_start(client: FlaskClient, stored: object) -> None:
    told = ask(client, ids.ANSWER_BEFORE, {ids.WORK: stored})["response"]

    assert told[ids.ANSWER_BEFORE]["children"].startswith("Over 8 years at 120\u00a0h a year")


@pytest.mark.parametrize("page", PAGES)
def test_every_page_is_drawn_for_the_work(client: FlaskClient, page: Page) -> None:
    asked = {ids.VISIBLE: page.PATH, f"{ids.WORK}.data": STORED}

    parts = ask(client, f"{ids.PAGE}.children", asked)["response"][ids.PAGE]["children"]

    assert parts[0]["props"]["children"] == page.QUESTION
    assert len(parts) > 1


def test_an_unknown_page_is_the_first_one(client: FlaskClient) -> None:
    asked = {ids.VISIBLE: "/nowhere", f"{ids.WORK}.data": STORED}

    parts = ask(client, f"{ids.PAGE}.children", asked)["response"][ids.PAGE]["children"]

    assert parts[0]["props"]["children"] == PAGES[0].QUESTION


def test_the_controls_follow_what_was_set_elsewhere(client: FlaskClient) -> None:
    stored = {**STORED, "changes": {"prices.fuel": "3.5"}}
    asked = {ids.SETTLED: 1, f"{ids.WORK}.data": stored, f"{ids.DRAFTS}.data": {"hours": "99999"}}

    drawn = json.dumps(ask(client, f"{ids.PANEL}.children", asked))

    assert '"value": 3.5' in drawn
    assert '"value": "99999"' in drawn
    assert len(PATHS) == drawn.count('"type": "NumberInput"')


@pytest.mark.parametrize("picture", PICTURES_OF_PAGES)
def test_every_picture_comes_with_its_finding(client: FlaskClient, picture: str) -> None:
    told = ask(client, f"{ids.graph(picture)}.figure..", {ids.WORK: start().as_data()})["response"]

    assert told[ids.graph(picture)]["figure"]["data"]
    assert told[ids.title(picture)]["children"]


@pytest.mark.parametrize(("scheme", "ink"), [("dark", INK["dark"]), ("light", INK["light"]), ({"x": 1}, INK["light"])])
def test_pictures_come_in_the_looks_of_the_page(client: FlaskClient, scheme: object, ink: str) -> None:
    asked = {ids.WORK: STORED, f"{ids.SCHEME}.data": scheme}

    told = ask(client, f"{ids.graph(ids.ELEMENTS)}.figure..", asked)["response"]

    assert told[ids.graph(ids.ELEMENTS)]["figure"]["layout"]["template"]["layout"]["font"]["color"] == ink


def test_the_table_is_there_only_while_it_is_open(client: FlaskClient) -> None:
    opened = ask(client, ids.ELEMENTS_TABLE, {ids.WORK: STORED, ids.ELEMENTS_OPEN: 1})
    closed = ask(client, ids.ELEMENTS_TABLE, {ids.WORK: STORED, ids.ELEMENTS_OPEN: 2})

    assert opened["response"][ids.ELEMENTS_TABLE]["children"]["type"] == "Div"
    assert closed["response"][ids.ELEMENTS_TABLE]["children"] == []


def test_what_is_shown_already_is_not_sent_again(client: FlaskClient) -> None:
    first = ask(client, ids.NOTES, {ids.WORK: STORED})["response"][ids.NOTES]["children"]

    again = ask(client, ids.NOTES, {ids.WORK: STORED, f"{ids.NOTES}.children": first})["response"]

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

    monkeypatch.setattr("dashboard.trials.sentence", fails)

    answer = json.dumps(ask(client, ids.ANSWER_BEFORE, {ids.WORK: STORED}))

    assert "secret" not in answer
    assert text.TROUBLE in answer
