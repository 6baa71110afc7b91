"""The audit names what is wrong and where; the price refuses what is not to be had."""

from __future__ import annotations

import numpy as np
import pytest

from foundation.footing.audit import Violation, audit, price
from foundation.model.stepping import SteppingProblem, Steps, Stretch


@pytest.fixture
def lot() -> SteppingProblem:
    """A footing that runs through tee T, and a branch; three levels, steps of one level, runs of 0.6 m."""
    before, after = np.array([0, 1, 1, 2]), np.array([1, 0, 2, 1])
    run = np.full(4, 0.6)
    steps = Steps(before, after, run, run, np.array([[5.0, 5.0, 7.0, 7.0]]))
    cost = np.ones((1, 6, 3))
    cost[0, 5, 2] = np.inf
    allowed = np.array([True, True, True, True, False, True, True])
    nodes = np.arange(7) * 0.3
    through = Stretch("through", nodes, allowed, cost, start="T")
    own = np.full((1, 4), 3.0)
    branch = Stretch("branch", nodes, allowed, cost, end="T", end_branches=True, step_cost=own)
    return SteppingProblem(np.array([0.0, 0.2, 0.4]), (through, branch), steps)


def test_sound_levels_pass_at_their_price(lot: SteppingProblem) -> None:
    levels = (np.array([0, 0, 0, 1, 1, 1]), np.array([1, 1, 1, 1, 1, 1]))
    assert audit(lot, levels, {"T": 0}) == ()
    # Twelve cells, one step of the footing that runs through, and one of the branch at the tee.
    assert price(lot, levels, {"T": 0}).tolist() == [12.0 + 5.0 + 3.0]


@pytest.mark.parametrize(
    ("through", "branch", "stretch", "position", "sentence"),
    [
        ([0, 0, 0, 0, 0, 0], [1, 1, 1, 1, 1, 2], "branch", 1.5, "The cell may not lie at level 2."),
        ([1, 1, 1, 1, 1, 1], [0, 0, 0, 0, 0, 0], "through", 0.0, "runs through tee T at level 1, not at 0."),
        ([0, 0, 0, 0, 1, 1], [0, 0, 0, 0, 0, 0], "through", 1.2, "No step may stand here."),
        ([0, 0, 0, 2, 2, 1], [0, 0, 0, 0, 0, 0], "through", 0.9, "No step leads from level 0 to 2."),
        ([0, 1, 1, 1, 1, 1], [0, 0, 0, 0, 0, 0], "through", 0.3, "The run before is 0.3 m, not 0.6 m."),
        ([0, 0, 0, 0, 0, 1], [0, 0, 0, 0, 0, 0], "through", 1.5, "The run after is 0.3 m, not 0.6 m."),
        ([0, 0, 0, 0, 0, 0], [0, 0, 0, 0, 0, 1], "branch", 1.8, "The run before is 0.3 m, not 0.6 m."),
    ],
)
def test_each_rule_is_read(
    lot: SteppingProblem, through: list[int], branch: list[int], stretch: str, position: float, sentence: str
) -> None:
    found = audit(lot, (np.array(through), np.array(branch)), {"T": 0})
    hits: list[Violation] = [one for one in found if sentence in one.sentence and one.stretch == stretch]
    assert [round(one.position, 9) for one in hits] == [position]


def test_a_step_that_does_not_exist_has_no_price(lot: SteppingProblem) -> None:
    levels = (np.array([0, 0, 0, 2, 2, 1]), np.zeros(6, int))
    assert price(lot, levels, {"T": 0}).tolist() == [np.inf]
