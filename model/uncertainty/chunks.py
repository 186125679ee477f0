"""Chunks of trials: sampled lives in, outcomes of every engine out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from model import ownership
from model.booking import Booking
from model.case import Case, prepare
from model.elements import oil, service
from model.elements.service import VisitTerms
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.levels import Levels
from model.repairs_and_cover import expected_repairs
from model.running import running_rates
from model.uncertainty import failures, outcomes
from model.uncertainty.calendars import Calendars, Plan, calendars
from model.uncertainty.drawing import Arrivals, FailureTerms, arrivals, failure_terms
from model.uncertainty.outcomes import PLACES, VARYING, Lives, Outcome, RunningTerms
from model.uncertainty.sampling import Sampled
from model.uncertainty.streams import CHUNK, Streams
from model.uncertainty.visits import add_service
from model.usage import year_shares

Amounts = NDArray[np.float64]


@dataclass(frozen=True)
class Ready:
    """One engine made ready for trials: everything that is the same in all of them."""

    case: Case
    """The engine in its scenario."""
    booking: Booking
    """How dated events are booked."""
    running: RunningTerms
    """What flows through the years, and lay-up."""
    services: tuple[Plan, ...]
    """The plan, if there is one, and the owner's tasks; of engine 0."""
    failures: FailureTerms
    """Failure modes and what a repair costs."""
    first_cost: float
    """Price and fit-up of the whole boat: the lowest makes the baseline. [money]"""
    delivery: float
    """Paid on the delivery day: price, fit-up and extension less what is lent. [money]"""
    fixed: Amounts
    """Purchase, fit-up, finance and extension, money of the day and present value, shape (2, element, year). [money]"""


def ready(scenario: Scenario) -> tuple[Ready, ...]:
    """
    Make every engine of a scenario ready for trials.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    tuple of Ready
    """
    return tuple(ready_case(prepare(scenario, engine)) for engine in scenario.engines)


def ready_case(case: Case) -> Ready:
    """One engine made ready for trials."""
    booking, years = case.rules.booking, case.scenario.ownership.begun_years
    dated, services = service.no_sums(1, years), list[Plan]()
    if case.walk is not None:
        services.append(Plan(0, VisitTerms(case.walk, case.visit_prices, case.ending), True))
    for task in case.dated_tasks:
        prices = case.task_prices(task.cost)
        if task.walk is not None:
            services.append(Plan(0, VisitTerms(task.walk, prices, case.ending), False))
        service.add_times(np.array(task.times), np.ones((2, 1)), prices, booking, dated)
    running = RunningTerms(
        running_rates(case),
        year_shares(case.years, years),
        case.start[0],
        oil.break_in_of(case.oil),
        np.array([[dated.parts[0], dated.parts_present[0]], [dated.labour[0], dated.labour_present[0]]]),
    )
    fixed = _fixed(case, years)
    first = float(fixed[0, [PLACES[Element.PURCHASE], PLACES[Element.FIT_UP]], 0].sum())
    delivery = first + float(fixed[0, PLACES[Element.WARRANTY_COVER], 0]) - case.lent
    return Ready(case, booking, running, tuple(services), failure_terms(case), first, delivery, fixed)


def _fixed(case: Case, years: int) -> Amounts:
    """What is the same in every trial, shape (2, element, year). [money]"""
    found = np.zeros((2, len(PLACES), years))
    booked = ownership.fixed_elements(case, np.zeros(years))
    for element, amounts in booked.items():
        found[:, PLACES[element]] += amounts.nominal, amounts.present_value
    return found


def outcome_of(engine: "Ready | Together", hours: Amounts, levels: Levels, drawn: Arrivals | None) -> Outcome:
    """
    What owning one engine comes to on rows of hours.

    Parameters
    ----------
    engine : Ready, or Together with that engine alone
        The latter is quicker where it is asked often.
    hours : ndarray, shape (trial, year)
        Hours of a full year. [h/year]
    levels : Levels
        Price and burn levels of the rows.
    drawn : Arrivals or None
        Failure streams; None for expected repairs.

    Returns
    -------
    Outcome
    """
    found = outcomes.no_outcome(1, hours.shape[0], hours.shape[1])
    alone = together([engine], None) if isinstance(engine, Ready) else engine
    alone = replace(alone, drawn=(drawn,))
    _add_outcomes(alone, hours, [levels], 0 if drawn is None else drawn.first, found)
    return found.of(0)


def cash_of(engine: "Together", hours: Amounts, levels: Levels, drawn: Arrivals | None) -> Amounts:
    """
    Cash that owning one engine takes on rows of hours, as far as it differs between them, without the value at sale.

    Parameters
    ----------
    engine : Together
        That engine alone.
    hours : ndarray, shape (trial, year)
        Hours of a full year. [h/year]
    levels : Levels
        Price and burn levels of the rows.
    drawn : Arrivals or None
        Failure streams; None for expected repairs.

    Returns
    -------
    ndarray, shape (trial, year, varying element)
        Money of the day. [money]
    """
    found = outcomes.outcome_in_cash(np.zeros((*hours.shape, len(VARYING))))
    _add_living(replace(engine, drawn=(drawn,)), hours, [levels], 0 if drawn is None else drawn.first, found)
    cash: Amounts = found.cash[0]
    return cash


