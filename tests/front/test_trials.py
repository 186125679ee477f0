"""How sure the page says the answer is: the model's own trials, and nothing where nothing varies."""

import numpy as np
import pytest

from dashboard import text, trials
from dashboard.answers import comparison, names_of, since_delivery
from dashboard.figures import cost_since_delivery
from dashboard.scenarios import scenario_of, start
from dashboard.theme import looks
from dashboard.work import Work
from model import wording
from model.uncertainty.summary import summarise
from model.uncertainty.trials import run_trials
from tests.front.works import tiny_work
from tests.tolerances import IDENTITY


@pytest.fixture(scope="module")
def demo() -> Work:
    """The demo scenario."""
    return start()


def test_the_chances_are_the_trials_own(demo: Work) -> None:
    told = summarise(run_trials(scenario_of(demo), demo.trials, trials.SEED))

    found = trials.chances(demo)

    assert found == tuple((engine.name, engine.chance_cheapest.value) for engine in told.engines)
    assert sum(chance for _, chance in found) == pytest.approx(1.0, rel=IDENTITY)
    name, chance = found[0]
    assert f"{name} is the cheapest in {100.0 * chance:.0f} of 100 trials" in trials.how_sure(demo, name)


def test_nothing_is_said_where_nothing_varies() -> None:
    work = tiny_work()

    assert trials.how_sure(work, "Four-stroke") == ""
    assert trials.bands(work) == ()


def test_four_fifths_of_the_trials_lie_within_a_band_at_the_end_of_every_year(demo: Work) -> None:
    run = run_trials(scenario_of(demo), demo.trials, trials.SEED)

    for engine, around in enumerate(trials.bands(demo)):
        since = np.cumsum(run.by_year[engine], axis=0)
        within = (since >= around.low[1:, None]) & (since <= around.high[1:, None])
        assert within.mean(axis=-1) == pytest.approx([0.8] * len(within), abs=2.0 / demo.trials)


def test_a_band_is_drawn_behind_every_line(demo: Work) -> None:
    found, around = since_delivery(demo), trials.bands(demo)

    drawn = cost_since_delivery.picture(found, None, looks(scenario_of(demo).engines), around)["data"]

    names = [trace["name"] for trace in drawn]
    assert names[:3] == [text.BAND.format(engine=name) for name in names_of(scenario_of(demo))]
    assert max(drawn[0]["y"]) == pytest.approx(float(around[0].high.max()), rel=IDENTITY)
    assert min(drawn[0]["y"]) == pytest.approx(float(around[0].low.min()), rel=IDENTITY)


class TestTheAnswer:
    def test_says_about_the_same_within_the_spread(self, demo: Work) -> None:
        run = run_trials(scenario_of(demo), demo.trials, trials.SEED)
        one, other = (cost.name for cost in sorted(comparison(demo).engines, key=lambda c: c.total.present_value)[:2])
        costs = dict(zip(run.names, run.present, strict=True))
        less = float(np.mean(costs[one] < costs[other]))

        before, figure, after = trials.sentence(demo)

        assert 0.25 < less < 0.75
        assert figure == "about the same"
        assert f"{one} and {other} cost " in before
        assert "EUR less" in after

    @pytest.mark.parametrize(("hours", "cheapest"), [(2.0, "Two-stroke carburetted"), (480.0, "Four-stroke")])
    def test_names_the_cheapest_outside_of_it(self, demo: Work, hours: float, cheapest: str) -> None:
        before, figure, _ = trials.sentence(demo.changed({"use.hours_per_year": hours}))

        assert cheapest in before
        assert figure.endswith(" EUR less")

    def test_is_the_command_line_s_where_nothing_varies(self) -> None:
        found = comparison(tiny_work())
        costs = [(cost.name, cost.total.present_value) for cost in found.engines]
        scenario = found.scenario

        assert "".join(trials.sentence(tiny_work())) == wording.answer(
            scenario.ownership.years, scenario.hours(), costs, scenario.currency
        )
