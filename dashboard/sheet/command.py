"""The command for the sheet: python -m dashboard sheet FILE -o out.html, out.pdf or out.xlsx."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dashboard.sheet.matter import LONGEST, PAPERS
from dashboard.trials import SEED, TRIALS
from model.cli import File, Format, HoursOption, SetOption, YearsOption, read, refuse
from model.fleet.workbook import write_whole
from model.inputs.problems import Problem, shown
from model.language import LANGUAGES, speaking

if TYPE_CHECKING:
    from dashboard.sheet.matter import Letterhead, Matter

KINDS = (".html", ".pdf", ".xlsx")
"""Ends of the names of files that a sheet can be."""

COMMAND = "sheet"
"""Where what is wrong with the words of the command stands."""

NO_PDF = (
    "The PDF was not made: WeasyPrint, or the Pango library that it needs, is not installed (pip install "
    "weasyprint==70.0; Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0). "
    "The same sheet is in {file}: open it in a browser and print it.\n"
)
"""What is told where no PDF can be made."""

Out = Annotated[
    Path,
    typer.Option(
        "--output", "-o", metavar="FILE", help="Where it is written: .html, .pdf or .xlsx.", show_default=False
    ),
]
PaperOption = Annotated[str, typer.Option("--paper", help="Size of the paper: " + ", ".join(PAPERS) + ".")]
LanguageOption = Annotated[str, typer.Option("--language", help="In which language: " + ", ".join(LANGUAGES) + ".")]
TrialsOption = Annotated[int, typer.Option("--trials", min=2, max=1_000_000, help="Trials behind the chances.")]


def sheet(
    file: File,
    output: Out,
    paper: PaperOption = PAPERS[0],
    language: LanguageOption = "en",
    shop: Annotated[str, typer.Option("--shop", help="Who hands it over.")] = "",
    customer: Annotated[str, typer.Option("--customer", help="Who takes it home.")] = "",
    note: Annotated[str, typer.Option("--note", help="What the shop adds.")] = "",
    trials: TrialsOption = TRIALS,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Seed of the random numbers.")] = SEED,
    years: YearsOption = None,
    hours: HoursOption = None,
    sets: SetOption = None,
) -> None:
    """The sheet to take home: the answer, costs, service, cover and what they rest on, on one or two pages."""
    from dashboard.sheet.matter import Letterhead, matter_of_reading
    from model.telling_out import say_preparing

    _refuse_what_cannot_be(output, {"--paper": (paper, PAPERS), "--language": (language, tuple(LANGUAGES))})
    _refuse_what_is_too_long({"shop": shop, "customer": customer, "note": note})
    reading = read(file, (years, hours, sets), Format.TABLE)
    say_preparing()
    with speaking(language):
        _write(matter_of_reading(reading, trials, seed), Letterhead(shop, customer, note, paper), output)


def _refuse_what_cannot_be(output: Path, choices: dict[str, tuple[str, tuple[str, ...]]]) -> None:
    """End with every option that is none of its choices."""
    found = [
        Problem(COMMAND, option, shown(given), "one of " + ", ".join(allowed))
        for option, (given, allowed) in choices.items()
        if given not in allowed
    ]
    if output.suffix.lower() not in KINDS:
        found.append(Problem(COMMAND, "--output", shown(output.name), "a file " + ", ".join(KINDS)))
    elif not output.parent.is_dir():
        found.append(Problem(COMMAND, "--output", f"no folder {output.parent}", "a folder that is there"))
    if found:
        refuse(found, Format.TABLE)


def _refuse_what_is_too_long(words: dict[str, str]) -> None:
    """End with every name or note that is too long."""
    found = [
        Problem(COMMAND, f"--{name}", f"{len(text)} characters", f"up to {LONGEST[name]} characters")
        for name, text in words.items()
        if len(text) > LONGEST[name]
    ]
    if found:
        refuse(found, Format.TABLE)


def _write(matter: "Matter", head: "Letterhead", output: Path) -> None:
    """Write the sheet; where a PDF cannot be made, the page beside it, and say so."""
    from dashboard.sheet import paper, workbook

    if output.suffix.lower() == ".xlsx":
        return _put(workbook.workbook(matter, head), output)
    page = paper.html(matter, head)
    if output.suffix.lower() == ".html":
        return _put(page.encode(), output)
    if paper.can_make_pdf():
        return _put(paper.pdf(page), output)
    beside = output.with_suffix(".html")
    _put(page.encode(), beside)
    sys.stderr.write(NO_PDF.format(file=beside))
    raise typer.Exit(2)


def _put(content: bytes, output: Path) -> None:
    """Write a file whole, or end with why it cannot be."""
    try:
        write_whole(content, output)
    except OSError as error:
        refuse(
            [Problem(COMMAND, "--output", f"{output}: {error.strerror or error}", "a file that can be written")],
            Format.TABLE,
        )
