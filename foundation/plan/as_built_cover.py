"""Frost cover along a wall line with footing and finished grade as built."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.as_built import CoverAsBuilt
from foundation.model.cover import Cover
from foundation.model.walls import FootingLine, Run
from foundation.plan.footings import counted_grade
from foundation.project import Project

Array = NDArray[np.float64]

READS = 0.0254 / 16
"""A rod is read to the nearest sixteenth of an inch [practice]. [m]"""


@dataclass(frozen=True, eq=False)
class BuiltCover:
    """Frost cover of one wall line, planned and built.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart. [m]
    planned, built : ndarray, shape (n,)
        Frost cover straight down. [m]
    grade_known, footing_known : ndarray of bool, shape (n,)
        Where grade and footing were measured; elsewhere the plan's stand in.
    asked : float
        Frost depth. [m]
    """

    line: str
    station: Array
    planned: Array
    built: Array
    grade_known: NDArray[np.bool_]
    footing_known: NDArray[np.bool_]
    asked: float

    def least(self, start: float, end: float) -> float:
        """Least cover between two stations.

        Parameters
        ----------
        start, end : float
            The stations. [m]

        Returns
        -------
        float
            The least as built at the inch stations between them, and at the one nearest to their middle; nan where
            there is no grade. [m]
        """
        there = (self.station >= start - 1e-6) & (self.station <= end + 1e-6)
        there[int(np.argmin(np.abs(self.station - (start + end) / 2)))] = True
        values = self.built[there & np.isfinite(self.built)]
        return float(values.min()) if len(values) else float("nan")

    def worst(self) -> CoverAsBuilt | None:
        """Worst station among those where footing or grade were measured.

        Returns
        -------
        CoverAsBuilt or None
            None where nothing was measured on ground that frost can reach.
        """
        looked = (self.grade_known | self.footing_known) & np.isfinite(self.built)
        if not looked.any():
            return None
        at = int(np.argmin(np.where(looked, self.built, np.inf)))
        stations = self.station[looked]
        return CoverAsBuilt(
            self.line,
            float(stations[0]),
            float(stations[-1]),
            float(self.station[at]),
            float(self.built[at]),
            float(self.planned[at]),
            self.asked,
            bool(self.built[at] < self.asked - READS),
            bool(self.grade_known[at]),
            bool(self.footing_known[at]),
        )


def built_cover(
    project: Project,
    line: FootingLine,
    runs: Sequence[Run],
    cover: Cover,
    footing: Sequence[tuple[Run, float]],
    grade: Sequence[tuple[float, float]],
) -> BuiltCover:
    """Frost cover with what was measured put in the plan's place.

    A run of footing is level, so that the highest of its measured levels stands for all of it. Between two shots the
    difference of finished grade goes straight from one to the other; beyond the outermost ones nobody has measured.

    Parameters
    ----------
    project : Project
        The project: whether fill counts.
    line : FootingLine
        The wall line.
    runs : sequence of Run
        Its runs.
    cover : Cover
        Its frost cover as planned.
    footing : sequence of tuple of Run and float
        Runs that were measured, and how much higher than planned the level lies that the frost depth is measured
        to. [m]
    grade : sequence of tuple of float
        Station and finished grade as built. [m]

    Returns
    -------
    BuiltCover
        Planned and built, inch by inch.
    """
    station = cover.station
    higher, footing_known = np.zeros(len(station)), np.zeros(len(station), bool)
    # At a step the higher side has the lesser cover: it is written last.
    for run in sorted(runs, key=lambda run: run.bottom):
        found = [by for measured, by in footing if measured is run]
        there = (station >= run.start - 1e-6) & (station <= run.end + 1e-6)
        higher[there] = max(found, default=0.0)
        footing_known[there] = bool(found)
    lowest: dict[float, float] = {}
    for at, level in grade:
        lowest[at] = min(level, lowest.get(at, np.inf))
    grade_known, raised = np.zeros(len(station), bool), np.zeros(len(station))
    if lowest:
        shots = np.array(sorted(lowest.items()))
        off = shots[:, 1] - np.interp(shots[:, 0], line.node, line.finished)
        grade_known = (station >= shots[0, 0] - 0.0127) & (station <= shots[-1, 0] + 0.0127)
        existing = np.interp(station, line.node, line.existing)
        finished = np.interp(station, line.node, line.finished)
        before = counted_grade(project, existing, finished)
        after = counted_grade(project, existing, finished + np.interp(station, shots[:, 0], off))
        raised = np.where(grade_known, after - before, 0.0)
    return BuiltCover(
        line.wall.name,
        station,
        cover.straight_down,
        cover.straight_down - higher + raised,
        grade_known,
        footing_known,
        cover.frost_depth,
    )
