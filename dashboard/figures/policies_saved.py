"""What each policy saves against today's: a bar for each, to the left of zero where it costs more."""

from collections.abc import Sequence
from typing import Any

from dashboard.figures.notes import covering, words, wrapped
from dashboard.theme import Picture
from model.fleet.policy_costs import PolicyCost
from model.fleet.reading import Fleet
from model.language import say
from model.wording import whole

ROW, ROW_OF_TWO, BELOW = 60, 78, 72
"""Height of one bar with its name, of one whose name takes two lines, and of the axis. [px]"""

WIDTH = 42
"""Characters of a line of a name, so that it fits a phone."""

COLOUR = "#7A8C9F"
"""Of the bars: no technology's."""


def in_words(found: Sequence[PolicyCost], place: int) -> str:
    """A policy, today's marked as such."""
    policy = found[place].plan.policy.in_words
    return say("{policy} (today)", policy=policy) if place == 0 else policy


def saved(found: Sequence[PolicyCost]) -> list[float]:
    """What each policy saves against the first. [money]"""
    return [found[0].cost - one.cost for one in found]


def finding(fleet: Fleet, found: Sequence[PolicyCost]) -> str:
    """What the picture says: which policy saves most against today's."""
    amounts = saved(found)
    best = max(range(len(amounts)), key=lambda place: amounts[place])
    if whole(amounts[best]) == whole(0.0):
        return say("No other policy costs less than today's: {today}", today=found[0].plan.policy.in_words)
    words = found[best].plan.policy.in_words
    return say(
        "{policy}: {amount} {currency} less over {years} {years:year|years} than today's policy, {today}",
        policy=f"{words[:1].upper()}{words[1:]}",
        amount=whole(amounts[best]),
        currency=fleet.file.currency,
        years=fleet.terms.horizon,
        today=found[0].plan.policy.in_words,
    )


def picture(fleet: Fleet, found: Sequence[PolicyCost]) -> Picture:
    """
    Present value saved over the horizon by each policy, the first being today's.

    Parameters
    ----------
    fleet : Fleet
    found : sequence of PolicyCost

    Returns
    -------
    Picture
        One bar for each policy, its name above and what it saves at its end.
    """
    amounts, currency = saved(found), fleet.file.currency
    low, high = min([0.0, *amounts]), max([0.0, *amounts])
    room = 0.3 * ((high - low) or 1.0)  # for the figures at the ends, on a phone too
    bars: dict[str, Any] = {
        "type": "bar", "orientation": "h", "x": amounts, "y": list(range(len(found))), "width": 0.4,
        "marker": {"color": COLOUR}, "cliponaxis": False,
        "customdata": [[in_words(found, place), f"{whole(amount)} {currency}"] for place, amount in enumerate(amounts)],
        "hovertemplate": "%{customdata[0]}: %{customdata[1]}<extra></extra>",
    }  # fmt: skip
    called = [wrapped(in_words(found, place), WIDTH) for place in range(len(found))]
    names = [
        covering(name, 0, place - 0.24, xref="paper", xanchor="left", yanchor="bottom", align="left")
        for place, name in enumerate(called)
    ]
    ends = [
        words(
            whole(amount),
            amount,
            place,
            xanchor="left" if amount >= 0.0 else "right",
            xshift=6 if amount >= 0.0 else -6,
        )
        for place, amount in enumerate(amounts)
    ]
    layout = {
        "height": (ROW_OF_TWO if any("<br>" in name for name in called) else ROW) * len(found) + BELOW,
        "showlegend": False,
        "hovermode": "closest",
        "annotations": [*names, *ends],
        "xaxis": {"title": {"text": say("{currency} saved, present value", currency=currency)}, "tickformat": ",d",
                  "range": [low - room, high + room], "showgrid": False},
        "yaxis": {"visible": False, "range": [len(found) - 0.6, -0.75]},
    }  # fmt: skip
    return {"data": [bars], "layout": layout}
