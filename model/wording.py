"""Every sentence and number format the model writes."""

import math
from collections.abc import Sequence

from model.inputs.terms import Element
from model.language import later, say, say_around, written

ELEMENT_LABELS = {
    Element.PURCHASE: "Purchase",
    Element.FIT_UP: "Fit-up",
    Element.FINANCE: "Finance (interest)",
    Element.FUEL: "Fuel",
    Element.TWO_STROKE_OIL: "Two-stroke oil",
    Element.SERVICE_PARTS: "Service parts",
    Element.SERVICE_LABOUR: "Service labour",
    Element.REPAIRS: "Repairs (expected)",
    Element.WARRANTY_COVER: "Warranty cover",
    Element.DOWNTIME: "Downtime",
    Element.RESALE: "Resale",
}
"""What each cost element is called on screen and paper."""

CAUTIONS = (
    "The engine maker's manual and local rules govern; have fuel, cooling and gearcase work done by a qualified "
    "technician.",
    "Figures are estimates, no offer. Statutory rights may go beyond the written warranty and differ by country; "
    "ask locally. Income tax is not counted.",
)
"""Shown wherever service, neglect or costs are."""

OWN_SERVICE_CAUTION = (
    "Servicing by the owner: whether the written warranty stands is the scenario's statement, not ours. Keep proof of "
    "every service; ask the dealer before you rely on it."
)
"""Shown with servicing = "own"."""

IMPELLER_CAUTION = "A rubber impeller without water is ruined within seconds: if the tell-tale stops, stop the engine."
"""Shown with the cooling water."""

SKIPPED_SERVICE_CAUTION = (
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
    return f"{plain(round(mean, 1))} h a year" + ("" if max(hours) == min(hours) else " on average")


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
    known: dict[str, object] = {"years": period(years), "hours": hours_in_words(hours, years), "currency": currency}
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
    return say("1 year") if years == 1 else say("{years} years", years=plain(years))


def to_a_tenth(number: float) -> str:
    """A number for a sentence."""
    return written(f"{number:,.1f}".removesuffix(".0"))


def pays_back(challenger: str, baseline: str, years: float | None, period: float, kind: str) -> str:
    """
    When a challenger has paid back, in a sentence.

    Parameters
    ----------
    challenger, baseline : str
        Engines.
    years : float or None
        From when on; None for never within the period. [year]
    period : float
        Ownership period. [year]
    kind : str
        What is counted: "in money of the day".

    >>> pays_back("Four", "Two", 3.14, 8.0, "in money of the day")
    'Four has paid back its higher price over Two after 3.1 years (in money of the day).'
    """
    if years is None:
        return f"{challenger} does not pay back against {baseline} within {plain(period)} years ({kind})."
    if years == 0.0:
        return f"{challenger} costs no more than {baseline} from the start ({kind})."
    after = "within a month" if years < 1.0 / 12.0 else f"after {to_a_tenth(years)} years"
    return f"{challenger} has paid back its higher price over {baseline} {after} ({kind})."


def costs_no_more(challenger: str, baseline: str, years: float | None, period: float, kind: str) -> str:
    """
    From when on a challenger that is cheaper to buy costs no more than the baseline, in a sentence.

    Parameters
    ----------
    challenger, baseline : str
        Engines.
    years : float or None
        From when on; None where it costs more at the end of the period. [year]
    period : float
        Ownership period. [year]
    kind : str
        What is counted: "in money of the day".

    >>> costs_no_more("Two", "Four", None, 8.0, "in money of the day")
    'Two is cheaper to buy and has cost more than Four after 8 years (in money of the day).'
    """
    if years is None:
        return f"{challenger} is cheaper to buy and has cost more than {baseline} after {plain(period)} years ({kind})."
    since = "from the start" if years == 0.0 else f"for good after {to_a_tenth(years)} years"
    return f"{challenger} is cheaper to buy and costs no more than {baseline} {since} ({kind})."


def about_equal(challenger: str, baseline: str, hours: tuple[float, float] | None, looked: tuple[float, float]) -> str:
    """
    At how many hours a year two engines cost the same, in a sentence.

    Parameters
    ----------
    challenger, baseline : str
        Engines.
    hours : (float, float) or None
        First and last crossing; None where there is none. [h/year]
    looked : (float, float)
        The range looked at. [h/year]

    >>> about_equal("Four", "Two", (95.2, 104.7), (0.0, 500.0))
    'Four and Two cost about the same from 95 to 105 h a year.'
    """
    if hours is None:
        range_in_words = f"between {plain(looked[0])} and {plain(looked[1])} h a year"
        return f"{challenger} and {baseline} never cost the same {range_in_words}."
    low, high = (whole(hour) for hour in hours)
    where = f"at {low} h a year" if low == high else f"from {low} to {high} h a year"
    return f"{challenger} and {baseline} cost about the same {where}."


def cheapest_over(over: str, unit: str, stretches: Sequence[tuple[float, float, str]]) -> str:
    """
    The cheapest engine over a range, in a sentence.

    >>> cheapest_over("Hours a year", "h", [(0, 50.4, "Two"), (50.4, 500, "Four")])
    'Hours a year: up to 50 h Two is the cheapest; above that Four.'
    """
    found, stretches = len(stretches), _without_slivers(stretches)
    apart = " (apart from slivers that service steps make)" if len(stretches) < found else ""
    if len(stretches) == 1:
        begin, end, engine = stretches[0]
        return f"{over}: {engine} is the cheapest all the way from {_short(begin, unit)} to {_short(end, unit)}{apart}."
    first, *others = stretches
    parts = [f"up to {_short(first[1], unit)} {first[2]} is the cheapest"]
    parts += [f"then {engine} up to {_short(end, unit)}" for _, end, engine in others[:-1]]
    return f"{over}: " + "; ".join([*parts, f"above that {others[-1][2]}"]) + f"{apart}."


def _without_slivers(stretches: Sequence[tuple[float, float, str]]) -> list[tuple[float, float, str]]:
    """Stretches worth a sentence: service steps make slivers, which go to the stretch before or after them."""
    smallest = 0.01 * (stretches[-1][1] - stretches[0][0])
    kept: list[tuple[float, float, str]] = []
    for begin, end, engine in stretches:
        if kept and (kept[-1][2] == engine or end - begin < smallest):
            kept[-1] = (kept[-1][0], end, kept[-1][2])
        elif kept and kept[-1][1] - kept[-1][0] < smallest:
            kept[-1] = (kept[-1][0], end, engine)
        else:
            kept.append((begin, end, engine))
    return kept


def _short(number: float, unit: str) -> str:
    """A place in a range with its unit: hours whole, years to a tenth."""
    shown = whole(number) if unit == "h" else to_a_tenth(number)
    return f"{shown} {'year' if unit == 'years' and shown == '1' else unit}"
