"""In which language sentences are written, and how numbers and dates look.

A sentence is written in English where it is said; that text is also its key in the catalogues of other languages, one
folder each in `languages/`, in the gettext format of translators. What is said follows the language of the moment,
which belongs to one request or one command, never to the program: `with speaking("es"): ...`.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache
from pathlib import Path
from string import Formatter

CATALOGUES = Path(__file__).parent / "languages"
"""A folder for each language but English."""

SI, US = "SI", "US"
"""Systems of units in which quantities are shown."""

LANGUAGES = {"en": "English", "es": "Español"}
"""Languages to choose from, each called by its own name."""


@dataclass(frozen=True)
class Spoken:
    """A language, by which locales numbers and dates are written, and in which units quantities are."""

    language: str = "en"
    """One of `LANGUAGES`."""
    locale: str = "en"
    """By which numbers are written, one that babel knows: "en", "es", "de_CH"."""
    dates: str = ""
    """By which dates are written, its order and marks; months have their names in the language. That of numbers if \
none."""
    units: str = SI
    """In which quantities are shown."""


ENGLISH = Spoken()
"""What is spoken until something else is asked for."""

_spoken: ContextVar[Spoken] = ContextVar("spoken", default=ENGLISH)


def spoken() -> Spoken:
    """The language and locale of the moment; part of the key of whatever words are kept."""
    return _spoken.get()


@contextmanager
def speaking(language: str, locale: str = "", dates: str = "", units: str = SI) -> Iterator[None]:
    """
    Say everything in a language for a while.

    Parameters
    ----------
    language : str
        One of `LANGUAGES`; English stands in for any other.
    locale : str
        By which numbers are written; the language's own where it is empty.
    dates : str
        By which dates are; that of numbers where it is empty.
    units : str
        `SI` or `US`.
    """
    known = language if language in LANGUAGES else "en"
    token = _spoken.set(Spoken(known, locale or known, dates, units if units in (SI, US) else SI))
    try:
        yield
    finally:
        _spoken.reset(token)


def say(sentence: str, **figures: object) -> str:
    """
    A sentence in the language of the moment, with its figures in place.

    Parameters
    ----------
    sentence : str
        In English; `{name}` holds the place of a figure, `{name:hour|hours}` that of a word for one of it or several.
    **figures : object
        What stands in the places, as it is to be read.

    Returns
    -------
    str
        In English where the catalogues do not hold it; a test finds those.

    >>> say("{engine} costs less.", engine="Four")
    'Four costs less.'
    >>> say("{number} {number:visit falls|visits fall} due.", number="1")
    '1 visit falls due.'
    """
    language = _spoken.get().language
    found = sentence if language == "en" else catalogue(language).get(sentence, sentence)
    return _filled(found, figures) if figures else found


def _filled(sentence: str, figures: Mapping[str, object]) -> str:
    """A sentence with its figures in place, and the words that follow their number."""
    if "|" not in sentence:
        return sentence.format(**figures)
    said = []
    for words, name, put in _taken_apart(sentence):
        said.append(words)
        if name is not None:
            said.append(_put(figures, name, put))
    return "".join(said)


@lru_cache(maxsize=1024)
def _taken_apart(sentence: str) -> tuple[tuple[str, str | None, str], ...]:
    """Words of a sentence, each with the place that comes after them; once, for pictures say some at every point."""
    return tuple((words, name, put or "") for words, name, put, _ in Formatter().parse(sentence))


def _put(figures: Mapping[str, object], name: str, put: str) -> str:
    """A figure, or the words that follow it: the first where it reads 1, the second for any other, none included."""
    one, bar, several = put.partition("|")
    if not bar:
        return format(figures[name], put)
    chosen = one if str(figures[name]) == "1" else several
    return chosen.format(**figures) if "{" in chosen else chosen


def say_around(sentence: str, **figures: object) -> tuple[str, str, str]:
    """
    A sentence in the language of the moment around its main figure, so that the figure can stand out.

    Parameters
    ----------
    sentence : str
        In English; the figure and its words stand between two asterisks.
    **figures : object
        As for `say`.

    Returns
    -------
    (str, str, str)
        Before it, the figure, after it.

    >>> say_around("{engine} costs *{amount} EUR less*.", engine="Four*", amount="1,231")
    ('Four* costs ', '1,231 EUR less', '.')
    """
    before, figure, after = (_filled(part, figures) for part in say(sentence).split("*"))
    return before, figure, after


def later(sentence: str) -> str:
    """A sentence that is said later: marked here so that it is found, translated where `say` is given it."""
    return sentence


@cache
def catalogue(language: str) -> dict[str, str]:
    """English sentences and what they are in another language, from all its files. Source: gettext's PO format."""
    from babel.messages.pofile import read_po

    found: dict[str, str] = {}
    for path in sorted((CATALOGUES / language).glob("*.po")):
        with path.open("rb") as file:
            found |= {str(entry.id): str(entry.string) for entry in read_po(file) if entry.id and entry.string}
    return found


@cache
def separators(locale: str) -> tuple[str, str]:
    """What a locale writes between thousands, and its decimal mark. Source: Unicode CLDR, as babel carries it."""
    from babel.numbers import get_decimal_symbol, get_group_symbol

    # CLDR's narrow space is in few typefaces, the others show a box for it.
    return get_group_symbol(locale).replace("\u202f", "\u00a0"), get_decimal_symbol(locale)


def written(number: str) -> str:
    """
    A number as English writes it, rewritten for the locale of the moment.

    >>> with speaking("es"): written("-12,345.50")
    '-12.345,50'
    """
    locale = _spoken.get().locale
    if locale == "en":
        return number
    group, decimal = separators(locale)
    whole, point, rest = number.partition(".")
    return whole.replace(",", group) + (decimal if point else "") + rest


def dated(day: date) -> str:
    """A date as the locale of the moment orders and marks it, "1 Apr 2027", its month called in the language."""
    from babel.dates import format_date, get_date_format

    now = _spoken.get()
    return format_date(day, get_date_format("medium", now.dates or now.locale).pattern, now.language)
