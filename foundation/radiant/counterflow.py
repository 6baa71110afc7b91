"""Counter-flow: which cells of a loop are joined to one path that winds inward, supply beside return."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.radiant.serpentine import Cell, Links, serpentine

TURNS = ((0, 1), (1, 0), (0, -1), (-1, 0))
"""East, north, west, south, as rows and columns."""


def counterflow(cells: NDArray[np.bool_], start: Cell, shortest: int) -> tuple[Links, int]:
    """Join a loop's cells along a path that winds inward.

    Parameters
    ----------
    cells : ndarray of bool, shape (rows, columns)
        The loop's cells.
    start : tuple of int
        Cell at its edge where the loop begins.
    shortest : int
        Fewest cells of a run that tube can be turned in. [cells]

    Returns
    -------
    links : set of pairs of cells
        The path, and combs for what it could not wind into where they find room.
    beside : int
        Cells that it could not wind into. [-]
    """
    best: list[Cell] = []
    for first in range(4):
        for hand in (1, -1):
            path = _wind(cells, start, first, hand)
            if len(path) > len(best):
                best = path
    links: Links = {_ordered(one, two) for one, two in zip(best, best[1:], strict=False)}
    rest = cells.copy()
    for row, column in best:
        rest[row, column] = False
    beside = int(rest.sum())
    while rest.any():
        grown = _grow(rest, best)
        if not grown:
            break
        block, joint = grown
        comb = serpentine(block, joint[1][1] <= joint[0][1], shortest)
        reached = {cell for pair in comb for cell in pair} | ({joint[1]} if block.sum() == 1 else set())
        if joint[1] in reached and len(reached) >= shortest:
            links |= comb | {_ordered(*joint)}
        rest &= ~block
    return links, beside


def _wind(cells: NDArray[np.bool_], start: Cell, heading: int, hand: int) -> list[Cell]:
    """Walk from a cell with a hand on the wall, over cells not walked before."""
    path, seen, at = [start], {start}, start
    while True:
        for turn in (0, hand, 2 * hand, 3 * hand) if len(path) == 1 else (-hand, 0, hand):
            way = TURNS[(heading + turn) % 4]
            onward = (at[0] + way[0], at[1] + way[1])
            if (
                0 <= onward[0] < cells.shape[0]
                and 0 <= onward[1] < cells.shape[1]
                and cells[onward]
                and onward not in seen
            ):
                heading = (heading + turn) % 4
                at = onward
                path.append(at)
                seen.add(at)
                break
        else:
            return path


def _grow(rest: NDArray[np.bool_], path: list[Cell]) -> tuple[NDArray[np.bool_], tuple[Cell, Cell]] | None:
    """A patch of cells that the path left, and a joint from the path to it."""
    for row, column in path[1:]:
        for way in TURNS:
            onward = (row + way[0], column + way[1])
            if 0 <= onward[0] < rest.shape[0] and 0 <= onward[1] < rest.shape[1] and rest[onward]:
                block, todo = np.zeros_like(rest), [onward]
                while todo:
                    cell = todo.pop()
                    if (
                        0 <= cell[0] < rest.shape[0]
                        and 0 <= cell[1] < rest.shape[1]
                        and rest[cell]
                        and not block[cell]
                    ):
                        block[cell] = True
                        todo += [(cell[0] + way[0], cell[1] + way[1]) for way in TURNS]
                return block, ((row, column), onward)
    return None


def _ordered(one: Cell, two: Cell) -> tuple[Cell, Cell]:
    return (one, two) if one < two else (two, one)
