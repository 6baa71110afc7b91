"""From the levels of the cells to what the crew reads: runs, steps, and what they take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from foundation.footing.forms import needs_filler
from foundation.footing.problem import FIT, cell_take, leg_concrete, mean_existing
from foundation.model.walls import (
    FootingLine,
    FootingStep,
    LineChain,
    Quantities,
    Run,
    Stepping,
    StepRules,
    UnitPrices,
)

Array = NDArray[np.float64]

STEP_RULES = "the step rules"
"""What binds a run that its limits would let rise by a whole module."""


def describe(
    name: str,
    bottoms: Mapping[str, Array],
    lines: Sequence[FootingLine],
    chains: Sequence[LineChain],
    rules: StepRules,
    prices: UnitPrices,
    working_room: float,
    stacks: Array,
) -> Stepping:
    """Runs, steps and quantities of one stepping.

    Parameters
    ----------
    name : str
        What the stepping is called.
    bottoms : mapping of str to ndarray
        For each wall line the bottom of footing of each cell, shape (n,). [m]
    lines : sequence of FootingLine
        The wall lines.
    chains : sequence of LineChain
        How they join.
    rules : StepRules
        The rules; their module and leg are read.
    prices : UnitPrices
        What things cost.
    working_room : float
        Room dug beside the footing on each side. [m]
    stacks : ndarray, shape (k,)
        Wall heights that whole panels make. [m]

    Returns
    -------
    Stepping
        The answer as the crew reads it.
    """
    runs = tuple(run for line in lines for run in runs_of(line, bottoms[line.wall.name], rules.module))
    steps = steps_of(bottoms, lines, chains, rules.leg)
    return Stepping(
        name=name,
        bottoms=dict(bottoms),
        steps=steps,
        runs=runs,
        quantities=quantities_of(bottoms, lines, steps, prices, working_room, stacks),
    )


def runs_of(line: FootingLine, bottom: Array, module: float) -> list[Run]:
    """The level runs of one wall line, each with what binds it.

    Parameters
    ----------
    line : FootingLine
        The line with its limits.
    bottom : ndarray, shape (n,)
        Bottom of footing of each cell. [m]
    module : float
        A run that could be higher by this much is bound by the step rules instead of a limit. [m]

    Returns
    -------
    list of Run
        In order of station.
    """
    cuts = np.flatnonzero(np.abs(np.diff(bottom)) > FIT) + 1
    starts = [0, *cuts.tolist()]
    ends = [*cuts.tolist(), len(bottom)]
    runs = []
    for first, last in zip(starts, ends, strict=True):
        level = float(bottom[first])
        tightest = [(float(limit.highest[first:last].min()), limit) for limit in line.limits]
        highest, limit = min(tightest, key=lambda pair: pair[0])
        slack = highest - level
        cell = first + int(np.argmin(limit.highest[first:last]))
        # The limit is a cell's minimum; it is told at the end of the cell where the grade is lower.
        at = line.node[cell + 1] if cell + 1 == last and cell > first else line.node[cell]
        runs.append(
            Run(
                line=line.wall.name,
                start=float(line.node[first]),
                end=float(line.node[last]),
                bottom=level,
                top=level + line.wall.footing_thickness,
                binds=limit.reason if slack < module - FIT else STEP_RULES,
                binds_at=float(at),
                slack=slack,
            )
        )
    return runs


def steps_of(
    bottoms: Mapping[str, Array], lines: Sequence[FootingLine], chains: Sequence[LineChain], leg: float
) -> tuple[FootingStep, ...]:
    """The steps of a network, numbered chain by chain, each with the runs beside it.

    Parameters
    ----------
    bottoms : mapping of str to ndarray
        Bottom of footing of each line's cells. [m]
    lines : sequence of FootingLine
        The wall lines.
    chains : sequence of LineChain
        How they join; runs are counted along them, around corners.
    leg : float
        Thickness of a step's leg; 0 takes the footing's own. [m]

    Returns
    -------
    tuple of FootingStep
        A step at a tee belongs to the branch and stands at its end.
    """
    by_name = {line.wall.name: line for line in lines}
    tee_level = _tee_levels(bottoms, chains)
    found: list[FootingStep] = []
    for chain in chains:
        walls = [by_name[name] for name in chain.lines]
        level = np.concatenate([bottoms[name] for name in chain.lines])
        owner = np.concatenate([[number] * (len(line.node) - 1) for number, line in enumerate(walls)])
        offset = np.concatenate([[0.0], np.cumsum([line.wall.length for line in walls])])
        position = np.concatenate([[0.0], *(offset[i] + line.node[1:] for i, line in enumerate(walls))])
        # (node, level before, level after) of every change, a tee's own level beside a branch's ends.
        changes = [
            (int(k), float(level[k - 1]), float(level[k]))
            for k in np.flatnonzero(np.abs(np.diff(level)) > FIT) + 1
        ]
        if chain.start_branches and chain.start is not None:
            changes.insert(0, (0, tee_level[chain.start], float(level[0])))
        if chain.end_branches and chain.end is not None:
            changes.append((len(level), float(level[-1]), tee_level[chain.end]))
        if chain.closed and abs(level[0] - level[-1]) > FIT:
            changes.insert(0, (0, float(level[-1]), float(level[0])))
        changes = [change for change in changes if abs(change[1] - change[2]) > FIT]
        at = [float(position[k]) for k, _, _ in changes]
        total = float(position[-1])
        for i, (k, before, after) in enumerate(changes):
            behind, ahead = (
                at[i] - (at[i - 1] if i else 0.0),
                (at[i + 1] if i + 1 < len(at) else total) - at[i],
            )
            if chain.closed and i == 0:
                behind = at[0] + total - at[-1]
            if chain.closed and i == len(at) - 1:
                ahead = at[0] + total - at[-1]
            number = int(owner[min(k, len(level) - 1)])
            line = walls[number]
            station = at[i] - float(offset[number])
            rise = abs(after - before)
            found.append(
                FootingStep(
                    number=len(found) + 1,
                    line=line.wall.name,
                    station=station,
                    from_end=line.wall.length - station,
                    before=before,
                    after=after,
                    rise=rise,
                    run_before=behind,
                    run_after=ahead,
                    concrete=float(leg_concrete(line.wall, np.array(rise), leg)),
                )
            )
    return tuple(found)


def _tee_levels(bottoms: Mapping[str, Array], chains: Sequence[LineChain]) -> dict[str, float]:
    """Level of the footing that runs through each tee."""
    level: dict[str, float] = {}
    for chain in chains:
        if chain.start is not None and not chain.start_branches:
            level[chain.start] = float(bottoms[chain.lines[0]][0])
        if chain.end is not None and not chain.end_branches:
            level[chain.end] = float(bottoms[chain.lines[-1]][-1])
    return level


def quantities_of(
    bottoms: Mapping[str, Array],
    lines: Sequence[FootingLine],
    steps: Sequence[FootingStep],
    prices: UnitPrices,
    working_room: float,
    stacks: Array,
) -> Quantities:
    """What a stepping takes, wall lines measured along the outside face of concrete.

    Parameters
    ----------
    bottoms : mapping of str to ndarray
        Bottom of footing of each line's cells. [m]
    lines : sequence of FootingLine
        The wall lines.
    steps : sequence of FootingStep
        Its steps.
    prices : UnitPrices
        What things cost.
    working_room : float
        Room dug beside the footing on each side. [m]
    stacks : ndarray, shape (k,)
        Wall heights that whole panels make. [m]

    Returns
    -------
    Quantities
        Sums over all lines.
    """
    concrete = sum(step.concrete for step in steps)
    forms = digging = filler = 0.0
    for line in lines:
        bottom = bottoms[line.wall.name]
        width = np.diff(line.node)
        take = cell_take(line.wall, width, mean_existing(line), bottom, working_room)
        concrete += float(take.concrete.sum())
        forms += float(take.forms.sum())
        digging += float(take.digging.sum())
        height = line.wall.wall_top - bottom - line.wall.footing_thickness
        filler += float(width[needs_filler(height, stacks)].sum())
    money = (
        concrete * prices.concrete
        + forms * prices.forms
        + digging * prices.digging
        + len(steps) * prices.step
    )
    return Quantities(concrete, forms, digging, len(steps), filler, money)
