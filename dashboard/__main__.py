"""`python -m dashboard`: opens the pages on a demo scenario, or on a file of one's own; `sheet` writes a sheet."""

import asyncio
import os
import socket
import sys
from pathlib import Path
from typing import Annotated

import typer

from dashboard.login import PASSWORD, SHORTEST, Login
from dashboard.sheet.command import sheet
from model.inputs.problems import InputError

MOST_PROCESSES = 4
"""Unless more are asked for: each takes half a gigabyte and more."""

LOCAL = ("127.0.0.1", "localhost", "::1")
"""Addresses that nobody else can reach."""

app = typer.Typer(add_completion=False, pretty_exceptions_enable=False)
app.command()(sheet)


def say(words: str) -> None:
    """A line on the terminal."""
    sys.stderr.write(f"{words}\n")
    sys.stderr.flush()


def check(file: Path) -> None:
    """End with every problem of a scenario file told, where it has any."""
    from model import telling_out
    from model.inputs.reading import read_scenario

    try:
        read_scenario(file)
    except InputError as error:
        telling_out.problems(error.problems, as_json=False)
        raise typer.Exit(2) from None


def login_for(host: str, user: str | None, open_to_all: bool) -> Login | None:
    """
    The user name and password for an address, or the end where one is needed and there is none.

    Parameters
    ----------
    host : str
        The address that is listened on.
    user : str or None
        The user name that was given.
    open_to_all : bool
        Whether everyone shall be let in.

    Returns
    -------
    Login or None
        None where nobody is asked for one.
    """
    if user is not None:
        password = os.environ.get(PASSWORD) or typer.prompt("Password", hide_input=True, err=True)
        if len(password) < SHORTEST:
            say(f"The password is too short: {len(password)} of at least {SHORTEST} characters.")
            raise typer.Exit(2)
        if host not in LOCAL:
            say("User name and password travel as they are: put a server that encrypts (TLS) in front of this one.")
        return Login(user, password)
    if host in LOCAL:
        return None
    if not open_to_all:
        say(f"Others can reach {host}: state --user NAME, or --open-to-all to let everyone in.")
        raise typer.Exit(2)
    say(f"Anyone who can reach {host} can open the pages: there is no user name and no password.")
    return None


@app.callback(invoke_without_command=True)
def serve(
    context: typer.Context,
    scenario: Annotated[
        Path | None, typer.Option("--scenario", metavar="FILE", help="A scenario file (TOML), in place of the demo.")
    ] = None,
    host: Annotated[
        str, typer.Option("--host", help="Address to listen on; others reach it only if it is not local.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option("--port", min=1, max=65535, help="Port to listen on.")] = 8050,
    user: Annotated[
        str | None,
        typer.Option("--user", help=f"User name asked for; the password comes from {PASSWORD} or is asked for here."),
    ] = None,
    open_to_all: Annotated[
        bool, typer.Option("--open-to-all", help="No user name and password on an address that others can reach.")
    ] = False,
    processes: Annotated[
        int | None,
        typer.Option(
            min=1,
            help="Processes that share the users. Not stated: 1 where nobody else can reach the address, elsewhere one "
            f"for each processor, at most {MOST_PROCESSES}.",
        ),
    ] = None,
) -> None:
    """What a two-stroke or four-stroke outboard costs over the years it is owned, in the browser."""
    if context.invoked_subcommand is not None:
        return
    if scenario is not None:
        check(scenario)
    login = login_for(host, user, open_to_all)
    bound = bound_to(host, port)
    from dashboard.serving import Served, listening

    served = Served(host, login, scenario)
    number = processes or (1 if host in LOCAL else min(processors(), MOST_PROCESSES))

    def say_ready(title: str) -> None:
        say(f"{title}: open http://{host}:{port}/ in a browser. Ctrl+C ends it.")

    if number == 1:
        server, title = listening(served, bound)
        say_ready(title)
        server.run()
    else:
        from dashboard.spreading import Spread

        try:
            asyncio.run(Spread(served, number).run(bound, say_ready))
        except KeyboardInterrupt:
            pass
        except ChildProcessError as error:
            say(f"{error}.")
            raise typer.Exit(1) from None


def processors() -> int:
    """How many processors this program may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def bound_to(host: str, port: int) -> socket.socket:
    """Where users come, or the end where that cannot be listened on."""
    try:
        return socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)
    except OSError as error:
        say(f"Cannot listen on {host}, port {port}: {error.strerror or error}. Choose another with --port.")
        raise typer.Exit(2) from None


if __name__ == "__main__":
    app(prog_name="python -m dashboard")
