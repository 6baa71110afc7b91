"""Traps of money: quotes that have grown stale, and a payback that rests on one fuel price."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping

from foundation.cautions import register
from foundation.cautions.words import listed
from foundation.model.caution import Amount, Caution

STALE_AFTER = 90.0
"""Days after which a quote is stale [practice]. [d]"""


def stale_prices(
    quotes: Mapping[str, datetime.date], today: datetime.date, stale_after: float = STALE_AFTER
) -> list[Caution]:
    """A price is older than quotes are good for.

    Parameters
    ----------
    quotes : mapping of str to date
        Day of each quote, by what it prices; what nobody has quoted is not in it.
    today : date
        Day that their age is counted to.
    stale_after : float
        Days after which a quote is stale. [d]

    Returns
    -------
    list of Caution
        None or one, at the oldest.
    """
    ages = {what: (today - day).days for what, day in quotes.items()}
    old = sorted((what for what, age in ages.items() if age > stale_after), key=lambda what: -ages[what])
    if not old:
        return []
    sentence = (
        f"Quoted more than {{good}} days ago: {listed(old)}; the oldest is {{age}} days old. Ask again before you rely "
        "on the sum."
    )
    amounts = {"age": Amount(float(ages[old[0]]), "number"), "good": Amount(stale_after, "number")}
    return [Caution(register.STALE_PRICE, "prices", sentence, amounts)]


def payback_on_one_price(paybacks: Iterable[tuple[str, float, float]]) -> list[Caution]:
    """A payback is told for one fuel price alone.

    Parameters
    ----------
    paybacks : iterable of tuple
        What pays back, and the lowest and the highest yearly rise of the fuel's price that it is told for. [-]

    Returns
    -------
    list of Caution
        One for each that has no range.
    """
    return [
        Caution(
            register.ONE_FUEL_PRICE,
            what,
            "Its payback rests on one fuel price that rises by {rise} a year: tell it as a range.",
            {"rise": Amount(low, "percent")},
        )
        for what, low, high in paybacks
        if high - low < 1e-9
    ]
