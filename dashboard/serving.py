"""The pages as one process serves them: made ready before the first user comes, and listened for."""

import gc
import socket
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dashboard import library
from dashboard.app import build_app
from dashboard.login import Login
from dashboard.pages import PAGES
from dashboard.scenarios import scenario_of, start
from dashboard.security import LONGEST_REQUEST
from model.telling_out import say_preparing

THREADS = 8
"""Requests worked on at once."""

CONNECTIONS = 600
"""Kept open at once: a browser keeps six; with the usual hundred the seventeenth user waits until another leaves."""


@dataclass(frozen=True)
class Served:
    """What is served, and to whom."""

    host: str
    """The address that users know."""
    login: Login | None
    """Without which nobody is let in; None where everyone is."""
    scenario: Path | None
    """A sound scenario file that the pages open on; None for the demo."""


def warm_up() -> str:
    """Have the sums compiled before the first user comes; the title of what the pages open on."""
    say_preparing()
    work = start()
    for page in PAGES:
        page.layout(work)
    return scenario_of(work).title


def listening(served: Served, bound: socket.socket, place: int | None = None) -> tuple[Any, str]:
    """
    A server that is ready to run.

    Parameters
    ----------
    served : Served
    bound : socket
        Where it listens.
    place : int, optional
        Which of several processes this is, told to every browser.

    Returns
    -------
    waitress server
    str
        Title of what the pages open on.
    """
    import waitress

    if served.scenario is not None:
        library.offer(served.scenario)
    title = warm_up()
    server = waitress.create_server(
        build_app(served.host, served.login, place).server,
        sockets=[bound],
        threads=THREADS,
        connection_limit=CONNECTIONS,
        max_request_body_size=LONGEST_REQUEST,
        ident=None,
    )
    # What is there by now stays: looking for garbage in it once in a while would hold up every user at once.
    gc.collect()
    gc.freeze()
    return server, title
