"""One engine over one chunk of trials: the ownership's own functions, path by path, added up as they go.

Nothing is kept by path and element as `ownership.own` keeps it; what the summary needs is kept by trial: present value
in all, money of the day by year, and a few counts. A budget asks for cash instead: money of the day by year and
element, nothing discounted or counted.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from model.compiling import compiled
from model.elements.oil import weighted_hours
from model.inputs.terms import Element
from model.running import RunningRates

Amounts = NDArray[np.float64]

PLACES = {element: place for place, element in enumerate(Element)}
"""Where each element stands in the sums by element."""

FUEL, OIL = PLACES[Element.FUEL], PLACES[Element.TWO_STROKE_OIL]
PARTS, LABOUR = PLACES[Element.SERVICE_PARTS], PLACES[Element.SERVICE_LABOUR]
REPAIRS, COVER, DOWNTIME = PLACES[Element.REPAIRS], PLACES[Element.WARRANTY_COVER], PLACES[Element.DOWNTIME]

VARYING = tuple(Element)[FUEL:]
"""Elements that differ between trials; those before them, paid for at delivery or financed, do not."""

ELEMENTS = len(PLACES)
"""How many elements there are."""

VISITS, FAILURES, OWNER_PAID = 0, 1, 2
"""Where each kind of event stands in the counts."""


class Lives(NamedTuple):
    """What the trials of a chunk live through with one engine."""

    hours: Amounts
    """Hours of a full year, shape (trial, year). [h/year]"""
    fuel: Amounts
    """Level of the fuel price, shape (trial, year). [-]"""
    prices: Amounts
    """Levels of parts and labour prices, shape (2, trial). [-]"""
    burn: Amounts
    """Level of the fuel burn, shape (trial,). [-]"""


class Outcome(NamedTuple):
    """What owning each engine came to in each trial of a chunk."""

    by_year: Amounts
    """Money of the day without the value at sale, shape (engine, trial, year). [money]"""
    present: Amounts
    """Total cost of ownership in present value, shape (engine, trial). [money]"""
    counts: Amounts
    """Visits, failures, failures not paid in full by the warranty, shape (engine, 3, trial). [-]"""
    counts_by_year: Amounts
    """The same, summed over the trials, shape (engine, 3, year). [-]"""
    elements: Amounts
    """Present value by cost element, summed over the trials, shape (engine, element). [money]"""
    cash: Amounts
    """Where cash is asked for, and then nothing else is worked out: money of the day by year and varying element,
    without the value at sale, shape (engine, trial, year, varying element); no trials where it is not. [money]"""

    def of(self, engine: int) -> "Outcome":
        """One engine's part, arrays without the engine."""
        return Outcome(*(part[engine] for part in self))


def no_outcome(engines: int, trials: int, years: int) -> Outcome:
    """An outcome that nothing has been added to."""
    return Outcome(
        np.zeros((engines, trials, years)),
        np.zeros((engines, trials)),
        np.zeros((engines, 3, trials)),
        np.zeros((engines, 3, years)),
        np.zeros((engines, len(PLACES))),
        np.zeros((engines, 0, years, len(VARYING))),
    )


@compiled
def outcome_in_cash(cash: Amounts) -> Outcome:
    """The outcome of one engine of which cash is asked for, shape (trial, year, varying element). [money]"""
    trials, years, elements = cash.shape
    return Outcome(
        np.zeros((1, 0, years)),
        np.zeros((1, 0)),
        np.zeros((1, 3, 0)),
        np.zeros((1, 3, years)),
        np.zeros((1, ELEMENTS)),
        cash.reshape((1, trials, years, elements)),
    )


@compiled
def outcome_of_first(of_all: Outcome) -> Outcome:
    """The first engine's part, for compiled sums."""
    by_year, present, counts, counts_by_year, elements, cash = of_all
    return Outcome(by_year[0], present[0], counts[0], counts_by_year[0], elements[0], cash[0])


class RunningTerms(NamedTuple):
    """What flows through the years, and what is the same in every trial."""

    rates: RunningRates
    """Cost of a running hour."""
    shares: Amounts
    """Share of each year within the ownership period, shape (year,). [-]"""
    start_meter: float
    """Meter hours at delivery. [h]"""
    break_in: tuple[float, float]
    """Hours of the break-in and the factor on its oil. [h, -]"""
    dated: Amounts
    """Parts and labour of tasks at the same times in every trial, money of the day and present value, at level 1,
    shape (2, 2, year). [money]"""


@compiled
def add_running(lives: Lives, terms: RunningTerms, outcome: Outcome) -> None:
    """
    Add fuel, two-stroke oil, top-ups and the tasks that have the same times in every trial.

    Parameters
    ----------
    lives : Lives
    terms : RunningTerms
    outcome : Outcome
        Of this engine; added to.
    """
    fuel_rates, oil_rates, top_up_rates = terms.rates.fuel, terms.rates.oil, terms.rates.top_up
    dated, (limit, factor), shares = terms.dated, terms.break_in, terms.shares
    hours, levels, prices, burns = lives.hours, lives.fuel, lives.prices, lives.burn
    by_year, present, cash, in_cash = outcome.by_year, outcome.present, outcome.cash, outcome.cash.size > 0
    sums = np.zeros(4)
    for path in range(hours.shape[0]):
        meter, burn = terms.start_meter, burns[path]
        parts_level, labour_level = prices[0, path], prices[1, path]
        fuel, oil, parts, labour = 0.0, 0.0, 0.0, 0.0
        for year in range(hours.shape[1]):
            run = hours[path, year] * shares[year]
            burned = run * burn * levels[path, year]
            oiled = weighted_hours(meter, meter + run, limit, factor) * burn
            topped = run * parts_level
            meter += run
            if not in_cash:
                fuel += burned * fuel_rates[1, year]
                oil += oiled * oil_rates[1, year]
                parts += topped * top_up_rates[1, year] + parts_level * dated[0, 1, year]
                labour += labour_level * dated[1, 1, year]
            burned, oiled = burned * fuel_rates[0, year], oiled * oil_rates[0, year]
            topped = topped * top_up_rates[0, year] + parts_level * dated[0, 0, year]
            worked = labour_level * dated[1, 0, year]
            if in_cash:
                cash[path, year, 0] += burned
                cash[path, year, OIL - FUEL] += oiled
                cash[path, year, PARTS - FUEL] += topped
                cash[path, year, LABOUR - FUEL] += worked
            else:
                by_year[path, year] += burned + oiled + topped + worked
        if in_cash:
            continue
        present[path] += fuel + oil + parts + labour
        sums[0] += fuel
        sums[1] += oil
        sums[2] += parts
        sums[3] += labour
    outcome.elements[FUEL] += sums[0]
    outcome.elements[OIL] += sums[1]
    outcome.elements[PARTS] += sums[2]
    outcome.elements[LABOUR] += sums[3]
