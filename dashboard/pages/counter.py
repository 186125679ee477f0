"""What people ask at the counter: each question a card, answered for the work on screen when it is opened."""

from collections.abc import Sequence
from typing import Any

import dash_mantine_components as dmc
from dash import ALL, MATCH, Dash, Input, Output, State, html
from dash.development.base_component import Component

from dashboard import asked, ids
from dashboard.asked import Asking
from dashboard.browser import aria
from dashboard.scenarios import scenario_of, work_of
from dashboard.work import Work
from model.counter import Answer, Question
from model.language import later, say
from model.questions.asking import Argument, Asked

PATH = "/counter"
"""Where it is."""

QUESTION = later("What else do people ask?")
"""What it answers."""

GROUPS = (
    (later("Which one, and from when on"), ("ownership", "running", "fuel")),
    (later("Service"), ("own_work", "neglect", "plugs", "workshop")),
    (later("Warranty"), ("cover", "longer_cover", "keeping_cover")),
    (later("Buying and selling"), ("selling",)),
    (later("Breaking down, and the years ahead"), ("breakdowns", "budget", "life")),
)
"""Headings, and the files of questions under each."""

PLAIN = later("In plain words")
ABOUT, AGAINST = later("Asked about"), later("Held against")
CHEAPEST = later("the cheapest")
ROWS = later("The rows behind it")


def of_card(kind: str, question: object, **more: object) -> dict[str, object]:
    """Id of a part of a card."""
    return {"type": kind, "question": question, **more}


def layout(work: Work) -> list[Component]:
    """What it is asked about, and the cards."""
    known = asked.questions()
    names = [engine.name for engine in scenario_of(work).engines]
    return [
        html.Div(
            [
                _engine(ids.ASKED_ENGINE, ABOUT, names),
                _engine(ids.ASKED_AGAINST, AGAINST, names),
                dmc.Switch(id=ids.PLAIN, label=say(PLAIN), checked=False, size="md", className="plain-switch"),
            ],
            className="asked-about",
        ),
        *(
            html.Section(
                [
                    html.H2(say(heading), className="finding"),
                    html.Div([_card(one) for one in known if one.theme in themes], className="cards"),
                ],
                className="card-group",
            )
            for heading, themes in GROUPS
        ),
    ]


def _engine(name: str, label: str, engines: Sequence[str]) -> dmc.Select:
    """The choice of an engine; none is the counter's own."""
    return dmc.Select(
        id=name,
        label=say(label),
        data=list(engines),
        placeholder=say(CHEAPEST),
        clearable=True,
        size="md",
        className="asked-engine",
        classNames={"label": "number-label"},
    )


def _card(question: Question) -> html.Article:
    """One question, shut."""
    return html.Article(
        [
            html.H3(
                html.Button(
                    say(question.asks),
                    id=of_card("card", question.name),
                    n_clicks=0,
                    type="button",
                    className="card-question",
                    **aria(expanded="false"),
                ),
                className="card-head",
            ),
            html.Div(id=of_card("card-room", question.name), className="card-room"),
        ],
        className="card",
    )


def opened(work: Work, question: Question, engines: tuple[object, object], is_plain: bool) -> list[Component]:
    """What stands in an open card: its arguments, its answer."""
    one, _ = asked.asking(question.name, {}, engines)
    about = asked.about(work, one.engine, one.against)
    fields = [_field(question, argument, about) for argument in question.arguments]
    return [
        *([html.Div(fields, className="card-arguments")] if fields else []),
        html.Div(
            content(work, one, (), is_plain),
            id=of_card("card-answer", question.name),
            className="card-answer",
            **aria(live="polite"),
        ),
    ]


def _field(question: Question, argument: Argument, about: Asked) -> Component:
    """An argument as a small input."""
    allowed = argument.allowed
    named: dict[str, Any] = {
        "id": of_card("card-argument", question.name, argument=argument.name),
        "label": say(allowed.help),
        "size": "md",
        "className": "card-argument",
        "classNames": {"label": "card-label"},
    }
    unit = say(allowed.unit) if allowed.unit else ""
    offered = [{"value": asked.YES, "label": say("yes")}, {"value": asked.NO, "label": say("no")}]
    if argument.kind is str:
        offered = [{"value": one, "label": one} for one in allowed.choices(about)] if allowed.choices else []
    field: Component
    if argument.kind in (bool, str):
        field = dmc.Select(**named, data=offered, clearable=True)
    else:
        field = dmc.NumberInput(
            **named,
            value="" if argument.default is None else argument.default,
            suffix=f" {unit}" if unit else "",
            decimalScale=0 if argument.kind is int else 4,
            allowedDecimalSeparators=[".", ","],
            clampBehavior="none",
            hideControls=True,
            debounce=400,
            inputProps={"inputMode": "decimal"},
        )
    return field


