"""Growth, discounting, annuity and loan factors: pure maths.

Sources of the formulas: any textbook of engineering economics, for example Principles of Finance 2e (open textbook,
Dahlquist and Knight), chapters 7 and 8. Costs are positive, receipts negative. Rates are fractions (0.05, not 5).
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from model.inputs.terms import MONTHS_IN_A_YEAR

Amounts = NDArray[np.float64]


def nominal_rate(real: float, inflation: float) -> float:
    """
    Nominal rate that leaves a real rate after inflation (Fisher relation).

    Parameters
    ----------
    real, inflation : float
        Real rate and inflation. [1/year]

    Returns
    -------
    float
        (1 + real)(1 + inflation) - 1. [1/year]

    >>> round(nominal_rate(0.06, 0.02), 6)
    0.0812
    """
    return (1.0 + real) * (1.0 + inflation) - 1.0


def real_rate(nominal: float, inflation: float) -> float:
    """
    Real rate that a nominal rate leaves after inflation (Fisher relation).

    Parameters
    ----------
    nominal, inflation : float
        Nominal rate and inflation. [1/year]

    Returns
    -------
    float
        (1 + nominal) / (1 + inflation) - 1. [1/year]
    """
    return (1.0 + nominal) / (1.0 + inflation) - 1.0


def effective_yearly_rate(monthly: float) -> float:
    """
    Yearly rate that a monthly rate compounds to.

    Parameters
    ----------
    monthly : float
        Rate of one month. [1/month]

    Returns
    -------
    float
        (1 + monthly)^12 - 1. [1/year]
    """
    return float((1.0 + monthly) ** MONTHS_IN_A_YEAR - 1.0)


def yearly_growth(first: float, last: float, years: float) -> float:
    """
    Constant yearly growth between two levels of a price.

    Parameters
    ----------
    first, last : float
        Levels at the start and the end. [money]
    years : float
        Time between them. [year]

    Returns
    -------
    float
        (last / first)^(1 / years) - 1. [1/year]
    """
    return float((last / first) ** (1.0 / years) - 1.0)


def growth_factor(rate: float, t: ArrayLike) -> Amounts:
    """
    What a delivery-day price is multiplied by at time t.

    Parameters
    ----------
    rate : float
        Yearly growth. [1/year]
    t : array_like
        Time since delivery. [year]

    Returns
    -------
    ndarray, shape of t
        (1 + rate)^t. [-]
    """
    return np.asarray((1.0 + rate) ** np.asarray(t, dtype=float))


def discount_factor(rate: float, t: ArrayLike) -> Amounts:
    """
    What an amount at time t is worth on the delivery day.

    Parameters
    ----------
    rate : float
        Nominal discount rate. [1/year]
    t : array_like
        Time since delivery. [year]

    Returns
    -------
    ndarray, shape of t
        1 / (1 + rate)^t. [-]
    """
    return 1.0 / growth_factor(rate, t)


def present_value(amounts: ArrayLike, t: ArrayLike, rate: float) -> float:
    """
    Worth on the delivery day of dated amounts.

    Parameters
    ----------
    amounts : array_like, shape (n,)
        Nominal amounts. [money]
    t : array_like, shape (n,)
        Their times since delivery. [year]
    rate : float
        Nominal discount rate. [1/year]

    Returns
    -------
    float
        Sum of amounts x discount factor. [money]

    >>> round(present_value([110.0, 121.0], [1.0, 2.0], 0.10), 9)
    200.0
    """
    return float(np.sum(np.asarray(amounts, dtype=float) * discount_factor(rate, t)))


def annuity_factor(rate: float, years: float) -> float:
    """
    Present value of 1 at the end of each year.

    Parameters
    ----------
    rate : float
        Discount rate. [1/year]
    years : float
        Number of years. [year]

    Returns
    -------
    float
        (1 - (1 + rate)^-years) / rate, and years at rate 0. [year]
    """
    return years if abs(rate) < 1e-12 else float(-np.expm1(-years * np.log1p(rate)) / rate)


def capital_recovery_factor(rate: float, years: float) -> float:
    """
    Equal yearly sum that a present value of 1 is worth.

    Parameters
    ----------
    rate : float
        Discount rate. [1/year]
    years : float
        Number of years, above 0. [year]

    Returns
    -------
    float
        rate / (1 - (1 + rate)^-years), and 1 / years at rate 0. [1/year]
    """
    return 1.0 / annuity_factor(rate, years)


def loan_payment(principal: float, yearly_rate: float, months: int) -> float:
    """
    Monthly payment in arrears that repays a loan.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    yearly_rate : float
        Yearly rate; a month's is a twelfth. [1/year]
    months : int
        Number of payments.

    Returns
    -------
    float
        Payment of one month. [money]
    """
    return principal * capital_recovery_factor(yearly_rate / MONTHS_IN_A_YEAR, months)


def loan_balances(principal: float, yearly_rate: float, months: int) -> Amounts:
    """
    What is still owed after each payment.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    yearly_rate : float
        Yearly rate; a month's is a twelfth. [1/year]
    months : int
        Number of payments.

    Returns
    -------
    ndarray, shape (months + 1,)
        Balance after 0, 1, ... payments. [money]
    """
    rate, payment = yearly_rate / MONTHS_IN_A_YEAR, loan_payment(principal, yearly_rate, months)
    left = np.array([annuity_factor(rate, months - paid) for paid in range(months + 1)])
    return payment * left


def loan_interest(principal: float, yearly_rate: float, months: int) -> Amounts:
    """
    Interest part of each payment.

    Parameters
    ----------
    principal : float
        Sum lent. [money]
    yearly_rate : float
        Yearly rate; a month's is a twelfth. [1/year]
    months : int
        Number of payments.

    Returns
    -------
    ndarray, shape (months,)
        Interest in payments 1, 2, ... [money]
    """
    return loan_balances(principal, yearly_rate, months)[:-1] * (yearly_rate / MONTHS_IN_A_YEAR)
