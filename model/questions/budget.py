"""The question of what to budget in each of the next years."""

from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from model.elements.cover import extension_price
from model.inputs.terms import Element, Payer
from model.language import later, say
from model.ledger import Row, ledger
from model.questions.amounts import a_year, figures, money, money_a_year, years
from model.questions.answer import Answer, Figure, RowBehind
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import CAPITAL, Choice, can_be_tried, hours_input, turning, two
from model.questions.saying import ESTIMATE_CAUTION, share_of, stays_or_turns, told_chance
from model.uncertainty.trials import run_trials

Amounts = NDArray[np.float64]

RUNNING = frozenset(Element) - CAPITAL - {Element.RESALE}
"""What is paid while the engine is owned."""

JUST = 1e-9
"""A payment on the last day of a year is one of that year. [year]"""

SAFE = 0.8
"""Share of the trials that a safe budget holds in. [-]"""


ENOUGH = later("{amount} suffices in {number} of 100 trials ({trials} possible ownerships).")


def paid_by_year(choice: Choice, ahead: int) -> Amounts:
    """
    What is paid in each of the next years after the delivery day; the sale is not in it.

    Parameters
    ----------
    choice : Choice
    ahead : int
        How many years.

    Returns
    -------
    ndarray, shape (year,)
        Money of the day. [money]
    """
    booked = choice.cost.ownership.elements
    amounts = np.sum([booked[element].nominal for element in RUNNING], axis=0)
    amounts[0] -= extension_price(choice.cost.case.cover_terms) * choice.cost.case.count  # on the delivery day
    for row in _payments(choice):
        amounts[max(0, int(row.t_years - JUST))] += row.nominal
    return np.asarray(amounts[:ahead])


def _payments(choice: Choice) -> list[Row]:
    """The monthly payments of a loan; what is owed at the sale is paid from what the sale brings."""
    return [row for row in ledger(choice.cost) if row.item == "Loan payment"]


def _paid_rows(choice: Choice, length: float) -> list[Row]:
    """The rows of what is paid over the next years."""
    found = [row for row in ledger(choice.cost) if row.element in RUNNING and row.payer is Payer.OWNER]
    return [row for row in [*found, *_payments(choice)] if 0.0 < row.t_years <= length + JUST]


@question("next-years", later("What must I budget in each of the next years?"))
def next_years(
    about: Asked,
    ahead: Annotated[int, Allowed(later("How many years"), 1, 60, later("years"))] = 5,
) -> Answer:
    """What is paid in each of the next years, without the purchase and the sale, and what is safe to put aside."""
    scenario, mine = about.scenario, Choice(about.scenario, about.engine, about.engine)
    ahead = min(ahead, scenario.ownership.begun_years)
    amounts, length = paid_by_year(mine, ahead), min(float(ahead), scenario.ownership.years)
    mean = float(amounts.sum()) / length
    drawn = _paid_in_trials(about, mine, ahead)
    reasons = _year_by_year(mine, amounts)
    if drawn is not None:
        safe = money_a_year(float(np.quantile(drawn, SAFE)) / length, scenario)
        reasons.append(say("To be safe in 8 of 10 trials, put {amount} aside.", amount=safe))
    flip = None
    if about.against is not None:
        pair = [choice.only(RUNNING) for choice in two(about)]
        flip = turning(hours_input(pair[0], pair[1]), stays_or_turns)
        other = paid_by_year(Choice(scenario, about.against, about.against), ahead).sum() / length
        reasons.append(
            say("{engine} would take {amount}.", engine=about.against, amount=money_a_year(float(other), scenario))
        )
    words = {"engine": mine.label, "amount": money_a_year(mean, scenario), "years": years(length)}
    enough = share_of(None if drawn is None else drawn <= mean * length)
    return Answer(
        say("Over the next {years} budget {amount} for {engine}, purchase and sale apart.", **words),
        say("Put about {amount} aside to run it.", **words),
        Figure(mean, a_year(scenario)),
        tuple(reasons),
        flip,
        told_chance(about, enough, ENOUGH, amount=words["amount"]),
        say(ESTIMATE_CAUTION),
        tuple(RowBehind(mine.label, row) for row in _paid_rows(mine, length)),
    )


def _year_by_year(mine: Choice, amounts: Amounts) -> list[str]:
    """What is paid in each year, and what makes the dearest one dear."""
    scenario, dearest = mine.scenario, int(np.argmax(amounts))
    listed = "; ".join(
        say("year {number} {amount}", number=year + 1, amount=figures(float(amount)))
        for year, amount in enumerate(amounts)
    )
    return [
        say(
            "In {currency}, money of the day, with service, fuel, repairs and lost days: {list}.",
            currency=scenario.currency,
            list=listed,
        ),
        say(
            "Year {number} is the dearest, {amount}; its largest single bill: {item}.",
            number=dearest + 1,
            amount=money(float(amounts[dearest]), scenario),
            item=_largest(mine, dearest),
        ),
    ]


def _largest(mine: Choice, year: int) -> str:
    """The item of the largest dated row of a year, or of what flows through it where nothing is dated."""
    rows = [row for row in ledger(mine.cost) if row.element in RUNNING and row.payer is Payer.OWNER]
    dated = [row for row in rows if row.through_year is None and row.t_years > 0.0 and int(row.t_years) == year]
    found = dated or [row for row in rows if row.through_year == year]
    return max(found, key=lambda row: row.nominal).item if found else say("none")


def _paid_in_trials(about: Asked, mine: Choice, ahead: int) -> Amounts | None:
    """What is paid over the next years in every trial, shape (trial,); None where nothing varies. [money]"""
    alone = mine.alone
    if not can_be_tried(alone):
        return None
    run = run_trials(alone, about.trials, about.seed)
    paid = run.by_year[0, :ahead].sum(axis=0) - run.engines[0].delivery
    repaid = [row.nominal for row in ledger(mine.cost) if row.item == "Loan balance repaid" and row.t_years <= ahead]
    return np.asarray(paid - sum(repaid))
