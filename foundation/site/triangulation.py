"""Triangles over scattered points, with given lines among their edges."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import Delaunay, QhullError, cKDTree

from foundation.model.problem import Problem
from foundation.site.places import SAME_PLACE, lowest_of_each_place
from foundation.site.words import SiteError

_FLAT = 1e-9
"""Triangles of less area than this are rounding, not ground. [m²]"""
_NUDGE = 1e-7
"""Points are moved by up to this to tell which triangles are Delaunay's. [m]"""
_CLEAR = 1e-6
"""Width of the empty ring around the circle over a piece of line: well above the nudge. [m]"""
_SHORTEST = 2 * SAME_PLACE
"""Pieces of line are not cut below this; lines that still do not fit lie on top of each other. [m]"""
_MOST_ROUNDS = 60
"""Each round halves what it splits; 60 halvings go below any length that a survey holds. [-]"""


@dataclass(frozen=True)
class Crossing:
    """Two lines that cross between their points.

    Attributes
    ----------
    lines : tuple of int
        Indices of the two lines.
    levels : tuple of float
        Elevation of each at the crossing. [m]
    position : tuple of float
        East and north. [m]
    """

    lines: tuple[int, int]
    levels: tuple[float, float]
    position: tuple[float, float]


def delaunay(position: NDArray[np.float64], what: str) -> NDArray[np.int64]:
    """Plain triangulation.

    Parameters
    ----------
    position : ndarray, shape (n, 2)
        East and north. [m]
    what : str
        What the points are, for the message.

    Returns
    -------
    ndarray of int, shape (m, 3)
        Corners of the triangles, anticlockwise.

    Raises
    ------
    SiteError
        If fewer than three points span no triangle, or all lie on one line.

    Examples
    --------
    >>> sorted(delaunay(np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0]]), "shots")[0].tolist())
    [0, 1, 2]
    """
    triangles = np.zeros((0, 3), dtype=np.int64)
    if len(position) > 2:
        # Grid coordinates run to millions; near zero no digits are lost.
        local = position - position.mean(axis=0)
        # Rows and grids put many points on one line or circle, where Qhull takes thrice as long to decide what
        # hardly matters; a ten-thousandth of a millimetre decides it. The triangles keep the true places.
        decided = local + np.random.default_rng(0).uniform(-_NUDGE, _NUDGE, local.shape)
        with suppress(QhullError):
            triangles = np.asarray(Delaunay(decided).simplices, dtype=np.int64)
        a, b, c = (local[triangles[:, corner]] for corner in range(3))
        twice_area = _cross(b - a, c - a)
        triangles[twice_area < 0] = triangles[twice_area < 0][:, ::-1]
        triangles = triangles[np.abs(twice_area) > 2 * _FLAT]
    if not len(triangles):
        sentence = f"{len(position)} {what}: a surface needs at least three that do not lie on one line."
        raise SiteError(Problem(what, str(len(position)), sentence))
    return triangles


def with_lines(
    points: NDArray[np.float64], lines: Sequence[Sequence[int]], line_names: Sequence[str], what: str
) -> tuple[NDArray[np.float64], NDArray[np.int64], list[Crossing]]:
    """Triangulation in which every segment of the lines is made of edges.

    Points on a line become points of the line, crossing lines get a point in common, and each segment is cut,
    level along itself, until nothing stands in the circle over any piece: then Delaunay's rule keeps it.
    Pieces from a point that lines share are cut at powers of two of its distance, so that lines meeting at
    sharp angles do not cut each other for ever (Ruppert's shells).

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        East, north, elevation. [m]
    lines : sequence of sequence of int
        Points of each line, in order; a closed line repeats its first.
    line_names : sequence of str
        What messages call each line.
    what : str
        What the points are, for messages.

    Returns
    -------
    points : ndarray, shape (n + k, 3)
        The points, followed by those that the lines needed. [m]
    triangles : ndarray of int, shape (m, 3)
        Corners of the triangles, anticlockwise.
    crossings : list of Crossing
        Where lines cross between their points; the lower elevation is taken.

    Raises
    ------
    SiteError
        If the points span no triangle, or a line cannot be made of edges.
    """
    segments = np.array(
        [(a, b, line) for line, run in enumerate(lines) for a, b in pairwise(run) if a != b],
        dtype=np.int64,
    ).reshape(-1, 3)
    if not len(segments):
        return points, delaunay(points[:, :2], what), []
    segments = _through_points_on_them(points, _each_once(segments))
    points, segments, crossings = _through_crossings(points, segments)
    points, segments = _cut_to_fit(points, segments)
    triangles = delaunay(points[:, :2], what)
    missing = ~np.isin(_edge_key(segments[:, :2], len(points)), edges(triangles) @ np.array([len(points), 1]))
    if missing.any():
        called = line_names[segments[missing][0, 2]]
        sentence = (
            f"The {what}: {called} cannot be drawn; look for another line or shots all but on top of it."
        )
        raise SiteError(Problem(what, called, sentence))
    return points, triangles, crossings


