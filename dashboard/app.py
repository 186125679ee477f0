"""The application: frame and pages put together, ready to be served."""

from typing import Any, cast

import dash_mantine_components as dmc
from dash import Dash, html, set_props

from dashboard import (
    drawer,
    frame,
    ids,
    index,
    opening,
    panel,
    picture_code,
    polyfill,
    security,
    sending,
    shown_as,
    speaking,
    staying,
    text,
)
from dashboard.login import Login, require
from dashboard.pages import PAGES
from dashboard.sheet import asking
from dashboard.theme import MANTINE
from model.language import say


def build_app(host: str = "127.0.0.1", login: Login | None = None, place: int | None = None) -> Dash:
    """
    The application, answering to the names of a host.

    Parameters
    ----------
    host : str
        The address that is listened on.
    login : Login, optional
        Without which nobody is let in.
    place : int, optional
        Which of several processes this is; None for the only one.

    Returns
    -------
    Dash
        It opens on `scenarios.start()` and offers `library.files()`.
    """
    app = index.Pages(
        __name__,
        server=cast(Any, sending.server(__name__)),
        title=text.APP,
        update_title="",
        serve_locally=True,
        compress=True,
        enable_mcp=False,
        health_endpoint="healthz",
        on_error=_say_trouble,
        suppress_callback_exceptions=True,  # the parts of a page are there only while it is in sight; a test knows all
    )
    base = app.config.requests_pathname_prefix
    app.index_string = index.INDEX.replace("{base}", base).replace("{picture_code}", picture_code.address(base))
    for code in (picture_code, polyfill):
        code.register(app.server, app.config.routes_pathname_prefix)
    app.layout = lambda: layout(app)  # at each load, in its language
    speaking.register(app.server)
    frame.register(app)
    panel.register(app)
    drawer.register(app)
    opening.register(app)
    asking.register(app)
    for page in PAGES:
        page.register(app)
    security.secure(app, host)
    if login is not None:
        require(app.server, login)
    if place is not None:
        staying.tell(app.server, place)
    return app


def layout(app: Dash) -> dmc.MantineProvider:
    """What stands on every page; the whole first page at once, for whoever comes new to it."""
    work = frame.first_work()
    results = [frame.answer(work), frame.page_names(app), frame.page_room(work), frame.notes(work)]
    return dmc.MantineProvider(
        theme=MANTINE,
        defaultColorScheme="auto",
        children=[
            *frame.stores(work),
            frame.said(),
            frame.bar(app, work),
            drawer.room(),
            opening.room(),
            asking.room(app),
            shown_as.room(app),
            html.Div([panel.room(work), html.Main(results, id=ids.RESULTS, className="results")], className="frame"),
        ],
    )


def _say_trouble(_: Exception) -> None:
    """What a user is told when a callback fails: a fixed sentence, nothing of the error."""
    set_props(ids.TROUBLE, {"children": say(text.TROUBLE)})
