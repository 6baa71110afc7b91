"""The free floor cut into square cells, two rows wide: a tube that walks round joined cells lies in rows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

TOUCH = 1e-6
"""Tube may lie on the edge of the free floor. [m]"""
FINEST = 0.75
"""Rows are laid nearer than asked down to this share of it, where that leaves no floor without tube. [-]"""


@dataclass(frozen=True, eq=False)
class Lattice:
    """Cells of free floor, rows along x; a cell holds four points a pitch apart, and cells lie a pitch apart.

    Attributes
    ----------
    pitch : float
        Between neighbouring rows. [m]
    left, low : float
        East and north of the first cell's lower left point. [m]
    free : ndarray of bool, shape (rows, columns)
        Cells that tube may walk round.
    """

    pitch: float
    left: float
    low: float
    free: NDArray[np.bool_]

    def corner(self, row: int, column: int, node: int) -> tuple[float, float]:
        """Where a point of a cell lies.

        Parameters
        ----------
        row, column : int
            The cell. [-]
        node : int
            Lower left, lower right, upper right, upper left, from 0. [-]

        Returns
        -------
        tuple of float
            East and north. [m]
        """
        return (
            self.left + self.pitch * (2 * column + (node in (1, 2))),
            self.low + self.pitch * (2 * row + (node in (2, 3))),
        )


def row_pitch(extent: float, spacing: float, from_edge: float, tightest: float) -> tuple[float, float]:
    """Pitch of rows across a width, an even number of them: tube that comes back has gone out.

    Rows keep the spacing where no floor beside the outermost is then farther than it from tube; else they lie nearer.

    Parameters
    ----------
    extent : float
        Width that rows may lie in. [m]
    spacing : float
        Pitch that is asked. [m]
    from_edge : float
        Between that width and the walls. [m]
    tightest : float
        Least pitch that the bends allow. [m]

    Returns
    -------
    pitch : float
        Between rows. [m]
    start : float
        From the edge of the width to the first row. [m]

    Examples
    --------
    Thirteen spacings hold fourteen rows; a fourteenth spacing is made good by rows a little nearer.

    >>> row_pitch(13.0, 1.0, 0.5, 0.5)
    (1.0, 0.0)
    >>> pitch, start = row_pitch(14.5, 1.0, 0.5, 0.5)
    >>> round(15 * pitch, 6), start
    (14.5, 0.0)
    """
    pairs = max(1, int((extent / spacing + 1 + 1e-9) / 2))
    left_over = max(0.0, extent - (2 * pairs - 1) * spacing)
    to_spare = max(0.0, spacing - from_edge)
    finer = extent / (2 * pairs + 1)
    if left_over > 2 * to_spare and finer >= max(FINEST * spacing, tightest):
        return finer, 0.0
    return spacing, max(left_over / 2 if left_over > 2 * to_spare else 0.0, left_over - to_spare, 0.0)


def lattice(floor: BaseGeometry, pitch: float, left: float, low: float, beside: float) -> Lattice:
    """Cells of a floor.

    Parameters
    ----------
    floor : shapely geometry
        Where tube may lie.
    pitch : float
        Between rows. [m]
    left, low : float
        A point of the lattice, not right of or above the floor's bounds by a cell. [m]
    beside : float
        What turns reach beyond their rows. [m]

    Returns
    -------
    Lattice
        Its cells; two that lie beside each other are joined.
    """
    _, _, right, high = floor.bounds
    columns = max(1, int(np.ceil((right - left) / (2 * pitch))) + 1)
    rows = max(1, int(np.ceil((high - low) / (2 * pitch))) + 1)
    x = left + 2 * pitch * np.arange(columns)
    y = low + 2 * pitch * np.arange(rows)
    east, north = np.meshgrid(x, y)
    grown = floor.buffer(TOUCH)
    shapely.prepare(grown)
    below, above = north - beside, north + pitch + beside
    before, after = east - beside, east + pitch + beside
    free = shapely.covers(grown, shapely.box(before, below, after, above))
    across = shapely.covers(grown, shapely.box(before, below, after + 2 * pitch, above))
    upward = shapely.covers(grown, shapely.box(before, below, after, above + 2 * pitch))
    for row in range(rows):
        for column in range(columns):
            # what stands between two free cells takes the later of them
            if not free[row, column]:
                continue
            if (column and free[row, column - 1] and not across[row, column - 1]) or (
                row and free[row - 1, column] and not upward[row - 1, column]
            ):
                free[row, column] = False
    return Lattice(pitch, left, low, np.asarray(free, dtype=bool))
