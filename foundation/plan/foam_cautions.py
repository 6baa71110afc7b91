"""What the rules of the foam ask for, gathered from the sections of a plan, and the cautions they return."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np

from foundation.cautions import foam as traps
from foundation.cautions import register
from foundation.foam.bearing import BARROW, CAR, CONCRETE_STRENGTH, PointLoad, bearing_of
from foundation.foam.boards import board_types
from foundation.foam.choice import GUIDE, LYING, resistivity
from foundation.heat.sections.pencil import gaps_of
from foundation.model.caution import Caution
from foundation.model.foam import Bearing
from foundation.model.section import Block, BlockKind, InsulationGap, Section, Situation
from foundation.plan.footings import FROST, part_of
from foundation.plan.lines import along_named
from foundation.plan.result import Plan
from foundation.plan.section_blocks import UNDER_FOOTING
from foundation.plan.section_foam import line_foam, sizes_of
from foundation.plan.sections import PlacedSection, sections_along, shape_key
from foundation.project import Project
from foundation.project.schema import Part

TEN_FEET = 10 * 0.3048
"""Depth below grade that a basement wall's foam need not pass (IECC/IRC N1102 [read]). [m]"""


def foam_cautions(plan: Plan, answer: str) -> list[Caution]:
    """Cautions of the foam on one stepping.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    list of Caution
        As they were found.
    """
    project = plan.project
    placed = [each for each in sections_along(plan, answer) if each.section.inside]
    outdoors = [each for each in placed if each.section.situation is not Situation.BETWEEN]
    edges = [_edge(project, each) for each in outdoors if each.section.situation is Situation.EDGE]
    deep = [_wall(each) for each in outdoors if each.section.situation is Situation.BASEMENT]
    asked = project.required
    return [
        *_starved(plan, answer, placed),
        *traps.edge_left_bare(edges, asked.edge, asked.edge_depth),
        *(
            traps.edge_left_bare(deep, asked.wall, None, register.BASEMENT_WALL_BARE)
            if asked.wall is not None
            else []
        ),
        *traps.insulation_line_broken(_gaps(outdoors)),
        *traps.slab_through_door(_doors(plan)),
        *traps.heated_slab_short(_heated_slabs(project), asked.heated_slab),
        *traps.foam_too_weak(bearings_of(project)),
        *traps.foam_under_footing(_under_footings(placed)),
        *traps.label_in_ground(project.foam_basis, _kept_in_ground(placed)),
        *traps.counted_twice(_twice(plan)),
    ]


def _label(block: Block, thickness: float) -> float:
    """Resistance of foam as the office reads it, off the label. [m²·K/W]"""
    kind = board_types().get(block.material.name)
    return thickness * (kind.label if kind is not None else 1 / block.material.conductivity)


def _foam_across(section: Section, level: float, start: float = -math.inf) -> float:
    """Label R of all foam that a level line meets from inside to outside. [m²·K/W]"""
    return sum(
        _label(block, block.right - max(block.left, start))
        for block in section.blocks
        if block.kind is BlockKind.FOAM
        and block.bottom < level < block.top
        and block.right > start
        and "beyond" not in block.name
        and block.name not in ("foam under the slab", UNDER_FOOTING, "wing")
    )


def _edge(project: Project, placed: PlacedSection) -> traps.Edge:
    """A slab's edge: foam between the slab and outdoors, and how far it goes on from there."""
    section = placed.section
    slab = part_of(project, section.inside).slab_thickness
    across = _foam_across(section, section.floor - slab / 2)
    grade = section.grade[0].level
    upright = [
        grade - block.bottom
        for block in section.blocks
        if block.name in ("foam outside", "foam at the slab's edge") and block.top > section.floor - slab
    ]
    lying = [
        section.inner_face - block.left for block in section.blocks if block.name == "foam under the slab"
    ]
    wing = [block.right for block in section.blocks if block.name == "wing"]
    door = any(block.name == "door" for block in section.blocks)
    what = "slab edge under the door" if door else "slab edge"
    return traps.Edge(section.line, placed.start, what, across, max([0.0, *upright, *lying, *wing]))


def _wall(placed: PlacedSection) -> traps.Edge:
    """A basement wall where its foam is thinnest, from the floor or 10 ft below grade up to the top of concrete."""
    section = placed.section
    low = max(section.floor, section.grade[0].level - TEN_FEET)
    levels = np.linspace(low, section.concrete_top, 9)[1:-1]
    across = min(_foam_across(section, float(level)) for level in levels)
    return traps.Edge(section.line, placed.start, "basement wall", across, math.inf)


@lru_cache(maxsize=500)
def _gaps_of(section: Section) -> tuple[InsulationGap, ...]:
    return gaps_of(section)


