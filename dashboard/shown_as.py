"""How it is shown: units, currency, how numbers and dates are written; chosen on any page, kept by the browser.

Units and formats are cookies, as the language is, so that the server writes every page by them (`speaking`). The
currency is a value of the scenario, and choosing one is a change of the work as any other.
"""

import json
from datetime import date
from functools import cache
from typing import Any

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import ids, speaking
from dashboard.browser import aria
from model.language import SI, dated, later, say, spoken, written
from model.language import speaking as saying
from model.quantities import SYSTEMS

NUMBER_FORMATS = ("en", "de", "fr", "de_CH")
"""Locales whose ways of writing numbers are offered; together they have every way that is in wide use."""

DATE_FORMATS = ("en_GB", "en", "de", "lt")
"""Locales whose order and marks of dates are offered: day first or month first, figures only, year first."""

EXAMPLE = ("1,234.5", date(2027, 4, 1))
"""What the choices are shown by."""

AS_LANGUAGE = later("As the language has it")
"""What holds where nothing is chosen."""


def button() -> html.Button:
    """Opens the room."""
    opens: dict[str, Any] = {"data-shows": ids.SHOWN_AS}
    return html.Button(say("Units and format"), className="bar-button", type="button", **opens)


def room(app: Dash) -> html.Dialog:
    """Where it is chosen; `assets/speaking.js` keeps each choice and follows it."""
    closes: dict[str, Any] = {"data-close": ids.SHOWN_AS}
    head = html.Div(
        [
            html.H2(say("How it is shown"), id=ids.SHOWN_AS_TITLE, className="finding"),
            html.Button(say("Close"), className="plain-button", type="button", **closes),
        ],
        className="drawer-head",
    )
    path = app.config.requests_pathname_prefix
    as_language = ("", say(AS_LANGUAGE))
    fields = [
        _choice(say("Units"), _kept("units", path), [(system, say(name)) for system, name in SYSTEMS.items()], SI),
        _choice(say("Numbers"), _kept("numbers", path), [as_language, *map(_number_format, NUMBER_FORMATS)]),
        _choice(say("Dates"), _kept("dates", path), [as_language, *map(_date_format, DATE_FORMATS)]),
        _choice(
            say("Currency"),
            {"data-currency": "on"},
            [("", say("As the file has it")), *currencies(spoken().language)],
        ),
    ]
    told = [
        say("Units and formats change what is shown and how it is typed, never a sum: hours stay hours."),
        say("A currency is only the name of the money: no amount is converted."),
    ]
    lines = [html.P(line, className="subtitle") for line in told]
    return html.Dialog(
        [head, *fields, *lines], id=ids.SHOWN_AS, className="drawer opening", **aria(labelledby=ids.SHOWN_AS_TITLE)
    )


def _kept(cookie: str, path: str) -> dict[str, Any]:
    """A choice that is kept in a cookie."""
    return {"data-cookie": cookie, "data-path": path, "data-now": speaking.chosen(cookie)}


def _choice(label: str, kept: dict[str, Any], choices: list[tuple[str, str]], first: str = "") -> Component:
    """A choice of several; the browser fills it when the room is opened, so that no page waits for it."""
    data = {
        "data-now": first,
        **{key: value for key, value in kept.items() if value},
        "data-choices": json.dumps(choices),
    }
    return html.Label([label, html.Select(className="entry entry-choice", **data)], className="entry-label choice")


def _number_format(locale: str) -> tuple[str, str]:
    """A way of writing numbers, by an example."""
    with saying(spoken().language, locale):
        return locale, written(EXAMPLE[0])


def _date_format(locale: str) -> tuple[str, str]:
    """A way of writing dates, by an example."""
    with saying(spoken().language, spoken().locale, locale):
        return locale, dated(EXAMPLE[1])


@cache
def currencies(language: str) -> list[tuple[str, str]]:
    """Codes and names of the currencies that are legal tender somewhere. Source: Unicode CLDR, as babel carries it."""
    from babel.core import get_global
    from babel.numbers import get_currency_name

    used = {
        code
        for uses in get_global("territory_currencies").values()
        for code, _, until, is_tender in uses
        if until is None and is_tender
    }
    return [(code, f"{code}, {get_currency_name(code, locale=language)}") for code in sorted(used)]
