"""Chromium for the tests: found, or missed with a reason; never sent anywhere but to this machine."""

import os
import shutil
import socket
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright

NAMES = ("chromium", "chromium-browser")
"""What it is called on one system or another."""

ARGUMENTS = ("--no-sandbox", "--disable-gpu", "--disable-quic")
"""It may run as root, without a screen."""

MISSING = "no Chromium on this machine (Debian: apt-get install chromium)"


def executable() -> str | None:
    """Path of Chromium, None where there is none."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def is_required() -> bool:
    """Whether a missing Chromium is a failure: where every change is checked, it is."""
    return os.environ.get("CI", "") not in ("", "0", "false")


def launch(playwright: Playwright) -> Browser:
    """Start Chromium."""
    path = executable()
    assert path is not None, MISSING
    return playwright.chromium.launch(executable_path=str(Path(path)), args=list(ARGUMENTS))


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        return int(listening.getsockname()[1])


def until(page: Page, condition: str, patience: float = 60_000.0) -> float:
    """
    Wait until a condition in JavaScript holds; the moment, in ms since the page was asked for.

    Playwright's own waiting has the page evaluate text, which the content policy rightly forbids.
    """
    look = f"""() => new Promise((done, fail) => {{
      const end = performance.now() + {patience};
      const look = () => ({condition}) ? done(performance.now())
        : performance.now() > end ? fail(new Error("not within {patience:g} ms")) : setTimeout(look, 4);
      look();
    }})"""
    return float(page.evaluate(look))
