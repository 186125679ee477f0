"""Time between two days, in years."""

from datetime import date
from functools import lru_cache

from dateutil.relativedelta import relativedelta


@lru_cache(maxsize=20_000)  # a register of 100,000 units has some thousand days
def years_between(begin: date, end: date) -> float:
    """
    Time between two days: whole calendar years, and within a year by its days, as everywhere in the sums.

    Parameters
    ----------
    begin, end : date
        The later one may come first.

    Returns
    -------
    float
        Time, negative where the end comes before the begin. [year]

    >>> years_between(date(2023, 4, 1), date(2027, 4, 1)), years_between(date(2024, 1, 1), date(2024, 7, 1))
    (4.0, 0.4972677595628415)
    """
    if end < begin:
        return -years_between(end, begin)
    whole = end.year - begin.year
    if begin + relativedelta(years=whole) > end:
        whole -= 1
    last, following = (begin + relativedelta(years=whole + more) for more in (0, 1))
    return whole + (end - last).days / (following - last).days
