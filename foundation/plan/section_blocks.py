"""What stands in a section: concrete, foam, stone, wood and frame as blocks, and the air on both sides."""

from __future__ import annotations

from collections.abc import Iterator

from foundation import materials
from foundation.foam.choice import DRY, LYING, UPRIGHT
from foundation.model.section import Block, BlockKind, GradeStep, Material, Section, Situation
from foundation.plan.section_foam import COMMON_BOARD, material_of
from foundation.plan.section_standing import INCH, LEAF, TOUCH, Standing, bed_of
from foundation.project.schema_heat import FoamLayer

SILL = 1.5 * INCH
"""Thickness of a sill plate [practice]. [m]"""
STRIP = 0.75 * INCH
"""Height of the treated strip under foam on the sheathing [practice]. [m]"""
LEAF_RESISTANCE = 5 * 0.176110
"""Of an insulated door, R-5 [practice]. [m²·K/W]"""
APRON = 1.2
"""Width of an apron poured in one with the slab [practice]. [m]"""
ABOVE = 0.6
"""Height of the cut above concrete, floor and grade. [m]"""
CONCRETE_KIND, FOAM_KIND = BlockKind.CONCRETE, BlockKind.FOAM


def section_of(standing: Standing) -> Section:
    """The section of what stands at a station.

    Parameters
    ----------
    standing : Standing
        What stands there.

    Returns
    -------
    Section
        With its blocks, sides and levels rounded to a hundredth of a millimetre so that equal ones are equal.
    """
    floor, grade = standing.inside, _grade(standing)
    level, bottom = floor.level, floor.level - floor.part.slab_thickness
    left = standing.inner_face - floor.half_width
    top = max([standing.concrete_top, level, *(step.level for step in grade)]) + ABOVE
    blocks = [
        *_floor(standing, left),
        *_floor_beyond(standing),
        *_wing(standing, grade),
        *_concrete(standing, left),
        *_wall_foam(standing, grade[0].level),
        *_slab_edge(standing, bottom),
        *_on_top(standing, top),
    ]
    inner, outer = standing.upper
    return Section(
        line=standing.line,
        station=standing.station,
        situation=standing.situation,
        inside=floor.part.name,
        outside=standing.beyond.part.name if standing.beyond and standing.beyond.part.is_heated else "",
        floor=_round(level),
        bed=_round(bed_of(floor)),
        half_width=_round(floor.half_width),
        inner_face=_round(standing.inner_face),
        divide=_round(outer - min(outer - inner, standing.leaf_or_frame) / 2),
        top=_round(top),
        concrete_top=_round(standing.concrete_top),
        grade=grade,
        soil=standing.soil,
        blocks=tuple(block for found in blocks if (block := _trimmed(found, left, top)) is not None),
    )


UNDER_FOOTING = "foam under the footing"


def _round(value: float) -> float:
    return round(value, 5)


def _block(
    name: str, kind: BlockKind, material: Material, sides: tuple[float, float], levels: tuple[float, float]
) -> Block:
    return Block(name, kind, material, *sides, *levels)


def _foam(
    standing: Standing,
    name: str,
    board: str,
    place: str,
    sides: tuple[float, float],
    levels: tuple[float, float],
) -> Block:
    return _block(name, FOAM_KIND, material_of(board, place, standing.basis), sides, levels)


def _concrete_block(name: str, sides: tuple[float, float], levels: tuple[float, float]) -> Block:
    return _block(name, CONCRETE_KIND, materials.CONCRETE, sides, levels)


def _trimmed(block: Block, left: float, top: float) -> Block | None:
    """The block within the section, None where nothing of it is left."""
    sides = max(block.left, left), block.right
    levels = block.bottom, min(block.top, top)
    if sides[1] - sides[0] < TOUCH or levels[1] - levels[0] < TOUCH:
        return None
    return Block(block.name, block.kind, block.material, *map(_round, (*sides, *levels)))


def _grade(standing: Standing) -> tuple[GradeStep, ...]:
    """Grade outside; an apron lies on filled ground."""
    if standing.beyond is not None or not _poured_through(standing):
        return standing.grade
    under = _round(standing.inside.level - standing.inside.part.slab_thickness)
    found: list[GradeStep] = []
    beyond = max(step.start for step in standing.grade) <= APRON
    steps = [*standing.grade, GradeStep(APRON, standing.grade[-1].level)] if beyond else standing.grade
    for step in steps:
        level = max(step.level, under) if step.start < APRON - TOUCH else step.level
        if not found or found[-1].level != level:
            found.append(GradeStep(step.start, level))
    return tuple(found)


