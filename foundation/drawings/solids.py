"""Walls and footings as faces in space, put in the order in which they are painted, and what they hide."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]

ELEVATION = math.asin(math.tan(math.radians(30)))
"""How steeply the drawing looks down: at a quarter turn of 45° both plan axes then rise at 30°. [rad]"""
NEAR = 0.03
"""What lies this close to a face is on it, not behind it. [m]"""


@dataclass(frozen=True)
class Projection:
    """A parallel projection in which heights are true.

    Attributes
    ----------
    turn : float
        How far the lot is turned anticlockwise under the reader, who then looks north. [°]
    """

    turn: float

    @property
    def away(self) -> Array:
        """East and north of the direction in which the reader looks, shape (2,). [-]"""
        angle = math.radians(self.turn)
        return np.array([math.sin(angle), math.cos(angle)])

    @property
    def right(self) -> Array:
        """East and north of the direction to the reader's right, shape (2,). [-]"""
        away = self.away
        return np.array([away[1], -away[0]])

    def flat(self, points: Array) -> tuple[Array, Array]:
        """Points on the drawing, and how far away they are.

        Parameters
        ----------
        points : ndarray, shape (n, 3)
            East, north, level. [m]

        Returns
        -------
        tuple of ndarray
            Right and up on the drawing, shape (n, 2), and depth, shape (n,). [m]
        """
        points = np.asarray(points, float).reshape(-1, 3)
        right, behind = points[:, :2] @ self.right, points[:, :2] @ self.away
        # Drawn larger by 1/cos so that heights are true, as an isometric drawing is.
        grow = 1 / math.cos(ELEVATION)
        up = grow * math.sin(ELEVATION) * behind + points[:, 2]
        depth = math.cos(ELEVATION) * behind - math.sin(ELEVATION) * points[:, 2]
        return np.column_stack([grow * right, up]), depth

    def faces(self, normal: Array) -> bool:
        """Whether an upright face turns toward the reader.

        Parameters
        ----------
        normal : ndarray, shape (2,)
            East and north of its outward direction. [-]

        Returns
        -------
        bool
            True when it does.
        """
        return float(np.asarray(normal) @ self.away) < -1e-9


@dataclass(frozen=True, eq=False)
class Face:
    """A flat face.

    Attributes
    ----------
    layer : str
        Layer that it is drawn on.
    points : ndarray, shape (n, 3)
        Its outline: east, north, level. [m]
    name : str
        What it is.
    """

    layer: str
    points: Array
    name: str


def far_first(places: Sequence[tuple[Array, Array]], projection: Projection) -> list[int]:
    """Order in which upright walls are painted, so that the nearer covers the farther.

    Parameters
    ----------
    places : sequence of tuple of ndarray
        East and north of both ends of each wall, shape (2,). [m]
    projection : Projection
        How the reader looks.

    Returns
    -------
    list of int
        Their places in the sequence, the farthest first.
    """
    ends = np.array(
        [[np.array(place) @ projection.right, np.array(place) @ projection.away] for place in places]
    )
    # Of each wall: the two ends' place across, and depth.
    count = len(places)
    behind: list[set[int]] = [set() for _ in range(count)]
    for i in range(count):
        for j in range(i):
            low = max(ends[i, 0].min(), ends[j, 0].min())
            high = min(ends[i, 0].max(), ends[j, 0].max())
            if high - low < 1e-6:
                continue
            middle = (low + high) / 2
            depth = [float(np.interp(middle, *ends[k][:, np.argsort(ends[k, 0])])) for k in (i, j)]
            first, second = (i, j) if depth[0] > depth[1] else (j, i)
            behind[second].add(first)  # the first must be painted before the second
    order: list[int] = []
    left = set(range(count))
    while left:
        ready = [k for k in left if not behind[k] & left] or list(left)
        farthest = max(ready, key=lambda k: (float(ends[k, 1].mean()), -k))
        order.append(farthest)
        left.remove(farthest)
    return order


class Hiding:
    """Says which parts of a line lie behind faces.

    Parameters
    ----------
    faces : sequence of Face
        The faces.
    projection : Projection
        How the reader looks.
    """

    def __init__(self, faces: Sequence[Face], projection: Projection) -> None:
        self.projection = projection
        self.shapes = []
        for face in faces:
            flat, depth = projection.flat(face.points)
            polygon = shapely.Polygon(flat)
            if polygon.area < 1e-6:
                continue
            # A face is flat: its depth is a linear function of the place on the drawing.
            plane, *_ = np.linalg.lstsq(np.column_stack([flat, np.ones(len(flat))]), depth, rcond=None)
            shapely.prepare(polygon)
            self.shapes.append((polygon, plane, flat.min(axis=0), flat.max(axis=0)))

    def parts(
        self, points: Array, spacing: float = 0.25, always: bool = False
    ) -> tuple[list[Array], list[Array]]:
        """Cut a line into what is seen and what is hidden.

        Parameters
        ----------
        points : ndarray, shape (n, 3)
            East, north, level of its nodes. [m]
        spacing : float
            How close together it is tried. [m]
        always : bool
            True when a face hides it even from behind, as ground that the reader looks through.

        Returns
        -------
        tuple of list of ndarray
            Pieces on the drawing, seen and hidden, each of shape (n, 2). [m]
        """
        points = np.asarray(points, float).reshape(-1, 3)
        if len(points) < 2:
            return [], []
        lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
        counts = np.clip(np.ceil(lengths / spacing), 1, 400).astype(int)
        share = np.concatenate([np.arange(n) / n for n in counts] + [[1.0]])
        which = np.concatenate([np.full(n, i) for i, n in enumerate(counts)] + [[len(counts) - 1]])
        dense = points[which] + share[:, None] * (points[which + 1] - points[which])
        corner = np.concatenate([np.arange(n) == 0 for n in counts] + [[True]])
        flat, _ = self.projection.flat(dense)
        middle, depth = self.projection.flat((dense[:-1] + dense[1:]) / 2)
        hidden = self._hidden(middle, depth, always)
        pieces: tuple[list[Array], list[Array]] = ([], [])
        cuts = np.flatnonzero(np.diff(hidden.astype(int))) + 1
        for first, last in zip([0, *cuts], [*cuts, len(hidden)], strict=True):
            keep = corner[first : last + 1].copy()
            keep[[0, -1]] = True
            pieces[int(hidden[first])].append(flat[first : last + 1][keep])
        return pieces

    def _hidden(self, flat: Array, depth: Array, always: bool) -> NDArray[np.bool_]:
        hidden = np.zeros(len(flat), bool)
        for polygon, plane, low, high in self.shapes:
            near = ~hidden & ((flat > low) & (flat < high)).all(axis=1)
            if not always:
                near &= flat @ plane[:2] + plane[2] < depth - NEAR
            if near.any():
                hidden[near] = shapely.contains_xy(polygon, flat[near])
        return hidden
