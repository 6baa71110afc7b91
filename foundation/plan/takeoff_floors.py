"""Floors in plan for the count: what lies between the walls, as the sections show them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foundation.model.section import Block, Section
from foundation.model.walls import WallLine
from foundation.plan.lines import outline
from foundation.plan.result import Plan
from foundation.plan.section_lines import SectionLine, SectionLines, Stretch
from foundation.plan.takeoff_shapes import End, neighbours, strip
from foundation.project.schema import Part

EDGE, OVER_FOOTING, OVER_LEDGE = "foam at the slab's edge", "foam over the footing", "foam over the ledge"
HAIR = 1e-5
"""Strips of floor narrower than twice this are errors of arithmetic. [m]"""
FIT = 1e-6
"""Stations and levels closer than a micrometre are equal. [m]"""


@dataclass(frozen=True, eq=False)
class Side:
    """A stretch of wall beside a floor.

    Attributes
    ----------
    line : SectionLine
        The wall line.
    stretch : Stretch
        Its stretch.
    section : Section
        The section in its middle.
    own : bool
        Whether the section looks at the floor from inside; False for the floor of the part beyond.
    """

    line: SectionLine
    stretch: Stretch
    section: Section
    own: bool

    @property
    def wall(self) -> WallLine:
        """The wall line."""
        return self.line.footing.wall

    @property
    def length(self) -> float:
        """Length of the stretch. [m]"""
        return self.stretch.end - self.stretch.start

    def out(self, x: float) -> float:
        """Where something of the section lies in plan.

        Parameters
        ----------
        x : float
            Across the section. [m]

        Returns
        -------
        float
            Outward of the line's face; a section that looks from the part beyond runs the other way. [m]
        """
        return x if self.line.inside.name == self.wall.part else -self.wall.wall_thickness - x

    @property
    def footing_top(self) -> float:
        """Top of the footing. [m]"""
        block = self.block("footing")
        assert block is not None  # every section has one
        return block.top

    @property
    def over_footing(self) -> Polygon | None:
        """Where a footing stands up into the stone; None where it lies lower."""
        return self.band(self.wall.projection) if self.footing_top > self.section.bed + 1e-4 else None

    @property
    def on_ledge(self) -> Polygon | None:
        """Where the floor stands on a ledge; None where there is none."""
        face = self.section.inner_face
        if face <= -self.wall.wall_thickness + 1e-4:
            return None
        return self.plan_of(-self.wall.wall_thickness, face)

    def band(self, width: float) -> Polygon:
        """Floor along the wall.

        Parameters
        ----------
        width : float
            How wide. [m]

        Returns
        -------
        Polygon
            Its plan. [m]
        """
        return self.plan_of(-self.wall.wall_thickness - width, -self.wall.wall_thickness)

    def plan_of(self, left: float, right: float) -> Polygon:
        """Plan of something in the section.

        Parameters
        ----------
        left, right : float
            Its sides across the section. [m]

        Returns
        -------
        Polygon
            Over the length of the stretch. [m]
        """
        low, high = sorted((self.out(left), self.out(right)))
        return strip(self.wall, self.stretch.start, self.stretch.end, low, high)

    def block(self, name: str) -> Block | None:
        """A block of the section.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        Block or None
            The first of that name.
        """
        return next((block for block in self.section.blocks if block.name == name), None)


@dataclass(frozen=True, eq=False)
class FloorShape:
    """A part's floor in plan.

    Attributes
    ----------
    part : Part
        The part.
    inside : Polygon
        Up to the inner faces of the walls at the floor, on ledges up to the wall above. [m]
    slab : Polygon
        That without the foam at the slab's edge. [m]
    sides : tuple of Side
        Stretches of wall round it.
    """

    part: Part
    inside: Polygon
    slab: Polygon
    sides: tuple[Side, ...]


def floor_shapes(plan: Plan, answer: str) -> tuple[FloorShape, ...]:
    """Floors of all parts that have an outline.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of FloorShape
        In the order of the parts.
    """
    sides = list(_sides(SectionLines(plan, answer, None)))
    corners = neighbours(plan)
    found = []
    for part in plan.project.parts:
        whole = outline(plan.project, part)
        if whole is None:
            continue
        own = [side for side in sides if (side.line.inside if side.own else side.line.beyond) is part]
        inside, slab = (
            _without(whole, [_strip(side, own, corners, foam) for side in own]) for foam in (False, True)
        )
        found.append(FloorShape(part, inside, slab, tuple(own)))
    return tuple(found)


def foam_regions(floor: FloorShape) -> dict[tuple[str, float], BaseGeometry]:
    """Plan of the foam under a slab, by board and thickness.

    Parameters
    ----------
    floor : FloorShape
        The floor.

    Returns
    -------
    dict of tuple to geometry
        Board and thickness [m], and where it lies; over footings and ledges it may be thinner. [m]
    """
    layer = floor.part.foam.under_slab
    over: dict[tuple[str, float], list[BaseGeometry]] = {}
    taken = []
    for side in (side for side in floor.sides if side.own):
        for name in (OVER_FOOTING, OVER_LEDGE):
            block = side.block(name)
            if block is not None:
                key = block.material.name, round(block.top - block.bottom, 4)
                over.setdefault(key, []).append(side.plan_of(block.left, block.right))
        taken += [shape for shape in (side.over_footing, side.on_ledge) if shape is not None]
    if layer is not None:
        rest = floor.inside.difference(shapely.union_all(taken))
        if floor.part.foam.under_slab_band is not None:
            band = floor.part.foam.under_slab_band
            near = [side.band(band) for side in floor.sides if side.own]
            rest = rest.intersection(shapely.union_all(near))
        over.setdefault((layer.board, round(layer.thickness, 4)), []).append(rest)
    regions = {
        key: _clean(shapely.union_all(shapes).intersection(floor.inside)) for key, shapes in over.items()
    }
    return {key: region for key, region in regions.items() if region.area > 1e-6}


def _sides(whole: SectionLines) -> Iterator[Side]:
    for line in whole.lines:
        for stretch in line.stretches():
            middle = (stretch.start + stretch.end) / 2
            grade = line.mean_grade(stretch.start, stretch.end)
            section = line.section(middle, grade, np.zeros(6))
            yield Side(line, stretch, section, True)
            if line.beyond is not None:
                yield Side(line, stretch, section, False)


def _inset(side: Side, foam: bool) -> float:
    """Where the floor ends at a side, outward of the line's face; with the foam at its edge or without."""
    section = side.section
    if not side.own:
        edge = side.block("foam at the edge of the slab beyond")
        outside = side.block("foam outside")
        x = outside.right if outside is not None else 0.0
        return side.out(edge.right if edge is not None and foam else x)
    over = side.block("slab over the wall")
    edge = side.block(EDGE)
    if edge is None or not foam or over is not None:
        return side.out(section.inner_face)
    return side.out(edge.left)


