"""Makes the README's picture of the page: `python -m tests.browser.make_picture`."""

import threading
from pathlib import Path

from playwright.sync_api import sync_playwright
from werkzeug.serving import make_server

from dashboard.app import DEMO, app_of
from dashboard.form import form_of
from model.inputs.reading import read_scenario
from tests.browser.chromium import launch, until
from tests.browser.conftest import DRAWN

PICTURE = Path(__file__).with_name("page.png")
"""Where it goes."""

SIZE = {"width": 1280, "height": 900}
"""Of a desk's screen. [px]"""


def make() -> None:
    """Serve the demo, open it, take the picture."""
    app = app_of(form_of(read_scenario(DEMO).scenario))
    server = make_server("127.0.0.1", 0, app.server, threaded=True)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as playwright:
        browser = launch(playwright)
        page = browser.new_page(viewport=SIZE, color_scheme="light")
        page.goto(f"http://127.0.0.1:{server.server_port}/")
        until(page, DRAWN)
        page.screenshot(path=PICTURE)
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    make()
