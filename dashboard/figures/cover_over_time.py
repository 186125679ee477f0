"""Who pays when something breaks: the owner's share of a repair over time, and below it the bill of each year."""

from collections.abc import Mapping
from typing import Any

from dashboard.drawer import Behind, key
from dashboard.figures.notes import SMALL, heading, words
from dashboard.theme import OUTLINE, Look, Picture, tint
from model.inputs.terms import Element, Payer
from model.language import dated, say
from model.measures import Comparison, EngineCost
from model.repair_bill import RepairBill, owners_share, repair_bill
from model.wording import whole
from model.wording_of_trials import percent

ROW = 236
"""Height that one engine takes. [px]"""

MOST_TOLD = 3
"""Engines up to which the finding names each; of more, the first and the last."""

BELOW = 48
"""Height of the axis. [px]"""

BILL, SHARE = (0.0, 0.5), (0.6, 0.8)
"""Where in an engine's row the bill and the owner's share stand, from its foot. [-]"""

OF_A_REPAIR = (Element.REPAIRS, Element.WARRANTY_COVER)
"""Elements that the owner's part of a repair is booked to; the excess is warranty cover."""


def finding(comparison: Comparison) -> str:
    """What the picture says: which part of the expected repairs the warranty pays, engine by engine."""
    bills = {cost.name: repair_bill(cost) for cost in comparison.engines}
    if not any(bill.total.any() for bill in bills.values()):
        return say("No repairs are expected")
    if not any(bill.warranty.any() for bill in bills.values()):
        return say("No cover: every repair is the owner's to pay")
    if len(bills) > MOST_TOLD:
        ranked = sorted(bills, key=lambda name: bills[name].share_paid_by_warranty)
        told = {"most": _paid_with(ranked[-1], bills[ranked[-1]]), "least": _paid_with(ranked[0], bills[ranked[0]])}
        return say("Of the repairs expected the warranty pays {most}, {least}", **told)
    parts = [_paid_with(name, bill) for name, bill in bills.items()]
    listed = parts[0] if len(parts) == 1 else say("{parts} and {last}", parts=", ".join(parts[:-1]), last=parts[-1])
    return say("Of the repairs expected the warranty pays {listed}", listed=listed)


def _paid_with(engine: str, bill: RepairBill) -> str:
    """What the warranty pays of one engine's repairs."""
    if bill.share_paid_by_warranty <= 0.0:
        return say("nothing with {engine}", engine=engine)
    return say("{share} with {engine}", share=percent(bill.share_paid_by_warranty), engine=engine)


def picture(comparison: Comparison, looks: Mapping[str, Look]) -> Picture:
    """
    The owner's share over time above the expected repair bill by payer, engine by engine on one scale.

    Parameters
    ----------
    comparison : Comparison
    looks : mapping of str to Look
        By engine.

    Returns
    -------
    Picture
        For each engine its share, then bars of what the owner and the warranty pay.
    """
    costs, currency = comparison.engines, comparison.scenario.currency
    bills = [repair_bill(cost) for cost in costs]
    highest = max(float(bill.total.max()) for bill in bills) or 1.0
    years = costs[0].case.years
    layout: dict[str, Any] = {
        "height": ROW * len(costs) + BELOW,
        "barmode": "stack",
        "bargap": 0.18,
        "showlegend": False,
        "hovermode": "closest",
        "xaxis": {
            "title": {"text": say("Years since delivery")},
            "range": [0.0, years],
            "showgrid": False,
            "anchor": _axis("y", 2 * len(costs) - 1),
        },
        "annotations": [],
        "shapes": [],
    }
    traces = []
    for row, (cost, bill) in enumerate(zip(costs, bills, strict=True)):
        foot, tall = 1.0 - (row + 1) / len(costs), 1.0 / len(costs)
        share, below = ([foot + tall * end for end in part] for part in (SHARE, BILL))
        layout[_axis("yaxis", 2 * row)] = {
            "domain": share,
            "range": [0.0, 100.0],
            "tickvals": [0, 100],
            "ticktext": ["0 %", "100 %"],
            "anchor": "x",
            "showgrid": False,
        }
        layout[_axis("yaxis", 2 * row + 1)] = {
            "domain": below,
            "range": [0.0, 1.15 * highest],
            "nticks": 4,
            "tickformat": ",d",
            "anchor": "x",
        }
        traces += [_share(cost, looks[cost.name], 2 * row), *_bars(cost, bill, looks[cost.name], 2 * row + 1)]
        layout["annotations"] += _words(cost, bill, (share, below), currency)
        layout["shapes"] += _end(bill, (below[0], share[1]))
    return {"data": traces, "layout": layout}


