"""Grade along a straight line: cut out of a surface, or typed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.model.ground import Profile
from foundation.model.problem import Problem
from foundation.site.surface import BESIDE, Surface
from foundation.site.words import spoken

_TOUCH = 1e-9
"""Slack of a line that runs along a triangle's edge: rounding of grid coordinates in the millions. [m]"""
_SAME_STATION = 1e-6
"""Nodes closer than this are one. [m]"""
_PIECES = 16
"""Pieces in which a line looks for its triangles. [-]"""
STATION_SLACK = 0.0254 / 16
"""A typed table may miss the wall's end by the smallest length anyone types. [m]"""


def profile_along(surface: Surface, start: tuple[float, float], end: tuple[float, float]) -> Profile:
    """Grade along a straight line, exactly: a node wherever it crosses an edge of the surface.

    A line within a millimetre of the surface's rim, such as a wall line on the building's outline, is on the
    rim. Where there is no ground the grade is nan: at the profile's first or last node, or at a node added in
    the middle of a gap, so that interpolating never bridges one.

    Parameters
    ----------
    surface : Surface
        The ground.
    start, end : tuple of float
        East and north of the line's ends. [m]

    Returns
    -------
    Profile
        From station 0 at the start to the line's length. [m]

    Raises
    ------
    ValueError
        If the line has no length.

    Examples
    --------
    >>> points = np.array([[0.0, 0, 5], [9, 0, 5], [0, 9, 8]])
    >>> ground = Surface("existing", points, np.array([[0, 1, 2]]), ("1", "2", "3"))
    >>> profile = profile_along(ground, (3.0, 0.0), (3.0, 9.0))
    >>> profile.station.round(6).tolist(), profile.grade.round(6).tolist()
    ([0.0, 6.0, 9.0], [5.0, 7.0, nan])
    """
    origin = np.array(start, dtype=float)
    length = float(np.hypot(*(np.array(end) - origin)))
    if not length > _SAME_STATION:
        raise ValueError(f"the line from {start} to {end} m has no length; a profile needs one above 0 m.")
    direction = (np.array(end) - origin) / length
    within = _over_triangles(surface, origin, direction, length)
    pieces = np.vstack([within, _on_rim(surface, origin, direction, length)])
    if not len(pieces):
        return Profile(np.array([0.0, length]), np.full(2, np.nan))
    ends = np.sort(np.r_[0.0, pieces[:, 0], pieces[:, 1], length])
    station = ends[np.r_[True, np.diff(ends) > _SAME_STATION]]
    station[-1] = length
    middle = (station[1:] + station[:-1]) / 2
    # The rim counts where no triangle does; of triangles on both sides of an edge the longer piece is exact.
    covers = (pieces[:, 0] <= middle[:, None]) & (pieces[:, 1] >= middle[:, None])
    rank = pieces[:, 1] - pieces[:, 0] + np.where(np.arange(len(pieces)) < len(within), length, 0.0)
    reach = np.where(covers, rank, 0.0)
    best = pieces[reach.argmax(axis=1)]
    slope = (best[:, 3] - best[:, 2]) / (best[:, 1] - best[:, 0])
    ground = covers.any(axis=1)
    left, right = (
        np.where(ground, best[:, 2] + slope * (np.clip(side, best[:, 0], best[:, 1]) - best[:, 0]), np.nan)
        for side in (station[:-1], station[1:])
    )
    after, before = np.r_[left, np.nan], np.r_[np.nan, right]
    grade = np.array(np.where(np.isnan(before), after, before), dtype=float)
    gap = ~ground & (np.diff(station) > BESIDE)
    # A line may begin or end a hair off the ground; that is no gap.
    if not (ground[0] or gap[0]):
        grade[0] = grade[1]
    if not (ground[-1] or gap[-1]):
        grade[-1] = grade[-2]
    inner = np.flatnonzero(gap & ~np.isnan(grade[:-1]) & ~np.isnan(grade[1:]))
    return Profile(np.insert(station, inner + 1, middle[inner]), np.insert(grade, inner + 1, np.nan))


