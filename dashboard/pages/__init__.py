"""One page for each question; a page is a module with `PATH`, `QUESTION`, `layout(work)` and `register(app)`.

`layout` draws the page for a work as it is; `register` has the callbacks that follow it, each with
`Input(ids.WORK, "data")` and `prevent_initial_call=True`. Only those of the page in sight run: the others' outputs are
not there. A picture that stands on several pages is registered once, in its own file, not by a page.
"""

from collections.abc import Sequence
from typing import Protocol

from dash import Dash
from dash.development.base_component import Component

from dashboard.pages import costs, counter, cover, fleet, numbers, running, service, sources, sure, when
from dashboard.work import Work


class Page(Protocol):
    """A page."""

    PATH: str
    """Where it is."""
    QUESTION: str
    """What it answers; said in the language of the moment where it is shown."""

    def layout(self, work: Work) -> list[Component]:
        """Its parts, drawn for a work."""

    def register(self, app: Dash) -> None:
        """Its callbacks."""


PAGES: Sequence[Page] = (costs, when, sure, service, cover, counter, running, fleet, sources, numbers)
"""Every page, in order of their names."""


def page_at(path: object) -> Page:
    """The page at a path; the first one where there is none."""
    return next((page for page in PAGES if path == page.PATH), PAGES[0])
