"""What the pages ask of the model, kept for the last values asked about.

Results depend on nothing but the values, so that one user's are right for another with the same.
"""

from dataclasses import dataclass, replace

from dashboard import text
from dashboard.form import FUEL, HOURS, PATHS, SPREAD
from dashboard.keeping import kept
from dashboard.scenarios import scenario_of
from dashboard.work import TRIAL_NUMBERS, Work
from model import wording, wording_of_break_even
from model.break_even import Cumulative, cumulative_cost, first_cost, mid_year_cost
from model.cheapest import HOURS_FINE, Amounts, BreakEven, all_but_fuel_over_hours, break_even, sweep_over_hours
from model.curves import HoursCurve, hours_curve, stays_below_from
from model.inputs.problems import InputError
from model.inputs.remarks import left_out_of, warnings_of
from model.inputs.scenario import Scenario
from model.inputs.terms import Servicing, Timing
from model.language import say
from model.measures import Comparison, EngineCost, compare
from model.sweep import Stretch, Sweep, stretches

POINTS = 121
"""Points of the curve over hours a year."""


def names_of(scenario: Scenario) -> tuple[str, ...]:
    """Names of the engines compared."""
    return tuple(engine.name for engine in scenario.engines)


@kept
def comparison(work: Work) -> Comparison:
    """What each engine costs."""
    return compare(scenario_of(work))


def without(work: Work, *fields: str) -> Work:
    """
    What a sweep is kept under: the work with what is swept taken back to the file, and the usual number of trials.

    Parameters
    ----------
    work : Work
    *fields : str
        The controls that are swept, so that moving them costs nothing.

    Returns
    -------
    Work
        As it was, where a scenario cannot do without.
    """
    taken_back = work.changed({path: None for field in fields for path in PATHS[field]})
    found = replace(taken_back, trials=TRIAL_NUMBERS[0])
    try:
        scenario_of(found)
    except InputError:
        return work
    return found


def _without_hours(work: Work) -> Work:
    """What sweeps over hours are kept under: no spread; hours stated year by year are their pattern too."""
    return without(work, SPREAD) if scenario_of(work).use.hours_by_year else without(work, HOURS, SPREAD)


def stretches_by_hours(work: Work) -> tuple[Stretch, ...]:
    """The cheapest engine over hours a year, the same as the command line's."""
    return _stretches_by_hours(_without_hours(work))


@kept
def _stretches_by_hours(work: Work) -> tuple[Stretch, ...]:
    """Those of a work whose own hours do not matter."""
    return stretches(_sweep_over_hours(work), HOURS_FINE, names_of(scenario_of(work)))


@kept
def _sweep_over_hours(work: Work) -> Sweep:
    """The search and the picture look at the same costs."""
    return sweep_over_hours(scenario_of(work), _all_but_fuel(without(work, FUEL)))


@kept
def _all_but_fuel(work: Work) -> Amounts:
    """What a moved price of fuel leaves as it was, of a work whose own price does not matter."""
    return all_but_fuel_over_hours(scenario_of(work))


@kept
def break_even_of(work: Work) -> BreakEven:
    """When and from how many hours each engine has paid back."""
    return break_even(scenario_of(work))


def over_hours(work: Work) -> HoursCurve:
    """Costs over hours a year, on a coarse grid for the eye, as far as something happens."""
    scenario = scenario_of(work)
    low = scenario.range.hours_per_year[0]
    last = max((stretch.begin for stretch in stretches_by_hours(work)), default=low)
    high = hours_in_sight(scenario, max(scenario.mean_hours(), last))
    return _over_hours(_without_hours(work), high)


@kept
def _over_hours(work: Work, high: float) -> HoursCurve:
    """Those of a work whose own hours do not matter."""
    return hours_curve(_sweep_over_hours(work), high, POINTS)


