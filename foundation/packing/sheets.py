"""Cutting rectangles from stock sheets: straight cuts from edge to edge, cut-offs used again.

Finding the fewest sheets is hard in general; here several greedy orders are tried and the best is kept, which on small
jobs is the best there is and on large ones comes close to the sheets' area. Everything is deterministic.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import permutations
from math import ceil

FIT = 1e-6
"""Sides closer than a micrometre are equal. [m]"""
FEW = 6
"""Up to so many pieces every order is tried."""
THINNEST = 0.02
"""Cut-offs narrower than this are thrown away. [m]"""


@dataclass(frozen=True)
class Cut:
    """A rectangle that is wanted.

    Attributes
    ----------
    name : str
        Where it goes.
    length, width : float
        Its sides; it may be turned. [m]
    """

    name: str
    length: float
    width: float

    @property
    def area(self) -> float:
        """Its area. [m²]"""
        return self.length * self.width


@dataclass(frozen=True)
class Placed:
    """A piece as it is cut from a sheet.

    Attributes
    ----------
    cut : Cut
        The piece.
    x, y : float
        Its corner on the sheet, along the sheet's length and across. [m]
    dx, dy : float
        Its sides on the sheet. [m]
    """

    cut: Cut
    x: float
    y: float
    dx: float
    dy: float


@dataclass(frozen=True)
class Sheet:
    """A sheet, and what is cut from it.

    Attributes
    ----------
    placed : tuple of Placed
        Pieces in the order of cutting.
    left : tuple of tuple of float
        Cut-offs that remain: corner, and sides along the sheet's length and across. [m]
    """

    placed: tuple[Placed, ...]
    left: tuple[tuple[float, float, float, float], ...]


_Free = tuple[int, float, float, float, float]
"""A free rectangle: its sheet, corner and sides."""


def cut_sheets(pieces: Iterable[Cut], length: float, width: float) -> tuple[Sheet, ...]:
    """Sheets to buy, and how the pieces are cut from them.

    Parameters
    ----------
    pieces : iterable of Cut
        What is wanted; none larger than a sheet.
    length, width : float
        Sides of a sheet. [m]

    Returns
    -------
    tuple of Sheet
        As few as were found.

    Raises
    ------
    ValueError
        If a piece does not fit on a sheet, or has no size.

    Examples
    --------
    Five strips of 2 × 4 ft from sheets of 4 × 8 ft: four from the first.

    >>> [len(sheet.placed) for sheet in cut_sheets([Cut("edge", 4.0, 2.0)] * 5, 8.0, 4.0)]
    [4, 1]
    """
    wanted = list(pieces)
    for piece in wanted:
        long, short = max(piece.length, piece.width), min(piece.length, piece.width)
        if short <= 0 or long > max(length, width) + FIT or short > min(length, width) + FIT:
            raise ValueError(
                f"{piece.name}: {long:.3f} × {short:.3f} m cannot be cut from a sheet of {length:.3f} × {width:.3f} m"
            )
    # A piece as large as a sheet takes one, in whatever order.
    whole = [piece for piece in wanted if piece.area > length * width - FIT]
    rest = [piece for piece in wanted if piece.area <= length * width - FIT]
    full = tuple(Sheet((Placed(piece, 0.0, 0.0, length, width),), ()) for piece in whole)
    least = ceil(sum(piece.area for piece in rest) / (length * width) - FIT)
    best: tuple[Sheet, ...] | None = None
    for order in _orders(rest):
        for larger in (True, False):
            found = _greedy(order, length, width, larger)
            if best is None or len(found) < len(best):
                best = found
            if len(best) <= least:
                return full + best
    return full + (best or ())


def tiles(name: str, length: float, width: float, along: float, across: float) -> list[Cut]:
    """A rectangle larger than a sheet, laid in whole sheets from one corner and what is left at its far sides.

    Parameters
    ----------
    name : str
        Where it is.
    length, width : float
        Its sides. [m]
    along, across : float
        Sides of a sheet as it lies, along the length and along the width. [m]

    Returns
    -------
    list of Cut
        Pieces no larger than a sheet, course by course.

    Examples
    --------
    >>> [(cut.length, cut.width) for cut in tiles("wall", 10.0, 3.0, 8.0, 4.0)]
    [(8.0, 3.0), (2.0, 3.0)]
    """
    return [Cut(name, long, short) for short in _courses(width, across) for long in _courses(length, along)]


def _courses(length: float, step: float) -> list[float]:
    """Whole steps, and the rest."""
    count = int(length / step + FIT)
    rest = length - count * step
    return [step] * count + ([rest] if rest > FIT else [])


def _orders(pieces: Sequence[Cut]) -> Iterable[Sequence[Cut]]:
    """Orders in which the pieces are placed, the promising ones first."""

    def long(piece: Cut) -> tuple[float, float]:
        return max(piece.length, piece.width), min(piece.length, piece.width)

    yield sorted(pieces, key=lambda p: long(p), reverse=True)
    yield sorted(pieces, key=lambda p: (p.area, long(p)), reverse=True)
    yield sorted(pieces, key=lambda p: long(p)[::-1], reverse=True)
    yield sorted(pieces, key=lambda p: (sum(long(p)), long(p)), reverse=True)
    if len(pieces) <= FEW:
        yield from permutations(pieces)


def _greedy(pieces: Iterable[Cut], length: float, width: float, larger: bool) -> tuple[Sheet, ...]:
    """Each piece into the cut-off that it fills best, else into a new sheet."""
    placed: list[list[Placed]] = []
    free: list[_Free] = []
    for piece in pieces:
        spots = [
            (min(spot[3] - dx, spot[4] - dy), max(spot[3] - dx, spot[4] - dy), at, turned)
            for at, spot in enumerate(free)
            for turned, (dx, dy) in enumerate(_sides(piece))
            if dx <= spot[3] + FIT and dy <= spot[4] + FIT
        ]
        if spots:
            _, _, at, turned = min(spots)
            spot = free.pop(at)
        else:
            spot = (len(placed), 0.0, 0.0, length, width)
            placed.append([])
            fits = [i for i, (dx, dy) in enumerate(_sides(piece)) if dx <= length + FIT and dy <= width + FIT]
            turned = fits[0]
        sheet, x, y, long, across = spot
        dx, dy = _sides(piece)[turned]
        placed[sheet].append(Placed(piece, x, y, dx, dy))
        free += _cut_off(sheet, x, y, long, across, dx, dy, larger)
    return tuple(
        Sheet(tuple(cuts), tuple(spot[1:] for spot in free if spot[0] == number))
        for number, cuts in enumerate(placed)
    )


def _sides(piece: Cut) -> tuple[tuple[float, float], tuple[float, float]]:
    return (piece.length, piece.width), (piece.width, piece.length)


def _cut_off(
    sheet: int, x: float, y: float, long: float, across: float, dx: float, dy: float, larger: bool
) -> list[_Free]:
    """What a piece leaves of a free rectangle, cut from edge to edge: the larger rest stays whole, or the smaller."""
    right, above = max(0.0, long - dx), max(0.0, across - dy)
    if (right * across >= above * long) == larger:
        cuts = [(sheet, x + dx, y, right, across), (sheet, x, y + dy, dx, above)]
    else:
        cuts = [(sheet, x, y + dy, long, above), (sheet, x + dx, y, right, dy)]
    return [each for each in cuts if min(each[3], each[4]) > THINNEST]
