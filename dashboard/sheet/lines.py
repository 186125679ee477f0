"""What stands on a sheet, in words and rows: the engines, the answer, costs, break-even, cover, cautions."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from dashboard import text, trials
from dashboard.sheet.bars import swatch
from dashboard.sheet.matter import Matter
from model import wording, wording_of_break_even
from model.break_even import first_cost
from model.inputs.engine import Engine
from model.inputs.remarks import left_out_of, warnings_of
from model.inputs.terms import Element, Servicing, Technology, UseKind
from model.inputs.warranty import Cover, Extension
from model.language import dated, later, say
from model.measures import EngineCost
from model.quantities import as_shown, with_unit
from model.repair_bill import repair_bill
from model.uncertainty.summary import EngineSummary

KINDS = {UseKind.PRIVATE: later("private use"), UseKind.COMMERCIAL: later("commercial use")}
"""How the boat is used."""

SERVICED = {
    Servicing.KEPT: later("serviced at a workshop, every visit that its plan asks for"),
    Servicing.OWN: later("serviced by the owner"),
    Servicing.SKIPPED: later("not serviced"),
}
"""Who does the servicing."""

SHARE = 0.8
"""Share of the trials that the interval of the sheet holds. [-]"""


TABLE_NAME = re.compile(r"\[+(\w+)\]+")
"""A table of a scenario file, as the model's sentences name it."""

TECHNOLOGIES = {
    Technology.TWO_STROKE_CARBURETTED: later("two-stroke carburetted"),
    Technology.TWO_STROKE_DIRECT_INJECTED: later("two-stroke direct-injected"),
    Technology.FOUR_STROKE_CARBURETTED: later("four-stroke carburetted"),
    Technology.FOUR_STROKE_INJECTED: later("four-stroke injected"),
}
"""The four kinds of outboard."""


def use(matter: Matter) -> str:
    """How the boat is used and for how long, in a sentence."""
    scenario = matter.scenario
    years = scenario.ownership.years
    return say(
        "{years} from {day}, {hours}; {kind}; {serviced}.",
        years=wording.period(years),
        day=dated(scenario.ownership.delivery),
        hours=wording.hours_in_words(scenario.hours(), years),
        kind=say(KINDS[scenario.use.kind]),
        serviced=say(SERVICED[scenario.servicing]),
    )


def engines(matter: Matter) -> list[tuple[str, str]]:
    """Each engine's name, and what it is and costs to buy."""
    return [(cost.name, _engine(cost)) for cost in matter.comparison.engines]


def _engine(cost: EngineCost) -> str:
    """What an engine is and costs to buy."""
    engine, count = cost.case.engine, cost.case.count
    told = say(
        "{technology}, {power}, {price} {currency} with fit-up",
        technology=say(TECHNOLOGIES[engine.technology]),
        power=with_unit(engine.rated_power, "kW"),
        price=wording.whole(first_cost(cost)),
        currency=cost.case.scenario.currency,
    )
    if count > 1:
        told += ", " + say("{count} engines on the boat together", count=count)
    return told + _state(engine)


def _state(engine: Engine) -> str:
    """That an engine is used, if it is."""
    if engine.start is None:
        return ""
    hours, years = wording.whole(engine.start.meter_hours), wording.period(engine.start.age)
    return ", " + say("used: {hours} h, {years} old", hours=hours, years=years)


def how_sure(matter: Matter) -> str:
    """In how many trials the answer holds, in a sentence; empty where nothing varies or nothing is compared."""
    summary = matter.summary
    if summary is None or len(summary.engines) < 2:
        return ""
    chances = {engine.name: engine.chance_cheapest.value for engine in summary.engines}
    cheapest = matter.comparison.cheapest.name
    return text.in_how_many_trials(cheapest, chances[cheapest], summary.run.trials)


def answer(matter: Matter) -> tuple[str, str, str]:
    """The answer around its figure, the same as on screen; what draws PDFs breaks lines badly at a space before it."""
    before, figure, after = trials.sentence_of(matter.comparison, matter.run)
    return before.rstrip(), before[len(before.rstrip()) :] + figure, after


