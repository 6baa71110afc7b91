"""A line of the count before it has a price, and the words of its formulas."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from foundation import units
from foundation.model.takeoff import Piece

AREA, VOLUME, LENGTH, NUMBER, MASS = "area", "volume", "length", "number", "mass"
POUND = 0.45359237
"""A pound, by definition. [kg]"""


@dataclass(frozen=True)
class Drawn:
    """A line of the count before it has a price.

    Attributes
    ----------
    key, group, pour, what, kind : str
        As in `foundation.model.takeoff.Item`.
    order : float
        As ordered. [SI unit of its kind]
    order_words : str
        The order in the trade's words.
    formula : str
        How it is worked out.
    pieces : tuple of Piece
        What it sums.
    price : str
        Field of the project's prices, ``board`` for foam at its board's price, "" where it is in another price.
    board : str
        Board, for foam.
    thickness : float
        Of the foam. [m]
    """

    key: str
    group: str
    pour: str
    what: str
    kind: str
    order: float
    order_words: str
    formula: str
    pieces: tuple[Piece, ...]
    price: str
    board: str = field(default="")
    thickness: float = field(default=0.0)

    @property
    def quantity(self) -> float:
        """As drawn: the sum of the pieces. [SI unit of its kind]"""
        return sum(piece.quantity for piece in self.pieces)


@dataclass(frozen=True)
class Words:
    """How lengths, areas and volumes stand in the count.

    Attributes
    ----------
    system : str
        ``us`` or ``metric``.
    """

    system: str

    def length(self, value: float) -> str:
        """A length.

        Parameters
        ----------
        value : float
            Length. [m]

        Returns
        -------
        str
            In feet and inches, or metres.
        """
        return units.length(value, self.system)

    def level(self, value: float) -> str:
        """A level, as surveyors read it.

        Parameters
        ----------
        value : float
            Level. [m]

        Returns
        -------
        str
            In decimal feet, or metres.
        """
        return units.decimal_feet(value) if self.system == "us" else units.metres(value)

    def size(self, value: float) -> str:
        """A thickness or a width.

        Parameters
        ----------
        value : float
            Length. [m]

        Returns
        -------
        str
            In inches, or millimetres.
        """
        return units.inches(value) if self.system == "us" else units.millimetres(value)

    def of(self, value: float, kind: str) -> str:
        """An amount of any kind.

        Parameters
        ----------
        value : float
            The amount. [SI unit of its kind]
        kind : str
            Its kind, such as ``area``.

        Returns
        -------
        str
            With its unit.
        """
        if kind == NUMBER:
            return f"{value:g}"
        if kind == MASS:
            return f"{value / POUND:,.1f} lb" if self.system == "us" else f"{value:,.1f} kg"
        if kind == LENGTH and self.system == "us":
            return units.decimal_feet(value, 1)
        return units.write(value, kind, self.system)

    def span(self, line: str, start: float, end: float) -> str:
        """A stretch of a wall line.

        Parameters
        ----------
        line : str
            Name of the line.
        start, end : float
            Stations. [m]

        Returns
        -------
        str
            Such as ``A-B 0'-0" to 44'-0"``.
        """
        return f"{line} {self.length(start)} to {self.length(end)}"


def by_name(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Pieces as they were found, those of nothing left out.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces.

    Returns
    -------
    tuple of Piece
        Those that count.
    """
    return tuple(piece for piece in pieces if abs(piece.quantity) > 1e-12)
