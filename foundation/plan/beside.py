"""Grade beside every wall line: from the surfaces, typed tables, or corner grades."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.footing.cover import inch_stations
from foundation.model.ground import Profile
from foundation.model.problem import Problem
from foundation.model.walls import WallLine
from foundation.plan.ground import UNITS, Survey, survey_of
from foundation.plan.lines import PlanError, along_named, position, wall_lines
from foundation.plan.result import CornerGrade
from foundation.project import Project
from foundation.project.schema_ground import GradePair, WallGrade
from foundation.site.profile import corner_profile, profile_along, typed_profile
from foundation.site.surface import Surface

Array = NDArray[np.float64]
SECTION = np.arange(0.0, 2.01, 0.2)
"""Distances outward from the footing's edge at which the ground is looked at for frost from the side. [m]"""


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
        piece = along_named(project, table.line, wall)
        if piece is None:
            continue
        profile = _piece_of_table(project, table, piece, unit)
        for surface in ("existing", "finished") if table.surface == "both" else (table.surface,):
            typed[surface] = profile
    if survey is None:
        pairs = [project.ground.corner_grades.get(corner, GradePair()) for corner in (wall.start, wall.end)]
        existing_ends = [_either(pair.existing, pair.finished) for pair in pairs]
        finished_ends = [_either(pair.finished, pair.existing) for pair in pairs]
        if np.isfinite(existing_ends).all():
            typed.setdefault("existing", corner_profile(wall.length, *existing_ends))
            if any(pair.finished is not None for pair in pairs):
                typed.setdefault("finished", corner_profile(wall.length, *finished_ends))
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


def _piece_of_table(project: Project, table: WallGrade, piece: tuple[float, float], unit: float) -> Profile:
    """A typed table's profile over a piece of its wall, stations from the piece's own start."""
    ends = [position(project, corner) for corner in table.line.split("-")]
    whole, problems = typed_profile(
        table.stations, table.grades, math.dist(*ends), unit, f"wall {table.line}"
    )
    if whole is None:
        raise PlanError(problems)
    low, high = sorted(piece)
    inner = whole.station[(whole.station > low + 1e-6) & (whole.station < high - 1e-6)]
    station = np.concatenate([[low], inner, [high]])
    grade = np.interp(station, whole.station, whole.grade)
    if piece[0] < piece[1]:
        return Profile(station - low, grade)
    return Profile((high - station)[::-1], grade[::-1])


def _either(first: float | None, second: float | None) -> float:
    """The first grade that is given, nan for neither."""
    return next((grade for grade in (first, second) if grade is not None), math.nan)


def _no_grade(project: Project, wall: WallLine) -> Problem:
    known = project.ground.corner_grades
    missing = [
        corner
        for corner in (wall.start, wall.end)
        if corner not in known or (known[corner].existing is None and known[corner].finished is None)
    ]
    return Problem(
        f"ground.corner_grades.{missing[0]}.existing" if missing else "ground",
        wall.name,
        f"Wall {wall.name} has no grade: give the grade at corner {' and '.join(missing)}, a shot file, "
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
    stations = np.unique(
        np.clip(np.concatenate([face.station, edge.station, [0.0, wall.length]]), 0.0, wall.length)
    )
    known = [_without_gaps(profile) for profile in (face, edge)]
    stations = _with_crossings(stations, [profile for profile in known if len(profile.station)])
    # Where one of the two meets another wall the other one tells; interpolation never bridges a gap.
    grade = np.fmin(*(np.interp(stations, profile.station, profile.grade) for profile in (face, edge)))
    # What lies past an outside corner counts at the corner.
    for place, beyond in ((0, edge.station <= 0), (-1, edge.station >= wall.length)):
        if np.isfinite(edge.grade[beyond]).any():
            grade[place] = np.fmin(grade[place], np.nanmin(edge.grade[beyond]))
    told = np.isfinite(grade)
    if not told.any():
        return None
    if not told[1:-1].all():
        inner = np.flatnonzero(~told[1:-1]) + 1
        first, last = stations[inner[0] - 1], stations[inner[-1] + 1]
        if wall.beyond:
            return None  # a wall inside the building: there is no ground beside it
        if last - first > 2 * reach + wall.wall_thickness:
            raise PlanError((_blocked(surface, wall, float(first), float(last)),))
    return Profile(stations[told], grade[told])


def _blocked(surface: Surface, wall: WallLine, first: float, last: float) -> Problem:
    return Problem(
        "corners",
        wall.name,
        f"Wall {wall.name} has no {surface.name} ground from {first / 0.3048:.2f} ft to {last / 0.3048:.2f} ft: "
        "another part stands there. Give the corners where that part meets this wall to both.",
    )


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
