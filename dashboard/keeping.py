"""Results kept, and worked out once even when several pictures ask for one at the same moment."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from functools import wraps
from threading import Lock
from typing import Any, ParamSpec, TypeVar

from model.language import spoken

P = ParamSpec("P")
R = TypeVar("R")

KEPT = 48
"""Results kept of each kind: enough for the users of a moment; all kinds together take some 3 MB for each work."""

FEW = 16
"""Results kept of a kind that is large."""


ON_A_SHELF = 12
"""Large results kept of each kind; one of a fleet of 5,000 units takes some megabytes."""


def kept(function: Callable[P, R]) -> Callable[P, R]:
    """Keep the last results of a function of hashable arguments; whoever asks while one is worked out waits for it."""
    return _keeping(function, KEPT)


def kept_few(function: Callable[P, R]) -> Callable[P, R]:
    """The same for results of some megabytes each."""
    return _keeping(function, FEW)


def _keeping(function: Callable[P, R], most: int) -> Callable[P, R]:
    """Keep so many results; one that takes long holds up nobody who asks for another."""
    lock = Lock()
    results: OrderedDict[Hashable, Future[R]] = OrderedDict()

    @wraps(function)
    def ask(*args: P.args, **kwargs: P.kwargs) -> R:
        key = (spoken(), args, tuple(sorted(kwargs.items())))
        with lock:
            found = results.get(key)
            is_new = found is None
            if found is None:
                found = results[key] = Future()
                while len(results) > most:
                    results.popitem(last=False)
            else:
                results.move_to_end(key)
        if not is_new:
            return found.result()
        try:
            found.set_result(function(*args, **kwargs))
        except BaseException as error:
            with lock:
                results.pop(key, None)
            found.set_exception(error)
            raise
        return found.result()

    return ask


class Shelf:
    """The last results of one kind."""

    def __init__(self, most: int = ON_A_SHELF) -> None:
        """Begin empty."""
        self._most = most
        self._kept: OrderedDict[Hashable, Any] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], Any]) -> Any:
        """
        The result of a key, worked out where it is not kept.

        Parameters
        ----------
        key : Hashable
            The language of the moment belongs to it.
        make : function
            Works it out; when that is stopped, nothing is kept.
        """
        whole = (spoken(), key)
        with self._lock:
            if whole in self._kept:
                self._kept.move_to_end(whole)
                return self._kept[whole]
        found = make()
        with self._lock:
            self._kept[whole] = found
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return found

    def peek(self, key: Hashable) -> Any:
        """The result of a key, None where it is not kept."""
        with self._lock:
            return self._kept.get((spoken(), key))
