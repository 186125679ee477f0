"""Trials are the ownership's own sums: one row equals the ledger's, and a run the same bits however it is shared."""

from pathlib import Path

import numpy as np
import pytest

from model.case import prepare
from model.inputs.reading import read_scenario
from model.inputs.scenario import Scenario
from model.inputs.terms import Element, Timing
from model.levels import AS_STATED
from model.measures import compare, total_by_year
from model.ownership import own
from model.uncertainty.chunks import cash_of, outcome_of, ready, together
from model.uncertainty.outcomes import FAILURES, OWNER_PAID, PLACES, VARYING, VISITS
from model.uncertainty.sampling import sample
from model.uncertainty.streams import CHUNK, Streams
from model.uncertainty.summary import break_even_times, summarise
from model.uncertainty.trials import Runner, StoppedError, run_trials, scenario_hash
from tests.rules.project import ROOT
from tests.tiny import two_engines
from tests.tolerances import IDENTITY, REGRESSION

SCENARIOS = [path for path in sorted((ROOT / "scenarios").glob("*.toml")) if path.name != "sources.toml"]
SPREAD = {"shape": "lognormal", "variation": 0.6, "owner_share": 0.7}
DRAWN = {"repairs": "drawn", "fuel_volatility": 0.2, "parts_variation": 0.1, "labour_variation": 0.1,
         "fuel_burn_variation": 0.05, "resale_variation": 0.15}  # fmt: skip


def read(path: Path) -> Scenario:
    """An example scenario."""
    return read_scenario(path).scenario


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.name)
def test_rows_of_trials_equal_the_ownership(path: Path) -> None:
    engines = ready(read(path))
    sampled = sample([engine.case for engine in engines], Streams(3), 0)

    for engine, levels in zip(engines, sampled.levels, strict=True):
        hours, levels = np.ascontiguousarray(sampled.hours[:40]), levels.first(40)
        outcome = outcome_of(engine, hours, levels, None)
        owned = own(engine.case, hours, levels)
        total = total_by_year(owned)
        running = total.nominal - owned.elements[Element.RESALE].nominal
        assert outcome.present == pytest.approx(total.present_value.sum(axis=-1), rel=REGRESSION)
        by_year = outcome.by_year
        assert by_year == pytest.approx(running, rel=REGRESSION, abs=REGRESSION)
        assert outcome.elements == pytest.approx(
            [booked.present_value.sum() for booked in owned.elements.values()], rel=REGRESSION
        )
        assert outcome.counts[VISITS] == pytest.approx(owned.visits.sum(axis=-1), rel=IDENTITY)
        assert outcome.counts[FAILURES] == pytest.approx(owned.repairs.failures.sum(axis=(-2, -1)), rel=IDENTITY)


@pytest.mark.parametrize("tasks", [0, 1, 8, 19])
def test_rows_of_trials_equal_the_ownership_however_many_tasks_differ(tasks: int) -> None:
    every = [{"hours": 100.0 + 10.0 * task, "months": 12.0 + task} for task in range(tasks)]
    plan = {
        "every": {"hours": 100.0, "months": 12.0},
        "first": {"hours": 20.0},
        "visit_price": 10.0,
        "task": [
            {"name": str(task), "every": every[task], "first": task % 3 == 0, "menu_price": 1.0 + task}
            for task in range(tasks)
        ],
    }
    engine = ready(two_engines(two={"service": plan}))[0]
    hours = np.random.default_rng(2).gamma(2.0, 60.0, size=(300, len(engine.case.scenario.hours())))

    assert outcome_of(engine, hours, AS_STATED, None).present == pytest.approx(
        total_by_year(own(engine.case, hours)).present_value.sum(axis=-1), rel=REGRESSION
    )


def without_spread(scenario: Scenario) -> Scenario:
    """The scenario with nothing that differs between trials."""
    still = {key: 0.0 for key in type(scenario.trials).model_fields if key != "repairs"} | {"repairs": "expected"}
    changes = {("trials", key): value for key, value in still.items()}
    return scenario.changed({("use", "spread"): None, **changes})


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.name)
def test_without_spread_every_trial_is_the_comparison(path: Path) -> None:
    scenario = without_spread(read(path))
    run = run_trials(scenario, trials=3)

    expected = [cost.total.present_value for cost in compare(scenario).engines]

    assert run.present == pytest.approx(np.repeat(np.array(expected)[:, None], 3, axis=1), rel=REGRESSION)


def test_a_spread_of_nothing_is_no_spread() -> None:
    flat = two_engines(use={"spread": {"shape": "gamma", "variation": 0.0}})

    assert run_trials(flat, 2).present == pytest.approx(run_trials(two_engines(), 2).present, rel=IDENTITY)


@pytest.mark.parametrize("workers", [2, 3])
def test_workers_change_no_bit(workers: int) -> None:
    scenario = two_engines(use={"spread": SPREAD}, trials=DRAWN)
    alone, shared = run_trials(scenario, 9_000, seed=5), run_trials(scenario, 9_000, seed=5, workers=workers)

    assert alone.present.tobytes() == shared.present.tobytes()
    assert alone.by_year.tobytes() == shared.by_year.tobytes()
    assert alone.elements.tobytes() == shared.elements.tobytes()
    assert alone.counts.total.tobytes() == shared.counts.total.tobytes()
    assert repr(summarise(alone).engines) == repr(summarise(shared).engines)


def test_more_trials_leave_the_first_as_they_were() -> None:
    scenario = two_engines(use={"spread": SPREAD}, trials=DRAWN)

    few, many = run_trials(scenario, 100), run_trials(scenario, 5_000)

    assert few.present.tobytes() == many.present[:, :100].tobytes()


