"""Each shape of spread against scipy.stats, the correlation between years, levels, and the streams behind them."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from model.case import prepare
from model.inputs.owner import Spread
from model.inputs.terms import HOURS_IN_A_YEAR
from model.uncertainty.sampling import fuel_levels, hours_at, lognormal_level, sample
from model.uncertainty.streams import (
    CHUNK,
    Source,
    Streams,
    fill_exponentials,
    normals_of_years,
    random_bits,
    unit_uniform,
)
from model.usage import hours_run
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION, standard_errors

NORMALS = np.linspace(-5.0, 5.0, 401)

SHAPES = [
    ({"shape": "lognormal", "variation": 0.6}, stats.lognorm(np.sqrt(np.log1p(0.36)), scale=80.0 / np.sqrt(1.36))),
    ({"shape": "lognormal", "variation": 2.0}, stats.lognorm(np.sqrt(np.log(5.0)), scale=80.0 / np.sqrt(5.0))),
    ({"shape": "gamma", "variation": 0.15}, stats.gamma(1 / 0.0225, scale=80.0 * 0.0225)),
    ({"shape": "gamma", "variation": 0.8}, stats.gamma(1 / 0.64, scale=80.0 * 0.64)),
    ({"shape": "gamma", "variation": 1.5}, stats.gamma(1 / 2.25, scale=80.0 * 2.25)),
    ({"shape": "triangular", "low": 20.0, "mode": 50.0, "high": 200.0}, stats.triang(1 / 6, 20.0, 180.0)),
    ({"shape": "triangular", "low": 20.0, "mode": 20.0, "high": 200.0}, stats.triang(0, 20.0, 180.0)),
    ({"shape": "uniform", "low": 40.0, "high": 90.0}, stats.uniform(40.0, 50.0)),
]
"""A spread about 80 h a year, and the same distribution by scipy."""

TABLED = 1e-7
"""What cubics through a table of the gamma quantile's logarithm in steps of 1/64 may be off. [-]"""


def at(spread: dict[str, object], normals: NDArray[np.float64]) -> NDArray[np.float64]:
    """Hours of a single year."""
    return hours_at(Spread.model_validate(spread), [80.0], normals[:, None])[:, 0]


@pytest.mark.parametrize(("spread", "exact"), SHAPES)
def test_quantiles(spread: dict[str, object], exact: stats.rv_continuous) -> None:
    wanted = np.where(NORMALS < 0, exact.ppf(stats.norm.cdf(NORMALS)), exact.isf(stats.norm.sf(NORMALS)))

    assert at(spread, NORMALS) == pytest.approx(np.minimum(wanted, HOURS_IN_A_YEAR), rel=TABLED)


@pytest.mark.parametrize(("spread", "exact"), SHAPES)
def test_mean_and_standard_deviation(spread: dict[str, object], exact: stats.rv_continuous) -> None:
    scenario = two_engines(use={"hours_per_year": 80.0, "spread": {**spread, "owner_share": 0.0}})
    cases = [prepare(scenario, scenario.engines[0])]
    hours = np.concatenate([sample(cases, Streams(4), chunk).hours for chunk in range(10)]).ravel()
    squares = (hours - exact.mean()) ** 2

    assert hours.mean() == pytest.approx(exact.mean(), abs=standard_errors(4, hours))
    assert squares.mean() == pytest.approx(exact.var(), abs=standard_errors(4, squares))


@pytest.mark.parametrize("share", [0.0, 0.3, 0.7, 1.0])
@pytest.mark.parametrize("shape", ["lognormal", "gamma"])
def test_the_owner_s_share_is_the_correlation_of_the_normals(shape: str, share: float) -> None:
    scenario = two_engines(use={"spread": {"shape": shape, "variation": 0.6, "owner_share": share}})
    cases = [prepare(scenario, scenario.engines[0])]
    hours = np.concatenate([sample(cases, Streams(8), chunk).hours for chunk in range(10)])
    ranks = stats.rankdata(hours[:, [0, 3]], axis=0) / (hours.shape[0] + 1)
    scores = stats.norm.ppf(ranks)
    product = (scores[:, 0] * scores[:, 1]) / scores.std() ** 2

    if share == 1.0:
        assert hours[:, 0] == pytest.approx(hours[:, 3], rel=IDENTITY)
    else:
        assert product.mean() == pytest.approx(share, abs=standard_errors(4, product))


def test_recorded_years_come_equally_often() -> None:
    recorded = {"shape": "recorded", "hours": [30.0, 120.0, 60.0, 90.0]}
    quarters = stats.norm.ppf([0.01, 0.24, 0.26, 0.49, 0.51, 0.74, 0.76, 0.99])

    assert at(recorded, quarters).tolist() == [30.0, 30.0, 60.0, 60.0, 90.0, 90.0, 120.0, 120.0]


def test_hours_by_year_are_the_means() -> None:
    stated = [50.0, 150.0]
    spread = Spread(shape="lognormal", variation=0.5)
    pattern = Spread(shape="uniform", low=0.0, high=200.0)

    assert hours_at(spread, stated, np.zeros((1, 2)))[0] == pytest.approx(
        np.array(stated) / np.sqrt(1.25), rel=IDENTITY
    )
    assert hours_at(pattern, stated, np.zeros((1, 2)))[0] == pytest.approx(stated, rel=IDENTITY)


