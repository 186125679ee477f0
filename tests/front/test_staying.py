"""A browser stays with the process that it was given."""

import pytest

from dashboard.app import build_app
from dashboard.staying import COOKIE, Places


def head(*lines: str) -> bytes:
    """The head of a request for a page, with some lines more."""
    return "\r\n".join(["GET / HTTP/1.1", "Host: localhost", *lines, "", ""]).encode("latin-1")


def test_who_comes_new_is_given_one_after_the_other() -> None:
    places = Places(3)

    assert [next(places.for_head(head())) for _ in range(6)] == [0, 1, 2, 0, 1, 2]


@pytest.mark.parametrize(
    "line",
    [
        "Cookie: served-by=2",
        "cookie:first-view=yes; served-by=2; language=es",
        'Cookie: a={"x": 1}; served-by=2',
        "Cookie: flag; served-by=2; path=/x",
        "Cookie: a[b]=ü; served-by=2",
    ],
)
def test_who_was_given_one_stays(line: str) -> None:
    places = Places(3)

    assert {next(places.for_head(head(line))) for _ in range(4)} == {2}


@pytest.mark.parametrize(
    "line",
    [
        "Cookie: served-by=3",
        "Cookie: served-by=-1",
        "Cookie: served-by=²",
        "Cookie: served-by=",
        "Cookie: served-by",
        "Cookie: ;;;=",
        "Cookie: x-served-by=2",
        "X-Cookie: served-by=2",
        "Cookie: served-by=99999999999999999999999999",
    ],
)
def test_one_that_there_is_not_counts_for_nothing(line: str) -> None:
    places = Places(3)

    assert [next(places.for_head(head(line))) for _ in range(3)] == [0, 1, 2]


def test_where_a_process_is_gone_the_others_are_tried_in_order() -> None:
    assert list(Places(3).for_head(head("Cookie: served-by=1"))) == [1, 2, 0]


def test_a_page_says_once_which_process_sent_it() -> None:
    client = build_app(place=4).server.test_client()

    assert f"{COOKIE}=4" in client.get("/").headers["Set-Cookie"]
    assert client.get_cookie(COOKIE) is not None
    assert "Set-Cookie" not in client.get("/").headers
    assert "Set-Cookie" not in client.get("/_dash-dependencies").headers


def test_the_only_process_says_nothing() -> None:
    assert "Set-Cookie" not in build_app().server.test_client().get("/").headers
