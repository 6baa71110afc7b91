"""After how many years savings have paid for what was spent, at today's worth.

References
----------
.. [1] NIST Handbook 135, *Life-Cycle Costing Manual for the Federal Energy Management Program*, 1995 edition:
   discounted payback [memory].
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf


def payback(added_cost: float, savings: Sequence[float]) -> float:
    """Years until the savings' worth has reached what was spent more, the discounted payback of [1]_.

    Parameters
    ----------
    added_cost : float
        Spent more at the start; nothing has to be paid back where it is 0 or less. [$]
    savings : sequence of float
        Worth today of what is saved in the first year, the second, and so on; negative where it costs more. [$]

    Returns
    -------
    float
        Years, the last one in part as its saving is used; infinite where the given years do not suffice. [yr]

    Examples
    --------
    >>> payback(250.0, [100.0, 100.0, 100.0])
    2.5
    >>> payback(250.0, [100.0, 100.0])
    inf
    """
    if added_cost <= 0:
        return 0.0
    paid = 0.0
    for year, saving in enumerate(savings):
        if paid + saving >= added_cost:
            return year + (added_cost - paid) / saving
        paid += saving
    return inf


def yearly_worths(amount: float, discount_rate: float, escalation: float, years: int) -> list[float]:
    """Worth today of each year's amount whose price rises; their sum is the amount times the factor UPV* of [1]_.

    Parameters
    ----------
    amount : float
        A year's amount at today's price. [$]
    discount_rate : float
        Real discount rate a year, > -1. [-]
    escalation : float
        Real rise of the price a year, > -1. [-]
    years : int
        How many; the first is a year from now and has risen once. [yr]

    Returns
    -------
    list of float
        Worth of each. [$]

    Examples
    --------
    >>> [round(worth, 2) for worth in yearly_worths(100.0, 0.03, 0.01, 2)]
    [98.06, 96.15]
    """
    growth = (1 + escalation) / (1 + discount_rate)
    return [amount * growth**year for year in range(1, years + 1)]
