"""Every number that goes in, to be changed; the controls at hand hold only those that matter most."""

import json
from dataclasses import replace
from typing import Any

from dash import Dash, Input, Output, State, html, no_update
from dash.development.base_component import Component

from dashboard import edits, ids
from dashboard.browser import run_there
from dashboard.edits import Edited
from dashboard.engine_edits import ADD, AS_FILE, COPY, TAKE_OUT, edited_engines
from dashboard.engines import engine_named, lineup_now
from dashboard.lineup import MOST_ENGINES, engine_files
from dashboard.numbers import OWNER, Content, parts, sections
from dashboard.scenarios import reading_of, work_of
from dashboard.work import Work, toml_text
from model.inputs.merging import engine_names
from model.inputs.paths import NoSuchPlaceError, parse_path, put, walk_to
from model.language import later, say, separators, spoken

PATH = "/numbers"
"""Where it is."""

QUESTION = later("Which numbers go in?")
"""What it answers."""


def form(found: Edited, part: object = OWNER) -> str:
    """
    The form for the browser.

    Parameters
    ----------
    found : Edited
        The work, what was typed and cannot be counted, and what is wrong with it.
    part : Any
        Which part is in sight, from the browser.

    Returns
    -------
    str
        JSON of sections, problems, changes and words.
    """
    reading = reading_of(found.work)
    document = edits.document_of(found.work, found.drafts)
    typed = {path: raw for path, raw in found.drafts.items() if engine_named(path)}
    typed |= {path: raw["value"] for path, raw in found.drafts.items() if isinstance(raw, dict) and "value" in raw}
    content = Content(document, reading.scenario, reading.scenario.currency, typed)
    data = {
        "part": str(part),
        "parts": parts(content),
        "engines": engines_on_offer(found.work),
        "sections": sections(content, str(part)),
        "problems": found.problems,
        "changes": changes(found.work),
        "words": words(),
    }
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=str)


def engines_on_offer(work: Work) -> dict[str, Any]:
    """What the form needs to add an engine or to take one out: their names now, the library's engine files."""
    names = [place.name for place in lineup_now(work)]
    offered = [[file, name] for file, (name, _) in engine_files().items()]
    does = {"add": ADD, "copy": COPY, "takeOut": TAKE_OUT}
    return {"names": names, "library": offered, "isFull": len(names) >= MOST_ENGINES, "does": does}


def changes(work: Work) -> list[dict[str, str]]:
    """What differs from the file: the place, what the file says, what is counted now, and what takes it back."""
    origin = reading_of(work.origin).document
    found = [
        {"path": path, "file": _in_file(origin, path), "now": value, "does": "back"} for path, value in work.changes
    ]
    if not work.lineup:
        return found
    names = ", ".join(name for name in engine_names(reading_of(replace(work.origin, lineup=())).document) if name)
    now = ", ".join(place.name for place in work.lineup)
    return [{"path": say("Engines"), "file": names, "now": now, "does": AS_FILE}, *found]


def _in_file(origin: dict[str, Any], path: str) -> str:
    """What the file says at a path, on one line; empty where it says nothing."""
    try:
        steps = put(json.loads(json.dumps(origin, default=str)), parse_path(path), None)
    except NoSuchPlaceError:
        return ""
    nodes = list(walk_to(origin, steps))
    return toml_text(nodes[-1]) if len(nodes) > len(steps) else ""


def words() -> dict[str, str]:
    """What the form says."""
    return {
        "changed": say("Changed from the file"),
        "nothing": say("Nothing is changed: every number is the file's."),
        "place": say("Where"),
        "file": say("In the file"),
        "now": say("Now"),
        "back": say("Take back"),
        "add": say("Add a line"),
        "addTable": say("Add"),
        "remove": say("Remove this line"),
        "part": say("Numbers of"),
        "decimal": separators(spoken().locale)[1],
        "addEngine": say("Add an engine"),
        "fromLibrary": say("Engine of the library"),
        "addIt": say("Add it"),
        "copy": say("Make a copy"),
        "takeOut": say("Take this engine out"),
        "full": say("{most} engines are as many as one comparison takes.", most=MOST_ENGINES),
    }


def layout(work: Work) -> list[Component]:
    """The page drawn for a work."""
    told = say(
        "A number counts as soon as you leave its field. What cannot be counted is told there; the rest stays as it is."
    )
    data: dict[str, Any] = {"data-form": form(Edited(work, {}, {}))}
    return [html.P(told, className="told"), html.Div(id=ids.EDITOR, className="editor", **data)]


def register(app: Dash) -> None:
    """Changes go into the work; the form follows it."""

    @app.callback(
        Output(ids.WORK, "data", allow_duplicate=True),
        Output(ids.DRAFTS, "data", allow_duplicate=True),
        Output(ids.SETTLED, "data", allow_duplicate=True),
        Output(ids.EDIT_DONE, "data"),
        Output(ids.EDIT_PART, "data"),
        Input(ids.EDIT, "data"),
        State(ids.WORK, "data"),
        State(ids.DRAFTS, "data"),
        prevent_initial_call=True,
    )
    def change(edit: object, stored: object, kept: object) -> tuple[object, ...]:
        work, drafts = work_of(stored), edits.drafts_of(kept)
        lined = edited_engines(work, drafts, edit)
        found = edits.edited(work, drafts, edit) if lined is None else lined.edited
        number = edit.get("number") if isinstance(edit, dict) else None
        at_controls = {key: value for key, value in kept.items() if key not in drafts} if isinstance(kept, dict) else {}
        is_same = found.work == work
        return (
            no_update if is_same else found.work.as_data(),
            at_controls | found.drafts,
            no_update if is_same else f"edit {number}",
            {"number": number, "told": "" if lined is None else lined.told},
            lined.part if lined is not None and lined.part else no_update,
        )

    run_there(app, "editor.done", Input(ids.EDIT_DONE, "data"))

    @app.callback(
        Output(ids.EDITOR, "data-form"),
        Input(ids.WORK, "data"),
        Input(ids.DRAFTS, "data"),
        Input(ids.EDIT_PART, "data"),
        prevent_initial_call=False,  # the page is drawn without what was typed and cannot be counted
    )
    def follow(stored: object, kept: object, part: object) -> str:
        found = edits.settled(work_of(stored), edits.drafts_of(kept))
        return form(Edited(work_of(stored), found.drafts, found.problems), part or OWNER)
