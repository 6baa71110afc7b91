"""Tube laid into zones of floor: real paths from the manifold and back, never area over spacing.

Rows lie along the coldest wall in pairs, and a loop is the walk round joined pairs: it never crosses itself, goes round
posts and drains, and comes back to where it began, so that its two leaders lie side by side. Leaders follow the walls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import atan2

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge as line_merge

from foundation.model.loops import FloorArea, LaidLoop, Laying, LayingRules, Pattern
from foundation.radiant.bends import bend
from foundation.radiant.clearance import too_near
from foundation.radiant.coverage import areas, unreached
from foundation.radiant.leaders import Passing
from foundation.radiant.piece import Filled, Piece, fill, rows_apart, tightest

Array = NDArray[np.float64]

ON_A_JOINT = 1e-3
"""Outlines and joints this near to each other touch. [m]"""
BESIDE_END = 0.6
"""Leaders cross a joint that far from its ends, where it is long enough. [m]"""
CROSSINGS = 3
"""Places along a joint that are tried for a crossing. [-]"""
MOVED = 0.3
"""Outlets that lie this far from the manifold's place are told. [m]"""


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
class _Part:
    """A piece of a zone between joints."""

    zone: int
    free: Polygon
    outline: Polygon
    beyond: list[_Part] = field(default_factory=list)
    filled: Filled | None = None
    moved: float = 0.0
    door: BaseGeometry | None = None


@dataclass(eq=False)
class _Strand:
    """A loop on its way to the manifold."""

    zone: int
    corners: Array
    first: float
    last: float
    sleeves: list[tuple[float, float]]
    pitch: float


def lay(
    area: FloorArea, rules: LayingRules, manifold: tuple[float, float], pattern: Pattern | None = None
) -> Laying:
    """Lay tube into one zone.

    Parameters
    ----------
    area : FloorArea
        The floor.
    rules : LayingRules
        What tube keeps to.
    manifold : tuple of float
        East and north of it; leaders begin side by side at the wall there. [m]
    pattern : Pattern, optional
        How it fills the floor; None for rows to and fro, whose supply can go to the coldest wall first.

    Returns
    -------
    Laying
        Its loops. Rows keep 0.45 spacings between their axes, leaders and bulbs that face each other 2 in; rows keep
        the rules' clearances off outline, holes and joints, and so do leaders but for where they come in.

    Raises
    ------
    ValueError
        If the area is no shape, or the rules cannot be kept.

    Examples
    --------
    >>> floor = FloorArea("garage", np.array([[0.0, 0], [6, 0], [6, 5], [0, 5]]), (), (((0, 0), (6, 0)),))
    >>> laid = lay(floor, LayingRules(0.3, 0.127, 0.15, 0.15, 91.0, 0.1), (0.0, 2.5))
    >>> len(laid.loops), laid.unreached_area
    (2, 0.0)
    """
    return lay_zones([Zone(area, rules, pattern)], manifold)[0]


def lay_zones(zones: Sequence[Zone], manifold: tuple[float, float]) -> tuple[Laying, ...]:
    """Lay tube into zones that lie side by side and share a manifold; leaders of the farther pass through the nearer.

    Parameters
    ----------
    zones : sequence of Zone
        The zones of one slab.
    manifold : tuple of float
        East and north of it. [m]

    Returns
    -------
    tuple of Laying
        Of each zone.

    Raises
    ------
    ValueError
        If an area is no shape, or the rules cannot be kept.
    """
    for zone in zones:
        _check(zone)
    parts = [part for index, zone in enumerate(zones) for part in _parts(index, zone)]
    at = np.array(manifold, dtype=float)
    strands: list[_Strand] = []
    apart = list(parts)
    if parts:
        root = min(parts, key=lambda part: (part.outline.distance(Point(at)), part.free.distance(Point(at))))
        apart = _joined(root, parts, zones)
        strands = _sound(_lay_part(root, zones, at, 0.0), zones)
    return tuple(
        _laying(index, zone, [part for part in parts if part.zone == index], strands, apart)
        for index, zone in enumerate(zones)
    )


