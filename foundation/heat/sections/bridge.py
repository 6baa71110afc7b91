"""Boards that would close a gap in the line of insulation."""

from __future__ import annotations

import math
from dataclasses import replace

from foundation.heat.sections.lines import APART
from foundation.model.section import Block, BlockKind, InsulationGap, Section

Point = tuple[float, float]


def bridge(section: Section, gap: InsulationGap, along_floor: bool) -> tuple[Block, ...]:
    """Boards that close a gap, of the foam beside it and as thick.

    An upright board is drawn out up or down, and a level one sideways; where the two ends lie neither above nor beside
    each other, the boards meet at a right angle.

    Parameters
    ----------
    section : Section
        The section.
    gap : InsulationGap
        The gap.
    along_floor : bool
        Whether it runs along the floor, so that the board goes under the slab.

    Returns
    -------
    tuple of Block
        One or two boards, to lie over the other blocks; none where the section has no foam.
    """
    foams = [block for block in section.blocks if block.kind is BlockKind.FOAM]
    if not foams:
        return ()
    start, end = gap.start, gap.end
    near = [_nearest(foams, at) for at in (start, end)]
    beside = [_apart(foam, at) < APART for foam, at in zip(near, (start, end), strict=True)]
    if along_floor:
        return (_under_floor(section, near[0], beside[0], start, end),)
    # An upright board leads, since its line goes on downward; else whichever is there.
    order = [place for place in (0, 1) if beside[place]] or [
        0 if _apart(near[0], start) <= _apart(near[1], end) else 1
    ]
    lead = next((place for place in order if _upright(near[place])), order[0])
    foam, other = near[lead], near[1 - lead] if beside[1 - lead] else None
    here, there = (start, end) if lead == 0 else (end, start)
    half = _thickness(foam) / 2
    if _upright(foam):
        sides = (foam.left, foam.right) if beside[lead] else (here[0] - half, here[0] + half)
        levels = (there[1] - half, there[1] + half)
        if other and not _upright(other):
            levels = other.bottom, other.top
        boards = [
            (*sides, min(here[1], there[1]), max(here[1], there[1])),
            (min(there[0], sides[0]), max(there[0], sides[1]), *levels),
        ]
        needed = [abs(here[1] - there[1]) > APART, not sides[0] - APART < there[0] < sides[1] + APART]
    else:
        levels = (foam.bottom, foam.top) if beside[lead] else (here[1] - half, here[1] + half)
        boards = [
            (min(here[0], there[0]), max(here[0], there[0]), *levels),
            (there[0] - half, there[0] + half, min(there[1], levels[0]), max(there[1], levels[1])),
        ]
        needed = [abs(here[0] - there[0]) > APART, not levels[0] - APART < there[1] < levels[1] + APART]
    return tuple(_board(foam, *box) for box, want in zip(boards, needed, strict=True) if want)


def _under_floor(section: Section, foam: Block, beside: bool, start: Point, end: Point) -> Block:
    if beside and not _upright(foam):
        return _board(foam, end[0], start[0], foam.bottom, foam.top)
    middle = (start[0] + end[0]) / 2
    slabs = [
        block.bottom
        for block in section.blocks
        if block.left < middle < block.right and abs(block.top - section.floor) < APART
    ]
    level = slabs[-1] if slabs else section.bed
    return _board(foam, end[0], start[0], level - _thickness(foam), level)


def _board(foam: Block, left: float, right: float, bottom: float, top: float) -> Block:
    return replace(foam, name="bridge", left=left, right=right, bottom=bottom, top=top)


def _thickness(foam: Block) -> float:
    return min(foam.right - foam.left, foam.top - foam.bottom)


def _upright(foam: Block) -> bool:
    return foam.top - foam.bottom >= foam.right - foam.left


def _nearest(foams: list[Block], at: Point) -> Block:
    return min(foams, key=lambda foam: _apart(foam, at))


def _apart(foam: Block, at: Point) -> float:
    x = max(foam.left - at[0], 0.0, at[0] - foam.right)
    z = max(foam.bottom - at[1], 0.0, at[1] - foam.top)
    return math.hypot(x, z)