def _strip(
    side: Side,
    own: Sequence[Side],
    corners: dict[str, tuple[WallLine | None, WallLine | None]],
    foam: bool,
) -> Polygon:
    """What the wall, and the foam on it, take off the outline."""
    before, after = corners[side.wall.name] if side.own else (None, None)

    def end(other: WallLine | None, last: bool) -> End | None:
        there = [each for each in own if other is not None and each.wall.name == other.name]
        if other is None or not there:
            return None
        return other, _inset(there[-1 if last else 0], foam), 0.0

    stretch, inset = side.stretch, _inset(side, foam)
    low, high = sorted((inset, 0.0))
    return strip(
        side.wall,
        stretch.start,
        stretch.end,
        low,
        high,
        end(before, True) if stretch.start < FIT else None,
        end(after, False) if stretch.end > side.wall.length - FIT else None,
    )


def _clean(shape: BaseGeometry) -> BaseGeometry:
    """A shape without the hairs that nearly equal sides leave."""
    return shape.buffer(-HAIR, join_style="mitre").buffer(HAIR, join_style="mitre")


def _without(whole: Polygon, strips_: Sequence[Polygon]) -> Polygon:
    left = _clean(whole.difference(shapely.union_all(list(strips_))))
    pieces = [each for each in getattr(left, "geoms", [left]) if isinstance(each, Polygon)]
    return max(pieces, key=lambda each: each.area) if pieces else Polygon()
