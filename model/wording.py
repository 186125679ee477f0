"""Every sentence and number format the model writes."""

from collections.abc import Sequence

from model.inputs.terms import Element

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
    return f"{round(amount) + 0:,d}"


def cents(amount: float) -> str:
    """
    An amount with two decimals and thousands separated.

    >>> cents(1234.5)
    '1,234.50'
    """
    return f"{amount + 0.0:,.2f}"


def plain(number: float) -> str:
    """
    A number without needless decimals.

    >>> plain(8.0), plain(2.5), plain(1200.0)
    ('8', '2.5', '1,200')
    """
    return f"{number:,.10g}"


def hours_in_words(hours: Sequence[float]) -> str:
    """
    Stated hours of a sentence: the same every year, or their mean.

    >>> hours_in_words((120.0, 120.0)), hours_in_words((100.0, 140.0))
    ('120 h a year', '120 h a year on average')
    """
    mean = sum(hours) / len(hours)
    return f"{plain(round(mean, 1))} h a year" + ("" if max(hours) == min(hours) else " on average")


def answer(years: float, hours: Sequence[float], costs: Sequence[tuple[str, float]], currency: str) -> str:
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

    Returns
    -------
    str
    """
    ranked = sorted(costs, key=lambda cost: cost[1])
    period = f"Over {plain(years)} year{'' if years == 1 else 's'} at {hours_in_words(hours)}"
    if len(ranked) == 1:
        return f"{period} {ranked[0][0]} costs {whole(ranked[0][1])} {currency}."
    (cheapest, least), (second, more) = ranked[:2]
    if round(more - least) == 0:
        return f"{period} {cheapest} and {second} cost the same, {whole(least)} {currency}."
    return f"{period} {cheapest} costs {whole(more - least)} {currency} less than {second}, the next cheapest."
