"""Fuel: litres an hour from measured points or from published specific consumption, and the CO2 of burning it.

Sources: specific consumption by technology and power class, US EPA nonroad data, file BSFC.EMF (2008a inputs, public
repository USEPA/EPA_MOVES_Model), cycle averages with the idle fuel included; mean power 0.21 of rated power, the load
factor of the same data; E4 cycle, 40 CFR Part 1045 Appendix II (a); CO2, US EPA-420-F-11-041 (8,887 g per US gallon).
"""

from collections.abc import Sequence

import numpy as np

from model.inputs.engine import Engine
from model.inputs.owner import UsePattern
from model.inputs.terms import Technology
from model.inputs.units import (
    GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR,
    KILOWATTS_IN_A_HORSEPOWER,
    LITRES_IN_A_US_GALLON,
)

LOAD_FACTOR = 0.21
"""Mean power over the marine cycle as a share of rated power. [-]"""

PETROL_KILOGRAMS_A_LITRE = 0.747
"""Density used with the specific consumptions, 6.237 lb/US gal. [kg/L]"""

CO2_KILOGRAMS_A_LITRE = 8.887 / LITRES_IN_A_US_GALLON
"""CO2 of a litre of petrol burned. [kg/L]"""

PROPELLER_POWER_EXPONENT = 2.5
"""Power goes with speed to this power: the E4 torques are speed^1.5. [-]"""

IDLE_SPEED = 0.12
"""Idle as a fraction of rated speed in an estimate (from memory). [-]"""

IDLE_SHARE = {
    Technology.TWO_STROKE_CARBURETTED: 0.09,
    Technology.TWO_STROKE_DIRECT_INJECTED: 0.05,
    Technology.FOUR_STROKE_CARBURETTED: 0.05,
    Technology.FOUR_STROKE_INJECTED: 0.04,
}
"""Idle flow as a share of full-throttle flow in an estimate (from memory). [-]"""

E4_CYCLE = ((1.0, 0.06), (0.8, 0.14), (0.6, 0.15), (0.4, 0.25), (0.0, 0.40))
"""The marine test cycle: fraction of rated speed (0 for idle) and weight. [-, -]"""

SPECIFIC_CONSUMPTION = (
    (3.0, (1.80, 1.44, 0.92, 0.83)),
    (6.0, (1.62, 1.29, 0.92, 0.83)),
    (11.0, (1.48, 1.18, 0.91, 0.82)),
    (16.0, (1.39, 1.11, 0.91, 0.82)),
    (25.0, (1.34, 1.07, 0.89, 0.80)),
    (40.0, (1.16, 0.92, 0.87, 0.78)),
    (50.0, (1.11, 0.89, 0.83, 0.75)),
    (100.0, (1.06, 0.85, 0.80, 0.72)),
    (175.0, (0.92, 0.74, 0.69, 0.62)),
    (float("inf"), (0.83, 0.67, 0.62, 0.56)),
)
"""Upper end of the power class, and lb/hp-h for the four technologies in the order of `Technology`. [hp, lb/hp-h]"""

Curve = tuple[tuple[float, float], ...]
"""Points of fraction of rated speed and flow. [-, L/h]"""


def published_specific_consumption(technology: Technology, rated_power: float) -> float:
    """
    Cycle-average specific fuel consumption of the engine's power class (lower < hp <= upper).

    Parameters
    ----------
    technology : Technology
    rated_power : float
        Rated power. [kW]

    Returns
    -------
    float
        Fuel for a unit of work. [g/kWh]
    """
    horsepower = rated_power / KILOWATTS_IN_A_HORSEPOWER
    column = list(Technology).index(technology)
    row = next(row for upper, row in SPECIFIC_CONSUMPTION if horsepower <= upper + 1e-9)
    return row[column] * GRAMS_PER_KILOWATT_HOUR_IN_A_POUND_PER_HORSEPOWER_HOUR


