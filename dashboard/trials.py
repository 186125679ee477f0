"""How sure the answer is: trials of the values on screen, each engine's chance, and the bands around the curves."""

from dashboard import text
from dashboard.answers import comparison
from dashboard.keeping import kept, kept_few
from dashboard.scenarios import scenario_of
from dashboard.work import TRIAL_NUMBERS, Work
from model import wording
from model.measures import Comparison
from model.uncertainty.bands import Band, band
from model.uncertainty.summary import Summary, is_within_the_spread, summarise
from model.uncertainty.trials import TrialRun, run_trials, something_varies

TRIALS = TRIAL_NUMBERS[0]
"""Trials where nobody chose another number."""

SEED = 1
"""The command line's, so that the same trials give the same figures."""

SHARE = 0.8
"""Share of the trials within a band. [-]"""


@kept_few
def run_of(work: Work) -> TrialRun | None:
    """The trials; None where nothing varies."""
    scenario = scenario_of(work)
    return run_trials(scenario, work.trials, SEED) if something_varies(scenario) else None


@kept_few
def summary(work: Work) -> Summary | None:
    """What the trials say; None where nothing varies."""
    run = run_of(work)
    return None if run is None else summarise(run)


def chances(work: Work) -> tuple[tuple[str, float], ...]:
    """Each engine and the share of the trials in which it is the cheapest; empty where nothing varies."""
    found = summary(work)
    return () if found is None else tuple((engine.name, engine.chance_cheapest.value) for engine in found.engines)


@kept
def sentence(work: Work) -> wording.Sentence:
    """The answer around its figure, the same as the command line's."""
    return sentence_of(comparison(work), run_of(work))


def sentence_of(found: Comparison, run: TrialRun | None) -> wording.Sentence:
    """The answer of a comparison around its figure; "about the same" within the spread of its trials, if any."""
    scenario = found.scenario
    ranked = sorted((cost.total.present_value, cost.name) for cost in found.engines)
    is_spread = run is not None and len(ranked) > 1 and is_within_the_spread(run, ranked[0][1], ranked[1][1])
    costs = [(name, cost) for cost, name in ranked]
    return wording.answer_around(scenario.ownership.years, scenario.hours(), costs, scenario.currency, is_spread)


def how_sure(work: Work, cheapest: str) -> str:
    """In how many trials the answer holds, in a sentence; empty where nothing varies or nothing is compared."""
    found = dict(chances(work))
    return text.in_how_many_trials(cheapest, found[cheapest], work.trials) if len(found) > 1 else ""


@kept
def bands(work: Work) -> tuple[Band, ...]:
    """The band around each engine's cost since delivery, in the scenario's order; none where nothing varies."""
    run = run_of(work)
    return () if run is None else tuple(band(run, engine, SHARE) for engine in range(len(run.engines)))
