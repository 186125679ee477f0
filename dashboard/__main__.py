"""`python -m dashboard`: opens the pages on a demo scenario, or on a file of one's own; `sheet` writes a sheet."""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from dashboard.login import PASSWORD, SHORTEST, Login
from dashboard.sheet.command import sheet
from model.inputs.problems import InputError

THREADS = 8
"""Requests worked on at once."""

CONNECTIONS = 600
"""Kept open at once: a browser keeps six; with the usual hundred the seventeenth user waits until another leaves."""

LOCAL = ("127.0.0.1", "localhost", "::1")
"""Addresses that nobody else can reach."""

app = typer.Typer(add_completion=False, pretty_exceptions_enable=False)
app.command()(sheet)


def say(words: str) -> None:
    """A line on the terminal."""
    sys.stderr.write(f"{words}\n")
    sys.stderr.flush()


def offer(file: Path) -> None:
    """Open on a scenario file of one's own, or end with every problem told."""
    from dashboard import library
    from model import telling_out
    from model.inputs.reading import read_scenario

    try:
        read_scenario(file)
    except InputError as error:
        telling_out.problems(error.problems, as_json=False)
        raise typer.Exit(2) from None
    library.offer(file)


def warm_up() -> str:
    """Have the sums compiled before the first user comes; the title of what the pages open on."""
    from dashboard.pages import PAGES
    from dashboard.scenarios import scenario_of, start
    from model.telling_out import say_preparing

    say_preparing()
    work = start()
    for page in PAGES:
        page.layout(work)
    return scenario_of(work).title


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
) -> None:
    """What a two-stroke or four-stroke outboard costs over the years it is owned, in the browser."""
    if context.invoked_subcommand is not None:
        return
    from dashboard.app import build_app
    from dashboard.security import LONGEST_REQUEST

    if scenario is not None:
        offer(scenario)
    login = login_for(host, user, open_to_all)
    title = warm_up()
    server = build_app(host, login).server
    import waitress

    try:
        listening = waitress.create_server(
            server,
            host=host,
            port=port,
            threads=THREADS,
            connection_limit=CONNECTIONS,
            max_request_body_size=LONGEST_REQUEST,
            ident=None,
        )
    except OSError as error:
        say(f"Cannot listen on {host}, port {port}: {error.strerror or error}. Choose another with --port.")
        raise typer.Exit(2) from None
    say(f"{title}: open http://{host}:{port}/ in a browser. Ctrl+C ends it.")
    listening.run()


if __name__ == "__main__":
    app(prog_name="python -m dashboard")
