"""Several processes behind one address, since one of Python works on a single processor most of the time.

A connection is handed to one of them as it comes, and only its first request's head is looked at. One that ends is
started again; until then those beside it take its browsers.
"""

import asyncio
import os
import signal
import socket
import threading
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from dashboard.serving import CONNECTIONS, Served, listening
from dashboard.staying import Places

INSIDE = "127.0.0.1"
"""Where the processes listen themselves."""

LONGEST_HEAD = 65_536
"""Of a request. [byte]"""

HEAD_WITHIN = 30.0
"""A browser that has connected asks something within that time. [s]"""

TAKEN_WITHIN = 60.0
"""Longest that a browser may take nothing of what is sent. [s]"""

BEFORE_TRYING_AGAIN = 10.0
"""So that a process that cannot start does not keep the machine busy. [s]"""

LOOKS_EVERY = 0.2
"""How often the first process looks at the others. [s]"""


def _serve(served: Served, place: int, tells: Connection) -> None:
    """One of the processes: says where it listens and what it opens on, and works until the first process ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a key on the terminal reaches all of them; the first one decides
    threading.Thread(target=_end_with_the_first, daemon=True).start()
    bound = socket.create_server((INSIDE, 0))
    server, title = listening(served, bound, place)
    tells.send((bound.getsockname()[1], title))
    server.run()


def _end_with_the_first() -> None:
    """However the first process ends, none is left behind."""
    first = parent_process()
    if first is not None:
        first.join()
        os._exit(0)


class Spread:
    """The processes, and the address in front of them."""

    def __init__(self, served: Served, number: int) -> None:
        """Start none yet."""
        self._served = served
        self._places = Places(number)
        self._ports: list[int | None] = [None] * number
        self._title = ""
        self._open = 0

    async def run(self, bound: socket.socket, say_ready: Callable[[str], None]) -> None:
        """
        Listen until the program is ended.

        Parameters
        ----------
        bound : socket
            Where users come.
        say_ready : function
            Called with the title of what the pages open on, once all processes are ready.

        Raises
        ------
        ChildProcessError
            Where a process ends before it is ready.
        """
        first = await self._start(0)  # alone, since it compiles the sums where nobody has yet
        others = await asyncio.gather(*(self._start(place) for place in range(1, self._places.number)))
        front = await asyncio.start_server(self._pass, sock=bound, limit=LONGEST_HEAD)
        say_ready(self._title)
        kept = (self._keep(place, process) for place, process in enumerate([first, *others]))
        await asyncio.gather(front.serve_forever(), *kept)

    async def _start(self, place: int) -> BaseProcess:
        """Start a process, and wait until it listens."""
        context = get_context("spawn")
        hears, tells = context.Pipe(duplex=False)
        process = context.Process(target=_serve, args=(self._served, place, tells), daemon=True)
        process.start()
        while not hears.poll():
            if not process.is_alive():
                raise ChildProcessError("A process of the pages ended before it was ready")
            await asyncio.sleep(LOOKS_EVERY)
        self._ports[place], self._title = hears.recv()
        return process

    async def _keep(self, place: int, process: BaseProcess) -> None:
        """Start another process whenever one has ended."""
        while True:
            while process.is_alive():
                await asyncio.sleep(LOOKS_EVERY)
            self._ports[place] = None
            try:
                process = await self._start(place)
            except (OSError, EOFError):
                await asyncio.sleep(BEFORE_TRYING_AGAIN)

    async def _pass(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """Hand a connection to a process, both ways, until the process ends it."""
        self._open += 1
        try:
            if self._open <= CONNECTIONS:
                head = await asyncio.wait_for(reader.readuntil(b"\r\n\r\n"), HEAD_WITHIN)
                inner_reader, inner_writer = await self._connect(head)
                inner_writer.write(head)
                asked = asyncio.create_task(_pass_on(reader, inner_writer))
                await _pass_on(inner_reader, writer)
                asked.cancel()
                await _end(inner_writer)
        except (OSError, TimeoutError, asyncio.IncompleteReadError, asyncio.LimitOverrunError):
            pass  # nothing can be said to whoever asks no whole request
        finally:
            await _end(writer)
            self._open -= 1

    async def _connect(self, head: bytes) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        """A connection to the process for a request's head, or to one beside it where that is gone."""
        for place in self._places.for_head(head):
            port = self._ports[place]
            if port is not None:
                try:
                    return await asyncio.open_connection(INSIDE, port)
                except OSError:
                    continue
        raise OSError("no process is there")


async def _pass_on(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
    """Pass on what comes until nothing more does, and say so; who takes nothing for long is given no more."""
    with suppress(OSError, TimeoutError):  # either side has gone
        while part := await reader.read(LONGEST_HEAD):
            writer.write(part)
            await asyncio.wait_for(writer.drain(), TAKEN_WITHIN)
        writer.write_eof()


async def _end(writer: asyncio.StreamWriter) -> None:
    """Close a connection, what was written still being sent to who takes it."""
    writer.close()
    try:
        await asyncio.wait_for(writer.wait_closed(), TAKEN_WITHIN)
    except (OSError, TimeoutError):
        writer.transport.abort()
