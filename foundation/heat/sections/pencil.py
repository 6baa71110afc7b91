"""The pencil test: the line of insulation from the framed wall to the middle of the floor, and where it breaks."""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foundation.heat.grid import Grid
from foundation.heat.sections.assemble import assemble, box_of
from foundation.heat.sections.bridge import bridge
from foundation.heat.sections.lines import APART, first_lines, points_of
from foundation.heat.sections.respond import loss_of
from foundation.model.section import Block, BlockKind, InsulationGap, Section

INSULATES = (BlockKind.FOAM, BlockKind.FRAME)
GROUND = "ground"
BARE_FLOOR = "no foam under the slab"
EDGE, MIDDLE = "floor's edge", "middle of the floor"

Point = tuple[float, float]
Line = tuple[Point, Point]


def gaps_of(section: Section) -> tuple[InsulationGap, ...]:
    """Trace the line of insulation and name its breaks.

    The line runs from the framed wall, where the section is cut, to the floor's line of symmetry; without a framed
    wall, as at an open door, from the foot of the opening. It may be lifted anywhere, though never through the air,
    and of all lines the one that is lifted least is taken. Foam and framed wall that touch need no lifting.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    tuple of InsulationGap
        Its breaks from the frame on, not solved for; empty for a line without any.
    """
    shown = _Shown(section)
    middle = section.inner_face - section.half_width
    edge = _Piece(EDGE, section.inner_face, section.inner_face, section.bed, section.floor)
    goal = _Piece(MIDDLE, middle, middle, section.bed, section.floor)
    insulating = shown.insulating()
    start = [piece for piece in insulating if piece.top > section.top - APART]
    pieces = [*insulating, *shown.corners(), edge, goal]
    if not start:
        start = [shown.foot()]
        pieces += start

    def lifted(one: _Piece, other: _Piece) -> Line | None:
        if one is edge or other is goal:
            # Along the floor only, between its top and the ground under it.
            level = (one.bottom + one.top) / 2
            on_the_way = other is goal and (one is edge or one.in_floor(section))
            return ((max(one.left, middle), level), (middle, level)) if on_the_way else None
        line = _nearest(one, other)
        if other is edge and one.foam and one.bottom < section.floor + APART:
            # Before a bare floor the foam beside it ends where it ends: what stands between is on the warm side.
            return line[0], line[0]
        return line if math.dist(*line) < APART or shown.solid(*line) else None

    return tuple(_gaps(shown, _shortest(pieces, start, goal, lifted)))


def with_heat(
    section: Section, gaps: Iterable[InsulationGap], fineness: float = 1.5
) -> tuple[InsulationGap, ...]:
    """Solve for what closing each gap alone would save.

    The gap is bridged with the foam beside it, in its thickness, or with the nearest foam of the section. Both are
    solved on the same grid, and the saving is the difference: within 5 % of that of fine grids, on the samples.

    Parameters
    ----------
    section : Section
        The section.
    gaps : iterable of InsulationGap
        Its gaps, as `gaps_of` gives them.
    fineness : float
        Cells are smaller by this, > 0. [-]

    Returns
    -------
    tuple of InsulationGap
        The same gaps with their conductance; nan where the section has no foam.

    Raises
    ------
    ValueError
        If `assemble` would complain.
    """
    found = []
    for gap in gaps:
        boards = bridge(section, gap, along_floor=gap.where.startswith(BARE_FLOOR))
        if boards:
            closed = replace(section, blocks=(*section.blocks, *boards))
            lines = first_lines(closed, fineness)
            before, after = (loss_of(assemble(each, lines=lines)).total for each in (section, closed))
            gap = replace(gap, conductance=before - after)
        found.append(gap)
    return tuple(found)


@dataclass(frozen=True, eq=False)
class _Piece:
    """What the pencil can rest on: a rectangle that insulates, a corner to turn round, an end of the line."""

    name: str
    left: float
    right: float
    bottom: float
    top: float
    foam: bool = False

    @property
    def lies(self) -> bool:
        """Whether it is wider than high."""
        return self.right - self.left > self.top - self.bottom

    def in_floor(self, section: Section) -> bool:
        """Whether it lies in the floor's build-up."""
        return (
            self.left < section.inner_face - APART
            and self.bottom > section.bed - APART
            and self.top < section.floor + APART
        )


