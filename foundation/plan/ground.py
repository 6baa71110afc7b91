"""Grade beside every wall line: from shots, typed tables or corner grades, worked out once for each survey."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.ground import Shots
from foundation.model.problem import Problem
from foundation.model.walls import WallLine
from foundation.plan.lines import PlanError, outline, position
from foundation.plan.result import Contour
from foundation.project import Project
from foundation.site.checks import check_corners, check_walls
from foundation.site.contours import contour_lines
from foundation.site.shots import read_shots
from foundation.site.surface import Surface
from foundation.site.terrain import corner_grades, existing_surface, finished_surface
from foundation.site.words import SiteError

Array = NDArray[np.float64]
UNITS = {"ft": 0.3048, "m": 1.0}


@dataclass(frozen=True, eq=False)
class Survey:
    """What the shots say.

    Attributes
    ----------
    shots : Shots
        The shots.
    existing, finished : Surface
        Surfaces; the finished one is the existing one where no finished ground was shot.
    has_finished : bool
        Whether finished ground was shot.
    notices : tuple of Problem
        What the reader should know about them.
    """

    shots: Shots
    existing: Surface
    finished: Surface
    has_finished: bool
    notices: tuple[Problem, ...]


def survey_of(project: Project, text: str) -> Survey | None:
    """Read a survey and make its surfaces.

    Parameters
    ----------
    project : Project
        The project.
    text : str
        Text of the shot file.

    Returns
    -------
    Survey or None
        None without shots.

    Raises
    ------
    PlanError
        If the shots cannot be used; each problem names its point or line.
    """
    if not text.strip():
        return None
    unit = project.ground.shot_unit
    if unit is None:
        raise PlanError(
            (
                Problem(
                    "ground.shot_unit", "", 'Say what the shot file\'s numbers are: shot_unit = "ft" or "m".'
                ),
            )
        )
    corners = tuple((name, *position(project, name)) for name in project.corners)
    parts = tuple(tuple(part.corners) for part in project.parts if outline(project, part) is not None)
    return _survey(text, UNITS[unit], project.ground.shots or "shots", corners, parts)


@functools.lru_cache(maxsize=8)
def _survey(
    text: str,
    metres_per_unit: float,
    name: str,
    corners: tuple[tuple[str, float, float], ...],
    parts: tuple[tuple[str, ...], ...],
) -> Survey:
    shots, problems = read_shots(text, metres_per_unit, name)
    places = {corner: (east, north) for corner, east, north in corners}
    problems = (*problems, *check_corners(shots, places, name))
    _raise_fatal(problems)
    used = {corner: places[corner] for part in parts for corner in part}
    kinds = {kind.value for kind in shots.kind}
    try:
        existing, more = existing_surface(shots, metres_per_unit)
        problems = (*problems, *more)
        corner_grades(existing, used, metres_per_unit)
        has_finished = "finished" in kinds
        finished = existing
        if has_finished:
            finished, more = finished_surface(shots, used, parts, metres_per_unit)
            problems = (*problems, *more)
    except SiteError as error:
        raise PlanError(error.problems) from None
    _raise_fatal(problems)
    return Survey(shots, existing, finished, has_finished, problems)


def _raise_fatal(problems: tuple[Problem, ...]) -> None:
    fatal = tuple(problem for problem in problems if problem.fatal)
    if fatal:
        raise PlanError(fatal)


@functools.lru_cache(maxsize=8)
def contours_of(survey: Survey, unit: float) -> tuple[Contour, ...]:
    """Contours of the finished surface, of the existing one where no finished ground was shot.

    Parameters
    ----------
    survey : Survey
        The survey.
    unit : float
        Unit whose round multiples the levels are. [m]

    Returns
    -------
    tuple of Contour
        At an interval that draws about twenty lines.
    """
    surface = survey.finished
    relief = float(np.ptp(surface.points[:, 2])) / unit
    steps = [m * 10.0**power for power in range(-2, 4) for m in (1, 2, 5)]
    interval = next((step for step in steps if relief / step <= 20), steps[-1]) * unit
    return tuple(
        Contour(surface.name, level, round(level / interval) % 5 == 0, points)
        for level, points in contour_lines(surface, interval)
    )


def walls_without_shots(project: Project, survey: Survey, walls: tuple[WallLine, ...]) -> tuple[Problem, ...]:
    """Outdoor walls that no finished shot stands beside.

    Parameters
    ----------
    project : Project
        The project.
    survey : Survey
        Its survey.
    walls : tuple of WallLine
        Its wall lines.

    Returns
    -------
    tuple of Problem
        One for each such wall; none where no finished ground was shot at all.
    """
    if not survey.has_finished:
        return ()
    outdoors = {wall.name: (wall.start_at, wall.end_at) for wall in walls if not wall.beyond}
    return check_walls(survey.shots, outdoors, UNITS[project.ground.shot_unit or "ft"])