def _over_triangles(
    surface: Surface, origin: NDArray[np.float64], direction: NDArray[np.float64], length: float
) -> NDArray[np.float64]:
    """Pieces of the line within triangles: start, end, grade at the start, grade at the end."""
    # In short pieces, whose boxes meet few triangles that the line itself does not.
    ends = origin + np.linspace(0.0, length, _PIECES + 1)[:, None] * direction
    line = shapely.linestrings(np.stack([ends[:-1], ends[1:]], axis=1))
    triangle = np.unique(surface.tree.query(line, predicate="dwithin", distance=BESIDE)[1])
    corners = surface.points[surface.triangles[triangle]]
    local = corners[:, :, :2] - origin
    side = np.roll(local, -1, axis=1) - local
    size = np.hypot(side[..., 0], side[..., 1])
    # Distance inwards from each side, at the line's start and its change per metre along it.
    inwards = (side[..., 1] * local[..., 0] - side[..., 0] * local[..., 1]) / size
    change = (side[..., 0] * direction[1] - side[..., 1] * direction[0]) / size
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        meets = -(inwards + _TOUCH) / change
    never = (change == 0) & (inwards < -_TOUCH)
    enter = np.where(change > 0, meets, np.where(never, np.inf, -np.inf)).max(axis=1).clip(min=0.0)
    leave = np.where(change < 0, meets, np.inf).min(axis=1).clip(max=length)
    hit = leave - enter > _SAME_STATION
    enter, leave, local, level = enter[hit], leave[hit], local[hit], corners[hit, :, 2]
    grades = [_plane(local, level, at[:, None] * direction) for at in (enter, leave)]
    return np.column_stack([enter, leave, *grades])


