"""Fuel flow over engine speed, and time and fuel in each running band."""

import pytest

from model.elements.fuel import flow_at, litres_an_hour
from model.fuel_flow import bands_of, flow_curve
from model.inputs.scenario import Scenario
from tests.tiny import one_engine
from tests.tolerances import IDENTITY


def test_a_measured_curve_is_its_points(tiny: Scenario) -> None:
    found = flow_curve(tiny.engines[0])

    assert (found.speeds, found.flows) == ((0.1, 1.0), (1.0, 19.0))
    assert found.idle == (0.1, 1.0)
    assert not found.is_estimated


def test_an_estimated_curve_is_the_estimate() -> None:
    engine = one_engine({"fuel": {}}).engines[0]

    found = flow_curve(engine)

    assert found.is_estimated
    assert (found.speeds[0], found.speeds[-1]) == (0.12, 1.0)
    assert list(found.flows) == flow_at(engine, found.speeds)


def test_bands_sum_to_the_fuel_of_an_hour(tiny: Scenario) -> None:
    for use in (tiny.use, one_engine(use={"band": None, "bands": "E4"}).use):
        found = bands_of(tiny.engines[0], use)

        assert sum(band.time for band in found) == pytest.approx(1.0, rel=IDENTITY)
        assert sum(band.litres for band in found) == pytest.approx(litres_an_hour(tiny.engines[0], use), rel=IDENTITY)
        assert [band.speed for band in found] == sorted(band.speed for band in found)
