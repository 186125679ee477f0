"""Pictures of a fleet, called directly: their amounts are the model's, their findings say what they show."""

import math
from dataclasses import replace

import numpy as np
import pytest

from dashboard import fleet_parts
from dashboard.figures import cost_by_age, fleet_budget, policies_saved, replacement_calendar
from dashboard.fleet_answers import FleetAnswer, ready, work_out
from dashboard.fleet_work import FleetWork
from dashboard.jobs import Job
from dashboard.theme import looks
from model.fleet.budget import SHARES
from model.fleet.cash import ELEMENTS
from model.fleet.fleet_file import PolicyTerms
from model.fleet.group_costs import GroupCosts
from model.fleet.reading import with_terms
from model.fleet.replacement import plan_fleet
from model.fleet.when_due import Why, kinds
from model.inputs.terms import Element
from model.wording import about
from tests.tolerances import IDENTITY


@pytest.fixture(scope="module")
def answer() -> FleetAnswer:
    """The hire boats, worked out whole."""
    work = FleetWork("hire-boats")
    job = Job(work, asked=math.inf)  # nobody asks for it here, however long it takes
    work_out(work, job)
    found = ready(work)
    assert found is not None
    assert job.version == 3
    return found


class TestBudget:
    def test_bars_are_the_elements_and_add_to_the_expected_budget(self, answer: FleetAnswer) -> None:
        bars = [trace for trace in fleet_budget.picture(answer.fleet, answer.budget)["data"] if trace["type"] == "bar"]

        assert len(bars) == len(fleet_budget.shown(answer.budget))
        assert np.sum([bar["y"] for bar in bars], axis=0) == pytest.approx(answer.budget.expected, rel=IDENTITY)

    def test_beside_each_bar_stands_its_spread(self, answer: FleetAnswer) -> None:
        traces = fleet_budget.picture(answer.fleet, answer.budget)["data"]
        named = {trace.get("name"): trace for trace in traces}

        for share in SHARES:
            assert named[fleet_budget.held_in(share)]["y"] == answer.budget.quantile(share).tolist()
        assert named["Expected, what is got taken off"]["y"] == answer.budget.expected.tolist()
        assert "Contingency: " in named[fleet_budget.held_in(0.8)]["customdata"][0][0]

    def test_the_answer_is_rounded_by_its_contingency(self, answer: FleetAnswer) -> None:
        before, figure, after = fleet_budget.answer(answer.fleet, answer.budget)

        assert before == "The 24 units are expected to cost "
        assert figure == "92,500 EUR"
        assert after == " in 2027; with 7,500 EUR more that holds in 80 of 100 trials."

    def test_the_finding_names_the_largest_element_and_the_dearest_year(self, answer: FleetAnswer) -> None:
        found = fleet_budget.finding(answer.fleet, answer.budget)

        assert found.startswith("Fuel is ")
        assert "of what 2027\u20132034 cost before old engines are sold; the dearest year is 2027" in found

    def test_the_largest_element_is_a_share_of_what_is_paid(self, answer: FleetAnswer) -> None:
        cash = np.zeros((len(ELEMENTS), 8))
        cash[ELEMENTS.index(Element.PURCHASE), :2] = [600.0, 300.0]
        cash[ELEMENTS.index(Element.FUEL), :2] = 50.0
        bought = replace(answer.budget, by_part={("North", "four-stroke injected"): cash})
        cash = cash.copy()
        cash[ELEMENTS.index(Element.RESALE), :2] = [-700.0, -250.0]
        sold = replace(answer.budget, by_part={("North", "four-stroke injected"): cash})

        assert fleet_budget.finding(answer.fleet, bought).startswith("Purchase is 90 % of the budget of ")
        assert fleet_budget.finding(answer.fleet, sold).startswith("Purchase is 90 % of what ")

    def test_a_mean_above_what_most_trials_cost_is_told_as_that(self, answer: FleetAnswer) -> None:
        # Nine trials a tenth below the mean, one nine tenths above it: the 80 % budget is the lower.
        factors = np.array([0.9] * 9 + [1.9])[:, None]
        few_dear = replace(answer.budget, totals_by_site={"North": factors * answer.budget.expected})

        before, figure, after = fleet_budget.answer(answer.fleet, few_dear)
        all_years = fleet_parts.contingency_told(replace(answer, budget=few_dear))

        assert after == " in 2027; that holds in more than 80 of 100 trials, as a few dear ones raise the mean."
        assert before + figure == "The 24 units are expected to cost 92,500 EUR"
        less = about(0.1 * float(few_dear.expected.sum()), 0.1 * float(few_dear.expected.sum()))
        assert f"; with {less} EUR less in all each year still holds in 80 of 100 trials" in all_years

    def test_without_spread_nothing_is_said_of_one(self, answer: FleetAnswer) -> None:
        still = replace(answer.budget, totals_by_site={"North": answer.budget.expected[None]})

        assert fleet_budget.answer(answer.fleet, still)[2] == " in 2027."

    def test_a_fiscal_year_has_both_its_years(self, answer: FleetAnswer) -> None:
        fleet = with_terms(answer.fleet, budget_start=answer.fleet.terms.budget_start.replace(month=7))

        assert fleet_budget.picture(fleet, answer.budget)["layout"]["xaxis"]["ticktext"][0] == "2027/28"


