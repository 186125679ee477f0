"""How quickly the first page comes, and follows a slider, in a real browser; how much it transfers.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_page

A server process of its own, Chromium beside it on the same machine, medians of five, aims beside them. The first figure
counts once its bars are there on a cold load; a key on the slider of hours, once the answer and every picture in sight
are drawn anew: with nothing that varies (deterministic), with the pages' usual trials, with 20,000. Where the machine
has few cores, browser and server take them from each other: the processor time of each is told beside.
"""

import json
import os
import re
import statistics
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, NamedTuple

from playwright.sync_api import Browser, CDPSession, Page, sync_playwright

from dashboard import library
from tests.browser.chromium import free_port, launch, until

RUNS = 5

STARTS_WITHIN = 180.0
"""Patience with a server that may have to compile first. [s]"""

STILL = 1500.0
"""After which nothing more follows from a key. [ms]"""

SIZE = {"width": 1280, "height": 900}

PICTURES = ("elements", "cumulative", "hours-curve", "by-year")
"""Those of the first page."""

DEMO = "sailing-school-launch"

VARIES = ("use.spread", "trials")
"""Tables of a scenario without which nothing varies."""

COUNT_DRAWINGS = """(names) => {
  window.drawings = {};
  window.inSight = ['answer'];
  for (const name of names) {
    const graph = document.querySelector(`#${name}-graph .js-plotly-plot`);
    graph.on('plotly_afterplot', () => { window.drawings[name] = performance.now(); });
    const place = graph.getBoundingClientRect();
    if (place.bottom > 0 && place.top < window.innerHeight) { window.inSight.push(name); }
  }
  new MutationObserver(() => { window.drawings.answer = performance.now(); }).observe(
    document.getElementById('answer'), { childList: true, subtree: true, characterData: true });
  document.addEventListener('keydown', () => { window.drawings = {}; window.pressed = performance.now(); }, true);
}"""
"""Note when each part of the page was last drawn, counted anew from each key."""

SEEN_DRAWN = "window.inSight.every((name) => name in window.drawings)"

FIRST_FIGURE = "document.querySelectorAll('#elements-graph .barlayer path').length > 0"


class Server(NamedTuple):
    """The pages in a process of their own."""

    address: str
    """Where they are."""
    process: int
    """Its id."""


@contextmanager
def served(processes: int = 1) -> Iterator[Server]:
    """The pages in processes of their own, as `python -m dashboard` serves them."""
    port = free_port()
    command = [sys.executable, "-m", "dashboard", "--port", str(port), "--processes", str(processes)]
    server = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        address, end = f"http://127.0.0.1:{port}/", time.monotonic() + STARTS_WITHIN
        while not _answers(f"{address}healthz"):
            if time.monotonic() > end or server.poll() is not None:
                raise RuntimeError("the server did not start")
            time.sleep(0.2)
        yield Server(address, server.pid)
    finally:
        server.terminate()
        server.wait()


def _answers(address: str) -> bool:
    """Whether something is there."""
    try:
        urllib.request.urlopen(address, timeout=1).close()
    except OSError:
        return False
    return True


def processor_time(process: int) -> float:
    """Processor time that a process has taken. [ms]"""
    with open(f"/proc/{process}/stat", encoding="ascii") as file:
        parts = file.read().rpartition(")")[2].split()
    return 1000.0 * (int(parts[11]) + int(parts[12])) / os.sysconf("SC_CLK_TCK")


def cold_load(browser: Browser, address: str) -> tuple[float, float, float]:
    """One cold page load: time to the answer and to the first figure, and what was transferred. [ms, ms, byte]"""
    context = browser.new_context(viewport=SIZE)  # type: ignore[arg-type]
    page = context.new_page()
    network, sizes = context.new_cdp_session(page), list[float]()
    network.send("Network.enable")
    network.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    page.goto(address, wait_until="commit")
    answered = until(page, "document.querySelector('#answer')?.textContent")
    drawn = until(page, FIRST_FIGURE)
    page.wait_for_timeout(500)
    context.close()
    return answered, drawn, sum(sizes)


