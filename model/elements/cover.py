"""Cover: what the written warranty pays of a repair, the owner's excess, and the price of an extension."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.inputs.terms import MONTHS_IN_A_YEAR
from model.inputs.warranty import Cover
from model.pace import when_due
from model.usage import NEVER

Amounts = NDArray[np.float64]


class CoverTable(NamedTuple):
    """A written warranty as the compiled sums need it: spans of equal shares from new, one behind the other."""

    begin: Amounts
    """Age at which each span begins at the earliest, shape (span,). [year]"""
    parts: Amounts
    """Share of parts paid, shape (span,). [-]"""
    labour: Amounts
    """Share of labour paid, shape (span,). [-]"""
    base_spans: int
    """How many of the spans are the base cover; one more is the extension."""
    base_years: float
    """Age at which the base cover ends. [year]"""
    base_hours: float
    """Meter hours at which the base cover ends. [h]"""
    extension_years: float
    """Age at which the extension ends. [year]"""
    extension_hours: float
    """Meter hours at which the extension ends. [h]"""
    excess: float
    """The owner's part of each claim. [money]"""
    linear: bool
    """Whether the base cover falls evenly to nothing over its years."""


SMALLEST_SHARE = 1e-9
"""A share of a repair closer to the whole than this is the whole. [-]"""

NO_COVER = CoverTable(np.zeros(0), np.zeros(0), np.zeros(0), 0, 0.0, 0.0, 0.0, 0.0, 0.0, False)
"""No warranty at all."""


def cover_table(cover: Cover | None) -> CoverTable:
    """
    A written warranty as spans of equal shares.

    Parameters
    ----------
    cover : Cover or None
        The terms that apply; None for none.

    Returns
    -------
    CoverTable
    """
    if cover is None:
        return NO_COVER
    spans = [(0.0, 1.0, 1.0)]
    for step in cover.steps:
        spans.append((step.from_month / MONTHS_IN_A_YEAR, step.parts, step.labour))
    base_spans, base_years = len(spans), _years(cover.months)
    extension_years, extension_hours = 0.0, 0.0
    if cover.extension is not None and cover.extension.bought:
        spans.append((0.0, cover.extension.parts, cover.extension.labour))
        extension_years = base_years + _years(cover.extension.months)
        extension_hours = NEVER if cover.extension.hours is None else cover.extension.hours
    begin, parts, labour = (np.array(column) for column in zip(*spans, strict=True))
    base_hours = NEVER if cover.hours is None else cover.hours
    return CoverTable(
        begin,
        parts,
        labour,
        base_spans,
        base_years,
        base_hours,
        extension_years,
        extension_hours,
        cover.excess,
        cover.decline == "linear",
    )


def _years(months: float | None) -> float:
    """Years of a limit in months, never where there is none."""
    return NEVER if months is None else months / MONTHS_IN_A_YEAR


def extension_price(cover: Cover | None) -> float:
    """Price of the extension if it is bought, for one engine, paid at delivery. [money]"""
    if cover is None or cover.extension is None or not cover.extension.bought:
        return 0.0
    return cover.extension.price


@compiled
def cover_ends(
    rows: Amounts, path: int, start_meter: float, start_age: float, cover: CoverTable
) -> tuple[float, float]:
    """
    When the base cover and the extension end on one path of hours.

    Parameters
    ----------
    rows : ndarray, shape (path, year)
        Hours of a full year. [h/year]
    path : int
        Which of the rows.
    start_meter, start_age : float
        The engine at delivery. [h, year]
    cover : CoverTable

    Returns
    -------
    (float, float)
        Times since delivery; below 0 where cover ended before it. [year]
    """
    base = _end(rows, path, (start_meter, start_age), cover.base_hours, cover.base_years)
    return base, _end(rows, path, (start_meter, start_age), cover.extension_hours, cover.extension_years)


@compiled
def ends_by_hours(start_meter: float, cover: CoverTable) -> bool:
    """Whether the base cover or the extension has a limit of hours ahead, so that they end differently by path. [h]"""
    return bool(start_meter < cover.base_hours < NEVER or start_meter < cover.extension_hours < NEVER)


