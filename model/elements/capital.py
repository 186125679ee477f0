"""Capital: purchase, fit-up, finance and resale."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model import money
from model.inputs.engine import Engine, Finance, Resale
from model.inputs.terms import MONTHS_IN_A_YEAR, SMALLEST_MONTHS

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


def loan_flows(
    principal: float, finance: Finance | None, years: float, is_sold: bool = True
) -> tuple[tuple[float, str, float], ...]:
    """
    The loan as dated flows: the sum lent, monthly payments in arrears, and the balance paid off at the sale.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    finance : Finance or None
    years : float
        Length of the ownership period. [year]
    is_sold : bool
        Whether it ends with a sale; payments go on behind its end where it does not.

    Returns
    -------
    tuple of (float, str, float)
        Time since delivery, what it is, amount (the sum lent is a receipt). [year, -, money]
    """
    if finance is None or principal <= 0.0:
        return ()
    paid = min(finance.months, int(years * MONTHS_IN_A_YEAR + SMALLEST_MONTHS))
    payment = money.loan_payment(principal, finance.rate, finance.months)
    flows = [(0.0, "Sum lent", -principal)]
    flows += [(month / MONTHS_IN_A_YEAR, "Loan payment", payment) for month in range(1, paid + 1)]
    if is_sold and paid < finance.months:
        flows.append((years, "Loan balance repaid", float(loan_balances(principal, finance)[paid])))
    return tuple(flows)


def share_by_age(resale: Resale, age: ArrayLike) -> Amounts:
    """
    Share of the list price at an age, at normal hours.

    Parameters
    ----------
    resale : Resale
        A table (linear between; after the last point the last segment's yearly ratio goes on) or a yearly decline.
    age : array_like
        Age of the engine. [year]

    Returns
    -------
    ndarray, shape of age
        Share. [-]
    """
    age = np.asarray(age, dtype=float)
    if resale.by_age is None:
        assert resale.yearly_decline is not None
        return np.asarray((1.0 - resale.yearly_decline) ** age)
    ages, shares = np.array(resale.by_age).T
    last_ratio = shares[-1] / shares[-2] if shares[-2] > 0.0 else 0.0
    yearly_ratio = last_ratio ** (1.0 / (ages[-1] - ages[-2]))
    beyond = np.maximum(age - ages[-1], 0.0)
    return np.asarray(np.interp(age, ages, shares) * yearly_ratio**beyond)


def resale_share(resale: Resale | None, age: ArrayLike, meter: ArrayLike) -> Amounts:
    """
    Share of the list price that an engine is worth.

    Parameters
    ----------
    resale : Resale or None
        None is worth nothing.
    age : array_like
        Age of the engine. [year]
    meter : array_like
        Meter hours. [h]

    Returns
    -------
    ndarray
        Share: by age, less for each 100 h above normal, plus below; never under the floor or above 1. [-]
    """
    age, meter = np.asarray(age, dtype=float), np.asarray(meter, dtype=float)
    if resale is None:
        return np.zeros(np.broadcast_shapes(age.shape, meter.shape))
    above_normal = meter - resale.normal_hours * age
    return np.clip(share_by_age(resale, age) - resale.per_100_hours * above_normal / 100.0, resale.floor, 1.0)


def loan_balances(principal: float, finance: Finance | None) -> Amounts:
    """
    What is still owed after 0, 1, ... monthly payments.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    finance : Finance or None

    Returns
    -------
    ndarray, shape (payment + 1,)
        Balances; a single 0 without a loan. [money]
    """
    if finance is None or principal <= 0.0:
        return np.zeros(1)
    return money.loan_balances(principal, finance.rate, finance.months)
