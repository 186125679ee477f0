"""Where others can reach the pages, nobody gets in without user name and password."""

import os
from base64 import b64encode

import pytest
from flask.testing import FlaskClient

from dashboard.app import build_app
from dashboard.login import PASSWORD, USER, Login, from_environment
from tests.front.test_start import started

LOGIN = Login("crew", "salt and fresh water")


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return build_app(login=LOGIN).server.test_client()


def basic(user: str, password: str) -> dict[str, str]:
    """The header that a browser sends."""
    return {"Authorization": f"Basic {b64encode(f'{user}:{password}'.encode()).decode()}"}


ADDRESSES = ("/", "/service", "/_dash-layout", "/_dash-dependencies", "/assets/page.css")


@pytest.mark.parametrize("address", ADDRESSES)
def test_with_both_everything_opens(client: FlaskClient, address: str) -> None:
    answer = client.get(address, headers=basic(LOGIN.user, LOGIN.password))

    assert answer.status_code == 200
    answer.close()


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize(
    "headers",
    [
        {},
        basic("crew", ""),
        basic("crew", "salt and fresh wate"),
        basic("Crew", "salt and fresh water"),
        basic("", ""),
        {"Authorization": "Basic x"},
        {"Authorization": "Bearer salt and fresh water"},
    ],
)
def test_without_them_nothing_does(client: FlaskClient, address: str, headers: dict[str, str]) -> None:
    answer = client.get(address, headers=headers)

    assert answer.status_code == 401
    assert answer.headers["WWW-Authenticate"].startswith("Basic")
    assert "Content-Security-Policy" in answer.headers


def test_a_callback_is_not_answered_either(client: FlaskClient) -> None:
    assert client.post("/_dash-update-component", json={}).status_code == 401


def test_whether_it_is_well_may_be_asked_by_anyone(client: FlaskClient) -> None:
    assert client.get("/healthz").status_code == 200


def test_the_password_is_never_shown() -> None:
    assert LOGIN.password not in repr(LOGIN)


def test_the_environment_may_hold_both(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(USER, raising=False)
    monkeypatch.setenv(PASSWORD, "salt and fresh water")
    assert from_environment() is None

    monkeypatch.setenv(USER, "crew")
    assert from_environment() == LOGIN


def test_an_open_address_needs_a_user_or_a_word_that_all_may_come() -> None:
    done = started("--host", "0.0.0.0")

    assert done.returncode == 2
    assert "--user NAME, or --open-to-all" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_short_password_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(os.environ, PASSWORD, "short")

    done = started("--host", "0.0.0.0", "--user", "crew")

    assert done.returncode == 2
    assert "5 of at least 8 characters" in done.stderr