def hours_in_sight(scenario: Scenario, hours: float) -> float:
    """
    How far the picture over hours reaches: some quarters of the scenario's range, with room beyond the hours given.

    In quarters, so that the picture stands still while hours are changed a little. [h/year]
    """
    low, high = scenario.range.hours_per_year
    quarters = [*(low + (high - low) * share for share in (0.25, 0.5, 0.75)), high]
    return next((end for end in quarters if low + 1.5 * (hours - low) <= end), max(high, hours))


@dataclass(frozen=True)
class Mark:
    """Where a dearer engine has paid back."""

    challenger: str
    """The dearer engine to buy."""
    baseline: str
    """The one with the lowest price and fit-up."""
    years: float | None
    """From when on; None for never within the period. [year]"""
    cost: float
    """Cost of the challenger since delivery then; 0 where it never pays back. [money]"""


@dataclass(frozen=True)
class SinceDelivery:
    """Cost of each engine since delivery, in money of the day."""

    costs: tuple[EngineCost, ...]
    """In the scenario's order, every event at its own time."""
    curves: tuple[Cumulative, ...]
    """Without resale."""
    marks: tuple[Mark, ...]
    """Every other engine against the baseline."""


@kept
def since_delivery(work: Work) -> SinceDelivery:
    """Cost of each engine since delivery, and when the dearer ones have paid back."""
    scenario = scenario_of(work)
    costs = comparison(work).engines
    if scenario.money.timing is not Timing.MID_YEAR:
        costs = tuple(mid_year_cost(scenario, name) for name in names_of(scenario))
    curves = tuple(cumulative_cost(cost) for cost in costs)
    base = min(range(len(costs)), key=lambda index: first_cost(costs[index]))
    marks = []
    for cost, curve in zip(costs, curves, strict=True):
        if cost is not costs[base]:
            years = stays_below_from(curve, curves[base])
            spent = float(curve.at([years])[1][0]) if years is not None else 0.0
            marks.append(Mark(cost.name, costs[base].name, years, spent))
    return SinceDelivery(costs, curves, tuple(marks))


def main_mark(work: Work) -> Mark | None:
    """The pay-back that the answer tells: that of the cheapest engine that is not itself the baseline."""
    marks = {mark.challenger: mark for mark in since_delivery(work).marks}
    ranked = sorted(comparison(work).engines, key=lambda cost: cost.total.present_value)
    return next((marks[cost.name] for cost in ranked if cost.name in marks), None)


def pays_back(work: Work) -> str:
    """When the engine of the answer has paid back, in a sentence; empty with a single engine."""
    mark = main_mark(work)
    if mark is None:
        return ""
    period, kind = scenario_of(work).ownership.years, wording_of_break_even.IN_MONEY_OF_THE_DAY
    return wording_of_break_even.pays_back(mark.challenger, mark.baseline, mark.years, period, kind)


def around_today(work: Work) -> str:
    """From how many hours a year another engine is the cheapest, in a sentence."""
    scenario = scenario_of(work)
    if len(scenario.engines) < 2:
        return ""
    return text.around(stretches_by_hours(work), scenario.mean_hours())


def over_hours_in_words(work: Work) -> str:
    """The cheapest engine over the range of hours a year, in the command line's words."""
    found = [(stretch.begin, stretch.end, stretch.engine) for stretch in stretches_by_hours(work)]
    return wording_of_break_even.cheapest_over(say(text.OVER_HOURS_WORD), "h", found)


def notes(work: Work) -> tuple[str, ...]:
    """What a reader should know: what is unusual, what was left out, and the cautions that belong to the figures."""
    scenario = scenario_of(work)
    extra = {Servicing.OWN: (wording.OWN_SERVICE_CAUTION,), Servicing.SKIPPED: (wording.SKIPPED_SERVICE_CAUTION,)}
    remarks = (*warnings_of(scenario), *left_out_of(scenario))
    return (*remarks, *(say(caution) for caution in (*extra.get(scenario.servicing, ()), *wording.CAUTIONS)))
