"""Fixed groups of units as tasks on any executor; partial results come back in the order of the groups.

The groups do not depend on how many workers there are, and partial sums are added in their order, so the same fleet
gives the same bits in one process, in threads, in several processes or on a cluster.
"""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from enum import StrEnum
from typing import Any, TypeVar

from model.compiling import sources_hash

UNITS_OF_A_GROUP = 25
"""Units of one task."""

MOST_THREADS = 4
"""Workers up to which trials run in threads: what of them is not compiled, about a fifth, runs one at a time."""

Item = TypeVar("Item")
Result = TypeVar("Result")


class Workers(StrEnum):
    """Where tasks run."""

    HERE = "here"
    THREADS = "threads"
    PROCESSES = "processes"


def workers_for_trials(number: int) -> Workers:
    """Where trials run: threads start at once and hand no results over; more than a few would wait for one another."""
    return Workers.THREADS if number <= MOST_THREADS else Workers.PROCESSES


class InProcess(Executor):
    """An executor that runs each task when it is submitted: no threads, no pickling."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Run a task now; what it returns or raises is in the future."""
        future: Future[Any] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


def groups_of(items: Sequence[Item], size: int = UNITS_OF_A_GROUP) -> list[Sequence[Item]]:
    """
    Items in groups of a fixed size, the last one perhaps smaller.

    >>> groups_of([1, 2, 3], 2)
    [[1, 2], [3]]
    """
    return [items[begin : begin + size] for begin in range(0, len(items), size)]


@contextmanager
def executor_of(workers: Workers, number: int, dask_address: str | None = None) -> Iterator[Executor]:
    """
    An executor for the time of a `with` block.

    Parameters
    ----------
    workers : Workers
        In this process, in threads, or in processes of this machine.
    number : int
        How many threads or processes.
    dask_address : str, optional
        Scheduler of a running Dask cluster, whose workers are used in place of all these.

    Yields
    ------
    concurrent.futures.Executor

    Raises
    ------
    ImportError
        If a Dask address is given and Dask is not installed.
    ConnectionError
        If no cluster answers there, or one without workers or without this project.
    """
    if dask_address is not None:
        import distributed

        connect: Any = distributed.Client
        try:
            client = connect(dask_address, timeout=10)
        except (OSError, ValueError) as error:
            raise ConnectionError(str(error)) from error
        with client:
            require_same_sources(client)
            yield client.get_executor()
    elif workers is Workers.HERE or number <= 1:
        yield InProcess()
    elif workers is Workers.THREADS:
        with ThreadPoolExecutor(number) as threads:
            yield threads
    else:
        import multiprocessing

        # Started afresh: a copy of a process with compiled code and threads in it may hang.
        context = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(number, mp_context=context) as processes:
            yield processes


def require_same_sources(client: Any) -> None:
    """
    Make sure that a cluster has workers, and that all of it has this very project.

    Parameters
    ----------
    client : distributed.Client

    Raises
    ------
    ConnectionError
        If it has not.
    """
    own = sources_hash()

    # Sent by value, as it is no function of a module: the cluster may not have the project at all.
    def has_them() -> bool:
        try:
            return bool(__import__("model.compiling", fromlist=["sources_hash"]).sources_hash() == own)
        except ImportError:
            return False

    found = {"the scheduler": client.run_on_scheduler(has_them), **client.run(has_them)}
    if len(found) == 1:
        raise ConnectionError("a scheduler without workers")
    without = [str(name) for name, has in found.items() if not has]
    if without:
        raise ConnectionError(f"{', '.join(without)[:120]}: without these sources of the project on the path")


def in_order(
    executor: Executor,
    task: Callable[[Item], Result],
    items: Sequence[Item],
    done: Callable[[int, int], None] = lambda _done, _all: None,
) -> Iterator[Result]:
    """
    Results of a task for every item, in the order of the items.

    Parameters
    ----------
    executor : concurrent.futures.Executor
    task : function
        Of one item; a function of a module, or a partial of one, where other processes run it.
    items : sequence
    done : function, optional
        Told after each result how many there are, of how many.

    Yields
    ------
    Result
        When the caller stops early, tasks that have not begun are not run.
    """
    if isinstance(executor, InProcess):
        for number, item in enumerate(items, start=1):
            yield task(item)
            done(number, len(items))
        return
    futures = deque(executor.submit(task, item) for item in items)
    try:
        for number in range(1, len(items) + 1):
            yield futures.popleft().result()  # taken from the queue, so that no result is kept once it is used
            done(number, len(items))
    finally:
        for future in futures:
            future.cancel()
