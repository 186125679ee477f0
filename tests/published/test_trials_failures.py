"""Drawn failures against closed forms: their number as old and as new, and who pays them over owners who differ."""

from functools import cache

import numpy as np
import pytest

from model.uncertainty.outcomes import FAILURES, OWNER_PAID
from model.uncertainty.summary import summarise
from model.uncertainty.trials import run_trials
from tests.published.figures import check
from tests.tiny import one_engine

KEYS = ("R-W102", "R-W105", "R-W107", "R-W108", "R-W111")
"""Weibull lives of mean 1, over a time W."""

TRIALS = 200_000

MODE = {"name": "Failure", "clock": "hours", "scale": 1500.0, "shape": 1.5, "parts_price": 1.0}
ENGINE = {"repair": [MODE], "warranty": {"months": 36.0, "hours": 300.0}}
SPREAD = {"shape": "lognormal", "variation": 0.8, "owner_share": 1.0}


@pytest.mark.parametrize("after", ["as old", "as new"])
@pytest.mark.parametrize("key", KEYS)
def test_failures_by_a_time(key: str, after: str) -> None:
    inputs, answer, _ = check(key)
    mode = {"name": "Failure", "clock": "years", "scale": inputs["eta"], "shape": inputs["beta"], "after": after}
    scenario = one_engine({"repair": [mode]}, ownership={"years": inputs["W"]}, trials={"repairs": "drawn"})

    repairs = summarise(run_trials(scenario, TRIALS, workers=2)).engines[0].repairs

    assert repairs.value == pytest.approx(answer[after], abs=4 * repairs.standard_error)


@cache
def over_owners(repairs: str, spread: bool = True) -> tuple[float, float, float, float]:
    """Failures and owner-paid failures over ten years, each with its standard error."""
    use = {"hours_per_year": 100.0} | ({"spread": SPREAD} if spread else {})
    scenario = one_engine(ENGINE, ownership={"years": 10.0}, use=use, trials={"repairs": repairs})
    engine = summarise(run_trials(scenario, TRIALS, workers=2)).engines[0]
    both = (engine.repairs, engine.owner_paid_repairs)
    return both[0].value, both[0].standard_error, both[1].value, both[1].standard_error


@pytest.mark.parametrize("repairs", ["drawn", "expected"])
def test_owners_who_differ(repairs: str) -> None:
    _, answer, _ = check("R-W51")
    failures, error, paid, paid_error = over_owners(repairs)

    assert failures == pytest.approx(answer["E_total_failures_10y"], abs=4 * error)
    assert paid == pytest.approx(answer["E_owner_paid_failures_10y"], abs=4 * paid_error)


def test_a_calculation_on_mean_hours_says_less() -> None:
    _, answer, tolerance = check("R-W59")

    _, _, at_mean, error = over_owners("drawn", spread=False)
    _, _, exactly, _ = over_owners("expected", spread=False)
    _, _, averaged, averaged_error = over_owners("drawn")

    assert at_mean == pytest.approx(answer["owner_paid_at_mean_hours"], abs=4 * error)
    assert exactly == pytest.approx(answer["owner_paid_at_mean_hours"], abs=tolerance)
    assert averaged == pytest.approx(answer["owner_paid_averaged_over_lognormal_cv_0.8"], abs=4 * averaged_error)
    assert averaged - at_mean > 20 * averaged_error


def test_sixteen_times_the_trials_come_four_times_closer() -> None:
    scenario = one_engine(
        ENGINE, ownership={"years": 10.0}, use={"hours_per_year": 100.0, "spread": SPREAD}, trials={"repairs": "drawn"}
    )
    exact, seeds = check("R-W51").answer["E_owner_paid_failures_10y"], 60

    def off(trials: int) -> float:
        counts = [run_trials(scenario, trials, seed).counts.total[0, OWNER_PAID] / trials for seed in range(seeds)]
        return float(np.sqrt(np.mean((np.array(counts) - exact) ** 2)))

    # Root mean squares over 60 seeds are each known to one part in sqrt(2 x 60), their ratio to sqrt(2) times that.
    assert off(256) / off(4096) == pytest.approx(4.0, rel=4.0 / np.sqrt(seeds))


def test_the_standard_error_is_what_other_seeds_move() -> None:
    scenario = one_engine(
        ENGINE, ownership={"years": 10.0}, use={"hours_per_year": 100.0, "spread": SPREAD}, trials={"repairs": "drawn"}
    )
    runs = [run_trials(scenario, 2_000, seed) for seed in range(60)]
    means = [run.counts.total[0, FAILURES] / run.trials for run in runs]
    told = [summarise(run).engines[0].repairs.standard_error for run in runs]

    assert np.std(means, ddof=1) == pytest.approx(np.mean(told), rel=4.0 / np.sqrt(2 * len(runs)))