def _sound(strands: list[_Strand], zones: Sequence[Zone]) -> list[_Strand]:
    """Loops of all parts together, without those that come too near to others."""
    keep = list(strands)
    while keep:
        bent = [bend(strand.corners, zones[strand.zone].rules.bend_radius).path for strand in keep]
        leaders = [(strand.first, strand.last) for strand in keep]
        rows = min(rows_apart(zones[strand.zone].rules, strand.pitch) for strand in keep)
        bad = too_near(bent, leaders, rows) | {
            index for index, path in enumerate(bent) if not LineString(path).is_simple
        }
        if not bad:
            break
        keep.pop(max(bad, key=lambda index: leaders[index]))
    return keep


def _check(zone: Zone) -> None:
    """Refuse what no tube can be laid into or by."""
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


def _floor(area: FloorArea) -> BaseGeometry:
    holes = shapely.union_all([Polygon(hole).buffer(0) for hole in area.holes])
    return Polygon(area.outline).difference(holes)


def _parts(index: int, zone: Zone) -> list[_Part]:
    """What of a zone tube can fill, joint by joint."""
    area, rules = zone.area, zone.rules
    outline = Polygon(area.outline)
    joints = [LineString([barrier.start, barrier.end]) for barrier in area.barriers]
    grown = [Polygon(hole).buffer(0).buffer(rules.from_edge, join_style="mitre") for hole in area.holes]
    grown += [joint.buffer(max(rules.from_barrier, ON_A_JOINT), cap_style="flat") for joint in joints]
    free = outline.buffer(-rules.from_edge, join_style="mitre").difference(shapely.union_all(grown))
    whole = outline.difference(shapely.union_all([joint.buffer(ON_A_JOINT / 10) for joint in joints]))
    found = []
    for piece in getattr(free, "geoms", [free]):
        if isinstance(piece, Polygon) and not piece.buffer(-rules.spacing / 2).is_empty:
            around = [
                part
                for part in getattr(whole, "geoms", [whole])
                if part.contains(piece.representative_point())
            ]
            found.append(_Part(index, piece, around[0]))
    return found


def _joined(root: _Part, parts: list[_Part], zones: Sequence[Zone]) -> list[_Part]:
    """Hang each part to one nearer to the manifold; those that touch none are left."""
    reached, left = [root], [part for part in parts if part is not root]
    for nearer in reached:
        for part in list(left):
            if _crossings(nearer, part, np.zeros(2)):
                nearer.beyond.append(part)
                part.door = _shared(nearer, part)
                reached.append(part)
                left.remove(part)
    return left


def _shared(one: _Part, two: _Part) -> BaseGeometry:
    """Where two parts lie side by side."""
    if one.outline is two.outline:
        return LineString()
    return two.outline.exterior.intersection(one.outline.buffer(ON_A_JOINT))


def _lay_part(part: _Part, zones: Sequence[Zone], manifold: Array, spent: float) -> list[_Strand]:
    """Lay a part and all beyond it; loops from the part's entry and back."""
    zone = zones[part.zone]
    choices = [_crossings(part, other, manifold) for other in part.beyond]
    best: tuple[tuple[int, int], list[_Strand], Filled] | None = None
    for choice in range(CROSSINGS + 1 if choices else 1):
        through: list[Passing] = []
        far: list[list[_Strand]] = []
        # the last try leaves out what lies beyond
        for other, places in zip(part.beyond, choices, strict=True) if choice < CROSSINGS else ():
            place, away = places[min(choice, len(places) - 1)]
            strands = _lay_part(other, zones, place, spent + away)
            gate = other.filled.gate if other.filled else None
            if strands and gate is not None:
                ends = np.array([strand.corners[end] for strand in strands for end in (0, -1)])
                angle = _angle(zones[other.zone].area)
                through.append(Passing(ends, -_turn(gate.inward, angle)))
                far.append(strands)
        filled = _fill(part, zone, manifold, through, spent)
        strands = _own(part, filled) if filled.gate is not None else []
        strands += [
            strand
            for leaving, beyond in zip(filled.passing, far, strict=False)
            for strand in _through(leaving, beyond, zones)
        ]
        rank = (filled.unfound + (filled.gate is None), -len(strands))
        if best is None or rank < best[0]:
            best = rank, strands, filled
        if rank[0] == 0:
            break
    assert best is not None
    part.filled = best[2]
    part.moved = best[2].gate.moved if best[2].gate is not None and not spent else 0.0
    return best[1]