def _gaps(placed: Sequence[PlacedSection]) -> Iterable[tuple[str, float, InsulationGap]]:
    """Gaps along each wall line, by the longest stretch of each situation: those beside it differ in depth alone."""
    longest: dict[tuple[str, str, bool], PlacedSection] = {}
    for each in placed:
        section = each.section
        door = any(block.name == "door" for block in section.blocks)
        place = (section.line, str(section.situation), door)
        if place not in longest or each.end - each.start > longest[place].end - longest[place].start:
            longest[place] = each
    for each in longest.values():
        for gap in _gaps_of(shape_key(each.section)):
            yield each.section.line, (each.start + each.end) / 2, gap


def _doors(plan: Plan) -> Iterable[traps.DoorEdge]:
    project = plan.project
    for opening in project.openings:
        walls = [
            line.wall for line in plan.lines if along_named(project, opening.line, line.wall) is not None
        ]
        if opening.kind != "overhead door" or not walls or not part_of(project, walls[0].part).is_heated:
            continue
        foam = opening.edge_foam
        kind = board_types().get(foam.board) if foam is not None else None
        yield traps.DoorEdge(
            opening.name,
            walls[0].name,
            opening.start,
            foam.thickness if foam is not None else 0.0,
            kind.strength if kind is not None else 0.0,
            opening.break_covered == "yes",
            opening.slab_through,
        )


def _heated_slabs(project: Project) -> dict[str, float]:
    slabs = {}
    for part in project.parts:
        if part.floor_heated:
            under = part.foam.under_slab
            whole = under is not None and part.foam.under_slab_band is None
            slabs[part.name] = under.thickness * board_types()[under.board].label if whole and under else 0.0
    return slabs


def bearings_of(project: Project) -> list[tuple[str, Bearing]]:
    """What the foam under each slab has to bear: typed loads, a car in a garage, a barrow elsewhere.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    list of tuple of str and Bearing
        Part and bearing.
    """
    found = []
    for part in project.parts:
        under = part.foam.under_slab
        if under is None or part.slab_thickness <= 0:
            continue
        typed = [
            PointLoad(load.name, load.force, load.side, load.moves, load.at)
            for load in project.slab_loads
            if load.part == part.name
        ]
        usual = [CAR] if part.use == "garage" else [BARROW]
        strength = _slab_concrete(project, part)
        found += [
            (
                part.name,
                bearing_of(board_types()[under.board], under.thickness, part.slab_thickness, load, strength),
            )
            for load in (*usual, *typed)
        ]
    return found


def _slab_concrete(project: Project, part: Part) -> float:
    typed = project.stage.garage_slab_concrete if part.use == "garage" else None
    return typed if typed is not None else CONCRETE_STRENGTH


def _under_footings(placed: Sequence[PlacedSection]) -> Iterable[tuple[str, float, float]]:
    """Foam that lies under a footing, put there or reaching there as a wing."""
    for each in placed:
        footing = next((block for block in each.section.blocks if block.name == "footing"), None)
        for block in each.section.blocks:
            under = footing is not None and block.top <= footing.bottom + 1e-6
            beside = footing is not None and block.left < footing.right and block.right > footing.left
            if block.kind is BlockKind.FOAM and under and beside:
                yield each.section.line, each.start, block.top - block.bottom


def _kept_in_ground(placed: Sequence[PlacedSection]) -> dict[str, float]:
    boards = {
        block.material.name
        for each in placed
        for block in each.section.blocks
        if block.kind is BlockKind.FOAM and block.name not in ("foam inside", "foam on the sheathing")
    }
    return {
        name: resistivity(board_types()[name], LYING, GUIDE) / board_types()[name].label
        for name in sorted(boards)
        if name in board_types()
    }


def _twice(plan: Plan) -> Iterable[tuple[str, float]]:
    """Walls whose own ledge foam stands beside foam that the same wall names for its slab edge."""
    for line in plan.lines:
        part = part_of(plan.project, line.wall.part)
        sizes = sizes_of(plan.project, part, line.wall)
        own = [size for size in sizes if size.foam is not None and size.foam.slab_edge is not None]
        if own and any(size.ledge is not None and size.ledge.foam > 0 for size in sizes):
            edge = line_foam(part, sizes, shared=False).slab_edge
            if edge is not None:
                yield line.wall.name, edge.thickness


def _starved(plan: Plan, answer: str, placed: Sequence[PlacedSection]) -> list[Caution]:
    foamed = {
        each.section.line
        for each in placed
        if any(block.name == "foam under the slab" for block in each.section.blocks)
    }
    covers = plan.covers[answer]
    places = []
    for line in plan.lines:
        cover = covers.get(line.wall.name)
        if cover is None or not any(limit.reason == FROST for limit in line.limits):
            continue
        if not np.isfinite(cover.straight_down).any():
            continue
        worst = int(np.nanargmin(cover.straight_down))
        places.append((line.wall.name, float(cover.station[worst]), float(cover.straight_down[worst])))
    return traps.foam_starves_footing(places, plan.project.frost.depth, foamed)
