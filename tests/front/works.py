"""Works for the tests: the tiny comparison as a file that somebody opened."""

from typing import Any

import tomlkit

from dashboard.work import Work
from tests.tiny import content_of_two_engines


def tiny_work(**tables: Any) -> Work:
    """The two-stroke and the four-stroke with round numbers, tables of the owner replaced by key."""
    return Work("tiny.toml", tomlkit.dumps(content_of_two_engines(**tables)))
