"""Several processes behind one address, as `python -m dashboard --processes 2` starts them."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path

import pytest

from dashboard.staying import COOKIE
from tests.rules.project import ROOT

pytestmark = pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="the processes are found in Linux's /proc")

WITHIN = 120.0
"""Longest wait for what must come. [s]"""


@dataclass
class Running:
    """The pages, served by two processes and the one in front of them."""

    process: subprocess.Popen[str]
    """The one in front."""
    port: int
    """Where it listens."""

    def get(self, address: str, cookie: str = "") -> tuple[int, str, bytes]:
        """Status, cookie set and content of one answer on a connection of its own."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=WITHIN)
        connection.request("GET", address, headers={"Cookie": cookie} if cookie else {})
        answer = connection.getresponse()
        found = answer.status, answer.getheader("Set-Cookie", ""), answer.read()
        connection.close()
        return found

    def answers(self, cookie: str) -> bool:
        """Whether a browser is answered; what was asked of a process as it ended is not."""
        try:
            return self.get("/healthz", cookie)[0] == 200
        except ConnectionError:
            return False

    def workers(self) -> set[int]:
        """The processes that serve."""
        found = set()
        for name in Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text().split():
            if "spawn_main" in _command_of(int(name)):
                found.add(int(name))
        return found


def _command_of(process: int) -> str:
    """How a process was started; empty where there is none."""
    try:
        return Path(f"/proc/{process}/cmdline").read_text()
    except OSError:
        return ""


def wait_until(is_so: Callable[[], bool]) -> None:
    """Wait for something that must come."""
    end = time.monotonic() + WITHIN
    while not is_so():
        assert time.monotonic() < end, "it did not come"
        time.sleep(0.1)


@contextmanager
def running() -> Iterator[Running]:
    """Started, and ready."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "dashboard", "--port", str(port), "--processes", "2"]
    with subprocess.Popen(command, cwd=ROOT, stderr=subprocess.PIPE, text=True, start_new_session=True) as process:
        assert process.stderr is not None
        for line in process.stderr:
            if f"http://127.0.0.1:{port}/" in line:
                break
        yield Running(process, port)
        process.kill()


@pytest.fixture(scope="module")
def pages() -> Iterator[Running]:
    with running() as found:
        yield found


def test_two_browsers_are_served_by_two_processes_and_stay_there(pages: Running) -> None:
    cookies = {pages.get("/")[1].split(";")[0] for _ in range(2)}

    assert cookies == {f"{COOKIE}=0", f"{COOKIE}=1"}
    assert all(pages.get("/", cookie)[:2] == (200, "") for cookie in cookies)


@pytest.mark.parametrize("address", ["/_dash-layout", "/_dash-dependencies"])
def test_both_say_the_same(pages: Running, address: str) -> None:
    first, second = (pages.get(address, f"{COOKIE}={place}") for place in (0, 1))

    assert first[0] == second[0] == 200
    assert json.loads(first[2]) == json.loads(second[2])


def test_one_connection_takes_many_requests(pages: Running) -> None:
    connection = HTTPConnection("127.0.0.1", pages.port, timeout=WITHIN)
    for _ in range(5):
        connection.request("GET", "/healthz")
        answer = connection.getresponse()
        assert (answer.status, answer.read()) == (200, b"OK")
    connection.close()


@pytest.mark.parametrize(
    ("sent", "begins"),
    [
        (b"nonsense\r\n\r\n", b"HTTP/1.0 400"),
        (b"GET / HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n", b"HTTP/1.1 400"),
        (b"GET / HTTP/1.1\r\nCookie: " + b"x" * 100_000 + b"\r\n\r\n", b""),
    ],
    ids=["no request", "another host's name", "an endless head"],
)
def test_nonsense_ends_its_own_connection_only(pages: Running, sent: bytes, begins: bytes) -> None:
    with socket.create_connection(("127.0.0.1", pages.port), timeout=WITHIN) as connection:
        try:
            connection.sendall(sent)
            answer = connection.recv(1000)
        except ConnectionError:
            answer = b""

    assert answer.startswith(begins)
    assert bool(answer) == bool(begins)
    assert pages.get("/healthz")[0] == 200


def test_a_process_that_ends_is_replaced_and_its_browsers_are_served_meanwhile(pages: Running) -> None:
    before = pages.workers()
    gone = min(before)
    os.kill(gone, signal.SIGKILL)

    for place in (0, 1):
        wait_until(lambda place=place: pages.answers(f"{COOKIE}={place}"))
    wait_until(lambda: len(pages.workers() - {gone}) == 2)
    wait_until(lambda: {pages.get("/")[1].split(";")[0] for _ in range(2)} == {f"{COOKIE}=0", f"{COOKIE}=1"})


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_however_the_first_ends_none_is_left(ending: signal.Signals) -> None:
    with running() as pages:
        workers = pages.workers()
        assert len(workers) == 2
        if ending is signal.SIGINT:
            os.killpg(pages.process.pid, ending)  # a key on the terminal reaches every process
        else:
            pages.process.send_signal(ending)
        _, told = pages.process.communicate(timeout=WITHIN)

        assert "Traceback" not in told
        wait_until(lambda: not any("spawn_main" in _command_of(process) for process in workers))