class _Shown:
    """The section as a raster: which block is seen where, later ones over earlier ones."""

    def __init__(self, section: Section) -> None:
        self.section = section
        x, z = (np.array(sorted(points)) for points in points_of(section))
        self.grid = Grid((x, z))
        self.air = assemble(section, lines=(x, z)).material < 0
        self.owner = np.full(self.grid.shape, -1)
        for number, block in enumerate(section.blocks):
            self.owner[self._box(block)] = number

    def _box(self, block: Block) -> tuple[slice, slice]:
        return box_of(self.grid, block.left, block.right, block.bottom, block.top)

    def insulating(self) -> list[_Piece]:
        """Insulation that is not covered, in rectangles."""
        found = []
        x, z = (lines.tolist() for lines in self.grid.lines)
        for number, block in enumerate(self.section.blocks):
            if block.kind not in INSULATES:
                continue
            box = self._box(block)
            seen = self.owner[box] == number
            if seen.all():
                places = [(box[0].start, box[0].stop, box[1].start, box[1].stop)] if seen.size else []
            else:
                places = [
                    (i + box[0].start, i + box[0].start + 1, j + box[1].start, j + box[1].start + 1)
                    for i, j in np.argwhere(seen).tolist()
                ]
            foam = block.kind is BlockKind.FOAM
            found += [_Piece(block.name, x[a], x[b], z[c], z[d], foam) for a, b, c, d in places]
        return found

    def corners(self) -> list[_Piece]:
        """Corners of the air that reach into the section, for a line to turn round."""

        def around(cells: NDArray[np.bool_]) -> NDArray[np.intp]:
            count = cells.astype(np.intp)
            return count[:-1, :-1] + count[1:, :-1] + count[:-1, 1:] + count[1:, 1:]

        # Steps of bare ground are none of a house's corners.
        found = (around(self.air) == 1) & (around(self.owner >= 0) > 0)
        x, z = (lines[1:-1].tolist() for lines in self.grid.lines)
        return [_Piece("", x[i], x[i], z[j], z[j]) for i, j in np.argwhere(found).tolist()]

    def foot(self) -> _Piece:
        """Where inner and outer air meet on the ground."""
        column = int(np.searchsorted(self.grid.lines[0], self.section.divide + APART)) - 1
        level = float(self.grid.lines[1][np.flatnonzero(~self.air[column])[-1] + 1])
        return _Piece("foot of the opening", self.section.divide, self.section.divide, level, level)

    def passed(self, first: Point, last: Point) -> Iterator[tuple[list[int], bool]]:
        """Blocks and whether there is anything solid, beside each stretch of a straight line."""
        cuts = {0.0, 1.0}
        for axis in (0, 1):
            run = last[axis] - first[axis]
            if abs(run) > APART:
                along = (self.grid.lines[axis] - first[axis]) / run
                cuts |= set(along[(along > 0) & (along < 1)].tolist())
        order = sorted(cuts)
        for start, stop in zip(order[:-1], order[1:], strict=True):
            middle = (start + stop) / 2
            at = [first[axis] + middle * (last[axis] - first[axis]) for axis in (0, 1)]
            cells = {
                tuple(
                    int(np.clip(np.searchsorted(lines, value + side) - 1, 0, len(lines) - 2))
                    for lines, value, side in zip(self.grid.lines, at, sides, strict=True)
                )
                for sides in ((-APART, -APART), (-APART, APART), (APART, -APART), (APART, APART))
            }
            beside = [int(self.owner[cell]) for cell in sorted(cells) if not self.air[cell]]
            yield beside, bool(beside)

    def solid(self, first: Point, last: Point) -> bool:
        """Whether a straight line keeps out of the air; it may run along a surface."""
        return all(solid for _, solid in self.passed(first, last))

    def through(self, first: Point, last: Point) -> list[str]:
        """What a straight line goes through, besides insulation."""
        names: list[str] = []
        for beside, _ in self.passed(first, last):
            blocks = [self.section.blocks[number] for number in beside if number >= 0]
            plain = [block.name for block in blocks if block.kind not in INSULATES]
            names += plain[:1] or ([GROUND] if -1 in beside else [])
        return names


def _nearest(one: _Piece, other: _Piece) -> Line:
    """The nearest points of two rectangles; in the middle of where they face each other."""

    def along(low: float, high: float, other_low: float, other_high: float) -> tuple[float, float]:
        if high < other_low:
            return high, other_low
        if low > other_high:
            return low, other_high
        middle = (max(low, other_low) + min(high, other_high)) / 2
        return middle, middle

    x = along(one.left, one.right, other.left, other.right)
    z = along(one.bottom, one.top, other.bottom, other.top)
    return (x[0], z[0]), (x[1], z[1])


def _shortest(
    pieces: Sequence[_Piece],
    start: Sequence[_Piece],
    goal: _Piece,
    lifted: Callable[[_Piece, _Piece], Line | None],
) -> list[tuple[_Piece, _Piece, Line]]:
    """The steps of the line that is lifted least."""
    best = dict.fromkeys(pieces, math.inf) | dict.fromkeys(start, 0.0)
    before: dict[_Piece, tuple[_Piece, _Piece, Line]] = {}
    queue = [(0.0, number, piece) for number, piece in enumerate(pieces) if piece in start]
    left = set(pieces)
    while queue:
        so_far, _, piece = heapq.heappop(queue)
        if piece is goal:
            break
        if piece not in left:
            continue
        left.remove(piece)
        for number, other in enumerate(pieces):
            if other in left and (line := lifted(piece, other)):
                there = so_far + math.dist(*line)
                if there < best[other]:
                    best[other], before[other] = there, (piece, other, line)
                    heapq.heappush(queue, (there, number, other))
    path = [before[goal]]
    while path[-1][0] in before:
        path.append(before[path[-1][0]])
    return path[::-1]


def _gaps(shown: _Shown, path: Sequence[tuple[_Piece, _Piece, Line]]) -> Iterator[InsulationGap]:
    """Where the pencil was lifted, from one resting place to the next; corners are none."""
    resting = path[0][0]
    lines: list[Line] = []
    for one, other, line in path:
        if math.dist(*line) > APART:
            lines.append(line)
        if not other.name:
            continue
        if lines:
            if one is path[-1][0]:
                where = BARE_FLOOR + " beyond the band" * one.lies
            else:
                names = dict.fromkeys(name for each in lines for name in shown.through(*each))
                where = f"between {resting.name} and {other.name}, through {' and '.join(names)}"
            length = sum(math.dist(*each) for each in lines)
            yield InsulationGap(where, lines[0][0], lines[-1][1], length, math.nan)
        resting, lines = other, []
