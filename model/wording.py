"""Every sentence and number format the model writes."""

import math
from collections.abc import Sequence

from model.inputs.plan import Interval
from model.inputs.terms import Element, Payer
from model.language import later, say, say_around, written

ELEMENT_LABELS = {
    Element.PURCHASE: later("Purchase"),
    Element.FIT_UP: later("Fit-up"),
    Element.FINANCE: later("Finance (interest)"),
    Element.FUEL: later("Fuel"),
    Element.TWO_STROKE_OIL: later("Two-stroke oil"),
    Element.SERVICE_PARTS: later("Service parts"),
    Element.SERVICE_LABOUR: later("Service labour"),
    Element.REPAIRS: later("Repairs (expected)"),
    Element.WARRANTY_COVER: later("Warranty cover"),
    Element.DOWNTIME: later("Downtime"),
    Element.RESALE: later("Resale"),
}
"""What each cost element is called on screen and paper."""

PAYERS = {Payer.OWNER: later("owner"), Payer.WARRANTY: later("warranty")}
"""Who pays, as tables call them."""

CAUTIONS = (
    later(
        "The engine maker's manual and local rules govern; have fuel, cooling and gearcase work done by a qualified "
        "technician."
    ),
    later(
        "Figures are estimates, no offer. Statutory rights may go beyond the written warranty and differ by country; "
        "ask locally. Income tax is not counted."
    ),
)
"""Shown wherever service, neglect or costs are."""

OWN_SERVICE_CAUTION = later(
    "Servicing by the owner: whether the written warranty stands is the scenario's statement, not ours. Keep proof of "
    "every service; ask the dealer before you rely on it."
)
"""Shown with servicing = "own"."""

IMPELLER_CAUTION = later(
    "A rubber impeller without water is ruined within seconds: if the tell-tale stops, stop the engine."
)
"""Shown with the cooling water."""

SKIPPED_SERVICE_CAUTION = later(
    "Skipped servicing: no cover is counted, and repairs and value at sale follow the scenario's own factors, "
    "which are an assumption. A skipped service is not a saving."
)
"""Shown with servicing = "skipped"."""


def whole(amount: float) -> str:
    """
    An amount as a whole number with thousands separated.

    >>> whole(12345.6), whole(-0.2)
    ('12,346', '0')
    """
    return written(f"{round(amount) + 0:,d}")


def cents(amount: float) -> str:
    """
    An amount with two decimals and thousands separated.

    >>> cents(1234.5)
    '1,234.50'
    """
    return written(f"{amount + 0.0:,.2f}")


def about(amount: float, spread: float) -> str:
    """
    An amount as a whole number with as many digits as its spread supports: two of the spread's own.

    Parameters
    ----------
    amount : float
        [money]
    spread : float
        Width of the interval that holds most of what the amount may be. [money]

    >>> about(3412.87, 2150.0), about(3412.87, 90.0), about(-38.0, 21000.0)
    ('3,400', '3,413', '0')
    """
    unit = 10.0 ** max(math.floor(math.log10(spread)) - 1, 0) if spread > 0.0 else 1.0
    return whole(unit * round(amount / unit))


def plain(number: float) -> str:
    """
    A number without needless decimals.

    >>> plain(8.0), plain(2.5), plain(1200.0)
    ('8', '2.5', '1,200')
    """
    return written(f"{number:,.10g}")


def hours_in_words(hours: Sequence[float], years: float) -> str:
    """
    Stated hours of a sentence: the same every year, or their mean, a part-year counted by its part.

    >>> hours_in_words((120.0, 120.0), 2.0), hours_in_words((100.0, 100.0, 40.0), 2.5)
    ('120 h a year', '88 h a year on average')
    """
    mean = sum(run * min(1.0, years - year) for year, run in enumerate(hours)) / years
    told = say("{hours} h a year", hours=plain(round(mean, 1)))
    return told if max(hours) == min(hours) else say("{hours} on average", hours=told)


Sentence = tuple[str, str, str]
"""A sentence around its figure: before it, the figure, after it."""

ABOUT_THE_SAME = later(
    "Over {years} at {hours} {cheapest} and {second} cost *about the same*: the first {amount} {currency} less, which "
    "is within the spread of the trials."
)
"""Where trials differ by more than the engines do."""


def answer_around(
    years: float, hours: Sequence[float], costs: Sequence[tuple[str, float]], currency: str, is_spread: bool = False
) -> Sentence:
    """
    The answer in one sentence: which engine costs less over the ownership period, and by how much.

    Parameters
    ----------
    years : float
        Ownership period. [year]
    hours : sequence of float
        Stated hours. [h/year]
    costs : sequence of (str, float)
        Engine and its total cost in present value. [-, money]
    currency : str
    is_spread : bool
        Whether the difference lies within what trials differ by.

    Returns
    -------
    (str, str, str)
        The sentence around its figure.

    >>> answer_around(1.0, [120.0], [("Two", 900.0), ("Four", 800.0)], "EUR")
    ('Over 1 year at 120 h a year Four costs ', '100 EUR less', ' than Two, the next cheapest.')
    """
    ranked = sorted(costs, key=lambda cost: cost[1])
    known: dict[str, object] = {
        "years": period(years),
        "hours": hours_in_words(hours, years),
        "currency": currency,
    }
    (cheapest, least), (second, more) = ranked[0], ranked[min(1, len(ranked) - 1)]
    known |= {"cheapest": cheapest, "second": second, "amount": whole(more - least), "each": whole(least)}
    if len(ranked) == 1:
        return say_around("Over {years} at {hours} {cheapest} costs *{each} {currency}*.", **known)
    if round(more - least) == 0:
        return say_around(
            "Over {years} at {hours} {cheapest} and {second} cost *the same*, {each} {currency}.", **known
        )
    if is_spread:
        return say_around(ABOUT_THE_SAME, **known)
    return say_around(
        "Over {years} at {hours} {cheapest} costs *{amount} {currency} less* than {second}, the next cheapest.", **known
    )


def answer(years: float, hours: Sequence[float], costs: Sequence[tuple[str, float]], currency: str) -> str:
    """The answer in one sentence, on mean hours and expected repairs; arguments as for `answer_around`."""
    return "".join(answer_around(years, hours, costs, currency))


def period(years: float) -> str:
    """
    A length of time for a sentence.

    >>> period(1.0), period(8.0), period(2.5)
    ('1 year', '8 years', '2.5 years')
    """
    return say("{years} {years:year|years}", years=plain(years))


def interval_in_words(every: Interval) -> str:
    """
    A service interval in the trade's short form.

    >>> interval_in_words(Interval(hours=200, months=24))
    '200 h / 24 mo'
    """
    limits = [say("{hours} h", hours=plain(every.hours))] if every.hours else []
    return " / ".join(limits + ([say("{months} mo", months=plain(every.months))] if every.months else []))


def to_a_tenth(number: float) -> str:
    """A number for a sentence."""
    return written(f"{number:,.1f}".removesuffix(".0"))


def one_decimal(number: float) -> str:
    """
    A number with one decimal and thousands separated.

    >>> one_decimal(8.0)
    '8.0'
    """
    return written(f"{number:,.1f}")


def thousandths(number: float) -> str:
    """
    A number with three decimals and thousands separated.

    >>> thousandths(1.6375)
    '1.637'
    """
    return written(f"{number:,.3f}")


def in_years(years: float) -> str:
    """
    A number of years to a tenth.

    >>> in_years(1.0), in_years(5.32)
    ('1 year', '5.3 years')
    """
    shown = to_a_tenth(years)
    return say("{years} {years:year|years}", years=shown)
