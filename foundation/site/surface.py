"""The ground as triangles: its grade anywhere on it, and nothing beyond it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from foundation.site.triangulation import edges_and_uses

BESIDE = 1e-3
"""Places this close to the surface's rim are on it: wall corners are typed, not computed. [m]"""


@dataclass(frozen=True, eq=False)
class Surface:
    """Ground between survey shots, flat within each triangle.

    Attributes
    ----------
    name : str
        ``existing`` or ``finished``.
    points : ndarray, shape (n, 3)
        East, north, elevation. [m]
    triangles : ndarray of int, shape (m, 3)
        Corners of the triangles, anticlockwise.
    point_names : tuple of str, length n
        Point number of the shot, or name of the corner; "" where a breakline was cut.

    Examples
    --------
    >>> points = np.array([[0.0, 0, 5], [9, 0, 5], [0, 9, 8]])
    >>> ground = Surface("existing", points, np.array([[0, 1, 2]]), ("1", "2", "3"))
    >>> ground.grade(0.0, 3.0).item(), ground.grade(9.0, 9.0).item()
    (6.0, nan)
    """

    name: str
    points: NDArray[np.float64]
    triangles: NDArray[np.int64]
    point_names: tuple[str, ...]

    @cached_property
    def tree(self) -> shapely.STRtree:
        """Index of the triangles by place, in their order."""
        return shapely.STRtree(shapely.polygons(self.points[self.triangles[:, [0, 1, 2, 0]], :2]))

    @cached_property
    def rim(self) -> NDArray[np.int64]:
        """Edges with ground on one side only, as pairs of points, shape (k, 2)."""
        edges, uses = edges_and_uses(self.triangles)
        return edges[uses == 1]

    def grade(self, east: ArrayLike, north: ArrayLike) -> NDArray[np.float64]:
        """Grade at places in plan.

        Parameters
        ----------
        east, north : float or ndarray, same shape
            Plan position. [m]

        Returns
        -------
        ndarray, of that shape
            Grade, nan where there is no ground. [m]
        """
        place = np.stack(np.broadcast_arrays(np.asarray(east, float), np.asarray(north, float)), axis=-1)
        flat = place.reshape(-1, 2)
        found = np.full(len(flat), np.nan)
        which, triangle = self.tree.query(shapely.points(flat), predicate="dwithin", distance=BESIDE)
        share = self.shares(triangle, flat[which])
        # Of several triangles around an edge or a corner, the one that holds the place best.
        order = np.argsort(share.min(axis=1), kind="stable")
        which, triangle, share = which[order], triangle[order], np.clip(share[order], 0, None)
        share /= share.sum(axis=1, keepdims=True)
        found[which] = (share * self.points[self.triangles[triangle], 2]).sum(axis=1)
        return found.reshape(place.shape[:-1])

    def shares(self, triangle: NDArray[np.int64], place: NDArray[np.float64]) -> NDArray[np.float64]:
        """Weight of each corner of a triangle at a place, negative beyond the opposite side.

        Parameters
        ----------
        triangle : ndarray of int, shape (k,)
            Which triangle.
        place : ndarray, shape (k, 2)
            East and north. [m]

        Returns
        -------
        ndarray, shape (k, 3)
            Weights that sum to one. [-]
        """
        a, b, c = (self.points[self.triangles[triangle, corner], :2] for corner in range(3))
        area = _cross(b - a, c - a)
        return (
            np.stack(
                [_cross(b - place, c - place), _cross(c - place, a - place), _cross(a - place, b - place)], -1
            )
            / (area[:, None])
        )

    def nearest_points(self, place: tuple[float, float], count: int = 3) -> list[tuple[str, float]]:
        """Named points nearest to a place.

        Parameters
        ----------
        place : tuple of float
            East and north. [m]
        count : int
            How many. [-]

        Returns
        -------
        list of tuple
            Name and distance [m], nearest first.
        """
        distance = np.hypot(*(self.points[:, :2] - place).T)
        named = [(self.point_names[index], float(distance[index])) for index in np.argsort(distance).tolist()]
        return [pair for pair in named if pair[0]][:count]


def _cross(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    return one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
