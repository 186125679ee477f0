"""Whether the pages hold many users at once: twenty, each changing a slider every two seconds.

Run from the top of the project, on a machine that does nothing else:

    python -m tests.benchmarks.bench_load
    python -m tests.benchmarks.bench_load --minutes 1 --processes 1

Server processes of their own, as many as there are processors; users as threads of this one, each asking what a browser
asks: the callbacks come from the server's own layout and dependencies, those of one change at the same time on
connections of their own, which say by a cookie which process the user was given. An answer is
there when all that follows from a change is, on the first page. Aims: 95 % within 1.0 s, no error, memory steady.
"""

import argparse
import gzip
import json
import os
import random
import statistics
import threading
import time
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from http.client import HTTPConnection
from http.cookies import SimpleCookie
from typing import Any
from urllib.parse import urlsplit

from tests.benchmarks.bench_page import Server, processor_time, served
from tests.benchmarks.visitor import Visitor

USERS = 20
"""Users at once."""

PAUSE = 2.0
"""Between two changes of one user. [s]"""

CONNECTIONS = 6
"""Of one browser to one server, as browsers have it."""

CONTROLS = ("hours", "years", "fuel", "labour", "spread")
"""Numbers at hand on every page, each a slider with its box."""

HEADERS = {"Content-Type": "application/json", "Accept": "application/json", "Accept-Encoding": "gzip"}
"""As a browser asks, but for the packing that Python's own library knows."""

FIRST_VIEW = "first-view=yes"
"""What the pages' own code keeps as a cookie when they are opened for the first time."""


@dataclass
class Seen:
    """What the users saw."""

    answers: list[float] = field(default_factory=list)
    """Time from each change to all that follows from it. [s]"""
    requests: list[float] = field(default_factory=list)
    """Time that each single request took. [s]"""
    errors: list[str] = field(default_factory=list)
    """What went wrong."""


class Connections:
    """Of one browser to the server; they stay open, one for each thread that asks."""

    def __init__(self, address: str, seen: Seen) -> None:
        """Open none yet."""
        place = urlsplit(address)
        self.host, self.port, self.seen = str(place.hostname), int(place.port or 80), seen
        self.threads = ThreadPoolExecutor(CONNECTIONS)
        self.mine = threading.local()
        self.headers = {**HEADERS, "Cookie": "; ".join((FIRST_VIEW, *self._cookies()))}

    def _cookies(self) -> list[str]:
        """What the server has a browser keep that opens the pages, as it sends it back."""
        connection = HTTPConnection(self.host, self.port, timeout=60.0)
        connection.request("GET", "/", headers={"Cookie": FIRST_VIEW})
        cookies = SimpleCookie(connection.getresponse().getheader("Set-Cookie", ""))
        connection.close()
        return [f"{name}={cookie.value}" for name, cookie in cookies.items()]

    def ask(self, path: str, body: Any) -> Any:
        """The answer to one request, out of JSON; None where there is no news."""
        if not hasattr(self.mine, "connection"):
            self.mine.connection = HTTPConnection(self.host, self.port, timeout=60.0)
        begin, sent = time.monotonic(), None if body is None else json.dumps(body)
        try:
            self.mine.connection.request("GET" if body is None else "POST", f"/{path}", sent, self.headers)
            answer = self.mine.connection.getresponse()
            content = answer.read()
        except OSError:
            del self.mine.connection  # nothing more can be asked on it
            raise
        self.seen.requests.append(time.monotonic() - begin)
        if answer.status not in (200, 204):
            raise RuntimeError(f"{answer.status} for {path}")
        unpacked = gzip.decompress(content) if answer.getheader("Content-Encoding") == "gzip" else content
        return json.loads(unpacked) if unpacked else None


def use(address: str, number: int, end: float, seen: Seen) -> None:
    """One user: opens the pages, then moves a slider now and then, each time some slider to some place."""
    chance, connections = random.Random(number), Connections(address, seen)
    visitor = Visitor(connections.ask, together=connections.threads.map)
    visitor.open()
    time.sleep(chance.uniform(0.0, PAUSE))
    while time.monotonic() < end:
        begin = time.monotonic()
        control = chance.choice(CONTROLS)
        slider = visitor.known[f"{control}-slider"]
        steps = round((slider["max"] - slider["min"]) / slider["step"])
        value = round(slider["min"] + slider["step"] * chance.randint(1, steps), 4)
        try:
            visitor.change({(f"{control}-slider", "value"): value, (f"{control}-box", "value"): value})
            seen.answers.append(time.monotonic() - begin)
        except (OSError, RuntimeError, ValueError) as error:
            seen.errors.append(f"{control} {value}: {error}")
        time.sleep(max(0.0, begin + PAUSE - time.monotonic()))


def processes_of(first: int) -> list[int]:
    """A process and those that it has started."""
    with open(f"/proc/{first}/task/{first}/children", encoding="ascii") as file:
        return [first, *map(int, file.read().split())]


def memory(processes: Iterable[int]) -> float:
    """Memory that processes hold, what they share counted in each. [MB]"""
    held = 0.0
    for process in processes:
        with open(f"/proc/{process}/status", encoding="ascii") as file:
            held += next(float(line.split()[1]) / 1000.0 for line in file if line.startswith("VmRSS"))
    return held


def told(name: str, times: list[float]) -> str:
    """Median, 95 % and 99 % of times."""
    cuts = statistics.quantiles(times, n=100)
    return f"{name:28}{len(times):8}{cuts[49]:10.3f}{cuts[94]:10.3f}{cuts[98]:10.3f}{max(times):10.3f}"


def run(server: Server, minutes: float) -> None:
    """Let the users work, and print what they saw."""
    seen, length = Seen(), 60.0 * minutes
    processes = processes_of(server.process)
    begin, spent = time.monotonic(), sum(map(processor_time, processes))
    users = [
        threading.Thread(target=use, args=(server.address, number, begin + length, seen)) for number in range(USERS)
    ]
    for user in users:
        user.start()
    held = []
    for share in (0.1, 0.5, 0.9):
        time.sleep(max(0.0, begin + share * length - time.monotonic()))
        held.append(memory(processes))
    for user in users:
        user.join()
    took = time.monotonic() - begin
    cores = (sum(map(processor_time, processes)) - spent) / 1000.0 / took
    print(f"{USERS} users, {took:.0f} s, {len(seen.answers) / took:.1f} answers a second, {cores:.2f} cores busy")
    print(f"{'seconds':28}{'number':>8}{'median':>10}{'95 %':>10}{'99 %':>10}{'longest':>10}")
    print(told("answer (aim: 95 % in 1.0)", seen.answers))
    print(told("single request", seen.requests))
    print(f"errors (aim: none)          {len(seen.errors):8}", *seen.errors[:5], sep="\n  " if seen.errors else "")
    print("memory after a tenth, half, nine tenths, MB:", *(f"{size:.0f}" for size in held))


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=10.0)
    asked.add_argument("--processes", type=int, default=os.cpu_count())
    given = asked.parse_args()
    with served(given.processes) as server:
        run(server, given.minutes)


if __name__ == "__main__":
    main()