def _add_outcomes(engines: "Together", hours: Amounts, levels: Sequence[Levels], first: int, outcome: Outcome) -> None:
    """Add what owning engines comes to on the same rows of hours, `first` being the number of the first trial."""
    _add_living(engines, hours, levels, first, outcome)
    for place, engine in enumerate(engines.engines):
        one = outcome.of(place)
        value = ownership.sale(engine.case, hours, levels[place]).present_value
        one.by_year[:] += engine.fixed[0].sum(axis=0)
        one.present[:] += engine.fixed[1].sum() + value
        one.elements[:] += hours.shape[0] * engine.fixed[1].sum(axis=1)
        one.elements[PLACES[Element.RESALE]] += value.sum()


def _add_living(engines: "Together", hours: Amounts, levels: Sequence[Levels], first: int, outcome: Outcome) -> None:
    """Add all that happens between delivery and sale."""
    lives = [lives_of(hours, of_engine) for of_engine in levels]
    if engines.calendar is not None:
        add_service(lives[0], engines.calendar, engines.engines[0].booking, outcome)
    for place, engine in enumerate(engines.engines):
        one, case, drawn = outcome.of(place), engine.case, engines.drawn[place]
        outcomes.add_running(lives[place], engine.running, one)
        if drawn is None:
            _add_expected(case, hours, levels[place], one)
        else:
            failures.add_failures(lives[place], engine.failures, engine.booking, drawn._replace(first=first), one)


def lives_of(hours: Amounts, levels: Levels) -> Lives:
    """Hours and levels of every trial, as compiled sums take them, hours of shape (trial, year). [h/year]"""
    trials, years = hours.shape
    fuel = np.broadcast_to(np.asarray(levels.fuel, dtype=float), (trials, years))
    burn = np.broadcast_to(np.asarray(levels.fuel_burn, dtype=float), trials)
    return Lives(
        np.ascontiguousarray(hours),
        np.ascontiguousarray(fuel),
        levels.by_row((trials,)),
        np.ascontiguousarray(burn),
    )


def _add_expected(case: Case, hours: Amounts, levels: Levels, outcome: Outcome) -> None:
    """Add the repairs that are expected, booked at the years' flow times."""
    found, rules = expected_repairs(case, hours, levels), case.rules
    owner, excess = found.owner.sum(axis=-2), found.excess.sum(axis=-2)
    days = np.einsum("...my,m->...y", found.failures, case.days_lost) * case.day_cost
    days *= rules.at_flow_times(rules.growth.downtime)
    for element, amounts in ((Element.REPAIRS, owner), (Element.WARRANTY_COVER, excess), (Element.DOWNTIME, days)):
        if outcome.cash.size:
            outcome.cash[..., VARYING.index(element)] += amounts
            continue
        present = amounts * rules.flow_discount
        outcome.by_year[:] += amounts
        outcome.present[:] += present.sum(axis=-1)
        outcome.elements[PLACES[element]] += present.sum()
    if outcome.cash.size:
        return
    failed, paid = found.failures.sum(axis=-2), (found.failures - found.paid_in_full).sum(axis=-2)
    for place, counts in ((outcomes.FAILURES, failed), (outcomes.OWNER_PAID, paid)):
        outcome.counts[place] += counts.sum(axis=-1)
        outcome.counts_by_year[place] += counts.sum(axis=0)


@dataclass(frozen=True)
class Together:
    """The engines of a comparison, ready to live the same trials."""

    engines: tuple[Ready, ...]
    """Each made ready."""
    calendar: Calendars | None
    """Their service plans side by side; None where no engine has one."""
    drawn: tuple[Arrivals | None, ...]
    """Failure streams of each; None for expected repairs."""


def together(engines: Sequence[Ready], streams: Streams | None) -> Together:
    """
    Engines that live the same trials.

    Parameters
    ----------
    engines : sequence of Ready
        Of one scenario.
    streams : Streams or None
        Draw the failures, where the scenario asks for drawn ones; None for expected repairs.

    Returns
    -------
    Together
    """
    plans = [plan._replace(engine=place) for place, engine in enumerate(engines) for plan in engine.services]
    drawn = [
        arrivals(engine.case, streams)
        if streams is not None and engine.case.scenario.trials.repairs == "drawn" and engine.case.engine.repair
        else None
        for engine in engines
    ]
    return Together(tuple(engines), calendars(plans) if plans else None, tuple(drawn))


def outcomes_of_chunk(engines: Together, sampled: Sampled, chunk: int, trials: int = CHUNK) -> Outcome:
    """
    Outcomes of every engine over the first trials of a chunk.

    Parameters
    ----------
    engines : Together
    sampled : Sampled
        What the trials live through.
    chunk : int
        Number of the chunk.
    trials : int
        How many of it.

    Returns
    -------
    Outcome
    """
    hours, levels = np.ascontiguousarray(sampled.hours[:trials]), [one.first(trials) for one in sampled.levels]
    found = outcomes.no_outcome(len(engines.engines), hours.shape[0], hours.shape[1])
    _add_outcomes(engines, hours, levels, chunk * CHUNK, found)
    return found
