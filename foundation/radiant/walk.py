"""The walk round joined cells: a closed path that never crosses itself, and passes each point of each cell once."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foundation.radiant.lattice import Lattice
from foundation.radiant.serpentine import Cell, Links

SIDES = ((-1, 0, 3), (0, 1, 0), (1, 0, 1), (0, -1, 2))
"""Of each point of a cell: the side that leads to the next, as rows, columns, and the neighbour's point beyond it."""


def walk(links: Links, grid: Lattice, shifts: dict[Cell, float]) -> NDArray[np.float64]:
    """Walk round joined cells, anticlockwise.

    Parameters
    ----------
    links : set of pairs of cells
        A tree of cells.
    grid : Lattice
        Where they lie.
    shifts : dict
        How far a cell is moved east, [m]; 0 where it says nothing.

    Returns
    -------
    ndarray, shape (n, 2)
        Corners of the closed path, the first not repeated. [m]
    """
    joined = links | {(two, one) for one, two in links}
    start = min(cell for pair in links for cell in pair)
    cell, node = start, 0
    points = []
    while True:
        east, north = grid.corner(*cell, node)
        points.append((east + shifts.get(cell, 0.0), north))
        rows, columns, beyond = SIDES[node]
        other = (cell[0] + rows, cell[1] + columns)
        cell, node = (other, beyond) if (cell, other) in joined else (cell, (node + 1) % 4)
        if (cell, node) == (start, 0):
            break
    path = np.array(points)
    before, after = path - np.roll(path, 1, axis=0), np.roll(path, -1, axis=0) - path
    corner = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]) > 1e-12
    return path[corner]


def stretch(
    loops: list[Links], grid: Lattice, floor: BaseGeometry, most: float, beside: float
) -> list[dict[Cell, float]]:
    """How far cells at the ends of rows can be moved outward, to the edge of the free floor.

    Parameters
    ----------
    loops : list of set of pairs of cells
        Trees of all loops.
    grid : Lattice
        Where they lie.
    floor : shapely geometry
        Where tube may lie.
    most : float
        Farthest move. [m]
    beside : float
        What turns reach beyond their rows. [m]

    Returns
    -------
    list of dict
        Of each loop, moves of its cells, east. [m]
    """
    used = {cell for links in loops for pair in links for cell in pair}
    found: list[dict[Cell, float]] = []
    for links in loops:
        moves: dict[Cell, float] = {}
        cells = {cell for pair in links for cell in pair}
        level = {pair for pair in links if pair[0][0] == pair[1][0]}
        stacked = {pair for pair in links if pair[0][0] != pair[1][0]}
        for way in (-1, 1):
            ends = {
                cell
                for cell in cells
                if (cell[0], cell[1] + way) not in used
                and ((cell, (cell[0], cell[1] + 1)) if way < 0 else ((cell[0], cell[1] - 1), cell)) in level
            }
            room = _room(sorted(ends), way, grid, floor, most, beside, used)
            moves |= _together(room, cells, stacked, way)
        found.append(moves)
    return found


def _room(
    ends: list[Cell],
    way: int,
    grid: Lattice,
    floor: BaseGeometry,
    most: float,
    beside: float,
    used: set[Cell],
) -> dict[Cell, float]:
    """Free floor beyond the ends of rows. [m]"""
    if not ends:
        return {}
    pitch = grid.pitch
    edge = np.array([grid.corner(row, column, 1 if way > 0 else 0) for row, column in ends])
    far = np.array([min(most, pitch) if (row, column + 2 * way) in used else most for row, column in ends])
    left, right = (
        np.where(way > 0, edge[:, 0], edge[:, 0] - far),
        np.where(way > 0, edge[:, 0] + far, edge[:, 0]),
    )
    strips = shapely.box(left, edge[:, 1] - beside, right, edge[:, 1] + pitch + beside)
    taken = shapely.difference(strips, floor.buffer(1e-6))
    low, _, high, _ = shapely.bounds(taken).T
    free = np.where(np.isnan(low), far, low - edge[:, 0] if way > 0 else edge[:, 0] - high)
    return {cell: float(max(0.0, room)) for cell, room in zip(ends, free, strict=True)}


def _together(
    room: dict[Cell, float], cells: set[Cell], stacked: set[tuple[Cell, Cell]], way: int
) -> dict[Cell, float]:
    """Cells joined one over the other move as one, or not at all."""
    moves: dict[Cell, float] = {}
    done: set[Cell] = set()
    for cell in sorted(room):
        if cell in done:
            continue
        group, todo = set(), [cell]
        while todo:
            one = todo.pop()
            if one in group:
                continue
            group.add(one)
            todo += [b for a, b in stacked if a == one] + [a for a, b in stacked if b == one]
        done |= group
        least = min(room.get(one, 0.0) for one in group)
        if least > 1e-6:
            moves |= dict.fromkeys(group, way * least)
    return moves
