"""Why no stepping fits: which stretch, which two rules collide, and what would free it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.footing.optimum import solve
from foundation.footing.problem import FIT, highest_bottom
from foundation.footing.reach import reach
from foundation.model.problem import Problem
from foundation.model.stepping import SteppingProblem
from foundation.model.walls import FootingLine, LineChain, StepRules
from foundation.project import Project

Array = NDArray[np.float64]


Build = Callable[[tuple[FootingLine, ...], StepRules], SteppingProblem]
"""Makes the stepping problem of some lines under some rules, at the levels that are offered."""


def explain(
    project: Project,
    lines: tuple[FootingLine, ...],
    chains: tuple[LineChain, ...],
    rules: StepRules,
    level: Array,
    build: Build,
) -> Problem:
    """Say why no stepping keeps the rules.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of FootingLine
        Its footing lines.
    chains : tuple of LineChain
        How they join.
    rules : StepRules
        The step rules.
    level : ndarray, shape (l,)
        The levels that were offered. [m]
    build : callable
        Makes the problem of lines and rules; with these it has no answer.

    Returns
    -------
    Problem
        One that names the stretch, the two rules and what would free it.
    """
    system = project.units
    for line in lines:
        highest = highest_bottom(line)
        fits = (level[None, :] <= highest[:, None] + FIT) & (level >= line.lowest - FIT)[None, :]
        blocked = ~fits.any(axis=1)
        if blocked.any():
            return _no_level(line, highest, np.asarray(blocked), level, system)
    where = _where(build(lines, rules), chains, lines, system)
    blamed, remedies = _what_frees(lines, rules, build, system)
    below = max(lines, key=lambda line: line.lowest).lowest_reason
    return Problem(
        "rules",
        rules.name,
        f"No stepping keeps the rules {where}: {below} keeps the footing up on one side, {blamed} keeps it from "
        f"climbing there. What would free it: {'; or '.join(remedies)}.",
    )


def _no_level(
    line: FootingLine, highest: Array, blocked: NDArray[np.bool_], level: Array, system: str
) -> Problem:
    """A place where the lowest allowed level lies above the highest."""
    cells = np.flatnonzero(blocked)
    worst = int(cells[np.argmin(highest[cells])])
    tightest = min(line.limits, key=lambda limit: float(limit.highest[worst]))
    start, end = float(line.node[cells[0]]), float(line.node[cells[-1] + 1])
    below = level[level <= highest[worst] + FIT]
    needed = float(below.max()) if len(below) else float(highest[worst])
    wall = line.wall
    height = wall.wall_top - needed - wall.footing_thickness
    remedy = (
        f"a wall of {units.length(height, system)}, or a lower top of wall"
        if line.lowest_reason == "the tallest wall"
        else f"digging to {units.length(needed, system)} there, or a foundation that an engineer designs for it"
    )
    return Problem(
        "rules.tallest_wall" if line.lowest_reason == "the tallest wall" else "digging.deepest",
        wall.name,
        f"Wall {wall.name} from {units.length(start, system)} to {units.length(end, system)}: {tightest.reason} asks "
        f"for a bottom of footing at {units.length(float(highest[worst]), system)} or lower, {line.lowest_reason} for "
        f"{units.length(line.lowest, system)} or higher. What would free it: {remedy}.",
    )


def _feasible(problem: SteppingProblem) -> bool:
    first = tuple(
        replace(
            stretch,
            cost=stretch.cost[:1],
            step_cost=None if stretch.step_cost is None else stretch.step_cost[:1],
        )
        for stretch in problem.stretches
    )
    steps = replace(problem.steps, cost=problem.steps.cost[:1])
    return solve(SteppingProblem(problem.level, first, steps))[0] is not None


def _where(
    problem: SteppingProblem, chains: tuple[LineChain, ...], lines: tuple[FootingLine, ...], system: str
) -> str:
    """Between which stations the rules cannot be kept."""
    length = {line.wall.name: line.wall.length for line in lines}
    for chain, reached in zip(chains, reach(problem), strict=True):
        if reached.fits:
            continue
        start, end = sorted((reached.from_start, reached.from_end))
        offset = 0.0
        for name in chain.lines:
            if start < offset + length[name] - FIT or name == chain.lines[-1]:
                first = units.length(max(0.0, start - offset), system)
                last = units.length(min(end - offset, length[name]), system)
                return f"on wall {name} between {first} and {last}"
            offset += length[name]
    return "where the walls meet"


def _what_frees(
    lines: tuple[FootingLine, ...], rules: StepRules, build: Build, system: str
) -> tuple[str, list[str]]:
    """The step rule that collides, and the least change of one rule that frees it, for each rule that can."""
    modules = [n * rules.module for n in range(1, 25)]
    changes: list[
        tuple[str, str, list[float], Callable[[float], tuple[tuple[FootingLine, ...], StepRules]]]
    ] = [
        (
            "the most rise of a step",
            "length",
            [rules.rise + step for step in modules],
            lambda value: (lines, replace(rules, rise=value)),
        ),
        (
            "the least run",
            "length",
            [rules.run * n / 8 for n in range(7, -1, -1)],
            lambda value: (lines, replace(rules, run=value)),
        ),
        (
            "the rise over run",
            "number",
            [rules.rise_over_run * (1 + n / 4) for n in range(1, 13)],
            lambda value: (lines, replace(rules, rise_over_run=value)),
        ),
        (
            "steps nearer to corners and in the stretches without steps",
            "",
            [0.0],
            lambda _value: (
                tuple(replace(line, step_allowed=np.ones_like(line.step_allowed)) for line in lines),
                rules,
            ),
        ),
    ]
    blamed, remedies = "", []
    for name, kind, trials, changed in changes:
        for trial in filter(math.isfinite, trials):
            if _feasible(build(*changed(trial))):
                blamed = blamed or name
                remedies.append(f"{name} at {units.write(trial, kind, system)}" if kind else name)
                break
    bound = max(lines, key=lambda line: line.lowest)
    for deeper in modules:
        lowered = tuple(replace(line, lowest=line.lowest - deeper) for line in lines)
        if _feasible(build(lowered, rules)):
            remedies.append(f"{bound.lowest_reason} {units.length(deeper, system)} lower down")
            break
    return blamed or "the set of step rules", remedies or [
        "another rule set, or levels that lie closer together"
    ]
