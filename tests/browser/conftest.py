"""The pages in Chromium: served in this process, watched for errors and for requests to anywhere else."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect, sync_playwright

from tests.browser.chromium import MISSING, executable, is_required, launch, until
from tests.browser.serving import DRAWN, demo, served

WAIT = 60_000
"""Patience on a busy machine. [ms]"""

expect.set_options(timeout=WAIT)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests; without one they are skipped, or fail where it is required."""
    if executable() is None:
        (pytest.fail if is_required() else pytest.skip)(MISSING)
    with sync_playwright() as playwright:
        started = launch(playwright)
        yield started
        started.close()


@pytest.fixture(scope="package")
def address() -> Iterator[str]:
    """Where the pages are served, on the demo scenario."""
    with served(demo()) as place:
        yield place


@pytest.fixture(scope="package")
def shared(browser: Browser) -> Iterator[BrowserContext]:
    """One user's browser, which keeps the large files from page to page."""
    context = browser.new_context()
    context.set_default_timeout(WAIT)
    yield context
    context.close()


Opener = Callable[..., Page]
"""Width, height and scheme -> the page, drawn."""


@pytest.fixture
def open_page(shared: BrowserContext, address: str) -> Iterator[Opener]:
    """Opens the page; at the end nothing may have gone wrong in it or been asked of anyone else."""
    pages, told, outside = list[Page](), list[str](), list[str]()

    def guard(route: Route) -> None:
        if route.request.url.startswith(address):
            route.continue_()
        else:
            outside.append(route.request.url)
            route.abort()

    def opened(width: int = 1280, height: int = 900, scheme: str = "light") -> Page:
        page = shared.new_page()
        pages.append(page)
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        page.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: told.append(str(error)))
        page.add_init_script("localStorage.clear()")  # a look chosen in an earlier test
        page.route("**/*", guard)
        page.goto(address)
        until(page, DRAWN)
        return page

    yield opened
    for page in pages:
        page.unroute("**/*")
        page.close()
    assert told == []
    assert outside == []
