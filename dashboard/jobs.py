"""Long runs in the background: how far they are, how long they still take, and how to stop them.

A run belongs to whoever started it and is known by a name that nobody can guess. What it found is forgotten after a
while, and nothing is written to disk.
"""

import secrets
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from dataclasses import dataclass, field
from threading import Event, Lock
from typing import Any

AT_ONCE = 2
"""Runs worked on at the same time; later ones wait their turn."""

MOST_KEPT = 32
"""Runs that are remembered; the oldest are stopped and forgotten."""

FORGOTTEN_AFTER = 30.0
"""Seconds without a question after which a run is stopped: its page has been closed. [s]"""


class StoppedError(Exception):
    """A run was stopped."""


@dataclass
class Job:
    """One run."""

    key: Any
    """What is worked out; whoever asks for the same may take the result."""
    stage: str = ""
    """What it does at the moment, in words."""
    done: int = 0
    """Parts of this stage that are finished."""
    of: int = 0
    """Parts of this stage; 0 while it is not known, or waits its turn."""
    result: Any = None
    """What has been found so far."""
    version: int = 0
    """How often that has changed."""
    is_over: bool = False
    """Whether nothing more comes."""
    failed: BaseException | None = None
    """What went wrong, if anything."""
    stop: Event = field(default_factory=Event)
    """Set when nobody wants it any more."""
    asked: float = field(default_factory=time.monotonic)
    """When somebody last asked for it. [s]"""
    since: float = 0.0
    """When this stage began. [s]"""
    over: Event = field(default_factory=Event)
    """Set when it is over."""

    def tell(self, stage: str, done: int, of: int) -> None:
        """
        Say how far the run is; called by the run itself.

        Parameters
        ----------
        stage : str
            What it does, in words.
        done, of : int
            Parts finished, of how many.

        Raises
        ------
        StoppedError
            If nobody wants it any more.
        """
        if self.stop.is_set() or time.monotonic() - self.asked > FORGOTTEN_AFTER:
            raise StoppedError
        if stage != self.stage:
            self.since = time.monotonic()
        self.stage, self.done, self.of = stage, done, of

    def publish(self, result: Any) -> None:
        """Hand over what has been found so far; called by the run itself."""
        self.result = result
        self.version += 1

    def seconds_left(self) -> float | None:
        """How long this stage still takes at its pace; None while that is not known. [s]"""
        if self.done == 0 or self.of == 0:
            return None
        return (time.monotonic() - self.since) / self.done * (self.of - self.done)


class Jobs:
    """All runs of the server."""

    def __init__(self, at_once: int = AT_ONCE) -> None:
        """Begin without any."""
        self._jobs: dict[str, Job] = {}
        self._lock = Lock()
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix="job")

    def start(self, key: Any, work: Callable[[Job], None]) -> str:
        """
        Start a run.

        Parameters
        ----------
        key : Any
            What is worked out.
        work : function
            Given its job, it tells how far it is and publishes what it finds.

        Returns
        -------
        str
            The name by which it is asked for.
        """
        name, job = secrets.token_urlsafe(16), Job(key)
        with self._lock:
            while len(self._jobs) >= MOST_KEPT:
                self._jobs.pop(next(iter(self._jobs))).stop.set()
            self._jobs[name] = job
        # In the language of whoever asks, which belongs to the request.
        self._threads.submit(copy_context().run, self._run, job, work)
        return name

    def _run(self, job: Job, work: Callable[[Job], None]) -> None:
        """Work on a run to its end, whatever that is."""
        try:
            job.tell("", 0, 0)
            work(job)
        except StoppedError:
            pass
        except Exception as error:
            job.failed = error
        finally:
            job.is_over = True
            job.over.set()

    def get(self, name: object) -> Job | None:
        """The run of a name; None where there is none, or it is forgotten."""
        with self._lock:
            job = self._jobs.get(name) if isinstance(name, str) else None
        if job is not None:
            job.asked = time.monotonic()
        return job

    def stop(self, name: object) -> None:
        """Stop a run: it ends after the part that it is at, and is forgotten."""
        with self._lock:
            job = self._jobs.pop(name, None) if isinstance(name, str) else None
        if job is not None:
            job.stop.set()


JOBS = Jobs()
"""Those of this server."""