def _axis(kind: str, place: int) -> str:
    """Name of an axis."""
    return kind if place == 0 else f"{kind}{place + 1}"


def _share(cost: EngineCost, look: Look, axis: int) -> dict[str, Any]:
    """The owner's share of a repair over time, as an area."""
    share = owners_share(cost)
    told = say("After {years} years the owner pays {share} of a repair", years="%{x:.1f}", share="%{y:.0f} %")
    return {
        "type": "scatter",
        "name": say("{engine}: the owner's share of a repair", engine=cost.name),
        "x": share.t.tolist(),
        "y": (100.0 * share.share).tolist(),
        "yaxis": _axis("y", axis),
        "mode": "lines",
        "line": {"color": look.colour, "width": 2},
        "fill": "tozeroy",
        "fillcolor": tint(look.colour, 0.45),
        "hovertemplate": f"{cost.name}<br>{told}<extra></extra>",
    }


def _bars(cost: EngineCost, bill: RepairBill, look: Look, axis: int) -> list[dict[str, Any]]:
    """What the owner and the warranty pay of each year's repairs."""
    years = bill.total.size
    ends = [min(year + 1.0, bill.years) for year in range(years)]
    shared = {
        "type": "bar",
        "x": [0.5 * (year + ends[year]) for year in range(years)],
        "width": [0.84 * (ends[year] - year) for year in range(years)],
        "yaxis": _axis("y", axis),
    }
    currency, found = cost.case.scenario.currency, []
    outline = OUTLINE
    hatched = {"shape": "/", "bgcolor": tint(look.colour, 0.25), "fgcolor": look.colour, "size": 7, "solidity": 0.2}
    for payer, amounts, name, marker in (
        (Payer.OWNER, bill.owner, say("the owner pays"), {"color": look.colour, "line": outline}),
        (
            Payer.WARRANTY,
            bill.warranty,
            say("the warranty pays"),
            {"color": look.colour, "line": outline, "pattern": hatched},
        ),
    ):
        elements = OF_A_REPAIR if payer is Payer.OWNER else (Element.REPAIRS,)
        found.append(
            {
                **shared,
                "name": f"{cost.name}: {name}",
                "y": amounts.tolist(),
                "marker": marker,
                "customdata": [
                    [
                        f"{whole(amount)} {currency}",
                        key(Behind(cost.name, elements, (year, year + 1), payer, is_nominal=True)),
                    ]
                    for year, amount in enumerate(amounts.tolist())
                ],
                "hovertemplate": f"{cost.name}, {name}: %{{customdata[0]}}<extra></extra>",
            }
        )
    return found


def _words(
    cost: EngineCost, bill: RepairBill, parts: tuple[list[float], list[float]], currency: str
) -> list[dict[str, Any]]:
    """Headings of an engine's two parts, and the day its cover ends."""
    (share, below), whole_bill = parts, float(bill.total.sum())
    share_words = f"<b>{cost.name}</b><br>{say('share of a repair that the owner pays')}"
    amounts = {"amount": whole(float(bill.owner.sum())), "bill": whole(whole_bill), "currency": currency}
    bill_words = say("the owner pays {amount} of {bill} {currency}", **amounts)
    found = [heading(share_words, share[1]), heading(bill_words, below[1], font={"size": SMALL})]
    if bill.cover_ends_on is not None:
        text = say("cover ends{line}{day}", day=dated(bill.cover_ends_on), line="<br>")
        is_right = bill.cover_ends < 0.72 * bill.years
        found.append(
            words(
                text,
                bill.cover_ends,
                share[0] + 0.5 * (share[1] - share[0]),
                yref="paper",
                yanchor="middle",
                xanchor="left" if is_right else "right",
                xshift=6 if is_right else -6,
                align="left" if is_right else "right",
                font={"size": SMALL, "color": "#1F2328"} if is_right else {"size": SMALL},
            )
        )
    return found


def _end(bill: RepairBill, height: tuple[float, float]) -> list[dict[str, Any]]:
    """The day the cover ends, as a line through both parts."""
    if bill.cover_ends_on is None:
        return []
    return [
        {
            "type": "line",
            "x0": bill.cover_ends,
            "x1": bill.cover_ends,
            "y0": height[0],
            "y1": height[1],
            "yref": "paper",
            "line": {"width": 1.5, "dash": "dot"},
        }
    ]