def test_blocks_are_one_run() -> None:
    scenario = two_engines(use={"spread": SPREAD}, trials=DRAWN)
    runner = Runner(scenario, seed=2)
    runner.extend(CHUNK)
    runner.extend(500)

    assert runner.result().present.tobytes() == run_trials(scenario, CHUNK + 500, seed=2).present.tobytes()


def test_another_engine_changes_no_other_draw() -> None:
    scenario = two_engines(use={"spread": SPREAD}, trials=DRAWN)
    only = scenario.changed({("engines",): scenario.engines[1:]})

    assert run_trials(only, 500).present[0].tobytes() == run_trials(scenario, 500).present[1].tobytes()


def test_another_failure_mode_changes_no_other_draw() -> None:
    free = {"name": "Free", "clock": "hours", "scale": 100.0, "shape": 2.0}
    modes = [*two_engines().engines[0].model_dump()["repair"]]
    scenario, with_more = (
        two_engines(two={"repair": repair}, use={"spread": SPREAD}, trials=DRAWN) for repair in (modes, [free, *modes])
    )

    less, more = run_trials(scenario, 500), run_trials(with_more, 500)

    assert more.present == pytest.approx(less.present, rel=IDENTITY)
    assert more.counts.total[0, FAILURES] > less.counts.total[0, FAILURES]


def test_two_engines_on_the_boat_draw_their_own_failures() -> None:
    scenario = two_engines(use={"per_boat": 2, "hours_per_year": 500.0}, trials={"repairs": "drawn"})
    counts = outcome_of(*_drawn(scenario)).counts[FAILURES]

    assert len({int(count) % 2 for count in counts}) == 2


@pytest.mark.parametrize("repairs", ["drawn", "expected"])
@pytest.mark.parametrize("timing", list(Timing))
@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.name)
def test_cash_by_element_is_the_same_money_of_the_day(path: Path, timing: Timing, repairs: str) -> None:
    engine, hours, levels, arrivals = _drawn(read(path).changed({("money", "timing"): timing}))
    drawn = arrivals if repairs == "drawn" else None
    hours = np.ascontiguousarray(hours)

    cash = cash_of(together([engine], None), hours, levels, drawn)

    by_year = outcome_of(engine, hours, levels, drawn).by_year
    assert cash.sum(axis=-1) + engine.fixed[0].sum(axis=0) == pytest.approx(by_year, rel=REGRESSION, abs=REGRESSION)
    if drawn is None:
        elements = own(engine.case, hours, levels).elements
        for place, element in enumerate(VARYING[:-1]):  # the value at sale is apart
            fixed = engine.fixed[0, PLACES[element]]
            assert cash[..., place] + fixed == pytest.approx(elements[element].nominal, rel=REGRESSION, abs=REGRESSION)


def _drawn(scenario: Scenario) -> tuple:
    """An engine with what 500 trials of it are worked out from."""
    from model.uncertainty.drawing import arrivals

    engine = ready(scenario)[0]
    sampled = sample([engine.case], Streams(1), 0)
    return engine, sampled.hours[:500], sampled.levels[0].first(500), arrivals(engine.case, Streams(1))


def test_two_engines_that_are_the_same_share_the_chance() -> None:
    scenario = two_engines()
    twins = scenario.changed({("engines", 1): scenario.engines[0].model_copy(update={"name": "Twin"})})
    summary = summarise(run_trials(twins.changed({("use", "spread"): None}), 100))

    assert [engine.chance_cheapest.value for engine in summary.engines] == [0.5, 0.5]
    assert summary.pairs[0].difference.mean.value == 0.0
    assert [engine.expected_regret.value for engine in summary.engines] == [0.0, 0.0]


def test_the_hash_is_that_of_the_figures() -> None:
    scenario = two_engines()

    assert scenario_hash(scenario.changed({("title",): "Other", ("note",): "Other"})) == scenario_hash(scenario)
    assert scenario_hash(scenario.changed({("prices", "fuel"): 2.01})) != scenario_hash(scenario)


def test_an_interrupted_run_says_how_far_it_came() -> None:
    def interrupt(done: int) -> None:
        if done >= 2 * CHUNK:
            raise KeyboardInterrupt

    for workers in (1, 2):
        with pytest.raises(StoppedError, match="of 40960 trials") as stop:
            run_trials(two_engines(), 10 * CHUNK, workers=workers, progress=interrupt)
        assert stop.value.done >= 2 * CHUNK


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.name)
def test_break_even_without_spread_is_right_to_the_year(path: Path) -> None:
    from model.break_even import break_even_years, mid_year_cost

    scenario = without_spread(read(path))
    run = run_trials(scenario, 2)
    costs = [mid_year_cost(scenario, name) for name in run.names]
    for pair in summarise(run).pairs:
        base, place = run.names.index(pair.baseline), run.names.index(pair.challenger)
        exact = break_even_years(costs[place], costs[base]).nominal
        found = float(break_even_times(run, base, place)[0])
        assert (exact is None) == np.isinf(found)
        if exact is not None:
            assert abs(found - exact) <= 1.0


def test_prepared_engines_are_the_comparison_s_cases() -> None:
    scenario = two_engines()

    assert [engine.case.engine.name for engine in ready(scenario)] == [
        prepare(scenario, engine).engine.name for engine in scenario.engines
    ]


def test_owner_paid_repairs_are_those_outside_the_cover() -> None:
    # Cover of two and three years of four at constant intensity: half and a quarter of the failures are the owner's.
    run = run_trials(two_engines(trials={"repairs": "expected"}), 2)

    assert run.counts.total[:, OWNER_PAID] / run.counts.total[:, FAILURES] == pytest.approx([0.5, 0.25], rel=IDENTITY)