def around_today(matter: Matter) -> str:
    """From how many hours a year another engine is the cheapest, in a sentence."""
    if len(matter.scenario.engines) < 2:
        return ""
    return text.around(matter.found.cheapest_by_hours, matter.scenario.mean_hours())


def break_even_lines(matter: Matter) -> list[str]:
    """When each dearer engine has paid back, and at how many hours a year two engines cost the same."""
    found, scenario = matter.found, matter.scenario
    lines, looked = [], scenario.range.hours_per_year
    for pair in found.pairs:
        tell = wording_of_break_even.pays_back if pair.costs_more_to_buy else wording_of_break_even.costs_no_more
        names, years = (pair.challenger, found.baseline), pair.years.nominal
        in_time = tell(*names, years, scenario.ownership.years, wording_of_break_even.IN_MONEY_OF_THE_DAY)
        lines.append(f"{in_time} {wording_of_break_even.about_equal(*names, pair.about_equal_hours, looked)}")
    return lines


@dataclass(frozen=True)
class Line:
    """A row of the table of costs."""

    label: str
    """What it is."""
    cells: tuple[str, ...]
    """One for each engine."""
    swatch: str = ""
    """Its pattern in the picture."""
    is_total: bool = False
    """Whether it is the sum of those above."""


def cost_lines(matter: Matter) -> list[Line]:
    """Cost by element, the total, what it is a year and an hour, and what the trials say."""
    costs = matter.comparison.engines
    shown = [element for element in Element if any(cost.elements[element].present_value for cost in costs)]
    lines = [
        Line(say(wording.ELEMENT_LABELS[element]), _amounts(costs, _of_element(element)), swatch(element))
        for element in shown
    ]
    lines.append(Line(say(text.TOTAL), _amounts(costs, lambda cost: cost.total.present_value), is_total=True))
    lines.append(Line(say(text.TOTAL_NOMINAL), _amounts(costs, lambda cost: cost.total.nominal)))
    lines.append(Line(say(text.A_YEAR), _amounts(costs, lambda cost: cost.equivalent_annual_cost)))
    lines.append(Line(say(text.AN_HOUR), tuple(_cents_or_none(cost.cost_per_hour) for cost in costs)))
    if any(cost.paid_by_warranty.present_value for cost in costs):
        lines.append(
            Line(say(text.PAID_BY_WARRANTY), _amounts(costs, lambda cost: cost.paid_by_warranty.present_value))
        )
    lines.append(Line(text.fuel_burned(), _amounts(costs, lambda cost: as_shown(cost.fuel_litres, "L"))))
    return [*lines, *trial_lines(matter)]


def _of_element(element: Element) -> Callable[[EngineCost], float]:
    """What an element of an engine comes to."""
    return lambda cost: cost.elements[element].present_value


def _amounts(costs: Sequence[EngineCost], amount: Callable[[EngineCost], float]) -> tuple[str, ...]:
    """An amount of every engine, whole."""
    return tuple(wording.whole(amount(cost)) for cost in costs)


def _cents_or_none(amount: float | None) -> str:
    """An amount with cents; a dash where there is none."""
    return "–" if amount is None else wording.cents(amount)


def trial_lines(matter: Matter) -> list[Line]:
    """Between which costs most trials lie, and in how many each engine is the cheapest."""
    if matter.summary is None:
        return []
    found = matter.summary.engines
    lines = [Line(say("80 of 100 trials lie between, present value"), tuple(map(_interval, found)))]
    if len(found) > 1:
        shares = tuple(wording.whole(100.0 * engine.chance_cheapest.value) for engine in found)
        lines.append(Line(say("The cheapest in ... of 100 trials"), shares))
    return lines


def _interval(engine: EngineSummary) -> str:
    """The interval that holds most trials of an engine."""
    low, high = engine.cost.intervals[SHARE]
    return f"{wording.whole(low)} – {wording.whole(high)}"


