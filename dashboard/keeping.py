"""Results kept, and worked out once even when several pictures ask for one at the same moment."""

from collections.abc import Callable
from functools import lru_cache, wraps
from threading import RLock
from typing import ParamSpec, TypeVar

from model.language import Spoken, spoken

P = ParamSpec("P")
R = TypeVar("R")

KEPT = 128
"""Results kept of each kind."""


def kept(function: Callable[P, R]) -> Callable[P, R]:
    """Keep the last results of a function of hashable arguments; whoever asks while it works waits for the result."""
    lock = RLock()

    @lru_cache(maxsize=KEPT)
    def cached(_: Spoken, *args: P.args, **kwargs: P.kwargs) -> R:
        return function(*args, **kwargs)

    @wraps(function)
    def ask(*args: P.args, **kwargs: P.kwargs) -> R:
        with lock:
            return cached(spoken(), *args, **kwargs)  # type: ignore[arg-type]

    return ask
