"""Questions about running costs, worked by hand on the tiny comparison: 100 h a year for four years, no growth.

The two-stroke burns 10 L/h at 2.00, 1 L of oil to 50 L of fuel at 10.00; the four-stroke 7 L/h. Either has a visit each
100 h or year, three within the period (the one on the sale is not made): three plugs at 10 and 1 h at 100.
"""

import pytest

from model import counter
from model.questions.answer import Answer
from tests.tiny import FOUR_STROKE, two_engines
from tests.tolerances import IDENTITY, REGRESSION


def value(answer: Answer) -> tuple[float, str]:
    """The figure of an answer."""
    assert answer.figure is not None, answer.sentence
    return answer.figure.value, answer.figure.unit


def test_service_is_alike_and_the_oil_is_the_two_strokes() -> None:
    # Three visits of 30 + 100 in four years are 97.50 a year for either; 1,000 L a year take 20 L of oil: 200.
    answer = counter.answer(counter.asked(two_engines()), "service-or-oil")

    assert value(answer) == (pytest.approx(200.0, rel=IDENTITY), "EUR a year")
    assert answer.sentence == ("In service and two-stroke oil Four-stroke costs 200 EUR a year less than Two-stroke.")
    assert answer.reasons[:2] == (
        "Four-stroke: 98 EUR a year for service, 0 EUR a year for two-stroke oil.",
        "Two-stroke: 98 EUR a year for service, 200 EUR a year for two-stroke oil.",
    )


def test_a_dear_four_stroke_service_turns_the_answer() -> None:
    # 4 h more at each of three visits: 4 x 100 x 3 / 4 years = 300 a year, 100 more than the oil.
    plan = FOUR_STROKE["service"]
    thorough = {**plan, "task": [{**plan["task"][0], "labour": 5.0}]}

    answer = counter.answer(counter.asked(two_engines(four={"service": thorough})), "service-or-oil")

    assert value(answer) == (pytest.approx(100.0, rel=IDENTITY), "EUR a year")
    assert "Two-stroke costs 100 EUR a year less" in answer.sentence


def test_oil_burned_against_oil_changed() -> None:
    # Oil changes: three visits of 4 L at 12 and 0.5 h at 100, 98 each, are 73.50 a year; the oil burned is 200.
    change = {"name": "Engine oil", "every": {"hours": 100.0, "months": 12.0}, "labour": 0.5}
    change |= {"parts": [{"name": "Oil", "quantity": 4.0, "unit": "L", "price": 12.0}]}
    plan = FOUR_STROKE["service"]

    answer = counter.answer(
        counter.asked(two_engines(four={"service": {**plan, "task": [*plan["task"], change]}})), "oil-against-oil"
    )

    assert value(answer) == (pytest.approx(200.0 - 73.5, rel=IDENTITY), "EUR a year")
    assert answer.reasons[0] == "Two-stroke burns 20 L of oil a year with 1,000 L of fuel: 200 EUR a year."


def test_dear_oil_changes_turn_it() -> None:
    # 4 h at 100 in place of half an hour: three visits of 448 are 336 a year against 200.
    change = {"name": "Engine oil", "every": {"hours": 100.0, "months": 12.0}, "labour": 4.0}
    change |= {"parts": [{"name": "Oil", "quantity": 4.0, "unit": "L", "price": 12.0}]}
    plan = FOUR_STROKE["service"]
    scenario = two_engines(four={"service": {**plan, "task": [*plan["task"], change]}})

    answer = counter.answer(counter.asked(scenario), "oil-against-oil")

    assert value(answer)[0] == pytest.approx(136.0, rel=IDENTITY)
    assert "Two-stroke costs 136 EUR a year less" in answer.sentence


def test_the_oil_change_may_be_named() -> None:
    # "Plugs" taken for the oil change: 130 at three visits, 97.50 a year.
    about = counter.asked(two_engines())

    assert not counter.answer(about, "oil-against-oil").applies
    assert value(counter.answer(about, "oil-against-oil", task="Plugs"))[0] == pytest.approx(102.5, rel=IDENTITY)


def test_an_hour_of_a_bare_engine() -> None:
    # The four-stroke: 6,500 bought, 6,000 x 0.8^4 = 2,457.60 at the sale; fuel 7 x 2 = 14 an hour; service 97.50 a
    # year; one failure in 1,000 h of 600, of which three years of four are covered: 0.1 x 600 in the fourth.
    answer = counter.answer(counter.asked(two_engines()), "cost-of-an-hour")

    whole = (6500.0 - 2457.6 + 400 * 14.0 + 3 * 130.0 + 60.0) / 400.0
    assert value(answer) == (pytest.approx(whole, rel=IDENTITY), "EUR an hour")
    assert "14.00 EUR an hour of that on fuel" in answer.reasons[0]


def test_no_hours_have_no_cost_of_an_hour() -> None:
    answer = counter.answer(counter.asked(two_engines(use={"hours_per_year": 0.0})), "cost-of-an-hour")

    assert not answer.applies
    assert "use.hours_per_year" in answer.sentence


def test_every_speed_alone() -> None:
    # At idle 1.0 and 0.5 L/h: with oil 2.20 against 1.00 an hour, at full throttle 41.80 against 27.00. The rest of the
    # four-stroke's cost: 1,000 more to buy, 409.60 more at the sale, 60 less of repairs: 530.40 more.
    answer = counter.answer(counter.asked(two_engines()), "at-every-speed", trolling=0.1, cruising=0.1)

    assert value(answer) == (pytest.approx(530.4 - 400 * 1.2, rel=1e-9), "EUR")
    assert "at trolling Two-stroke costs 50 EUR less" in answer.sentence


def test_dearer_fuel() -> None:
    # 4 x 300 L less a year at 2.60 with 8 x 10 of oil a year: 3,120 + 800 saved, less 530.40 that the rest costs more.
    answer = counter.answer(counter.asked(two_engines()), "fuel-price", change=30.0)

    assert value(answer) == (pytest.approx(1200 * 2.6 + 800.0 - 530.4, rel=IDENTITY), "EUR")
    assert "Four-stroke costs 3,390 EUR less" in answer.sentence


def test_cheap_fuel_turns_it() -> None:
    # Fuel at 0.20 raised by half: 1,200 L at 0.30 save 360 of 530.40.
    scenario = two_engines(prices={"fuel": 0.2, "two_stroke_oil": 0.0})

    answer = counter.answer(counter.asked(scenario), "fuel-price", change=50.0)

    assert value(answer) == (pytest.approx(170.4, rel=REGRESSION), "EUR")
    assert "Two-stroke costs 170 EUR less than Four-stroke" in answer.sentence


def test_where_the_price_of_fuel_turns_it() -> None:
    # With the oil nearly free the fuel saved, 1,200 L, has to make up for 530.40: 0.442 a litre.
    answer = counter.answer(counter.asked(two_engines(prices={"two_stroke_oil": 0.0})), "fuel-price")

    assert answer.flip_point is not None
    assert answer.flip_point.value == pytest.approx(530.4 / 1200, rel=1e-9)
    assert answer.flip_point.sentence == "Fuel price: the answer turns below 0.44 EUR a litre (now 2.00 EUR a litre)."