def headings(matter: Matter) -> list[str]:
    """Names of the engines, an estimate called one."""
    return [cost.name + (say(text.ESTIMATE) if cost.fuel_is_estimated else "") for cost in matter.comparison.engines]


def covers(matter: Matter) -> list[tuple[str, str]]:
    """Each engine's name and what its written cover is."""
    return [(cost.name, _cover(cost)) for cost in matter.comparison.engines]


def _cover(cost: EngineCost) -> str:
    """The written cover of an engine in words: limits, shares, excess, extension, and when it ends."""
    engine, scenario = cost.case.engine, cost.case.scenario
    terms = scenario.cover_terms(engine)
    if terms is None:
        return say("no cover is counted: the owner pays every repair.")
    parts = [limits(terms.months, terms.hours), _shares(terms)]
    if terms.excess:
        amount = f"{wording.whole(terms.excess)} {scenario.currency}"
        parts.append(say("the owner pays {amount} of each claim", amount=amount))
    extension = terms.extension
    if extension is not None and extension.bought:
        parts.append(_extended(extension, scenario.currency))
    return "; ".join([*parts, _ends(cost)]) + "."


def _extended(extension: Extension, currency: str) -> str:
    """The extension that was bought, in words; its months follow the base cover's, its hours count from new."""
    price = f"{wording.whole(extension.price)} {currency}"
    more = []
    if extension.months is not None:
        more.append(say("{months} {months:month|months} more", months=wording.plain(extension.months)))
    if extension.hours is not None:
        more.append(say("up to {hours} h from new", hours=wording.plain(extension.hours)))
    return say("extended for {price}: {limits}", price=price, limits=", ".join(more))


def limits(months: float | None, hours: float | None) -> str:
    """
    Limits of a cover in words.

    >>> limits(36.0, 300.0), limits(None, 1000.0)
    ('36 months or 300 h, whichever comes first', '1,000 h')
    """
    if months is not None and hours is not None:
        limit = wording.plain(months), wording.plain(hours)
        return say(
            "{months} {months:month|months} or {hours} h, whichever comes first", months=limit[0], hours=limit[1]
        )
    if months is not None:
        return say("{months} {months:month|months}", months=wording.plain(months))
    return say("{hours} h", hours=wording.plain(hours or 0.0))


def _shares(terms: Cover) -> str:
    """What share of a repair a cover pays, in words."""
    if terms.decline is not None:
        return say("the share paid falls evenly to nothing")
    if not terms.steps:
        return say("parts and labour in full to the last day")
    steps = [
        say(
            "from month {month} parts {parts} %, labour {labour} %",
            month=wording.plain(step.from_month),
            parts=wording.plain(round(100.0 * step.parts, 1)),
            labour=wording.plain(round(100.0 * step.labour, 1)),
        )
        for step in terms.steps
    ]
    return say("declining: {steps}", steps=", ".join(steps))


def _ends(cost: EngineCost) -> str:
    """When the cover ends on the stated hours, in words."""
    bill = repair_bill(cost)
    if bill.cover_ends <= 0.0:
        return say("it has ended before delivery")
    if bill.cover_ends_on is None:
        return say("at these hours it lasts beyond the sale")
    return say("at these hours it ends on {day}", day=dated(bill.cover_ends_on))


def remarks(matter: Matter) -> list[str]:
    """What was left out, and what is unusual; a table of the file is named without its brackets."""
    told = (*warnings_of(matter.scenario), *left_out_of(matter.scenario))
    return [TABLE_NAME.sub(r"\1", line) for line in told]


def cautions(matter: Matter) -> list[str]:
    """Cautions that belong to the figures and to how the engine is serviced."""
    extra = {Servicing.OWN: [wording.OWN_SERVICE_CAUTION], Servicing.SKIPPED: [wording.SKIPPED_SERVICE_CAUTION]}
    told = [*extra.get(matter.scenario.servicing, []), *wording.CAUTIONS, wording.IMPELLER_CAUTION]
    return [say(line) for line in told]
