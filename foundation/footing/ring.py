"""A closed ring of footing without a tee: it is cut, and the run through the cut is made whole again.

The ring is cut in the middle of a cell: that cell, at one given level, begins the row and ends it. First the
run through the cut is counted as long enough on either side. That leaves a rule out, so what it costs is a
bound; and if the levels found keep the rule after all, they are the best there are. Only where they break it
is the run through the cut worked out: either no step stands within the longest run before the cut, or the
last one stands at one of the few nodes there, and the first run is then so much longer already.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import maximum_filter1d

from foundation.footing.readback import follow
from foundation.footing.recurrence import (
    TOLERANCE,
    Array,
    Moves,
    Row,
    cost_to_go,
    one_objective,
    prepared_row,
    sorted_moves,
)
from foundation.model.stepping import Steps, Stretch

Levels = NDArray[np.int64]


def best_ring(
    ring: Stretch, level: Array, steps: Steps, cell: int | None = None
) -> list[tuple[float, Levels | None]]:
    """The best levels of a closed ring.

    Parameters
    ----------
    ring : Stretch
        A closed stretch.
    level : ndarray, shape (l,)
        The levels. [m]
    steps : Steps
        The steps and what they cost on this ring.
    cell : int, optional
        Where to cut it and nowhere else; without it, wherever little work is likely. The cost is the same from
        every cut; among equals each step stands as late as possible, counted from the cut. [-]

    Returns
    -------
    list of (float, ndarray of int or None)
        For each objective the least cost and the level index of each cell; inf and None where nothing fits.
        [objective's own unit]
    """
    twice_around = np.concatenate((ring.position, ring.position[-1] + ring.position[1:]))
    moves = sorted_moves(level, steps, twice_around)
    first = _quiet_cell(ring, moves) if cell is None else cell
    answers = []
    for objective in range(ring.cost.shape[0]):
        cut = _cut(ring, moves, first, objective)
        cost, levels, keeps = _bound(cut)
        if not keeps and cell is None:
            # The cell in the middle of the longest run found is the likeliest to lie in a run that is long enough.
            other = _cut(ring, moves, (first + _middle_of_longest_run(levels)) % levels.size, objective)
            cost, levels, keeps = _bound(other)
            cut = other if keeps else cut
        if not keeps:
            cost, levels = _exact(cut)
        answers.append((cost, np.roll(levels, cut.cell) if np.isfinite(cost) else None))
    return answers


def _quiet_cell(ring: Stretch, moves: Moves) -> int:
    """The cell around which the fewest levels are possible, as far as the longest run goes.

    Few levels at the cut are little work; few around it make it likely that the run there is long enough.
    """
    choices = np.isfinite(ring.cost).any(axis=0).sum(axis=1)
    cells = int(np.ceil(moves.threshold[-1] / np.diff(ring.position).mean()))
    around = maximum_filter1d(choices, min(2 * cells + 1, choices.size), mode="wrap")
    return int(np.lexsort((choices, around))[0])


def _middle_of_longest_run(levels: Levels) -> int:
    """The cell in the middle of the most cells in a row at one level, on a ring with steps."""
    ends = np.flatnonzero(levels != np.roll(levels, -1))
    counts = np.diff(ends, append=ends[0] + levels.size)
    longest = int(counts.argmax())
    return int(ends[longest] + 1 + counts[longest] // 2) % levels.size


@dataclass(frozen=True)
class _Cut:
    """A ring of ``count`` cells as a row: the cell at the cut begins it and ends it again, free of cost."""

    cell: int
    count: int
    position: Array
    allowed: NDArray[np.bool_]
    cost: Array
    moves: Moves


def _cut(ring: Stretch, moves: Moves, cell: int, objective: int) -> _Cut:
    length = np.roll(np.diff(ring.position), -cell)
    position = np.concatenate(([0.0], np.cumsum(np.append(length, length[0]))))
    around = ring.step_allowed[:-1].copy()
    around[0] &= ring.step_allowed[-1]  # both speak of the joint
    allowed = np.roll(around, -cell)
    cost = np.roll(ring.cost[objective : objective + 1], -cell, axis=1)
    again = np.where(np.isfinite(cost[:, :1]), 0.0, np.inf)
    return _Cut(
        cell,
        length.size,
        position,
        np.concatenate((allowed, allowed[:1], [False])),
        np.concatenate((cost, again), axis=1),
        one_objective(moves, objective),
    )


def _bounds(cut: _Cut) -> list[tuple[float, int]]:
    """Least cost by the level of the cell at the cut, its run counted as long enough: the cheapest first."""
    cases = np.flatnonzero(np.isfinite(cut.cost[0, 0]))[::-1]  # the highest first among equals
    if cases.size == 0:
        return []
    row = prepared_row(cut.position, cut.allowed, cut.cost, cut.moves, loose=True)
    end = np.full((*row.jump.shape[1:], cases.size), np.inf)
    index = np.arange(cases.size)
    end[:, cases, :, index] = 0.0
    values, _ = cost_to_go(row, cut.moves, end)
    onward = values[1 % (values.shape[0] - 1), -1]
    costs = cut.cost[0, 0, cases] + onward[cases, 0, index]
    return [(float(costs[case]), int(cases[case])) for case in np.argsort(costs, kind="stable")]


def _bound(cut: _Cut) -> tuple[float, Levels, bool]:
    """Best levels, the run through the cut counted as long enough; and whether it is, or nothing fits."""
    for cost, level in _bounds(cut)[:1]:
        if np.isfinite(cost):
            cost, levels = _loose(cut, level, cut.count + 1)
            return cost, levels, _keeps_the_run(cut, levels)
    return np.inf, np.zeros(cut.count, np.int64), True


def _exact(cut: _Cut) -> tuple[float, Levels]:
    """Best levels, the run through the cut kept to the rules."""
    best, levels = np.inf, np.zeros(cut.count, np.int64)
    for bound, level in _bounds(cut):
        if not bound < best:
            break
        cost, found = _loose(cut, level, cut.count + 1)
        if not _keeps_the_run(cut, found):
            cost, found = _exact_at(cut, level)
        if cost < best:
            best, levels = cost, found
    return best, levels


def _loose(cut: _Cut, level: int, stop: int) -> tuple[float, Levels]:
    """Best levels with no step from node ``stop`` on, the run through the cut counted as long enough."""
    cost = cut.cost
    row = prepared_row(
        cut.position[: stop + 1], cut.allowed[: stop + 1], cost[:, :stop], cut.moves, loose=True
    )
    end = np.full((*row.jump.shape[1:], 1), np.inf)
    end[:, level] = 0.0
    values, _ = cost_to_go(row, cut.moves, end, keep=True)
    reached = end.shape[0] - 1
    levels = np.full(cut.count + 1, level)
    least = cost[0, 0, level] + values[1, reached, level, 0, 0] + cost[0, stop:, level].sum()
    if np.isfinite(least):
        levels[1:stop] = follow(row, cut.moves, values, 0, 1, level, reached)
    return float(least), levels[:-1]


def _keeps_the_run(cut: _Cut, levels: Levels) -> bool:
    """Whether the run through the cut is as long as the steps on either side of it ask for."""
    around = np.append(levels, levels[0])
    nodes = np.flatnonzero(around[1:] != around[:-1]) + 1
    if nodes.size == 0:
        return True
    first, last = nodes[0], nodes[-1]
    moves = cut.moves
    need = moves.need[(moves.before == around[first - 1]) & (moves.after == around[first])][0]
    entry = moves.entry[(moves.before == around[last - 1]) & (moves.after == around[last])][0]
    run = cut.position[cut.count] - cut.position[last] + cut.position[first]
    return bool(run >= moves.threshold[max(need, entry)] - TOLERANCE)


def _exact_at(cut: _Cut, level: int) -> tuple[float, Levels]:
    """Best levels with a given level at the cut, the run through the cut kept to the rules."""
    far = cut.position[-1] - cut.position >= cut.moves.threshold[-1] - TOLERANCE
    # Either no step stands so near before the cut that the run through it could be too short,
    best, levels = _loose(cut, level, max(1, int(far.argmin())))
    # or the last step stands at one of these nodes and the run after it must reach its class.
    near = np.flatnonzero(~far & cut.allowed)
    lasts = [
        (int(node), int(entry))
        for node in near[near > 0]
        for entry in np.unique(cut.moves.entry[cut.moves.after == level])
    ]
    if not lasts:
        return best, levels
    costs = _from_last_steps(cut, level, lasts, cut.count, keep=False)[2].min(axis=1)
    index = int(costs.argmin())
    if costs[index] < best:
        best, node = float(costs[index]), lasts[index][0]
        row, values, by_class, first = _from_last_steps(cut, level, [lasts[index]], node, keep=True)
        reached = int(np.flatnonzero(by_class[0] == by_class[0].min())[-1])
        levels = np.full(cut.count, level)
        levels[first[0, reached] : node] = follow(
            row, cut.moves, values, 0, int(first[0, reached]), level, reached
        )
    return best, levels


def _from_last_steps(
    cut: _Cut, level: int, lasts: list[tuple[int, int]], stop: int, keep: bool
) -> tuple[Row, Array, Array, NDArray[np.intp]]:
    """Costs with the last step at each of some nodes up to ``stop``, into a run of some class.

    Returned are the row up to ``stop`` and its values, and for each last step and each class of the run
    through the cut its least cost, shape (b, c), and the node where it has reached the class, shape (b, c).
    """
    moves = cut.moves
    position, cost = cut.position[: stop + 1], cut.cost[:, :stop]
    row = prepared_row(position, cut.allowed[: stop + 1], cost, moves)
    blank = np.full((*row.jump.shape[1:], len(lasts)), np.inf)
    ways = {node: blank.copy() for node, _ in lasts}
    for case, (node, entry) in enumerate(lasts):
        rest = cut.cost[0, node : cut.count, level].sum()
        chosen = np.flatnonzero((moves.after == level) & (moves.entry == entry))
        ways[node][moves.need[chosen], moves.before[chosen], 0, case] = moves.cost[0, chosen] + rest
    for way in ways.values():
        np.minimum.accumulate(way, axis=0, out=way)
    values, _ = cost_to_go(row, moves, ways.pop(stop, blank), keep=keep, entries=ways)
    depth = values.shape[0] - 1
    begun = np.concatenate(([0.0], np.cumsum(cost[0, :, level])))
    costs = np.full((len(lasts), moves.threshold.size), np.inf)
    first = np.ones(costs.shape, np.intp)
    for case, (node, entry) in enumerate(lasts):
        behind = cut.position[cut.count] - cut.position[node]
        ahead = np.searchsorted(position, moves.threshold - TOLERANCE - behind)
        first[case] = np.maximum(ahead, 1)
        for reached in range(entry, moves.threshold.size):
            at = first[case, reached]
            if at < node:
                costs[case, reached] = begun[at] + values[at % depth, reached, level, 0, case]
    return row, values, costs, first
