"""Ages of economic lives in words; each cost is told to the cent by hand: 102 is 2 % above 100, 103 is not."""

import pytest

from model.fleet.economic_life import EconomicLife
from model.fleet.lives_told import best_told, span_told
from model.language import speaking


@pytest.mark.parametrize(
    ("costs", "words", "spanish"),
    [
        ((100.0, 103.0, 110.0), "at 1 year alone", "solo con 1 año"),
        ((110.0, 100.0, 103.0), "at 2 years alone", "solo con 2 años"),
        ((110.0, 103.0, 100.0), "at 3 years or later", "con 3 años o más"),
        ((102.0, 100.0, 103.0), "from 1 to 2 years", "de 1 a 2 años"),
        ((110.0, 102.0, 100.0), "from 2 to 3 years or later", "de 2 a 3 años o más tarde"),
    ],
)
def test_ages_about_as_good(costs: tuple[float, ...], words: str, spanish: str) -> None:
    life = EconomicLife((1.0, 2.0, 3.0), costs)

    assert span_told(life) == words
    with speaking("es"):
        assert span_told(life) == spanish


def test_a_single_age_looked_at_goes_on_after_it() -> None:
    life = EconomicLife((1.0,), (100.0,))

    assert span_told(life) == "at 1 year or later"
    assert best_told(life) == "1 year or later"
