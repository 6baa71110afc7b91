"""The plan: everything computed from a project, frozen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.caution import Caution
from foundation.model.concrete import Walls
from foundation.model.cover import Cover
from foundation.model.ground import Shots
from foundation.model.levels import LevelBook, Reading
from foundation.model.problem import Problem
from foundation.model.walls import FootingLine, LineChain, Stepping, StepRules
from foundation.project import Assumption, Project
from foundation.site.surface import Surface


@dataclass(frozen=True)
class ScheduleRow:
    """One line of the schedule: a run of footing, or the step that ends it.

    Attributes
    ----------
    line : str
        Wall line; stations are from its first corner.
    start, end : float
        Stations of the run. [m]
    bottom, top : Reading
        Bottom and top of footing.
    wall_height : float
        Top of wall less top of footing. [m]
    least_cover : float
        Least frost cover along the run, straight down; nan where there is no grade outside. [m]
    binds : str
        What keeps the run from being higher.
    binds_at : float
        Station where that bites. [m]
    step : int or None
        Number of the step at its end, None where it ends at a corner. [-]
    rise : float
        Height of that step, positive where the footing goes up with the station. [m]
    """

    line: str
    start: float
    end: float
    bottom: Reading
    top: Reading
    wall_height: float
    least_cover: float
    binds: str
    binds_at: float
    step: int | None
    rise: float


@dataclass(frozen=True)
class FallAway:
    """How the finished ground falls away from a wall.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : float
        Where it falls least. [m]
    least : float
        Fall in the first 10 ft straight out from there, negative where the ground rises. [m]
    """

    line: str
    station: float
    least: float


@dataclass(frozen=True)
class Stake:
    """An offset stake.

    Attributes
    ----------
    name : str
        Corner and direction.
    east, north : float
        Where it stands. [m]
    offset : float
        Distance from the corner along the wall line. [m]
    """

    name: str
    east: float
    north: float
    offset: float


@dataclass(frozen=True)
class Diagonal:
    """A check distance between two corners of a part.

    Attributes
    ----------
    part : str
        The part.
    start, end : str
        The corners.
    length : float
        Distance between them. [m]
    """

    part: str
    start: str
    end: str
    length: float


@dataclass(frozen=True)
class PlacedExtra:
    """A pad, stoop or porch footing with its level.

    Attributes
    ----------
    name : str
        What it is called.
    kind : str
        What it is.
    east, north : float
        Its middle. [m]
    length, width, thickness : float
        Its size, east–west, north–south and down. [m]
    bottom : Reading
        Bottom of the footing.
    binds : str
        What keeps it from being higher.
    sized_by : str
        Who sized it, "" for nobody yet.
    """

    name: str
    kind: str
    east: float
    north: float
    length: float
    width: float
    thickness: float
    bottom: Reading
    binds: str
    sized_by: str


@dataclass(frozen=True)
class CornerGrade:
    """Grade at a corner, on the outside face of the wall.

    Attributes
    ----------
    existing, finished : float
        Grades, nan for none. [m]
    """

    existing: float
    finished: float


@dataclass(frozen=True, eq=False)
class Contour:
    """A line of equal grade.

    Attributes
    ----------
    surface : str
        ``existing`` or ``finished``.
    level : float
        Its grade. [m]
    index : bool
        True for every fifth, drawn heavier and labelled.
    points : ndarray, shape (n, 2)
        East and north along it. [m]
    """

    surface: str
    level: float
    index: bool
    points: NDArray[np.float64]


@dataclass(frozen=True)
class Plan:
    """Everything computed from a project.

    Attributes
    ----------
    project : Project
        The inputs.
    assumptions : tuple of Assumption
        What the inputs leave out.
    notices : tuple of Problem
        What the reader should know about the inputs; nothing that stops the plan.
    shots : Shots or None
        The survey, None without one.
    existing, finished : Surface or None
        Surfaces through the shots.
    corner_grades : mapping of str to CornerGrade
        Existing and finished grade at each corner.
    contours : tuple of Contour
        Lines of equal finished grade (existing where none is finished); empty without shots.
    falls : tuple of FallAway
        One for each outdoor wall whose finished ground is surveyed ten feet out.
    lines : tuple of FootingLine
        Wall lines with their grades and limits.
    chains : tuple of LineChain
        How they join.
    rules : StepRules
        The rules in force.
    steppings : tuple of Stepping
        The answers, least cost first.
    covers : mapping of str to mapping of str to Cover
        For each answer and each outdoor wall line, its frost cover.
    walls : mapping of str to Walls
        For each answer the walls on it: heights, forms, openings, ledges, fill, bare concrete.
    level_book : LevelBook
        Marks and instrument.
    schedules : mapping of str to tuple of ScheduleRow
        For each answer, what the crew reads.
    extras : tuple of PlacedExtra
        Footings beside the network.
    diagonals : tuple of Diagonal
        Check distances.
    stakes : tuple of Stake
        Offset stakes.
    cautions : mapping of str to tuple of Caution
        For each answer, worst first.
    """

    project: Project
    assumptions: tuple[Assumption, ...]
    notices: tuple[Problem, ...]
    shots: Shots | None
    existing: Surface | None
    finished: Surface | None
    corner_grades: Mapping[str, CornerGrade]
    contours: tuple[Contour, ...]
    falls: tuple[FallAway, ...]
    lines: tuple[FootingLine, ...]
    chains: tuple[LineChain, ...]
    rules: StepRules
    steppings: tuple[Stepping, ...]
    covers: Mapping[str, Mapping[str, Cover]]
    walls: Mapping[str, Walls]
    level_book: LevelBook
    schedules: Mapping[str, tuple[ScheduleRow, ...]]
    extras: tuple[PlacedExtra, ...]
    diagonals: tuple[Diagonal, ...]
    stakes: tuple[Stake, ...]
    cautions: Mapping[str, tuple[Caution, ...]]

    def stepping(self, name: str) -> Stepping:
        """One of the answers.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        Stepping
            The answer.

        Raises
        ------
        KeyError
            If no answer has that name; the known ones are listed.
        """
        for stepping in self.steppings:
            if stepping.name == name:
                return stepping
        raise KeyError(f"no answer is called {name}; there are: {', '.join(s.name for s in self.steppings)}")

    def line(self, name: str) -> FootingLine:
        """One of the wall lines.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        FootingLine
            The line.

        Raises
        ------
        KeyError
            If no line has that name; the known ones are listed.
        """
        for line in self.lines:
            if line.wall.name == name:
                return line
        raise KeyError(
            f"no wall is called {name}; there are: {', '.join(line.wall.name for line in self.lines)}"
        )
