"""Reads an answer against the rules, cell by cell and step by step.

Written apart from the optimiser, in the plainest way, so that the one can check the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.stepping import SteppingProblem, Stretch

TOLERANCE = 1e-9
"""By how much a run may fall short of its rule, for the rounding of sums of lengths. [m]"""


@dataclass(frozen=True)
class Violation:
    """One place where an answer breaks the rules.

    Attributes
    ----------
    stretch : str
        Name of the stretch.
    position : float
        Distance from its start. [m]
    sentence : str
        What is wrong there.
    """

    stretch: str
    position: float
    sentence: str


@dataclass(frozen=True)
class _Step:
    """A change of level at a node; ``behind`` and ``ahead`` say on which sides this stretch has a run."""

    node: int
    before: int
    after: int
    behind: bool = True
    ahead: bool = True


def audit(
    problem: SteppingProblem,
    levels: Sequence[NDArray[np.int64]],
    tees: Mapping[str, int],
    objective: int = 0,
) -> tuple[Violation, ...]:
    """Find where levels break the rules.

    Parameters
    ----------
    problem : SteppingProblem
        The network and its rules.
    levels : sequence of ndarray of int
        For each stretch the level index of each cell. [-]
    tees : mapping of str to int
        Level index of the footing that runs through each tee. [-]
    objective : int
        Index of the objective by which a cell is forbidden. [-]

    Returns
    -------
    tuple of Violation
        Empty if the levels keep all rules.
    """
    found: list[Violation] = []
    for stretch, row in zip(problem.stretches, levels, strict=True):

        def note(node: int, sentence: str, stretch: Stretch = stretch) -> None:
            found.append(Violation(stretch.name, float(stretch.position[node]), sentence))

        for cell, level in enumerate(row):
            if np.isinf(stretch.cost[objective, cell, level]):
                note(cell, f"The cell may not lie at level {level}.")
        for tee, branches, cell, node in (
            (stretch.start, stretch.start_branches, 0, 0),
            (stretch.end, stretch.end_branches, -1, -1),
        ):
            if tee is not None and not branches and row[cell] != tees[tee]:
                note(node, f"The footing runs through tee {tee} at level {row[cell]}, not at {tees[tee]}.")
        for step in _steps(stretch, row, tees):
            joint = stretch.closed and step.node == 0
            if not stretch.step_allowed[step.node] or (joint and not stretch.step_allowed[-1]):
                note(step.node, "No step may stand here.")
            pair = _pair(problem, step)
            if pair is None:
                note(step.node, f"No step leads from level {step.before} to {step.after}.")
                continue
            if step.behind:
                run = _run(stretch, row, step.node, -1)
                if run < problem.steps.run_before[pair] - TOLERANCE:
                    note(
                        step.node,
                        f"The run before is {run:.6g} m, not {problem.steps.run_before[pair]:.6g} m.",
                    )
            if step.ahead:
                run = _run(stretch, row, step.node, 1)
                if run < problem.steps.run_after[pair] - TOLERANCE:
                    note(
                        step.node, f"The run after is {run:.6g} m, not {problem.steps.run_after[pair]:.6g} m."
                    )
    return tuple(found)


def price(
    problem: SteppingProblem, levels: Sequence[NDArray[np.int64]], tees: Mapping[str, int]
) -> NDArray[np.float64]:
    """Sum what levels cost.

    Parameters
    ----------
    problem : SteppingProblem
        The network and its costs.
    levels : sequence of ndarray of int
        For each stretch the level index of each cell. [-]
    tees : mapping of str to int
        Level index of the footing that runs through each tee. [-]

    Returns
    -------
    ndarray, shape (o,)
        Cost under each objective, inf where a cell or a step is not to be had. [objective's own unit]
    """
    total = np.zeros(problem.steps.cost.shape[0])
    for stretch, row in zip(problem.stretches, levels, strict=True):
        for cell, level in enumerate(row):
            total = total + stretch.cost[:, cell, level]
        for step in _steps(stretch, row, tees):
            pair = _pair(problem, step)
            costs = problem.steps.cost if stretch.step_cost is None else stretch.step_cost
            total = total + (np.inf if pair is None else costs[:, pair])
    return total


def _steps(stretch: Stretch, row: NDArray[np.int64], tees: Mapping[str, int]) -> Iterator[_Step]:
    """Every change of level, along the stretch."""
    last = len(row) - 1
    if stretch.closed and row[last] != row[0]:
        yield _Step(0, int(row[last]), int(row[0]))
    if stretch.start is not None and stretch.start_branches and tees[stretch.start] != row[0]:
        yield _Step(0, tees[stretch.start], int(row[0]), behind=False)
    for node in range(1, last + 1):
        if row[node - 1] != row[node]:
            yield _Step(node, int(row[node - 1]), int(row[node]))
    if stretch.end is not None and stretch.end_branches and tees[stretch.end] != row[last]:
        yield _Step(last + 1, int(row[last]), tees[stretch.end], ahead=False)


def _pair(problem: SteppingProblem, step: _Step) -> int | None:
    """Which entry of the steps this is."""
    for index in range(len(problem.steps.before)):
        if problem.steps.before[index] == step.before and problem.steps.after[index] == step.after:
            return index
    return None


def _run(stretch: Stretch, row: NDArray[np.int64], node: int, way: int) -> float:
    """Length of equal level from a node on, backward (-1) or forward (1), on a closed ring around it."""
    count = len(row)
    cell = node if way == 1 else node - 1
    level, length = row[cell % count], 0.0
    for _ in range(count):
        if not stretch.closed and not 0 <= cell < count:
            break
        if row[cell % count] != level:
            break
        length += float(stretch.position[cell % count + 1] - stretch.position[cell % count])
        cell += way
    return length
