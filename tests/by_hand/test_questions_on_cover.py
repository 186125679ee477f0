"""Questions about cover and breaking down, worked by hand: half a failure a year for four years, each 600."""

from typing import Any

import pytest

from model.inputs.scenario import Scenario
from tests.by_hand.asking import ask, turns_at, value
from tests.tiny import one_engine, two_engines
from tests.tolerances import IDENTITY, REGRESSION

MODE = {"name": "Failure", "clock": "years", "scale": 2.0, "shape": 1.0, "parts_price": 400.0, "labour": 2.0}
RARE = {"name": "Rare", "clock": "years", "scale": 1000.0, "shape": 1.0, "parts_price": 5000.0}
YEARLY = 300.0
"""Repairs expected in a year. [money]"""


def covered(warranty: dict[str, Any] | None, *modes: dict[str, Any], **tables: Any) -> Scenario:
    """One engine under that warranty."""
    return one_engine({"repair": list(modes) or [MODE], "warranty": warranty}, **tables)


class TestCoverWorth:
    def test_what_it_pays(self) -> None:
        answer = ask(covered({"months": 24.0}), "cover-worth")

        assert value(answer) == (pytest.approx(2 * YEARLY, rel=IDENTITY), "EUR")
        assert answer.reasons == (
            "Of 1,200 EUR of repairs expected over the period it pays 50 %; 600 EUR stay with you.",
            "It ends on Jan 1, 2029, after 2 years, by the first of its limits: 24 months.",
        )

    def test_hours_may_end_it(self) -> None:
        answer = ask(covered({"months": 24.0, "hours": 50.0}), "cover-worth")

        assert value(answer)[0] == pytest.approx(0.5 * YEARLY, rel=IDENTITY)
        assert "after 6 months" in answer.reasons[1]

    def test_which_warranty_pays_more_may_turn_with_the_hours(self) -> None:
        # By hours, 1 in 200: 24 months at h a year pay 2 h / 200 failures; 150 h pay 0.75 failures up to four years.
        wears = {"name": "Wears", "clock": "hours", "scale": 200.0, "shape": 1.0, "parts_price": 600.0}
        scenario = two_engines(
            two={"repair": [wears], "warranty": {"hours": 150.0}},
            four={"repair": [wears], "warranty": {"months": 24.0}},
        )

        assert turns_at(ask(scenario, "cover-worth")) == pytest.approx(75.0, rel=1e-6)

    def test_none(self) -> None:
        assert "add [warranty]" in ask(covered(None), "cover-worth").sentence

    def test_none_that_stands(self) -> None:
        scenario = covered({"months": 24.0}, servicing="own", own_service_keeps_cover=False)

        assert "does not stand with the servicing" in ask(scenario, "cover-worth").sentence


class TestFlatOrDeclining:
    def test_the_triangle_that_a_linear_decline_leaves(self) -> None:
        # 48 months: 1,200 flat, half of it declining.
        answer = ask(covered({"months": 48.0}), "flat-or-declining")

        assert value(answer) == (pytest.approx(600.0, rel=REGRESSION), "EUR")
        assert turns_at(answer) == pytest.approx(600.0, rel=1e-6)  # so much more may flat cover cost
        assert answer.reasons[2].startswith("The file's own is flat")

    def test_the_files_own_steps(self) -> None:
        # Half of the parts and none of the labour after a year: 300 + 3 x 0.5 x 200 of 1,200.
        steps = [{"from": 12.0, "parts": 0.5, "labour": 0.0}]

        answer = ask(covered({"months": 48.0, "steps": steps}), "flat-or-declining")

        assert value(answer)[0] == pytest.approx(1200.0 - 600.0, rel=REGRESSION)
        assert answer.reasons[2].startswith("The file's own declines")

    def test_without_months_nothing_declines(self) -> None:
        assert not ask(covered({"hours": 100.0}), "flat-or-declining").applies


class TestAfterCover:
    def test_what_stands_open(self) -> None:
        # Two years uncovered; the dearest failure is the rare one.
        answer = ask(covered({"months": 24.0}, MODE, RARE), "after-cover")

        assert value(answer) == (pytest.approx(2 * YEARLY + 2 * 5.0, rel=REGRESSION), "EUR")
        assert "Rare, costs 5,000 EUR" in answer.sentence
        assert turns_at(answer) == pytest.approx(2.0, rel=IDENTITY)

    def test_what_a_warranty_never_pays_is_not_its_end(self) -> None:
        crane = {**MODE, "not_covered": 90.0}

        answer = ask(covered({"months": 24.0}, crane), "after-cover")

        assert value(answer)[0] == pytest.approx(2 * YEARLY, rel=REGRESSION)
        assert "costs 690 EUR" in answer.sentence

    def test_prices_grow_until_then(self) -> None:
        answer = ask(covered({"months": 24.0}, money={"inflation": 0.1}), "after-cover")

        assert "costs 726 EUR" in answer.sentence  # 600 x 1.1^2

    def test_hours_that_end_it(self) -> None:
        assert value(ask(covered({"hours": 100.0}), "after-cover"))[0] == pytest.approx(3 * YEARLY, rel=REGRESSION)

    def test_a_cover_that_outlasts_the_period(self) -> None:
        assert "nothing stands open" in ask(covered({"months": 48.0}), "after-cover").sentence


