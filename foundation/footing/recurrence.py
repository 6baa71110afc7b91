"""The dynamic program over one row of cells: from each node on, what the best choices cost.

The state at a node is the level of the run that passes it and how long that run already is. Cells differ in
length, so the length is not counted in cells but in *classes*: class j means that the run is known to be at
least as long as the j-th of the distinct lengths that the rules ask for. A step into a level jumps at once to
the first node where its class is reached, so a class never has to be worked out on the way.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foundation.model.stepping import Steps

TOLERANCE = 1e-9
"""By how much a run may fall short of its rule, for the rounding of sums of lengths. [m]"""

# A block of nodes is worked out at once. Its largest array has about this many elements, so that it stays in
# the processor's cache: measured, twice as fast as blocks without a limit when many ends are weighed at once.
_BLOCK = 60_000

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Moves:
    """The steps of a rule set, sorted for the dynamic program.

    Attributes
    ----------
    level : ndarray, shape (l,)
        The levels. [m]
    threshold : ndarray, shape (c,)
        The distinct lengths that the rules ask for, increasing: class j is a run of at least the j-th. [m]
    before, after : ndarray of int, shape (p,)
        Level index on either side of each step. [-]
    need, entry : ndarray of int, shape (p,)
        Class that the run before must have reached, and that the run after must reach. [-]
    cost : ndarray, shape (o, p)
        Cost of each step under each objective. [objective's own unit]
    tables : tuple of (int, ndarray of int, ndarray)
        For each class needed by any step: the class; for each level a column of the flat indices
        ``entry * l + after`` of the runs to which such steps lead, shape (w, l); and what they cost, shape
        (w, l, 1, o, 1), inf where a column is filled up. [objective's own unit]
    """

    level: Array
    threshold: Array
    before: NDArray[np.intp]
    after: NDArray[np.intp]
    need: NDArray[np.intp]
    entry: NDArray[np.intp]
    cost: Array
    tables: tuple[tuple[int, NDArray[np.intp], Array], ...]


@dataclass(frozen=True)
class Row:
    """A row of cells, prepared for the dynamic program.

    Attributes
    ----------
    position : ndarray, shape (n + 1,)
        Distance of the nodes from the row's start. [m]
    allowed : ndarray of bool, shape (n + 1,)
        Whether a step may stand at the node; the first and last are read by whoever joins rows.
    cost : ndarray, shape (n, l, o)
        Cost of each cell, inf where it is forbidden. [objective's own unit]
    landing : ndarray of int, shape (n + 1, c)
        First node where a run that begins at the node has reached the class; n + 1 where there is none. [-]
    jump : ndarray, shape (n + 1, c, l, o)
        Cost of the cells up to there, inf where one of them is forbidden. [objective's own unit]
    total : ndarray, shape (l, o)
        Cost of all cells at one level. [objective's own unit]
    """

    position: Array
    allowed: NDArray[np.bool_]
    cost: Array
    landing: NDArray[np.intp]
    jump: Array
    total: Array


def sorted_moves(level: Array, steps: Steps, position: Array) -> Moves:
    """Sort the steps of a rule set for the dynamic program.

    Parameters
    ----------
    level : ndarray, shape (l,)
        The levels. [m]
    steps : Steps
        The steps between them.
    position : ndarray, shape (n + 1,)
        Nodes between which the lengths will be measured. [m]

    Returns
    -------
    Moves
        The same steps by class.
    """
    # Lengths that differ by the rounding of a division are one class.
    before_run, after_run = np.round(steps.run_before, 10), np.round(steps.run_after, 10)
    threshold = np.unique(np.concatenate((before_run, after_run))) if steps.before.size else np.zeros(1)
    before, after = steps.before.astype(np.intp), steps.after.astype(np.intp)
    need, entry = np.searchsorted(threshold, before_run), np.searchsorted(threshold, after_run)
    # Lengths that end at the same node wherever they begin are one class too: the longest stands for all.
    landing = _landing(position, threshold)
    differs = (landing[:, 1:] != landing[:, :-1]).any(axis=0)
    index = np.append(0, np.cumsum(differs))
    need, entry, threshold = index[need], index[entry], threshold[np.append(differs, True)]
    tables = []
    for wanted in np.unique(need):
        of_level = [np.flatnonzero((need == wanted) & (before == source)) for source in range(level.size)]
        shape = (max(chosen.size for chosen in of_level), level.size)
        target = np.zeros(shape, np.intp)
        cost = np.full((*shape, 1, steps.cost.shape[0], 1), np.inf)
        for source, chosen in enumerate(of_level):
            target[: chosen.size, source] = entry[chosen] * level.size + after[chosen]
            cost[: chosen.size, source, 0, :, 0] = steps.cost[:, chosen].T
        tables.append((int(wanted), target, cost))
    return Moves(level, threshold, before, after, need, entry, steps.cost, tuple(tables))


def _landing(position: Array, threshold: Array) -> NDArray[np.intp]:
    """First node where a run from each node has each length, one too many where there is none."""
    landing = np.searchsorted(position, position[:, None] + (threshold - TOLERANCE))
    # A run has at least one cell, even if no rule asks for it.
    return np.maximum(landing, np.arange(1, position.size + 1)[:, None])


def one_objective(moves: Moves, objective: int) -> Moves:
    """The same steps under one objective alone.

    Parameters
    ----------
    moves : Moves
        The steps.
    objective : int
        Index of the objective. [-]

    Returns
    -------
    Moves
        The steps with the costs of that objective.
    """
    chosen = slice(objective, objective + 1)
    tables = tuple((need, target, cost[:, :, :, chosen]) for need, target, cost in moves.tables)
    return replace(moves, cost=moves.cost[chosen], tables=tables)


def prepared_row(
    position: Array, allowed: NDArray[np.bool_], cost: Array, moves: Moves, loose: bool = False
) -> Row:
    """Prepare a row of cells for the dynamic program.

    Parameters
    ----------
    position : ndarray, shape (n + 1,)
        Distance of the nodes from the row's start. [m]
    allowed : ndarray of bool, shape (n + 1,)
        Whether a step may stand at the node.
    cost : ndarray, shape (o, n, l)
        Cost of each cell, inf where it is forbidden. [objective's own unit]
    moves : Moves
        The steps.
    loose : bool
        True to count the row's last run as long enough, whatever lies behind the row's end.

    Returns
    -------
    Row
        The row with its landings and jumps.
    """
    count = position.size - 1
    cells = np.ascontiguousarray(np.moveaxis(cost, 0, 2))
    node = np.arange(count + 1)
    landing = _landing(position, moves.threshold)
    if loose:
        landing = np.where(node[:, None] < count, np.minimum(landing, count), count + 1)
    forbidden = np.isinf(cells)
    sums = np.zeros((count + 1, *cells.shape[1:]))
    np.cumsum(np.where(forbidden, 0.0, cells), axis=0, out=sums[1:])
    holes = np.zeros(sums.shape, np.int32)
    np.cumsum(forbidden, axis=0, out=holes[1:])
    goal = np.minimum(landing, count)
    jump = sums[goal] - sums[:, None]
    jump[(holes[goal] != holes[:, None]) | (landing > count)[:, :, None, None]] = np.inf
    total = np.where(holes[-1] > 0, np.inf, sums[-1])
    return Row(position, allowed, cells, landing, jump, total)


def cost_to_go(
    row: Row, moves: Moves, end: Array, keep: bool = False, entries: Mapping[int, Array] | None = None
) -> tuple[Array, Array]:
    """Least cost from each node to the row's end, for several conditions at the end at once.

    Parameters
    ----------
    row : Row
        The row of cells.
    moves : Moves
        The steps.
    end : ndarray, shape (c, l, o, b)
        Cost of ending with a run of each class and level, for each objective and each of the b conditions.
        [objective's own unit]
    keep : bool
        True to keep the values of all nodes, False to keep only as many as a run of the longest class spans.
    entries : mapping of int to ndarray, optional
        Further ways to end, at inner nodes: for each such node an array like ``end``. [objective's own unit]

    Returns
    -------
    values : ndarray, shape (d + 1, c, l, o, b)
        Least cost from node k on, given class and level of the run that passes it, in row k modulo d; the
        last row is inf. With ``keep`` d is n + 1. [objective's own unit]
    begin : ndarray, shape (c, l, o, b)
        Least cost from the start on, given that the run which begins there reaches the class before it ends
        in a step. [objective's own unit]
    """
    count = row.position.size - 1
    classes, levels, objectives, ends = end.shape
    span = int((np.minimum(row.landing, count) - np.arange(count + 1)[:, None]).max())
    depth = count + 1 if keep else min(count, span) + 1
    values = np.full((depth + 1, *end.shape), np.inf)
    flat = values.reshape((depth + 1) * classes, levels, objectives, ends)
    values[count % depth] = end
    source = np.where(row.landing > count, depth, row.landing % depth) * classes + np.arange(classes)
    widest = max((target.size for _, target, _ in moves.tables), default=1) * objectives * ends
    most = max(1, _BLOCK // widest)
    steppable = np.flatnonzero(row.allowed[1:count]) + 1 if moves.tables else np.empty(0, np.intp)
    node = count - 1
    left = steppable.size
    while left:
        # Steps at these nodes lead beyond all of them, so they can be worked out together.
        top = steppable[left - 1]
        low = np.searchsorted(row.landing[:, 0], top, side="right")
        first = max(int(np.searchsorted(steppable[:left], low)), left - most)
        while node > top:
            _go_on(values, row, node, depth, entries)
            node -= 1
        stepped = _stepped(flat, row, moves, source, steppable[first:left])
        for index in range(left - first - 1, -1, -1):
            while node > steppable[first + index]:
                _go_on(values, row, node, depth, entries)
                node -= 1
            _go_on(values, row, node, depth, entries)
            here = values[node % depth]
            np.minimum(here, stepped[:, :, index], out=here)
            node -= 1
        left = first
    while node >= 0:
        _go_on(values, row, node, depth, entries)
        node -= 1
    return values, _runs(flat, row, source, np.zeros(1, np.intp))[:, :, 0]


def _go_on(values: Array, row: Row, node: int, depth: int, entries: Mapping[int, Array] | None) -> None:
    """Carry the values over one cell without a step."""
    here = values[node % depth]
    np.add(values[(node + 1) % depth], row.cost[node][:, :, None], out=here)
    if entries is not None and node in entries:
        np.minimum(here, entries[node], out=here)


def _runs(flat: Array, row: Row, source: NDArray[np.intp], nodes: NDArray[np.intp]) -> Array:
    """Least cost of a run that begins at each node, by the class it must reach, shape (c, l, m, o, b)."""
    ahead: Array = flat[source[nodes]]  # by node, class and level
    runs = np.empty((ahead.shape[1], ahead.shape[2], nodes.size, *ahead.shape[3:]))
    np.add(ahead.transpose(1, 2, 0, 3, 4), row.jump[nodes].transpose(1, 2, 0, 3)[..., None], out=runs)
    for index in range(runs.shape[0] - 2, -1, -1):
        np.minimum(runs[index], runs[index + 1], out=runs[index])
    return runs


def _stepped(flat: Array, row: Row, moves: Moves, source: NDArray[np.intp], nodes: NDArray[np.intp]) -> Array:
    """Least cost from each node on if a step stands there, by class and level of the run before it."""
    runs = _runs(flat, row, source, nodes)
    lanes = runs.reshape((-1, *runs.shape[2:]))
    stepped: Array = np.full(runs.shape, np.inf)
    for need, target, cost in moves.tables:
        choices = lanes.take(target, axis=0)
        choices += cost
        np.minimum.reduce(choices, axis=0, out=stepped[need])
    for index in range(1, stepped.shape[0]):
        np.minimum(stepped[index], stepped[index - 1], out=stepped[index])
    return stepped
