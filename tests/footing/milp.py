"""Second opinion: the same problem as an integer program for scipy's HiGHS.

Cells are binary choices of a level, steps are binary choices of a pair of levels at a node. The levels before
a node flow through it, unchanged or by a step; a step may only be chosen if every cell within its runs has
its level. Nothing here is shared with the optimiser.
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from foundation.model.stepping import SteppingProblem, Stretch

TOLERANCE = 1e-9


class Program:
    """The rows and columns of the integer program."""

    def __init__(self, problem: SteppingProblem, objective: int, scale: float) -> None:
        self.problem, self.objective, self.scale = problem, objective, scale
        self.cost: list[float] = []
        self.most: list[float] = []
        self.entries: list[tuple[int, int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []
        self.tees: dict[str, list[int]] = {}
        for stretch in problem.stretches:
            for tee in (stretch.start, stretch.end):
                if tee is not None and tee not in self.tees:
                    self.tees[tee] = self.choice(np.zeros(problem.level.size))
        for stretch in problem.stretches:
            self.stretch(stretch)

    def column(self, cost: float) -> int:
        self.cost.append(0.0 if np.isinf(cost) else cost * self.scale)
        self.most.append(0.0 if np.isinf(cost) else 1.0)
        return len(self.cost) - 1

    def row(self, terms: list[tuple[int, float]], low: float, high: float) -> None:
        self.entries += [(len(self.low), column, factor) for column, factor in terms]
        self.low.append(low)
        self.high.append(high)

    def choice(self, costs: np.ndarray) -> list[int]:
        columns = [self.column(float(cost)) for cost in costs]
        self.row([(column, 1.0) for column in columns], 1.0, 1.0)
        return columns

    def stretch(self, stretch: Stretch) -> None:
        cells = [self.choice(costs) for costs in stretch.cost[self.objective]]
        count = len(cells)
        for node in range(1, count):
            self.node(stretch, cells, node, cells[node - 1], cells[node], True, True)
        if stretch.closed:
            self.node(stretch, cells, 0, cells[-1], cells[0], True, True)
        for tee, branches, cell, node in (
            (stretch.start, stretch.start_branches, cells[0], 0),
            (stretch.end, stretch.end_branches, cells[-1], count),
        ):
            if tee is None:
                continue
            through = self.tees[tee]
            if not branches:
                for one, other in zip(through, cell, strict=True):
                    self.row([(one, 1.0), (other, -1.0)], 0.0, 0.0)
            elif node == 0:
                self.node(stretch, cells, node, through, cell, False, True)
            else:
                self.node(stretch, cells, node, cell, through, True, False)

    def node(
        self,
        stretch: Stretch,
        cells: list[list[int]],
        node: int,
        before: list[int],
        after: list[int],
        behind: bool,
        ahead: bool,
    ) -> None:
        steps = self.problem.steps
        # Steps at this node by the cell and level that each of them asks for.
        asks: dict[int, list[int]] = {column: [] for column in before + after}
        out: dict[int, list[int]] = {column: [] for column in before}
        into: dict[int, list[int]] = {column: [] for column in after}
        allowed = stretch.step_allowed[node] and (not stretch.closed or node != 0 or stretch.step_allowed[-1])
        for pair in range(len(steps.before)) if allowed else ():
            one, other = int(steps.before[pair]), int(steps.after[pair])
            back = window(stretch, node, -1, float(steps.run_before[pair])) if behind else []
            fore = window(stretch, node, 1, float(steps.run_after[pair])) if ahead else []
            if back is None or fore is None:
                continue
            costs = steps.cost if stretch.step_cost is None else stretch.step_cost
            step = self.column(float(costs[self.objective, pair]))
            out[before[one]].append(step)
            into[after[other]].append(step)
            for column in {before[one], *(cells[cell][one] for cell in back)}:
                asks.setdefault(column, []).append(step)
            for column in {after[other], *(cells[cell][other] for cell in fore)}:
                asks.setdefault(column, []).append(step)
        for column, chosen in asks.items():
            if chosen:
                self.row([(column, -1.0), *((step, 1.0) for step in chosen)], -np.inf, 0.0)
        for one, other in zip(before, after, strict=True):
            terms = [(one, 1.0), (other, -1.0)]
            terms += [(step, -1.0) for step in out[one]] + [(step, 1.0) for step in into[other]]
            self.row(terms, 0.0, 0.0)


def window(stretch: Stretch, node: int, way: int, length: float) -> list[int] | None:
    """Cells within a length from a node; None where it leaves the stretch or laps the ring."""
    lengths = np.diff(stretch.position)
    cells: list[int] = []
    cell, sum_of_lengths = (node if way == 1 else node - 1), 0.0
    while sum_of_lengths < length - TOLERANCE:
        if len(cells) == lengths.size or (not stretch.closed and not 0 <= cell < lengths.size):
            return None
        cells.append(cell % lengths.size)
        sum_of_lengths += lengths[cell % lengths.size]
        cell += way
    return cells


def least_cost(problem: SteppingProblem, objective: int = 0, scale: float = 1e-3) -> float | None:
    """Least cost times a scale, None where nothing fits.

    The scale keeps the costs near 1, where the solver's tolerances are meant to be.
    """
    program = Program(problem, objective, scale)
    row, column, factor = (np.array(part) for part in zip(*program.entries, strict=True))
    matrix = csr_array((factor, (row, column)), shape=(len(program.low), len(program.cost)))
    answer = milp(
        np.array(program.cost),
        integrality=np.ones(len(program.cost)),
        bounds=Bounds(0.0, np.array(program.most)),
        constraints=LinearConstraint(matrix, np.array(program.low), np.array(program.high)),
        options={"mip_rel_gap": 0.0},
    )
    if answer.status == 2:
        return None
    assert answer.status == 0, answer.message
    return float(answer.fun)
