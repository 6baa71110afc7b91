"""What floor the tube reaches, and which loop each piece of floor is nearest to."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import KDTree
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foundation.radiant.clearance import points_along

SLIVER = 1e-4
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
        Its pieces, the largest first.
    """
    if not paths:
        left = floor
    else:
        lines = shapely.MultiLineString([LineString(path).simplify(0.002) for path in paths])
        left = floor.difference(lines.buffer(reach, quad_segs=4))
    parts = [
        part for part in getattr(left, "geoms", [left]) if isinstance(part, Polygon) and part.area > SLIVER
    ]
    return sorted(parts, key=lambda part: -part.area)


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