OFFER = {"months": 24.0, "extension": {"bought": False, "price": 200.0, "months": 12.0}}


class TestExtraCover:
    def test_dearer_than_what_it_pays(self) -> None:
        dear = {**OFFER, "extension": {"bought": False, "price": 350.0, "months": 12.0}}
        answer = ask(covered(dear), "extra-cover")

        assert value(answer) == (pytest.approx(50.0, rel=REGRESSION), "EUR")
        assert answer.sentence == "On average no: the extra cover costs 350 EUR and pays 300 EUR, 50 EUR less."

    def test_cheaper_than_what_it_pays(self) -> None:
        answer = ask(covered(OFFER), "extra-cover")

        assert value(answer) == (pytest.approx(100.0, rel=REGRESSION), "EUR")
        assert answer.sentence.startswith("On average yes")
        assert turns_at(answer) == pytest.approx(300.0, rel=1e-6)

    def test_whether_it_is_bought_already_makes_no_difference(self) -> None:
        bought = {**OFFER, "extension": {"bought": True, "price": 200.0, "months": 12.0}}

        assert value(ask(covered(bought), "extra-cover")) == value(ask(covered(OFFER), "extra-cover"))

    def test_another_offer(self) -> None:
        # Two years more at 500: 600 paid.
        answer = ask(covered({"months": 24.0}), "extra-cover", price=500.0, months=24.0)

        assert value(answer)[0] == pytest.approx(100.0, rel=REGRESSION)

    def test_no_offer(self) -> None:
        assert "--price and --months" in ask(covered({"months": 24.0}), "extra-cover").sentence


class TestPrivateOrCommercial:
    def test_the_shorter_cover(self) -> None:
        answer = ask(covered({"months": 36.0, "commercial": {"months": 12.0}}), "private-or-commercial")

        assert value(answer) == (pytest.approx(2 * YEARLY, rel=REGRESSION), "EUR")
        assert "private use costs 600 EUR less than commercial use" in answer.sentence

    def test_commercial_cover_may_be_the_longer_one(self) -> None:
        answer = ask(covered({"months": 12.0, "commercial": {"months": 36.0}}), "private-or-commercial")

        assert "commercial use costs 600 EUR less than private use" in answer.sentence

    def test_hours_at_which_it_turns(self) -> None:
        # Failures by years: 12 months pay 300; 50 h pay 300 as long as they last a year.
        answer = ask(covered({"months": 12.0, "commercial": {"hours": 40.0}}), "private-or-commercial")

        assert turns_at(answer) == pytest.approx(40.0, rel=1e-6)

    def test_it_must_be_stated(self) -> None:
        assert "[warranty.commercial]" in ask(covered({"months": 12.0}), "private-or-commercial").sentence


class TestBreakdowns:
    def test_how_often_and_what_time_costs(self) -> None:
        # Half a failure a year of three days at 100.
        scenario = covered(None, {**MODE, "days_lost": 3.0}, downtime={"day_cost": 100.0})

        answer = ask(scenario, "breakdowns")

        assert value(answer) == (pytest.approx(2.0, rel=IDENTITY), "repairs")
        assert "expect 2 repairs of Engine and 6 days lost to them; lost days cost 600 EUR." in answer.sentence

    def test_which_one_costs_less_may_turn_with_the_hours(self) -> None:
        # One in 200 h at 600 against half a failure a year at 600: alike at 100 h.
        by_hours = {**MODE, "clock": "hours", "scale": 200.0}
        scenario = two_engines(
            two={"repair": [by_hours], "warranty": None},
            four={"repair": [MODE], "warranty": None},
            use={"hours_per_year": 150.0},
        )

        assert turns_at(ask(scenario, "breakdowns")) == pytest.approx(100.0, rel=1e-6)

    def test_without_failure_modes(self) -> None:
        assert not ask(one_engine(), "breakdowns").applies


class TestOneOrTwo:
    def test_a_second_engine_of_the_kind(self) -> None:
        # Another 10,000 and another 7 L at 2.00 for 400 h.
        answer = ask(one_engine(), "one-or-two")

        assert value(answer) == (pytest.approx(10000.0 + 5600.0, rel=IDENTITY), "EUR")
        assert "one engine costs 15,600 EUR less than two engines of the kind" in answer.sentence

    def test_a_lost_day_may_be_worth_it(self) -> None:
        # Half a failure a year of three days; with two engines as many again, but only a tenth of each day is lost:
        # 6 days against 1.2. 15,600 and 1,200 of repairs more: 16,800 / 4.8 = 3,500 a day.
        scenario = covered(None, {**MODE, "days_lost": 3.0}, use={"share_with_one_left": 0.1})

        answer = ask(scenario, "one-or-two")

        assert turns_at(answer) == pytest.approx(3500.0, rel=1e-6)
        assert (
            "two engines of the kind costs"
            in ask(
                covered(
                    None, {**MODE, "days_lost": 3.0}, use={"share_with_one_left": 0.1}, downtime={"day_cost": 4000.0}
                ),
                "one-or-two",
            ).sentence
        )

    def test_the_files_own_one_and_two(self) -> None:
        answer = ask(two_engines(two={"per_boat": 2}), "one-or-two")

        assert "Four-stroke costs" in answer.sentence
        assert "less than Two-stroke" in answer.sentence
