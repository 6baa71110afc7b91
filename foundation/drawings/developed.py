"""Wall lines laid out one after the other along one axis, with what stands on their footings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import Walls
from foundation.model.walls import FootingLine, Run, Stepping
from foundation.plan import Plan

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Developed:
    """Wall lines from left to right.

    Attributes
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its wall lines, from left to right.
    walls : Walls or None
        What stands on the footings, None where the plan does not say.
    """

    plan: Plan
    stepping: Stepping
    lines: tuple[FootingLine, ...]
    walls: Walls | None

    @cached_property
    def offset(self) -> Array:
        """Where each line begins, and where the last one ends. [m]"""
        return np.concatenate([[0.0], np.cumsum([line.wall.length for line in self.lines])])

    @property
    def length(self) -> float:
        """Length of all lines. [m]"""
        return float(self.offset[-1])

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names of the lines."""
        return tuple(line.wall.name for line in self.lines)

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """Runs of footing under the lines."""
        return runs_of(self.stepping, self.names)

    def start(self, name: str) -> float:
        """Where a line begins.

        Parameters
        ----------
        name : str
            Name of the line.

        Returns
        -------
        float
            Distance from the left. [m]
        """
        return float(self.offset[self.names.index(name)])

    def tops(self, line: FootingLine) -> list[tuple[float, float, float]]:
        """Top of the concrete along a line.

        Parameters
        ----------
        line : FootingLine
            The line.

        Returns
        -------
        list of tuple
            From station, to station and level of each stretch. [m]
        """
        return tops_of(self.walls, line)


def developed(plan: Plan, stepping: Stepping, names: Sequence[str]) -> Developed:
    """Lay out wall lines.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.
    names : sequence of str
        Names of the lines, from left to right.

    Returns
    -------
    Developed
        The lines.
    """
    return Developed(plan, stepping, tuple(plan.line(name) for name in names), walls_of(plan, stepping))


def walls_of(plan: Plan, stepping: Stepping) -> Walls | None:
    """What stands on the footings of an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.

    Returns
    -------
    Walls or None
        The walls, None where the plan does not say.
    """
    return plan.walls.get(stepping.name)


def runs_of(stepping: Stepping, names: Sequence[str]) -> tuple[Run, ...]:
    """Runs of footing under wall lines.

    Parameters
    ----------
    stepping : Stepping
        The answer.
    names : sequence of str
        Names of the lines.

    Returns
    -------
    tuple of Run
        In the order of the names.
    """
    return tuple(run for name in names for run in stepping.runs if run.line == name)


def tops_of(walls: Walls | None, line: FootingLine) -> list[tuple[float, float, float]]:
    """Top of the concrete along a line; one stretch at the wall top where the walls are not known.

    Parameters
    ----------
    walls : Walls or None
        The walls.
    line : FootingLine
        The line.

    Returns
    -------
    list of tuple
        From station, to station and level of each stretch. [m]
    """
    pieces = [piece for piece in walls.pieces if piece.line == line.wall.name] if walls else []
    if not pieces:
        return [(0.0, line.wall.length, line.wall.wall_top)]
    found: list[tuple[float, float, float]] = []
    for piece in sorted(pieces, key=lambda piece: piece.start):
        reached = found[-1][1] if found else 0.0
        if piece.start > reached + 1e-6:
            # No concrete at all: an opening down to the footing.
            found.append((reached, piece.start, piece.bottom))
        if found and abs(found[-1][2] - piece.top) < 1e-9:
            found[-1] = (found[-1][0], piece.end, piece.top)
        else:
            found.append((piece.start, piece.end, piece.top))
    if found[-1][1] < line.wall.length - 1e-6:
        found.append((found[-1][1], line.wall.length, pieces[-1].bottom))
    return found


def footing_edges(runs: Sequence[Run], leg: float) -> tuple[Array, Array]:
    """Bottom and top of a stepped footing.

    Parameters
    ----------
    runs : sequence of Run
        Runs of one wall line, from its start on.
    leg : float
        Thickness of the vertical leg of a step. [m]

    Returns
    -------
    tuple of ndarray, each of shape (n, 2)
        Station and level along the bottom, and along the top. [m]
    """
    bottom: list[tuple[float, float]] = []
    top: list[tuple[float, float]] = []
    for i, run in enumerate(runs):
        start, end = run.start, run.end
        bottom += [(start, run.bottom), (end, run.bottom)]
        # The leg stands on the lower of two runs, against the end of the higher.
        if i and runs[i - 1].top > run.top:
            start = min(start + leg, end)
            top.append((start, runs[i - 1].top))
        after = runs[i + 1].top if i + 1 < len(runs) else run.top
        if after > run.top:
            end = max(end - leg, start)
        top += [(start, run.top), (end, run.top)]
        if after > run.top:
            top.append((end, after))
    return np.array(bottom), np.array(top)


def place_at(plan: Plan, names: Sequence[str], x: float) -> tuple[str, float]:
    """The wall line and the station at a place on the profile of some walls.

    Parameters
    ----------
    plan : Plan
        The plan.
    names : sequence of str
        Wall lines from left to right, as the profile shows them.
    x : float
        Distance from the profile's left end. [m]

    Returns
    -------
    tuple of str and float
        Name of the line and station on it [m]; beyond the ends the nearest place.
    """
    lengths = [plan.line(name).wall.length for name in names]
    begins = np.concatenate([[0.0], np.cumsum(lengths)])
    which = int(np.clip(np.searchsorted(begins, x, side="right") - 1, 0, len(names) - 1))
    return names[which], float(np.clip(x - begins[which], 0.0, lengths[which]))
