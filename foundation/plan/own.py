"""A stepping of the user's own: the least-cost one with stretches moved, priced and checked like the answers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foundation.footing.forms import panel_heights
from foundation.footing.schedule import describe
from foundation.model.problem import Problem
from foundation.model.walls import FootingLine, LineChain, Stepping, StepRules
from foundation.plan.footings import TALLEST, unit_prices
from foundation.plan.lines import PlanError, along_named
from foundation.project import Project

Array = NDArray[np.float64]

OWN = "your own"
"""Name of the user's own stepping among the answers."""


def own_stepping(
    project: Project,
    base: Stepping,
    lines: tuple[FootingLine, ...],
    chains: tuple[LineChain, ...],
    rules: StepRules,
) -> Stepping | None:
    """The user's own stepping.

    Parameters
    ----------
    project : Project
        The project.
    base : Stepping
        The answer that holds where the user says nothing.
    lines : tuple of FootingLine
        Footing lines.
    chains : tuple of LineChain
        How they join.
    rules : StepRules
        The step rules.

    Returns
    -------
    Stepping or None
        None when the user typed no run. It may break rules: the cautions say which.

    Raises
    ------
    PlanError
        If a run names no wall, or leaves its wall.
    """
    if not project.own_runs:
        return None
    bottoms = {name: bottom.copy() for name, bottom in base.bottoms.items()}
    for number, run in enumerate(project.own_runs, 1):
        touched = False
        for line in lines:
            piece = along_named(project, run.line, line.wall)
            if piece is None:
                continue
            middle = (line.node[:-1] + line.node[1:]) / 2
            along = piece[0] + middle / line.wall.length * (piece[1] - piece[0])
            inside = (along > run.start) & (along < run.end)
            bottoms[line.wall.name][inside] = run.bottom
            touched |= bool(inside.any())
        if not touched:
            place = f"own_runs[{number}].line"
            known = ", ".join(line.wall.name for line in lines)
            sentence = f"Your own run {number} lies on no wall: {run.line} with these stations; the walls are {known}."
            raise PlanError((Problem(place, run.line, sentence),))
    prices, stacks = unit_prices(project), panel_heights(project.forms.heights, TALLEST)
    return describe(OWN, bottoms, lines, chains, rules, prices, project.digging.working_room, stacks)


def moved_step(
    stepping: Stepping, line: FootingLine, station: float, to: float
) -> Sequence[tuple[float, float, float]]:
    """Runs of one wall line when a step is moved along it.

    Parameters
    ----------
    stepping : Stepping
        The stepping it is moved in.
    line : FootingLine
        The wall line.
    station : float
        Where the step stands. [m]
    to : float
        Where it is moved to; it stops at the nearest node between its neighbours. [m]

    Returns
    -------
    sequence of tuple of float
        Start, end and bottom of each run of the line. [m]

    Raises
    ------
    KeyError
        If no step stands there.
    """
    runs = [(run.start, run.end, run.bottom) for run in stepping.runs if run.line == line.wall.name]
    for index, (start, end, _bottom) in enumerate(runs[:-1]):
        if abs(end - station) < 1e-6:
            inner = line.node[(line.node > start + 1e-6) & (line.node < runs[index + 1][1] - 1e-6)]
            place = float(inner[np.argmin(np.abs(inner - to))])
            runs[index] = (start, place, runs[index][2])
            runs[index + 1] = (place, *runs[index + 1][1:])
            return runs
    raise KeyError(f"no step stands at {station:.3f} m on wall {line.wall.name}")
