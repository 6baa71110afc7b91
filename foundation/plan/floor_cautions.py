"""What the rules of the warm floors ask for, from the inputs and from the results, and the cautions they return."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from foundation.cautions import floor_work as work
from foundation.cautions import floors as traps
from foundation.cautions import worst_first
from foundation.model.caution import Caution
from foundation.model.floors import ManifoldWater, ZoneFloor
from foundation.model.walls import WallLine
from foundation.plan.floor_build import HOTTEST_SUPPLY, axis_depth, tube_of
from foundation.plan.floor_loops import longest_loop
from foundation.plan.floor_zones import CUT_MARGIN, PartFloor, joint_depth
from foundation.plan.footings import part_of
from foundation.plan.lines import slab_top
from foundation.plan.result import Plan
from foundation.plan.section_foam import line_foam, sizes_of
from foundation.project import Project
from foundation.project.schema import Part


def cautions_before_solving(plan: Plan) -> list[Caution]:
    """Cautions of the warm floors that the inputs alone tell.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    list of Caution
        As they were found; none where no floor is heated.
    """
    project, floors = plan.project, plan.project.floors
    heated = _heated(project)
    found = list(work.no_thermal_break(_touching(plan, heated)))
    if not heated:
        return found
    found += work.garage_with_living(_mixed(project), _joined(plan, heated))
    if not project.zones:
        return found
    return [
        *found,
        *work.retarder_open(floors.retarder, floors.held),
        *work.pressure_test(floors.freezing_weather, floors.pressure_test, floors.air_test_allowed),
        *work.oxygen_barrier(floors.oxygen_barrier),
    ]


def cautions_of_floors(
    project: Project,
    zones: Sequence[ZoneFloor],
    manifolds: Sequence[ManifoldWater],
    floors: Mapping[str, PartFloor],
    design_temperature: float | None,
) -> tuple[Caution, ...]:
    """Cautions that need the floors solved.

    Parameters
    ----------
    project : Project
        The project.
    zones : sequence of ZoneFloor
        The zones.
    manifolds : sequence of ManifoldWater
        Their water.
    floors : mapping of str to PartFloor
        Floors of the parts that zones lie in.
    design_temperature : float or None
        Air outdoors on the design day. [°C]

    Returns
    -------
    tuple of Caution
        Worst first.
    """
    seen = [_seen(zone) for zone in zones]
    laid = [
        traps.LaidZone(
            zone.shape.name,
            tuple(loop.length for laying in zone.layings for loop in laying.loops),
            sum(loop.tight_bends for laying in zone.layings for loop in laying.loops),
        )
        for zone in zones
    ]
    radius = tube_of(project).outside_diameter / 2
    tops = {name: axis_depth(project, floor.part) - radius for name, floor in floors.items()}
    supplies = [(name, supply) for each in manifolds for name, supply in each.supplies.items()]
    return worst_first(
        [
            *traps.floor_too_hot(seen),
            *traps.floor_falls_short(seen),
            *work.saw_cut_meets_tube(_cuts(project, zones, floors, tops), CUT_MARGIN),
            *traps.loops_out_of_rule(
                laid, longest_loop(project), tube_of(project).bend_radius, project.floors.equal_within
            ),
            *work.tube_near_surface(tops.items()),
            *traps.water_too_hot(seen, HOTTEST_SUPPLY),
            *traps.fluid_freezes(
                [
                    (each.part, part_of(project, each.part).use == "garage", each.freezing)
                    for each in manifolds
                ],
                design_temperature,
            ),
            *traps.downward_loss(seen),
            *traps.two_supplies(supplies),
            *work.first_heat(max((supply for _, supply in supplies), default=None)),
        ]
    )


def _seen(zone: ZoneFloor) -> traps.HeatedZone:
    case = zone.cases[0]
    return traps.HeatedZone(
        name=zone.shape.name,
        peak=case.output.floor_peak,
        limit=zone.standard_limit,
        can_give=case.can_give,
        load=zone.load.flux if zone.load is not None else 0.0,
        down=case.down_share,
        season=case.down_share_season,
        supply=case.supply,
    )


def _heated(project: Project) -> list[Part]:
    """Parts whose slab is heated, by their own word or by a zone in it."""
    zoned = {zone.part for zone in project.zones}
    return [part for part in project.parts if part.floor_heated or part.name in zoned]


def _touching(plan: Plan, heated: Sequence[Part]) -> Iterator[tuple[str, str]]:
    """Walls that a heated slab meets without foam; what is under an overhead door is the door's own matter."""
    for part in heated:
        for line in plan.lines:
            wall = line.wall
            own = part.name == wall.part and not _edge_foam(plan.project, part, wall)
            against = part.name == wall.beyond and part.foam.slab_edge is None and _meets(plan, part, wall)
            if own or against:
                yield part.name, wall.name


def _edge_foam(project: Project, part: Part, wall: WallLine) -> bool:
    sizes = sizes_of(project, part, wall)
    ledge = any(size.ledge is not None and size.ledge.foam > 0 for size in sizes)
    return ledge or line_foam(part, sizes, shared=bool(wall.beyond)).slab_edge is not None


def _meets(plan: Plan, part: Part, wall: WallLine) -> bool:
    """Whether a slab lies against another part's wall rather than over it."""
    return slab_top(plan.project, part) - part.slab_thickness < wall.wall_top


def _mixed(project: Project) -> Iterator[tuple[str, str, str]]:
    """Parts with a garage's zone and another one, and no joint that parts them."""
    for part in project.parts:
        own = [zone for zone in project.zones if zone.part == part.name]
        garage = [zone.name for zone in own if zone.use == "garage"]
        living = [zone.name for zone in own if zone.use != "garage"]
        if garage and living:
            yield part.name, garage[0], living[0]
        elif part.use == "garage" and living:
            yield part.name, part.name, living[0]


def _joined(plan: Plan, heated: Sequence[Part]) -> Iterator[tuple[str, str]]:
    """A heated garage and another heated slab that meet at one level without foam between."""
    project = plan.project
    for line in plan.lines:
        wall = line.wall
        if not wall.beyond or {wall.part, wall.beyond} - {part.name for part in heated}:
            continue
        own, other = part_of(project, wall.part), part_of(project, wall.beyond)
        if (own.use == "garage") == (other.use == "garage"):
            continue
        apart = abs(slab_top(project, own) - slab_top(project, other))
        level = apart < max(own.slab_thickness, other.slab_thickness)
        if level and not _edge_foam(project, own, wall) and other.foam.slab_edge is None:
            garage, living = (own, other) if own.use == "garage" else (other, own)
            yield garage.name, living.name


def _cuts(
    project: Project, zones: Sequence[ZoneFloor], floors: Mapping[str, PartFloor], tops: Mapping[str, float]
) -> Iterator[tuple[str, str, float, float]]:
    """Saw cuts in parts that have zones."""
    heated = {zone.shape.part for zone in zones}
    for joint in project.joints:
        if joint.kind == "saw cut" and joint.part in heated:
            depth = joint_depth(joint, floors[joint.part].part.slab_thickness)
            yield joint.name, joint.part, depth, tops[joint.part]
