"""Where every number comes from: each value that names its source."""

from collections.abc import Sequence
from pathlib import Path

from dash import Dash, html
from dash.development.base_component import Component

from dashboard import following, ids, library
from dashboard.scenarios import reading_of
from dashboard.tables import Column, Row, table
from dashboard.work import Work
from model.inputs.files import parse_toml
from model.inputs.problems import shown
from model.inputs.sources import FILE, INVENTED, SourcedValue
from model.language import later, say
from model.wording import plain

PATH = "/sources"
"""Where it is."""

QUESTION = later("Where does every number come from?")
"""What it answers."""


LONGEST_LIST = 40
"""Characters of a list of values that are shown."""


def content(work: Work) -> list[Component]:
    """Every value with its source."""
    reading = reading_of(work)
    known = parse_toml(library.HOME / FILE)
    invented = sum(value.source == INVENTED for value in reading.sources)
    told = say(
        "{values} {values:value names|values name} a source; {invented} of them {invented:is|are} invented for "
        "the example.",
        values=len(reading.sources),
        invented=invented,
    )
    by_file: dict[str, list[SourcedValue]] = {}
    for value in reading.sources:
        by_file.setdefault(Path(value.file).name, []).append(value)
    parts = [_of_file(file, values, known) for file, values in by_file.items()]
    return [html.P(told, className="told"), *parts]


def _of_file(file: str, values: Sequence[SourcedValue], known: dict[str, object]) -> html.Details:
    """The values of one file, opened by its name."""
    summary = say("{file}: {number} {number:value|values}", file=file, number=len(values))
    columns = [Column(say("What")), Column(say("Value"), is_number=True), Column(say("Source"))]
    found = table(
        say("Where every number of {file} comes from", file=file), columns, [_row(value, known) for value in values]
    )
    return html.Details([html.Summary(summary), html.Div(found, className="of-paths")])


def _row(value: SourcedValue, known: dict[str, object]) -> Row:
    """One value."""
    unit = f" {value.unit}" if value.unit else ""
    return [value.key, f"{_in_words(value.value)}{unit}", source_in_words(value.source, known)]


def _in_words(value: object) -> str:
    """A value as it is read; of a long list its length and how it begins."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return plain(value)
    if not isinstance(value, list):
        return shown(value)
    listed = str(value)
    first = listed if len(listed) <= LONGEST_LIST else f"{listed[:LONGEST_LIST]} ..."
    return say("{number} {number:value|values}: {first}", number=len(value), first=first)


def source_in_words(key: str, known: dict[str, object]) -> str:
    """A source's title, year and place, or its key where nothing is known of it."""
    entry = known.get(key)
    if key == INVENTED:
        return say("Invented for the example")
    if not isinstance(entry, dict):
        return key
    return ", ".join(str(entry[part]) for part in ("title", "year", "place") if entry.get(part))


def layout(work: Work) -> list[Component]:
    """The page drawn for a work."""
    return [following.part(ids.SOURCES_PART, content, work)]


def register(app: Dash) -> None:
    """It follows the work."""
    following.follow(app, ids.SOURCES_PART, content)
