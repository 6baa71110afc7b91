"""What lies beside a section: finished grade at the face and outward of it, soil, floor levels and half widths."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foundation import materials
from foundation.model.section import GradeStep, SoilLayer
from foundation.model.walls import WallLine
from foundation.plan.footings import part_of
from foundation.plan.lines import along_named, outline, position, slab_top, wall_top
from foundation.plan.result import Plan
from foundation.plan.section_standing import Floor
from foundation.project import Project
from foundation.project.schema import Part

Array = NDArray[np.float64]

STARTS = (0.0, 0.3, 0.9, 1.5, 2.1, 2.7)
"""Distances from the face at which the grade may step. [m]"""
SAMPLES = (0.0, 0.6, 1.2, 1.8, 2.4, 3.0)
"""Distances at which it is looked at, one in each step. [m]"""
ROUNDING = 0.0254
"""Grade in a section is a whole multiple of this over the floor, so that equal sections coincide. [m]"""
GARAGE_SLOPE = 1 / 96
"""Rise of a garage slab from its door inward, 1/8 in/ft [practice]. [-]"""
NO_OUTLINE = 4.0
"""Half width of a floor that no outline bounds [practice]. [m]"""
NARROWEST = 0.5
"""Least half width, so that a slab has room beside its edge foam. [m]"""


def face_grades(plan: Plan, answer: str) -> dict[str, tuple[Array, Array]]:
    """Finished grade at the outer face of every outdoor wall line.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    dict of str to tuple of ndarray
        Stations an inch apart and the grade at them. [m]
    """
    outdoors = {line.wall.name for line in plan.lines if not line.wall.beyond}
    return {
        fill.line: (fill.station, fill.outside) for fill in plan.walls[answer].fills if fill.line in outdoors
    }


def outward_drops(plan: Plan, places: Sequence[tuple[WallLine, float]]) -> Array:
    """How much higher the finished ground is outward of a wall's face than at it, by the surface.

    Parameters
    ----------
    plan : Plan
        The plan.
    places : sequence of tuple
        Wall line and station [m] of each.

    Returns
    -------
    ndarray, shape (n, 6)
        At each of ``SAMPLES``, 0 where no surface tells or grade is typed; beyond its rim it goes on level. [m]
    """
    drops = np.zeros((len(places), len(SAMPLES)))
    typed = [table.line for table in plan.project.ground.walls if table.surface != "existing"]
    told = [
        number
        for number, (wall, _) in enumerate(places)
        if plan.finished is not None
        and not wall.beyond
        and all(along_named(plan.project, name, wall) is None for name in typed)
    ]
    if not told or plan.finished is None:
        return drops
    walls = [places[number][0] for number in told]
    start, end, out = (
        np.array([getattr(w, name) for w in walls]) for name in ("start_at", "end_at", "outward")
    )
    share = np.array([places[number][1] / places[number][0].length for number in told])
    face = start + share[:, None] * (end - start)
    at = face[:, None, :] + np.array(SAMPLES)[None, :, None] * out[:, None, :]
    grade = plan.finished.grade(at[..., 0], at[..., 1])
    for column in range(1, len(SAMPLES)):
        grade[:, column] = np.where(np.isnan(grade[:, column]), grade[:, column - 1], grade[:, column])
    drops[told] = np.nan_to_num(grade - grade[:, :1])
    return drops


def grade_steps(floor: float, face: float, drops: Array) -> tuple[GradeStep, ...]:
    """Finished grade from the wall outward in a few level steps.

    Parameters
    ----------
    floor : float
        Floor level inside, from which steps are counted. [m]
    face : float
        Grade at the face. [m]
    drops : ndarray, shape (6,)
        How much higher it is at each of ``SAMPLES``. [m]

    Returns
    -------
    tuple of GradeStep
        Rounded to an inch over the floor, equal neighbours joined.

    Examples
    --------
    A fall of 6 in over 10 ft, as grading rules ask for.

    >>> fall = -0.05 * np.array(SAMPLES)
    >>> [(step.start, round((step.level + 1.0) / 0.0254)) for step in grade_steps(-1.0, -1.0, fall)]
    [(0.0, 0), (0.3, -1), (0.9, -2), (1.5, -4), (2.1, -5), (2.7, -6)]
    """
    found: list[GradeStep] = []
    for start, drop in zip(STARTS, drops, strict=True):
        level = round(floor + ROUNDING * round((face + float(drop) - floor) / ROUNDING), 5)
        if not found or found[-1].level != level:
            found.append(GradeStep(start, level))
    return tuple(found)


def floor_of(plan: Plan, part: Part, at_door: bool = False) -> Floor:
    """A part's floor: its level and its half width.

    A garage slab rises from its door inward: at the door it has the level that was typed, elsewhere the mean of
    door and back, never above the wall.

    Parameters
    ----------
    plan : Plan
        The plan.
    part : Part
        The part.
    at_door : bool
        Whether the section stands at the garage's door.

    Returns
    -------
    Floor
        Level, and half the characteristic dimension of ISO 13370:2017: floor area inside the walls over the length
        of the wall lines that it is exposed along.
    """
    level = slab_top(plan.project, part)
    if part.use == "garage" and not at_door:
        level = max(level, min(level + _rise(plan, part), wall_top(plan.project, part)))
    return Floor(part, level, half_width(plan, part))


def _rise(plan: Plan, part: Part) -> float:
    """Mean rise of a garage slab over its door, 0 without a door. [m]"""
    doors = [each.line for each in plan.project.openings if each.kind == "overhead door"]
    for line in plan.lines:
        wall = line.wall
        if wall.part != part.name or all(along_named(plan.project, door, wall) is None for door in doors):
            continue
        return depth_from(plan.project, part, wall) * GARAGE_SLOPE / 2
    return 0.0


def depth_from(project: Project, part: Part, wall: WallLine) -> float:
    """How far a part goes from a wall line, square to it.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.
    wall : WallLine
        The wall line.

    Returns
    -------
    float
        Distance of its farthest corner. [m]
    """
    corners = [position(project, name) for name in part.corners]
    (east, north), (start_east, start_north) = wall.outward, wall.start_at
    return max(abs((e - start_east) * east + (n - start_north) * north) for e, n in corners)


def half_width(plan: Plan, part: Part) -> float:
    """Half the characteristic dimension B' = A / (P/2) of a part's floor.

    Parameters
    ----------
    plan : Plan
        The plan.
    part : Part
        The part.

    Returns
    -------
    float
        Area inside the walls over the length of its exposed wall lines, so that strips of this width along them add
        up to the floor; a part with heated ones all round takes its whole outline. [m]
    """
    area = outline(plan.project, part)
    if area is None:
        return NO_OUTLINE
    inside = area.buffer(-part.wall_thickness, join_style="mitre").area or area.area
    exposed = sum(line.wall.length for line in plan.lines if _exposes(plan.project, line.wall, part))
    return max(inside / (exposed or area.length), NARROWEST)


def _exposes(project: Project, wall: WallLine, part: Part) -> bool:
    """Whether a wall line parts the part from the outdoors or from an unheated part."""
    if part_of(project, wall.part).use == "interior wall" or part.name not in (wall.part, wall.beyond):
        return False
    other = wall.beyond if wall.part == part.name else wall.part
    return not other or not part_of(project, other).is_heated


def mean_over(station: Array, grade: Array, start: float, end: float) -> float:
    """Mean grade over a stretch.

    Parameters
    ----------
    station, grade : ndarray, shape (n,)
        Grade along the line. [m]
    start, end : float
        Stations of the stretch's ends. [m]

    Returns
    -------
    float
        Mean. [m]
    """
    inner = (station > start) & (station < end)
    at = np.concatenate([[start], station[inner], [end]])
    levels = np.interp(at, station, grade)
    mean = float(np.trapezoid(levels, at)) / (end - start) if end > start else math.nan
    return mean if math.isfinite(mean) else float(levels[0])


def likely_soil(project: Project) -> tuple[SoilLayer, ...]:
    """The project's ground with its likely conductivity.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of SoilLayer
        One layer.
    """
    soil = project.soil
    _, likely, _ = materials.soil_band(
        soil.ground,
        dry_density=soil.dry_density,
        moisture=soil.moisture,
        low=soil.conductivity_low,
        likely=soil.conductivity,
        high=soil.conductivity_high,
    )
    return (SoilLayer(math.inf, likely),)