def _poured_through(standing: Standing) -> bool:
    return standing.door is not None and standing.door.slab_through == "yes" and standing.slab_over_wall


def _floor(standing: Standing, left: float) -> Iterator[Block]:
    """Stone, foam and slab inside; the stone fills whatever the foam leaves, so that no hollow stays."""
    floor, part, foam = standing.inside, standing.inside.part, standing.foam
    bottom = floor.level - part.slab_thickness
    face, footing = -standing.thickness, -standing.thickness - standing.projection
    yield _block(
        "stone", BlockKind.STONE, materials.STONE, (left, standing.inner_face), (bed_of(floor), bottom)
    )
    board = foam.under_slab.board if foam.under_slab else COMMON_BOARD
    thickness = foam.under_slab.thickness if foam.under_slab else 0.0
    start = left if foam.band is None else max(left, face - foam.band)
    # Over a footing that reaches up into the stone there is as much foam as the build-up says.
    close = standing.footing_top > bed_of(floor) + TOUCH
    end = max(start, footing) if close else face
    yield _foam(standing, "foam under the slab", board, LYING, (start, end), (bottom - thickness, bottom))
    over = part.foam_over_footing
    if close:
        yield _foam(standing, "foam over the footing", board, LYING, (end, face), (bottom - over, bottom))
    if standing.bears:
        over = min(over, bottom - standing.shelf)
        sides = face, standing.inner_face
        yield _foam(standing, "foam over the ledge", board, LYING, sides, (bottom - over, bottom))
    yield _concrete_block("slab", (left, standing.inner_face), (bottom, floor.level))


def _floor_beyond(standing: Standing) -> Iterator[Block]:
    """The floor of the part beyond, as far as that part goes."""
    if standing.beyond is None:
        return
    floor, part = standing.beyond, standing.beyond.part
    bottom = floor.level - part.slab_thickness
    under, edge = part.foam.under_slab, part.foam.slab_edge
    start = standing.foam.outside.thickness if standing.foam.outside else 0.0
    sides = (0.0, standing.beyond_reach)
    yield _block("stone beyond", BlockKind.STONE, materials.STONE, sides, (bed_of(floor), bottom))
    if under is not None:
        levels = (bottom - under.thickness, bottom)
        reach = sides[1] if part.foam.under_slab_band is None else part.foam.under_slab_band
        yield _foam(
            standing, "foam under the slab beyond", under.board, LYING, (0.0, min(reach, sides[1])), levels
        )
    yield _concrete_block("slab beyond", sides, (bottom, floor.level))
    if edge is not None:
        levels = (bottom, floor.level)
        sides = (start, start + edge.thickness)
        yield _foam(standing, "foam at the edge of the slab beyond", edge.board, UPRIGHT, sides, levels)


def _wing(standing: Standing, grade: tuple[GradeStep, ...]) -> Iterator[Block]:
    wing, outside = standing.foam.wing, standing.foam.outside
    if wing is None:
        return
    start = outside.thickness if outside else 0.0
    end = start + wing.width
    # It lies level, as deep as it has to under the lowest grade over it.
    top = min(step.level for step in grade if step.start < end) - wing.depth
    yield _foam(standing, "wing", wing.board, LYING, (start, end), (top - wing.thickness, top))


def _concrete(standing: Standing, left: float) -> Iterator[Block]:
    thickness, shelf, top = standing.thickness, standing.shelf, standing.concrete_top
    sides = (max(left, -thickness - standing.projection), standing.projection)
    yield _concrete_block("footing", sides, (standing.footing_bottom, standing.footing_top))
    under = standing.foam.under_footing
    if under is not None:
        levels = (standing.footing_bottom - under.thickness, standing.footing_bottom)
        yield _foam(standing, UNDER_FOOTING, under.board, LYING, sides, levels)
    yield _concrete_block("wall", (-thickness, 0.0), (standing.footing_top, shelf))
    yield _concrete_block("wall above the ledge", standing.upper, (shelf, top))
    if standing.leg_top is not None:
        yield _concrete_block("leg of the step", sides, (standing.footing_top, standing.leg_top))


