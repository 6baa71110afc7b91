"""The dig: what footings, pads and floors take out of the ground, and the surfaces about them over a grid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from foundation.plan.footings import part_of
from foundation.plan.lines import outline
from foundation.plan.result import Plan
from foundation.plan.section_grade import floor_of
from foundation.plan.section_standing import bed_of
from foundation.plan.takeoff_shapes import place
from foundation.project.schema import Digging

Array = NDArray[np.float64]

PROTECTED = 5 * 0.3048
"""Depth from which the sides of a dig are sloped to their soil's class, OSHA 1926.652 [read]. [m]"""
CLASS_SLOPES = {"rock": 1e3, "A": 4 / 3, "B": 1.0, "C": 2 / 3}
"""Rise over run of a dig's side by soil class, OSHA 1926.652 [read]. [-]"""
UPRIGHT = 1e3
"""Rise over run of a side that stands upright. [-]"""
CELL = 0.25
"""Side of the grid's cells; wider on a very large site. [m]"""
GRADED = 15.0
"""Grading is counted so far beyond the footings. [m]"""
MOST_CELLS = 400_000
"""Most cells of the grid. [-]"""


@dataclass(frozen=True, eq=False)
class Foot:
    """A level rectangle at the foot of the dig, turned as it lies.

    Attributes
    ----------
    name : str
        What stands on it.
    corner : tuple of float
        One corner, east and north. [m]
    along : tuple of float
        Unit vector along its first side. [-]
    across : tuple of float
        Unit vector along its second side. [-]
    sides : tuple of float
        Its sides. [m]
    level : float
        Its level. [m]
    """

    name: str
    corner: tuple[float, float]
    along: tuple[float, float]
    across: tuple[float, float]
    sides: tuple[float, float]
    level: float

    def distance(self, east: Array, north: Array) -> Array:
        """How far places lie outside of it.

        Parameters
        ----------
        east, north : ndarray
            Places. [m]

        Returns
        -------
        ndarray
            Distance, 0 inside. [m]
        """
        de, dn = east - self.corner[0], north - self.corner[1]
        gaps = []
        for unit, side in ((self.along, self.sides[0]), (self.across, self.sides[1])):
            at = de * unit[0] + dn * unit[1]
            gaps.append(np.maximum(0.0, np.maximum(-at, at - side)))
        return np.hypot(*gaps)


@dataclass(frozen=True, eq=False)
class Grounds:
    """The surfaces over a grid, k cells.

    Attributes
    ----------
    east, north : ndarray, shape (k,)
        Middles of the cells. [m]
    cell : float
        Area of a cell. [m²]
    existing, finished, dug : ndarray, shape (k,)
        Grades; finished is the existing one where nobody tells, dug is the existing one where nobody digs for footings
        or pads. nan beyond the survey. [m]
    share : dict of str to ndarray, shape (k,)
        Of each part that has an outline, how much of each cell lies in it. [-]
    beds : dict of str to float
        Of those, the level that is dug for the slab's bed. [m]
    shape : tuple of int
        Cells eastward and northward. [-]
    sloped : dict of str to float
        For each foot of the dig the slope of its sides. [-]
    """

    east: Array
    north: Array
    cell: float
    existing: Array
    finished: Array
    dug: Array
    share: dict[str, Array]
    beds: dict[str, float]
    shape: tuple[int, int]
    sloped: dict[str, float]

    @property
    def outside(self) -> Array:
        """How much of each cell lies outside all parts. [-]"""
        return np.clip(1.0 - sum(self.share.values(), np.zeros(len(self.east))), 0.0, 1.0)

    def sum(self, height: Array, share: Array) -> float:
        """Volume under a height, where it is above 0.

        Parameters
        ----------
        height : ndarray, shape (k,)
            Height, nan for none. [m]
        share : ndarray, shape (k,)
            How much of each cell counts. [-]

        Returns
        -------
        float
            Volume. [m³]
        """
        return float((np.nan_to_num(height).clip(0) * share).sum()) * self.cell

    def dug_inside(self, part: str) -> Array:
        """What is dug within a part, for footings and for its slab.

        Parameters
        ----------
        part : str
            Name of the part.

        Returns
        -------
        ndarray, shape (k,)
            Levels, nan beyond the survey. [m]
        """
        return np.minimum(self.dug, self.beds[part])


def side_slope(digging: Digging, protection: str, depth: float) -> float:
    """Slope that the side of a dig takes.

    Parameters
    ----------
    digging : Digging
        What the project says.
    protection : str
        ``sloped``, ``shored`` or ``unknown``, which is counted as sloped.
    depth : float
        Depth of the dig. [m]

    Returns
    -------
    float
        Rise over run: as typed, but from 5 ft on no steeper than the soil's class; shored sides stand upright unless a
        slope is typed. [-]

    Examples
    --------
    >>> typed = Digging.model_validate({"slope": "1", "soil_class": "C"})
    >>> [round(side_slope(typed, "sloped", depth), 3) for depth in (1.0, 2.0)]
    [1.0, 0.667]
    """
    if protection == "shored":
        return digging.slope if digging.slope is not None else UPRIGHT
    if depth < PROTECTED - 1e-6:
        return digging.side_slope
    return min(digging.side_slope, CLASS_SLOPES[digging.soil_class])


