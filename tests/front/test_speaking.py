"""The language of the pages: chosen, asked for by the browser, and never another user's."""

import threading
from collections.abc import Iterator

import pytest
from flask.testing import FlaskClient

from dashboard import speaking
from dashboard.app import build_app
from dashboard.index import Pages
from model.language import spoken

BASE = "http://127.0.0.1/"


@pytest.fixture(scope="module")
def app() -> Pages:
    """The application; a page tells in which language it is asked for."""
    made = build_app()
    assert isinstance(made, Pages)
    made.server.add_url_rule("/spoken", "spoken", lambda: f"{spoken().language} {spoken().locale}")
    return made


@pytest.fixture
def client(app: Pages) -> Iterator[FlaskClient]:
    """A browser."""
    with app.server.test_client() as made:
        yield made


def chosen(client: FlaskClient, language: str) -> FlaskClient:
    """The browser with a language chosen."""
    client.set_cookie(speaking.COOKIE, language, domain="127.0.0.1")
    return client


def test_is_english_where_nothing_is_said(client: FlaskClient) -> None:
    assert client.get("/spoken", base_url=BASE).text == "en en"
    assert '<html lang="en">' in client.get("/", base_url=BASE).text


def test_what_is_chosen_is_in_page_and_layout(client: FlaskClient) -> None:
    chosen(client, "es")

    assert '<html lang="es">' in client.get("/", base_url=BASE).text
    assert "¿Cuál cuesta menos y por qué?" in str(client.get("/_dash-layout", base_url=BASE).json)


def test_another_language_is_offered_by_its_own_name(client: FlaskClient) -> None:
    assert "'children': 'Español'" in str(client.get("/_dash-layout", base_url=BASE).json)
    assert "'children': 'English'" in str(chosen(client, "es").get("/_dash-layout", base_url=BASE).json)


@pytest.mark.parametrize(
    ("accepted", "expected"),
    [
        ("es", "es es"),
        ("es-MX,es;q=0.9", "es es_MX"),
        ("es-ES", "es es"),
        ("de-CH,de;q=0.9", "en en"),
        ("en-US,en;q=0.9,es;q=0.8", "en en"),
        ("es-XX", "es es"),
        ("*", "en en"),
    ],
)
def test_follows_the_browser_until_something_is_chosen(client: FlaskClient, accepted: str, expected: str) -> None:
    assert client.get("/spoken", base_url=BASE, headers={"Accept-Language": accepted}).text == expected


def test_what_is_chosen_goes_before_the_browsers(client: FlaskClient) -> None:
    asked = chosen(client, "en").get("/spoken", base_url=BASE, headers={"Accept-Language": "es-MX"})

    assert asked.text == "en en"


@pytest.mark.parametrize("nonsense", ["xx", "", "../es", "es;DROP"])
def test_a_strange_choice_is_none(client: FlaskClient, nonsense: str) -> None:
    assert chosen(client, nonsense).get("/spoken", base_url=BASE).text == "en en"


def test_nothing_of_a_request_is_left_behind(client: FlaskClient) -> None:
    chosen(client, "es").get("/spoken", base_url=BASE)

    assert spoken().language == "en"


def test_users_at_once_do_not_mix(app: Pages) -> None:
    heard: dict[str, set[str]] = {"en": set(), "es": set()}

    def ask(language: str) -> None:
        with app.server.test_client() as one:
            chosen(one, language)
            heard[language] |= {one.get("/spoken", base_url=BASE).text for _ in range(50)}

    threads = [threading.Thread(target=ask, args=(language,)) for language in ("en", "es") * 2]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert heard == {"en": {"en en"}, "es": {"es es"}}


def test_a_kept_copy_knows_on_what_it_depends(client: FlaskClient) -> None:
    assert {"Cookie", "Accept-Language"} <= set(client.get("/", base_url=BASE).vary)
