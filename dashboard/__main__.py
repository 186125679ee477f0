"""`python -m dashboard`: opens the pages on a demo scenario, or on a file of one's own."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from model.inputs.problems import InputError

if TYPE_CHECKING:
    from dashboard.form import Form

THREADS = 8
"""Requests worked on at once."""

LOCAL = ("127.0.0.1", "localhost", "::1")
"""Addresses that nobody else can reach."""

app = typer.Typer(add_completion=False, pretty_exceptions_enable=False)


def say(words: str) -> None:
    """A line on the terminal."""
    sys.stderr.write(f"{words}\n")
    sys.stderr.flush()


def read_form(file: Path) -> "Form":
    """The form of a scenario file, or the end with every problem told."""
    from dashboard.form import form_of
    from model import telling_out
    from model.inputs.reading import read_scenario

    try:
        return form_of(read_scenario(file).scenario)
    except InputError as error:
        telling_out.problems(error.problems, as_json=False)
        raise typer.Exit(2) from None


def warm_up(form: "Form") -> None:
    """Have the sums compiled before the first user comes."""
    from dashboard import answers, trials
    from model.telling_out import say_preparing

    say_preparing()
    answers.warm_up(form)
    trials.bands(form, form.start)
    trials.chances(form, form.start)


@app.command()
def serve(
    scenario: Annotated[
        Path | None, typer.Option("--scenario", metavar="FILE", help="A scenario file (TOML), in place of the demo.")
    ] = None,
    host: Annotated[
        str, typer.Option("--host", help="Address to listen on; others reach it only if it is not local.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option("--port", min=1, max=65535, help="Port to listen on.")] = 8050,
) -> None:
    """What a two-stroke or four-stroke outboard costs over the years it is owned, in the browser."""
    from dashboard.app import DEMO, app_of

    form = read_form(scenario or DEMO)
    warm_up(form)
    server = app_of(form, host).server
    if host not in LOCAL:
        say(f"Anyone who can reach {host} can open the pages: there is no user name and no password.")
    import waitress

    try:
        listening = waitress.create_server(
            server, host=host, port=port, threads=THREADS, max_request_body_size=1_000_000, ident=None
        )
    except OSError as error:
        say(f"Cannot listen on {host}, port {port}: {error.strerror or error}. Choose another with --port.")
        raise typer.Exit(2) from None
    say(f"{form.scenario.title}: open http://{host}:{port}/ in a browser. Ctrl+C ends it.")
    listening.run()


if __name__ == "__main__":
    app(prog_name="python -m dashboard")
