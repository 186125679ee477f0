"""How quickly the first page comes, and follows a slider, in a real browser; how much it transfers.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_page

A server process of its own, Chromium beside it on the same machine, medians of five. Aims: the first figure within
2.0 s of a cold page load, all pictures repainted within 300 ms of a key on a slider, at most 2.5 MB transferred.
"""

import statistics
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.chromium import free_port, launch, until

RUNS = 5

COUNT_DRAWINGS = """() => {
  window.drawings = {};
  for (const name of ['elements', 'cumulative', 'hours-curve']) {
    const graph = document.querySelector(`#${name}-graph .js-plotly-plot`);
    graph.on('plotly_afterplot', () => { window.drawings[name] = performance.now(); });
  }
  new MutationObserver(() => { window.drawings.answer = performance.now(); }).observe(
    document.getElementById('answer'), { childList: true, subtree: true, characterData: true });
  document.addEventListener('keydown', () => { window.drawings = {}; window.pressed = performance.now(); }, true);
}"""
"""Note when each part of the page was last drawn, counted anew from each key."""

ALL_DRAWN = "Object.keys(window.drawings).length === 4"

FIRST_FIGURE = "document.querySelectorAll('#elements-graph .barlayer path').length > 0"


@contextmanager
def served() -> Iterator[str]:
    """The pages in a process of their own, as `python -m dashboard` serves them."""
    port = free_port()
    command = [sys.executable, "-m", "dashboard", "--port", str(port)]
    server = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        address = f"http://127.0.0.1:{port}/"
        for _ in range(300):
            try:
                urllib.request.urlopen(f"{address}healthz", timeout=1).close()
                break
            except OSError:
                time.sleep(0.2)
        yield address
    finally:
        server.terminate()
        server.wait()


def cold_load(browser: Browser, address: str) -> tuple[float, float]:
    """One cold page load: time to the first figure and what was transferred. [ms, byte]"""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    network, sizes = context.new_cdp_session(page), list[float]()
    network.send("Network.enable")
    network.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    page.goto(address, wait_until="commit")
    drawn = until(page, FIRST_FIGURE)
    page.wait_for_timeout(500)
    context.close()
    return drawn, sum(sizes)


def moved(page: Page, key: str) -> tuple[float, float]:
    """One key on the slider of hours: time to the new answer and to the last new picture. [ms]"""
    page.get_by_role("slider", name="Running hours").press(key)
    until(page, ALL_DRAWN)
    page.wait_for_timeout(300)
    times = page.evaluate("Object.assign({pressed: window.pressed}, window.drawings)")
    pressed = times.pop("pressed")
    return times["answer"] - pressed, max(times.values()) - pressed


def main() -> None:
    """Print the table."""
    with served() as address, sync_playwright() as playwright:
        browser = launch(playwright)
        loads = [cold_load(browser, address) for _ in range(RUNS)]
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(address)
        until(page, FIRST_FIGURE)
        page.wait_for_timeout(1500)
        page.evaluate(COUNT_DRAWINGS)
        moves = [moved(page, "ArrowRight") for _ in range(RUNS)]
        browser.close()
    rows = (
        ("first figure, cold, ms", [load[0] for load in loads], 2000.0),
        ("transferred, kB", [load[1] / 1000.0 for load in loads], 2500.0),
        ("new answer after a key, ms", [move[0] for move in moves], 300.0),
        ("all pictures after a key, ms", [move[1] for move in moves], 300.0),
    )
    print(f"{'':32}{'median':>8}{'aim':>8}   all")
    for name, values, aim in rows:
        each = " ".join(f"{value:.0f}" for value in values)
        print(f"{name:32}{statistics.median(values):8.0f}{aim:8.0f}   {each}")


if __name__ == "__main__":
    main()
