"""What a section's blocks look like: the part of each that is seen, and the marks its material is drawn with."""

from __future__ import annotations

import itertools

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foundation.drawings.scene import joined
from foundation.model.section import Block, BlockKind, Section

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]

LAYER_OF = {
    BlockKind.CONCRETE: "concrete",
    BlockKind.FOAM: "foam",
    BlockKind.WOOD: "wood",
    BlockKind.FRAME: "frame",
    BlockKind.STONE: "stone",
    BlockKind.SOIL: "backfill",
}
INSULATION = (BlockKind.FOAM, BlockKind.FRAME)
"""What the line of insulation runs through."""
MOST_PEBBLES = 160
TOUCH = 1e-3
"""Blocks nearer than this touch. [m]"""
SLOPE = 0.1
"""Steps of grade lower than this stand for a slope. [m]"""


def seen(blocks: tuple[Block, ...], window: Box) -> list[BaseGeometry]:
    """The part of each block that no later one covers.

    Parameters
    ----------
    blocks : tuple of Block
        The blocks, later ones over earlier ones.
    window : tuple of float
        Left, right, bottom and top of what is shown. [m]

    Returns
    -------
    list of shapely geometry
        One for each block, empty where nothing is seen.
    """
    frame = shapely.box(window[0], window[2], window[1], window[3])
    covered: BaseGeometry = shapely.Polygon()
    found = []
    for block in reversed(blocks):
        box = shapely.box(block.left, block.bottom, block.right, block.top)
        found.append(box.intersection(frame).difference(covered))
        covered = covered.union(box)
    return found[::-1]


def ground(section: Section, window: Box) -> BaseGeometry:
    """The ground, without what stands in it.

    Parameters
    ----------
    section : Section
        The section.
    window : tuple of float
        Left, right, bottom and top of what is shown. [m]

    Returns
    -------
    shapely geometry
        Ground under the floor, under the wall and outside.
    """
    left, right, bottom, _ = window
    edge = grade_line(section, right)
    outline = [(left, bottom), (left, section.bed), (section.divide, section.bed)]
    outline += [(section.divide, edge[0][1]), *map(tuple, edge), (right, bottom)]
    frame = shapely.box(window[0], window[2], window[1], window[3])
    solid = shapely.union_all([shapely.box(b.left, b.bottom, b.right, b.top) for b in section.blocks])
    return shapely.Polygon(outline).buffer(0).intersection(frame).difference(solid)


def grade_line(section: Section, right: float) -> Array:
    """Finished grade outside, from the concrete's face outward.

    Parameters
    ----------
    section : Section
        The section.
    right : float
        Where the drawing ends. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        Its nodes. [m]
    """
    steps = [step for step in section.grade if step.start < right]
    points = [(0.0, steps[0].level)]
    for before, after in itertools.pairwise(steps):
        # Small steps stand for a slope; a high one is a real one.
        if abs(after.level - before.level) < SLOPE:
            points.append((after.start, (before.level + after.level) / 2))
        else:
            points += [(after.start, before.level), (after.start, after.level)]
    points.append((right, steps[-1].level))
    return np.array(points)


def outline(shape: BaseGeometry) -> Array:
    """A shape as one area of a scene: outer rings one way round, holes the other.

    Parameters
    ----------
    shape : shapely geometry
        Polygons; what has no area is left out.

    Returns
    -------
    ndarray, shape (n, 2)
        Rings, nan between them. [m]
    """
    rings = []
    for polygon in shapely.get_parts(shape):
        if isinstance(polygon, shapely.Polygon) and not polygon.is_empty:
            turned = shapely.geometry.polygon.orient(polygon)
            rings += [np.array(ring.coords)[:-1] for ring in (turned.exterior, *turned.interiors)]
    return joined(rings)


def lines_of(shape: BaseGeometry) -> Array:
    """The lines of a shape as one stroke of a scene.

    Parameters
    ----------
    shape : shapely geometry
        Lines, or polygons for their edges.

    Returns
    -------
    ndarray, shape (n, 2)
        Lines, nan between them. [m]
    """
    found = []
    for part in shapely.get_parts(shape):
        line = part.boundary if isinstance(part, shapely.Polygon) else part
        found += [
            np.array(piece.coords) for piece in shapely.get_parts(line) if piece.geom_type == "LineString"
        ]
    return joined([piece for piece in found if len(piece) > 1])


def edges(shape: BaseGeometry, window: Box) -> Array:
    """Edges of a shape, without those where the drawing cuts it.

    Parameters
    ----------
    shape : shapely geometry
        The shape.
    window : tuple of float
        Left, right, bottom and top of what is shown. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        Lines, nan between them. [m]
    """
    inner = shapely.box(window[0], window[2], window[1], window[3]).buffer(-1e-6, join_style="mitre")
    cut = shape.boundary.intersection(inner)
    return lines_of(shapely.line_merge(cut) if cut.geom_type == "MultiLineString" else cut)


def marks(block: Block, shape: BaseGeometry, pixel: float) -> Array:
    """Lines that tell a material on paper: foam's zigzag, batts' waves, wood's cross, stones.

    Parameters
    ----------
    block : Block
        The block.
    shape : shapely geometry
        The part of it that is seen.
    pixel : float
        Length of a pixel. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        Lines, nan between them; none for concrete and soil, which are hatched. [m]
    """
    if shape.is_empty or block.kind in (BlockKind.CONCRETE, BlockKind.SOIL):
        return np.zeros((0, 2))
    if block.kind is BlockKind.STONE:
        return _pebbles(shape, pixel)
    if block.kind is BlockKind.WOOD:
        corners = [(block.left, block.bottom), (block.right, block.top)]
        corners += [(block.left, block.top), (block.right, block.bottom)]
        crossed: BaseGeometry = shapely.MultiLineString([corners[:2], corners[2:]])
    else:
        crossed = shapely.LineString(_wave(block, shape.bounds, pixel))
    return lines_of(crossed.intersection(shape))


