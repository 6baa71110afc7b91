"""Zones cut into parts by joints, and how the parts hang together."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import atan2

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import linemerge

from foundation.model.loops import FloorArea, LayingRules, Pattern
from foundation.radiant.piece import Filled
from foundation.radiant.rows import tightest
from foundation.radiant.shapes import grown

Array = NDArray[np.float64]

ON_A_JOINT = 1e-3
"""Outlines and joints this near to each other touch. [m]"""
NARROWEST = 0.37
"""Half of the narrowest floor that two rows find room in, over the spacing. [-]"""
BESIDE_END = 0.6
"""Leaders cross a joint that far from its ends, where it is long enough. [m]"""
CROSSINGS = 3
"""Places along a joint that are tried for a crossing. [-]"""
BEND_CUTS = 2**0.5 - 1
"""Of a square corner, a bend cuts this share of its radius. [-]"""


@dataclass(frozen=True, eq=False)
class Zone:
    """A zone and how it is laid.

    Attributes
    ----------
    area : FloorArea
        The floor.
    rules : LayingRules
        What tube keeps to.
    pattern : Pattern or None
        How it fills the floor; None for rows to and fro, whose supply can go to the coldest wall first.
    """

    area: FloorArea
    rules: LayingRules
    pattern: Pattern | None = None


@dataclass(eq=False)
class Part:
    """A piece of a zone between joints.

    Attributes
    ----------
    zone : int
        Which zone, from 0. [-]
    free, outline : Polygon
        Where tube may lie, and up to walls and joints.
    beyond : list of Part
        Parts whose leaders pass through it.
    filled : Filled or None
        Its loops.
    moved : float
        Along the wall from the manifold to the outlets. [m]
    door : shapely geometry or None
        Where its leaders come through.
    """

    zone: int
    free: Polygon
    outline: Polygon
    beyond: list[Part] = field(default_factory=list)
    filled: Filled | None = None
    moved: float = 0.0
    door: BaseGeometry | None = None


def check(zone: Zone) -> None:
    """Refuse what no tube can be laid into or by.

    Parameters
    ----------
    zone : Zone
        The zone.

    Raises
    ------
    ValueError
        If its area is no shape, or its rules cannot be kept.
    """
    rules, name = zone.rules, zone.area.zone
    outline = np.asarray(zone.area.outline, dtype=float)
    if outline.ndim != 2 or len(outline) < 3 or not np.isfinite(outline).all():
        raise ValueError(
            f"the outline of {name} has {len(outline)} corners; it needs three or more, all of them numbers"
        )
    shape = Polygon(outline)
    if not shape.is_valid or shape.area <= 0:
        raise ValueError(
            f"the outline of {name} crosses itself or encloses nothing; give its corners in order"
        )
    for value, what in (
        (rules.spacing, "spacing"),
        (rules.bend_radius, "bend radius"),
        (rules.longest, "longest loop"),
    ):
        if not 0 < value < np.inf:
            raise ValueError(f"the {what} of {name} is {value:g} m; it has to be more than 0")
    for value, what in ((rules.from_edge, "walls"), (rules.from_barrier, "joints")):
        if not 0 <= value < np.inf:
            raise ValueError(f"the tube of {name} keeps {value:g} m off {what}; 0 or more would do")
    if rules.spacing < tightest(rules.bend_radius):
        raise ValueError(
            f"the spacing of {name} is {rules.spacing:g} m; with a bend radius of {rules.bend_radius:g} m rows can turn"
            f" back from {tightest(rules.bend_radius):.3f} m on"
        )


def parts_of(index: int, zone: Zone) -> list[Part]:
    """What of a zone tube can fill, joint by joint.

    Parameters
    ----------
    index : int
        Which zone, from 0. [-]
    zone : Zone
        The zone.

    Returns
    -------
    list of Part
        Its parts.
    """
    area, rules = zone.area, zone.rules
    outline = Polygon(area.outline)
    joints = [LineString([barrier.start, barrier.end]) for barrier in area.barriers]
    angle = angle_of(area)
    taken = [
        grown(shape, _off_corners(shape, rules, angle))
        for shape in (Polygon(hole).buffer(0) for hole in area.holes)
    ]
    taken += [joint.buffer(max(rules.from_barrier, ON_A_JOINT), cap_style="flat") for joint in joints]
    off = _off_corners(outline, rules, angle)
    if off > rules.from_edge:
        corners = _inner_corners(outline)
        taken += [grown(corner.buffer(3 * off).difference(outline), off) for corner in corners]
    free = grown(outline, -rules.from_edge).difference(shapely.union_all(taken))
    whole = outline.difference(shapely.union_all([joint.buffer(ON_A_JOINT / 10) for joint in joints]))
    found = []
    for piece in getattr(free, "geoms", [free]):
        if isinstance(piece, Polygon) and not piece.buffer(-NARROWEST * rules.spacing).is_empty:
            around = [
                part
                for part in getattr(whole, "geoms", [whole])
                if part.contains(piece.representative_point())
            ]
            found.append(Part(index, piece, around[0]))
    return found


def _off_corners(shape: Polygon, rules: LayingRules, angle: float) -> float:
    """How far corners of the walk keep off a shape, so that the bend that cuts them keeps off it too. [m]"""
    ways = np.diff(turn(np.array(shape.exterior.coords), -angle), axis=0)
    cut = BEND_CUTS * rules.bend_radius
    if (np.abs(ways).min(axis=1) < 1e-6).all():
        return float(max(rules.from_edge, (rules.from_edge + cut) / 2**0.5))
    return rules.from_edge + cut


def _inner_corners(outline: Polygon) -> list[Point]:
    """Corners of an outline that stick into the floor."""
    corners = np.array(orient(outline).exterior.coords)[:-1]
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    inner = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0] < 0
    return [Point(corner) for corner in corners[inner]]


def join(root: Part, parts: list[Part]) -> None:
    """Hang each part to one nearer to the manifold; those that touch none hang nowhere.

    Parameters
    ----------
    root : Part
        The one at the manifold.
    parts : list of Part
        All of them.
    """
    reached, left = [root], [part for part in parts if part is not root]
    for nearer in reached:
        for part in list(left):
            if crossings(nearer, part, np.zeros(2)):
                nearer.beyond.append(part)
                part.door = _shared(nearer, part)
                reached.append(part)
                left.remove(part)


def _shared(one: Part, two: Part) -> BaseGeometry:
    """Where two parts lie side by side."""
    if one.outline is two.outline:
        return LineString()
    return two.outline.exterior.intersection(one.outline.buffer(ON_A_JOINT))


def crossings(part: Part, other: Part, manifold: Array) -> list[tuple[Array, float]]:
    """Places where leaders may cross to another part.

    Parameters
    ----------
    part, other : Part
        From one to the other.
    manifold : ndarray, shape (2,)
        Where they come from. [m]

    Returns
    -------
    list of tuple
        East and north of each, and its way from the manifold along the edge, nearest first. [m]
    """
    shared = _shared(part, other)
    merged = linemerge(shared) if hasattr(shared, "geoms") else shared
    lines = [line for line in getattr(merged, "geoms", [merged]) if line.length > 10 * ON_A_JOINT]
    edge = part.free.exterior
    here = edge.project(Point(manifold))
    offers = []
    for line in lines:
        inset = min(BESIDE_END, line.length / 2)
        for along in np.linspace(inset, line.length - inset, max(1, int(line.length / BESIDE_END))):
            spot = line.interpolate(along)
            ahead = (edge.project(spot) - here) % edge.length
            offers.append((min(ahead, edge.length - ahead), (spot.x, spot.y)))
    if not offers:
        return []
    offers.sort()
    chosen = [offers[len(offers) * step // CROSSINGS] for step in range(CROSSINGS)]
    return [(np.array(spot), away) for away, spot in chosen]


def angle_of(area: FloorArea) -> float:
    """How the rows lie: along the coldest wall, or along the longest side where no wall is outside.

    Parameters
    ----------
    area : FloorArea
        The floor.

    Returns
    -------
    float
        From east to the wall, the floor at its left. [rad]
    """
    if area.walls:
        start, end = (np.array(point, dtype=float) for point in area.walls[0])
    else:
        corners = np.vstack([area.outline, area.outline[:1]])
        longest = int(np.argmax(np.hypot(*np.diff(corners, axis=0).T)))
        start, end = corners[longest], corners[longest + 1]
    angle = atan2(end[1] - start[1], end[0] - start[0])
    inside = turn(np.array(Polygon(area.outline).representative_point().coords[0]) - start, -angle)
    return angle if inside[1] >= 0 else angle + np.pi


def turn(points: Array, angle: float) -> Array:
    """Points turned about the origin.

    Parameters
    ----------
    points : ndarray, shape (n, 2)
        East and north. [m]
    angle : float
        Anticlockwise. [rad]

    Returns
    -------
    ndarray, shape (n, 2)
        East and north. [m]
    """
    if angle == 0:
        return np.asarray(points, dtype=float)
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.asarray(points @ np.array([[cosine, sine], [-sine, cosine]]), dtype=float)
