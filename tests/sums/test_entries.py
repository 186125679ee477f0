"""An ownership item by item: each item's amounts, times and visits belong together, and all of them are the totals."""

import numpy as np
import pytest
from hypothesis import given

from model.entries import entries
from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Payer
from model.measures import compare
from tests.strategies import QUICK, scenarios
from tests.tolerances import IDENTITY


@QUICK
@given(scenario=scenarios())
def test_the_owners_items_are_the_elements_of_each_year(scenario: Scenario) -> None:
    (cost,) = compare(scenario).engines
    found = {element: np.zeros(scenario.ownership.begun_years) for element in Element}

    for entry in entries(cost):
        if entry.payer is Payer.OWNER:
            np.add.at(found[entry.element], entry.when.years, entry.nominal)

    exact = IDENTITY * sum(float(np.abs(entry.nominal).sum()) for entry in entries(cost))
    for element, booked in cost.ownership.elements.items():
        assert found[element] == pytest.approx(booked.nominal, rel=0.0, abs=exact)


@QUICK
@given(scenario=scenarios())
def test_every_time_of_an_item_has_its_year_quantity_and_price(scenario: Scenario) -> None:
    (cost,) = compare(scenario).engines

    for entry in entries(cost):
        times = entry.when.t.shape
        assert entry.when.years.shape == entry.quantity.shape == entry.unit_price.shape == times
        assert np.all((entry.when.t >= 0.0) & (entry.when.t <= scenario.ownership.years))
        if entry.when.visits is not None:
            assert entry.when.visits.shape == times
            assert np.all(np.diff(entry.when.visits) > 0)
            assert np.all(np.diff(entry.when.t) >= 0.0)
