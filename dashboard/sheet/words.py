"""Headings and labels of the sheet."""

from dashboard.sheet.matter import Letterhead, Matter
from model.language import say


def words(matter: Matter, head: Letterhead) -> dict[str, str]:
    """
    Headings and labels in the language of the moment.

    Parameters
    ----------
    matter : Matter
    head : Letterhead

    Returns
    -------
    dict of str to str
        By the names under which the page knows them.
    """
    currency = matter.scenario.currency
    return {
        "title": say("What it costs to own"),
        "for_customer": say("For {customer}", customer=head.customer),
        "costs": say("What it costs over the ownership period, {currency}, present value", currency=currency),
        "present_value": say(
            "Present value: money paid later counts less, by the discount rate. Left of the thick line: what the "
            "engine is worth at the sale. The triangle marks the total."
        ),
        "break_even": say("When the dearer engine pays back"),
        "service": say("Service in the first three years, {currency}, money of the day", currency=currency),
        "date": say("Date"),
        "meter": say("Meter, h"),
        "visit": say("Visit"),
        "price": say("Price"),
        "together": say("Together"),
        "no_visits": say("No visits at a workshop."),
        "cover": say("Written cover"),
        "rests_on": say("What the figures rest on"),
        "left_out": say("What was left out or is unusual"),
        "cautions": say("Please note"),
    }
