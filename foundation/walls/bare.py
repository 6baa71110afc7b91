"""Bare concrete: what of a wall will show outside."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import BareConcrete, Opening, WallPiece
from foundation.model.ground import Profile
from foundation.walls.openings import SHOWS_THROUGH

Array = NDArray[np.float64]
BESIDE = 1e-9
"""Just to the left or right of a station. [m]"""


def bare_concrete(
    line: str, station: Array, grade: Profile, pieces: Sequence[WallPiece], openings: Sequence[Opening]
) -> BareConcrete:
    """Concrete between finished grade and top, doors and windows taken out.

    The area is exact for a grade that is straight between its nodes: the wall is cut wherever the height that shows
    has a corner or a jump. Beam pockets and sleeves are closed again, and count as concrete.

    Parameters
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart, from 0 to its length. [m]
    grade : Profile
        Finished grade at its face.
    pieces : sequence of WallPiece
        Its concrete.
    openings : sequence of Opening
        Its openings, none overlapping another.

    Returns
    -------
    BareConcrete
        Height at each station, at a jump the greater of the two sides, and the area.
    """
    holes = [opening for opening in openings if opening.kind in SHOWS_THROUGH]
    cuts = _cuts(station, grade, pieces, holes)
    middle = (cuts[:-1] + cuts[1:]) / 2
    area = float((np.diff(cuts) * _showing(middle, grade, pieces, holes)).sum())
    sides = [
        _showing(np.clip(station + side, BESIDE, station[-1] - BESIDE), grade, pieces, holes)
        for side in (-BESIDE, BESIDE)
    ]
    return BareConcrete(line, station, np.maximum(*sides), area)


def _showing(place: Array, grade: Profile, pieces: Sequence[WallPiece], holes: Sequence[Opening]) -> Array:
    """Height of concrete that shows at places, none of them on an edge."""
    ground = np.interp(place, grade.station, grade.grade)
    height = np.zeros(len(place))
    for piece in pieces:
        here = (place > piece.start) & (place < piece.end)
        above = np.maximum(ground[here], piece.bottom)
        shows = np.maximum(0.0, piece.top - above)
        for hole in holes:
            inside = (place[here] > hole.start) & (place[here] < hole.end)
            open_ = np.maximum(0.0, min(piece.top, hole.top) - np.maximum(above, hole.bottom))
            shows -= np.where(inside, open_, 0.0)
        height[here] = shows
    return height


def _cuts(station: Array, grade: Profile, pieces: Sequence[WallPiece], holes: Sequence[Opening]) -> Array:
    """Stations between which the height that shows is straight."""
    edged: list[WallPiece | Opening] = [*pieces, *holes]
    sides = [side for each in edged for side in (each.start, each.end)]
    levels = np.array([level for each in edged for level in (each.bottom, each.top)])
    gap = grade.grade[None, :] - levels[:, None]
    row, node = np.nonzero(gap[:, :-1] * gap[:, 1:] < 0)
    before, after = np.abs(gap[row, node]), np.abs(gap[row, node + 1])
    crossing = grade.station[node] + before / (before + after) * np.diff(grade.station)[node]
    cuts = np.unique(np.concatenate([[0.0, station[-1]], grade.station, sides, crossing]))
    return cuts[(cuts >= 0.0) & (cuts <= station[-1])]
