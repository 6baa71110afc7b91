"""How far a stretch can be stepped, against every way to lay its first cells."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np

from foundation.footing.optimum import solve
from foundation.footing.reach import Reach, reach
from foundation.model.stepping import SteppingProblem, Steps, Stretch
from tests.footing.lots import random_problem


def lays(problem: SteppingProblem, stretch: Stretch, row: tuple[int, ...], from_start: bool) -> bool:
    """Whether levels of a free-ended stretch's first or last cells keep the rules, what lies beyond left open."""
    count = stretch.cost.shape[1]
    first = 0 if from_start else count - len(row)
    if any(np.isinf(stretch.cost[0, first + cell, level]) for cell, level in enumerate(row)):
        return False
    steps, position = problem.steps, stretch.position[first : first + len(row) + 1]
    for node in range(1, len(row)):
        if row[node - 1] == row[node]:
            continue
        pair = np.flatnonzero((steps.before == row[node - 1]) & (steps.after == row[node]))
        if pair.size == 0 or not stretch.step_allowed[first + node]:
            return False
        back, ahead = node, node
        while back > 0 and row[back - 1] == row[node - 1]:
            back -= 1
        while ahead < len(row) and row[ahead] == row[node]:
            ahead += 1
        short_back = position[node] - position[back] < steps.run_before[pair[0]] - 1e-9
        short_ahead = position[ahead] - position[node] < steps.run_after[pair[0]] - 1e-9
        if (short_back and (back > 0 or from_start)) or (
            short_ahead and (ahead < len(row) or not from_start)
        ):
            return False
    return True


def test_no_way_comes_further() -> None:
    stuck = 0
    for seed in range(60):
        problem = random_problem(np.random.default_rng(seed), "tree", 24, 3)
        stretch = replace(problem.stretches[1], start=None, end=None, step_cost=None)
        count = stretch.cost.shape[1]
        problem = replace(problem, stretches=(stretch,))
        ways = {
            from_start: max(
                (
                    cells
                    for cells in range(1, count + 1)
                    if any(lays(problem, stretch, row, from_start) for row in product(range(3), repeat=cells))
                ),
                default=0,
            )
            for from_start in (True, False)
        }
        fits = solve(problem)[0] is not None
        assert reach(problem) == (
            Reach(
                stretch.name,
                fits,
                float(stretch.position[ways[True]]),
                float(stretch.position[count - ways[False]]),
            ),
        )
        stuck += ways[True] < count
    assert 10 < stuck < 50


def simple(cost: np.ndarray, **ends: object) -> SteppingProblem:
    """Two levels 0.2 m apart, runs of 0.6 m, cells of 0.3 m."""
    run = np.full(2, 0.6)
    steps = Steps(np.array([0, 1]), np.array([1, 0]), run, run, np.ones((1, 2)))
    nodes = np.arange(len(cost) + 1) * 0.3
    stretch = Stretch("wall", nodes, np.ones(nodes.size, bool), cost[None], **ends)  # type: ignore[arg-type]
    return SteppingProblem(np.array([0.0, 0.2]), (stretch,), steps)


def test_a_ring_is_taken_both_ways_from_its_joint() -> None:
    cost = np.zeros((10, 2))
    cost[6] = np.inf
    cost[0, 1] = cost[1:6, 0] = np.inf  # steps after one cell: the run before it began before the joint
    (found,) = reach(simple(cost, closed=True))
    assert not found.fits
    assert np.allclose([found.from_start, found.from_end], [6 * 0.3, 7 * 0.3], rtol=0, atol=1e-12)


def test_a_tee_holds_the_run_beside_it() -> None:
    low, high = [0.0, np.inf], [np.inf, 0.0]
    # From the tee on one cell of the lower level is too short for a step up.
    (found,) = reach(simple(np.array([low, high, high, high]), start="T"))
    assert not found.fits
    assert np.allclose([found.from_start, found.from_end], [0.3, 0.0], rtol=0, atol=1e-12)
    # At a free end likewise; a branch may step at the tee instead.
    (found,) = reach(simple(np.array([low, high, high, high])))
    assert not found.fits
    problem = simple(np.array([high, high, high, high]), start="T", start_branches=True)
    through = replace(problem.stretches[0], name="through", start_branches=False, cost=np.array([[low] * 4]))
    both = replace(problem, stretches=(problem.stretches[0], through))
    assert [one.fits for one in reach(both)] == [True, True]
    assert solve(both)[0] is not None


def test_tees_that_suit_no_level_in_common() -> None:
    low, high = [0.0, np.inf], [np.inf, 0.0]
    problem = simple(np.array([low, low]), end="T")
    other = replace(problem.stretches[0], name="other", cost=np.array([[high, high]]), start="T", end=None)
    apart = replace(problem, stretches=(problem.stretches[0], other))
    assert solve(apart) == (None,)
    assert [one.fits for one in reach(apart)] == [False, False]
    # Each fits by itself, but the one must step up and the other may not.
    free = [0.0, 0.0]
    up = simple(np.array([free, low, high, free]), start="S", end="T")
    level = replace(up.stretches[0], name="level", cost=np.zeros((1, 4, 2)), step_allowed=np.zeros(5, bool))
    together = replace(up, stretches=(up.stretches[0], level))
    assert [one.fits for one in reach(together)] == [True, True]
    assert solve(together) == (None,)