def _plane(
    corner: NDArray[np.float64], level: NDArray[np.float64], place: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Grade of triangles at a place in or on each."""
    following, opposite = (
        np.roll(corner, -1, axis=1) - place[:, None],
        np.roll(corner, -2, axis=1) - place[:, None],
    )
    share = following[..., 0] * opposite[..., 1] - following[..., 1] * opposite[..., 0]
    share = share.clip(min=0.0)
    return (share * level).sum(axis=1) / share.sum(axis=1)


def _on_rim(
    surface: Surface, origin: NDArray[np.float64], direction: NDArray[np.float64], length: float
) -> NDArray[np.float64]:
    """Pieces of the line on the surface's rim, for lines drawn a hair beside it."""
    ends = surface.points[surface.rim]
    local = ends[..., :2] - origin
    along = local @ direction
    off = np.abs(local[..., 0] * direction[1] - local[..., 1] * direction[0]).max(axis=1)
    order = np.argsort(along, axis=1)
    along, level = np.take_along_axis(along, order, 1), np.take_along_axis(ends[..., 2], order, 1)
    start, end = along.clip(0.0, length).T
    on = (off <= BESIDE) & (end - start > _SAME_STATION)
    along, level, start, end = along[on], level[on], start[on], end[on]
    slope = (level[:, 1] - level[:, 0]) / (along[:, 1] - along[:, 0])
    grades = [level[:, 0] + slope * (at - along[:, 0]) for at in (start, end)]
    return np.column_stack([start, end, *grades])


def gaps(profile: Profile) -> list[tuple[float, float]]:
    """Where a profile has no ground.

    Parameters
    ----------
    profile : Profile
        Grade along a line.

    Returns
    -------
    list of tuple of float
        Stations of the start and end of each gap. [m]
    """
    bare = np.isnan(profile.grade)
    interval = bare[:-1] | bare[1:]
    edge = np.flatnonzero(np.diff(np.r_[False, interval, False].astype(int)))
    return [(float(profile.station[a]), float(profile.station[b])) for a, b in edge.reshape(-1, 2)]


def fall_away(
    surface: Surface, place: tuple[float, float], outward: tuple[float, float], distance: float = 10 * 0.3048
) -> float:
    """How far the ground falls over a distance straight out from a wall.

    Parameters
    ----------
    surface : Surface
        The ground.
    place : tuple of float
        East and north of a point on the wall. [m]
    outward : tuple of float
        Unit vector, east and north, out of the building. [-]
    distance : float
        How far out. [m]

    Returns
    -------
    float
        Fall, negative where the ground rises; nan where it ends, or another wall stands, before that. [m]
    """
    east, north = place
    out = profile_along(surface, place, (east + distance * outward[0], north + distance * outward[1]))
    return float("nan") if np.isnan(out.grade).any() else float(out.grade[0] - out.grade[-1])


def corner_profile(length: float, grade_start: float, grade_end: float) -> Profile:
    """Straight grade from one corner to the next.

    Parameters
    ----------
    length : float
        Length of the wall line, > 0. [m]
    grade_start, grade_end : float
        Grade at its corners. [m]

    Returns
    -------
    Profile
        Two nodes.

    Raises
    ------
    ValueError
        If the length is not positive or a grade not finite.

    Examples
    --------
    >>> corner_profile(12.0, 64.0, 65.5).grade.tolist()
    [64.0, 65.5]
    """
    if not (0 < length < np.inf and np.isfinite([grade_start, grade_end]).all()):
        raise ValueError(
            f"wall of {length} m from grade {grade_start} m to {grade_end} m: give finite, length above 0."
        )
    return Profile(np.array([0.0, length]), np.array([grade_start, grade_end]))


def typed_profile(
    stations: Sequence[float],
    grades: Sequence[float],
    length: float,
    metres_per_unit: float,
    name: str = "wall",
) -> tuple[Profile | None, tuple[Problem, ...]]:
    """Profile from a typed table of stations and grades.

    Parameters
    ----------
    stations : sequence of float
        Distances along the wall from its first corner, rising from 0 to at least the length. [m]
    grades : sequence of float
        Grade at each. [m]
    length : float
        Length of the wall line. [m]
    metres_per_unit : float
        Length of the unit in which the sentences speak. [m]
    name : str
        What problems call the wall.

    Returns
    -------
    profile : Profile or None
        Grade from 0 to the wall's length; None where a problem is fatal.
    problems : tuple of Problem
        What is wrong with the table.
    """
    said = [spoken(station, metres_per_unit) for station in stations]
    faults = list[tuple[str, str]]()
    if len(stations) != len(grades):
        counts = f"{len(stations)} stations and {len(grades)} grades"
        return None, (Problem(name, counts, f"{name}: {counts}; give one grade for each station."),)
    if len(stations) < 2:
        faults.append((f"{len(stations)} rows", "give a station and a grade at each end of the wall"))
    for row, (station, grade) in enumerate(zip(stations, grades, strict=True)):
        if not np.isfinite([station, grade]).all():
            faults.append((f"row {row + 1}", "the station and the grade must both be numbers"))
        elif row and not station > stations[row - 1]:
            faults.append((f"station {said[row]}", f"it must lie beyond the one before it, {said[row - 1]}"))
    if not faults and abs(stations[0]) > STATION_SLACK:
        faults.append((f"station {said[0]}", "the first must be 0, the wall's first corner"))
    if not faults and stations[-1] < length - STATION_SLACK:
        reach = spoken(length, metres_per_unit)
        faults.append((f"station {said[-1]}", f"the last must reach the wall's other corner at {reach}"))
    if faults:
        return None, tuple(Problem(name, value, f"{name}, {value}: {what}.") for value, what in faults)
    typed = np.array(stations, dtype=float)
    inner = (typed > _SAME_STATION) & (typed < length - _SAME_STATION)
    node = np.concatenate([[0.0], typed[inner], [length]])
    return Profile(node, np.interp(node, typed, np.array(grades, dtype=float))), ()
