"""Every figure of a comparison as a table; a figure opens the rows behind it."""

from collections.abc import Callable, Sequence

from dash import html

from dashboard import text
from dashboard.drawer import Behind, key
from dashboard.figures.cost_by_element import shown
from dashboard.tables import Cell, Column, Row, table
from model.inputs.terms import Element, Payer
from model.language import say
from model.measures import Comparison, EngineCost
from model.quantities import as_shown
from model.wording import ELEMENT_LABELS, cents, whole

Figure = Callable[[EngineCost], Cell]
"""A cell of an engine's column."""


def table_of_costs(comparison: Comparison) -> html.Div:
    """
    Cost elements, totals and measures, an engine to a column.

    Parameters
    ----------
    comparison : Comparison

    Returns
    -------
    Div
        The command line's figures in the command line's order.
    """
    costs, currency = comparison.engines, comparison.scenario.currency
    columns = [Column(currency), *(Column(cost.name, is_number=True) for cost in costs)]
    elements = [_row(say(ELEMENT_LABELS[element]), _of_element(element), costs) for element in shown(costs)]
    totals = [_row(say(label), figure, costs) for label, figure in MEASURES]
    totals += [_row(text.fuel_burned(), _fuel, costs), _row(text.co2(), _co2, costs)]
    return table(say(text.ALL_FIGURES), columns, elements, totals)


def _row(label: str, figure: Figure, costs: Sequence[EngineCost]) -> Row:
    """A line of the table."""
    return [label, *(figure(cost) for cost in costs)]


def _money(amount: float, behind: Behind) -> Cell:
    """An amount that opens its rows."""
    return Cell(whole(amount), amount, key(behind))


def _of_element(element: Element) -> Figure:
    """Present value of a cost element."""
    return lambda cost: _money(cost.elements[element].present_value, Behind(cost.name, (element,)))


def _an_hour(cost: EngineCost) -> Cell:
    """Cost an hour; none at zero hours."""
    return Cell("") if cost.cost_per_hour is None else Cell(cents(cost.cost_per_hour), cost.cost_per_hour)


def _fuel(cost: EngineCost) -> Cell:
    """Fuel of the whole ownership."""
    burned = as_shown(cost.fuel_litres, "L")
    return Cell(whole(burned) + (say(text.ESTIMATE) if cost.fuel_is_estimated else ""), burned)


def _co2(cost: EngineCost) -> Cell:
    """Carbon dioxide of that fuel."""
    mass = as_shown(cost.co2_kg, "kg")
    return Cell(whole(mass), mass)


MEASURES: Sequence[tuple[str, Figure]] = (
    (text.TOTAL, lambda cost: _money(cost.total.present_value, Behind(cost.name))),
    (text.TOTAL_NOMINAL, lambda cost: _money(cost.total.nominal, Behind(cost.name, is_nominal=True))),
    (text.A_YEAR, lambda cost: Cell(whole(cost.equivalent_annual_cost), cost.equivalent_annual_cost)),
    (text.AN_HOUR, _an_hour),
    (
        text.PAID_BY_WARRANTY,
        lambda cost: _money(cost.paid_by_warranty.present_value, Behind(cost.name, payer=Payer.WARRANTY)),
    ),
)
"""Totals and measures below the elements."""
