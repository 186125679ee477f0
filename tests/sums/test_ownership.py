"""Many rows of hours at once give what each row gives by itself, levels included."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from model.case import Case, prepare
from model.inputs.scenario import Scenario
from model.inputs.terms import Element
from model.levels import AS_STATED, Levels
from model.ownership import Ownership, own
from tests.strategies import QUICK, hours_by_year, scenarios
from tests.tolerances import IDENTITY

SHAPES = st.sampled_from([(1,), (5,), (2, 3), (3, 1, 2), (0,)])


def levels_of(shape: tuple[int, ...], years: int, seed: int) -> Levels:
    """Random levels for rows of that shape."""
    draw = np.random.default_rng(seed).uniform
    parts, labour, burn, resale = (draw(0.5, 2.0, shape) for _ in range(4))
    return Levels(draw(0.5, 2.0, (*shape, years)), parts, labour, burn, resale)


def one(levels: Levels, row: tuple[int, ...]) -> Levels:
    """Levels of a single row."""
    kinds = (levels.fuel, levels.parts, levels.labour, levels.fuel_burn, levels.resale)
    return Levels(*(np.asarray(kind)[row] for kind in kinds))


def amounts(ownership: Ownership) -> dict[str, NDArray[np.float64]]:
    """All amounts by year, the year last."""
    booked = {str(element): both for element, both in ownership.elements.items()}
    booked["paid"] = ownership.paid_by_warranty
    return {
        **{f"{name} nominal": both.nominal for name, both in booked.items()},
        **{f"{name} present": both.present_value for name, both in booked.items()},
        "fuel litres": ownership.fuel_litres,
        "oil litres": ownership.oil_litres,
        "visits": ownership.visits,
        "hours": ownership.hours,
    }


def case_of(scenario: Scenario) -> Case:
    """The only engine, ready for the sums."""
    return prepare(scenario, scenario.engines[0])


class TestRows:
    @QUICK
    @given(scenario=scenarios(), shape=SHAPES, data=st.data(), seed=st.integers(0, 2**32 - 1))
    def test_each_is_what_it_gives_by_itself(
        self, scenario: Scenario, shape: tuple[int, ...], data: st.DataObject, seed: int
    ) -> None:
        case, years = case_of(scenario), scenario.ownership.begun_years
        rows = [data.draw(hours_by_year(scenario.ownership.years)) for _ in range(int(np.prod(shape)))]
        hours, levels = np.array(rows).reshape(*shape, years), levels_of(shape, years, seed)
        together = amounts(own(case, hours, levels))

        for row in np.ndindex(shape):
            for name, alone in amounts(own(case, hours[row], one(levels, row))).items():
                assert together[name].shape == hours.shape
                np.testing.assert_allclose(
                    together[name][row], alone, rtol=IDENTITY, atol=1e-9 * IDENTITY, err_msg=name
                )

    @QUICK
    @given(scenario=scenarios())
    def test_levels_of_one_change_nothing(self, scenario: Scenario) -> None:
        hours = np.array([scenario.hours()] * 2)
        stated = amounts(own(case_of(scenario), hours))
        ones = amounts(own(case_of(scenario), hours, Levels(np.ones((2, 1)), *(np.ones(2) for _ in range(4)))))

        for name, amount in stated.items():
            np.testing.assert_array_equal(amount, ones[name], err_msg=name)

    @QUICK
    @given(scenario=scenarios(), level=st.sampled_from([0.5, 2.0, 4.0]))
    def test_each_level_moves_its_own_elements_in_proportion(self, scenario: Scenario, level: float) -> None:
        case, hours = case_of(scenario), np.array([scenario.hours()])
        stated = own(case, hours, AS_STATED).elements
        moved = {
            Element.FUEL: own(case, hours, Levels(fuel=level)).elements,
            Element.SERVICE_PARTS: own(case, hours, Levels(parts=[level])).elements,
            Element.SERVICE_LABOUR: own(case, hours, Levels(labour=[level])).elements,
            Element.TWO_STROKE_OIL: own(case, hours, Levels(fuel_burn=[level])).elements,
            Element.RESALE: own(case, hours, Levels(resale=[level])).elements,
        }

        for element, elements in moved.items():
            np.testing.assert_array_equal(elements[element].nominal, level * stated[element].nominal)
            np.testing.assert_array_equal(elements[Element.PURCHASE].nominal, stated[Element.PURCHASE].nominal)
