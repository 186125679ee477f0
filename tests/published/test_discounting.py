"""Present values, annuities and rates against textbooks; numpy-financial is the reference library."""

import numpy as np
import numpy_financial
import pytest

from model import money
from model.booking import booking_time, flow_times
from model.inputs.terms import Timing
from tests.published.figures import check
from tests.tolerances import IDENTITY


def present_value(flows: list[float], rate: float, first: int = 0) -> float:
    """Present value of year-end flows, the first of them at the end of that year."""
    return money.present_value(flows, np.arange(first, first + len(flows)), rate)


def test_a_purchase_and_six_uneven_flows() -> None:
    # Principles of Finance 2e, section 16.2; section 16.5 prints a cent less, which is why a whole cent is allowed.
    inputs, answer, tolerance = check("E-A01")

    assert present_value(inputs["cash_flows_year0_to_6"], inputs["rate"]) == pytest.approx(answer, abs=tolerance)


@pytest.mark.parametrize("row", range(len(check("E-A02").answer)))
def test_present_value_over_rates(row: int) -> None:
    # Principles of Finance 2e, section 16.2, table: at rate 0 the plain sum.
    inputs, answer, tolerance = check("E-A02")

    found = present_value(inputs["cash_flows"], inputs["rates"][row])

    assert found == pytest.approx(answer[row], abs=tolerance)
    assert found == pytest.approx(numpy_financial.npv(inputs["rates"][row], inputs["cash_flows"]), rel=IDENTITY)


def test_each_year_of_a_mixed_stream() -> None:
    # Principles of Finance 2e, section 9.1; its rows are rounded or cut off at the cent, so a whole cent is allowed.
    inputs, answer, tolerance = check("E-A04")
    flows, years = np.array(inputs["year_end_flows"]), np.arange(1, 6)

    assert flows * money.discount_factor(inputs["rate"], years) == pytest.approx(answer["per_year"], abs=tolerance)
    assert money.present_value(flows, years, inputs["rate"]) == pytest.approx(answer["total"], abs=tolerance)


def test_an_annuity_at_the_end_and_at_the_begin_of_years() -> None:
    # Principles of Finance 2e, section 8.5 (the table of 8.2 has a misprint in its third year).
    inputs, answer, tolerance = check("E-A07")
    payment, rate, years = inputs["payment"], inputs["rate"], inputs["n"]

    assert payment * money.annuity_factor(rate, years) == pytest.approx(answer["end"], abs=tolerance)
    assert present_value([payment] * years, rate) == pytest.approx(answer["begin"], abs=tolerance)


def test_an_annuity_factor_to_seven_digits() -> None:
    # Principles of Finance 2e, section 8.5; the printed factor is 2e-6 off, its present values are not.
    inputs, answer, tolerance = check("E-A08")
    payment, rate, years = inputs["payment"], inputs["rate"], inputs["n"]
    factor = money.annuity_factor(rate, years)

    assert factor == pytest.approx(answer["PA"], abs=tolerance["PA"])
    assert payment * factor == pytest.approx(answer["PV"], abs=tolerance["PV"])
    assert present_value([payment] * years, rate) == pytest.approx(answer["PV_due"], abs=tolerance["PV_due"])
    assert factor == pytest.approx(-numpy_financial.pv(rate, years, 1.0), rel=IDENTITY)


def test_the_example_of_the_reference_library() -> None:
    # numpy-financial 1.0.0, docstring of npv: the first flow is at t = 0.
    inputs, answer, tolerance = check("E-A10")

    assert present_value(inputs["cash_flows"], inputs["rate"]) == pytest.approx(answer, abs=tolerance)


def test_the_fisher_relation_and_back() -> None:
    # Principles of Finance 2e, section 7.4.
    inputs, answer, tolerance = check("E-B01")
    nominal = money.nominal_rate(inputs["real"], inputs["inflation"])

    assert nominal == pytest.approx(answer, abs=tolerance)
    assert money.real_rate(nominal, inputs["inflation"]) == pytest.approx(inputs["real"], rel=IDENTITY)


def test_the_effective_rate_of_a_month() -> None:
    # Principles of Finance 2e, section 8.4.
    inputs, answer, tolerance = check("E-B03")

    assert money.effective_yearly_rate(inputs["monthly"]) == pytest.approx(answer, abs=tolerance)


def test_flows_at_the_end_the_middle_and_the_begin_of_years() -> None:
    # Social Cost-Benefit Analysis (open textbook, University of Queensland), chapter 3: its inputs and conventions;
    # the answers are worked out from them.
    inputs, answer, _ = check("E-X04")
    years, benefit = inputs["years"], np.full(inputs["years"], float(inputs["benefit"]))
    times = {
        "end": flow_times(Timing.YEAR_END, years, years),
        "mid": flow_times(Timing.MID_YEAR, years, years),
        "begin": booking_time(np.arange(years), Timing.MID_YEAR, years),
    }

    found = {name: money.present_value(benefit, t, inputs["rate"]) - inputs["initial"] for name, t in times.items()}

    assert found == pytest.approx(answer, rel=IDENTITY)
