"""The rows behind a figure: a drawer whose first line is their sum, the same as the figure that was opened.

A figure in a table opens it with `Cell(shown, value, opens=key(Behind(...)))`; a mark of a picture with `key(...)` as
the last item of its `customdata`, once `drawing.register` knows the picture.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from dash import Dash, Input, Output, State, html, no_update
from dash.development.base_component import Component

from dashboard import answers, ids
from dashboard.asked import Asking, answered, asking_of
from dashboard.browser import aria, run_there
from dashboard.drawing import MARK
from dashboard.scenarios import work_of
from dashboard.tables import Cell, Column, day_cell, table
from dashboard.work import Work
from model import wording
from model.inputs.terms import Element, Payer
from model.language import later, say
from model.ledger import Row, ledger
from model.measures import EngineCost
from model.quantities import sold_by
from model.questions.asking import QUESTIONS
from model.questions.saying import capital

NOTHING = 1e-9
"""What the rounding of sums leaves where the other payer pays all. [money]"""

PAYERS = {Payer.OWNER: later("You"), Payer.WARRANTY: later("The warranty")}
"""Who pays, for those who read it."""


@dataclass(frozen=True)
class Behind:
    """Which rows stand behind a figure."""

    engine: str
    """Name of the engine."""
    elements: tuple[Element, ...] = ()
    """Cost elements; all where there are none."""
    years: tuple[int, int] | None = None
    """First ownership year (from 0) and the one after the last; the whole period where there is none."""
    payer: Payer | None = Payer.OWNER
    """Who pays; None for both."""
    is_nominal: bool = False
    """Whether the figure is in money of the day rather than in present value."""
    visit: int | None = None
    """Number of the one visit (from 0) at which it is paid."""


def key(behind: Behind) -> str:
    """
    Which rows stand behind a figure, as one short text.

    >>> key(Behind("Four", (Element.FUEL,), (0, 2)))
    'rows:["Four", ["fuel"], [0, 2], "owner", false, null]'
    """
    parts = [behind.engine, behind.elements, behind.years, behind.payer, behind.is_nominal, behind.visit]
    return MARK + json.dumps(parts, ensure_ascii=False)


@lru_cache(maxsize=1024)
def keys_by_year(engine: str, elements: tuple[Element, ...], years: int) -> tuple[str, ...]:
    """
    The keys of elements in money of the day, one for each ownership year; kept, for no moved slider changes them.

    >>> keys_by_year("Four", (Element.FUEL,), 2)[1]
    'rows:["Four", ["fuel"], [1, 2], "owner", true, null]'
    """
    return tuple(key(Behind(engine, elements, (year, year + 1), is_nominal=True)) for year in range(years))


def behind_of(text: object) -> Behind | None:
    """
    Which rows a key means.

    Parameters
    ----------
    text : Any
        What the browser sent.

    Returns
    -------
    Behind or None
        None where it is no key.
    """
    if not isinstance(text, str) or not text.startswith(MARK) or len(text) > 1000:
        return None
    try:
        engine, elements, years, payer, is_nominal, visit = json.loads(text[len(MARK) :])
        return Behind(
            str(engine),
            tuple(Element(element) for element in elements),
            None if years is None else (int(years[0]), int(years[1])),
            None if payer is None else Payer(payer),
            is_nominal is True,
            None if visit is None else int(visit),
        )
    except (ValueError, TypeError, KeyError, IndexError, RecursionError):
        return None


def rows_behind(work: Work, behind: Behind) -> list[Row]:
    """
    The rows behind a figure, in order of time.

    Parameters
    ----------
    work : Work
    behind : Behind

    Returns
    -------
    list of Row
        Empty where the engine is not compared.
    """
    cost = _cost(work, behind.engine)
    found = [] if cost is None else [row for row in ledger(cost) if _is_behind(row, behind)]
    return [row for row in found if abs(row.nominal) > NOTHING]


def _is_behind(row: Row, behind: Behind) -> bool:
    """Whether a row is among those behind a figure."""
    return (
        (not behind.elements or row.element in behind.elements)
        and (behind.years is None or behind.years[0] <= row.year < behind.years[1])
        and behind.payer in (None, row.payer)
        and behind.visit in (None, row.visit)
    )


def _cost(work: Work, engine: str) -> EngineCost | None:
    """What an engine costs, None where it is not compared."""
    return next((cost for cost in answers.comparison(work).engines if cost.name == engine), None)


def title(behind: Behind) -> str:
    """What was opened, in words."""
    labels = ", ".join(say(wording.ELEMENT_LABELS[element]) for element in behind.elements) or say("All costs")
    words = say("{what} of {engine}", what=labels, engine=behind.engine)
    if behind.visit is not None:
        return say("{what}, visit {number}", what=words, number=behind.visit + 1)
    if behind.years is None:
        return words
    first, end = behind.years
    if end - first == 1:
        return say("{what}, ownership year {year}", what=words, year=end)
    return say("{what}, ownership years {first} to {last}", what=words, first=first + 1, last=end)


def content(work: Work, behind: Behind) -> list[Component]:
    """
    What the drawer holds: what was opened, its sum, the rows.

    Parameters
    ----------
    work : Work
    behind : Behind

    Returns
    -------
    list of Component
    """
    rows, heading = rows_behind(work, behind), title(behind)
    currency = answers.comparison(work).scenario.currency
    lines = [_line(row) for row in rows]
    head = html.Div(
        [html.H2(heading, id=ids.DRAWER_TITLE, className="finding"), closing_button()],
        className="drawer-head",
    )
    shown: Component = table(heading, _columns(currency), lines, is_sorted=True)
    if not rows:
        shown = html.P(say("No rows: nothing is paid for this."), className="told")
    return [head, html.P(_sum_in_words(rows, behind, currency), className="sum"), shown]


def content_of_answer(work: Work, one: Asking) -> list[Component]:
    """
    The rows behind an answer of the counter, which may be those of a work changed for its question.

    Parameters
    ----------
    work : Work
    one : Asking

    Returns
    -------
    list of Component
    """
    found, currency = answered(work, one), answers.comparison(work).scenario.currency
    heading = say(QUESTIONS[one.question].asks)
    head = html.Div(
        [html.H2(heading, id=ids.DRAWER_TITLE, className="finding"), closing_button()],
        className="drawer-head",
    )
    by_choice = {behind.whose: [row.row for row in found.rows if row.whose == behind.whose] for behind in found.rows}
    sums = [
        html.P(f"{capital(whose)}. {_sum_in_words(rows, Behind(whose), currency)}", className="sum")
        for whose, rows in by_choice.items()
    ]
    columns = [Column(say("Whose")), *_columns(currency)]
    lines = [[Cell(capital(whose)), *_line(row)] for whose, rows in by_choice.items() for row in rows]
    return [head, html.P(found.sentence, className="told"), *sums, table(heading, columns, lines, is_sorted=True)]


def closing_button() -> html.Button:
    """Shuts the drawer, as Escape does."""
    data: dict[str, Any] = {"data-close": "drawer"}
    return html.Button(say("Close"), className="plain-button", type="button", **data)


def _sum_in_words(rows: Sequence[Row], behind: Behind, currency: str) -> str:
    """The sum of the rows, first in the money that the figure is in."""
    present = f"{wording.cents(sum(row.present_value for row in rows))} {currency}"
    nominal = f"{wording.cents(sum(row.nominal for row in rows))} {currency}"
    if behind.is_nominal:
        return say("Sum: {nominal} in money of the day; {present} in present value", nominal=nominal, present=present)
    return say("Sum: {present} in present value; {nominal} in money of the day", nominal=nominal, present=present)


def _columns(currency: str) -> list[Column]:
    """Columns of the rows."""
    return [
        Column(say("Date")),
        Column(say("Meter, h"), is_number=True),
        Column(say("Cost element")),
        Column(say("What")),
        Column(say("Quantity"), is_number=True),
        Column(say("Unit")),
        Column(say("Unit price, {currency}", currency=currency), is_number=True),
        Column(say("Money of the day, {currency}", currency=currency), is_number=True),
        Column(say("Present value, {currency}", currency=currency), is_number=True),
        Column(say("Who pays")),
    ]


def _line(row: Row) -> list[Cell]:
    """One row of the ledger."""
    quantity, unit, unit_price = sold_by(row.quantity, row.unit, row.unit_price)
    day = Cell(str(row.date.year), row.date.isoformat()) if row.through_year is not None else None
    return [
        day or day_cell(row.date),
        Cell(wording.whole(row.meter_hours), row.meter_hours),
        Cell(say(wording.ELEMENT_LABELS[row.element])),
        Cell(row.item),
        Cell(wording.plain(round(quantity, 3)), quantity),
        Cell(unit),
        *(Cell(wording.cents(amount), amount) for amount in (unit_price, row.nominal, row.present_value)),
        Cell(say(PAYERS[row.payer])),
    ]


def room() -> html.Dialog:
    """Where the drawer will open: over the page, from the right, or from below on a phone."""
    return html.Dialog(
        html.Div(id=ids.DRAWER_CONTENT), id=ids.DRAWER, className="drawer", **aria(labelledby=ids.DRAWER_TITLE)
    )


def register(app: Dash) -> None:
    """Fill the drawer with what was opened, then open it."""

    @app.callback(
        Output(ids.DRAWER_CONTENT, "children"),
        Input(ids.OPENED, "data"),
        State(ids.WORK, "data"),
        prevent_initial_call=True,
    )
    def fill(opened: object, stored: object) -> object:
        key_sent = opened.get("key") if isinstance(opened, dict) else None
        one, behind = asking_of(key_sent), behind_of(key_sent)
        if one is not None:
            return content_of_answer(work_of(stored), one)
        # Other pages fill it for keys of their own.
        return no_update if behind is None else content(work_of(stored), behind)

    run_there(app, "drawer.open", Input(ids.DRAWER_CONTENT, "children"))