def test_a_part_year_weighs_by_its_part() -> None:
    # 100, 100 and half of 200 h in two and a half years are 120 h a year: the middle of the shape, on which they scale.
    spread = {"shape": "uniform", "low": 0.0, "high": 240.0, "owner_share": 0.3}
    use = {"hours_by_year": [100.0, 100.0, 200.0], "hours_per_year": None, "spread": spread}
    made = two_engines(ownership={"years": 2.5}, use=use)
    sampled = sample([prepare(made, made.engines[0])], Streams(4), 0)
    a_year = hours_run(sampled.hours, 2.5).sum(axis=-1) / 2.5

    assert a_year.mean() == pytest.approx(120.0, abs=standard_errors(4, a_year))
    assert hours_at(made.use.spread, made.hours(), np.zeros((1, 3)), made.mean_hours())[0] == pytest.approx(
        made.hours(), rel=IDENTITY
    )


def test_no_year_holds_more_than_its_hours() -> None:
    spread = Spread(shape="lognormal", variation=3.0)

    assert hours_at(spread, [2000.0], np.array([[6.0]]))[0, 0] == HOURS_IN_A_YEAR


def test_fuel_levels_by_hand() -> None:
    # Half a year's step, then a year's: W = z1 sqrt(1/2), then + z2.
    levels = fuel_levels(np.array([[1.0, 2.0]]), 0.2, [0.5, 1.5])[0]

    walked = np.array([0.5**0.5, 0.5**0.5 + 2.0])
    assert levels == pytest.approx(np.exp(0.2 * walked - 0.02 * np.array([0.5, 1.5])), rel=IDENTITY)


def test_fuel_levels_have_mean_one_and_the_stated_spread() -> None:
    scenario = two_engines(trials={"fuel_volatility": 0.215})
    case = prepare(scenario, scenario.engines[0])
    levels = np.concatenate([np.asarray(sample([case], Streams(2), chunk).levels[0].fuel) for chunk in range(20)])

    for year, t in enumerate(case.rules.flow_times):
        logs = np.log(levels[:, year]) + 0.5 * 0.215**2 * t
        assert levels[:, year].mean() == pytest.approx(1.0, abs=standard_errors(4, levels[:, year]))
        assert np.mean(logs**2) == pytest.approx(0.215**2 * t, abs=standard_errors(4, logs**2))


def test_levels_have_mean_one_and_the_stated_variation() -> None:
    exact = stats.lognorm(np.sqrt(np.log1p(0.04)), scale=1.0 / np.sqrt(1.04))

    assert lognormal_level(NORMALS, 0.2) == pytest.approx(exact.ppf(stats.norm.cdf(NORMALS)), rel=REGRESSION)
    assert (exact.mean(), exact.std()) == pytest.approx((1.0, 0.2), rel=REGRESSION)


def test_each_input_has_its_own_stream() -> None:
    names = {"fuel_volatility": 0.2, "parts_variation": 0.2, "labour_variation": 0.2,
             "fuel_burn_variation": 0.2, "resale_variation": 0.2}  # fmt: skip
    scenario = two_engines(trials=names, use={"spread": {"shape": "lognormal", "variation": 0.2}})
    cases = [prepare(scenario, engine) for engine in scenario.engines]
    first, second = sample(cases, Streams(1), 0), sample(cases, Streams(1, {(Source.PARTS, ""): 2}), 0)
    levels = first.levels
    drawn = [first.hours[:, 0], np.asarray(levels[0].fuel)[:, 0], levels[0].parts, levels[0].labour]
    drawn += [level for one in levels for level in (one.fuel_burn, one.resale)]

    correlations = np.corrcoef(np.array(drawn)) - np.eye(len(drawn))
    assert np.abs(correlations).max() < 4.5 / CHUNK**0.5
    assert first.hours.tobytes() == second.hours.tobytes()
    assert not np.array_equal(levels[0].parts, second.levels[0].parts)
    assert np.array_equal(levels[0].labour, second.levels[0].labour)


def test_failure_streams_are_the_published_generator() -> None:
    # The first outputs of SplitMix64 with seed 1234567, as many implementations give them.
    found = [int(random_bits(np.uint64(1234567), np.uint64(place))) for place in range(5)]

    assert found == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]


def test_unit_rate_arrivals() -> None:
    drawn, trials = np.empty((20_000, 5)), np.arange(20_000)
    for arrival in range(5):
        filled = np.empty(20_000)
        fill_exponentials(np.uint64(99), 0, arrival, trials, filled)
        drawn[:, arrival] = filled

    assert stats.kstest(drawn.ravel(), "expon").pvalue > 1e-4
    assert np.abs(np.corrcoef(drawn.T) - np.eye(5)).max() < 4.5 / 20_000**0.5
    assert np.abs(np.corrcoef(drawn[:-1, 0], drawn[1:, 0])[0, 1]) < 4.5 / 20_000**0.5


def test_uniform_numbers_never_reach_their_ends() -> None:
    drawn = [unit_uniform(np.uint64(key), 0, 0) for key in range(1000)]

    assert min(drawn) > 0.0
    assert max(drawn) < 1.0


@pytest.mark.parametrize("owner_share", [0.0, 0.36, 1.0])
def test_normals_of_years_have_their_owner_in_common(owner_share: float) -> None:
    """Each year's is a standard normal, and any two are correlated by the owner's share."""
    first, second, _ = normals_of_years(np.random.default_rng(1).standard_normal((4, 100_000)), owner_share)

    assert (first * second).mean() == pytest.approx(owner_share, abs=standard_errors(4, first * second))
    assert (first**2).mean() == pytest.approx(1.0, abs=standard_errors(4, first**2))
    assert first.mean() == pytest.approx(0.0, abs=standard_errors(4, first))
