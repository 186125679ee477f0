"""Questions about owning and selling, worked by hand on the tiny comparison: 100 h a year for four years, no growth.

Over four years the four-stroke costs 6,500 bought and fitted, 5,600 of fuel, 390 of service, 60 of repairs, less
2,457.60 at the sale: 10,092.40. The two-stroke costs 5,500, 8,000, 390 and 120, 800 of oil, less 2,048: 12,762.
"""

import pytest

from tests.by_hand.asking import ask, turns_at, value
from tests.tiny import FOUR_STROKE, one_engine, two_engines
from tests.tolerances import IDENTITY, REGRESSION

FOUR, TWO = 10092.4, 12762.0


class TestWhichIsCheaper:
    def test_the_difference_of_the_two(self) -> None:
        answer = ask(two_engines(), "which-is-cheaper")

        assert value(answer) == (pytest.approx(TWO - FOUR, rel=IDENTITY), "EUR")
        assert answer.sentence == "Over 4 years at 100 h a year Four-stroke costs 2,670 EUR less than Two-stroke."
        assert answer.plain == "Four-stroke is the cheaper one for you, by about 2,670 EUR."
        assert answer.chance is None  # nothing varies

    def test_hours_at_which_it_turns(self) -> None:
        # The four-stroke costs 590.40 more whatever is run (1,000 bought, 409.60 more sold), 0.15 of repairs and 8 of
        # fuel and oil less an hour over four years: 590.4 / (4 x 8.15) = 18.11 h a year.
        assert turns_at(ask(two_engines(), "which-is-cheaper")) == pytest.approx(590.4 / (4 * 8.15), rel=1e-6)

    def test_the_two_stroke_may_win(self) -> None:
        # At 10 h a year: 590.40 - 40 x 8.15 = 264.40.
        answer = ask(two_engines(use={"hours_per_year": 10.0}), "which-is-cheaper")

        assert value(answer) == (pytest.approx(264.4, rel=REGRESSION), "EUR")
        assert answer.sentence.endswith("Two-stroke costs 264 EUR less than Four-stroke.")

    def test_two_alike_cost_the_same(self) -> None:
        answer = ask(two_engines(two={**FOUR_STROKE, "name": "Twin"}), "which-is-cheaper")

        assert value(answer) == (0.0, "EUR")
        assert "cost the same: 0 EUR apart" in answer.sentence

    def test_a_hair_is_about_the_same(self) -> None:
        answer = ask(two_engines(two={**FOUR_STROKE, "name": "Twin", "fit_up": 510.0}), "which-is-cheaper")

        assert "cost about the same: 10 EUR less" in answer.sentence
        assert "not one part in a hundred" in answer.sentence


class TestWhenItPays:
    def test_years_until_the_higher_price_is_paid_back(self) -> None:
        # 1,000 more to buy, 800 a year less of fuel and oil; repairs, 60 a year each, are covered for two years and
        # three. 1,000 / 800 = 1.25 years.
        assert value(ask(two_engines(), "when-it-pays")) == (pytest.approx(1.25, rel=REGRESSION), "year")

    def test_months_where_it_is_soon(self) -> None:
        # 100 more to buy: an eighth of a year, one month and a half.
        answer = ask(two_engines(four={"price": 5100.0}), "when-it-pays")

        assert value(answer) == (pytest.approx(1.5, rel=REGRESSION), "month")
        assert "after 1.5 months" in answer.sentence

    def test_never(self) -> None:
        # At 10 h a year 80 a year are saved, and 6 in the third: 1,000 - 320 - 6 are still to come.
        answer = ask(two_engines(use={"hours_per_year": 10.0}), "when-it-pays")

        assert value(answer) == (pytest.approx(674.0, rel=REGRESSION), "EUR")
        assert "does not pay back" in answer.sentence

    def test_from_the_start(self) -> None:
        answer = ask(two_engines(four={"price": 5000.0}), "when-it-pays")

        assert value(answer) == (0.0, "year")


