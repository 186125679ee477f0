"""A unit's own variation and the season's: joined and taken apart again."""

import pytest

from model.fleet.seasons import with_season, without_season
from tests.tolerances import IDENTITY


def test_two_variations_join_as_those_of_a_product() -> None:
    # (1 + 0.75^2) (1 + 0.5^2) - 1 = 1.5625 x 1.25 - 1
    assert with_season(0.75, 0.5) ** 2 == pytest.approx(0.953125, rel=IDENTITY)


def test_a_season_taken_out_is_what_was_put_in() -> None:
    assert without_season(with_season(0.3, 0.2), 0.2) == pytest.approx(0.3, rel=IDENTITY)


@pytest.mark.parametrize("season", [0.2, 0.5])
def test_hours_that_vary_no_more_than_the_season_have_no_variation_of_their_own(season: float) -> None:
    assert without_season(0.2, season) == 0.0
