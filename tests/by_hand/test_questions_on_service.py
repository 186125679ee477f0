"""Questions about servicing and the workshop's bill, worked by hand, and a scenario in which each answer turns."""

from typing import Any

import pytest

from tests.by_hand.asking import ask, turns_at, value
from tests.tiny import one_engine
from tests.tolerances import IDENTITY, REGRESSION

IMPELLER = {
    "name": "Water pump impeller",
    "every": {"hours": 100.0, "months": 12.0},
    "labour": 0.5,
    "parts": [{"name": "Impeller kit", "quantity": 1.0, "price": 50.0}],
}
PLUGS = {
    "name": "Spark plugs",
    "every": {"hours": 100.0},
    "labour": 0.4,
    "parts": [{"name": "Plug", "quantity": 4.0, "price": 10.0}],
}
PUMP = {
    "name": "Water pump failed",
    "clock": "years",
    "scale": 10.0,
    "shape": 1.0,
    "parts_price": 300.0,
    "labour": 2.0,
    "prevented_by": "Water pump impeller",
    "neglect_factor": 5.0,
}
NEGLECT = {"resale_factor": 0.8, "repair_factor": 1.0}


def plan(*tasks: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A plan of these tasks, a visit each 100 h or year."""
    return {"service": {"every": {"hours": 100.0, "months": 12.0}, "task": list(tasks), **more}}


class TestSkipServicing:
    def test_what_it_saves_and_costs(self) -> None:
        # Saved: three visits of 50 + 50, 300. Failures: 0.1 a year, 5 times as many: 0.4 a year more of 500: 800 in
        # four years; cover lost: 50 in each of the first two. Sold for a fifth less of 4,096: 819.20.
        engine = plan(IMPELLER) | {"repair": [PUMP], "warranty": {"months": 24.0}, "resale": {"yearly_decline": 0.2}}

        answer = ask(one_engine(engine, neglect=NEGLECT), "skip-servicing")

        assert value(answer) == (pytest.approx(800.0 + 100.0 + 819.2 - 300.0, rel=REGRESSION), "EUR")
        assert "costs 1,419 EUR more than keeping to the plan" in answer.sentence
        assert "A skipped service is not a saving." in (answer.caution or "")

    def test_where_it_turns(self) -> None:
        # Without cover or sale: 300 saved against 4 x (5 f - 1) x 0.1 x 500 more: f = 0.5.
        scenario = one_engine(plan(IMPELLER) | {"repair": [PUMP]}, neglect=NEGLECT)

        assert turns_at(ask(scenario, "skip-servicing")) == pytest.approx(0.5, rel=1e-6)

    def test_on_paper_it_may_save(self) -> None:
        mild = {**PUMP, "neglect_factor": 1.0}
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [mild]}, neglect=NEGLECT), "skip-servicing")

        assert value(answer) == (pytest.approx(300.0, rel=REGRESSION), "EUR")
        assert "only if the file's guesses" in answer.sentence
        assert "Do not count on it" in answer.plain

    def test_what_neglect_does_must_be_stated(self) -> None:
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [PUMP]}), "skip-servicing")

        assert not answer.applies
        assert "add [neglect] with resale_factor and repair_factor" in answer.sentence

    def test_and_for_every_way_to_fail(self) -> None:
        silent = {key: part for key, part in PUMP.items() if key != "neglect_factor"}
        scenario = one_engine(plan(IMPELLER) | {"repair": [silent]}, neglect={"resale_factor": 1.0})

        assert "Water pump failed" in ask(scenario, "skip-servicing").sentence


class TestNeverRenew:
    def test_one_task_left_out(self) -> None:
        # 300 saved; 800 more of failures. No cover to lose.
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [PUMP]}), "never-renew")

        assert value(answer) == (pytest.approx(500.0, rel=REGRESSION), "EUR")
        assert turns_at(answer) == pytest.approx(2.5, rel=1e-6)  # 4 x (f - 1) x 50 = 300
        assert "if the tell-tale stops, stop the engine" in (answer.caution or "")

    def test_cover_goes_with_it(self) -> None:
        # A flat cover of two years would have paid 50 in each.
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [PUMP], "warranty": {"months": 24.0}}), "never-renew")

        assert value(answer) == (pytest.approx(600.0, rel=REGRESSION), "EUR")

    def test_it_may_pay_on_paper(self) -> None:
        mild = {**PUMP, "neglect_factor": 2.0}
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [mild]}), "never-renew")

        assert value(answer) == (pytest.approx(100.0, rel=REGRESSION), "EUR")
        assert "only if the file's guesses" in answer.sentence

    def test_a_hair_is_no_saving(self) -> None:
        # 300 saved against 4 x 1.5 x 50 of failures more.
        even = {**PUMP, "neglect_factor": 2.5}
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [even]}), "never-renew")

        assert value(answer) == (pytest.approx(0.0, abs=1e-9), "EUR")
        assert "about the same money" in answer.sentence
        assert "No saving to rely on" in answer.plain

    def test_a_mode_must_say_what_prevents_it(self) -> None:
        answer = ask(one_engine(plan(IMPELLER)), "never-renew")

        assert "prevented_by and neglect_factor" in answer.sentence

    def test_the_task_may_be_named(self) -> None:
        answer = ask(one_engine(plan(PLUGS)), "never-renew")

        assert "name it with --task" in answer.sentence
        assert "Spark plugs" in answer.sentence


class TestOwnServicing:
    ENGINE = plan(IMPELLER, visit_labour=1.0) | {"repair": [PUMP], "warranty": {"months": 24.0}}

    def test_labour_saved_and_cover_lost(self) -> None:
        # Labour: three visits of 1.5 h at 100, 450. Cover lost where the file says nothing: 100.
        answer = ask(one_engine(self.ENGINE), "own-servicing")

        assert value(answer) == (pytest.approx(350.0, rel=REGRESSION), "EUR")
        assert "you would save 450 EUR" in answer.reasons[1]
        assert answer.reasons[2] == "It takes 4.50 h of your own time: 77.78 EUR an hour saved."

    @pytest.mark.parametrize("stated", [True, False])
    def test_the_file_may_say_that_cover_stands(self, stated: bool) -> None:
        scenario = one_engine(self.ENGINE, own_service_keeps_cover=stated)

        assert value(ask(scenario, "own-servicing"))[0] == pytest.approx(450.0 if stated else 350.0, rel=REGRESSION)
        assert value(ask(scenario, "own-servicing", keeps_cover=True))[0] == pytest.approx(450.0, rel=REGRESSION)

    def test_where_it_turns(self) -> None:
        # Saved 4.5 h x rate; lost 0.2 failures x (300 + 2 h x rate): 4.5 r = 60 + 0.4 r.
        assert turns_at(ask(one_engine(self.ENGINE), "own-servicing")) == pytest.approx(60.0 / 4.1, rel=1e-6)

    def test_at_a_low_rate_the_workshop_is_cheaper(self) -> None:
        answer = ask(one_engine(self.ENGINE, prices={"labour": 5.0}), "own-servicing")

        assert "the workshop costs" in answer.sentence


class TestLongLifePlugs:
    def test_what_the_other_kind_may_cost(self) -> None:
        # Over 400 h: standard plugs at 100, 200 and 300 h, 3 x (40 + 40) = 240; long-life ones at none before the sale.
        # Over 900 h: eight times, 640, against twice, 2 x (4 p + 40): p = 70.
        answer = ask(one_engine(plan(PLUGS), use={"hours_per_year": 225.0}), "long-life-plugs")

        assert value(answer) == (pytest.approx(70.0, rel=1e-6), "EUR a plug")
        assert answer.plain == "Changing plugs every 400 h pays at 70 EUR a plug or less."

    @pytest.mark.parametrize(("price", "winner"), [(60.0, "400 h costs"), (80.0, "100 h costs")])
    def test_a_price_decides(self, price: float, winner: str) -> None:
        # 640 against 2 x (4 x 60 + 40) = 560, and 720.
        answer = ask(one_engine(plan(PLUGS), use={"hours_per_year": 225.0}), "long-life-plugs", price=price)

        assert value(answer) == (pytest.approx(80.0, rel=REGRESSION), "EUR")
        assert f"changing plugs every {winner} 80 EUR less" in answer.sentence

    def test_standard_plugs_where_the_labour_alone_is_dearer(self) -> None:
        # Long-life at 24, twice: 2 x (96 + 40) = 272; standard for nothing, eight times: 320.
        long_life = {**PLUGS, "every": {"hours": 400.0}, "parts": [{"name": "Plug", "quantity": 4.0, "price": 24.0}]}
        answer = ask(one_engine(plan(long_life), use={"hours_per_year": 225.0}), "long-life-plugs")

        assert value(answer) == (pytest.approx(48.0, rel=REGRESSION), "EUR")
        assert "even with plugs for nothing" in answer.sentence

    def test_without_plugs_in_the_plan(self) -> None:
        assert not ask(one_engine(plan(IMPELLER)), "long-life-plugs").applies

    def test_never_oftener_than_the_visits(self) -> None:
        base = {"every": {"hours": 150.0}, "task": [{**PLUGS, "every": {"hours": 450.0}}]}
        answer = ask(one_engine({"service": base}, use={"hours_per_year": 225.0}), "long-life-plugs", price=1.0)

        assert "every 150 h" in answer.sentence


class TestServiceQuote:
    SCENARIO = one_engine(plan(IMPELLER, {**PLUGS, "every": {"hours": 200.0}}, visit_price=20.0))

    def test_what_a_visit_comes_to(self) -> None:
        # 50 + 50 + 20, and with the plugs 80 more; growth is not in it.
        answer = ask(self.SCENARIO, "service-quote")

        assert value(answer) == (pytest.approx(120.0, rel=IDENTITY), "EUR")
        assert value(ask(self.SCENARIO, "service-quote", visit="major"))[0] == pytest.approx(200.0, rel=IDENTITY)
        assert value(ask(self.SCENARIO, "service-quote", visit="200 h"))[0] == pytest.approx(200.0, rel=IDENTITY)

    @pytest.mark.parametrize(
        ("amount", "word", "apart"),
        [(130.0, "in line", 10.0), (110.0, "in line", -10.0), (180.0, "high", 60.0), (60.0, "low", -60.0)],
    )
    def test_a_quote_against_it(self, amount: float, word: str, apart: float) -> None:
        # Prices do not vary in this file: in line within 10 %.
        answer = ask(self.SCENARIO, "service-quote", amount=amount)

        assert f"is {word}" in answer.sentence
        assert value(answer)[0] == pytest.approx(apart, rel=IDENTITY)

    def test_the_labour_rate_it_stands_for(self) -> None:
        # 0.5 h: 130 is reached at 120 an hour.
        answer = ask(self.SCENARIO, "service-quote", amount=130.0)

        assert turns_at(answer) == pytest.approx(120.0, rel=1e-6)
        assert answer.flip_point is not None
        assert answer.flip_point.sentence == (
            "It is the plan's price at 120 EUR an hour of labour (now 100 EUR an hour)."
        )

    def test_prices_that_vary_widen_what_is_in_line(self) -> None:
        varied = one_engine(plan(IMPELLER, visit_price=20.0), trials={"labour_variation": 0.3})

        assert "is in line" in ask(varied, "service-quote", amount=180.0).sentence

    def test_prices_that_grow_do_not_count(self) -> None:
        grown = one_engine(plan(IMPELLER, visit_price=20.0), money={"inflation": 0.1})

        assert value(ask(grown, "service-quote"))[0] == pytest.approx(120.0, rel=IDENTITY)

    def test_a_visit_that_is_not_there(self) -> None:
        answer = ask(self.SCENARIO, "service-quote", visit="300 h")

        assert not answer.applies
        assert "200 h" in answer.sentence


class TestKeepCover:
    def test_the_service_before_it_ends(self) -> None:
        # Three years of cover: visits at one and two years count, that of the last day does not: 200. It pays 3 x 50.
        answer = ask(one_engine(plan(IMPELLER) | {"repair": [PUMP], "warranty": {"months": 36.0}}), "keep-cover")

        assert value(answer) == (pytest.approx(200.0, rel=IDENTITY), "EUR")
        assert "it pays some 150 EUR" in answer.sentence

    def test_where_it_turns(self) -> None:
        # 2 x (50 + 0.5 r) = 0.3 x (300 + 2 r): 100 + r = 90 + 0.6 r holds for no rate above 0; of 25 for a kit,
        # 50 + r = 90 + 0.6 r does at 100.
        cheap = {**IMPELLER, "parts": [{"name": "Kit", "quantity": 1.0, "price": 25.0}]}
        engine = plan(cheap) | {"repair": [PUMP], "warranty": {"months": 36.0}}

        assert turns_at(ask(one_engine(engine, prices={"labour": 80.0}), "keep-cover")) == pytest.approx(
            100.0, rel=1e-6
        )

    def test_hours_may_end_it(self) -> None:
        engine = plan(IMPELLER) | {"repair": [PUMP], "warranty": {"months": 36.0, "hours": 150.0}}

        assert value(ask(one_engine(engine), "keep-cover"))[0] == pytest.approx(100.0, rel=IDENTITY)

    def test_no_cover(self) -> None:
        assert not ask(one_engine(plan(IMPELLER)), "keep-cover").applies
