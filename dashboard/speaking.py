"""Which language the pages speak, in which units and formats: kept by the browser, in force for one request."""

from contextlib import AbstractContextManager, ExitStack
from typing import Any

from dash import Dash, html
from flask import Flask, Request, Response, g, has_request_context, request

from model.language import LANGUAGES, separators, speaking, spoken

COOKIE = "language"
"""Under which the browser keeps what was chosen."""

UNITS, NUMBERS, DATES = "units", "numbers", "dates"
"""The same of units, and of the locales by which numbers and dates are written."""

LONGEST_LOCALE = 20
"""Characters of a locale's name."""


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

    Spanish has 1.231,5 in Spain and 1,231.5 in Mexico. Source: Unicode CLDR, as babel carries it. What was chosen goes
    before that.

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
    return _locale_chosen(asked, NUMBERS) or _own_locale(asked, language)


def _own_locale(asked: Request, language: str) -> str:
    """That of the browser's own country, where it has other numbers than the language."""
    from babel import localedata

    tags = [tag.replace("-", "_") for tag in asked.accept_languages.values()]
    own = [tag for tag in tags if tag.startswith(f"{language}_") and localedata.exists(tag)]
    return own[0] if own and separators(own[0]) != separators(language) else language


def _locale_chosen(asked: Request, cookie: str) -> str:
    """The locale that a browser keeps under a name; empty where babel knows none of that name."""
    from babel import localedata

    locale = asked.cookies.get(cookie, "")
    return locale if len(locale) <= LONGEST_LOCALE and localedata.exists(locale) else ""


def chosen(cookie: str) -> str:
    """What was chosen under a name, in the request of the moment; empty where nothing was."""
    return request.cookies.get(cookie, "")[:LONGEST_LOCALE] if has_request_context() else ""


def said_in(language: str) -> AbstractContextManager[None]:
    """Say everything in a language, with the units and formats of the request of the moment."""
    if not has_request_context():
        return speaking(language)
    dates = _locale_chosen(request, DATES) or _own_locale(request, language)
    return speaking(language, locale_of(request, language), dates, request.cookies.get(UNITS, ""))


def register(server: Flask) -> None:
    """Answer every request in its own language."""

    @server.before_request
    def begin() -> None:
        g.spoken = ExitStack()
        g.spoken.enter_context(said_in(language_of(request)))

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
