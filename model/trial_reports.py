"""Results of trials as plain data for JSON and CSV, and every single trial as a file."""

import math
from collections.abc import Iterable, Mapping
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from model.inputs.files import written_aside
from model.inputs.problems import InputError, Problem, shown
from model.uncertainty.intervals import Distribution, Estimate, Interval
from model.uncertainty.summary import EngineSummary, PairSummary, Summary
from model.uncertainty.trials import TrialRun, scenario_hash

FIGURE_COLUMNS = ("engine", "figure", "value", "standard_error")
"""Columns of a summary in CSV."""


def finite(number: float) -> float | None:
    """A number for JSON; None for never and for what is no number."""
    return number if math.isfinite(number) else None


def estimate_report(estimate: Estimate) -> dict[str, Any]:
    """A mean with its standard error."""
    return {"mean": finite(estimate.value), "standard_error": finite(estimate.standard_error)}


def intervals_report(intervals: Mapping[float, Interval]) -> dict[str, list[float | None]]:
    """Intervals by the share they hold, as text."""
    return {str(share): [finite(end) for end in ends] for share, ends in intervals.items()}


def engine_report(engine: EngineSummary) -> dict[str, Any]:
    """One engine over the trials; costs in present value."""
    cost = engine.cost
    return {
        "name": engine.name,
        **estimate_report(cost.mean),
        "median": cost.median.value,
        "standard_deviation": cost.standard_deviation,
        "intervals": intervals_report(cost.intervals),
        "shortest_intervals": intervals_report(cost.shortest),
        "interval_standard_errors": intervals_report(cost.interval_errors),
        "chance_cheapest": engine.chance_cheapest.value,
        "expected_regret": engine.expected_regret.value,
        "visits_per_year": estimate_report(engine.visits_per_year),
        "owner_paid_repairs": estimate_report(engine.owner_paid_repairs),
    }


def difference_report(pair: PairSummary | None) -> dict[str, Any] | None:
    """The difference of two engines; None where there is a single one."""
    if pair is None:
        return None
    return {
        "baseline": pair.baseline,
        "challenger": pair.challenger,
        **estimate_report(pair.difference.mean),
        "intervals": intervals_report(pair.difference.intervals),
    }


def break_even_report(pair: PairSummary | None) -> dict[str, Any] | None:
    """The break-even time of the challenger, None in it standing for never; None where there is a single engine."""
    if pair is None:
        return None
    return {
        "median": finite(pair.break_even.median.value),
        "intervals": intervals_report(pair.break_even.intervals),
        "never": pair.never.value,
    }


def trials_report(summary: Summary) -> dict[str, Any]:
    """What the trials say."""
    run = summary.run
    return {
        "scenario": run.scenario.title,
        "trials": run.trials,
        "seed": run.seed,
        "scenario_hash": scenario_hash(run.scenario),
        "engines": [engine_report(engine) for engine in summary.engines],
        "difference": difference_report(summary.pair),
        "break_even_years": break_even_report(summary.pair),
    }


def trial_rows(summary: Summary) -> list[dict[str, Any]]:
    """What the trials say as flat rows: engine, figure, value, standard error."""
    rows: list[dict[str, Any]] = []

    def add(name: str, figure: str, estimate: Estimate) -> None:
        value, error = finite(estimate.value), finite(estimate.standard_error)
        rows.append({"engine": name, "figure": figure, "value": value, "standard_error": error})

    for engine in summary.engines:
        for figure, estimate in _figures(engine.cost):
            add(engine.name, figure, estimate)
        for figure in ("chance_cheapest", "expected_regret", "visits_per_year", "owner_paid_repairs"):
            add(engine.name, figure, getattr(engine, figure))
    for pair in summary.pairs:
        name = f"{pair.challenger} less {pair.baseline}"
        for figure, estimate in _figures(pair.difference):
            add(name, f"difference_{figure}", estimate)
        add(name, "break_even_years_median", pair.break_even.median)
        add(name, "break_even_never", pair.never)
    return rows


def _figures(cost: Distribution) -> Iterable[tuple[str, Estimate]]:
    """A distribution figure by figure."""
    yield from (("mean", cost.mean), ("median", cost.median))
    yield "standard_deviation", Estimate(cost.standard_deviation, math.nan)
    for share, ends in cost.intervals.items():
        for place, end in enumerate(("low", "high")):
            yield f"interval_{share}_{end}", Estimate(ends[place], cost.interval_errors[share][place])


def refuse_unless_savable(path: Path) -> None:
    """
    Find out whether trials can be saved in that file, before they are run.

    Raises
    ------
    InputError
        If its kind is unknown, its folder is not there, or what writes it is not installed.
    """
    if path.suffix not in (".csv", ".parquet"):
        raise InputError([Problem(str(path), "--save", shown(path.suffix or path.name), "a file .csv or .parquet")])
    if not path.parent.is_dir():
        raise InputError([Problem(str(path), "--save", "no such folder", "a folder that is there")])
    if path.suffix == ".parquet" and find_spec("pyarrow") is None:
        raise InputError([Problem(str(path), "--save", "pyarrow not installed", ".csv, or install pyarrow first")])


def save(run: TrialRun, path: Path) -> None:
    """
    Save every trial: a row for each trial and engine, with its cost in present value and by year.

    Parameters
    ----------
    run : TrialRun
    path : Path
        A .csv or .parquet; what stood there stays until the new file is whole.
    """
    import pandas as pd

    frames = []
    for place, name in enumerate(run.names):
        years = {f"year_{year + 1}": cost for year, cost in enumerate(run.by_year[place])}
        frames.append(
            pd.DataFrame({"trial": range(run.trials), "engine": name, "present_value": run.present[place], **years})
        )
    together = pd.concat(frames)
    with written_aside(path) as aside:
        if path.suffix == ".csv":
            together.to_csv(aside, index=False)
        else:
            together.to_parquet(aside, index=False)
