"""Capital: purchase, fit-up, finance and resale."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import money
from model.inputs.engine import Engine, Finance, Resale
from model.inputs.terms import MONTHS_IN_A_YEAR

Amounts = NDArray[np.float64]


def net_price(engine: Engine) -> float:
    """Price less discount and trade-in, for one engine. [money]"""
    return engine.price - engine.discount - engine.trade_in


def fit_up(engine: Engine) -> float:
    """Putting one engine on the boat. [money]"""
    return sum(item.price for item in engine.fit_up)


def sum_lent(engine: Engine) -> float:
    """Net price and fit-up less the deposit, for one engine; nothing without finance. [money]"""
    if engine.finance is None:
        return 0.0
    return max(net_price(engine) + fit_up(engine), 0.0) * (1.0 - engine.finance.deposit)


def loan_flows(principal: float, finance: Finance | None, years: float) -> tuple[tuple[float, str, float], ...]:
    """
    The loan as dated flows: the sum lent, monthly payments in arrears, and the balance paid off at the sale.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    finance : Finance or None
    years : float
        Length of the ownership period. [year]

    Returns
    -------
    tuple of (float, str, float)
        Time since delivery, what it is, amount (the sum lent is a receipt). [year, -, money]
    """
    if finance is None or principal <= 0.0:
        return ()
    paid = min(finance.months, int(years * MONTHS_IN_A_YEAR + 1e-6))
    payment = money.loan_payment(principal, finance.rate, finance.months)
    flows = [(0.0, "Sum lent", -principal)]
    flows += [(month / MONTHS_IN_A_YEAR, "Loan payment", payment) for month in range(1, paid + 1)]
    if paid < finance.months:
        balance = money.loan_balances(principal, finance.rate, finance.months)[paid]
        flows.append((years, "Loan balance repaid", float(balance)))
    return tuple(flows)


def share_by_age(resale: Resale, age: float) -> float:
    """
    Share of the list price at an age, at normal hours.

    Parameters
    ----------
    resale : Resale
        A table (linear between; after the last point the last segment's yearly ratio goes on) or a yearly decline.
    age : float
        Age of the engine. [year]

    Returns
    -------
    float
        Share. [-]
    """
    if resale.by_age is None:
        assert resale.yearly_decline is not None
        return float((1.0 - resale.yearly_decline) ** age)
    ages, shares = zip(*resale.by_age, strict=True)
    if age <= ages[-1]:
        return float(np.interp(age, ages, shares))
    if shares[-2] <= 0.0:
        return 0.0
    yearly_ratio = (shares[-1] / shares[-2]) ** (1.0 / (ages[-1] - ages[-2]))
    return float(shares[-1] * yearly_ratio ** (age - ages[-1]))


def resale_share(resale: Resale | None, age: float, meter: ArrayLike) -> Amounts:
    """
    Share of the list price that an engine is worth.

    Parameters
    ----------
    resale : Resale or None
        None is worth nothing.
    age : float
        Age of the engine. [year]
    meter : array_like
        Meter hours. [h]

    Returns
    -------
    ndarray, shape of meter
        Share: by age, less for each 100 h above normal, plus below; never under the floor or above 1. [-]
    """
    meter = np.asarray(meter, dtype=float)
    if resale is None:
        return np.zeros_like(meter)
    share = share_by_age(resale, age) - resale.per_100_hours * (meter - resale.normal_hours * age) / 100.0
    return np.clip(share, resale.floor, 1.0)
