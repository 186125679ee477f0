"""Which language the pages speak: chosen in the bar, kept by the browser, in force for one request at a time."""

from contextlib import ExitStack
from typing import Any

from dash import Dash, html
from flask import Flask, Request, Response, g, request

from model.language import LANGUAGES, say, separators, speaking, spoken

COOKIE = "language"
"""Under which the browser keeps what was chosen."""


class Pages(Dash):
    """The application, whose page around the page is in the language of the moment too."""

    def interpolate_index(self, title: str = "", **parts: Any) -> str:  # type: ignore[override]
        """The page around the page; its parts are Dash's."""
        page = super().interpolate_index(title=say(title), **parts)  # type: ignore[no-untyped-call]
        return str(page).replace('lang="en"', f'lang="{spoken().language}"', 1)


def language_of(asked: Request) -> str:
    """
    The language of a request: the one chosen, or else the first that its browser asks for.

    Parameters
    ----------
    asked : Request

    Returns
    -------
    str
        One of `LANGUAGES`; English where the browser asks for none of them.
    """
    chosen = asked.cookies.get(COOKIE, "")
    return chosen if chosen in LANGUAGES else asked.accept_languages.best_match(list(LANGUAGES), "en")


def locale_of(asked: Request, language: str) -> str:
    """
    By which locale a request has numbers written: as in its browser's own country, where that differs.

    Spanish has 1.231,5 in Spain and 1,231.5 in Mexico. Source: Unicode CLDR, as babel carries it.

    Parameters
    ----------
    asked : Request
    language : str
        That of the request.

    Returns
    -------
    str
        A locale that babel knows.
    """
    from babel import localedata

    tags = [tag.replace("-", "_") for tag in asked.accept_languages.values()]
    own = [tag for tag in tags if tag.startswith(f"{language}_") and localedata.exists(tag)]
    return own[0] if own and separators(own[0]) != separators(language) else language


def register(server: Flask) -> None:
    """Answer every request in its own language."""

    @server.before_request
    def begin() -> None:
        language = language_of(request)
        g.spoken = ExitStack()
        g.spoken.enter_context(speaking(language, locale_of(request, language)))

    @server.teardown_request
    def end(_: BaseException | None) -> None:
        stack = g.pop("spoken", None)
        if stack is not None:
            stack.close()

    @server.after_request
    def say_by_what(response: Response) -> Response:
        if response.mimetype in ("text/html", "application/json"):
            response.vary.update(["Cookie", "Accept-Language"])
        return response


def choice(app: Dash) -> list[html.Button]:
    """A button for each other language; `assets/speaking.js` keeps the choice and opens the page anew."""
    path = app.config.requests_pathname_prefix
    return [_button(language, path) for language in LANGUAGES if language != spoken().language]


def _button(language: str, path: str) -> html.Button:
    """A language by its own name, for those who read it."""
    data: dict[str, Any] = {"data-language": language, "data-path": path}
    return html.Button(LANGUAGES[language], lang=language, className="bar-button", type="button", **data)
