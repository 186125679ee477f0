"""What a sheet is about: the scenario as it was read and what the model says of it, and whose sheet it is."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from dashboard import answers, library, trials
from dashboard.scenarios import reading_of, scenario_of
from dashboard.work import Work
from model.cheapest import BreakEven, break_even
from model.inputs.reading import Reading
from model.inputs.scenario import Scenario
from model.inputs.sources import entries_near
from model.measures import Comparison, compare
from model.uncertainty.summary import Summary, summarise
from model.uncertainty.trials import TrialRun, run_trials, something_varies

LONGEST = {"shop": 200, "customer": 200, "note": 2000}
"""Characters that what is typed for a sheet may have. A name stands in a line, and long lines are slow to break."""

PAPERS = ("A4", "Letter")
"""Sizes of paper."""


@dataclass(frozen=True)
class Letterhead:
    """Whose sheet it is, on which paper; typed by somebody, so it is text and nothing else."""

    shop: str = ""
    """Who hands it over."""
    customer: str = ""
    """Who takes it home."""
    note: str = ""
    """What the shop adds."""
    paper: str = PAPERS[0]
    """One of `PAPERS`."""
    day: date = field(default_factory=date.today)
    """The day on it."""


@dataclass(frozen=True)
class Matter:
    """A scenario and what the model says of it."""

    reading: Reading
    """As it was read, with its sources."""
    comparison: Comparison
    """What each engine costs; its scenario holds the engines compared."""
    found: BreakEven
    """Break-even in time and in hours."""
    run: TrialRun | None
    """The trials; None where nothing varies."""
    summary: Summary | None
    """What they say; None where nothing varies."""
    entries: Mapping[str, Any]
    """What is known of each source, by its key."""

    @property
    def scenario(self) -> Scenario:
        """The scenario with the engines compared."""
        return self.comparison.scenario


def matter_of_reading(reading: Reading, number: int, seed: int) -> Matter:
    """
    What a sheet on a scenario file is about.

    Parameters
    ----------
    reading : Reading
    number : int
        Trials. [-]
    seed : int
        Of their random numbers.

    Returns
    -------
    Matter
    """
    scenario = reading.scenario
    run = run_trials(scenario, number, seed) if something_varies(scenario) else None
    summary = None if run is None else summarise(run)
    entries = _entries(reading, reading.path.parent)
    return Matter(reading, compare(scenario), break_even(scenario), run, summary, entries)


def matter_of_work(work: Work) -> Matter:
    """
    What a sheet on the values on screen is about, with the figures that the pages show.

    Parameters
    ----------
    work : Work
        One that makes a scenario.

    Returns
    -------
    Matter
    """
    scenario_of(work)
    # An opened file may name files of the library only, so its sources are the library's too.
    folder = library.HOME if work.text else library.files()[work.name].parent
    return Matter(
        reading_of(work),
        answers.comparison(work),
        answers.break_even_of(work),
        trials.run_of(work),
        trials.summary(work),
        _entries(reading_of(work), folder),
    )


def _entries(reading: Reading, folder: Path) -> dict[str, Any]:
    """What is known of each source: from beside the file, and from the file itself."""
    stated: dict[str, Any] = reading.document.get("sources", {})
    return (entries_near(folder) or {}) | stated
