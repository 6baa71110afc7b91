"""What floor the tube reaches, and which loop each piece of floor is nearest to."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import KDTree
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foundation.radiant.clearance import points_along

SLIVER = 1e-6
"""Pieces of floor smaller than this are rounding. [m²]"""


def unreached(floor: BaseGeometry, paths: list[NDArray[np.float64]], reach: float) -> list[Polygon]:
    """Floor farther from tube than a reach.

    Parameters
    ----------
    floor : shapely geometry
        The floor.
    paths : list of ndarray
        Of the loops. [m]
    reach : float
        The reach. [m]

    Returns
    -------
    list of Polygon
        Its pieces, none round another, the largest first.
    """
    if not paths:
        left = floor
    else:
        lines = shapely.MultiLineString([LineString(path).simplify(0.001) for path in paths])
        left = floor.difference(lines.buffer(reach, quad_segs=8))
    return sorted((part for part in _without_holes(left) if part.area > SLIVER), key=lambda part: -part.area)


def _without_holes(shape: BaseGeometry) -> list[Polygon]:
    """A shape cut up until its pieces are told by their outlines alone."""
    whole: list[Polygon] = []
    todo = list(getattr(shape, "geoms", [shape]))
    while todo:
        part = todo.pop()
        if not isinstance(part, Polygon) or part.is_empty:
            continue
        if not part.interiors:
            whole.append(part)
            continue
        west, south, east, north = part.bounds
        middle = Polygon(part.interiors[0]).centroid.x
        for half in (shapely.box(west, south, middle, north), shapely.box(middle, south, east, north)):
            cut = part.intersection(half)
            todo += list(getattr(cut, "geoms", [cut]))
    return whole


def areas(floor: BaseGeometry, paths: list[NDArray[np.float64]], reached: float, step: float) -> list[float]:
    """Floor that each loop covers: what is nearest to it.

    Parameters
    ----------
    floor : shapely geometry
        The floor.
    paths : list of ndarray
        Of the loops. [m]
    reached : float
        Floor that they reach together. [m²]
    step : float
        Between the points at which it is looked. [m]

    Returns
    -------
    list of float
        Of each loop; together what they reach. [m²]
    """
    left, low, right, high = floor.bounds
    east, north = np.meshgrid(np.arange(left + step / 2, right, step), np.arange(low + step / 2, high, step))
    shapely.prepare(floor)
    inside = shapely.contains_xy(floor, east, north)
    spots = np.column_stack([east[inside], north[inside]])
    clouds = [points_along(path, step)[0] for path in paths]
    whose = np.repeat(np.arange(len(paths)), [len(cloud) for cloud in clouds])
    _, nearest = KDTree(np.vstack(clouds)).query(spots)
    counts = np.bincount(whose[nearest], minlength=len(paths)).astype(float)
    return [float(value) for value in reached * counts / max(1.0, counts.sum())]
