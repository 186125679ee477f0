"""Sentences about break-even: when and from how many hours an engine pays, and which one is the cheapest where."""

from collections.abc import Sequence

from model import wording
from model.language import later, say
from model.wording import in_years, plain, whole

IN_MONEY_OF_THE_DAY = later("in money of the day")
DISCOUNTED = later("discounted")
BOTH_SOLD_THEN = later("both sold then")


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
    known = {"challenger": challenger, "baseline": baseline, "kind": say(kind)}
    if years is None:
        return say(
            "{challenger} does not pay back against {baseline} within {years} ({kind}).",
            years=wording.period(period),
            **known,
        )
    if years == 0.0:
        return say("{challenger} costs no more than {baseline} from the start ({kind}).", **known)
    if years < 1.0 / 12.0:
        return say("{challenger} has paid back its higher price over {baseline} within a month ({kind}).", **known)
    return say(
        "{challenger} has paid back its higher price over {baseline} after {years} ({kind}).",
        years=in_years(years),
        **known,
    )


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
    known = {"challenger": challenger, "baseline": baseline, "kind": say(kind)}
    if years is None:
        return say(
            "{challenger} is cheaper to buy and has cost more than {baseline} after {years} ({kind}).",
            years=wording.period(period),
            **known,
        )
    if years == 0.0:
        return say("{challenger} is cheaper to buy and costs no more than {baseline} from the start ({kind}).", **known)
    return say(
        "{challenger} is cheaper to buy and costs no more than {baseline} for good after {years} ({kind}).",
        years=in_years(years),
        **known,
    )


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
    known = {"challenger": challenger, "baseline": baseline}
    if hours is None:
        return say(
            "{challenger} and {baseline} never cost the same between {low} and {high} h a year.",
            low=plain(looked[0]),
            high=plain(looked[1]),
            **known,
        )
    low, high = (whole(hour) for hour in hours)
    if low == high:
        return say("{challenger} and {baseline} cost about the same at {hours} h a year.", hours=low, **known)
    return say(
        "{challenger} and {baseline} cost about the same from {low} to {high} h a year.", low=low, high=high, **known
    )


def cheapest_over(over: str, unit: str, stretches: Sequence[tuple[float, float, str]]) -> str:
    """
    The cheapest engine over a range, in a sentence.

    >>> cheapest_over("Hours a year", "h", [(0, 50.4, "Two"), (50.4, 500, "Four")])
    'Hours a year: up to 50 h Two is the cheapest; above that Four.'
    """
    found, stretches = len(stretches), _without_slivers(stretches)
    apart = say(" (apart from slivers that service steps make)") if len(stretches) < found else ""
    if len(stretches) == 1:
        begin, end, engine = stretches[0]
        low, high = _short(begin, unit), _short(end, unit)
        told = say("{engine} is the cheapest all the way from {low} to {high}", engine=engine, low=low, high=high)
        return f"{over}: {told}{apart}."
    first, *others = stretches
    parts = [say("up to {end} {engine} is the cheapest", end=_short(first[1], unit), engine=first[2])]
    parts += [say("then {engine} up to {end}", end=_short(end, unit), engine=engine) for _, end, engine in others[:-1]]
    parts.append(say("above that {engine}", engine=others[-1][2]))
    return f"{over}: {'; '.join(parts)}{apart}."


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
    return in_years(number) if unit == "years" else f"{whole(number)} {unit}"