class TestCalendar:
    def test_every_replacement_has_a_mark_in_its_year_and_row(self, answer: FleetAnswer) -> None:
        drawn = replacement_calendar.picture(answer.fleet, answer.plan, looks(answer.fleet.file.engines))
        rows = drawn["layout"]["yaxis"]["ticktext"]
        marks = {(rows[y], x) for trace in drawn["data"] for x, y in zip(trace["x"], trace["y"], strict=True)}

        assert marks == {(answer.fleet.units[due.place].name, due.year) for due in answer.plan.bought}

    def test_units_stand_by_site(self, answer: FleetAnswer) -> None:
        drawn = replacement_calendar.picture(answer.fleet, answer.plan, looks(answer.fleet.file.engines))

        assert [note["text"] for note in drawn["layout"]["annotations"]] == ["North pier", "South pier"]

    def test_marks_tell_why(self, answer: FleetAnswer) -> None:
        found = {(answer.fleet.units[due.place].name, why) for due, why in kinds(answer.plan)}

        assert ("Boat 04", Why.OVERDUE) in found
        assert ("Boat 03", Why.IN_TIME) in found

    def test_what_the_limit_puts_off_has_marks_of_its_own_and_a_line(self, answer: FleetAnswer) -> None:
        costs = GroupCosts(answer.fleet.file, answer.fleet.units)
        plan = plan_fleet(PolicyTerms(at_age=8.0), costs, 15_000.0)
        drawn = replacement_calendar.picture(answer.fleet, plan, looks(answer.fleet.file.engines))

        assert Why.PUT_OFF in {why for _, why in kinds(plan)}
        assert drawn["data"][0]["mode"] == "lines"
        assert "; the yearly limit puts off " in replacement_calendar.finding(answer.fleet, plan)

    def test_many_units_are_counted_by_site(self, answer: FleetAnswer, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(replacement_calendar, "MOST_UNITS", 5)
        drawn = replacement_calendar.picture(answer.fleet, answer.plan, looks(answer.fleet.file.engines))

        assert drawn["layout"]["yaxis"]["ticktext"] == ["North pier", "South pier"]
        numbers = [int(text) for trace in drawn["data"] for text in trace["text"]]
        assert sum(numbers) == len(answer.plan.bought)

    def test_the_finding_counts(self, answer: FleetAnswer) -> None:
        assert replacement_calendar.finding(answer.fleet, answer.plan) == (
            "7 of 24 units get a new engine in 2027; 22 replacements in 8 years"
        )
        none = replace(answer.plan, bought=())
        assert replacement_calendar.finding(answer.fleet, none) == "No engine is replaced within 8 years"


class TestAges:
    def test_engines_alike_in_power_share_a_picture(self, answer: FleetAnswer) -> None:
        families = cost_by_age.families(answer.fleet)

        assert [cost_by_age.named(answer.fleet, family) for family in families] == ["15 kW", "45 kW"]
        assert len(families[0]) == 3

    def test_a_line_for_each_candidate_and_a_stroke_for_each_unit(self, answer: FleetAnswer) -> None:
        family = cost_by_age.families(answer.fleet)[0]
        lives = [one for one in answer.lives if one.name in family]
        drawn = cost_by_age.picture(answer.fleet, lives, family, looks(answer.fleet.file.engines))["data"]
        lines = [trace for trace in drawn if trace.get("name") in family]
        strokes = [trace for trace in drawn if trace.get("yaxis") == "y2"]

        assert [(line["x"], line["y"]) for line in lines] == [
            (list(one.life.ages), list(one.life.costs)) for one in lives
        ]
        assert sum(len(trace["x"]) for trace in strokes) == sum(unit.engine in family for unit in answer.fleet.units)

    def test_what_is_shaded_is_within_two_per_cent(self, answer: FleetAnswer) -> None:
        family = cost_by_age.families(answer.fleet)[0]
        one = next(one for one in answer.lives if one.name == "Four-stroke 15 kW")
        drawn = cost_by_age.picture(answer.fleet, [one], family, looks(answer.fleet.file.engines))["data"]

        assert (drawn[0]["x"][0], drawn[0]["x"][-1]) == one.life.about_as_good
        assert max(drawn[0]["y"]) <= 1.02 * min(one.life.costs)

    def test_ages_that_end_within_the_range_say_or_later(self, answer: FleetAnswer) -> None:
        large = next(one for one in answer.lives if one.name == "Four-stroke 45 kW")

        assert cost_by_age.finding([large]).endswith("from 10 to 15 years or later it costs at most 2 % more")
        assert cost_by_age.finding([]) == "No engine of this power may be bought"


class TestPolicies:
    def test_bars_are_what_each_saves_against_todays(self, answer: FleetAnswer) -> None:
        (bars,) = policies_saved.picture(answer.fleet, answer.policies)["data"]

        assert bars["x"] == [answer.policies[0].cost - one.cost for one in answer.policies]
        assert policies_saved.in_words(answer.policies, 0) == "at 8 years (today)"

    def test_the_finding_names_the_best(self, answer: FleetAnswer) -> None:
        assert policies_saved.finding(answer.fleet, answer.policies) == (
            "By the best plan: 21,016 EUR less over 8 years than today's policy, at 8 years"
        )
        assert policies_saved.finding(answer.fleet, answer.policies[:2]) == (
            "No other policy costs less than today's: at 8 years"
        )


def test_a_changed_policy_is_compared_with_the_files(answer: FleetAnswer) -> None:
    work = FleetWork("hire-boats").changed("fleet.policy", {"keep": True})
    work_out(work, Job(work, asked=math.inf))
    changed = ready(work)

    assert changed is not None
    assert changed.before is not None
    assert changed.before.expected == pytest.approx(answer.budget.expected, rel=IDENTITY)
    assert [one.plan.policy for one in changed.policies][:2] == [PolicyTerms(at_age=8.0), PolicyTerms(keep=True)]
    assert changed.budget.by_element[ELEMENTS.index(ELEMENTS[0])].sum() == 0.0