@dataclass(frozen=True)
class Moved:
    """What a key on a slider took."""

    answer: float
    """To the new answer. [ms]"""
    first_picture: float
    """To the first picture. [ms]"""
    seen: float
    """To the answer and every picture in sight. [ms]"""
    server: float
    """Processor time of the server, everything that followed. [ms]"""
    page: float
    """Time of the browser's page. [ms]"""


def moved(page: Page, metrics: CDPSession, server: Server) -> Moved:
    """One key on the slider of hours."""
    server_before, page_before = processor_time(server.process), _task_time(metrics)
    page.get_by_role("slider", name="Running hours").press("ArrowRight")
    until(page, SEEN_DRAWN)
    times = page.evaluate("Object.assign({pressed: window.pressed}, window.drawings)")
    page.wait_for_timeout(STILL)
    pressed = times.pop("pressed")
    seen = page.evaluate("window.inSight")
    return Moved(
        times["answer"] - pressed,
        times["elements"] - pressed,
        max(times[name] for name in seen) - pressed,
        processor_time(server.process) - server_before,
        _task_time(metrics) - page_before,
    )


def _task_time(metrics: CDPSession) -> float:
    """Time that the page's own thread has been at work. [ms]"""
    found = {entry["name"]: entry["value"] for entry in metrics.send("Performance.getMetrics")["metrics"]}
    return 1000.0 * float(found["TaskDuration"])


def moves(browser: Browser, server: Server, work: dict[str, Any]) -> list[Moved]:
    """Keys on the slider of hours, on a work that the browser kept."""
    context = browser.new_context(viewport=SIZE)  # type: ignore[arg-type]
    page = context.new_page()
    kept = json.dumps({"work": work, "drafts": {}, "steps": []})
    page.add_init_script(f"localStorage.setItem('outboard-costs', {json.dumps(kept)})")
    page.goto(server.address)
    until(page, FIRST_FIGURE)
    page.wait_for_timeout(2.0 * STILL)
    page.evaluate(COUNT_DRAWINGS, list(PICTURES))
    metrics = context.new_cdp_session(page)
    metrics.send("Performance.enable")
    found = [moved(page, metrics, server) for _ in range(RUNS)]
    context.close()
    return found


def nothing_varies() -> dict[str, Any]:
    """The demo as a file of one's own, without what varies from trial to trial."""
    parts = re.split(r"^(?=\[)", library.files()[DEMO].read_text(encoding="utf-8"), flags=re.MULTILINE)
    kept = [part for part in parts if part[1:].partition("]")[0] not in VARIES]
    return {"name": f"{DEMO}.toml", "text": "".join(kept), "changes": {}, "engines": []}


def row(name: str, values: list[float], aim: str = "") -> str:
    """One line of the table."""
    each = " ".join(f"{value:.0f}" for value in values)
    return f"{name:46}{statistics.median(values):8.0f}{aim:>8}   {each}"


def main() -> None:
    """Print the table."""
    with served() as server, sync_playwright() as playwright:
        browser = launch(playwright)
        loads = [cold_load(browser, server.address) for _ in range(RUNS)]
        print(f"{'':46}{'median':>8}{'aim':>8}   all")
        print(row("answer, cold, ms", [load[0] for load in loads]))
        print(row("first figure, cold, ms", [load[1] for load in loads], "2000"))
        print(row("transferred, kB", [load[2] / 1000.0 for load in loads], "2500"))
        demo: dict[str, Any] = {"name": DEMO, "changes": {}, "engines": []}
        kinds = (
            ("deterministic", nothing_varies(), "300"),
            ("4,096 trials", demo, ""),
            ("20,000 trials", {**demo, "trials": 20_000}, "400"),
        )
        for kind, work, aim in kinds:
            found = moves(browser, server, work)
            print(row(f"{kind}: answer after a key, ms", [move.answer for move in found]))
            print(row(f"{kind}: first picture, ms", [move.first_picture for move in found]))
            print(row(f"{kind}: answer and all in sight, ms", [move.seen for move in found], aim))
            print(row(f"{kind}: server's processor time, ms", [move.server for move in found]))
            print(row(f"{kind}: page's own time, ms", [move.page for move in found]))
        browser.close()


if __name__ == "__main__":
    main()
