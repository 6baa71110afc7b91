"""From survey shots to the existing and the finished surface."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.model.ground import Shots
from foundation.model.problem import Problem
from foundation.site.building import Outline, outline
from foundation.site.checks import GROUND, odd_elevations, of_kinds
from foundation.site.places import SAME_PLACE, lowest_of_each_place
from foundation.site.shots import breaklines
from foundation.site.surface import Surface
from foundation.site.triangulation import Crossing, delaunay, with_lines
from foundation.site.words import SiteError, cut_short, spoken

AT_WALL = 0.1 * 0.3048
"""A finished shot this close to the outline is on the wall: nobody shoots nearer to a string line. [m]"""
CROSSING_GAP = 0.1 * 0.3048
"""Crossing breaklines whose elevations differ by more are reported [practice]. [m]"""


@dataclass
class _Nodes:
    """Places to triangulate: shots that stand at the same place are one node, at the lowest elevation."""

    points: NDArray[np.float64]
    names: list[str]
    of_shot: dict[int, int]


def existing_surface(shots: Shots, metres_per_unit: float) -> tuple[Surface, tuple[Problem, ...]]:
    """Ground as it is: existing shots and ties, with their breaklines.

    Parameters
    ----------
    shots : Shots
        All shots.
    metres_per_unit : float
        Length of the survey's unit, for the sentences. [m]

    Returns
    -------
    surface : Surface
        The existing ground.
    problems : tuple of Problem
        Odd elevations and breaklines that disagree where they cross.

    Raises
    ------
    SiteError
        If the shots span no surface.
    """
    index = of_kinds(shots, GROUND["existing"])
    nodes = _nodes(shots, index, np.stack([shots.east[index], shots.north[index]], axis=1))
    plain = delaunay(nodes.points[:, :2], "existing shots")
    runs = _runs(shots, nodes, "existing")
    problems = _odd(nodes, plain, runs, "existing", metres_per_unit)
    surface, crossing_problems = _with_breaklines(nodes, plain, runs, [], "existing", metres_per_unit)
    return surface, cut_short(problems + crossing_problems, "existing ground")


def finished_surface(
    shots: Shots,
    corners: Mapping[str, tuple[float, float]],
    parts: Sequence[Sequence[str]],
    metres_per_unit: float,
) -> tuple[Surface, tuple[Problem, ...]]:
    """Ground as it will be graded: finished shots and ties outside the building.

    The building's outline is a breakline, straight in elevation between the finished shots on it, and a hole:
    nothing inside is ground. A corner takes the finished shot that stands within 0.1 ft of it; without one,
    what the plain triangulation of the finished shots says there.

    Parameters
    ----------
    shots : Shots
        All shots.
    corners : mapping of str to tuple of float
        East and north of each named corner. [m]
    parts : sequence of sequence of str
        Corners of each part of the building, in order around it.
    metres_per_unit : float
        Length of the survey's unit, for the sentences. [m]

    Returns
    -------
    surface : Surface
        The finished ground.
    problems : tuple of Problem
        Corners without a shot, shots inside the building, odd elevations, breaklines that disagree.

    Raises
    ------
    KeyError
        If a part names an unknown corner.
    SiteError
        If the shots span no surface, a corner lies outside them, or a part is no polygon.
    """
    building = outline(corners, parts)
    index = of_kinds(shots, GROUND["finished"])
    place = np.stack([shots.east[index], shots.north[index]], axis=1)
    place, inside = _onto_walls(place, building)
    problems = _inside(shots, index[inside])
    on_line = {shot for run in breaklines(shots, GROUND["finished"]).values() for shot in run}
    # A breakline may end inside the building; its last segment still shapes the ground up to the wall.
    kept = ~inside | np.array([shot in on_line for shot in index.tolist()], dtype=bool)
    nodes = _nodes(shots, index[kept], place[kept])
    plain = delaunay(nodes.points[:, :2], "finished shots")
    runs = _runs(shots, nodes, "finished")
    problems += _odd(nodes, plain, runs, "finished", metres_per_unit)
    rings, corner_problems = _corner_nodes(nodes, plain, building, metres_per_unit)
    surface, crossing_problems = _with_breaklines(nodes, plain, runs, rings, "finished", metres_per_unit)
    if rings:
        shapely.prepare(building.area)
        middle = surface.points[surface.triangles, :2].mean(axis=1)
        surface = _only(surface, surface.triangles[~shapely.contains_xy(building.area, middle)])
    return surface, cut_short(problems + corner_problems + crossing_problems, "finished ground")


def corner_grades(
    surface: Surface, corners: Mapping[str, tuple[float, float]], metres_per_unit: float
) -> dict[str, float]:
    """Grade at each corner of the building.

    Parameters
    ----------
    surface : Surface
        Existing or finished ground.
    corners : mapping of str to tuple of float
        East and north of each named corner. [m]
    metres_per_unit : float
        Length of the survey's unit, for the sentences. [m]

    Returns
    -------
    dict of str to float
        Grade at each corner. [m]

    Raises
    ------
    SiteError
        If corners lie where there is no ground, naming each and the three nearest shots.
    """
    at = np.array(list(corners.values())).reshape(-1, 2)
    grade = surface.grade(at[:, 0], at[:, 1])
    missing = [corner for corner, level in zip(corners, grade.tolist(), strict=True) if np.isnan(level)]
    if missing:
        raise SiteError(
            *(_no_ground(surface, corner, corners[corner], metres_per_unit) for corner in missing)
        )
    return dict(zip(corners, grade.tolist(), strict=True))


def _no_ground(surface: Surface, corner: str, place: tuple[float, float], metres_per_unit: float) -> Problem:
    east, north = (spoken(number, metres_per_unit) for number in place)
    near = ", ".join(
        f"{name} at {spoken(far, metres_per_unit)}" for name, far in surface.nearest_points(place)
    )
    sentence = (
        f"Corner {corner} (east {east}, north {north}) lies outside the {surface.name} ground, so its "
        f"grade is not known; shoot ground beyond it. The nearest points are {near}."
    )
    return Problem(f"corner {corner}", f"{east}, {north}", sentence)


def _nodes(shots: Shots, index: NDArray[np.int64], place: NDArray[np.float64]) -> _Nodes:
    points = np.column_stack([place, shots.elevation[index]])
    kept, node = lowest_of_each_place(points)
    names = [shots.point[shot] for shot in index[kept].tolist()]
    return _Nodes(points[kept], names, dict(zip(index.tolist(), node.tolist(), strict=True)))


def _runs(shots: Shots, nodes: _Nodes, ground: str) -> dict[str, list[int]]:
    """Nodes along each breakline."""
    runs = breaklines(shots, GROUND[ground])
    return {name: [nodes.of_shot[shot] for shot in run] for name, run in runs.items()}


def _odd(
    nodes: _Nodes,
    plain: NDArray[np.int64],
    runs: Mapping[str, list[int]],
    ground: str,
    metres_per_unit: float,
) -> list[Problem]:
    problems = []
    index, expected = odd_elevations(nodes.points, plain, list(runs.values()))
    for node, level in zip(index.tolist(), expected.tolist(), strict=True):
        typed, neighbours = spoken(nodes.points[node, 2], metres_per_unit), spoken(level, metres_per_unit)
        name = nodes.names[node]
        said = f"its neighbours say {neighbours}" if np.isfinite(level) else "all others lie far from that"
        sentence = (
            f"Point {name}: {ground} elevation {typed}, but {said}; look for a dropped or swapped digit, or "
            "keep it if the ground really does that."
        )
        problems.append(Problem(f"point {name}", typed, sentence, fatal=False))
    return problems


def _onto_walls(
    place: NDArray[np.float64], building: Outline
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Places with those near a wall moved onto it, and which lie inside the building."""
    if not building.rings:
        return place, np.zeros(len(place), dtype=bool)
    wall, points = shapely.boundary(building.area), shapely.points(place)
    shapely.prepare(wall)
    shapely.prepare(building.area)
    near = shapely.dwithin(wall, points, AT_WALL)
    inside = shapely.contains_xy(building.area, place) & ~near
    moved = place.copy()
    moved[near] = shapely.get_coordinates(
        shapely.line_interpolate_point(wall, shapely.line_locate_point(wall, points[near]))
    )
    every_corner = np.vstack(building.rings)
    for index in np.flatnonzero(near).tolist():
        distance = np.hypot(*(every_corner - place[index]).T)
        if distance.min() <= AT_WALL:
            moved[index] = every_corner[distance.argmin()]
    return moved, inside


