"""Zones of heated floor on the plan: the floor between the walls, shared out, with what stands in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from foundation import units
from foundation.model.loops import Barrier, FloorArea
from foundation.model.problem import Problem
from foundation.model.section import Situation
from foundation.model.zones import ZoneShape
from foundation.plan.lines import PlanError, outline
from foundation.plan.result import Plan
from foundation.plan.sections import PlacedSection
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_floor import Box, JointInput, ZoneInput

SLIVER = 0.05
"""Pieces of floor smaller than this are left out. [m²]"""
FIT = 0.01
"""Shapes that miss by less than a centimetre still fit. [m]"""
SHORTEST_SIDE = 0.1
"""Where an outline follows a wall for less it does not count as its side. [m]"""
CUT_MARGIN = 0.5 * 0.0254
"""A saw cut stays this far above the top of the tube, 1/2 in [practice]. [m]"""

Side = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, eq=False)
class PartFloor:
    """The floor of a part.

    Attributes
    ----------
    part : Part
        The part.
    floor : Polygon
        Between the inner faces of its walls at the floor. [m]
    sides : tuple of tuple
        Inner faces of the walls that stand outdoors: name of the line and its two ends, the coldest first. [m]
    placed : tuple of PlacedSection
        Sections along them.
    """

    part: Part
    floor: Polygon
    sides: tuple[tuple[str, Side], ...]
    placed: tuple[PlacedSection, ...]


def part_floor(plan: Plan, part: Part, placed: Sequence[PlacedSection]) -> PartFloor:
    """The floor of a part between the inner faces of its own walls.

    Along another part's wall the floor goes up to that wall's outer face, where the outline runs.

    Parameters
    ----------
    plan : Plan
        The plan.
    part : Part
        A part with an outline.
    placed : sequence of PlacedSection
        Sections along all lines.

    Returns
    -------
    PartFloor
        Its floor.
    """
    whole = outline(plan.project, part)
    assert whole is not None  # the caller has seen to it
    own = [each for each in placed if each.section.inside == part.name]
    exposed = tuple(each for each in own if each.section.situation is not Situation.BETWEEN)
    insets: dict[str, float] = {}
    cold: dict[str, float] = {}
    for each in sorted(own, key=lambda each: each.end - each.start):
        insets[each.section.line] = -each.section.inner_face  # the longest stretch has the last word
    for each in exposed:
        # The less ground lies against the floor's edge the colder is the wall.
        over = each.section.grade[0].level - each.section.floor
        cold[each.section.line] = cold.get(each.section.line, 0.0) + over * (each.end - each.start)
    walls = [line.wall for line in plan.lines if line.wall.part == part.name]
    turns = shapely.MultiPoint(list(shapely.simplify(whole, FIT).exterior.coords))
    strips, sides = [], []
    for wall in walls:
        inset = insets.get(wall.name, wall.wall_thickness)
        ends = np.array([wall.start_at, wall.end_at])
        inward = -inset * np.array(wall.outward)
        # Produced past the corners where the outline turns, the strip fills them; outside nothing is taken away.
        along = (ends[1] - ends[0]) / wall.length * wall.wall_thickness
        past = [float(turns.distance(Point(end)) < FIT) for end in ends]
        long = ends + np.array([-past[0] * along, past[1] * along])
        strips.append(Polygon([*long, *(long + inward)[::-1]]))
        if wall.name in cold:
            first, second = ends + inward
            side = ((float(first[0]), float(first[1])), (float(second[0]), float(second[1])))
            sides.append((cold[wall.name] / wall.length, wall.name, side))
    left = whole.difference(shapely.union_all(strips))
    pieces = [each for each in getattr(left, "geoms", [left]) if isinstance(each, Polygon)]
    floor = max(pieces, key=lambda each: each.area) if pieces else Polygon()
    ordered = sorted(sides, key=lambda side: side[0])
    return PartFloor(part, floor, tuple((name, side) for _, name, side in ordered), exposed)


def zone_shapes(
    project: Project, floors: Mapping[str, PartFloor], tube_top: Mapping[str, float]
) -> tuple[ZoneShape, ...]:
    """The zones, each with its pieces of floor, its holes, its cold walls and the joints in it.

    Parameters
    ----------
    project : Project
        The project.
    floors : mapping of str to PartFloor
        Floors of the parts that zones lie in.
    tube_top : mapping of str to float
        For each of them, depth of the tube's top below the top of slab. [m]

    Returns
    -------
    tuple of ZoneShape
        In the order of the project.

    Raises
    ------
    PlanError
        If zones overlap, lie outside their part, or have no floor; each problem is one sentence.
    """
    problems: list[Problem] = []
    shapes: dict[int, BaseGeometry] = {}
    for number, zone in enumerate(project.zones, 1):
        typed = _typed_shape(zone)
        if typed is None:
            continue
        place = f"zones[{number}].{'box' if zone.box is not None else 'corners'}"
        problem = _shape_problem(project, zone, typed, floors[zone.part], place)
        if problem is not None:
            problems.append(problem)
        else:
            shapes[number] = typed.intersection(floors[zone.part].floor)
    problems += _overlaps(project, shapes)
    for number, zone in enumerate(project.zones, 1):
        if _typed_shape(zone) is None:
            others = [shape for key, shape in shapes.items() if project.zones[key - 1].part == zone.part]
            shapes[number] = floors[zone.part].floor.difference(shapely.union_all(others))
            if shapes[number].area < SLIVER:
                problems.append(
                    Problem(
                        f"zones[{number}]",
                        zone.name,
                        f"Zone {zone.name} has no shape, and the other zones leave nothing of {zone.part}: give it a "
                        "rectangle, or leave it out.",
                    )
                )
    if problems:
        raise PlanError(tuple(problems))
    return tuple(
        _zone(project, number, zone, shapes[number], floors[zone.part], tube_top[zone.part])
        for number, zone in enumerate(project.zones, 1)
    )


def joint_depth(joint: JointInput, slab: float) -> float:
    """Depth of a saw cut: as typed, else a quarter of the slab [practice].

    Parameters
    ----------
    joint : JointInput
        The joint.
    slab : float
        Thickness of the slab. [m]

    Returns
    -------
    float
        Depth. [m]
    """
    return joint.depth if joint.depth is not None else slab / 4


def may_cross(joint: JointInput, slab: float, tube_top: float) -> bool:
    """Whether tube may cross a joint as it is: saw cuts that stay clear of it alone.

    Parameters
    ----------
    joint : JointInput
        The joint.
    slab : float
        Thickness of the slab. [m]
    tube_top : float
        Depth of the tube's top below the top of slab. [m]

    Returns
    -------
    bool
        True where it may.
    """
    return joint.kind == "saw cut" and joint_depth(joint, slab) + CUT_MARGIN < tube_top


def _box(shape: Box) -> Polygon:
    easts = sorted((shape.start_east, shape.end_east))
    norths = sorted((shape.start_north, shape.end_north))
    return box(easts[0], norths[0], easts[1], norths[1])


def _typed_shape(zone: ZoneInput) -> Polygon | None:
    if zone.box is not None:
        return _box(zone.box)
    if zone.corners:
        return Polygon([(corner.east, corner.north) for corner in zone.corners])
    return None


def _shape_problem(
    project: Project, zone: ZoneInput, typed: Polygon, floor: PartFloor, place: str
) -> Problem | None:
    def area(value: float) -> str:
        return units.write(value, "area", project.units)

    if zone.box is not None and typed.area < SLIVER:
        return Problem(
            place,
            area(typed.area),
            f"Zone {zone.name} measures {area(typed.area)}: its corners have to lie apart in east and in north.",
        )
    if not typed.is_valid:
        return Problem(
            place,
            zone.name,
            f"The outline of zone {zone.name} crosses itself: name its corners in order, one way round.",
        )
    whole = outline(project, floor.part)
    assert whole is not None
    outside = typed.difference(whole.buffer(FIT, join_style="mitre")).area
    if outside > 0:
        return Problem(
            place,
            area(typed.area),
            f"{area(outside)} of zone {zone.name} lie outside {zone.part}: keep it within the part's walls.",
        )
    if typed.intersection(floor.floor).area < SLIVER:
        return Problem(
            place,
            area(typed.area),
            f"Zone {zone.name} lies in the walls of {zone.part} alone: no floor is left of it.",
        )
    return None


def _overlaps(project: Project, shapes: Mapping[int, BaseGeometry]) -> Iterator[Problem]:
    numbers = sorted(shapes)
    for count, number in enumerate(numbers):
        zone = project.zones[number - 1]
        for other_number in numbers[:count]:
            other = project.zones[other_number - 1]
            if other.part != zone.part:
                continue
            shared = shapes[number].intersection(shapes[other_number])
            if not shared.buffer(-FIT / 2).is_empty:
                told = units.write(shared.area, "area", project.units)
                yield Problem(
                    f"zones[{number}]",
                    zone.name,
                    f"Zones {other.name} and {zone.name} share {told} of {zone.part}: move one of them off the other.",
                )


def _zone(
    project: Project,
    number: int,
    zone: ZoneInput,
    shape: BaseGeometry,
    floor: PartFloor,
    tube_top: float,
) -> ZoneShape:
    standing = [_box(each.box) for each in project.obstacles if each.part == zone.part]
    barriers = [
        Barrier(joint.name, (joint.start.east, joint.start.north), (joint.end.east, joint.end.north))
        for joint in project.joints
        if joint.part == zone.part and not may_cross(joint, floor.part.slab_thickness, tube_top)
    ]
    # Snapped to a tenth of a millimetre, so that edges of neighbours are equal and no spikes stay.
    shape = shapely.set_precision(shape, 1e-4)
    pieces = [
        piece
        for piece in getattr(shape, "geoms", [shape])
        if isinstance(piece, Polygon) and piece.area > SLIVER
    ]
    areas = tuple(_area(zone.name, piece, standing, floor, barriers) for piece in pieces)
    taken = shapely.union_all(standing).intersection(shapely.union_all(pieces)).area
    area = sum(piece.area for piece in pieces)
    return ZoneShape(zone.name, zone.part, zone.use, number, area, area - taken, areas)


def _area(
    name: str, piece: Polygon, standing: Sequence[Polygon], floor: PartFloor, barriers: Sequence[Barrier]
) -> FloorArea:
    ring = _corners(Polygon(orient(piece).exterior))
    whole = Polygon(ring)
    holes = [Polygon(inner) for inner in piece.interiors]
    # A hole that overhangs the zone ends at its outline; two that touch are one.
    both = shapely.union_all([*holes, *(each.intersection(whole) for each in standing)])
    found = [
        _corners(Polygon(each.exterior))
        for each in getattr(both, "geoms", [both])
        if isinstance(each, Polygon) and each.area > 1e-6
    ]
    inside = [
        barrier
        for barrier in barriers
        if LineString([barrier.start, barrier.end]).intersection(whole.buffer(-FIT)).length > FIT
    ]
    return FloorArea(name, ring, tuple(found), _walls(ring, floor), tuple(inside))


def _corners(polygon: Polygon) -> NDArray[np.float64]:
    """Corners without those that lie on a straight side, the last one not repeated."""
    simple = orient(shapely.simplify(polygon, 1e-3))
    return np.asarray(simple.exterior.coords[:-1], dtype=float)


def _walls(ring: NDArray[np.float64], floor: PartFloor) -> tuple[Side, ...]:
    """Where an outline runs along walls outdoors, the coldest first."""
    found: list[Side] = []
    ends = np.roll(ring, -1, axis=0)
    for _, side in floor.sides:
        wall = np.array(side)
        for first, second in zip(ring, ends, strict=True):
            length = float(np.hypot(*(second - first)))
            along = (second - first) / length
            beside = np.array([-along[1], along[0]])
            if np.abs((wall - first) @ beside).max() > 2 * FIT:
                continue
            start, end = np.clip(np.sort((wall - first) @ along), 0.0, length)
            if end - start > SHORTEST_SIDE:
                places = first + np.outer([start, end], along)
                found.append(
                    ((float(places[0, 0]), float(places[0, 1])), (float(places[1, 0]), float(places[1, 1])))
                )
    return tuple(found)
