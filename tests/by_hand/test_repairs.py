"""Expected repairs, worked by hand: parts 400 and 2 h at 100, nothing covered."""

import pytest

from model.inputs.terms import Element
from tests.tiny import cost_of_one
from tests.tolerances import IDENTITY

MODE = {"name": "Failure", "parts_price": 400.0, "labour": 2.0, "days_lost": 3.0}
START = {"meter_hours": 300.0, "age": 3.0}


@pytest.mark.parametrize(
    ("clock", "scale", "shape", "failures"),
    [
        ("hours", 1000.0, 1.0, 0.4),
        ("hours", 800.0, 2.0, 0.5**2),
        ("hours", 100.0, 0.5, 4.0**0.5),
        ("years", 8.0, 1.0, 0.5),
        ("years", 8.0, 3.0, 0.5**3),
    ],
)
def test_failures_of_a_new_engine(clock: str, scale: float, shape: float, failures: float) -> None:
    mode = {**MODE, "clock": clock, "scale": scale, "shape": shape}
    cost = cost_of_one({"repair": [mode]}, downtime={"day_cost": 250.0})

    assert cost.ownership.repairs.failures.sum() == pytest.approx(failures, rel=IDENTITY)
    assert cost.elements[Element.REPAIRS].nominal == pytest.approx(failures * 600.0, rel=IDENTITY)
    assert cost.elements[Element.DOWNTIME].nominal == pytest.approx(failures * 3 * 250.0, rel=IDENTITY)


@pytest.mark.parametrize(
    ("clock", "scale", "failures"),
    [("hours", 1000.0, 0.7**2 - 0.3**2), ("years", 10.0, 0.7**2 - 0.3**2)],
)
def test_a_used_engine_fails_by_its_own_hours_and_age(clock: str, scale: float, failures: float) -> None:
    mode = {**MODE, "clock": clock, "scale": scale, "shape": 2.0}
    cost = cost_of_one({"repair": [mode], "start": START, "list_price": 10000.0})

    assert cost.elements[Element.REPAIRS].nominal == pytest.approx(failures * 600.0, rel=IDENTITY)


def test_failures_fall_into_the_years_in_which_the_hours_are_run() -> None:
    mode = {**MODE, "clock": "hours", "scale": 1000.0, "shape": 2.0}
    use = {"hours_per_year": None, "hours_by_year": [100.0, 300.0, 0.0, 100.0]}

    cost = cost_of_one({"repair": [mode]}, use=use)

    by_year = [0.1**2, 0.4**2 - 0.1**2, 0.0, 0.5**2 - 0.4**2]
    assert cost.ownership.repairs.failures[0] == pytest.approx(by_year, rel=IDENTITY)


def test_a_part_of_constant_intensity_fails_alike_renewed_or_not() -> None:
    old, new = (
        cost_of_one({"repair": [{**MODE, "clock": "hours", "scale": 1000.0, "shape": 1.0, "after": after}]})
        for after in ("as old", "as new")
    )

    # The table of renewals is good to some 1e-12 at shape 1, where its sums are exact.
    assert new.elements[Element.REPAIRS].nominal == pytest.approx(old.elements[Element.REPAIRS].nominal, rel=IDENTITY)
