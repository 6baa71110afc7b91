"""Sections to try the heat on, all invented: basement, walkout with a ledge, slab edge, garage at its door."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from foundation.model.section import Block, BlockKind, GradeStep, Material, Section, Situation, SoilLayer

SOIL = Material("clay", 1.5, 3.0e6, 2.2, 1.0e8)
SAND = Material("sand", 2.0, 2.0e6, 2.6, 0.5e8)
CONCRETE = Material("concrete", 1.8, 2.1e6, 1.8)
STONE = Material("stone", 0.7, 1.5e6, 0.7)
WOOD = Material("wood", 0.12, 0.8e6, 0.12)
FOAM = Material("foam", 0.032, 4.5e4, 0.032)
FRAME = Material("framed wall", 0.14 / 3.0, 1.0e5, 0.14 / 3.0)

FOAM_INCHES = 2 * 0.0254
SLAB = 0.1
BED = 0.1


def block(kind: BlockKind, name: str, left: float, right: float, bottom: float, top: float) -> Block:
    material = {
        BlockKind.CONCRETE: CONCRETE,
        BlockKind.FOAM: FOAM,
        BlockKind.WOOD: WOOD,
        BlockKind.FRAME: FRAME,
        BlockKind.STONE: STONE,
        BlockKind.SOIL: SOIL,
    }[kind]
    return Block(name, kind, material, left, right, bottom, top)


def standing(concrete_top: float, thickness: float = 0.14) -> list[Block]:
    """A sill and a framed wall, flush with the outside of the concrete."""
    return [
        block(BlockKind.WOOD, "sill", -thickness, 0, concrete_top, concrete_top + 0.038),
        block(BlockKind.FRAME, "framed wall", -thickness, 0, concrete_top + 0.038, concrete_top + 0.6),
    ]


def slab(end: float, half_width: float, floor: float, foam: float = 0.0) -> list[Block]:
    """A slab from the line of symmetry to its edge, on foam or none, on stone."""
    left = end - half_width
    under = floor - SLAB - foam
    blocks = [
        block(BlockKind.STONE, "stone", left, end, under - BED, under),
        block(BlockKind.CONCRETE, "slab", left, end, floor - SLAB, floor),
    ]
    if foam:
        blocks.append(block(BlockKind.FOAM, "foam under the slab", left, end, under, floor - SLAB))
    return blocks


def basement(
    half_width: float = 4.0,
    outside: float = 0.0,
    inside: float = 0.0,
    under: float = 0.0,
    slope: bool = False,
) -> Section:
    """An 8 ft basement under grade that falls from the wall; foam outside, inside, under the slab."""
    floor, top, face = -2.2, 0.2, -0.2
    low = floor - SLAB - under
    blocks = [
        *slab(face, half_width, floor, under),
        block(BlockKind.CONCRETE, "footing", face - 0.1, 0.1, low - 0.2, low),
        block(BlockKind.CONCRETE, "wall", face, 0, low, top),
        *standing(top),
    ]
    if outside:
        blocks.append(block(BlockKind.FOAM, "foam outside", 0, outside, low, top))
    if inside:
        blocks.append(block(BlockKind.FOAM, "foam inside", face - inside, face, floor, top))
    grade = [GradeStep(0.0, 0.0)]
    if slope:
        grade += [GradeStep(0.3 * k, -0.015 * k) for k in range(1, 11)]
    return Section(
        line="north",
        station=3.0,
        situation=Situation.BASEMENT,
        inside="house",
        outside="",
        floor=floor,
        bed=low - BED,
        half_width=half_width,
        inner_face=face,
        divide=-0.07,
        top=top + 0.6,
        concrete_top=top,
        grade=tuple(grade),
        soil=(SoilLayer(math.inf, SOIL), SoilLayer(-3.5, SAND)),
        blocks=tuple(blocks),
    )


def slab_edge(
    half_width: float = 3.5,
    outside: float = 0.0,
    outside_depth: float = 0.6,
    edge: float = 0.0,
    under: float = 0.0,
    band: float = 0.0,
    wing: float = 0.0,
) -> Section:
    """A slab 0.2 m over grade within a frost wall; foam outside, at the slab's edge, under it, a wing."""
    floor, top, face, deep = 0.2, 0.2, -0.2, -1.2
    blocks = [
        *slab(face, half_width, floor, 0.0 if band else under),
        block(BlockKind.CONCRETE, "footing", face - 0.1, 0.1, deep - 0.2, deep),
        block(BlockKind.CONCRETE, "wall", face, 0, deep, top),
        *standing(top),
    ]
    if band:
        level = floor - SLAB
        blocks.append(block(BlockKind.FOAM, "foam under the slab", face - band, face, level - under, level))
    if outside:
        blocks.append(block(BlockKind.FOAM, "foam outside", 0, outside, -outside_depth, top))
    if edge:
        blocks.append(
            block(BlockKind.FOAM, "foam at the slab's edge", face - edge, face, floor - SLAB, floor)
        )
    if wing:
        blocks.append(block(BlockKind.FOAM, "wing", outside, outside + wing, -0.35, -0.3))
    return Section(
        line="south",
        station=5.0,
        situation=Situation.EDGE,
        inside="house",
        outside="",
        floor=floor,
        bed=floor - SLAB - (0.0 if band else under) - BED,
        half_width=half_width,
        inner_face=face,
        divide=-0.07,
        top=top + 0.6,
        concrete_top=top,
        grade=(GradeStep(0.0, 0.0),),
        soil=(SoilLayer(math.inf, SOIL),),
        blocks=tuple(blocks),
    )


