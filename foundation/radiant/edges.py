"""The edge of the free floor, where leaders run and come in.

The edge is shrunk inward once for each leader; what is shrunk more lies inside what is shrunk less, by a spacing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LinearRing, LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from foundation.radiant.shapes import grown

Array = NDArray[np.float64]

LEADER_SPACING = 2.5 * 0.0254
"""Between leaders, to their axes; a manifold's outlets lie 2 in apart or a little more [practice]. [m]"""


THROUGH = 2e-3
"""Leaders that come in this near to a door come through it. [m]"""


class NoRoomError(ValueError):
    """Leaders cannot be laid."""


class Edges:
    """The edge of the free floor, and the same shrunk inward again and again, round whatever stands in the way."""

    def __init__(self, floor: Polygon, step: float = LEADER_SPACING) -> None:
        self.floor, self.step = floor, step
        self.holes = unary_union([Polygon(hole) for hole in floor.interiors])
        self._kept = [orient(floor).exterior]
        self.outer = self._kept[0]

    def ring(self, depth: int) -> LinearRing:
        """Edge shrunk inward by some steps, anticlockwise.

        Parameters
        ----------
        depth : int
            How many. [-]

        Returns
        -------
        LinearRing
            The edge of its largest part; a step from the one before, and clear of holes.
        """
        while len(self._kept) <= depth:
            shrunk = grown(Polygon(self._kept[-1]).simplify(1e-5), -self.step).difference(self.holes)
            parts = [part for part in getattr(shrunk, "geoms", [shrunk]) if not part.is_empty]
            if not parts:
                raise NoRoomError("the leaders leave no room for rows")
            self._kept.append(orient(max(parts, key=lambda part: part.area)).exterior)
        return self._kept[depth]

    def deepest(self, depth: int) -> LinearRing:
        """The most shrunk edge there is, down to a depth.

        Parameters
        ----------
        depth : int
            The depth. [-]

        Returns
        -------
        LinearRing
            The edge.
        """
        while True:
            try:
                return self.ring(depth)
            except NoRoomError:
                depth -= 1

    def position(self, point: Array) -> float:
        """Where along the edge a point is nearest.

        Parameters
        ----------
        point : ndarray, shape (2,)
            East and north. [m]

        Returns
        -------
        float
            Anticlockwise along the edge. [m]
        """
        return float(self.outer.project(Point(point)))


@dataclass(frozen=True, eq=False)
class Entry:
    """Where leaders come onto a floor: a place at its edge, or the manifold amid it.

    Attributes
    ----------
    at : ndarray, shape (2,)
        On the edge of the free floor. [m]
    along, inward : ndarray, shape (2,)
        Along the edge, anticlockwise, and into the floor. [-]
    manifold : ndarray, shape (2,) or None
        Where it stands amid the floor, None where it stands at the outline or beyond. [m]
    beyond : float
        From the edge out to the outline, or to the manifold beyond it. [m]
    moved : float
        Along the wall from where the manifold was put, for want of room. [m]
    """

    at: Array
    along: Array
    inward: Array
    manifold: Array | None
    beyond: float
    moved: float

    def outlet(self, offset: float) -> Array:
        """Where the leader at an offset begins.

        Parameters
        ----------
        offset : float
            Along the edge from its middle. [m]

        Returns
        -------
        ndarray, shape (2,)
            East and north. [m]
        """
        if self.manifold is not None:
            return self.manifold + self.along * offset
        return self.at + self.along * offset - self.inward * self.beyond


def entry(
    edges: Edges,
    outline: Polygon,
    manifold: Array,
    near: float,
    room: tuple[float, float],
    margin: float,
    door: BaseGeometry | None = None,
) -> Entry:
    """Where the leaders of a manifold come onto a floor.

    Parameters
    ----------
    edges : Edges
        The free floor's.
    outline : Polygon
        Of the floor.
    manifold : ndarray, shape (2,)
        East and north. [m]
    near : float
        A manifold within this of the outline stands at it; nor is the free floor farther from walls. [m]
    room : tuple of float
        Room for outlets after and before it, along the edge. [m]
    margin : float
        Room for bends beyond it. [m]
    door : shapely geometry, optional
        Part of the outline that they have to come through.

    Returns
    -------
    Entry
        Moved along its wall where a corner is too near for the outlets.
    """
    # where the inmost leader has a straight edge, the others have one
    depth = int(max(room) / edges.step) if margin else 0
    corners = np.array(edges.deepest(depth).simplify(1e-6).coords)
    room = room[0] + margin, room[1] + margin
    reach = depth * edges.step + 1e-3
    border, where = outline.exterior, Point(manifold)
    inside = bool(outline.distance(where) < near)
    offers: list[tuple[float, float, Entry]] = []
    for start, end in zip(corners, corners[1:], strict=False):
        length = float(np.hypot(*(end - start)))
        along = (end - start) / length
        inward = np.array([-along[1], along[0]])
        wish = float((manifold - start) @ along)
        low, high = room[1], length - room[0]
        short = max(0.0, low - high)
        place = float(np.clip(wish, low, high)) if not short else length * room[1] / sum(room)
        met = LineString([start + along * place, start + along * place - inward * reach]).intersection(
            edges.outer
        )
        if met.is_empty:
            continue
        at = shapely.get_coordinates(met)[0]
        wall = LineString([at + inward * 1e-6, at - inward * near]).intersection(border)
        if wall.is_empty:
            continue
        if door is not None and door.distance(wall) > THROUGH:
            continue
        to_wall = float(np.hypot(*(shapely.get_coordinates(wall)[0] - at)))
        away = float((at - manifold) @ inward)
        if not inside and away > to_wall + border.distance(where) + 1e-6:
            continue
        beyond = to_wall if inside else max(to_wall, away)
        amid = inside and border.distance(where) > near
        gate = Entry(at, along, inward, manifold if amid else None, beyond, abs(place - wish))
        offers.append((round(short, 9), float(np.hypot(*(at - manifold))), gate))
    if not offers:
        raise NoRoomError("the manifold stands nowhere near the free floor")
    return min(offers, key=lambda offer: offer[:2])[2]


def first_met(point: Array, way: Array, ring: LinearRing, reach: float) -> Array | None:
    """Where a ray first meets a ring.

    Parameters
    ----------
    point, way : ndarray, shape (2,)
        Its beginning [m] and its direction, of length 1 [-].
    ring : LinearRing
        The ring.
    reach : float
        Its length. [m]

    Returns
    -------
    ndarray, shape (2,), or None
        East and north; None where it does not. [m]
    """
    begin = point - way * 1e-6
    met = LineString([begin, point + way * reach]).intersection(ring)
    if met.is_empty:
        return None
    corners = shapely.get_coordinates(met)
    return np.asarray(corners[np.argmin(np.hypot(*(corners - begin).T))], dtype=float)