def _inside(shots: Shots, index: NDArray[np.int64]) -> list[Problem]:
    if not len(index):
        return []
    points = ", ".join(shots.point[shot] for shot in index[:5].tolist())
    more = f" and {len(index) - 5} more" if len(index) > 5 else ""
    sentence = (
        f"Finished shots {points}{more} lie inside the building, where there is no ground; they are not used."
    )
    return [Problem("finished ground", points, sentence, fatal=False)]


def _corner_nodes(
    nodes: _Nodes, plain: NDArray[np.int64], building: Outline, metres_per_unit: float
) -> tuple[list[list[int]], list[Problem]]:
    """Closed rings of nodes around the building; corners that no shot gives are added to the nodes."""
    surface = Surface("finished", nodes.points, plain, tuple(nodes.names))
    rings, problems, outside = [], list[Problem](), list[Problem]()
    for ring, names in zip(building.rings, building.names, strict=True):
        run = []
        for place, corner in zip(ring, names, strict=True):
            distance = np.hypot(*(nodes.points[:, :2] - place).T)
            if distance.min() <= SAME_PLACE:
                run.append(int(distance.argmin()))
                continue
            east, north = (spoken(number, metres_per_unit) for number in place)
            called = corner or f"at east {east}, north {north}"
            level = float(surface.grade(*place))
            if np.isnan(level):
                outside.append(_no_ground(surface, called, (place[0], place[1]), metres_per_unit))
                continue
            typed = spoken(level, metres_per_unit)
            sentence = (
                f"Corner {called} has no finished shot: its grade {typed} is interpolated from the shots "
                "around it. Shoot it, or type its grade."
            )
            problems.append(Problem(f"corner {called}", typed, sentence, fatal=False))
            run.append(len(nodes.points))
            nodes.points = np.vstack([nodes.points, [*place, level]])
            nodes.names.append(f"corner {corner}" if corner else "")
        rings.append([*run, *run[:1]])
    if outside:
        raise SiteError(*outside)
    return rings, problems