def walkout(half_width: float = 4.5, edge: float = 0.0, under: float = 0.0, outside: float = 0.0) -> Section:
    """A walkout: the wall thinned to a ledge under the slab's edge, its frame on what is left."""
    floor, face, shelf, deep = 0.05, -0.2, -0.1, -1.4
    low = floor - SLAB
    blocks = [
        *slab(face, half_width, floor, under),
        block(BlockKind.CONCRETE, "footing", face - 0.1, 0.1, deep - 0.2, deep),
        block(BlockKind.CONCRETE, "wall", face, 0, deep, low),
        block(BlockKind.CONCRETE, "slab on the ledge", face, shelf, low, floor),
        block(BlockKind.CONCRETE, "wall over the ledge", shelf, 0, low, floor + 0.1),
        block(BlockKind.WOOD, "sill", -0.14, 0, floor + 0.1, floor + 0.138),
        block(BlockKind.FRAME, "framed wall", -0.14, 0, floor + 0.138, floor + 0.8),
    ]
    if edge:
        blocks.append(block(BlockKind.FOAM, "foam at the slab's edge", shelf - edge, shelf, low, floor))
    if outside:
        blocks.append(block(BlockKind.FOAM, "foam outside", 0, outside, -0.6, floor + 0.1))
    return Section(
        line="south",
        station=9.0,
        situation=Situation.EDGE,
        inside="house",
        outside="",
        floor=floor,
        bed=low - under - BED,
        half_width=half_width,
        inner_face=shelf,
        divide=-0.05,
        top=floor + 0.8,
        concrete_top=floor + 0.1,
        grade=(GradeStep(0.0, -0.1), GradeStep(1.0, -0.12), GradeStep(2.0, -0.14)),
        soil=(SoilLayer(math.inf, SOIL), SoilLayer(-2.0, SAND)),
        blocks=tuple(blocks),
    )


def garage(half_width: float = 3.0, edge: float = 0.0, under: float = 0.0, apron: bool = True) -> Section:
    """A garage at its door: the slab runs over the dropped wall, the door stands in the open air."""
    floor, face, deep = 0.1, -0.2, -1.2
    low = floor - SLAB
    blocks = [
        *slab(face, half_width, floor, under),
        block(BlockKind.CONCRETE, "footing", face - 0.1, 0.1, deep - 0.2, deep),
        block(BlockKind.CONCRETE, "wall", face, 0, deep, low),
        block(BlockKind.CONCRETE, "slab over the wall", face, 0, low, floor),
    ]
    if edge:
        blocks.append(block(BlockKind.FOAM, "break under the door", -0.1 - edge, -0.1, low, floor))
    if apron:
        blocks.append(block(BlockKind.CONCRETE, "apron", 0, 1.2, floor - 0.12, floor - 0.02))
    return Section(
        line="east",
        station=4.0,
        situation=Situation.EDGE,
        inside="garage",
        outside="",
        floor=floor,
        bed=low - under - BED,
        half_width=half_width,
        inner_face=face,
        divide=-0.05,
        top=floor + 0.6,
        concrete_top=floor,
        grade=(GradeStep(0.0, 0.0), GradeStep(1.2, -0.02)),
        soil=(SoilLayer(math.inf, SAND),),
        blocks=tuple(blocks),
    )


def between(half_width: float = 3.0, inside: float = 0.0) -> Section:
    """A wall between a basement and a garage that stands on the ground beside it."""
    low = basement(half_width, inside=inside)
    garage_floor = -0.1
    blocks = [
        *low.blocks,
        block(BlockKind.CONCRETE, "garage slab", 0, 3.0, garage_floor - SLAB, garage_floor),
    ]
    return replace(
        low,
        situation=Situation.BETWEEN,
        outside="garage",
        grade=(GradeStep(0.0, garage_floor),),
        soil=low.soil[:1],
        blocks=tuple(blocks),
    )


SECTIONS: dict[str, Callable[[], Section]] = {
    "basement bare": basement,
    "basement foam outside, slope": lambda: basement(outside=FOAM_INCHES, slope=True),
    "basement foam inside and under": lambda: basement(inside=FOAM_INCHES, under=FOAM_INCHES),
    "basement, big": lambda: basement(9.0, outside=2 * FOAM_INCHES, under=2 * FOAM_INCHES),
    "slab edge bare": slab_edge,
    "slab edge foam outside": lambda: slab_edge(outside=FOAM_INCHES),
    "slab edge with a wing": lambda: slab_edge(outside=FOAM_INCHES, wing=0.9),
    "slab edge, edge and under": lambda: slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES),
    "slab edge, band": lambda: slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES, band=1.2),
    "walkout bare": walkout,
    "walkout foamed": lambda: walkout(edge=FOAM_INCHES, under=FOAM_INCHES),
    "garage bare": garage,
    "garage foamed": lambda: garage(edge=FOAM_INCHES, under=FOAM_INCHES),
    "between": lambda: between(inside=FOAM_INCHES),
}

STRESSED: dict[str, Callable[[], Section]] = {
    "wide floor": lambda: slab_edge(15.0, outside=FOAM_INCHES),
    "narrow floor": lambda: basement(1.0, inside=FOAM_INCHES),
    "thick foam": lambda: slab_edge(5.0, edge=0.2, under=0.3),
    "deep foam with a wing": lambda: slab_edge(4.0, outside=0.15, outside_depth=1.2, wing=1.5),
    "walkout, foam outside": lambda: walkout(outside=2 * FOAM_INCHES, under=FOAM_INCHES),
    "wet rock under dry soil": lambda: replace(
        basement(5.0, outside=FOAM_INCHES),
        soil=(
            SoilLayer(math.inf, replace(SOIL, conductivity=0.6)),
            SoilLayer(-2.6, replace(SAND, conductivity=3.5)),
        ),
    ),
}