def _wave(block: Block, bounds: tuple[float, ...], pixel: float) -> Array:
    """Zigzag or wave along a block's longer side, within the part of it that is seen."""
    wide, high = block.right - block.left, block.top - block.bottom
    upright = high > wide
    thick = min(wide, high)
    start, end = (bounds[1], bounds[3]) if upright else (bounds[0], bounds[2])
    pitch = float(np.clip(0.9 * thick, 6 * pixel, 26 * pixel))
    per = 2 if block.kind is BlockKind.FOAM else 12
    count = max(int((end - start) / pitch * per), 2)
    along = start + np.arange(count + 1) * pitch / per
    if block.kind is BlockKind.FOAM:
        swing = np.where(np.arange(count + 1) % 2, 0.5, -0.5)
    else:
        swing = 0.4 * np.sin(2 * np.pi * (along - start) / pitch)
    middle = (block.left + block.right) / 2 if upright else (block.bottom + block.top) / 2
    across = middle + thick * 0.84 * swing
    return np.column_stack([across, along] if upright else [along, across])


def _pebbles(shape: BaseGeometry, pixel: float) -> Array:
    left, bottom, right, top = shape.bounds
    pitch = max((top - bottom) / 2, 9 * pixel, float(np.sqrt((right - left) * (top - bottom) / MOST_PEBBLES)))
    x, z = np.meshgrid(
        np.arange(left + pitch / 2, right, pitch), np.arange(bottom + pitch / 2, top + pitch / 4, pitch)
    )
    # The same stones each time the section is drawn.
    chance = np.random.default_rng(1)
    x = x + pitch * (0.25 * chance.uniform(-1, 1, x.shape) + 0.25 * (np.arange(len(x)) % 2)[:, None])
    z = z + pitch * 0.12 * chance.uniform(-1, 1, z.shape)
    turn = np.linspace(0, 2 * np.pi, 7)
    stones = []
    for a, b, size in zip(x.ravel(), z.ravel(), chance.uniform(0.26, 0.4, x.size), strict=True):
        radius = 0.5 * pitch * size / 0.4 * chance.uniform(0.75, 1.0, 7)
        radius[-1] = radius[0]
        stone = shapely.Polygon(np.column_stack([a + radius * np.cos(turn), b + 0.8 * radius * np.sin(turn)]))
        if shape.contains(stone):
            stones.append(np.array(stone.exterior.coords))
    return joined(stones)


def insulation_line(blocks: tuple[Block, ...], window: Box) -> Array:
    """The line of insulation: through the middle of all that insulates, from block to block where they touch.

    Parameters
    ----------
    blocks : tuple of Block
        The section's blocks.
    window : tuple of float
        Left, right, bottom and top of what is shown. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        Lines, nan between them. [m]
    """
    own = [block for block in blocks if block.kind in INSULATION]
    middles = [_middle(block) for block in own]
    links: list[BaseGeometry] = list(middles)
    for (one, a), (other, b) in itertools.combinations(zip(own, middles, strict=True), 2):
        boxes = [shapely.box(block.left, block.bottom, block.right, block.top) for block in (one, other)]
        if boxes[0].distance(boxes[1]) < TOUCH:
            # From the end of one to the nearest place on the other.
            ends = [(shapely.Point(p), b) for p in a.coords] + [(shapely.Point(p), a) for p in b.coords]
            end, line = min(ends, key=lambda pair: pair[0].distance(pair[1]))
            link = shapely.shortest_line(end, line)
            links += [link] if link.length > 1e-9 else []
    frame = shapely.box(window[0], window[2], window[1], window[3])
    return lines_of(shapely.line_merge(shapely.union_all(links).intersection(frame)))


def _middle(block: Block) -> shapely.LineString:
    x, z = (block.left + block.right) / 2, (block.bottom + block.top) / 2
    if block.top - block.bottom > block.right - block.left:
        return shapely.LineString([(x, block.bottom), (x, block.top)])
    return shapely.LineString([(block.left, z), (block.right, z)])


def stack_at(section: Section, x: float) -> list[tuple[Block, float, float]]:
    """What lies on each other in one place, from the top of slab down.

    Parameters
    ----------
    section : Section
        The section.
    x : float
        The place, inside the wall. [m]

    Returns
    -------
    list of tuple
        Block with the bottom and the top of its part that is there. [m]
    """
    here = [
        block for block in section.blocks if block.left <= x <= block.right and block.bottom < section.floor
    ]
    cuts = sorted(
        {level for block in here for level in (block.bottom, min(block.top, section.floor))}, reverse=True
    )
    found: list[tuple[Block, float, float]] = []
    for top, bottom in itertools.pairwise(cuts):
        owner = next((b for b in reversed(here) if b.bottom <= (top + bottom) / 2 <= b.top), None)
        if owner is None:
            continue
        if found and found[-1][0] is owner and abs(found[-1][1] - top) < 1e-9:
            found[-1] = (owner, bottom, found[-1][2])
        else:
            found.append((owner, bottom, top))
    return found
