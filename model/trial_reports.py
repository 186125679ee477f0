"""Results of trials as plain data for JSON and CSV, and every single trial as a file."""

import math
from collections.abc import Iterable, Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from model.inputs.files import written_aside
from model.inputs.problems import InputError, Problem, shown
from model.uncertainty.bands import ChanceCurve
from model.uncertainty.intervals import Distribution, Estimate, Interval
from model.uncertainty.summary import EngineSummary, PairSummary, Summary, YearSummary, by_year
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


def year_report(year: YearSummary) -> dict[str, Any]:
    """One engine in one year; money of the day without the value at sale, the first year with the delivery day."""
    visits, repairs, owner_paid = year.counts
    return {
        "year": year.year + 1,
        **estimate_report(year.cost.mean),
        "intervals": intervals_report(year.cost.intervals),
        "interval_standard_errors": intervals_report(year.cost.interval_errors),
        "visits": visits,
        "repairs": repairs,
        "owner_paid_repairs": owner_paid,
    }


def engine_report(engine: EngineSummary, years: Iterable[YearSummary]) -> dict[str, Any]:
    """One engine over the trials; costs in present value."""
    cost = engine.cost
    return {
        "name": engine.name,
        **estimate_report(cost.mean),
        "median": cost.median.value,
        "median_standard_error": finite(cost.median.standard_error),
        "standard_deviation": cost.standard_deviation,
        "intervals": intervals_report(cost.intervals),
        "shortest_intervals": intervals_report(cost.shortest),
        "interval_standard_errors": intervals_report(cost.interval_errors),
        "chance_cheapest": engine.chance_cheapest.value,
        "chance_cheapest_standard_error": engine.chance_cheapest.standard_error,
        "expected_regret": engine.expected_regret.value,
        "expected_regret_standard_error": engine.expected_regret.standard_error,
        "visits_per_year": estimate_report(engine.visits_per_year),
        "repairs": estimate_report(engine.repairs),
        "owner_paid_repairs": estimate_report(engine.owner_paid_repairs),
        "by_year": [year_report(year) for year in years],
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
        "interval_standard_errors": intervals_report(pair.difference.interval_errors),
    }


def break_even_report(pair: PairSummary | None) -> dict[str, Any] | None:
    """The break-even time of the challenger, None in it standing for never; None where there is a single engine."""
    if pair is None:
        return None
    return {
        "median": finite(pair.break_even.median.value),
        "median_standard_error": finite(pair.break_even.median.standard_error),
        "intervals": intervals_report(pair.break_even.intervals),
        "interval_standard_errors": intervals_report(pair.break_even.interval_errors),
        "never": pair.never.value,
        "never_standard_error": pair.never.standard_error,
    }


def chances_report(curve: ChanceCurve, names: Sequence[str]) -> list[dict[str, Any]]:
    """The chance of being the cheapest at each of some mean hours a year."""
    return [
        {
            "hours_per_year": float(hours),
            "engines": [
                {"name": name, "chance_cheapest": float(chance), "standard_error": float(error)}
                for name, chance, error in zip(
                    names, curve.chances[:, place], curve.standard_errors[:, place], strict=True
                )
            ],
        }
        for place, hours in enumerate(curve.hours)
    ]


def trials_report(summary: Summary, curve: ChanceCurve | None) -> dict[str, Any]:
    """What the trials say; the chances over hours a year only where their curve was worked out."""
    run = summary.run
    engines = [engine_report(engine, by_year(run, place)) for place, engine in enumerate(summary.engines)]
    return {
        "scenario": run.scenario.title,
        "trials": run.trials,
        "seed": run.seed,
        "scenario_hash": scenario_hash(run.scenario),
        "engines": engines,
        "difference": difference_report(summary.pair),
        "break_even_years": break_even_report(summary.pair),
        "chance_over_hours": [] if curve is None else chances_report(curve, run.names),
    }


def trial_rows(summary: Summary, curve: ChanceCurve | None) -> list[dict[str, Any]]:
    """What the trials say as flat rows: engine, figure, value, standard error."""
    rows: list[dict[str, Any]] = []

    def add(name: str, figure: str, estimate: Estimate) -> None:
        value, error = finite(estimate.value), finite(estimate.standard_error)
        rows.append({"engine": name, "figure": figure, "value": value, "standard_error": error})

    for place, engine in enumerate(summary.engines):
        for figure, estimate in _figures(engine.cost):
            add(engine.name, figure, estimate)
        for figure in ("chance_cheapest", "expected_regret", "visits_per_year", "repairs", "owner_paid_repairs"):
            add(engine.name, figure, getattr(engine, figure))
        for year in by_year(summary.run, place):
            add(engine.name, f"year_{year.year + 1}_mean", year.cost.mean)
            for figure, estimate in _ends(year.cost):
                add(engine.name, f"year_{year.year + 1}_{figure}", estimate)
        if curve is not None:
            for hours, chance, error in zip(
                curve.hours, curve.chances[place], curve.standard_errors[place], strict=True
            ):
                add(engine.name, f"chance_cheapest_at_{hours:g}_h", Estimate(float(chance), float(error)))
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
    yield from _ends(cost)


def _ends(cost: Distribution) -> Iterable[tuple[str, Estimate]]:
    """The ends of a distribution's intervals."""
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
