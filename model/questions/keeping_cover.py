"""The question of what keeping the written warranty alive takes."""

import numpy as np
from numpy.typing import NDArray

from model.inputs.terms import Payer, Timing
from model.language import dated, later, say
from model.ledger import ledger
from model.questions.amounts import an_hour, duration, figures, money
from model.questions.answer import Answer, Figure, NotApplicableError, RowBehind
from model.questions.asking import Asked, question
from model.questions.choosing import BREAKDOWNS, SERVICE, Choice, turning
from model.questions.cover import chance_of_a_claim
from model.questions.plans import LABOUR, kept
from model.questions.saying import ESTIMATE_CAUTION, SERVICE_CAUTION, stays_or_turns
from model.repair_bill import cover_ends
from model.service_calendar import service_visits
from model.uncertainty.searchable import Input, reach
from model.usage import date_at, meter_at

JUST = 1e-9
"""A visit on the very day the cover ends is none that keeps it alive. [year]"""


@question("keep-cover", later("What does keeping the warranty alive cost me?"))
def keep_cover(about: Asked) -> Answer:
    """Service up to the day the cover ends, and what the cover pays in that time."""
    scenario = about.scenario
    mine = kept(about, about.engine).changed({("money", "timing"): Timing.MID_YEAR})
    ends = min(cover_ends(mine.cost), scenario.ownership.years)
    if ends <= 0.0:
        raise NotApplicableError(say("{engine} has no written warranty that still runs.", engine=mine.label))
    rows, paid = _service_until(mine, ends), mine.cost.paid_by_warranty.nominal
    spent = sum(one.row.nominal for one in rows)
    visits = [visit for visit in service_visits(mine.cost.case) if visit.t_years < ends - JUST]
    words = {
        "amount": money(spent, scenario),
        "years": duration(ends),
        "engine": mine.label,
        "paid": money(paid, scenario),
    }

    reasons = (
        say(
            "{number} {number:visit falls|visits fall} in that time: {each} each, with what is done between them.",
            number=len(visits),
            each=money(spent / max(len(visits), 1), scenario),
        ),
        say(
            "The cover then ends, or the engine is sold, on {day} at {meter} h.",
            day=dated(date_at(ends, scenario.ownership.delivery)),
            meter=figures(
                float(meter_at(ends, np.array(scenario.hours()), mine.cost.case.years, mine.cost.case.start[0]))
            ),
        ),
        say("The service is worth more than that: it is also what keeps the failures down."),
    )
    return Answer(
        say("Keeping the cover of {engine} alive for {years} takes {amount} of service; it pays some {paid}.", **words),
        say("Some {amount} of service in {years}, and the warranty pays back about {paid} of it.", **words),
        Figure(spent, scenario.currency),
        reasons,
        turning(_over_labour_rates(mine, ends), stays_or_turns),
        chance_of_a_claim(about, mine.changed({("engine", "warranty"): None}), mine),
        say(SERVICE_CAUTION) + " " + say(ESTIMATE_CAUTION),
        rows + mine.rows(BREAKDOWNS, (Payer.WARRANTY,)),
    )


def _over_labour_rates(mine: Choice, ends: float) -> Input:
    """The labour rate, at which the service up to a time is held against what the cover pays."""

    def at(rates: NDArray[np.float64]) -> NDArray[np.float64]:
        # Service is a straight line in the rate; what an excess takes off a repair bends what the cover pays.
        choices = [mine.changed({("prices", "labour"): rate}) for rate in (0.0, 1.0)]
        none, one = (sum(found.row.nominal for found in _service_until(choice, ends)) for choice in choices)
        worth = [mine.changed({("prices", "labour"): float(rate)}).cost.paid_by_warranty.nominal for rate in rates]
        return np.array([none + (one - none) * rates, worth])

    today = mine.scenario.prices.labour
    return Input(LABOUR, an_hour(mine.scenario), today, reach(today, 300.0), at)


def _service_until(choice: Choice, ends: float) -> tuple[RowBehind, ...]:
    """Rows of visits and tasks before a time."""
    found = [
        row
        for row in ledger(choice.cost)
        if row.element in SERVICE and row.through_year is None and row.t_years < ends - JUST
    ]
    return tuple(RowBehind(choice.label, row) for row in found)
