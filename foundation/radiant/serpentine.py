"""Which cells of a loop are joined: long runs along the rows, joined at their ends, so that tube lies to and fro."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Cell = tuple[int, int]
Links = set[tuple[Cell, Cell]]
"""Joined pairs of cells, the left or lower one first."""


def serpentine(cells: NDArray[np.bool_], root_left: bool, shortest: int) -> Links:
    """Join a loop's cells into a comb.

    Parameters
    ----------
    cells : ndarray of bool, shape (rows, columns)
        The loop's cells.
    root_left : bool
        Whether the loop begins at the left.
    shortest : int
        Fewest cells of a run that tube can be turned in. [cells]

    Returns
    -------
    set of pairs of cells
        A tree, without runs that hang alone and are too short.
    """
    found = _runs(cells, shortest)
    at = {cell: index for index, run in enumerate(found) for cell in run}
    parent = list(range(len(found)))

    def root(index: int) -> int:
        while parent[index] != index:
            parent[index] = parent[parent[index]]
            index = parent[index]
        return index

    links: Links = {(one, two) for run in found for one, two in zip(run, run[1:], strict=False)}
    offers = []
    for (row, column), index in at.items():
        for beside in ((row, column + 1), (row + 1, column)):
            other = at.get(beside)
            if other is not None and other != index:
                price = _price((row, column), beside, found[index], found[other], root_left)
                offers.append((price, row, column if root_left else -column, (row, column), beside))
    tree: list[tuple[int, int, tuple[Cell, Cell]]] = []
    for *_, one, two in sorted(offers):
        first, second = root(at[one]), root(at[two])
        if first != second:
            parent[first] = second
            tree.append((at[one], at[two], (one, two)))
    # a run that hangs by one joint and is too short to turn in stays bare
    lengths = [len(run) for run in found]
    while True:
        degree = np.zeros(len(found), dtype=int)
        for one_run, two_run, _ in tree:
            degree[one_run] += 1
            degree[two_run] += 1
        drop = {index for index in range(len(found)) if degree[index] == 1 and lengths[index] < shortest - 1}
        if not drop or len(tree) < 2:
            break
        tree = [entry for entry in tree if entry[0] not in drop and entry[1] not in drop]
    kept = {index for one_run, two_run, _ in tree for index in (one_run, two_run)}
    if not kept and found:
        kept = {max(range(len(found)), key=lambda index: lengths[index])}
    links = {(one, two) for one, two in links if at[one] in kept}
    return links | {pair for *_, pair in tree}


def runs(cells: NDArray[np.bool_]) -> list[tuple[int, int, int]]:
    """Maximal runs along the rows, in order.

    Parameters
    ----------
    cells : ndarray of bool, shape (rows, columns)
        The cells.

    Returns
    -------
    list of tuple of int
        Of each run: its row, first and last column.
    """
    steps = np.diff(np.pad(cells, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    rows, begins = np.nonzero(steps == 1)
    _, ends = np.nonzero(steps == -1)
    return [(int(row), int(begin), int(end) - 1) for row, begin, end in zip(rows, begins, ends, strict=True)]


def _runs(cells: NDArray[np.bool_], shortest: int) -> list[list[Cell]]:
    """Maximal runs along the rows; where they are too short to turn in and the columns are longer, along these."""
    across, upward = _run_length(cells), _run_length(cells.T).T
    along_columns = cells & (across < shortest) & (upward > across)
    level = [
        [(row, place) for place in range(first, last + 1)]
        for row, first, last in runs(cells & ~along_columns)
    ]
    upright = [
        [(place, row) for place in range(first, last + 1)] for row, first, last in runs(along_columns.T)
    ]
    return level + upright


def _run_length(cells: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Of each cell, the length of its run along its row. [cells]"""
    lengths = np.zeros(cells.shape, dtype=np.int64)
    for row, first, last in runs(cells):
        lengths[row, first : last + 1] = last + 1 - first
    return lengths


def _price(one: Cell, two: Cell, first: list[Cell], second: list[Cell], root_left: bool) -> int:
    """What a joint costs in bends: least where both runs end, at the side where the loop begins."""
    start, end = (0, -1) if root_left else (-1, 0)
    if one == first[start] and two == second[start]:
        return 0
    if one == first[end] and two == second[end]:
        return 1
    ends = (one in (first[0], first[-1])) + (two in (second[0], second[-1]))
    return 4 - ends
