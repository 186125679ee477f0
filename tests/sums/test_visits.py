"""Cash of visits walked side by side, some of them in series: the same as the ownership's, where each is by itself."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.inputs.terms import Timing
from model.levels import AS_STATED
from model.ownership import own
from model.uncertainty.chunks import cash_of, ready, together
from model.uncertainty.outcomes import PLACES, VARYING
from tests.strategies import QUICK, YEARS, File, begun_years, hours_by_year, plans, with_plan
from tests.tolerances import REGRESSION

STARTS = [None, {"meter_hours": 0.0, "age": 0.5}, {"meter_hours": 120.0, "age": 3.0}]


@QUICK
@given(
    plan=plans(),
    years=YEARS,
    start=st.sampled_from(STARTS),
    rules=st.fixed_dictionaries(
        {
            ("money", "timing"): st.sampled_from(list(Timing)),
            ("money", "inflation"): st.sampled_from([0.0, 1e-9, 0.02, -0.3, 1.0]),
            ("ownership", "service_at_handover"): st.booleans(),
        }
    ),
    data=st.data(),
)
def test_cash_is_the_ownerships(plan: File, years: float, start: File | None, rules: dict[Any, Any], data: Any) -> None:
    stated = data.draw(hours_by_year(years))
    drawn = np.random.default_rng(data.draw(st.integers(0, 1000))).uniform(0.0, 1500.0, (20, begun_years(years)))
    hours = np.vstack([stated, drawn])
    engine = ready(with_plan(plan, years, stated, **({"start": start} if start else {})).changed(rules))[0]

    cash, elements = cash_of(together([engine], None), hours, AS_STATED, None), own(engine.case, hours).elements

    for place, element in enumerate(VARYING[:-1]):  # the value at sale is apart
        fixed = engine.fixed[0, PLACES[element]]
        assert cash[..., place] + fixed == pytest.approx(elements[element].nominal, rel=REGRESSION, abs=REGRESSION)