def _crossings(part: _Part, other: _Part, manifold: Array) -> list[tuple[Array, float]]:
    """Places where leaders may cross to another part, with their way from the manifold along the edge."""
    shared = _shared(part, other)
    merged = line_merge(shared) if hasattr(shared, "geoms") else shared
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


def _fill(part: _Part, zone: Zone, manifold: Array, through: list[Passing], spent: float) -> Filled:
    """Fill a part in a frame with the coldest wall below, and turn the loops back."""
    angle = _angle(zone.area)
    rules = replace(zone.rules, longest=max(zone.rules.longest - 2 * spent, 4 * zone.rules.spacing))
    free, outline = (
        shapely.transform(shape, lambda xy: _turn(xy, -angle)) for shape in (part.free, part.outline)
    )
    cold = free.bounds[1]
    if zone.area.walls:
        cold = float(_turn(np.array(zone.area.walls[0][0]), -angle)[1]) + rules.from_edge
    door = None if part.door is None else shapely.transform(part.door, lambda xy: _turn(xy, -angle))
    piece = Piece(free, outline, rules, zone.pattern or Pattern.SERPENTINE, cold, door)
    turned = [Passing(_turn(one.exits, -angle), _turn(one.inward, -angle)) for one in through]
    filled = fill(piece, _turn(manifold, -angle), turned)
    return replace(
        filled,
        corners=[_turn(corners, angle) for corners in filled.corners],
        loops=[replace(loop, path=_turn(loop.path, angle)) for loop in filled.loops],
        passing=[[_turn(line, angle) for line in lines] for lines in filled.passing],
    )


def _own(part: _Part, filled: Filled) -> list[_Strand]:
    return [
        _Strand(part.zone, corners, first, last, [], filled.pitch)
        for corners, (first, last) in zip(filled.corners, filled.leaders, strict=True)
    ]


def _through(leaving: list[Array], beyond: list[_Strand], zones: Sequence[Zone]) -> list[_Strand]:
    """Loops of a part beyond, led on through this one."""
    led = []
    for index, strand in enumerate(beyond):
        start, stop = leaving[2 * index], leaving[2 * index + 1]
        area, radius = zones[strand.zone].area, zones[strand.zone].rules.bend_radius
        crossed = []
        for point in (strand.corners[0], strand.corners[-1]):
            joints = [
                LineString([barrier.start, barrier.end]) for zone in zones for barrier in zone.area.barriers
            ]
            if any(joint.distance(Point(point)) < 2 * ON_A_JOINT for joint in joints):
                crossed.append((float(point[0]), float(point[1])))
        led.append(
            _Strand(
                strand.zone,
                np.vstack([start, strand.corners[1:-1], stop[::-1]]),
                strand.first + bend(start, radius).length,
                strand.last + bend(stop, radius).length,
                strand.sleeves + crossed,
                strand.pitch,
            )
        )
        del area
    return led


def _angle(area: FloorArea) -> float:
    """How the rows lie: along the coldest wall, or along the longest side where no wall is outside."""
    if area.walls:
        start, end = (np.array(point, dtype=float) for point in area.walls[0])
    else:
        corners = np.vstack([area.outline, area.outline[:1]])
        longest = int(np.argmax(np.hypot(*np.diff(corners, axis=0).T)))
        start, end = corners[longest], corners[longest + 1]
    angle = atan2(end[1] - start[1], end[0] - start[0])
    inside = _turn(np.array(Polygon(area.outline).representative_point().coords[0]) - start, -angle)
    return angle if inside[1] >= 0 else angle + np.pi


def _turn(points: Array, angle: float) -> Array:
    """Points turned about the origin."""
    if angle == 0:
        return np.asarray(points, dtype=float)
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.asarray(points @ np.array([[cosine, sine], [-sine, cosine]]), dtype=float)


