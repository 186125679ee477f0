"""The pages served in this process, for tests and pictures."""

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from dash import Dash
from werkzeug.serving import make_server

from dashboard.app import build_app
from dashboard.serving import warm_up

DRAWN = (
    "document.querySelectorAll('#elements-graph .barlayer path').length"
    " && document.querySelectorAll('#cumulative-graph .scatterlayer path').length"
    " && document.querySelectorAll('#hours-curve-graph .scatterlayer path').length"
    " && document.querySelector('#hours-box')"
    " && document.querySelector('#answer').textContent && document.querySelector('#when').textContent"
)
"""The answer is there and every picture is drawn."""


def demo() -> Dash:
    """The application on the demo scenario, its sums compiled."""
    warm_up()
    return build_app()


@contextmanager
def served(app: Dash) -> Iterator[str]:
    """The address of an application while it is served, on a free port."""
    logging.getLogger("werkzeug").setLevel(logging.ERROR)
    server = make_server("127.0.0.1", 0, app.server, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
