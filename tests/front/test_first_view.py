"""What the first page is laid out with, by what the browser says of itself."""

from typing import NoReturn

import pytest

from dashboard import frame, trials
from dashboard.app import build_app
from dashboard.scenarios import start
from dashboard.work import Work
from model.inputs.problems import InputError, Problem
from model.language import speaking

BASE = "http://127.0.0.1:8050"


def laid_out(first_view: str | None) -> str:
    """The layout, in JSON's text."""
    client = build_app().server.test_client()
    if first_view is not None:
        client.set_cookie(frame.FIRST_VIEW, first_view, domain="127.0.0.1")
    return client.get("/_dash-layout", base_url=BASE).get_data(as_text=True)


def figure_of(work: Work) -> str:
    """The figure of the answer."""
    return str(trials.sentence(work)[1])


def test_a_first_view_holds_answer_controls_and_pictures() -> None:
    found = laid_out("yes")

    assert figure_of(start()) in found
    assert '"elements-graph"' in found
    assert '"hours-slider"' in found


def test_a_layout_kept_for_one_browser_is_not_for_another() -> None:
    answer = build_app().server.test_client().get("/_dash-layout", base_url=BASE)

    assert "Cookie" in answer.vary
    assert answer.headers["Cache-Control"] == "no-cache"


def test_a_broken_file_leaves_the_first_view_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: Work) -> NoReturn:
        raise InputError([Problem("demo.toml", "use", "nothing", "a table")])

    monkeypatch.setattr(frame, "scenario_of", broken)

    assert '"waiting"' in laid_out("yes")


def test_any_other_view_waits_for_what_the_browser_brings() -> None:
    for found in (laid_out(None), laid_out("no"), laid_out("<script>")):
        assert figure_of(start()) not in found
        assert '"elements-graph"' not in found
        assert '"hours-slider"' not in found
        assert '"waiting"' in found


def test_the_first_page_is_laid_out_once_in_each_language() -> None:
    rooms = [frame.page_room(start()) for _ in range(2)]
    with speaking("es"):
        rooms.append(frame.page_room(start()))

    pictures = [room.children[1] for room in rooms]
    assert pictures[1] is pictures[0]
    assert str(rooms[2].children[0]) != str(rooms[0].children[0])
