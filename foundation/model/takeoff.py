"""Nouns of the count: what is ordered, from what pieces, at what price."""

from __future__ import annotations

from dataclasses import dataclass

from foundation.model.heat import Band


@dataclass(frozen=True)
class Piece:
    """One thing that a quantity sums.

    Attributes
    ----------
    name : str
        Where it is, such as ``A-B 0'-0" to 44'-0"``.
    formula : str
        How it is worked out, with its numbers in the reader's words.
    quantity : float
        How much. [in the unit of its item]
    """

    name: str
    formula: str
    quantity: float


@dataclass(frozen=True)
class Item:
    """One line of the count.

    Attributes
    ----------
    key : str
        Its stable name, such as ``concrete-footings``.
    group : str
        What it belongs to: ``concrete``, ``bars``, ``forms``, ``foam``, ``under the slab``, ``drain``, ``tube``,
        ``digging``.
    pour : str
        Pour it goes with, "" for none: ``footings``, ``walls`` or the slab of a part.
    what : str
        What it is, in words.
    kind : str
        Kind of quantity: ``volume``, ``area``, ``length``, ``number`` or ``mass``.
    quantity : float
        As drawn. [SI unit of its kind]
    order : float
        As ordered, with waste, whole sheets, bars, coils or quarter yards. [SI unit of its kind]
    order_words : str
        The order in the trade's words, such as ``17.25 yd³`` or ``38 sheets 4 × 8 ft``.
    formula : str
        How it is worked out.
    pieces : tuple of Piece
        What it sums.
    price : Band
        Of a unit, with the quote's band. [$ per SI unit of its kind]
    money : Band
        Of the order. [$]
    quoted : bool
        Whether the price has a day.
    stale : bool
        Whether that day is longer ago than quotes are good for.
    source : str
        Who quoted, or that it is invented.
    """

    key: str
    group: str
    pour: str
    what: str
    kind: str
    quantity: float
    order: float
    order_words: str
    formula: str
    pieces: tuple[Piece, ...]
    price: Band
    money: Band
    quoted: bool
    stale: bool
    source: str


@dataclass(frozen=True)
class PourOrder:
    """One pour: what comes in trucks, and how long it takes.

    Attributes
    ----------
    name : str
        Which pour.
    state : str
        ``planned``, ``ordered`` or ``poured``.
    concrete : float
        As drawn. [m³]
    order : float
        As ordered, up to the next quarter yard. [m³]
    trucks : int
        Trucks. [-]
    hours : float
        At the rise rate, for walls; nan for others. [h]
    mix : str
        Mix in words, "" where nobody has told.
    """

    name: str
    state: str
    concrete: float
    order: float
    trucks: int
    hours: float
    mix: str


@dataclass(frozen=True)
class TakeOff:
    """Everything that is ordered for one stepping.

    Attributes
    ----------
    items : tuple of Item
        Lines of the count.
    pours : tuple of PourOrder
        Pours in the order of the work.
    money : Band
        All of it. [$]
    notes : tuple of str
        What was left out or assumed, in sentences: ``no steel entered``.
    """

    items: tuple[Item, ...]
    pours: tuple[PourOrder, ...]
    money: Band
    notes: tuple[str, ...]
