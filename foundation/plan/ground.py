"""Grade beside every wall line: from shots, typed tables or corner grades, worked out once for each survey."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.footing.cover import inch_stations
from foundation.model.ground import Profile, Shots
from foundation.model.problem import Problem
from foundation.model.walls import WallLine
from foundation.plan.lines import PlanError, outline, position, reverse, wall_lines
from foundation.plan.result import Contour, CornerGrade
from foundation.project import Project
from foundation.site.checks import check_corners, check_shots, check_walls
from foundation.site.contours import contour_lines
from foundation.site.profile import corner_profile, profile_along, typed_profile
from foundation.site.shots import read_shots
from foundation.site.surface import Surface
from foundation.site.terrain import corner_grades, existing_surface, finished_surface
from foundation.site.words import SiteError

Array = NDArray[np.float64]
UNITS = {"ft": 0.3048, "m": 1.0}
SECTION = np.arange(0.0, 2.01, 0.2)
"""Distances outward from the footing's edge at which the ground is looked at for frost from the side. [m]"""


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


@dataclass(frozen=True, eq=False)
class Beside:
    """Grade beside one wall line.

    Attributes
    ----------
    existing, finished : Profile
        Lowest of the grades at the wall's face and at the footing's outer edge; stations from the line's start.
    has_finished : bool
        Whether finished grade is known there.
    section_existing, section_finished : ndarray, shape (n, k)
        Grade at each inch station and each distance outward from the footing's edge, nan for none. [m]
    """

    existing: Profile
    finished: Profile
    has_finished: bool
    section_existing: Array
    section_finished: Array


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
    problems = (*problems, *check_shots(shots, metres_per_unit, name), *check_corners(shots, places, name))
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


def grades_at_corners(
    project: Project, survey: Survey | None, walls: tuple[WallLine, ...], beside: dict[str, Beside]
) -> dict[str, CornerGrade]:
    """Existing and finished grade at each corner of the building.

    Parameters
    ----------
    project : Project
        The project.
    survey : Survey or None
        Its survey.
    walls : tuple of WallLine
        Its wall lines.
    beside : dict of str to Beside
        Grade beside each.

    Returns
    -------
    dict of str to CornerGrade
        By the surfaces where there are any, else as typed.
    """
    found = {}
    for wall in walls:
        for corner, place in ((wall.start, 0), (wall.end, -1)):
            if survey is not None:
                at = position(project, corner)
                finished = float(survey.finished.grade(*at)) if survey.has_finished else float("nan")
                found[corner] = CornerGrade(float(survey.existing.grade(*at)), finished)
            else:
                ground = beside[wall.name]
                finished = float(ground.finished.grade[place]) if ground.has_finished else float("nan")
                found.setdefault(corner, CornerGrade(float(ground.existing.grade[place]), finished))
    return found


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


def beside_walls(project: Project, survey: Survey | None, walls: tuple[WallLine, ...]) -> dict[str, Beside]:
    """Grade beside each wall line.

    Parameters
    ----------
    project : Project
        The project.
    survey : Survey or None
        Its survey.
    walls : tuple of WallLine
        Its wall lines.

    Returns
    -------
    dict of str to Beside
        For each wall line.

    Raises
    ------
    PlanError
        If a wall's grade is not known, or a typed table does not fit its wall.
    """
    problems: list[Problem] = []
    found = {}
    for wall in walls:
        try:
            found[wall.name] = _beside(project, survey, wall)
        except PlanError as error:
            problems += error.problems
    if problems:
        raise PlanError(tuple(problems))
    return found


def _beside(project: Project, survey: Survey | None, wall: WallLine) -> Beside:
    unit = UNITS[project.ground.shot_unit or "ft"]
    typed: dict[str, Profile] = {}
    for table in project.ground.walls:
        if table.line not in (wall.name, reverse(wall.name)):
            continue
        stations, grades = list(table.stations), list(table.grades)
        if table.line != wall.name:
            stations, grades = [wall.length - s for s in stations[::-1]], grades[::-1]
        profile, problems = typed_profile(stations, grades, wall.length, unit, f"wall {table.line}")
        if profile is None:
            raise PlanError(problems)
        for surface in ("existing", "finished") if table.surface == "both" else (table.surface,):
            typed[surface] = profile
    first, second = (project.ground.corner_grades.get(corner) for corner in (wall.start, wall.end))
    if survey is None and first is not None and second is not None:
        typed.setdefault("existing", corner_profile(wall.length, first.existing, second.existing))
        if first.finished is not None or second.finished is not None:
            finished = [
                pair.finished if pair.finished is not None else pair.existing for pair in (first, second)
            ]
            typed.setdefault("finished", corner_profile(wall.length, *finished))
    if survey is not None:
        surveyed = _surveyed(survey, wall)
        if not typed:
            return surveyed
        existing = typed.get("existing", surveyed.existing)
        finished_profile = typed.get("finished", surveyed.finished)
        has_finished = "finished" in typed or surveyed.has_finished
    else:
        if "existing" not in typed and "finished" not in typed:
            raise PlanError((_no_grade(project, wall),))
        existing = typed.get("existing", typed.get("finished", Profile(np.zeros(0), np.zeros(0))))
        finished_profile = typed.get("finished", existing)
        has_finished = "finished" in typed
    stations_by_inch = inch_stations(wall.length)
    sections = [
        np.interp(stations_by_inch, p.station, p.grade)[:, None] for p in (existing, finished_profile)
    ]
    return Beside(existing, finished_profile, has_finished, *sections)


