"""The sheet as a page of its own (HTML) and as a PDF; neither fetches anything."""

import json
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from dashboard.sheet import assumptions, bars, calendar, lines
from dashboard.sheet.matter import Letterhead, Matter
from dashboard.sheet.words import words
from model import wording
from model.language import dated, say, spoken
from model.uncertainty.trials import scenario_hash

DIGITS_OF_HASH = 12
"""Digits of the scenario's hash on paper: enough to tell two scenarios apart."""


@cache
def _template() -> Template:
    """The page, everything put into it escaped."""
    loader = FileSystemLoader(Path(__file__).parent)
    return Environment(autoescape=True, loader=loader, undefined=StrictUndefined).get_template("sheet.html")


def html(matter: Matter, head: Letterhead) -> str:
    """
    The sheet as one page of HTML that needs nothing else.

    Parameters
    ----------
    matter : Matter
    head : Letterhead

    Returns
    -------
    str
        In the language of the moment.
    """
    scenario, calendars = matter.scenario, calendar.calendars(matter)
    return _template().render(
        words=words(matter, head),
        language=spoken().language,
        head=head,
        day=dated(head.day),
        page_words=page_words(),
        scenario=scenario,
        use=lines.use(matter),
        engines=lines.engines(matter),
        answer=lines.answer(matter),
        second_lines=[line for line in (lines.how_sure(matter), lines.around_today(matter)) if line],
        bars=bars.bars(matter.comparison.engines),
        headings=lines.headings(matter),
        costs=lines.cost_lines(matter),
        break_even=lines.break_even_lines(matter),
        calendars=calendars,
        has_visits=any(one.rows for one in calendars),
        covers=lines.covers(matter),
        assumptions=assumptions.assumptions(matter),
        sources=assumptions.source_lines(matter),
        remarks=lines.remarks(matter),
        cautions=lines.cautions(matter),
        made=made(matter),
    )


def made(matter: Matter) -> str:
    """From what the sheet was made, so that it can be made again."""
    mark = scenario_hash(matter.scenario)[:DIGITS_OF_HASH]
    if matter.run is None:
        return say("Scenario {mark}; nothing differs from trial to trial.", mark=mark)
    trials, seed = wording.whole(matter.run.trials), matter.run.seed
    return say("Scenario {mark}, {trials} trials, seed {seed}.", mark=mark, trials=trials, seed=seed)


def page_words() -> Markup:
    """
    The page's number and how many there are, as the stylesheet's `content` wants it.

    >>> str(page_words())
    '"Page " counter(page) " of " counter(pages)'
    """
    parts = say("Page {page} of {pages}", page="|page|", pages="|pages|").split("|")
    written = [
        f"counter({part})" if part in ("page", "pages") else json.dumps(part, ensure_ascii=False)
        for part in parts
        if part
    ]
    return Markup(" ".join(written))  # of our own words only, and without a bracket that could end the stylesheet


@cache
def can_make_pdf() -> bool:
    """Whether what makes PDFs is installed, with the libraries that it needs."""
    if find_spec("weasyprint") is None:
        return False
    try:
        import weasyprint  # noqa: F401
    except OSError:  # pango is missing
        return False
    return True


def pdf(page: str) -> bytes:
    """
    A sheet as PDF, its text selectable.

    Parameters
    ----------
    page : str
        From `html`.

    Returns
    -------
    bytes

    Raises
    ------
    ImportError, OSError
        If what makes it is not installed; `can_make_pdf` tells beforehand.
    """
    from weasyprint import HTML
    from weasyprint.urls import URLFetcher

    nothing = URLFetcher(allowed_protocols=())  # whatever somebody typed, no sheet is made of anything from elsewhere
    return bytes(HTML(string=page, url_fetcher=nothing).write_pdf() or b"")
