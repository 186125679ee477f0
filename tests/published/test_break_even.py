"""Break-even in time, in hours a year and over the discount rate, against worked examples."""

import numpy as np
import pytest

from model.break_even import accumulate, pays_from
from model.money import discount_factor, present_value
from model.sweep import changes, swept
from tests.published.figures import check


def test_hours_a_year_at_which_two_motors_cost_the_same() -> None:
    """E-F01, engineering-economy review problem (two 500 hp motors, peso prices).

    The exact value is 3,391.4; the printed 3,437.5 rests on an hourly saving that the source rounds to 3.20.
    """
    inputs, answer, _ = check("E-F01")
    a, b, share = inputs["A"], inputs["B"], inputs["fixed_charge"]
    hourly = inputs["energy_cost_per_hour_A"] * np.array([1.0, a["eff"] / b["eff"]])
    fixed = np.array([motor["installed"] * share + motor["maint"] for motor in (a, b)])

    found = changes(swept(lambda hours: fixed[:, None] + hourly[:, None] * hours, np.arange(0.0, 8000.0, 1.0)), 1e-6)

    assert [(before, after) for _, before, after in found] == [(0, 1)]
    assert found[0][0] == pytest.approx(answer["exact"], abs=1e-6)
    rounded_saving = round(hourly[0] - 146.00, 2)
    assert (fixed[1] - fixed[0]) / rounded_saving == pytest.approx(answer["printed"], abs=0.05)


def test_years_until_cumulative_costs_cross() -> None:
    """E-F03, civil engineering course notes (FE review), problem 1: no interest."""
    inputs, answer, tolerance = check("E-F03")
    units = inputs["units_per_year"]
    first = inputs["automatic"]["first"] - inputs["manual"]["first"]
    yearly = (inputs["automatic"]["unit"] - inputs["manual"]["unit"]) * units

    difference = accumulate([yearly] * 10, 10.0, [0.0], [first])

    assert pays_from(*_parts(difference)) == pytest.approx(answer, abs=tolerance)
    assert pays_from(*_parts(difference)) == pytest.approx(2.8, abs=1e-12)


@pytest.mark.parametrize("kind", ["payback", "discounted_payback"])
def test_payback_of_a_project(kind: str) -> None:
    """E-F05, Principles of Finance 2e, sections 16.1 and 16.4: 4 years, discounted 5.05, linear within the year."""
    inputs, answer, tolerance = check("E-F05")
    flows = -np.array(inputs["cash_flows"], dtype=float)  # costs positive
    if kind == "discounted_payback":
        flows = flows * discount_factor(inputs["rate"], np.arange(flows.size))

    difference = accumulate(flows[1:], float(flows.size - 1), [0.0], [flows[0]])

    assert pays_from(*_parts(difference)) == pytest.approx(answer[kind], abs=max(tolerance[kind], 1e-9))


def test_the_discount_rate_at_which_a_project_stops_paying() -> None:
    """E-A02, Principles of Finance 2e, section 16.2: the profile's sign changes between 14 % and 15 %."""
    inputs, answer, tolerance = check("E-A02")
    flows = np.array(inputs["cash_flows"], dtype=float)
    times = np.arange(flows.size)

    def values(rates: np.ndarray) -> np.ndarray:
        return np.array([present_value(flows, times, float(rate)) for rate in rates])

    sweep = swept(lambda rates: np.array([-values(rates), np.zeros(rates.size)]), np.arange(0.0, 0.22, 0.01))
    found = changes(sweep, 1e-9)

    assert values(np.array(inputs["rates"])) == pytest.approx(answer, abs=tolerance)
    assert len(found) == 1
    assert 0.14 < found[0][0] < 0.15
    assert values(np.array([found[0][0]])) == pytest.approx(0.0, abs=1e-3)


def _parts(difference):  # noqa: ANN001, ANN202
    return difference.t, difference.before, difference.after