def edges(triangles: NDArray[np.int64]) -> NDArray[np.int64]:
    """Edges of a triangulation, each once.

    Parameters
    ----------
    triangles : ndarray of int, shape (m, 3)
        Corners of the triangles.

    Returns
    -------
    ndarray of int, shape (k, 2)
        Ends, the smaller index first.
    """
    return edges_and_uses(triangles)[0]


def edges_and_uses(triangles: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Edges of a triangulation, and how many triangles have each.

    Parameters
    ----------
    triangles : ndarray of int, shape (m, 3)
        Corners of the triangles.

    Returns
    -------
    edges : ndarray of int, shape (k, 2)
        Ends, the smaller index first.
    uses : ndarray of int, shape (k,)
        Two inside, one on the rim.
    """
    ends = np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    size = int(triangles.max(initial=-1)) + 1
    key, uses = np.unique(_edge_key(ends, size), return_counts=True)
    return np.stack(np.divmod(key, size), axis=1), uses


def _edge_key(ends: NDArray[np.int64], size: int) -> NDArray[np.int64]:
    return np.sort(ends, axis=1) @ np.array([size, 1])


def _through_points_on_them(points: NDArray[np.float64], segments: NDArray[np.int64]) -> NDArray[np.int64]:
    """Segments split at every point that lies on them; a split may bring the next point onto the line."""
    places = shapely.points(points[:, :2])
    near = np.arange(len(points))
    reach = 3 * SAME_PLACE
    while True:
        tree = shapely.STRtree(shapely.linestrings(points[segments[:, :2], :2]))
        which, segment = tree.query(places[near], predicate="dwithin", distance=reach)
        which = near[which]
        near, reach = np.unique(which), SAME_PLACE
        start, end = points[segments[segment, 0], :2], points[segments[segment, 1], :2]
        along, off = _along(start, end, points[which, :2])
        length = np.hypot(*(end - start).T)
        on = (np.abs(off) <= SAME_PLACE) & (along * length > SAME_PLACE) & ((1 - along) * length > SAME_PLACE)
        on &= (which != segments[segment, 0]) & (which != segments[segment, 1])
        if not on.any():
            return segments
        segments = _split(segments, segment[on], along[on], which[on])


def _along(
    start: NDArray[np.float64], end: NDArray[np.float64], place: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Where along segments places lie, as a fraction [-], and how far to the left of them [m]."""
    direction, reach = end - start, place - start
    squared = (direction**2).sum(axis=1)
    along = (direction * reach).sum(axis=1) / squared
    return along, _cross(direction, reach) / np.sqrt(squared)


def _split(
    segments: NDArray[np.int64],
    which: NDArray[np.int64],
    along: NDArray[np.float64],
    node: NDArray[np.int64],
) -> NDArray[np.int64]:
    """Segments cut at nodes that lie at fractions along them; the same piece is kept once."""
    owner = np.concatenate([np.arange(len(segments)), which, np.arange(len(segments))])
    place = np.concatenate([np.zeros(len(segments)), along, np.ones(len(segments))])
    at = np.concatenate([segments[:, 0], node, segments[:, 1]])
    order = np.lexsort([place, owner])
    owner, at = owner[order], at[order]
    piece = (owner[1:] == owner[:-1]) & (at[1:] != at[:-1])
    cut = np.stack([at[:-1][piece], at[1:][piece], segments[owner[:-1][piece], 2]], axis=1)
    return _each_once(cut)


def _each_once(segments: NDArray[np.int64]) -> NDArray[np.int64]:
    """Lines that share a piece would else cut it at different places for ever."""
    _, first = np.unique(np.sort(segments[:, :2], axis=1), axis=0, return_index=True)
    return segments[np.sort(first)]


def _through_crossings(
    points: NDArray[np.float64], segments: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64], list[Crossing]]:
    """Segments split where they cross, at the lower of the two elevations."""
    drawn = shapely.linestrings(points[segments[:, :2], :2])
    one, other = shapely.STRtree(drawn).query(drawn, predicate="intersects")
    apart = (segments[one, :2, None] != segments[other, None, :2]).all(axis=(1, 2))
    way = points[segments[:, 1]] - points[segments[:, 0]]
    # Lines that run along each other meet in points, which are on both by now, and do not cross.
    crosses = (one < other) & apart & (_cross(way[one], way[other]) != 0)
    one, other = one[crosses], other[crosses]
    if not len(one):
        return points, segments, []
    origin, first, second = points[segments[one, 0]], way[one], way[other]
    gap = points[segments[other, 0]] - origin
    along_one = _cross(gap, second) / _cross(first, second)
    along_other = _cross(gap, first) / _cross(first, second)
    crossing = origin + along_one[:, None] * first
    level_other = points[segments[other, 0], 2] + along_other * second[:, 2]
    found = [
        Crossing((int(a), int(b)), (float(z), float(w)), (float(x), float(y)))
        for a, b, (x, y, z), w in zip(
            segments[one, 2], segments[other, 2], crossing, level_other, strict=True
        )
    ]
    crossing[:, 2] = np.minimum(crossing[:, 2], level_other)
    # Three lines through one place cross thrice there, and want one point.
    kept, node = lowest_of_each_place(crossing)
    node += len(points)
    points = np.vstack([points, crossing[kept]])
    cut = _split(segments, np.r_[one, other], np.r_[along_one, along_other], np.r_[node, node])
    return points, cut, found


