"""The top-of-wall line: where full concrete may drop to a framed wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import TopOfWall
from foundation.model.ground import Profile

Array = NDArray[np.float64]
FIT = 1e-6
"""Levels closer than a micrometre are equal. [m]"""


@dataclass(frozen=True)
class GradedLine:
    """A wall line with the grade at its outer face.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart, from 0 to its length. [m]
    grade : Profile or None
        Finished grade at its face; None where another space lies beyond it, and no wood may take its place.
    """

    line: str
    station: Array
    grade: Profile | None


def tops_of(
    lines: Sequence[GradedLine],
    full_top: float,
    low_top: float,
    clearance: float,
    round_corners: tuple[float, float] = (math.nan, math.nan),
) -> tuple[TopOfWall, ...]:
    """Where a wall may stop at a low top, because the finished grade stays well below it.

    It may drop over the longest stretch that reaches from an end of the wall as far as the grade stays the clearance
    below the low top at every inch and at every break of the grade between two inches; a stretch in the middle, that
    reaches neither end, stays full. The stretch ends at a whole inch on its safe side.

    Parameters
    ----------
    lines : sequence of GradedLine
        The wall's lines in order, one unless other walls tee into it.
    full_top, low_top : float
        Top of the full wall, and of the concrete under the framed wall. [m]
    clearance : float
        Height that wood keeps above grade. [m]
    round_corners : tuple of float
        Grade at the wall's first and last corner by the lines round those corners, nan for none: at a corner the
        higher of the two decides, so that a drop holds for both walls that meet there. [m]

    Returns
    -------
    tuple of TopOfWall
        One for each line that has grade beside it.
    """
    place, need, inch = _along(lines, clearance)
    for end, other in zip((0, -1), round_corners, strict=True):
        need[end] = np.fmax(need[end], other + clearance)
    drop = _longest_from_an_end(place, need <= low_top + FIT, inch)
    found = []
    offset = 0.0
    for number, graded in enumerate(lines):
        length = float(graded.station[-1])
        if graded.grade is not None:
            needed = np.interp(graded.station, graded.grade.station, graded.grade.grade) + clearance
            if number == 0:
                needed[0] = need[0]
            if number == len(lines) - 1:
                needed[-1] = need[-1]
            part = _within(drop, offset, length)
            found.append(TopOfWall(graded.line, graded.station, needed, full_top, low_top, *part))
        offset += length
    return tuple(found)


def _along(lines: Sequence[GradedLine], clearance: float) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Places along the whole wall, what each needs (inf where no wood may stand), and which are inch stations."""
    places, needs, inches = [], [], []
    offset = 0.0
    for graded in lines:
        length = float(graded.station[-1])
        place = graded.station
        need = np.full(len(place), np.inf)
        if graded.grade is not None:
            nodes = graded.grade.station
            place = np.union1d(place, nodes[(nodes > 0) & (nodes < length)])
            need = np.interp(place, nodes, graded.grade.grade) + clearance
        places.append(offset + place)
        needs.append(need)
        inches.append(np.isin(place, graded.station))
        offset += length
    return np.concatenate(places), np.concatenate(needs), np.concatenate(inches)


def _longest_from_an_end(
    place: Array, allowed: NDArray[np.bool_], inch: NDArray[np.bool_]
) -> tuple[float, float] | None:
    if allowed.all():
        return float(place[0]), float(place[-1])
    barred = np.flatnonzero(~allowed)
    first, last = inch[: barred[0]], inch[barred[-1] + 1 :]
    head = float(place[: barred[0]][first][-1]) - float(place[0]) if first.any() else 0.0
    tail = float(place[-1]) - float(place[barred[-1] + 1 :][last][0]) if last.any() else 0.0
    if max(head, tail) < FIT:
        return None
    return (
        (float(place[0]), float(place[0]) + head)
        if head >= tail
        else (float(place[-1]) - tail, float(place[-1]))
    )


def _within(
    drop: tuple[float, float] | None, offset: float, length: float
) -> tuple[float, float] | tuple[None, None]:
    """The part of a stretch that lies on one line, in its own stations."""
    if drop is None:
        return None, None
    start, end = max(0.0, drop[0] - offset), min(length, drop[1] - offset)
    return (start, end) if end - start > FIT else (None, None)
