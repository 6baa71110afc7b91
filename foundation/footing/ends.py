"""A stretch between two ends: tees, where it runs through or branches off, or free ends."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foundation.footing.readback import beginning, choose_step, follow
from foundation.footing.recurrence import Array, Moves, cost_to_go, prepared_row, sorted_moves
from foundation.model.stepping import Steps, Stretch


@dataclass(frozen=True)
class Weight:
    """What the levels at some tees cost, everything between them at its best.

    Attributes
    ----------
    tees : tuple of str
        The tees.
    cost : ndarray, shape (o, l, ..., l)
        Least cost under each objective for each combination of their levels. [objective's own unit]
    """

    tees: tuple[str, ...]
    cost: Array


def steps_on(stretch: Stretch, steps: Steps) -> Steps:
    """The steps with what they cost on a stretch.

    Parameters
    ----------
    stretch : Stretch
        The stretch.
    steps : Steps
        The steps of the problem.

    Returns
    -------
    Steps
        The same steps at the stretch's own cost, where it has one.
    """
    return steps if stretch.step_cost is None else replace(steps, cost=stretch.step_cost)


def mirrored(stretch: Stretch) -> Stretch:
    """Run a stretch the other way.

    Parameters
    ----------
    stretch : Stretch
        Any stretch.

    Returns
    -------
    Stretch
        The same stretch from its end to its start.
    """
    return Stretch(
        stretch.name,
        stretch.position[-1] - stretch.position[::-1],
        stretch.step_allowed[::-1],
        stretch.cost[:, ::-1],
        stretch.end,
        stretch.start,
        stretch.end_branches,
        stretch.start_branches,
        stretch.closed,
        stretch.step_cost,
    )


def mirrored_steps(steps: Steps) -> Steps:
    """Turn the steps for a mirrored stretch.

    Parameters
    ----------
    steps : Steps
        The steps of a rule set.

    Returns
    -------
    Steps
        The same steps, before and after exchanged.
    """
    return Steps(steps.after, steps.before, steps.run_after, steps.run_before, steps.cost)


def possible_levels(stretches: tuple[Stretch, ...]) -> dict[str, NDArray[np.bool_]]:
    """Levels that the footing which runs through each tee may have, by the cells next to it.

    Parameters
    ----------
    stretches : tuple of Stretch
        The network.

    Returns
    -------
    dict of str to ndarray of bool, shape (l,)
        For each tee, in the order in which the stretches name them, which levels are possible.
    """
    possible: dict[str, NDArray[np.bool_]] = {}
    for stretch in stretches:
        fits = np.asarray(np.isfinite(stretch.cost).any(axis=0))
        for tee, branches, cell in (
            (stretch.start, stretch.start_branches, 0),
            (stretch.end, stretch.end_branches, -1),
        ):
            if tee is not None:
                here = possible.setdefault(tee, np.ones(fits.shape[1], bool))
                if not branches:
                    here &= fits[cell]
    return possible


def end_costs(
    moves: Moves, tees: NDArray[np.intp] | None, steps: bool, objectives: int
) -> tuple[Array, Array]:
    """Cost of what happens at a stretch's end.

    Parameters
    ----------
    moves : Moves
        The steps.
    tees : ndarray of int, shape (o, b), or None
        Level index of the tee there for each objective and each case; None for a free end. [-]
    steps : bool
        Whether the stretch may step at the tee.
    objectives : int
        Number of objectives. [-]

    Returns
    -------
    stay : ndarray, shape (l, o, b)
        Cost of ending with each level without a step: 0 or inf. [objective's own unit]
    end : ndarray, shape (c, l, o, b)
        Least cost of ending with a run of each class and level. [objective's own unit]
    """
    levels, classes = moves.level.size, moves.threshold.size
    if tees is None:
        return np.zeros((levels, objectives, 1)), np.zeros((classes, levels, objectives, 1))
    stay = np.where(np.arange(levels)[:, None, None] == tees, 0.0, np.inf)
    end = np.repeat(stay[None], classes, axis=0)
    if steps:
        step = np.full((classes, levels, levels, objectives), np.inf)
        step[moves.need, moves.before, moves.after] = moves.cost.T
        np.minimum.accumulate(step, axis=0, out=step)
        np.minimum(end, step[:, :, tees, np.arange(objectives)[:, None]], out=end)
    return stay, end


def start_costs(moves: Moves, level_first: Array, begin: Array, tee: bool, steps: bool) -> Array:
    """Least cost of a stretch by the level at its start.

    Parameters
    ----------
    moves : Moves
        The steps.
    level_first : ndarray, shape (l, o, b)
        Least cost by the level of the first cell, no step at the start. [objective's own unit]
    begin : ndarray, shape (c, l, o, b)
        Least cost after a step at the start, by class and level of the run after it. [objective's own unit]
    tee : bool
        True for a tee, False for a free end.
    steps : bool
        Whether the stretch may step at the tee.

    Returns
    -------
    ndarray, shape (l, o, b) or (o, b)
        By the tee's level, or at a free end the least of all. [objective's own unit]
    """
    if not tee:
        return np.asarray(level_first.min(axis=0))
    costs = level_first.copy()
    if steps:
        stepped = moves.cost.T[:, :, None] + begin[moves.entry, moves.after]
        for level in range(moves.level.size):
            chosen = stepped[moves.before == level]
            if chosen.size:
                np.minimum(costs[level], chosen.min(axis=0), out=costs[level])
    return costs


def weigh(stretch: Stretch, level: Array, steps: Steps, possible: Mapping[str, NDArray[np.bool_]]) -> Weight:
    """Least cost of a stretch for every pair of levels at its ends.

    Parameters
    ----------
    stretch : Stretch
        A stretch that is no closed ring.
    level : ndarray, shape (l,)
        The levels. [m]
    steps : Steps
        The steps and what they cost on this stretch.
    possible : mapping of str to ndarray of bool, shape (l,)
        Levels possible at each tee.

    Returns
    -------
    Weight
        By the levels of its tees: of two, one or none; the start's first.
    """
    choices = [1 if tee is None else int(possible[tee].sum()) for tee in (stretch.start, stretch.end)]
    turned = choices[0] < choices[1]  # every level possible at the end is one more case to carry along
    if turned:
        stretch, steps = mirrored(stretch), mirrored_steps(steps)
    moves = sorted_moves(level, steps, stretch.position)
    objectives, _, levels = stretch.cost.shape
    cases = np.flatnonzero(possible[stretch.end]) if stretch.end is not None else None
    tees = None if cases is None else np.broadcast_to(cases, (objectives, cases.size))
    row = prepared_row(stretch.position, stretch.step_allowed, stretch.cost, moves)
    stay, end = end_costs(moves, tees, bool(stretch.end_branches and row.allowed[-1]), objectives)
    _, begin = cost_to_go(row, moves, end)
    level_first = np.minimum(row.total[:, :, None] + stay, begin[0])
    costs = start_costs(
        moves, level_first, begin, stretch.start is not None, bool(stretch.start_branches and row.allowed[0])
    )
    costs = np.moveaxis(costs, -2, 0)  # objectives first
    if cases is None:
        costs = costs[..., 0]
    else:
        full = np.full((*costs.shape[:-1], levels), np.inf)
        full[..., cases] = costs
        costs = full
    names = [tee for tee in (stretch.start, stretch.end) if tee is not None]
    if len(names) == 2 and names[0] == names[1]:
        return Weight((names[0],), np.diagonal(costs, axis1=1, axis2=2))
    if turned and len(names) == 2:
        return Weight((names[1], names[0]), costs.swapaxes(1, 2))
    return Weight(tuple(names), costs)


def trace(
    stretch: Stretch,
    level: Array,
    steps: Steps,
    tees: Mapping[str, NDArray[np.intp]],
    fits: NDArray[np.bool_],
) -> list[NDArray[np.int64]]:
    """The best levels of a stretch, given the levels of its tees.

    Parameters
    ----------
    stretch : Stretch
        A stretch that is no closed ring.
    level : ndarray, shape (l,)
        The levels. [m]
    steps : Steps
        The steps and what they cost on this stretch.
    tees : mapping of str to ndarray of int, shape (o,)
        Level index of each tee for each objective. [-]
    fits : ndarray of bool, shape (o,)
        Whether the stretch can be stepped between these levels; where not, the answer means nothing.

    Returns
    -------
    list of ndarray of int, shape (n,)
        For each objective the level index of each cell. Among equal costs a free start lies at the higher
        level, and then each step as `follow` says.
    """
    moves = sorted_moves(level, steps, stretch.position)
    objectives, count, _ = stretch.cost.shape
    row = prepared_row(stretch.position, stretch.step_allowed, stretch.cost, moves)
    ends = None if stretch.end is None else tees[stretch.end][:, None]
    stay, end = end_costs(moves, ends, bool(stretch.end_branches and row.allowed[-1]), objectives)
    values, begin = cost_to_go(row, moves, end, keep=True)
    level_first = np.minimum(row.total[:, :, None] + stay, begin[0])[:, :, 0]
    answers = []
    for objective in range(objectives):
        if not fits[objective]:
            answers.append(np.zeros(count, np.int64))
            continue
        first = level_first[:, objective]
        if stretch.start is None:
            at = first.size - 1 - int(first[::-1].argmin())
            least = first[at]
        else:
            at = int(tees[stretch.start][objective])
            least = first[at]
        entry = -1
        if stretch.start is not None and stretch.start_branches and row.allowed[0]:
            pairs = np.flatnonzero(moves.before == at)
            costs = moves.cost[objective, pairs] + begin[moves.entry[pairs], moves.after[pairs], objective, 0]
            if costs.size and costs.min() < least:
                pair = pairs[choose_step(moves, pairs, costs)]
                at, entry = int(moves.after[pair]), int(moves.entry[pair])
        levels = np.full(count, at, np.int64)
        if entry >= 0 or row.total[at, objective] + stay[at, objective, 0] != least:
            _, reached = beginning(row, moves, values, objective, 0, at, max(entry, 0))
            node = int(row.landing[0, reached])
            levels[node:] = follow(row, moves, values, objective, node, at, reached)
        answers.append(levels)
    return answers