class TestSellAfter:
    def test_two_years(self) -> None:
        # Bought 1,000 dearer, sold at 0.64 of 6,000 and 5,000: 640 more; 1,600 less of fuel and oil, repairs covered.
        answer = ask(two_engines(), "sell-after", after=2.0)

        assert value(answer) == (pytest.approx(1600.0 + 640.0 - 1000.0, rel=REGRESSION), "EUR")

    def test_it_may_turn(self) -> None:
        # At 20 h a year: after one year 160 is saved of 200 (1,000 dearer, sold 800 dearer); after four 652 of 590.40.
        scenario = two_engines(use={"hours_per_year": 20.0}, range={"ownership_years": [1.0, 6.0]})

        early = ask(scenario, "sell-after", after=1.0)

        assert value(early) == (pytest.approx(40.0, rel=REGRESSION), "EUR")
        assert "Two-stroke costs 40 EUR less than Four-stroke" in early.sentence
        assert "Four-stroke costs 62 EUR less" in ask(scenario, "which-is-cheaper").sentence
        assert turns_at(early) is not None


class TestWorthAtTheSale:
    def test_the_value_by_its_table(self) -> None:
        # 6,000 x 0.8^4.
        answer = ask(two_engines(), "worth-at-the-sale")

        assert value(answer) == (pytest.approx(2457.6, rel=IDENTITY), "EUR")
        assert "41 % of today's price new" in answer.reasons[0]

    def test_what_it_would_have_to_fetch(self) -> None:
        # At 30 h a year: 590.40 - 120 x 8.15 = 387.60 less for the four-stroke; it turns at 2,457.60 - 387.60.
        answer = ask(two_engines(use={"hours_per_year": 30.0}), "worth-at-the-sale")

        assert turns_at(answer) == pytest.approx(2457.6 - 387.6, rel=1e-6)

    def test_without_a_table_it_says_so(self) -> None:
        answer = ask(one_engine(), "worth-at-the-sale")

        assert not answer.applies
        assert "[resale]" in answer.sentence


class TestUsedInstead:
    def test_at_what_the_rule_says_it_is_worth(self) -> None:
        # New: 10,000, worth 4,096 after four years of a fifth each. Used at five years: 3,276.80, worth 1,342.18.
        answer = ask(one_engine({"resale": {"yearly_decline": 0.2}}), "used-instead", meter=500.0, age=5.0)

        new, used = 10000.0 - 4096.0, 10000.0 * (0.8**5 - 0.8**9)
        assert value(answer) == (pytest.approx(new - used, rel=REGRESSION), "EUR")
        assert turns_at(answer) == pytest.approx(10000.0 * 0.8**5 + new - used, rel=1e-6)

    def test_too_dear_a_used_one(self) -> None:
        answer = ask(one_engine({"resale": {"yearly_decline": 0.2}}), "used-instead", price=9000.0)

        assert "the new one costs" in answer.sentence
        assert "less than the used one" in answer.sentence

    def test_all_used_already(self) -> None:
        used = {"start": {"meter_hours": 10.0, "age": 1.0}, "list_price": 10000.0}

        assert "used one" in ask(one_engine(used), "used-instead").sentence
        assert not ask(one_engine(used), "used-instead").applies