def _with_breaklines(
    nodes: _Nodes,
    plain: NDArray[np.int64],
    runs: Mapping[str, list[int]],
    rings: list[list[int]],
    ground: str,
    metres_per_unit: float,
) -> tuple[Surface, list[Problem]]:
    lines = [*runs.values(), *rings]
    if not lines:
        return Surface(ground, nodes.points, plain, tuple(nodes.names)), []
    called = [f'breakline "{name}"' for name in runs] + ["the wall"] * len(rings)
    points, triangles, crossings = with_lines(nodes.points, lines, called, f"{ground} shots")
    problems = [
        _crossing_problem(crossing, called, ground, metres_per_unit)
        for crossing in crossings
        if abs(crossing.levels[0] - crossing.levels[1]) > CROSSING_GAP
    ]
    names = (*nodes.names, *[""] * (len(points) - len(nodes.points)))
    return Surface(ground, points, triangles, names), problems


def _crossing_problem(crossing: Crossing, called: list[str], ground: str, metres_per_unit: float) -> Problem:
    one, other = (called[line] for line in crossing.lines)
    low, high = (spoken(level, metres_per_unit) for level in crossing.levels)
    east, north = (spoken(number, metres_per_unit) for number in crossing.position)
    sentence = (
        f"On the {ground} ground, {one} ({low}) and {other} ({high}) cross at east {east}, north {north}; "
        "the lower is used. Put a shot there, on both."
    )
    return Problem(f"{ground} ground", f"{low}, {high}", sentence, fatal=False)


def _only(surface: Surface, triangles: NDArray[np.int64]) -> Surface:
    """Surface of some of its triangles, without the points that they leave unused."""
    used, renumbered = np.unique(triangles, return_inverse=True)
    names = tuple([surface.point_names[index] for index in used.tolist()])
    return Surface(surface.name, surface.points[used], renumbered.reshape(-1, 3), names)
