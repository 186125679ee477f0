"""The picture of the page in the README, made anew: `python -m tests.browser.make_picture`."""

from pathlib import Path

from playwright.sync_api import ViewportSize, sync_playwright

from tests.browser.chromium import launch, until
from tests.browser.serving import DRAWN, demo, served

PLACE = Path(__file__).with_name("page.png")
"""Where it is kept."""

SIZE: ViewportSize = {"width": 1280, "height": 900}
"""What a reader sees of the page: the answer and why it is so."""


def make(place: Path = PLACE) -> Path:
    """Serve the demo, open it, keep what is seen."""
    with served(demo()) as address, sync_playwright() as playwright:
        browser = launch(playwright)
        page = browser.new_page(viewport=SIZE, color_scheme="light")
        page.goto(address)
        until(page, DRAWN)
        page.wait_for_timeout(500)
        page.screenshot(path=place)
        browser.close()
    return place


if __name__ == "__main__":
    made = make()
    print(f"{made.name}: {made.stat().st_size / 1000:.0f} kB")
