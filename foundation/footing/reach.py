"""How far a stretch can be stepped from either end: where it sticks if nothing fits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foundation.footing.ends import end_costs, mirrored, mirrored_steps, possible_levels, steps_on, weigh
from foundation.footing.optimum import check
from foundation.footing.recurrence import Array, cost_to_go, prepared_row, sorted_moves
from foundation.footing.ring import best_ring
from foundation.model.stepping import SteppingProblem, Steps, Stretch


@dataclass(frozen=True)
class Reach:
    """How far one stretch can be stepped, whatever the other stretches do.

    Attributes
    ----------
    stretch : str
        Name of the stretch.
    fits : bool
        True if the whole stretch can be stepped. If all stretches can and yet the network cannot, then no
        levels of the tees suit all of them.
    from_start : float
        Furthest node to which levels from the start can be had, the run that passes it unfinished. [m]
    from_end : float
        Likewise from the end, back to this node. [m]
    """

    stretch: str
    fits: bool
    from_start: float
    from_end: float


def reach(problem: SteppingProblem) -> tuple[Reach, ...]:
    """Find how far each stretch can be stepped, from its start and from its end.

    Where a stretch does not fit, what hinders it lies between the two nodes, whichever comes first: levels
    that suit all of what lies between them cannot be had. A closed ring is taken from its joint, both ways.

    Parameters
    ----------
    problem : SteppingProblem
        The network. A cell or a step that is forbidden under any objective counts as forbidden.

    Returns
    -------
    tuple of Reach
        One for each stretch, in their order.

    Examples
    --------
    >>> steps = Steps(
    ...     before=np.array([0, 1]), after=np.array([1, 0]),
    ...     run_before=np.array([0.6, 0.6]), run_after=np.array([0.6, 0.6]), cost=np.array([[5.0, 5.0]]),
    ... )
    >>> no = np.inf
    >>> cost = np.array([[[1.0, no], [1.0, 1.0], [no, 1.0], [1.0, no], [1.0, no]]])
    >>> wall = Stretch("A-B", np.arange(6) * 0.5, np.ones(6, bool), cost)
    >>> found = reach(SteppingProblem(np.array([0.0, 0.2]), (wall,), steps))[0]
    >>> found.fits, found.from_start, found.from_end
    (False, 1.5, 0.0)
    """
    check(problem)
    free = tuple(_free(stretch, problem.steps) for stretch in problem.stretches)
    possible = possible_levels(free)
    found = []
    for stretch in free:
        steps = steps_on(stretch, problem.steps)
        back = _furthest(stretch, problem.level, steps, possible)
        ahead = _furthest(mirrored(stretch), problem.level, mirrored_steps(steps), possible)
        found.append(
            Reach(
                stretch.name,
                _fits(stretch, problem.level, steps, possible),
                float(stretch.position[stretch.position.size - 1 - ahead]),
                float(stretch.position[back]),
            )
        )
    return tuple(found)


def _free(stretch: Stretch, steps: Steps) -> Stretch:
    """The stretch under one objective to which all that is allowed is free."""

    def free(cost: Array) -> Array:
        return np.where(np.isfinite(cost).all(axis=0), 0.0, np.inf)[None]

    return replace(stretch, cost=free(stretch.cost), step_cost=free(steps_on(stretch, steps).cost))


def _furthest(stretch: Stretch, level: Array, steps: Steps, possible: Mapping[str, NDArray[np.bool_]]) -> int:
    """Lowest node from which levels to the stretch's end can be had."""
    moves = sorted_moves(level, steps, stretch.position)
    row = prepared_row(stretch.position, stretch.step_allowed, stretch.cost, moves, loose=stretch.closed)
    tees = None if stretch.end is None else np.flatnonzero(possible[stretch.end])[None]
    _, end = end_costs(moves, tees, bool(stretch.end_branches and row.allowed[-1]), 1)
    values, _ = cost_to_go(row, moves, end.min(axis=-1, keepdims=True, initial=np.inf), keep=True)
    # The run that passes a node may yet become as long as any step asks for.
    passes = np.isfinite(values[:-1, -1]).any(axis=(1, 2, 3))
    return int(passes.argmax()) if passes.any() else passes.size - 1


def _fits(stretch: Stretch, level: Array, steps: Steps, possible: Mapping[str, NDArray[np.bool_]]) -> bool:
    """Whether the stretch can be stepped with some levels of its tees."""
    if stretch.closed:
        return bool(np.isfinite(best_ring(stretch, level, steps)[0][0]))
    if not all(possible[tee].any() for tee in (stretch.start, stretch.end) if tee is not None):
        return False
    return bool(np.isfinite(weigh(stretch, level, steps, possible).cost).any())
