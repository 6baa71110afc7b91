"""What a loan costs a month."""

from __future__ import annotations

from math import expm1, inf, log1p

MONTHS = 12


def loan_payment(principal: float, rate: float, years: int) -> float:
    r"""Payment at the end of every month that pays a loan off, the annuity with interest counted month by month.

    Parameters
    ----------
    principal : float
        What is borrowed; a negative one, money that need not be borrowed, gives a negative payment. [$]
    rate : float
        Nominal interest a year, a twelfth of it a month, ≥ 0. [-]
    years : int
        Until it is paid off, ≥ 1. [yr]

    Returns
    -------
    float
        :math:`P q / (1 - (1 + q)^{-n})` with :math:`q` a month's interest and :math:`n` months; an equal share of the
        principal where nothing is charged. [$/month]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(loan_payment(1000.0, 0.12, 1), 2)
    88.85
    """
    if not -inf < principal < inf:
        raise ValueError(f"the loan is {principal:g} $; it has to be a number")
    if not 0 <= rate < inf:
        raise ValueError(f"the interest is {rate:g} a year; it has to be 0 or more")
    if not 1 <= years < inf:
        raise ValueError(f"the loan runs {years:g} years; it has to be 1 or more")
    payments = MONTHS * years
    interest = rate / MONTHS
    # Written so that nothing cancels at small rates.
    share = -interest / expm1(-payments * log1p(interest)) if interest else 1 / payments
    return principal * share
