"""What the first page is laid out with, by what the browser says of itself."""

from dashboard import frame, trials
from dashboard.app import build_app
from dashboard.scenarios import start
from dashboard.work import Work

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


def test_any_other_view_waits_for_what_the_browser_brings() -> None:
    for found in (laid_out(None), laid_out("no"), laid_out("<script>")):
        assert figure_of(start()) not in found
        assert '"elements-graph"' not in found
        assert '"hours-slider"' not in found
        assert '"waiting"' in found
