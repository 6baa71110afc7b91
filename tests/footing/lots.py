"""Random stepping problems: all numbers are invented, so that every rule bites somewhere."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from foundation.model.stepping import SteppingProblem, Steps, Stretch

KINDS = ("ring", "one tee", "theta", "tree", "detached")


def random_steps(rng: np.random.Generator, level: np.ndarray, objectives: int) -> Steps:
    """Rise limit, least run and rise over run; which run the rule binds differs, so several lengths arise."""
    before, after = np.meshgrid(np.arange(level.size), np.arange(level.size), indexing="ij")
    rise = np.abs(level[before] - level[after])
    most = rng.choice([0.35, 0.45, 0.65]) if rng.random() < 0.7 else 9.0
    kept = (before != after) & (rise <= most) & (rng.random(rise.shape) < 0.95)
    before, after, rise = before[kept], after[kept], rise[kept]
    least, ratio = rng.choice([0.0, 0.3, 0.6, 0.9]), rng.choice([0.3, 0.5, 0.75])
    long = np.maximum(least, rise / ratio)
    down = level[after] < level[before]
    who = rng.integers(3)  # both runs, the lower one, or the one that begins
    run_before = np.where((who == 0) | ((who == 1) & ~down), long, least)
    run_after = np.where((who == 0) | ((who == 1) & down) | (who == 2), long, least)
    cost = np.round(5 + 60 * rise) + rng.integers(0, 10, (objectives, rise.size))
    return Steps(before, after, run_before, run_after, cost)


def random_stretch(
    rng: np.random.Generator, name: str, cells: int, level: np.ndarray, objectives: int, **ends: object
) -> Stretch:
    """Grade that falls and rises, odd cells, places where nothing fits or no step may stand."""
    length = np.where(rng.random(cells) < 0.75, 0.3, rng.choice([0.1, 0.15, 0.2, 0.25], cells))
    position = np.concatenate(([0.0], np.cumsum(length)))
    wave = 0.5 + 0.5 * np.cos(2 * np.pi * (np.arange(cells) / max(cells, 8) + rng.random()))
    cap = level[0] + (0.1 + rng.uniform(0.3, 0.9) * wave) * (level[-1] - level[0])
    cost = np.round((level[-1] - level) * 60) + rng.integers(0, 40, (objectives, cells, level.size))
    allowed = level[None, :] <= cap[:, None]
    allowed &= rng.random(allowed.shape) > rng.choice([0.0, 0.0, 0.02, 0.08])
    if rng.random() < 0.2:
        hole = rng.integers(0, cells)
        allowed[hole : hole + cells // 2, rng.integers(level.size)] = False
    steps = rng.random(cells + 1) > rng.choice([0.0, 0.2, 0.5])
    if ends.get("closed") and rng.random() < 0.9:
        steps[-1] = steps[0]
    return Stretch(name, position, steps, np.where(allowed, cost, np.inf), **ends)  # type: ignore[arg-type]


def random_problem(
    rng: np.random.Generator, kind: str, cells: int, levels: int, objectives: int = 1
) -> SteppingProblem:
    """One problem of a kind, of about so many cells in all."""
    level = np.cumsum(rng.choice([0.1, 0.2, 0.2, 0.3], levels))

    def stretch(name: str, share: float, **ends: object) -> Stretch:
        return random_stretch(rng, name, max(1, round(cells * share)), level, objectives, **ends)

    if kind == "ring":
        stretches = [stretch("ring", 1.0, closed=True)]
    elif kind == "one tee":
        stretches = [stretch("loop", 0.75, start="T", end="T")]
        stretches += [stretch("wing", 0.25, start="T", start_branches=True)]
    elif kind == "theta":
        stretches = [stretch("front", 0.35, start="P", end="Q"), stretch("back", 0.35, start="Q", end="P")]
        stretches += [stretch("porch", 0.3, start="P", end="Q", start_branches=True, end_branches=True)]
    elif kind == "tree":
        stretches = [stretch("west", 0.2, end="P"), stretch("middle", 0.3, start="P", end="Q")]
        stretches += [stretch("east", 0.2, start="Q")]
        stretches += [stretch("north", 0.15, end="P", end_branches=True)]
        stretches += [stretch("south", 0.15, start="Q", start_branches=True)]
    else:
        stretches = [stretch("house", 0.5, closed=True), stretch("garage", 0.3, start="G", end="G")]
        stretches += [stretch("wall", 0.2)]
    steps = random_steps(rng, level, objectives)
    own = steps.cost + rng.integers(0, 20, steps.cost.shape)  # one footing is wider than the others
    stretches[-1] = replace(stretches[-1], step_cost=own)
    return SteppingProblem(level, tuple(stretches), steps)