def _laying(index: int, zone: Zone, parts: list[_Part], strands: list[_Strand], apart: list[_Part]) -> Laying:
    """A zone's loops with what they reach."""
    rules, name = zone.rules, zone.area.zone
    own = [strand for strand in strands if strand.zone == index]
    wall = LineString(zone.area.walls[0]) if zone.area.walls else Polygon(zone.area.outline).exterior
    bent = [(strand, bend(strand.corners, rules.bend_radius)) for strand in own]
    bent.sort(key=lambda pair: shapely.distance(shapely.points(pair[1].path), wall).mean())
    floor = _floor(zone.area)
    paths = [laid.path for _, laid in bent]
    bare = unreached(
        floor, [bend(strand.corners, rules.bend_radius).path for strand in strands], rules.spacing
    )
    left = sum(piece.area for piece in bare)
    covered = areas(floor, paths, floor.area - left, rules.spacing / 4) if paths else []
    loops = tuple(
        LaidLoop(
            zone=name,
            name=f"{name} {number}",
            path=laid.path,
            length=laid.length,
            leaders=strand.first + strand.last,
            area=area,
            pattern=zone.pattern or Pattern.SERPENTINE,
            sleeves=tuple(strand.sleeves),
            supply_leader=strand.first,
            tight_bends=laid.tight,
        )
        for number, ((strand, laid), area) in enumerate(zip(bent, covered, strict=True), start=1)
    )
    filled = [part.filled for part in parts if part.filled is not None and part.filled.gate is not None]
    pitch = min((one.pitch for one in filled), default=0.0)
    reasons = _reasons(zone, parts, filled, loops, pitch, sum(laid.bulbs for _, laid in bent), left, apart)
    return Laying(
        name, loops, tuple(np.array(piece.exterior.coords)[:-1] for piece in bare), left, reasons, pitch
    )


def _reasons(
    zone: Zone,
    parts: list[_Part],
    filled: list[Filled],
    loops: tuple[LaidLoop, ...],
    pitch: float,
    bulbs: int,
    bare: float,
    apart: list[_Part],
) -> tuple[str, ...]:
    rules = zone.rules
    lengths = [loop.length for loop in loops]
    told = [
        (
            0 < pitch < rules.spacing * 0.999,
            "Rows lie nearer than asked, so that an even number of them fills the floor.",
        ),
        (
            bulbs > 0,
            "Turns of neighbouring rows are widened to bulbs: the rows lie nearer than two bend radii.",
        ),
        (
            bulbs > 0 and pitch < rules.bend_radius + 0.0254,
            "Every other turn is drawn back, so that bulbs side by side keep clear of each other.",
        ),
        (
            sum(loop.tight_bends for loop in loops) > 0,
            f"{sum(loop.tight_bends for loop in loops)} bends have no room for the tube's radius, most of them of leaders.",
        ),
        (
            bool(lengths) and max(lengths) - min(lengths) > rules.equal_within * float(np.mean(lengths)),
            "Loops are as equal as whole turns, the floor's shape and the leaders allow.",
        ),
        (
            bool(lengths) and max(lengths) > rules.longest,
            "A loop is longer than the longest allowed: the manifold is too far from that floor.",
        ),
        (
            any(one.unfound for one in filled),
            "Some floor has no clear way for leaders to the manifold and is left without tube.",
        ),
        (
            any(one.beside for one in filled),
            "A corner is laid in rows: counter-flow cannot wind into it.",
        ),
        (
            any(part.moved > MOVED for part in parts),
            "Leaders begin beside the manifold's place: a corner is too near.",
        ),
        (any(loop.sleeves for loop in loops), "Leaders cross joints in sleeves."),
        (
            any(part in apart for part in parts) or (bool(parts) and len(filled) < len(parts)),
            "Some floor lies apart from the rest and cannot be reached by leaders.",
        ),
        (not parts, "The floor is too narrow for tube that keeps off its edges."),
        (bare > 0, "Some floor is farther from tube than the spacing."),
    ]
    return tuple(text for holds, text in told if holds)
