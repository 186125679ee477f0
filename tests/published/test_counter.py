"""Whether cover is worth its price, and oil against fuel, by the questions of the counter."""

from typing import Any

import pytest

from model import counter
from model.questions.answer import Answer
from model.questions.choosing import BREAKDOWNS, Choice
from tests.published.figures import check
from tests.tiny import one_engine, two_engines


def fails(name: str, chance: float, cost: float) -> dict[str, Any]:
    """A way to fail that is expected so often in a year, at that cost."""
    return {"name": name, "clock": "years", "scale": 1.0 / chance, "shape": 1.0, "parts_price": cost}


def offered(modes: list[dict[str, Any]], premium: float, excess: float = 0.0) -> Answer:
    """Extra cover for a single year, bought against failing uncovered."""
    warranty = {"months": 0.0, "excess": excess, "extension": {"price": premium, "months": 12.0}}
    scenario = one_engine({"repair": modes, "warranty": warranty}, ownership={"years": 1.0})
    return counter.answer(counter.asked(scenario), "extra-cover")


def test_cover_with_an_excess() -> None:
    """E-H01, civil engineering course notes (FE review), problem 6: 2,126 covered, 3,096 not, 970 saved."""
    inputs, answer, tolerance = check("E-H01")
    modes = [fails(f"{cost:g}", chance, cost) for chance, cost in inputs["outcomes"] if cost > 0]

    found = offered(modes, inputs["premium"], inputs["deductible"])

    assert found.figure is not None
    assert found.figure.value == pytest.approx(answer["saving"], abs=tolerance)
    assert found.sentence.startswith("On average yes")
    without = Choice(one_engine({"repair": modes}, ownership={"years": 1.0}), "Engine", "")
    assert without.only(BREAKDOWNS).total == pytest.approx(answer["uncovered"], abs=tolerance)
    warranty: dict[str, Any] = {"months": 0.0, "excess": inputs["deductible"]}
    warranty["extension"] = {"bought": True, "price": inputs["premium"], "months": 12.0}
    covered = Choice(one_engine({"repair": modes, "warranty": warranty}, ownership={"years": 1.0}), "Engine", "")
    assert covered.only(BREAKDOWNS).total == pytest.approx(answer["covered"], abs=tolerance)


def test_cover_for_a_single_rare_claim() -> None:
    """R-W02, tutor answer, 2019-11-19: 45 for a claim of 300 in 0.9 % leaves the seller 42.30 on average."""
    inputs, answer, tolerance = check("R-W02")

    found = offered([fails("Claim", inputs["p_claim"], inputs["cost"])], inputs["premium"])

    assert found.figure is not None
    assert found.figure.value == pytest.approx(answer["EV"], abs=tolerance)
    assert found.sentence.startswith("On average no")


@pytest.mark.parametrize("place", range(4))
@pytest.mark.parametrize("kind", ["50", "100"])
def test_oil_mixed_into_fuel(place: int, kind: str) -> None:
    """A-11, two-stroke premix chart of a public workshop page (undated): 5 L of fuel take 100 mL at 50:1."""
    inputs, answer, tolerance = check("A-11")
    litres, expected = inputs["fuel_l"][place], answer[f"ml_at_{kind}"][place]
    # 10 L/h over the bands, so that many litres in a tenth of as many hours.
    scenario = two_engines(
        two={"oil": {"ratio": float(kind)}}, use={"hours_per_year": litres / 10.0}, ownership={"years": 1.0}
    )

    found = counter.answer(counter.asked(scenario), "service-or-oil")

    oil = [behind.row for behind in found.rows if behind.row.item == "Two-stroke oil"]
    assert sum(row.quantity for row in oil) * 1000.0 == pytest.approx(expected, abs=tolerance)
