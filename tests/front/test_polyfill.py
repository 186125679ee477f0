"""Of what older browsers lacked, the one piece that Dash's parts need is begun; what nobody needs is not asked for."""

import re

from dashboard import polyfill
from dashboard.app import build_app

MADE_UP = "load({1:[function(t){t(2)},{2:2}],17:[function(t){try{regeneratorRuntime=t}catch(e){}},{}]},{},[1]);"
"""Code put together as the real one is."""


def test_the_one_piece_is_begun() -> None:
    assert polyfill.with_piece(MADE_UP).endswith("},{},[17]);\n")


def test_code_put_together_in_another_way_is_sent_as_it_is() -> None:
    assert polyfill.with_piece("no pieces;") == "no pieces;"
    assert polyfill.with_piece("{regeneratorRuntime=1}") == "{regeneratorRuntime=1}"


def test_the_installed_one_begins_the_piece_alone() -> None:
    sent = polyfill.polyfill().decode()

    begun = re.search(r"\[(\d+)\]\);\n$", sent)
    assert begun is not None
    piece = sent[sent.index(f"{begun[1]}:[function(") :]
    after = polyfill.HEAD.search(piece, len(begun[1]) + 1)
    assert after is not None
    assert polyfill.PIECE in piece[: after.start()]


def test_the_page_asks_for_it_in_place_of_all_and_for_no_tables() -> None:
    client = build_app().server.test_client()
    place = polyfill.address("/")

    page = client.get("/").get_data(as_text=True)
    answer = client.get(place)

    assert f'<script src="{place}"></script>' in page
    assert "polyfill@" not in page
    assert "/dash_table/" not in page
    assert (answer.status_code, answer.mimetype) == (200, "text/javascript")
    assert "max-age=31536000" in answer.headers["Cache-Control"]
