"""Expected failures of power-law and renewed parts against closed forms and numerical solutions."""

import math
from collections.abc import Callable

import pytest
from scipy.integrate import quad

from model.case import prepare
from model.inputs.terms import Element
from model.repairs_and_cover import expected_repairs
from tests.published.figures import check
from tests.tiny import cost_of_one, hours_of, one_engine
from tests.tolerances import IDENTITY

KEYS = ("R-W102", "R-W105", "R-W107", "R-W108", "R-W109", "R-W111")
"""Weibull lives of mean 1, over a time W."""

GRID = 1e-6
"""Of the answer. What the checks with an answer allow; for shapes up to 5 the sums on a grid are to hold it too. [-]"""


def expected_failures(mode: dict[str, object], years: float, start: dict[str, float] | None = None) -> float:
    """Failures of one mode in years of age, by the ownership's sum over its years."""
    engine = {"repair": [{"name": "Failure", "clock": "years", **mode}], "start": start, "list_price": 10000.0}
    scenario = one_engine(engine, ownership={"years": years})
    expected = expected_repairs(prepare(scenario, scenario.engines[0]), hours_of(scenario))
    return float(expected.failures.sum())


@pytest.mark.parametrize("after", ["as old", "as new"])
@pytest.mark.parametrize("key", KEYS)
def test_failures_by_a_time(key: str, after: str) -> None:
    # No printed answers. As old: (W / scale)^shape. As new: a power series (from memory) and sums on a grid agree.
    # Shape 1 has both at W / scale exactly.
    inputs, answer, tolerance = check(key)
    mode = {"scale": inputs["eta"], "shape": inputs["beta"], "after": after}

    assert expected_failures(mode, inputs["W"]) == pytest.approx(answer[after], abs=tolerance)


def renewals_by_series(shape: float) -> Callable[[float], float]:
    """Renewal function of a Weibull life of scale 1, by its power series (from memory), up to about twice the scale."""
    terms = range(61)
    gamma = [math.exp(math.lgamma(1.0 + k * shape) - math.lgamma(k + 1.0)) for k in terms]
    a = [0.0]
    for k in terms[1:]:
        a.append(gamma[k] - sum(gamma[j] * a[k - j] for j in range(1, k)))

    def renewals(t: float) -> float:
        logs = (k * shape * math.log(t) - math.lgamma(1.0 + k * shape) for k in terms[1:])
        return sum((-1.0) ** (k - 1) * a[k] * math.exp(log) for k, log in zip(terms[1:], logs, strict=True))

    return renewals


@pytest.mark.parametrize("t", [0.1, 0.5, 1.0, 1.5])
def test_the_series_itself_is_exact_where_the_answer_is_known(t: float) -> None:
    # Shape 1: renewals are t exactly.
    assert renewals_by_series(1.0)(t) == pytest.approx(t, rel=IDENTITY)


@pytest.mark.parametrize("shape", [0.8, 1.0, 1.2, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("age", [0.3, 1.0])
@pytest.mark.parametrize("years", [0.25, 1.0, 1.25])
def test_a_part_that_comes_used(shape: float, age: float, years: float) -> None:
    # M(t) = H(t) + integral of M(t - u) dH(u), H the rest of the first life: solved by adaptive quadrature.
    renewals = renewals_by_series(shape)

    def density(u: float) -> float:
        return shape * (age + u) ** (shape - 1.0) * math.exp(age**shape - (age + u) ** shape)

    first = -math.expm1(age**shape - (age + years) ** shape)
    later = quad(lambda u: renewals(years - u) * density(u) if u < years else 0.0, 0.0, years, epsabs=1e-11)[0]

    mode = {"scale": 1.0, "shape": shape, "after": "as new"}
    found = expected_failures(mode, years, start={"meter_hours": 0.0, "age": age})
    assert found == pytest.approx(first + later, abs=GRID)


@pytest.mark.parametrize("shape", [1.2, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("age", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("years", [12.0, 30.0])
def test_in_the_long_run_a_part_is_renewed_once_a_mean_life(shape: float, age: float, years: float) -> None:
    # Asymptote of the renewal function (textbooks of renewal theory, from memory): t / m + m2 / (2 m^2) - first / m,
    # with mean m and second moment m2 of a new part's life and the mean rest of the first. 30 is beyond the table.
    mean, second_moment = math.gamma(1.0 + 1.0 / shape), math.gamma(1.0 + 2.0 / shape)
    rest = quad(lambda u: math.exp(age**shape - (age + u) ** shape), 0.0, math.inf)[0]

    start = {"meter_hours": 0.0, "age": age} if age else None
    found = expected_failures({"scale": 1.0, "shape": shape, "after": "as new"}, years, start)

    asymptote = years / mean + second_moment / (2.0 * mean**2) - rest / mean
    assert found == pytest.approx(asymptote, rel=GRID)


@pytest.mark.parametrize("shape", [1.2, 2.0, 3.0])
def test_a_linear_decline_pays_the_mean_of_renewals_over_the_cover(shape: float) -> None:
    # Integral of (1 - t / W) dM(t) by parts: the mean of M over the cover.
    mode = {"name": "Failure", "clock": "years", "scale": 1.6, "shape": shape, "after": "as new", "parts_price": 1.0}
    warranty = {"months": 24.0, "decline": "linear"}

    cost = cost_of_one({"repair": [mode], "warranty": warranty}, ownership={"years": 3.0})

    mean = quad(renewals_by_series(shape), 0.0, 2.0 / 1.6)[0] / (2.0 / 1.6)
    assert cost.paid_by_warranty.nominal == pytest.approx(mean, abs=GRID)


@pytest.mark.parametrize("shape", [1.0, 1.25, 2.0, 3.5])
@pytest.mark.parametrize("clock", ["hours", "years"])
def test_a_linear_decline_pays_failures_over_shape_and_one(clock: str, shape: float) -> None:
    # Closed form: the share left is 1 - t / W, so the warranty pays the integral of failures by t over W,
    # (W / scale)^shape / (shape + 1) repairs.
    years, hours_a_year = 5.0, 120.0
    scale = 8.0 if clock == "years" else 8.0 * hours_a_year
    mode = {"name": "Failure", "clock": clock, "scale": scale, "shape": shape, "parts_price": 300.0, "labour": 2.0}
    engine = {"repair": [mode], "warranty": {"months": 12.0 * years, "decline": "linear"}}

    cost = cost_of_one(engine, ownership={"years": years + 2.0}, use={"hours_per_year": hours_a_year})

    repair, failures_in_cover, failures = 300.0 + 2.0 * 100.0, (5.0 / 8.0) ** shape, (7.0 / 8.0) ** shape
    paid = repair * failures_in_cover / (shape + 1.0)
    assert cost.paid_by_warranty.nominal == pytest.approx(paid, rel=IDENTITY)
    assert cost.elements[Element.REPAIRS].nominal == pytest.approx(repair * failures - paid, rel=IDENTITY)
