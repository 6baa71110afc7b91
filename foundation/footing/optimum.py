"""The best stepping of a network of footings: exact, one answer for each objective."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from foundation.footing.ends import possible_levels, steps_on, trace, weigh
from foundation.footing.network import settle
from foundation.footing.ring import best_ring
from foundation.model.stepping import SteppingAnswer, SteppingProblem, Steps, Stretch


def solve(problem: SteppingProblem) -> tuple[SteppingAnswer | None, ...]:
    """Find the levels that cost least.

    Costs should be whole numbers, and their sums below 2**53: then sums are exact and so are ties.

    Parameters
    ----------
    problem : SteppingProblem
        The network, its levels, its steps and what they cost.

    Returns
    -------
    tuple of SteppingAnswer or None
        For each objective the cheapest answer, None where none keeps the rules. Among equals the tees lie at
        the higher level; then, from each stretch's start, the next step stands as late as possible, is the
        bigger one, the deeper one. A closed ring counts from where it is cut, at a place with few levels.

    Raises
    ------
    ValueError
        If the problem contradicts itself, or its footings meet in too close a mesh.

    Examples
    --------
    >>> steps = Steps(
    ...     before=np.array([0, 1]), after=np.array([1, 0]),
    ...     run_before=np.array([0.6, 0.6]), run_after=np.array([0.6, 0.6]), cost=np.array([[5.0, 5.0]]),
    ... )
    >>> cost = np.array([[[3.0, 1.0], [3.0, 1.0], [3.0, 1.0], [3.0, np.inf], [3.0, np.inf]]])
    >>> wall = Stretch("A-B", np.arange(6) * 0.3, np.ones(6, bool), cost)
    >>> answer = solve(SteppingProblem(np.array([0.0, 0.2]), (wall,), steps))[0]
    >>> answer.cost, answer.levels[0]
    (14.0, array([1, 1, 1, 0, 0]))
    """
    check(problem)
    objectives = problem.steps.cost.shape[0]
    used, problem = _used_levels(problem)
    level, steps, stretches = problem.level, problem.steps, problem.stretches
    possible = possible_levels(stretches)
    if not all(fits.any() for fits in possible.values()):
        return (None,) * objectives
    rows = [stretch for stretch in stretches if not stretch.closed]
    weights = [weigh(stretch, level, steps_on(stretch, steps), possible) for stretch in rows]
    cost, chosen = settle(weights, tuple(possible), level.size, objectives)
    rings = [best_ring(stretch, level, steps_on(stretch, steps)) for stretch in stretches if stretch.closed]
    cost = cost + sum((np.array([best for best, _ in ring]) for ring in rings), np.zeros(objectives))
    fits = np.isfinite(cost)
    if not fits.any():
        return (None,) * objectives
    tees = {tee: chosen[:, index] for index, tee in enumerate(possible)}
    traced = iter([trace(stretch, level, steps_on(stretch, steps), tees, fits) for stretch in rows])
    closed = iter(rings)
    levels = [
        [found for _, found in next(closed)] if stretch.closed else next(traced) for stretch in stretches
    ]
    return tuple(
        SteppingAnswer(
            float(cost[objective]),
            tuple(used[of_stretch[objective]] for of_stretch in levels),
            {tee: int(used[index[objective]]) for tee, index in tees.items()},
        )
        if fits[objective]
        else None
        for objective in range(objectives)
    )


def _used_levels(problem: SteppingProblem) -> tuple[np.ndarray, SteppingProblem]:
    """Leave out levels that no cell may have: their indices do not come back, and neither does their work."""
    used = np.zeros(problem.level.size, bool)
    for stretch in problem.stretches:
        used |= np.isfinite(stretch.cost).any(axis=(0, 1))
    used[0] |= not used.any()  # there is always one level, even where nothing fits
    index = np.cumsum(used) - 1
    steps = problem.steps
    kept = used[steps.before] & used[steps.after]
    return np.flatnonzero(used), SteppingProblem(
        problem.level[used],
        tuple(
            replace(
                stretch,
                cost=stretch.cost[:, :, used],
                step_cost=None if stretch.step_cost is None else stretch.step_cost[:, kept],
            )
            for stretch in problem.stretches
        ),
        Steps(
            index[steps.before[kept]],
            index[steps.after[kept]],
            steps.run_before[kept],
            steps.run_after[kept],
            steps.cost[:, kept],
        ),
    )


def check(problem: SteppingProblem) -> None:
    """Refuse a stepping problem that contradicts itself.

    Parameters
    ----------
    problem : SteppingProblem
        The problem.

    Raises
    ------
    ValueError
        Naming the part that is wrong, its value and what would do.
    """
    level, steps = problem.level, problem.steps
    if level.ndim != 1 or level.size == 0 or not np.isfinite(level).all() or (np.diff(level) <= 0).any():
        raise ValueError(f"The levels are {level} m; they must be finite and increase.")
    pairs = steps.before.size
    shapes = [entry.shape for entry in (steps.after, steps.run_before, steps.run_after)]
    if shapes != [(pairs,)] * 3 or steps.cost.ndim != 2 or steps.cost.shape[1] != pairs:
        raise ValueError(
            f"The steps have {pairs} levels before, and {shapes}, {steps.cost.shape} of the rest."
        )
    ends = np.concatenate((steps.before, steps.after))
    if pairs and (ends.min() < 0 or ends.max() >= level.size or (steps.before == steps.after).any()):
        raise ValueError(f"The steps must join two different ones of the levels 0 to {level.size - 1}.")
    if np.unique(steps.before * level.size + steps.after).size != pairs:
        raise ValueError(
            "A pair of levels has two entries among the steps; one for each ordered pair would do."
        )
    runs = np.concatenate((steps.run_before, steps.run_after))
    if not (np.isfinite(runs) & (runs >= 0)).all():
        raise ValueError(
            f"The steps ask for runs of {runs.min()} to {runs.max()} m; finite lengths from 0 would do."
        )
    if not (steps.cost > -np.inf).all():
        raise ValueError("A step costs nan or -inf; a number, or inf for never, would do.")
    for stretch in problem.stretches:
        _check_stretch(stretch, steps.cost.shape, level.size)
    runs_through = {
        tee
        for stretch in problem.stretches
        for tee, branches in ((stretch.start, stretch.start_branches), (stretch.end, stretch.end_branches))
        if not branches
    }
    for stretch in problem.stretches:
        for tee in (stretch.start, stretch.end):
            if tee not in runs_through and tee is not None:
                raise ValueError(f"At tee {tee} every footing branches off; one of them must run through.")


def _check_stretch(stretch: Stretch, step_shape: tuple[int, ...], levels: int) -> None:
    objectives = step_shape[0]
    name, position = f"The stretch {stretch.name}", stretch.position
    count = position.size - 1
    if count < 1 or position[0] != 0 or not np.isfinite(position).all() or (np.diff(position) <= 0).any():
        raise ValueError(f"{name} has nodes at {position} m; at least two that increase from 0 would do.")
    if stretch.step_allowed.shape != (count + 1,) or stretch.cost.shape != (objectives, count, levels):
        raise ValueError(
            f"{name} has {count} cells, {levels} levels and {objectives} objectives, but steps at "
            f"{stretch.step_allowed.shape} nodes and costs for {stretch.cost.shape}."
        )
    if stretch.step_cost is not None and stretch.step_cost.shape != step_shape:
        raise ValueError(f"{name} has step costs of {stretch.step_cost.shape}; {step_shape} would do.")
    if stretch.step_cost is not None and not (stretch.step_cost > -np.inf).all():
        raise ValueError(f"{name} has a step that costs nan or -inf; a number, or inf for never, would do.")
    if not (stretch.cost > -np.inf).all():
        raise ValueError(f"{name} has a cell that costs nan or -inf; a number, or inf for never, would do.")
    if stretch.closed and (stretch.start is not None or stretch.end is not None):
        raise ValueError(
            f"{name} is closed, but ends at tee {stretch.start or stretch.end}; one or the other."
        )
    if (stretch.start_branches and stretch.start is None) or (stretch.end_branches and stretch.end is None):
        raise ValueError(f"{name} branches off at a free end; name the tee there.")