def mean_flow(
    rated_power: float,
    specific_consumption: float,
    load_factor: float = LOAD_FACTOR,
    density: float = PETROL_KILOGRAMS_A_LITRE,
) -> float:
    """
    Mean flow over the marine cycle: mean power x specific consumption / density.

    Parameters
    ----------
    rated_power : float
        Rated power. [kW]
    specific_consumption : float
        Fuel for a unit of work, idle fuel included. [g/kWh]
    load_factor : float
        Mean power as a share of rated power. [-]
    density : float
        Density of the fuel. [kg/L]

    Returns
    -------
    float
        Flow. [L/h]
    """
    return load_factor * rated_power * specific_consumption / 1000.0 / density


def is_estimated(engine: Engine) -> bool:
    """Whether the engine's flow is an estimate, to be called one wherever its figure is shown."""
    return engine.fuel.points is None


def flow_at(engine: Engine, speeds: Sequence[float]) -> list[float]:
    """
    Flow at engine speeds; at or below idle, the idle flow.

    Parameters
    ----------
    engine : Engine
        With measured points (linear between), or estimated: flow = W (k + (1 - k) n^2.5), with W such that the mean
        over the E4 cycle is that of the specific consumption.
    speeds : sequence of float
        Fractions of rated speed; above the last point the flow of the last point. [-]

    Returns
    -------
    list of float
        Flows. [L/h]
    """
    if not is_estimated(engine):
        points = np.array(engine.fuel.litres_an_hour_points())
        return [float(flow) for flow in np.interp(speeds, points[:, 0], points[:, 1])]
    idle_share = IDLE_SHARE[engine.technology]
    shape = [idle_share + (1.0 - idle_share) * _power_share(speed) for speed in speeds]
    cycle = sum(weight * (idle_share + (1.0 - idle_share) * _power_share(speed)) for speed, weight in E4_CYCLE)
    consumption = engine.fuel.specific_consumption or published_specific_consumption(
        engine.technology, engine.rated_power
    )
    return [mean_flow(engine.rated_power, consumption) / cycle * value for value in shape]


def _power_share(speed: float) -> float:
    """Power a propeller takes at a fraction of rated speed, as a share of rated power."""
    return float(min(max(speed, IDLE_SPEED), 1.0) ** PROPELLER_POWER_EXPONENT)


def running_bands(use: UsePattern) -> tuple[tuple[float, float], ...]:
    """
    The running bands: by hand, from a read-out (each bin at its middle speed), or the E4 cycle.

    Parameters
    ----------
    use : UsePattern

    Returns
    -------
    tuple of (float, float)
        Fraction of rated speed and share of running time. [-, -]
    """
    if use.read_out is not None:
        total = sum(hours for _, _, hours in use.read_out.bins)
        rated = use.read_out.rated_speed
        return tuple(
            (0.5 * (low + high) / rated, hours / total) for low, high, hours in use.read_out.bins if hours > 0.0
        )
    if use.band:
        return tuple((band.speed, band.share) for band in use.band)
    return E4_CYCLE


def band_litres(engine: Engine, use: UsePattern) -> tuple[tuple[float, float], ...]:
    """
    Fuel of each running band in a mean running hour of one engine.

    Parameters
    ----------
    engine : Engine
    use : UsePattern

    Returns
    -------
    tuple of (float, float)
        Fraction of rated speed, and share of time x flow at it. [-, L/h]
    """
    bands = running_bands(use)
    flows = flow_at(engine, [speed for speed, _ in bands])
    return tuple((speed, share * flow) for (speed, share), flow in zip(bands, flows, strict=True))


def litres_an_hour(engine: Engine, use: UsePattern) -> float:
    """
    Mean fuel of a running hour of one engine.

    Parameters
    ----------
    engine : Engine
    use : UsePattern

    Returns
    -------
    float
        Sum over running bands of share x flow. [L/h]
    """
    return sum(litres for _, litres in band_litres(engine, use))


def co2(litres: float) -> float:
    """CO2 of burning that much petrol. [L -> kg]"""
    return litres * CO2_KILOGRAMS_A_LITRE