def _no_grade(project: Project, wall: WallLine) -> Problem:
    missing = [corner for corner in (wall.start, wall.end) if corner not in project.ground.corner_grades]
    return Problem(
        "ground",
        wall.name,
        f"Wall {wall.name} has no grade: give a shot file, the grade at corner {' and '.join(missing)}, "
        "or a station–grade table for the wall.",
    )


@functools.lru_cache(maxsize=256)
def _surveyed(survey: Survey, wall: WallLine) -> Beside:
    """Grade from the surfaces, at the wall's face and the footing's outer edge."""
    stations = inch_stations(wall.length)
    profiles, sections = [], []
    for surface in (survey.existing, survey.finished):
        profiles.append(_lowest_profile(surface, wall))
        sections.append(_sections(surface, wall, stations))
    # Inside the building there is no finished ground: the existing one is all that a common wall knows.
    existing, finished = profiles
    if existing is None:
        raise PlanError(
            (
                Problem(
                    "ground",
                    wall.name,
                    f"Wall {wall.name} lies outside the existing ground: shoot ground beyond it.",
                ),
            )
        )
    has_finished = survey.has_finished and finished is not None
    return Beside(existing, finished if finished is not None else existing, has_finished, *sections)


def _lowest_profile(surface: Surface, wall: WallLine) -> Profile | None:
    """Lower of the grades at the wall's face and at the footing's outer edge, corner to corner."""
    along = _along(wall)
    reach = wall.projection
    # The footing's outer edge runs on past an outside corner.
    edge = profile_along(
        surface, _at(wall, along, -reach, reach), _at(wall, along, wall.length + reach, reach)
    )
    edge = Profile(edge.station - reach, edge.grade)
    face = profile_along(surface, wall.start_at, wall.end_at)
    known = [_without_gaps(profile) for profile in (face, edge)]
    profiles = [profile for profile in known if len(profile.station)]
    if not profiles:
        return None
    stations = np.unique(
        np.concatenate([np.clip(p.station, 0.0, wall.length) for p in profiles] + [[0.0, wall.length]])
    )
    stations = _with_crossings(stations, profiles)
    grade = np.min([np.interp(stations, p.station, p.grade) for p in profiles], axis=0)
    # What lies past a corner counts at the corner.
    for place, beyond in ((0, edge.station <= 0), (-1, edge.station >= wall.length)):
        if np.isfinite(edge.grade[beyond]).any():
            grade[place] = min(grade[place], float(np.nanmin(edge.grade[beyond])))
    return Profile(stations, grade)


def _with_crossings(stations: Array, profiles: list[Profile]) -> Array:
    """Stations with those put in where two profiles cross, so that their lower envelope is exact."""
    if len(profiles) < 2:
        return stations
    gap = np.interp(stations, profiles[0].station, profiles[0].grade) - np.interp(
        stations, profiles[1].station, profiles[1].grade
    )
    crossing = gap[:-1] * gap[1:] < 0
    share = np.abs(gap[:-1][crossing]) / (np.abs(gap[:-1][crossing]) + np.abs(gap[1:][crossing]))
    return np.unique(
        np.concatenate([stations, stations[:-1][crossing] + share * np.diff(stations)[crossing]])
    )


def _without_gaps(profile: Profile) -> Profile:
    known = np.isfinite(profile.grade)
    return Profile(profile.station[known], profile.grade[known])


def _along(wall: WallLine) -> tuple[float, float]:
    return (
        (wall.end_at[0] - wall.start_at[0]) / wall.length,
        (wall.end_at[1] - wall.start_at[1]) / wall.length,
    )


def _at(wall: WallLine, along: tuple[float, float], station: float, out: float) -> tuple[float, float]:
    return (
        wall.start_at[0] + station * along[0] + out * wall.outward[0],
        wall.start_at[1] + station * along[1] + out * wall.outward[1],
    )


def _sections(surface: Surface, wall: WallLine, stations: Array) -> Array:
    along = _along(wall)
    out = wall.projection + SECTION
    east = wall.start_at[0] + stations[:, None] * along[0] + out[None, :] * wall.outward[0]
    north = wall.start_at[1] + stations[:, None] * along[1] + out[None, :] * wall.outward[1]
    return surface.grade(east, north)


def ground_of(
    project: Project, survey_text: str
) -> tuple[Survey | None, tuple[WallLine, ...], dict[str, Beside]]:
    """Survey, wall lines, and the grade beside them.

    Parameters
    ----------
    project : Project
        The project.
    survey_text : str
        Text of its shot file.

    Returns
    -------
    survey : Survey or None
        None without shots.
    walls : tuple of WallLine
        Wall lines of the project.
    beside : dict of str to Beside
        Grade beside each.

    Raises
    ------
    PlanError
        If the inputs make no building on known ground.
    """
    walls = wall_lines(project)
    survey = survey_of(project, survey_text)
    return survey, walls, beside_walls(project, survey, walls)