def _wall_foam(standing: Standing, grade: float) -> Iterator[Block]:
    foam, shelf, top = standing.foam, standing.shelf, standing.concrete_top
    foot = standing.footing_top if standing.leg_top is None else standing.leg_top
    if foam.outside is not None:
        bottom = foot if foam.outside_depth is None else max(foot, grade - foam.outside_depth)
        levels = (bottom, top if standing.upper[1] == 0.0 else shelf)
        yield _foam(
            standing, "foam outside", foam.outside.board, UPRIGHT, (0.0, foam.outside.thickness), levels
        )
    if foam.inside is not None:
        floor = standing.inside.level
        for face, levels in (
            (-standing.thickness, (floor, shelf)),
            (standing.upper[0], (max(shelf, floor), top)),
        ):
            sides = (face - foam.inside.thickness, face)
            yield _foam(standing, "foam inside", foam.inside.board, DRY, sides, levels)


def _slab_edge(standing: Standing, bottom: float) -> Iterator[Block]:
    """Foam between the slab's edge and what is outside of it; without any the slab closes up to the wall."""
    level, face, door = standing.inside.level, standing.inner_face, standing.door
    name = "foam at the slab's edge"
    if standing.slab_over_wall:
        assert door is not None
        yield _concrete_block("slab over the wall", (face, 0.0), (standing.concrete_top, level))
        if _poured_through(standing):
            yield _concrete_block("apron", (0.0, APRON), (bottom, level))
        elif door.edge_foam is not None:
            # Flush with the outside, so that it meets the foam on the wall below and the door above.
            sides, levels = (-door.edge_foam.thickness, 0.0), (standing.concrete_top, level)
            yield _foam(standing, name, door.edge_foam.board, UPRIGHT, sides, levels)
        return
    edge = door.edge_foam if door is not None and door.edge_foam is not None else standing.foam.slab_edge
    if standing.bears:
        assert standing.ledge is not None
        board = edge.board if edge is not None else COMMON_BOARD
        sides = (face - standing.ledge.foam, face)
        yield _foam(standing, name, board, UPRIGHT, sides, (standing.shelf, level))
    elif edge is not None:
        yield _foam(standing, name, edge.board, UPRIGHT, (face - edge.thickness, face), (bottom, level))


def _on_top(standing: Standing, top: float) -> Iterator[Block]:
    """Sill, framed wall and its foam; at a door the leaf; on a veneer shelf the veneer."""
    outer, frame = standing.upper[1], standing.frame
    foot = (
        max(standing.concrete_top, standing.inside.level)
        if standing.slab_over_wall
        else standing.concrete_top
    )
    sides = (outer - standing.leaf_or_frame, outer)
    if outer < 0.0:
        yield _concrete_block("veneer", (outer, 0.0), (standing.shelf, top))
    if standing.door is not None:
        leaf = materials.framed_wall(LEAF_RESISTANCE, LEAF)
        yield _block("door", BlockKind.FRAME, leaf, sides, (foot, top))
    else:
        wall = materials.framed_wall(frame.resistance, standing.carries)
        yield _block("sill", BlockKind.WOOD, materials.WOOD, sides, (foot, foot + SILL))
        yield _block("framed wall", BlockKind.FRAME, wall, sides, (foot + SILL, top))
        if frame.outside_foam is not None and standing.situation is not Situation.BETWEEN:
            yield from _on_sheathing(standing, frame.outside_foam, foot, top)


def _on_sheathing(standing: Standing, foam: FoamLayer, foot: float, top: float) -> Iterator[Block]:
    outer, frame = standing.upper[1], standing.frame
    # Where foam on the concrete comes up in the same plane the two meet at the sill.
    lap = 0.0 if standing.foam.outside is not None or outer < 0.0 else frame.outside_foam_laps
    bottom, sides = foot - lap, (outer, outer + foam.thickness)
    if frame.closing_strip:
        yield _block("closing strip", BlockKind.WOOD, materials.WOOD, sides, (bottom, bottom + STRIP))
        bottom += STRIP
    yield _foam(standing, "foam on the sheathing", foam.board, DRY, sides, (bottom, top))
