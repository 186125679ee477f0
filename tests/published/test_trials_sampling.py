"""Growth and spread of fuel prices from series, spread of hours from a survey, visits of owners who differ."""

import math

import numpy as np
import pytest

from model.case import prepare
from model.inputs.owner import Spread
from model.money import yearly_growth
from model.uncertainty.sampling import fuel_levels, hours_at, relative_hours, volatility_of
from model.visit_times import SOLD
from model.walk import visits_of
from tests.published.figures import check
from tests.tiny import two_engines
from tests.tolerances import standard_errors


def test_growth_and_spread_of_the_fuel_price() -> None:
    inputs, answer, tolerance = check("A-21")
    prices = inputs["first_monday_prices_1992_2024"]

    assert volatility_of(prices) == pytest.approx(answer["sd_log_change"], abs=tolerance)
    assert np.diff(np.log(prices)).mean() == pytest.approx(answer["mean_log_change"], abs=tolerance)
    assert yearly_growth(prices[0], prices[-1], len(prices) - 1) == pytest.approx(answer["cagr"], abs=tolerance)


def test_drawn_paths_have_that_spread() -> None:
    volatility = check("A-21").answer["sd_log_change"]
    times = np.arange(1.0, 34.0)
    levels = fuel_levels(np.random.default_rng(21).standard_normal((2_000, times.size)), volatility, times)
    found = np.array([volatility_of(path) for path in levels])

    assert np.mean(found**2) == pytest.approx(volatility**2, abs=standard_errors(4, found**2))
    assert levels[:, -1].mean() == pytest.approx(1.0, abs=standard_errors(4, levels[:, -1]))


def test_growth_of_other_prices() -> None:
    inputs, answer, tolerance = check("E-B02")
    found = [100.0 * yearly_growth(first, last, inputs["years"]) for first, last in inputs["index_1980_2020"].values()]

    assert found == pytest.approx(answer, abs=tolerance)


def test_hours_of_the_survey() -> None:
    # Three of five owners between 12 and 36 times a year, taken for the central 60 %.
    _, answer, tolerance = check("R-U01")
    spread = Spread(shape="lognormal", variation=answer["cv"])
    fifth = 0.8416212335729143  # standard normal of the 80 % point

    found = hours_at(spread, [answer["mean"]], np.array([[-fifth], [0.0], [fifth]]))[:, 0]

    assert found == pytest.approx([12.0, answer["median"], 36.0], abs=tolerance)
    assert math.log(found[2] / found[1]) / fifth == pytest.approx(answer["sigma_ln"], abs=tolerance)


def test_visits_a_year_of_owners_who_differ() -> None:
    # The long run of owners who each keep to their hours: visits over the time of the last.
    inputs, answer, tolerance = check("R-S02")
    plan = prepare(scenario := two_engines(), scenario.engines[0]).walk
    assert plan is not None
    assert (plan.base_hours, plan.base_months) == (inputs["H"], 12.0 * inputs["T_years"])
    nodes, weights = np.polynomial.legendre.leggauss(200)
    spread = Spread(shape="lognormal", variation=inputs["cv"])
    kink = math.sqrt(math.log1p(inputs["cv"] ** 2)) / 2  # the owner of 100 h, whose visits come by hours from there on
    rate = 0.0
    for low, high in ((-9.0, kink), (kink, 9.0)):
        z = 0.5 * (high - low) * nodes + 0.5 * (high + low)
        hours = inputs["mean"] * relative_hours(spread, z)
        visits = [visits_of(np.full(50, owner), 50.0, SOLD, plan).months for owner in hours]
        each = np.array([months.size * 12.0 / months[-1] for months in visits])
        rate += float(np.sum(0.5 * (high - low) * weights * np.exp(-0.5 * z**2) / math.sqrt(2 * math.pi) * each))

    assert rate == pytest.approx(answer["rate"], abs=tolerance)
    assert answer["naive_at_mean"] == visits_of(np.full(50, 100.0), 50.0, SOLD, plan).months.size / 49