def content(work: Work, one: Asking, wrong: Sequence[str], is_plain: bool) -> list[Component]:
    """
    An answer as a card shows it.

    Parameters
    ----------
    work : Work
    one : Asking
    wrong : sequence of str
        What is wrong with its arguments; the answer goes without them.
    is_plain : bool
        In short.
    """
    found = asked.answered(work, one)
    told = [html.P(sentence, className="not-counted", role="alert") for sentence in wrong]
    caution = [html.P(found.caution, className="caution")] if found.caution else []
    if not found.applies:
        return [*told, html.P(found.sentence, className="told")]
    if is_plain:
        return [*told, html.P(found.plain, className="sentence"), *caution]
    return [
        *told,
        html.P(found.sentence, className="sentence"),
        _reasons(found),
        *_rows(one, found),
        *caution,
    ]


def _reasons(found: Answer) -> html.Ul:
    """Why, where it turns, how sure."""
    ends = [found.flip_point.sentence] if found.flip_point else []
    ends += [found.chance.sentence] if found.chance else []
    return html.Ul([html.Li(line) for line in (*found.reasons, *ends)], className="card-reasons")


def _rows(one: Asking, found: Answer) -> list[Component]:
    """The button that opens the rows behind an answer."""
    if not found.rows:
        return []
    data: dict[str, Any] = {"data-opens": one.key}
    return [html.Button(say(ROWS), className="plain-button", type="button", **data)]


def register(app: Dash) -> None:
    """A card is filled when it is opened, its answer follows work and arguments while it is open."""

    @app.callback(
        Output(of_card("card-room", MATCH), "children"),
        Output(of_card("card", MATCH), "aria-expanded"),
        Input(of_card("card", MATCH), "n_clicks"),
        State(of_card("card", MATCH), "id"),
        State(ids.WORK, "data"),
        State(ids.ASKED_ENGINE, "value"),
        State(ids.ASKED_AGAINST, "value"),
        State(ids.PLAIN, "checked"),
        prevent_initial_call=True,
    )
    def turn(clicks: object, card: object, stored: object, *chosen: object) -> tuple[list[Component], str]:
        question = _question_of(card)
        if question is None or not isinstance(clicks, int) or clicks % 2 == 0:
            return [], "false"
        engine, against, is_plain = chosen
        return opened(work_of(stored), question, (engine, against), is_plain is True), "true"

    @app.callback(
        Output(of_card("card-answer", MATCH), "children"),
        Input(ids.WORK, "data"),
        Input(ids.ASKED_ENGINE, "value"),
        Input(ids.ASKED_AGAINST, "value"),
        Input(ids.PLAIN, "checked"),
        Input(of_card("card-argument", MATCH, argument=ALL), "value"),
        State(of_card("card-argument", MATCH, argument=ALL), "id"),
        State(of_card("card-answer", MATCH), "id"),
        prevent_initial_call=True,
    )
    def tell(stored: object, engine: object, against: object, is_plain: object, *rest: Any) -> list[Component]:
        values, names, answer = rest
        question = _question_of(answer)
        if question is None:
            return []
        typed = {name["argument"]: value for name, value in zip(names, values, strict=True)}
        one, wrong = asked.asking(question.name, typed, (engine, against))
        return content(work_of(stored), one, wrong, is_plain is True)

    @app.callback(
        Output(ids.ASKED_ENGINE, "data"),
        Output(ids.ASKED_AGAINST, "data"),
        Input(ids.WORK, "data"),
        prevent_initial_call=True,
    )
    def offer(stored: object) -> tuple[list[str], list[str]]:
        names = [engine.name for engine in scenario_of(work_of(stored)).engines]
        return names, names


def _question_of(card: object) -> Question | None:
    """The question of a card, by the id that the browser sent."""
    name = card.get("question") if isinstance(card, dict) else None
    return next((one for one in asked.questions() if one.name == name), None)
