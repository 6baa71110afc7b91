"""The best stepping of tiny lots against every way to lay their cells, and the rule for ties."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from foundation.footing.audit import audit, price
from foundation.footing.optimum import solve
from foundation.model.stepping import SteppingProblem, Steps, Stretch
from tests.footing.lots import KINDS, random_problem


def every_way(problem: SteppingProblem) -> Iterator[tuple[float, tuple[np.ndarray, ...], dict[str, int]]]:
    """All levels of all cells and tees that keep the rules, with what they cost."""
    indices = range(problem.level.size)
    counts = [stretch.cost.shape[1] for stretch in problem.stretches]
    names = sorted({tee for stretch in problem.stretches for tee in (stretch.start, stretch.end) if tee})
    for cells in product(indices, repeat=sum(counts)):
        levels = tuple(np.split(np.array(cells), np.cumsum(counts)[:-1]))
        if any(
            np.isinf(stretch.cost[0, np.arange(row.size), row]).any()
            for stretch, row in zip(problem.stretches, levels, strict=True)
        ):
            continue
        for tees in product(indices, repeat=len(names)):
            settled = dict(zip(names, tees, strict=True))
            if not audit(problem, levels, settled):
                yield float(price(problem, levels, settled)[0]), levels, settled


@pytest.mark.parametrize("kind", KINDS)
def test_no_way_is_cheaper(kind: str) -> None:
    fits = 0
    for seed in range(25):
        problem = random_problem(np.random.default_rng(seed), kind, 6, 3)
        best = min((cost for cost, _, _ in every_way(problem)), default=None)
        answer = solve(problem)[0]
        assert (answer.cost if answer else None) == best
        fits += best is not None
    assert fits > 5


def rank(problem: SteppingProblem, row: np.ndarray) -> list[float]:
    """Comes first in order if the rule for ties prefers it."""
    level = problem.level[row]
    order = [-level[0]]
    for node in np.flatnonzero(np.diff(row)) + 1:
        order += [-float(node), -round(abs(level[node] - level[node - 1]), 9), level[node]]
    return [*order, -np.inf]


def tied_lot(rng: np.random.Generator) -> SteppingProblem:
    """A wall where most ways cost the same: levels cost nothing or 1, steps 1."""
    level = np.arange(4) * 0.2
    before, after = np.nonzero(~np.eye(4, dtype=bool))
    run = np.where(np.abs(before - after) > 1, 0.6, 0.3)
    steps = Steps(before, after, run, run, np.ones((1, before.size)))
    cost = np.where(rng.random((1, 6, 4)) < 0.4, np.inf, rng.integers(0, 2, (1, 6, 4)).astype(float))
    return SteppingProblem(level, (Stretch("wall", np.arange(7) * 0.3, np.ones(7, bool), cost),), steps)


def test_ties_go_by_the_rule() -> None:
    ties = 0
    for seed in range(60):
        problem = tied_lot(np.random.default_rng(seed))
        ways = list(every_way(problem))
        if not ways:
            assert solve(problem)[0] is None
            continue
        best = min(cost for cost, _, _ in ways)
        tied = [levels[0] for cost, levels, _ in ways if cost == best]
        answer = solve(problem)[0]
        assert answer is not None
        assert answer.levels[0].tolist() == min(tied, key=lambda row: rank(problem, row)).tolist()
        ties += len(tied) > 1
    assert ties > 25


def test_a_tied_branch_steps_late_and_a_tied_tee_lies_high() -> None:
    problem = tied_lot(np.random.default_rng(0))
    free = np.zeros((1, 4, 4))
    through = Stretch("through", np.arange(5) * 0.3, np.ones(5, bool), free, start="T")
    branch = replace(through, name="branch", start_branches=True, cost=np.where([1, 0, 0, 0], free, np.inf))
    answer = solve(replace(problem, stretches=(through, branch)))[0]
    assert answer is not None
    assert answer.cost == 0
    assert answer.tees == {"T": 0}
    # Nothing but the branch's own far end is low, and it is as good to step at the tee as later.
    low = np.zeros((1, 4, 4))
    low[0, 2:, 1:] = np.inf
    high = np.where([0, 0, 0, 1], free, np.inf)
    problem = replace(problem, stretches=(replace(through, cost=high), replace(branch, cost=low)))
    answer = solve(problem)[0]
    assert answer is not None
    assert answer.tees == {"T": 3}
    assert answer.levels[1].tolist() == [3, 3, 0, 0]
