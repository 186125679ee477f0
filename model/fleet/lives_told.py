"""Ages of economic lives in words: where the ages looked at end within a range, it goes on after them."""

from model.fleet.economic_life import EconomicLife
from model.language import say
from model.wording import period, plain


def span_told(life: EconomicLife) -> str:
    """The ages within 2 % of the best, "or later" where the ages looked at end within them. [year]"""
    low, high = (plain(age) for age in life.about_as_good)
    if low == high and life.goes_on:
        return say("at {low} {low:year|years} or later", low=low)
    if low == high:
        return say("at {low} {low:year|years} alone", low=low)
    if not life.goes_on:
        return say("from {low} to {high} years", low=low, high=high)
    return say("from {low} to {high} years or later", low=low, high=high)


def best_told(life: EconomicLife) -> str:
    """The best age, "or later" where it is the last one looked at. [year]"""
    return age_told(life, life.best_age)


def age_told(life: EconomicLife, age: float) -> str:
    """A best age, "or later" where it is the last one looked at. [year]"""
    told = period(age)
    return say("{years} or later", years=told) if age == life.ages[-1] else told


def best_at_hours(life: EconomicLife, hours: str, age: float) -> str:
    """
    The best age at other hours a year.

    Parameters
    ----------
    life : EconomicLife
        Whose ages were looked at.
    hours : str
        Hours, as they are to be read.
    age : float
        The best age there. [year]
    """
    if age == life.ages[-1]:
        return say("{years} or later at {hours} h", years=plain(age), hours=hours)
    return say("{years} at {hours} h", years=plain(age), hours=hours)
