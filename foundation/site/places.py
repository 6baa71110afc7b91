"""Points that stand at the same place in plan."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

SAME_PLACE = 0.01 * 0.3048
"""Points closer than this are at the same place: the last digit of a survey in feet. [m]"""


def same_place(position: NDArray[np.float64], tolerance: float = SAME_PLACE) -> NDArray[np.int64]:
    """Pairs of points that stand at the same place.

    Parameters
    ----------
    position : ndarray, shape (n, 2)
        Plan positions. [m]
    tolerance : float
        Largest distance between the two. [m]

    Returns
    -------
    ndarray of int, shape (k, 2)
        Each point with its nearest neighbour, where that is near enough; smaller index first, no pair twice.

    Examples
    --------
    >>> same_place(np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 0.001]])).tolist()
    [[0, 2]]
    """
    if len(position) < 2:
        return np.zeros((0, 2), dtype=np.int64)
    found = cKDTree(position).query(position, k=2, distance_upper_bound=tolerance)
    distance, nearest = np.asarray(found[0], dtype=float), np.asarray(found[1], dtype=np.int64)
    own = np.arange(len(position))
    # Of two equal points either may come first, so the neighbour is whichever is not the point itself.
    other = np.where(nearest[:, 0] == own, nearest[:, 1], nearest[:, 0])
    near = np.isfinite(distance[:, 1])
    pairs = np.sort(np.stack([own[near], other[near]], axis=1), axis=1)
    return np.unique(pairs, axis=0)


def lowest_of_each_place(points: NDArray[np.float64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """One point for each place, the lowest: where elevations disagree, frost counts from the lower grade.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        East, north, elevation. [m]

    Returns
    -------
    kept : ndarray of int, shape (k,)
        Indices of the points that stay, rising.
    stands_for : ndarray of int, shape (n,)
        Which of them each point became.

    Examples
    --------
    >>> kept, stands_for = lowest_of_each_place(np.array([[0.0, 0, 7], [5, 0, 7], [0, 0, 6]]))
    >>> kept.tolist(), stands_for.tolist()
    ([1, 2], [1, 0, 1])
    """
    pairs = same_place(points[:, :2])
    joined = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(points), len(points)))
    group = connected_components(joined, directed=False)[1]
    lowest_first = np.argsort(points[:, 2], kind="stable")
    _, first = np.unique(group[lowest_first], return_index=True)
    kept = np.sort(lowest_first[first])
    number_of_group = np.empty(len(kept), dtype=np.int64)
    number_of_group[group[kept]] = np.arange(len(kept))
    return kept, number_of_group[group]