class TestTheYearsAhead:
    def test_a_budget(self) -> None:
        # Two years of the four-stroke: 1,400 of fuel each, and a visit of 130 at the end of the first: in the second.
        answer = ask(two_engines(), "next-years", ahead=2)

        assert value(answer) == (pytest.approx((2 * 1400.0 + 130.0) / 2, rel=IDENTITY), "EUR a year")
        assert "year 1 1,400; year 2 1,530" in answer.reasons[0]

    def test_which_engine_asks_for_less_may_turn_with_the_hours(self) -> None:
        # The two-stroke burns less here, 4 L/h and its oil at 8.80 an hour against 14, but its visits, three in four
        # years, cost 200 more each: 600 in all, made up for in 600 / (4 x 5.20) = 28.85 h a year.
        frugal = {"points": [[0.1, 0.4], [1.0, 7.6]]}
        plan = FOUR_STROKE["service"]
        thorough = {**plan, "task": [{**plan["task"][0], "labour": 3.0}]}
        changed = {"fuel": frugal, "service": thorough, "repair": [], "warranty": None}
        scenario = two_engines(two=changed, four={"repair": [], "warranty": None})

        assert turns_at(ask(scenario, "next-years")) == pytest.approx(600.0 / (4 * 5.2), rel=1e-6)

    def test_loan_payments_are_in_it(self) -> None:
        # 12,000 lent without interest over 24 months: 500 a month, 6,000 in each of the first two years.
        finance = {"deposit": 0.0, "rate": 0.0, "months": 24}
        scenario = one_engine({"price": 12000.0, "finance": finance}, prices={"fuel": 0.0})

        answer = ask(scenario, "next-years", ahead=4)

        assert "year 1 6,000; year 2 6,000; year 3 0; year 4 0" in answer.reasons[0]

    def test_hours_until_it_is_worn(self) -> None:
        # 2,500 h at 100 h a year.
        answer = ask(two_engines(), "worn-out")

        assert value(answer) == (pytest.approx(25.0, rel=IDENTITY), "year")
        assert turns_at(answer) == pytest.approx(625.0, rel=IDENTITY)

    def test_already_worn(self) -> None:
        used = {"start": {"meter_hours": 2600.0, "age": 20.0}, "list_price": 10000.0}

        assert "--life" in ask(one_engine(used), "worn-out").sentence
        assert value(ask(one_engine(used), "worn-out", life=3000.0)) == (pytest.approx(4.0, rel=IDENTITY), "year")

    def test_hours_against_what_leisure_boats_run(self) -> None:
        # 34.8 h a year: US EPA nonroad data, ACTIVITY.DAT.
        answer = ask(two_engines(use={"hours_per_year": 69.6}), "normal-hours")

        assert value(answer) == (pytest.approx(2.0, rel=IDENTITY), "times")
        assert "quite usual" in answer.plain
        assert "a lot" in ask(two_engines(), "normal-hours").plain
        assert "little" in ask(two_engines(use={"hours_per_year": 10.0}), "normal-hours").plain

    # 34.8 x 0.95 = 33.06 and 34.8 x 1.05 = 36.54.
    @pytest.mark.parametrize(
        ("hours", "told"),
        [
            (33.0, "are 0.9 times the 34.8 h"),
            (33.1, "are about the same as the 34.8 h"),
            (34.8, "are about the same as the 34.8 h"),
            (36.5, "are about the same as the 34.8 h"),
            (36.6, "are 1.1 times the 34.8 h"),
        ],
    )
    def test_hours_that_are_about_the_usual_ones_are_no_times_of_them(self, hours: float, told: str) -> None:
        answer = ask(two_engines(use={"hours_per_year": hours}), "normal-hours")

        assert f"{hours:g} h a year {told} that recreational outboards run" in answer.sentence
        assert answer.plain.startswith("That is quite usual: ")

    def test_the_best_age(self) -> None:
        # 10,000 bought, worth 1,000 from the first year on; repairs of years squared: one in the first, four by the
        # second, nine by the third, each 1,000. A year costs 10,000, 6,500, 6,000, 6,250.
        wears = {"name": "Wears", "clock": "years", "scale": 1.0, "shape": 2.0, "parts_price": 1000.0}
        resale = {"by_age": [[0.0, 0.1], [10.0, 0.1]]}
        scenario = one_engine({"repair": [wears], "resale": resale}, prices={"fuel": 0.0})

        answer = ask(scenario, "best-age")

        assert value(answer) == (3.0, "year")
        assert "changed after 3 years: 6,000 EUR a year" in answer.sentence

    def test_the_best_age_may_lie_beyond_the_range(self) -> None:
        answer = ask(one_engine(prices={"fuel": 0.0}), "best-age")

        assert value(answer) == (20.0, "year")
        assert "the longer it is kept" in answer.sentence
