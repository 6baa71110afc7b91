"""Whether laid tube keeps clear of tube: nothing crosses, and nothing comes nearer than it may."""

from __future__ import annotations

from math import hypot

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import KDTree

NEAREST_ROWS = 0.45
"""Rows keep this share of the spacing between their axes, bulbs that face each other apart. [-]"""
NEAREST_LEADERS = 2 * 0.0254
"""Leaders, and bulbs that face each other, keep 2 in between their axes. [m]"""
STEP = 0.03
"""Between the points at which tube is looked at. [m]"""


def points_along(path: NDArray[np.float64], step: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Points along a path.

    Parameters
    ----------
    path : ndarray, shape (n, 2)
        Its corners. [m]
    step : float
        Between them, about. [m]

    Returns
    -------
    points : ndarray, shape (k, 2)
        East and north. [m]
    along : ndarray, shape (k,)
        How far along the path. [m]
    """
    lengths = np.r_[0.0, np.cumsum(np.hypot(*np.diff(path, axis=0).T))]
    along = np.linspace(0.0, lengths[-1], max(2, int(np.ceil(lengths[-1] / step)) + 1))
    return np.column_stack([np.interp(along, lengths, path[:, axis]) for axis in (0, 1)]), along


def too_near(
    paths: list[NDArray[np.float64]],
    leaders: list[tuple[float, float]],
    rows: float,
    least: float = NEAREST_LEADERS,
) -> set[int]:
    """Loops whose tube comes too near to tube.

    Parameters
    ----------
    paths : list of ndarray
        Of each loop. [m]
    leaders : list of tuple of float
        Of each loop, length of its first and of its last leader. [m]
    rows : float
        What rows keep. [m]
    least : float
        What leaders keep from each other and from rows. [m]

    Returns
    -------
    set of int
        Indices of the loops, empty where all is clear.
    """
    if not paths:
        return set()
    cloud, place, owner, leader = [], [], [], []
    for index, (path, (first, last)) in enumerate(zip(paths, leaders, strict=True)):
        points, along = points_along(path, STEP)
        cloud.append(points)
        place.append(along)
        owner.append(np.full(len(along), index))
        # the piece that bends from a row into a leader counts as leader
        leader.append((along <= first + rows) | (along >= along[-1] - last - rows))
    spots, along = np.vstack(cloud), np.concatenate(place)
    whose, leads = np.concatenate(owner), np.concatenate(leader)
    pairs = KDTree(spots).query_pairs(hypot(rows, STEP / 2), output_type="ndarray")
    one, two = pairs[:, 0], pairs[:, 1]
    apart = np.hypot(*(spots[one] - spots[two]).T)
    limit = np.where(leads[one] | leads[two], min(least, rows), rows)
    # along one tube, points within a turn are near without being too near
    other = (whose[one] != whose[two]) | (np.abs(along[one] - along[two]) > 2 * rows)
    # the nearest points of two tubes may lie half a step beside those looked at
    bad = other & (apart < np.hypot(limit, STEP / 2) - 1e-6)
    return set(whose[one[bad]].tolist()) | set(whose[two[bad]].tolist())
