"""The question of doing the service oneself."""

from typing import Annotated

from model.inputs.terms import Element, Servicing
from model.language import later, say
from model.ledger import ledger
from model.questions.amounts import an_hour, figures, money, money_an_hour
from model.questions.answer import Answer
from model.questions.asking import Allowed, Asked, question
from model.questions.choosing import BREAKDOWNS, SERVICE, Choice, Costs, price_input
from model.questions.plans import LABOUR, kept, told
from model.questions.saying import SERVICE_CAUTION, compared, costs_less, costs_less_plainly, period
from model.wording import OWN_SERVICE_CAUTION

BRANDED_SERVICE_CAUTION = later(
    "In some countries a written warranty may not be tied to a maker's own parts or workshops; ask locally."
)


@question("own-servicing", later("What do I save doing the service myself, and what about the warranty?"))
def own_servicing(
    about: Asked,
    keeps_cover: Annotated[
        bool | None, Allowed(later("Whether the written warranty stands; what the file says, or else no, if none"))
    ] = None,
) -> Answer:
    """Servicing by the owner against the workshop, parts alone, with the warranty standing or not."""
    scenario = about.scenario
    workshop = kept(about, say("the workshop"))
    stated = scenario.own_service_keeps_cover if keeps_cover is None else keeps_cover
    stands = bool(stated)

    def own(stands: bool) -> Choice:
        changes: dict[tuple[str | int, ...], object] = {("servicing",): Servicing.OWN}
        changes[("own_service_keeps_cover",)] = stands
        return workshop.changed(changes, say("doing it yourself"))

    def at(rate: float) -> tuple[Choice, Choice]:
        changes: dict[tuple[str | int, ...], object] = {("prices", "labour"): rate}
        return workshop.changed(changes), own(stands).changed(changes)

    mine = own(stands)
    found = compared(about, workshop.only(SERVICE | BREAKDOWNS), mine.only(SERVICE | BREAKDOWNS))
    saved, other = workshop.total - mine.total, workshop.total - own(not stands).total
    reasons = (
        say(
            "Workshop labour saved: {amount}, and lost days {days}.",
            amount=money(_labour(workshop) - _labour(mine), scenario),
            days=money(_lost_days(workshop) - _lost_days(mine), scenario),
        ),
        _cover_line(stands, stated is None, money(other, scenario)),
        _own_time(workshop, saved),
    )
    caution = " ".join(say(one) for one in (OWN_SERVICE_CAUTION, BRANDED_SERVICE_CAUTION, SERVICE_CAUTION))
    rates: Costs = at
    searched = price_input(LABOUR, an_hour(scenario), scenario.prices.labour, 300.0, rates)
    amount = money(found.difference, scenario)
    words = costs_less(period(scenario), found, amount), costs_less_plainly(found, amount)
    return told(found, words, reasons, searched, caution)


def _labour(choice: Choice) -> float:
    """Service labour, present value. [money]"""
    return choice.cost.elements[Element.SERVICE_LABOUR].present_value


def _lost_days(choice: Choice) -> float:
    """Lost days, present value. [money]"""
    return choice.cost.elements[Element.DOWNTIME].present_value


def _cover_line(stands: bool, is_guess: bool, other: str) -> str:
    """What the answer takes of the written warranty, and what it would come to the other way."""
    if is_guess:
        return say(
            "The file does not say whether the written warranty then stands (own_service_keeps_cover), so it is taken "
            "to lapse; were it to stand, you would save {amount}.",
            amount=other,
        )
    if stands:
        return say("The written warranty is taken to stand; were it to lapse, you would save {amount}.", amount=other)
    return say("The written warranty is taken to lapse; were it to stand, you would save {amount}.", amount=other)


def _own_time(workshop: Choice, saved: float) -> str:
    """The owner's own time, and what an hour of it then earns."""
    rows = [row for row in ledger(workshop.cost) if row.element is Element.SERVICE_LABOUR and row.unit == "h"]
    hours = sum(row.quantity for row in rows)
    if hours <= 0.0:
        return say("The plan states no hours of labour, only prices.")
    return say(
        "It takes {hours} h of your own time: {earned} saved.",
        hours=figures(hours),
        earned=money_an_hour(saved / hours, workshop.scenario),
    )
