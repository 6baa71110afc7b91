"""How long the best stepping takes: run ``python -m tests.bench_stepping``; it prints and asserts nothing."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from foundation.footing.optimum import solve
from foundation.footing.ring import best_ring
from foundation.model.stepping import SteppingProblem, Steps, Stretch
from tests.footing.lots import KINDS, random_problem
from tests.footing.milp import least_cost

INCH = 0.0254
CELL = 3 * INCH


def seconds(work: Callable[[], object], repeats: int = 3) -> float:
    """Least time of a few tries. [s]"""
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def ring(
    cells: int = 1600, levels: int = 48, objectives: int = 1, seed: int | None = None
) -> SteppingProblem:
    """A ring of 3 in cells: levels of a 2 in module, rise ≤ 24 in, run ≥ 24 in, rise ≤ 3/4 of the run.

    Costs are in cents, of digging and wall, and of a step; ``seed`` varies the grade.
    """
    level = np.arange(levels) * 2 * INCH
    before, after = np.nonzero(~np.eye(levels, dtype=bool))
    rise = np.abs(level[before] - level[after])
    kept = rise <= 24 * INCH + 1e-9
    before, after, rise = before[kept], after[kept], rise[kept]
    run = np.maximum(24 * INCH, rise / 0.75)
    rng = np.random.default_rng(seed)
    turn, wobble = (0.0, 0.05) if seed is None else (rng.random(), rng.uniform(0.0, 0.08))
    share = np.arange(cells) / cells + turn
    grade = level[-1] * (0.55 + 0.4 * np.cos(2 * np.pi * share) + wobble * np.cos(14 * np.pi * share))
    step = np.array([np.round(8000 + 3000 * index + 9000 * rise) for index in range(objectives)])
    deep = np.array([np.round((level[-1] - level) * (1100 + 90 * index)) for index in range(objectives)])
    cost = np.where(level > grade[:, None] + level[1], np.inf, deep[:, None])
    nodes = np.arange(cells + 1) * CELL
    stretch = Stretch("ring", nodes, np.ones(cells + 1, bool), cost, closed=True)
    return SteppingProblem(level, (stretch,), Steps(before, after, run, run, step))


def dipped(problem: SteppingProblem, cell: int, cells: int, levels: int) -> SteppingProblem:
    """The same ring with grade lowered over a few cells, as at a cellar door, where steps crowd."""
    whole = problem.stretches[0]
    cost = whole.cost.copy()
    cost[:, cell : cell + cells, levels:] = np.inf
    return replace(problem, stretches=(replace(whole, cost=cost),))


def level_lot(problem: SteppingProblem) -> SteppingProblem:
    """The same ring where all levels are possible everywhere."""
    whole = problem.stretches[0]
    cost = np.repeat(whole.cost[:, :1], whole.cost.shape[1], axis=1)
    return replace(problem, stretches=(replace(whole, cost=cost),))


def with_tees(problem: SteppingProblem) -> SteppingProblem:
    """The same ring cut at two tees, with an inner footing that may step at both."""
    whole = problem.stretches[0]
    cells = whole.cost.shape[1]
    parts = []
    for name, low, high in (("front", 0, cells // 2), ("back", cells // 2, cells), ("inner", 0, cells // 4)):
        nodes = whole.position[low : high + 1] - whole.position[low]
        start, end = ("Q", "P") if name == "back" else ("P", "Q")
        branches = name == "inner"
        parts.append(
            Stretch(
                name, nodes, np.ones(nodes.size, bool), whole.cost[:, low:high], start, end, branches, branches
            )
        )  # fmt: skip
    return SteppingProblem(problem.level, tuple(parts), problem.steps)


def cut_at(problem: SteppingProblem, cell: int) -> object:
    """The best ring from a cut of our choosing."""
    return best_ring(problem.stretches[0], problem.level, problem.steps, cell)


def against_integer_program(name: str, lots: list[SteppingProblem]) -> None:
    """Print how much longer the integer program takes."""
    ours = [seconds(partial(solve, lot)) for lot in lots]
    ratios = [seconds(partial(least_cost, lot), 1) / our for lot, our in zip(lots, ours, strict=True)]
    print(
        f"{name}: ours {np.median(ours) * 1e3:.1f} ms, integer program {np.median(ratios):.0f} times that",
        end="",
    )
    print(f" (from {min(ratios):.0f} to {max(ratios):.0f})")


def main() -> None:
    """Print all figures."""
    rng = np.random.default_rng(0)
    sizes = [int(size) for size in rng.integers(60, 121, 10)]
    against_integer_program(
        "ten lots of 3 in cells, 60 to 120 of them, 10 levels",
        [
            ring(size, 10, seed=lot) if lot % 2 else with_tees(ring(size, 10, seed=lot))
            for lot, size in enumerate(sizes)
        ],
    )
    against_integer_program(
        "ten of the tests' lots, 60 to 120 cells of 0.1 to 0.3 m, 10 levels",
        [random_problem(rng, KINDS[lot % len(KINDS)], size, 10) for lot, size in enumerate(sizes)],
    )
    for objectives in (1, 3):
        whole = ring(objectives=objectives)
        print(f"1,600 cells, 48 levels, {objectives} answers:")
        print(f"  ring {seconds(partial(solve, whole)):.3f} s")
        print(f"  ring with two tees and an inner footing {seconds(partial(solve, with_tees(whole))):.3f} s")
        print(f"  ring cut where all 48 levels are possible {seconds(partial(cut_at, whole, 0)):.3f} s")
        flat = dipped(level_lot(whole), 0, 2, 30)
        print(f"  ring on a level lot with a dip over two cells {seconds(partial(solve, flat)):.3f} s")
        for levels in (10, 20, 30):
            door = dipped(whole, 0, 2, levels)
            print(
                f"  ring with a dip to {levels} levels over two cells, {seconds(partial(solve, door)):.3f} s",
                end="",
            )
            print(f"; cut at the dip {seconds(partial(cut_at, door, 0), 1):.3f} s")
    for cells in (400, 800, 1600, 3200, 6400):
        print(f"ring of {cells} cells: {seconds(partial(solve, ring(cells))):.3f} s")


if __name__ == "__main__":
    main()