def feet_of(plan: Plan, answer: str) -> tuple[Foot, ...]:
    """Level rectangles that are dug for footings and pads, with working room.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of Foot
        One for each run, then the pads.
    """
    room = plan.project.digging.working_room
    found = []
    for run in plan.stepping(answer).runs:
        wall = plan.line(run.line).wall
        under = part_of(plan.project, wall.part).foam.under_footing
        clear = wall.projection + room
        start = run.start - (clear if run.start < 1e-6 else 0.0)
        end = run.end + (clear if run.end > wall.length - 1e-6 else 0.0)
        (ex, ny), (e1, n1) = place(wall, start, clear), place(wall, end, clear)
        along = (e1 - ex) / (end - start), (n1 - ny) / (end - start)
        inward = -wall.outward[0], -wall.outward[1]
        level = run.bottom - (under.thickness if under is not None else 0.0)
        sides = end - start, wall.wall_thickness + 2 * clear
        found.append(Foot(f"{run.line} {run.start:.3f}", (ex, ny), along, inward, sides, level))
    for extra in plan.extras:
        length, width = extra.length + 2 * room, extra.width + 2 * room
        corner = extra.east - length / 2, extra.north - width / 2
        found.append(Foot(extra.name, corner, (1.0, 0.0), (0.0, 1.0), (length, width), extra.bottom.level))
    return tuple(found)


def grounds_of(plan: Plan, answer: str, cell: float = CELL) -> Grounds:
    """Existing, dug and finished ground over a grid as wide as the dig goes.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    cell : float
        Side of the cells; wider on a very large site. [m]

    Returns
    -------
    Grounds
        The surfaces.
    """
    feet = feet_of(plan, answer)
    corners = np.array(
        [
            (
                f.corner[0] + a * f.sides[0] * f.along[0] + b * f.sides[1] * f.across[0],
                f.corner[1] + a * f.sides[0] * f.along[1] + b * f.sides[1] * f.across[1],
            )
            for f in feet
            for a in (0, 1)
            for b in (0, 1)
        ]
    )
    highest = max(float(np.nanmax(line.existing)) for line in plan.lines)
    flattest = min(plan.project.digging.side_slope, CLASS_SLOPES[plan.project.digging.soil_class])
    reach = max(0.0, highest - min(foot.level for foot in feet)) / flattest + 1.0
    low, high = corners.min(axis=0) - reach, corners.max(axis=0) + reach
    if plan.finished is not None:
        rim = plan.finished.points[:, :2]
        low = np.minimum(low, np.maximum(rim.min(axis=0), corners.min(axis=0) - GRADED))
        high = np.maximum(high, np.minimum(rim.max(axis=0), corners.max(axis=0) + GRADED))
    side = max(cell, float(np.sqrt(np.prod(high - low) / MOST_CELLS)))
    axes = [np.arange(a + side / 2, b, side) for a, b in zip(low, high, strict=True)]
    east, north = (grid.ravel() for grid in np.meshgrid(*axes, indexing="ij"))
    existing = grade_at(plan, "existing", east, north)
    finished = grade_at(plan, "finished", east, north)
    dug = existing.copy()
    outlines = [
        (part, whole) for part in plan.project.parts if (whole := outline(plan.project, part)) is not None
    ]
    share = {part.name: _share(whole, east, north, side) for part, whole in outlines}
    beds = {part.name: bed_of(floor_of(plan, part)) for part, _ in outlines}
    sloped = {}
    for foot in feet:
        away = foot.distance(east, north)
        over = existing[away == 0]
        depth = float(np.nanmax(over) - foot.level) if np.isfinite(over).any() else 0.0
        slope = side_slope(plan.project.digging, plan.project.stage.dig_protection, depth)
        sloped[foot.name] = slope
        dug = np.fmin(dug, np.where(np.isnan(existing), np.nan, foot.level + away * slope))
    finished = np.where(np.isnan(finished), existing, finished)
    shape = len(axes[0]), len(axes[1])
    return Grounds(east, north, side**2, existing, finished, dug, share, beds, shape, sloped)


def grade_at(plan: Plan, which: str, east: Array, north: Array) -> Array:
    """Grade of a surface; beside the nearest wall where there are no shots.

    Parameters
    ----------
    plan : Plan
        The plan.
    which : str
        ``existing`` or ``finished``.
    east, north : ndarray, shape (k,)
        Places. [m]

    Returns
    -------
    ndarray, shape (k,)
        Grade, nan where nobody tells. [m]
    """
    surface = plan.existing if which == "existing" else plan.finished
    if surface is not None:
        return surface.grade(east, north)
    lines = [line for line in plan.lines if which == "existing" or not line.wall.beyond] or list(plan.lines)
    walls = shapely.linestrings([[line.wall.start_at, line.wall.end_at] for line in lines])
    points = shapely.points(east, north)
    nearest = np.argmin(shapely.distance(points[:, None], walls[None, :]), axis=1)
    at = shapely.line_locate_point(walls[nearest], points)
    grade = np.full(len(points), np.nan)
    for number, line in enumerate(lines):
        here = nearest == number
        grade[here] = np.interp(at[here], line.node, getattr(line, which))
    return grade


def _share(whole: Polygon, east: Array, north: Array, side: float) -> Array:
    """How much of each cell lies in a shape."""
    share = shapely.contains_xy(whole, east, north).astype(float)
    points = shapely.points(east, north)
    rim = shapely.dwithin(points, whole.boundary, side * 0.7072)
    cells = shapely.box(
        east[rim] - side / 2, north[rim] - side / 2, east[rim] + side / 2, north[rim] + side / 2
    )
    share[rim] = shapely.area(shapely.intersection(cells, whole)) / side**2
    return share
