"""Which cells go to which loop, and how each loop's are joined."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy import ndimage

from foundation.radiant.counterflow import counterflow
from foundation.radiant.dividing import STARTS, divide, judge
from foundation.radiant.edges import Edges, Entry
from foundation.radiant.lattice import Lattice
from foundation.radiant.serpentine import Cell, Links, serpentine

Array = NDArray[np.float64]
Tree = tuple[Links, Cell | None]
"""Joined cells of a loop, and where it begins if that is given."""

SHARED_OUT = 0.1
"""Shares that are off by no more than this together need no other way of sharing out. [-]"""
RUN = 2.0
"""Leaders of this length cost as much as one more run of rows, with its bends. [m]"""


def trees(
    grid: Lattice, gate: Entry, edges: Edges, wanted: list[float], shortest: int, winding: bool, variant: int
) -> tuple[list[Tree], int]:
    """Share cells out among loops, and join each loop's.

    Parameters
    ----------
    grid : Lattice
        The cells.
    gate : Entry
        Where leaders come in.
    edges : Edges
        The free floor's.
    wanted : list of float
        How much each loop should have beside the others, from the coldest wall on. [-]
    shortest : int
        Fewest cells of a run that tube can be turned in. [cells]
    winding : bool
        Whether loops wind inward, supply beside return.
    variant : int
        Which way of sharing out is tried first. [-]

    Returns
    -------
    parts : list of tuple
        Of each loop.
    beside : int
        Cells beside the winding ones. [-]
    """
    blocks, number = ndimage.label(grid.free)
    sizes = np.bincount(blocks.ravel(), minlength=number + 1)[1:]
    order = [label for label in np.argsort(-sizes) if sizes[label] >= 2 * shortest][: len(wanted)]
    if not order:
        return [], 0
    shares = dict.fromkeys(order, 1)
    for _ in range(len(wanted) - len(order)):
        widest = max(order, key=lambda label: sizes[label] / shares[label])
        shares[widest] += 1
    parts: list[Tree] = []
    away = _away(grid, gate, edges)
    used = beside = 0
    for label in sorted(order, key=lambda label: int(np.nonzero(blocks == label + 1)[0].min())):
        cells = blocks == label + 1
        own_wanted = wanted[used : used + shares[label]]
        used += shares[label]
        left = _nearer_left(cells, grid, gate, edges)
        owners = _shared_out(cells, own_wanted, shortest, left, away, winding, variant)
        for index in range(len(own_wanted)):
            own = owners == index
            if not own.any():
                continue
            if winding:
                begin, links, more = _wound(own, grid, gate, edges, shortest)
                beside += more
                parts.append((links, begin))
            else:
                own_left = _nearer_left(own, grid, gate, edges)
                parts.append((serpentine(own, own_left, shortest), None))
    return [part for part in parts if part[0]], beside


def _round_the_edge(grid: Lattice, cells: list[tuple[int, int]], gate: Entry, edges: Edges) -> Array:
    """From the entry along the edge to where cells are nearest to it, the shorter way. [m]"""
    spots = shapely.points([np.array(grid.corner(row, column, 0)) + grid.pitch / 2 for row, column in cells])
    ahead = (shapely.line_locate_point(edges.outer, spots) - edges.position(gate.at)) % edges.outer.length
    return np.minimum(ahead, edges.outer.length - ahead)


def _shared_out(
    cells: NDArray[np.bool_],
    wanted: list[float],
    shortest: int,
    left: bool,
    away: Array,
    whole: bool,
    variant: int,
) -> NDArray[np.int64]:
    """Cells shared out in the first way in which each loop has its share and reaches the edge, or the best one."""
    ways = [(starts, side) for side in (left, not left) for starts in (STARTS, 1)]
    best: tuple[tuple[int, float, float], NDArray[np.int64]] | None = None
    for starts, side in ways[variant % 4 :] + ways[: variant % 4]:
        owners = divide(cells, wanted, shortest, side, away, whole=whole, starts=starts)
        rank = judge(owners, wanted, away)
        if best is None or rank < best[0]:
            best = rank, owners
        if rank[0] == 0 and rank[1] <= SHARED_OUT:
            break
    assert best is not None
    return best[1]


def _away(grid: Lattice, gate: Entry, edges: Edges) -> Array:
    """Of each cell, its two leaders in runs that cost as much; infinite where others lie all round it."""
    free = grid.free
    rows, columns = np.nonzero(free)
    places = list(zip(rows.tolist(), columns.tolist(), strict=True))
    outer = np.zeros(len(places), dtype=bool)
    for index, (row, column) in enumerate(places):
        outer[index] = not (
            free[row, :column].any()
            and free[row, column + 1 :].any()
            and free[:row, column].any()
            and free[row + 1 :, column].any()
        )
    away = np.full(free.shape, np.inf)
    away[rows, columns] = np.where(outer, 2 * _round_the_edge(grid, places, gate, edges) / RUN, np.inf)
    return away


def _nearer_left(cells: NDArray[np.bool_], grid: Lattice, gate: Entry, edges: Edges) -> bool:
    """Whether the left ends of some rows are nearer to the entry than their right ends."""
    rows = np.flatnonzero(cells.any(axis=1))
    last = cells.shape[1] - 1
    ends = [(int(row), int(cells[row].argmax())) for row in rows]
    ends += [(int(row), last - int(cells[row, ::-1].argmax())) for row in rows]
    away = _round_the_edge(grid, ends, gate, edges)
    return bool(away[: len(rows)].min() <= away[len(rows) :].min())


def _wound(
    cells: NDArray[np.bool_], grid: Lattice, gate: Entry, edges: Edges, shortest: int
) -> tuple[tuple[int, int], Links, int]:
    """Counter-flow from the end of a first or last row that leaves least beside the winding, and nearest of these."""
    rows = np.flatnonzero(cells.any(axis=1))
    ends = {
        (int(row), int(np.flatnonzero(cells[row])[side])) for row in (rows[0], rows[-1]) for side in (0, -1)
    }
    tried = [(cell, *counterflow(cells, cell, shortest)) for cell in sorted(ends)]
    return min(tried, key=lambda one: (one[2], float(_round_the_edge(grid, [one[0]], gate, edges)[0])))
