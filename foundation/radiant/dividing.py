"""Cells shared out among loops: each loop's hang together, and so does what is left for the others."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from foundation.radiant.serpentine import runs

Cells = NDArray[np.bool_]
Run = tuple[int, int, int]
"""A run along a row: its row, first and last column."""

SPARE = 1.1
"""A part may take cells that it would cut off up to this share of what it should have. [-]"""
CLOSE = 0.05
"""Parts this near to what they should have are judged by their runs: few and long ones. [-]"""
STARTS = 6
"""How many runs of the first rows are tried as a part's beginning. [-]"""


def divide(
    cells: Cells,
    wanted: list[float],
    shortest: int,
    from_left: bool,
    away: NDArray[np.float64],
    *,
    whole: bool = False,
    starts: int = STARTS,
) -> NDArray[np.int64]:
    """Share cells that hang together out among loops, from the first row on.

    Parameters
    ----------
    cells : ndarray of bool, shape (rows, columns)
        The cells.
    wanted : list of float
        How much each loop should have beside the others, in order. [-]
    shortest : int
        Fewest cells that a row is cut at. [cells]
    from_left : bool
        Whether the part of a cut row that goes to the earlier loop is its left one.
    away : ndarray, shape (rows, columns)
        Of each cell, what leaders to it cost; infinite amid the floor. [runs]
    whole : bool
        Whether rows are never cut.
    starts : int
        How many runs of the first rows are tried as a part's beginning. [-]

    Returns
    -------
    ndarray of int, shape (rows, columns)
        Index of the loop, -1 where there is none.
    """
    labels = np.full(cells.shape, -1, dtype=np.int64)
    rest = cells.copy()
    for index, want in enumerate(wanted):
        if not rest.any():
            break
        part = rest
        if index < len(wanted) - 1:
            share = want * rest.sum() / sum(wanted[index:])
            tried = [
                _part(rest, start, share, shortest, from_left, whole) for start in _starts(rest)[:starts]
            ]
            part = min(tried, key=lambda part: _cost(part, share, away))
        labels[part] = index
        rest = rest & ~part
    return labels


def judge(
    labels: NDArray[np.int64], wanted: list[float], away: NDArray[np.float64]
) -> tuple[int, float, float]:
    """How good shares are: less is better.

    Parameters
    ----------
    labels : ndarray of int, shape (rows, columns)
        Index of the loop, -1 where there is none.
    wanted : list of float
        How much each loop should have beside the others. [-]
    away : ndarray, shape (rows, columns)
        Of each cell, what leaders to it cost; infinite amid the floor. [runs]

    Returns
    -------
    shut_in : int
        Loops that have no cell at the edge.
    off : float
        How far cells are off what is wanted, over what is wanted, together. [-]
    cost : float
        Runs and leaders. [runs]
    """
    total, whole = (labels >= 0).sum(), sum(wanted)
    costs = [_cost(labels == index, want * total / whole, away) for index, want in enumerate(wanted)]
    return (
        sum(not np.isfinite(cost) for _, cost in costs),
        sum(off for off, _ in costs),
        sum(cost for _, cost in costs if np.isfinite(cost)),
    )


def _cost(part: Cells, want: float, away: NDArray[np.float64]) -> tuple[float, float]:
    off = abs(part.sum() - want) / want
    return (0.0 if off <= CLOSE else float(off), len(runs(part)) + float(away[part].min(initial=np.inf)))


def _one(cells: Cells) -> bool:
    return bool(ndimage.label(cells)[1] <= 1)


def _starts(rest: Cells) -> list[Run]:
    """Runs where a part may begin: those of the first row, and others that nothing lies below."""
    below = np.vstack([np.zeros((1, rest.shape[1]), dtype=bool), rest[:-1]])
    return [run for run in runs(rest) if not below[run[0], run[1] : run[2] + 1].any()]


def _part(rest: Cells, start: Run, want: float, shortest: int, from_left: bool, whole: bool) -> Cells:
    """Rows one after another while the rest hangs together; the last one cut where the count is right."""
    part = np.zeros_like(rest)
    while True:
        left = rest & ~part
        near = ndimage.binary_dilation(part)
        offers = [start]
        if part.any():
            offers = [run for run in runs(left) if near[run[0], run[1] : run[2] + 1].any()]
        for row, first, last in offers:
            take = part.copy()
            take[row, first : last + 1] = True
            slack = (last + 1 - first) / 2 if whole else shortest / 2
            fits = take.sum() <= want + slack
            if fits and _one(rest & ~take):
                break
            if not whole:
                cut = _cut(rest, part, (row, first, last), want, shortest, from_left)
                if cut is not None:
                    take = cut
                    break
        else:
            return _with_pockets(rest, part, offers, want)
        part = take
        if part.sum() >= want - (shortest / 2 if not whole else 0):
            return part
        if whole and part.sum() >= want - 0.5 * (part[part.any(axis=1)].sum(axis=1).max()):
            return part


def _cut(rest: Cells, part: Cells, run: Run, want: float, shortest: int, from_left: bool) -> Cells | None:
    """A part with the longest fitting piece of one more row, where both pieces are long enough to turn in."""
    row, first, last = run
    most = min(max(round(want - part.sum()), shortest), last + 1 - first - shortest)
    for count in range(most, shortest - 1, -1):
        for left in (from_left, not from_left):
            take = part.copy()
            begin = first if left else last + 1 - count
            take[row, begin : begin + count] = True
            if _one(take) and _one(rest & ~take):
                return take
    return None


def _with_pockets(rest: Cells, part: Cells, offers: list[Run], want: float) -> Cells:
    """The row that brings the count nearest, with what it cuts off, if that is not too much."""
    best, cost = part, np.inf if not part.any() else abs(part.sum() - want)
    for row, first, last in offers:
        take = part.copy()
        take[row, first : last + 1] = True
        labels, count = ndimage.label(rest & ~take)
        if count:
            sizes = np.bincount(labels.ravel())[1:]
            take |= (labels > 0) & (labels != 1 + int(sizes.argmax()))
        off = abs(take.sum() - want)
        if off < cost and (take.sum() <= SPARE * want or not part.any()):
            best, cost = take, off
    return best