def _cross(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    return one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]


def _cut_to_fit(
    points: NDArray[np.float64], segments: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Segments cut until the circle over each piece is empty."""
    given = len(points)
    shared = np.bincount(segments[:, :2].ravel(), minlength=given) > 1
    of_given = cKDTree(points[:, :2])
    for _ in range(_MOST_ROUNDS):
        start, end = points[segments[:, 0]], points[segments[:, 1]]
        half = np.hypot(*(end - start)[:, :2].T) / 2
        middle = (start + end)[:, :2] / 2
        # The many given points keep their index; only the few new ones need another each round.
        full = _stands_in(of_given, 0, middle, half + _CLEAR, segments)
        if len(points) > given:
            full |= _stands_in(cKDTree(points[given:, :2]), given, middle, half + _CLEAR, segments)
        full &= 2 * half > _SHORTEST
        if not full.any():
            break
        cut, length = np.flatnonzero(full), 2 * half[full]
        apex_first, apex_last = (
            (segments[cut, column] < given) & shared[np.minimum(segments[cut, column], given - 1)]
            for column in (0, 1)
        )
        shell = np.exp2(np.round(np.log2(length / 2))) / length
        along = np.where(apex_first, shell, np.where(apex_last, 1 - shell, 0.5))
        node = len(points) + np.arange(len(cut))
        points = np.vstack([points, start[cut] + along[:, None] * (end - start)[cut]])
        segments = _split(segments, cut, along, node)
    return points, segments


def _stands_in(
    tree: cKDTree,
    first: int,
    middle: NDArray[np.float64],
    radius: NDArray[np.float64],
    segments: NDArray[np.int64],
) -> NDArray[np.bool_]:
    """Whether a point of the tree, whose points are numbered from the first, stands in each circle or on it.

    On it counts: with four points on one circle either diagonal is Delaunay's. The segment's own ends do not.
    """
    found = tree.query(middle, k=3)
    distance, nearest = np.asarray(found[0], dtype=float), np.asarray(found[1], dtype=np.int64) + first
    foreign = (nearest[:, :, None] != segments[:, None, :2]).all(axis=2)
    return np.asarray((foreign & (distance <= radius[:, None])).any(axis=1))
