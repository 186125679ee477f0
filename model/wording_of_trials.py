"""Sentences about trials, flip points and sensitivities."""

from collections.abc import Sequence

from model import quantities, wording
from model.language import later, say, written
from model.wording import cents, in_years, whole

STANDARD_ERRORS = later(
    "± is the Monte Carlo standard error: how far the figure would move with other trials. The intervals say how far "
    "one owner's cost may lie from another's."
)
"""Shown with figures from trials."""

NOT_STABLE = later(
    "The digits asked for were not reached within the most trials there may be; the figures are those of all."
)
"""Shown where the adaptive procedure gave up."""


FLIPS = later("On the stated hours and expected repairs, one input changed at a time and all others held.")
"""Shown with flip points."""

SHARES = later(
    "Share alone: of the variance over the trials, what this input explains by itself; share in all: with everything "
    "it takes part in (Sobol' indices). Failures are no single number: their ends are those of the difference itself."
)
"""Shown with sensitivities."""

SINGLE_ENGINE = later("There is a single engine: nothing to compare.")
"""Shown where a comparison was asked for."""

NOTHING_DIFFERS = later("Nothing differs between trials: the scenario has no [use.spread] and no [trials].")
"""Shown where a sensitivity was asked for."""


def how_sure(engine: str, chances: Sequence[tuple[str, float]], trials: int) -> str:
    """
    How sure an answer is, in a sentence.

    Parameters
    ----------
    engine : str
        The engine that is cheapest on the mean.
    chances : sequence of (str, float)
        Each engine's chance of being the cheapest. [-, -]
    trials : int

    >>> how_sure("Four", [("Four", 0.623), ("Two", 0.377)], 20000)
    'Four costs least on average, and in 62 % of 20,000 trials; Two in 38 %.'
    """
    by_name = dict(chances)
    others = sorted((chance for chance in chances if chance[0] != engine), key=lambda chance: -chance[1])
    rest = "".join(say("; {engine} in {share}", engine=name, share=percent(chance)) for name, chance in others)
    return say(
        "{engine} costs least on average, and in {share} of {trials} trials{rest}.",
        engine=engine,
        share=percent(by_name[engine]),
        trials=whole(trials),
        rest=rest,
    )


def percent(share: float) -> str:
    """
    A share in per cent for a sentence; what is not quite none or all says so.

    >>> percent(0.623), percent(0.002), percent(0.999), percent(1.0)
    ('62 %', 'under 1 %', 'over 99 %', '100 %')
    """
    if 0.0 < share < 0.005:
        return say("under 1 %")
    return say("over 99 %") if 0.995 <= share < 1.0 else f"{whole(100.0 * share)} %"


def pays_back_in_trials(names: tuple[str, str], median: float, never: float, period: float) -> str:
    """
    When a challenger has paid back over trials, in a sentence.

    Parameters
    ----------
    names : (str, str)
        Challenger and baseline.
    median : float
        Middle of the break-even times, infinite where most trials never pay back. [year]
    never : float
        Share of the trials that never do. [-]
    period : float
        Ownership period. [year]

    >>> pays_back_in_trials(("Four", "Two"), 6.12, 0.31, 8.0)
    'Four has paid back its higher price over Two within 6.1 years in half the trials; never within 8 years in 31 %.'
    """
    challenger, baseline = names
    known = {"challenger": challenger, "baseline": baseline, "share": percent(never)}
    if never > 0.5:
        return say(
            "{challenger} does not pay back against {baseline} within {period} in {share} of trials.",
            period=wording.period(period),
            **known,
        )
    if median == 0.0:
        return say(
            "{challenger} costs no more than {baseline} from the start in most trials; never in {share}.", **known
        )
    return say(
        "{challenger} has paid back its higher price over {baseline} within {years} in half the trials; never within "
        "{period} in {share}.",
        years=in_years(median),
        period=wording.period(period),
        **known,
    )


def stopped(done: int, wanted: int) -> str:
    """
    That trials were stopped, in a sentence.

    >>> stopped(8192, 20000)
    'Stopped: 8,192 of 20,000 trials were done; nothing was written.'
    """
    return say(
        "Stopped: {done} of {wanted} trials were done; nothing was written.", done=whole(done), wanted=whole(wanted)
    )


def in_unit(number: float, unit: str) -> str:
    """
    A value of an input for a sentence, rounded as its unit is.

    >>> in_unit(0.7425, "a litre"), in_unit(10880.5, ""), in_unit(0.181, "a year"), in_unit(71.6, "to 1")
    ('0.74 a litre', '10,880', '18.1 % a year', '72 to 1')
    >>> in_unit(1.04, "years"), in_unit(5.32, "years")
    ('1 year', '5.3 years')
    """
    if unit == "a year":
        return say("{number} % a year", number=written(f"{100.0 * number:.1f}"))
    if unit == "a litre":
        return f"{cents(quantities.as_shown(number, 'money/L'))} {quantities.a_litre()}"
    if unit == "an hour":
        return f"{cents(number)} {say(unit)}"
    return in_years(number) if unit == "years" else f"{whole(number)} {say(unit) if unit else ''}".rstrip()


def flip(
    engines: tuple[str, str | None], name: str, unit: str, values: tuple[float, float | None], span: tuple[float, float]
) -> str:
    """
    Where an input changes the cheapest engine, in a sentence.

    Parameters
    ----------
    engines : (str, str or None)
        The cheapest today, and beyond the value.
    name, unit : str
        The input and its unit, "fuel price", "a litre".
    values : (float, float or None)
        Today's value, and the one at which the cheapest engine changes; None where there is none.
    span : (float, float)
        The range looked at.

    >>> flip(("Four", "Two"), "fuel price", "a litre", (1.85, 0.7412), (0.0, 9.25))
    'Four stays the cheapest unless the fuel price falls below 0.74 a litre (now 1.85 a litre); then Two is.'
    >>> flip(("Four", None), "labour rate", "an hour", (88.0, None), (0.0, 440.0))
    'Four stays the cheapest at any labour rate between 0.00 an hour and 440.00 an hour.'
    """
    now, beyond = engines
    today, value = values
    known = {"now": now, "beyond": beyond, "input": say(name)}
    if value is None:
        low, high = (in_unit(end, unit) for end in span)
        return say("{now} stays the cheapest at any {input} between {low} and {high}.", low=low, high=high, **known)
    is_many = name in ("ownership years", "hours a year")
    turned = TURNS[is_many, value > today]
    return say(turned, value=in_unit(value, unit), today=in_unit(today, unit), **known)


TURNS = {
    (False, False): later(
        "{now} stays the cheapest unless the {input} falls below {value} (now {today}); then {beyond} is."
    ),
    (False, True): later(
        "{now} stays the cheapest unless the {input} rises above {value} (now {today}); then {beyond} is."
    ),
    (True, False): later("{now} stays the cheapest unless {input} fall below {value} (now {today}); then {beyond} is."),
    (True, True): later("{now} stays the cheapest unless {input} rise above {value} (now {today}); then {beyond} is."),
}
"""Where the cheapest engine changes, by whether the input is many things, and whether it has to rise."""
