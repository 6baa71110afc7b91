"""Prices of the count: how far each may be off, and whether its quote has grown stale."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from foundation.model.heat import Band

QUOTED_BAND = 0.05
"""How far off a fresh quote may still be by the day of the work [practice]. [-]"""
INVENTED = "invented for comparing, nobody has quoted"
"""Source of a price that stands in for a quote."""


@dataclass(frozen=True)
class Quote:
    """A price, and who gave it.

    Attributes
    ----------
    price : float
        Price, ≥ 0. [$ per SI unit of what it buys]
    day : date or None
        Day of the quote; None where nobody has quoted and the price is made up.
    source : str
        Who quoted, "" for nobody.
    """

    price: float
    day: datetime.date | None = None
    source: str = ""


@dataclass(frozen=True)
class PriceBand:
    """A price with what is uncertain about it.

    Attributes
    ----------
    price : Band
        Low, likely and high. [$ per SI unit of what it buys]
    quoted : bool
        Whether somebody has quoted.
    stale : bool
        Whether that is longer ago than quotes are good for.
    source : str
        Who quoted and when, or that it is invented.
    """

    price: Band
    quoted: bool
    stale: bool
    source: str


def price_band(quote: Quote, today: datetime.date | None, stale_after: float, band: float) -> PriceBand:
    """How far off a price may be: little for a fresh quote, the project's band for a stale one or none.

    Parameters
    ----------
    quote : Quote
        The price.
    today : date or None
        Day that a quote's age is counted to; None where nobody asks for it, and none is stale.
    stale_after : float
        Days after which a quote is stale. [d]
    band : float
        How far off a price without a fresh quote may be. [-]

    Returns
    -------
    PriceBand
        The price with its band.

    Examples
    --------
    >>> quote = Quote(100.0, datetime.date(2026, 3, 1), "the yard")
    >>> found = price_band(quote, datetime.date(2026, 3, 20), 90, 0.3)
    >>> found.price.low, found.price.high, found.stale
    (95.0, 105.0, False)
    """
    stale = is_stale(quote.day, today, stale_after)
    off = QUOTED_BAND if quote.day is not None and not stale else band
    said = f"{quote.source or 'quoted'}, {quote.day.isoformat()}" if quote.day is not None else INVENTED
    price = Band(quote.price * (1 - off), quote.price, quote.price * (1 + off))
    return PriceBand(price, quote.day is not None, stale, said)


def is_stale(day: datetime.date | None, today: datetime.date | None, stale_after: float) -> bool:
    """Whether a quote is older than quotes are good for.

    Parameters
    ----------
    day : date or None
        Day of the quote, None for no quote.
    today : date or None
        Day that its age is counted to, None where nobody asks.
    stale_after : float
        Days after which it is stale. [d]

    Returns
    -------
    bool
        True where it is older; what nobody has quoted cannot be.
    """
    return day is not None and today is not None and (today - day).days > stale_after


def total(bands: Iterable[Band]) -> Band:
    """Sum of money; all of it low together, or high together.

    Parameters
    ----------
    bands : iterable of Band
        What is summed. [$]

    Returns
    -------
    Band
        The sum. [$]
    """
    every = list(bands)
    return Band(sum(b.low for b in every), sum(b.likely for b in every), sum(b.high for b in every))


def times(band: Band, amount: float) -> Band:
    """A price times an amount.

    Parameters
    ----------
    band : Band
        Price. [$ per SI unit]
    amount : float
        How much, ≥ 0. [SI unit]

    Returns
    -------
    Band
        Money. [$]
    """
    return Band(band.low * amount, band.likely * amount, band.high * amount)
