"""What money of later years is worth today, and the foam thickness that is worth its price in plain air.

References
----------
.. [1] NIST Handbook 135, *Life-Cycle Costing Manual for the Federal Energy Management Program*, 1995 edition.
.. [2] A. Hasan, *Optimizing insulation thickness for buildings using life cycle cost*, Applied Energy 63 (1999)
   [memory].
"""

from __future__ import annotations

from math import exp, expm1, inf, log1p, sqrt

DAY = 86400.0
"""Seconds of a day. [s]"""


def single_worth(rate: float, years: float) -> float:
    """Worth today of one payment in some years, the single present value factor of [1]_.

    Parameters
    ----------
    rate : float
        Real discount rate a year, > -1. [-]
    years : float
        Years until then, ≥ 0. [yr]

    Returns
    -------
    float
        :math:`SPV = (1+d)^{-n}`. [-]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(single_worth(0.03, 30), 4)
    0.412
    """
    _check(rate, "the discount rate")
    _check_years(years)
    return exp(-years * log1p(rate))


def uniform_worth(rate: float, years: int) -> float:
    """Worth today of the same payment at the end of every year, the uniform present value factor of [1]_.

    Parameters
    ----------
    rate : float
        Real discount rate a year, > -1. [-]
    years : int
        Number of payments, ≥ 0. [yr]

    Returns
    -------
    float
        :math:`UPV = [1-(1+d)^{-n}]/d`, the number of years where the rate is 0. [-]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(uniform_worth(0.03, 30), 4)
    19.6004
    """
    return escalating_worth(rate, 0.0, years)


def escalating_worth(rate: float, escalation: float, years: int) -> float:
    r"""Worth today of a yearly payment whose price rises, the modified uniform present value factor of [1]_.

    Parameters
    ----------
    rate : float
        Real discount rate a year, > -1. [-]
    escalation : float
        Real rise of the price a year, > -1. [-]
    years : int
        Number of payments, ≥ 0; the first, a year from now, has risen once. [yr]

    Returns
    -------
    float
        :math:`UPV^* = \frac{1+e}{d-e}[1-(\frac{1+e}{1+d})^n]`, the number of years where both rates are equal. [-]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(escalating_worth(0.03, 0.01, 20), 4)
    16.3827
    """
    _check(rate, "the discount rate")
    _check(escalation, "the escalation")
    _check_years(years)
    # The sum of growth^t, written so that nothing cancels when the two rates are all but equal.
    growth = log1p(escalation) - log1p(rate)
    return exp(growth) * expm1(growth * years) / expm1(growth) if growth else float(years)


def economic_thickness(
    conductivity: float, resistance: float, volume_price: float, degree_days: float, worth: float
) -> float:
    r"""Foam thickness of least life-cycle cost where outdoor air lies on the other side [2]_.

    It holds for parts that face air only: there the heat is conductance times degree days. Ground takes a share of
    the resistance that depends on the foam itself.

    Parameters
    ----------
    conductivity : float
        Of the foam, > 0. [W/(m·K)]
    resistance : float
        Of the part without foam, both films included, > 0. [m²·K/W]
    volume_price : float
        Price of the foam by volume, ≥ 0; what is paid by area alone does not move the answer. [$/m³]
    degree_days : float
        Heating degree days, ≥ 0. [K·d]
    worth : float
        Worth today of a joule of heat in every year that counts: fuel price over heat content and efficiency, times
        the factor of :func:`escalating_worth`, ≥ 0. [$/J]

    Returns
    -------
    float
        :math:`x = \sqrt{86400\,HDD\,w\,k / C_i} - k R_0`, at least 0, infinite where the foam costs nothing. [m]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(economic_thickness(0.03, 0.5, 300.0, 4000.0, 6e-7), 4)
    0.129
    """
    for value, name in ((conductivity, "the conductivity of the foam"), (resistance, "the bare resistance")):
        if not 0 < value < inf:
            raise ValueError(f"{name} is {value:g}; it has to be more than 0")
    for value, name in (
        (volume_price, "the price of the foam"),
        (degree_days, "the heating degree days"),
        (worth, "the worth of heat"),
    ):
        if not 0 <= value < inf:
            raise ValueError(f"{name} is {value:g}; it has to be 0 or more")
    if volume_price == 0:
        return inf if degree_days * worth > 0 else 0.0
    return max(0.0, sqrt(DAY * degree_days * worth * conductivity / volume_price) - conductivity * resistance)


def _check(rate: float, name: str) -> None:
    if not -1 < rate < inf:
        raise ValueError(f"{name} is {rate:g} a year; it has to be more than -1")


def _check_years(years: float) -> None:
    if not 0 <= years < inf:
        raise ValueError(f"the time is {years:g} years; it has to be 0 or more")
