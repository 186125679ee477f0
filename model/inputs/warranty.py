"""The written warranty: what it pays of a repair, for how long, in private and in commercial use."""

from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import Field

from model.inputs.base import Flag, Rule, Table
from model.inputs.problems import Refusal
from model.inputs.units import Hours, Money, Months, Price, Share


class CoverStep(Table):
    """From a month on, the share the warranty pays."""

    from_month: Annotated[Months, Field(alias="from")]
    """First month of the step, from new. [month]"""
    parts: Share
    """Share of parts paid. [-]"""
    labour: Share
    """Share of labour paid. [-]"""


class Extension(Table):
    """Cover bought at delivery that takes over where the base cover ends."""

    bought: Flag = False
    """Whether it is bought in this comparison."""
    price: Price
    """Its price, paid at delivery. [money]"""
    months: Months | None = None
    """Months after the base cover's months. [month]"""
    hours: Hours | None = None
    """Its own limit of meter hours from new. [h]"""
    parts: Share = 1.0
    """Share of parts paid. [-]"""
    labour: Share = 1.0
    """Share of labour paid. [-]"""


class Cover(Table):
    """What the written warranty pays of a repair, from new, until months or hours run out."""

    months: Months | None = None
    """Months from new. [month]"""
    hours: Hours | None = None
    """Meter hours from new. [h]"""
    excess: Money = 0.0
    """The owner's part of each claim, in fixed nominal money. [money]"""
    steps: tuple[CoverStep, ...] = ()
    """Declining cover: shares from a month on; whole before the first step."""
    decline: Literal["linear"] | None = None
    """Cover that falls evenly from whole to nothing over its months."""
    extension: Extension | None = None
    """Cover bought beyond it."""

    def rules(self) -> Iterable[Rule]:
        """A limit; steps in order; linear decline needs months; an extension needs an end."""
        return (self._cover_refusals, self._extension_refusals)

    def _cover_refusals(self) -> list[Refusal]:
        found: list[Refusal] = []
        if self.months is None and self.hours is None:
            found.append(Refusal(("months",), "no limit", "months, hours or both"))
        if self.decline and self.steps:
            found.append(Refusal(("decline",), "decline beside steps", "one of the two"))
        if self.decline and not self.months:
            found.append(Refusal(("decline",), "no months to decline over", "months above 0 beside it"))
        for index in range(1, len(self.steps)):
            if self.steps[index].from_month <= self.steps[index - 1].from_month:
                found.append(
                    Refusal(
                        ("steps", index, "from"),
                        f"month {self.steps[index].from_month:g}",
                        f"above the step before, month {self.steps[index - 1].from_month:g}",
                    )
                )
        return found

    def _extension_refusals(self) -> list[Refusal]:
        extension = self.extension
        if extension is None:
            return []
        if extension.months is None and extension.hours is None:
            return [Refusal(("extension", "months"), "no limit", "months, hours or both")]
        if extension.months is not None and self.months is None:
            return [
                Refusal(
                    ("extension", "months"),
                    f"{extension.months:g} beside a base cover without months",
                    "hours, or months on the base cover too",
                )
            ]
        return []


class Warranty(Cover):
    """The written warranty in private use, and what stands in its place in commercial use."""

    commercial: Cover | None = None
    """The whole warranty in commercial use."""
