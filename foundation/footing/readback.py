"""The best choices along a row, read back from what `cost_to_go` found they cost."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.footing.recurrence import Array, Moves, Row


def beginning(
    row: Row, moves: Moves, values: Array, objective: int, node: int, level: int, entry: int
) -> tuple[float, int]:
    """How a run that begins at a node goes on best: its least cost and the highest class that attains it.

    The highest class among equals is the one that leaves open every choice whose next step comes later.

    Parameters
    ----------
    row : Row
        The row of cells.
    moves : Moves
        The steps.
    values : ndarray, shape (n + 2, c, l, o, 1)
        Values of all nodes, from `cost_to_go` with ``keep``. [objective's own unit]
    objective : int
        Index of the objective. [-]
    node : int
        Where the run begins. [-]
    level : int
        Index of its level. [-]
    entry : int
        Class that it must reach. [-]

    Returns
    -------
    cost : float
        Least cost from the node on. [objective's own unit]
    reached : int
        The highest class with that cost. [-]
    """
    classes = np.arange(entry, moves.threshold.size)
    costs = (
        values[row.landing[node, entry:], classes, level, objective, 0]
        + row.jump[node, entry:, level, objective]
    )
    best = costs.min()
    return float(best), entry + int(np.flatnonzero(costs == best)[-1])


def follow(
    row: Row, moves: Moves, values: Array, objective: int, node: int, level: int, reached: int
) -> NDArray[np.int64]:
    """Read back the best levels from a node to the row's end.

    Among equal costs the next step stands as late as possible, then it is the bigger one, then the deeper.

    Parameters
    ----------
    row : Row
        The row of cells.
    moves : Moves
        The steps.
    values : ndarray, shape (n + 2, c, l, o, 1)
        Values of all nodes, from `cost_to_go` with ``keep``. [objective's own unit]
    objective : int
        Index of the objective. [-]
    node : int
        Where to begin. [-]
    level : int
        Index of the level of the run that passes there. [-]
    reached : int
        Class that this run has reached. [-]

    Returns
    -------
    ndarray of int, shape (n - node,)
        Level index of each cell from there on. [-]
    """
    start, count = node, row.position.size - 1
    levels = np.empty(count, np.int64)
    while True:
        column = values[node : count + 1, reached, level, objective, 0]
        stops = np.flatnonzero(column[:-1] != column[1:] + row.cost[node:, level, objective])
        stop = node + int(stops[0]) if stops.size else count
        levels[node:stop] = level
        if stop == count:
            return levels[start:]
        pairs = np.flatnonzero((moves.before == level) & (moves.need <= reached))
        runs = [
            beginning(row, moves, values, objective, stop, moves.after[pair], moves.entry[pair])
            for pair in pairs
        ]
        costs = moves.cost[objective, pairs] + np.array([cost for cost, _ in runs])
        chosen = choose_step(moves, pairs, costs)
        level, reached = int(moves.after[pairs[chosen]]), runs[chosen][1]
        node = int(row.landing[stop, reached])
        levels[stop:node] = level


def choose_step(moves: Moves, pairs: NDArray[np.intp], costs: Array) -> int:
    """Choose among steps at one node: the cheapest, among equals the bigger, then the deeper.

    Parameters
    ----------
    moves : Moves
        The steps.
    pairs : ndarray of int, shape (m,)
        Which steps to choose from. [-]
    costs : ndarray, shape (m,)
        What each costs with all that follows. [objective's own unit]

    Returns
    -------
    int
        Position of the chosen one in ``pairs``. [-]
    """
    tied = np.flatnonzero(costs == costs.min())
    after = moves.level[moves.after[pairs[tied]]]
    # Equal rises may differ by rounding.
    rise = np.round(np.abs(after - moves.level[moves.before[pairs[tied]]]), 9)
    return int(tied[np.lexsort((after, -rise))[0]])
