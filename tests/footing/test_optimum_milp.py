"""The best stepping against an integer program, solved by HiGHS through scipy.optimize.milp.

HiGHS is a general solver that knows nothing of this problem; the program is written down in ``milp.py``.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foundation.footing.optimum import solve
from foundation.model.stepping import SteppingProblem
from tests.footing.lots import KINDS, random_problem, random_steps, random_stretch
from tests.footing.milp import least_cost

SCALE = 1e-3


def compare(problem: SteppingProblem, objective: int = 0) -> bool:
    """Whether anything fits, after both opinions agreed."""
    answer = solve(problem)[objective]
    cost = least_cost(problem, objective, SCALE)
    if cost is None or answer is None:
        assert cost is None
        assert answer is None
        return False
    assert answer.cost * SCALE == pytest.approx(cost, rel=0, abs=1e-6)
    return True


@pytest.mark.parametrize("kind", KINDS)
def test_small_lots(kind: str) -> None:
    fits = [compare(random_problem(np.random.default_rng(seed), kind, 24, 6)) for seed in range(40)]
    assert 15 < sum(fits) < 40  # both answers, so that neither is given for free


@pytest.mark.parametrize("kind", KINDS)
def test_larger_lots(kind: str) -> None:
    fits = [compare(random_problem(np.random.default_rng(seed), kind, 40, 8)) for seed in range(100, 106)]
    assert any(fits)


def test_tight_rings() -> None:
    # So short for their runs that the run through the cut breaks its rule at first.
    fits = [compare(random_problem(np.random.default_rng(seed), "ring", 11, 6)) for seed in range(60)]
    assert sum(fits) > 30


def test_each_of_three_objectives() -> None:
    for seed in range(10):
        rng = np.random.default_rng(seed)
        problem = random_problem(rng, KINDS[seed % len(KINDS)], 24, 6, objectives=3)
        cells = problem.stretches[0].cost.copy()
        cells[1][rng.random(cells[1].shape) < 0.1] = np.inf  # the second allows less
        first = replace(problem.stretches[0], cost=cells)
        problem = replace(problem, stretches=(first, *problem.stretches[1:]))
        for objective in range(3):
            compare(problem, objective)


def test_four_tees_of_which_each_meets_each() -> None:
    through, branches = [("A", "B"), ("C", "D")], [("A", "C"), ("A", "D"), ("B", "C"), ("B", "D")]
    level = np.arange(6) * 0.2
    fits = []
    for seed in range(20):
        rng = np.random.default_rng(seed)
        stretches = [
            random_stretch(rng, start + end, 6, level, 1, start=start, end=end) for start, end in through
        ]
        for start, end in branches:
            ends = {"start_branches": rng.random() < 0.7, "end_branches": rng.random() < 0.7}
            stretches.append(random_stretch(rng, start + end, 6, level, 1, start=start, end=end, **ends))
        fits.append(compare(SteppingProblem(level, tuple(stretches), random_steps(rng, level, 1))))
    assert 3 <= sum(fits) <= 17