@compiled
def _end(rows: Amounts, path: int, start: tuple[float, float], limit_hours: float, limit_years: float) -> float:
    """When a limit of meter hours or age is reached, whichever is first. [year]"""
    start_meter, start_age = start
    if limit_hours < start_meter:
        return min(limit_years - start_age, -1.0)
    by_hours = when_due(limit_hours - start_meter, NEVER, rows, path)[0] / MONTHS_IN_A_YEAR
    return min(limit_years - start_age, by_hours)


@compiled
def span_edges(span: int, cover: CoverTable, start_age: float, ends: tuple[float, float]) -> tuple[float, float]:
    """
    When a span of cover begins and ends.

    Parameters
    ----------
    span : int
    cover : CoverTable
    start_age : float
        Age of the engine at delivery. [year]
    ends : (float, float)
        What `cover_ends` gave. [year]

    Returns
    -------
    (float, float)
        Times since delivery, not before it; nothing between them when the end is not above the begin. [year]
    """
    if span >= cover.base_spans:
        return max(ends[0], 0.0), ends[1]
    begin = max(cover.begin[span] - start_age, 0.0)
    if span + 1 < cover.base_spans:
        return begin, min(cover.begin[span + 1] - start_age, ends[0])
    return begin, ends[0]


@compiled
def share_paid(span: int, cover: CoverTable, age: float) -> tuple[float, float]:
    """Shares of parts and labour that a span pays for a failure at that age of the engine. [year -> -, -]"""
    if cover.linear and span < cover.base_spans:
        share = max(1.0 - age / cover.base_years, 0.0)
        return share, share
    return cover.parts[span], cover.labour[span]


@compiled
def excess_eats_all_at(span: int, cover: CoverTable, start_age: float, repair: float) -> float:
    """When, on a linear decline, the covered amount of a repair of that price falls to the excess. [money -> year]"""
    if not (cover.linear and span < cover.base_spans) or repair <= 0.0:
        return NEVER
    return cover.base_years * (1.0 - min(cover.excess / repair, 1.0)) - start_age


@compiled
def covered_amount(
    span: int, cover: CoverTable, start_age: float, price: tuple[float, float], expected: tuple[float, float]
) -> tuple[float, float]:
    """
    What a span covers of expected failures, before the excess, and the excess on them.

    Parameters
    ----------
    span : int
    cover : CoverTable
    start_age : float
        Age of the engine at delivery. [year]
    price : (float, float)
        Parts and labour of one repair. [money]
    expected : (float, float)
        Failures expected within the span and the sum of their times since delivery. [-, year]

    Returns
    -------
    (float, float)
        Covered amount, and the part of it that is the owner's excess (never more than the covered amount). [money]
    """
    (parts, labour), (failures, times) = price, expected
    if cover.linear and span < cover.base_spans:
        shares = failures * (1.0 - start_age / cover.base_years) - times / cover.base_years
        covered = shares * (parts + labour)
        return covered, min(cover.excess * failures, covered)
    each = cover.parts[span] * parts + cover.labour[span] * labour
    return each * failures, min(cover.excess, each) * failures


@compiled
def span_at(t: float, cover: CoverTable, start_age: float, ends: tuple[float, float]) -> int:
    """
    The span of cover that a failure falls in; one exactly at the end is covered.

    Parameters
    ----------
    t : float
        When, since delivery. [year]
    cover : CoverTable
    start_age : float
        Age of the engine at delivery. [year]
    ends : (float, float)
        What `cover_ends` gave. [year]

    Returns
    -------
    int
        Its number; -1 for none.
    """
    for base in range(cover.base_spans):
        span = cover.base_spans - 1 - base  # the last step that has begun
        begin, end = span_edges(span, cover, start_age, ends)
        if begin <= t <= end:
            return span
    for span in range(cover.base_spans, cover.begin.shape[0]):
        begin, end = span_edges(span, cover, start_age, ends)
        if begin <= t <= end:
            return span
    return -1


@compiled
def is_paid_in_full(price: float, failures: float, covered: float, excess: float) -> bool:
    """Whether cover and excess of failures within one span leave the owner nothing of their price. [money, -, money]"""
    return excess <= 0.0 and covered >= price * failures * (1.0 - SMALLEST_SHARE)
