"""Tube laid into zones of floor: real paths from the manifold and back, never area over spacing.

Rows lie along the coldest wall in pairs, and a loop is the walk round joined pairs: it never crosses itself, goes round
posts and drains, and comes back to where it began, so that its two leaders lie side by side. Leaders follow the walls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from foundation.model.loops import FloorArea, LaidLoop, Laying, LayingRules, Pattern
from foundation.radiant.bends import bend
from foundation.radiant.clearance import too_near
from foundation.radiant.coverage import areas, unreached
from foundation.radiant.leaders import Passing
from foundation.radiant.parts import (
    CROSSINGS,
    ON_A_JOINT,
    Part,
    Zone,
    angle_of,
    check,
    crossings,
    join,
    parts_of,
    turn,
)
from foundation.radiant.piece import Filled, fill
from foundation.radiant.reasons import reasons
from foundation.radiant.rows import Piece, rows_apart

Array = NDArray[np.float64]


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
    >>> len(laid.loops), laid.unreached_area < 0.1
    (2, True)
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
        check(zone)
    zones = [replace(zone, area=_rounded(zone.area)) for zone in zones]
    parts = [part for index, zone in enumerate(zones) for part in parts_of(index, zone)]
    at = np.array(manifold, dtype=float)
    strands: list[_Strand] = []
    if parts:
        root = min(parts, key=lambda part: (part.outline.distance(Point(at)), part.free.distance(Point(at))))
        join(root, parts)
        strands = _sound(_lay_part(root, zones, at, 0.0), zones)
    return tuple(
        _laying(index, zone, [part for part in parts if part.zone == index], strands)
        for index, zone in enumerate(zones)
    )


def _rounded(area: FloorArea) -> FloorArea:
    """The same to a nanometre: numbers that are next to nothing upset the geometry."""
    holes = tuple(np.round(np.asarray(hole, dtype=float), 9) for hole in area.holes)
    return replace(area, outline=np.round(np.asarray(area.outline, dtype=float), 9), holes=holes)


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


def _floor(area: FloorArea) -> BaseGeometry:
    holes = shapely.union_all([Polygon(hole).buffer(0) for hole in area.holes])
    return Polygon(area.outline).difference(holes)


def _lay_part(part: Part, zones: Sequence[Zone], manifold: Array, spent: float) -> list[_Strand]:
    """Lay a part and all beyond it; loops from the part's entry and back."""
    zone = zones[part.zone]
    choices = [crossings(part, other, manifold) for other in part.beyond]
    best: tuple[float, list[_Strand], Filled] | None = None
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
                angle = angle_of(zones[other.zone].area)
                through.append(Passing(ends, -turn(gate.inward, angle)))
                far.append(strands)
        filled = _fill(part, zone, manifold, through, spent)
        strands = _own(part, filled) if filled.gate is not None else []
        strands += [
            strand
            for leaving, beyond in zip(filled.passing, far, strict=False)
            for strand in _through(leaving, beyond, zones)
        ]
        # most floor laid is best; where every loop is, no other crossing is tried
        rank = -sum(
            bend(strand.corners, zone.rules.bend_radius).length - strand.first - strand.last
            for strand in strands
        )
        if best is None or rank < best[0]:
            best = rank, strands, filled
        if filled.gate is not None and not filled.unfound:
            break
    assert best is not None
    part.filled = best[2]
    part.moved = best[2].gate.moved if best[2].gate is not None and not spent else 0.0
    return best[1]


def _fill(part: Part, zone: Zone, manifold: Array, through: list[Passing], spent: float) -> Filled:
    """Fill a part in a frame with the coldest wall below, and turn the loops back."""
    angle = angle_of(zone.area)
    rules = replace(zone.rules, longest=max(zone.rules.longest - 2 * spent, 4 * zone.rules.spacing))
    free, outline = (
        shapely.transform(shape, lambda xy: turn(xy, -angle)) for shape in (part.free, part.outline)
    )
    cold = free.bounds[1]
    if zone.area.walls:
        cold = float(turn(np.array(zone.area.walls[0][0]), -angle)[1]) + rules.from_edge
    door = None if part.door is None else shapely.transform(part.door, lambda xy: turn(xy, -angle))
    piece = Piece(free, outline, rules, zone.pattern or Pattern.SERPENTINE, cold, door)
    turned = [Passing(turn(one.exits, -angle), turn(one.inward, -angle)) for one in through]
    filled = fill(piece, turn(manifold, -angle), turned)
    return replace(
        filled,
        corners=[turn(corners, angle) for corners in filled.corners],
        loops=[replace(loop, path=turn(loop.path, angle)) for loop in filled.loops],
        passing=[[turn(line, angle) for line in lines] for lines in filled.passing],
    )


def _own(part: Part, filled: Filled) -> list[_Strand]:
    return [
        _Strand(part.zone, corners, first, last, [], filled.pitch)
        for corners, (first, last) in zip(filled.corners, filled.leaders, strict=True)
    ]


def _through(leaving: list[Array], beyond: list[_Strand], zones: Sequence[Zone]) -> list[_Strand]:
    """Loops of a part beyond, led on through this one."""
    led = []
    for index, strand in enumerate(beyond):
        start, stop = leaving[2 * index], leaving[2 * index + 1]
        radius = zones[strand.zone].rules.bend_radius
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
    return led


def _laying(index: int, zone: Zone, parts: list[Part], strands: list[_Strand]) -> Laying:
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
    pitch = min((part.filled.pitch for part in parts if part.filled is not None), default=0.0)
    told = reasons(zone, parts, loops, pitch, sum(laid.bulbs for _, laid in bent), left)
    return Laying(
        name, loops, tuple(np.array(piece.exterior.coords)[:-1] for piece in bare), left, told, pitch
    )
