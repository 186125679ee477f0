"""A season's hours shared by all units, and each unit's own beside it: how their variations join and come apart."""

from math import sqrt


def with_season(own: float, season: float) -> float:
    """
    Variation of hours that are a unit's own times the season's, the two independent.

    Parameters
    ----------
    own, season : float
        Coefficients of variation. [-]

    Returns
    -------
    float
        Coefficient of variation of the product: 1 + v^2 = (1 + own^2) (1 + season^2). [-]

    >>> round(with_season(0.3, 0.4), 6)
    0.514198
    """
    return sqrt((1.0 + own**2) * (1.0 + season**2) - 1.0)


def without_season(both: float, season: float) -> float:
    """
    A unit's own variation where the hours seen hold the season's too: `with_season` the other way about.

    Parameters
    ----------
    both, season : float
        Coefficients of variation. [-]

    Returns
    -------
    float
        Coefficient of variation; 0 where the hours seen vary less than the season. [-]

    >>> round(without_season(0.5141984, 0.4), 6)
    0.3
    """
    return sqrt(max((1.0 + both**2) / (1.0 + season**2) - 1.0, 0.0))
