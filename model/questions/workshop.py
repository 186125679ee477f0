"""Questions about the workshop's bill: a quote against the plan."""

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from model.inputs.owner import Growth
from model.inputs.scenario import Scenario
from model.language import later, say
from model.questions.amounts import an_hour, in_unit, money, per_cent
from model.questions.answer import Answer, Figure, NotApplicableError
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import SERVICE, Choice, turning
from model.questions.plans import LABOUR, kept
from model.questions.saying import SERVICE_CAUTION
from model.service_calendar import VisitSummary, service_visits
from model.uncertainty.searchable import Input, reach

IN_LINE = 0.1
"""A quote this near the plan's price is in line where the file states no variation of prices. [-]"""


def at_delivery_prices(choice: Choice) -> Choice:
    """The choice with prices that stay as they are on the delivery day."""
    return choice.changed({("money", "inflation"): 0.0, ("money", "growth"): Growth()})


@dataclass(frozen=True)
class PlannedVisit:
    """One kind of visit of a plan, at delivery-day prices."""

    name: str
    """Its name: "200 h / 24 mo"."""
    visits: tuple[VisitSummary, ...]
    """Every visit of that name."""

    @property
    def mean(self) -> float:
        """What it costs on average. [money]"""
        return sum(visit.cost for visit in self.visits) / len(self.visits)

    @property
    def span(self) -> tuple[float, float]:
        """What the cheapest and the dearest of them cost. [money]"""
        costs = [visit.cost for visit in self.visits]
        return min(costs), max(costs)


def planned_visit(choice: Choice, wanted: str | None) -> PlannedVisit:
    """The visits of a choice by name or kind; the most frequent where none is wanted."""
    visits = service_visits(at_delivery_prices(choice).cost.case)
    names = [visit.name for visit in visits]
    if not names:
        raise NotApplicableError(say("No visit of {engine} falls within the period.", engine=choice.engine))
    if wanted is None:
        name = max(dict.fromkeys(names), key=names.count)
    else:
        name = next((one.name for one in visits if wanted in (one.name, one.kind.value)), "")
    found = tuple(visit for visit in visits if visit.name == name)
    if not found:
        raise NotApplicableError(
            say(
                "The plan of {engine} has no such visit. There are: {visits}.",
                engine=choice.engine,
                visits="; ".join(dict.fromkeys(names)),
            )
        )
    return PlannedVisit(name, found)


def visits_planned(about: Asked) -> tuple[str, ...]:
    """Names of the visits of the engine asked about, each once."""
    plan = about.scenario.engine(about.engine).service
    return tuple(dict.fromkeys(visit.name for visit in service_visits(kept(about, "").cost.case))) if plan else ()


@question("service-quote", later("Is this service quote in line?"))
def service_quote(
    about: Asked,
    visit: Annotated[
        str | None,
        Allowed(
            later("Which visit: its name, or first, routine or major; the most frequent if none"),
            choices=visits_planned,
        ),
    ] = None,
    amount: Annotated[float | None, Allowed(later("What the workshop asks, in the file's currency"), 0.0, 1e7)] = None,
) -> Answer:
    """What a visit comes to by the plan, at delivery-day prices, and how far a quote is from it."""
    scenario, mine = about.scenario, kept(about, about.engine)
    planned = planned_visit(mine, visit)
    first = planned.visits[0]
    words = {"visit": planned.name, "engine": mine.label, "planned": money(planned.mean, scenario)}
    reasons = _what_is_in_it(planned, scenario)
    rows = tuple(one for one in mine.rows(SERVICE) if one.row.date == first.date and one.row.through_year is None)
    caution = f"{say(SERVICE_CAUTION)} {say('Ask what the quote includes before you compare.')}"
    if amount is None:
        return Answer(
            say("A visit of {visit} for {engine} comes to about {planned}.", **words),
            say("Expect to pay about {planned}.", **words),
            Figure(planned.mean, scenario.currency),
            reasons,
            None,
            None,
            caution,
            rows,
        )
    sentence, plainly = _in_line_or_not(scenario, planned, amount)
    return Answer(
        sentence,
        plainly,
        Figure(amount - planned.mean, scenario.currency),
        reasons,
        turning(_labour_rate(mine, planned.name, amount), _at_that_rate),
        None,
        caution,
        rows,
    )


def _what_is_in_it(planned: PlannedVisit, scenario: Scenario) -> tuple[str, ...]:
    """Parts, labour and tasks of a visit, and how much the visits of its name differ."""
    (low, high), number = planned.span, len(planned.visits)
    reasons = (
        say(
            "Parts {parts}, labour and charges {labour}, at delivery-day prices.",
            parts=money(sum(one.parts for one in planned.visits) / number, scenario),
            labour=money(sum(one.labour for one in planned.visits) / number, scenario),
        ),
        say("Done then: {tasks}.", tasks="; ".join(planned.visits[0].tasks)),
    )
    if high <= low:
        return reasons
    return (
        *reasons,
        say(
            "The {number} visits of that name come to {low} to {high}, by what else is due.",
            number=number,
            low=money(low, scenario),
            high=money(high, scenario),
        ),
    )


def in_line_share(scenario: Scenario) -> float:
    """How far a quote may be from the plan's price: twice the variation of prices that the file states. [-]"""
    terms = scenario.trials
    return 2.0 * max(terms.parts_variation, terms.labour_variation) or IN_LINE


def _in_line_or_not(scenario: Scenario, planned: PlannedVisit, amount: float) -> tuple[str, str]:
    """Whether a quote is in line with the plan, and the same in short."""
    share, (low, high) = in_line_share(scenario), planned.span
    words = {
        "quote": money(amount, scenario),
        "visit": planned.name,
        "planned": money(planned.mean, scenario),
        "apart": money(abs(amount - planned.mean), scenario),
        "share": per_cent(share),
    }
    if low * (1.0 - share) <= amount <= high * (1.0 + share):
        if amount >= planned.mean:
            sentence = say(
                "{quote} for a visit of {visit} is in line: {apart} above the plan's {planned}, within {share}.",
                **words,
            )
        else:
            sentence = say(
                "{quote} for a visit of {visit} is in line: {apart} below the plan's {planned}, within {share}.",
                **words,
            )
        return sentence, say("That quote is in line: the plan comes to about {planned}.", **words)
    if amount > high:
        return (
            say("{quote} for a visit of {visit} is high: {apart} above the plan's {planned}.", **words),
            say("That is {apart} more than the plan comes to: ask what else is in it.", **words),
        )
    return (
        say("{quote} for a visit of {visit} is low: {apart} below the plan's {planned}.", **words),
        say("That is {apart} less than the plan comes to: ask what is left out.", **words),
    )


def _labour_rate(mine: Choice, name: str, amount: float) -> Input:
    """The labour rate, at which the plan's price is held against a quote."""
    today = mine.scenario.prices.labour

    def at(rate: float) -> float:
        return planned_visit(mine.changed({("prices", "labour"): rate}), name).mean

    def costs(rates: np.ndarray) -> np.ndarray:
        return np.array([[amount] * len(rates), [at(float(rate)) for rate in rates]])

    return Input(LABOUR, an_hour(mine.scenario), today, reach(today, 300.0), costs)


def _at_that_rate(one: Input, value: float | None) -> str:
    """At which labour rate a quote would be the plan's own price."""
    if value is None:
        return say("At no labour rate up to {high} is it the plan's price.", high=in_unit(one.span[1], one.unit))
    return say(
        "It is the plan's price at {value} of labour (now {today}).",
        value=in_unit(value, one.unit),
        today=in_unit(one.today, one.unit),
    )
