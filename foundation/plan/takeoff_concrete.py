"""Concrete of footings and walls, piece by piece: what is measured along the outside, and what corners correct."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import shapely

from foundation.model.concrete import Ledge, Opening, WallPiece
from foundation.model.takeoff import Piece
from foundation.model.walls import FootingStep, Run, Stepping, WallLine
from foundation.plan.result import Plan
from foundation.plan.takeoff_shapes import End, Solid, corner_of, meetings, neighbours, strip
from foundation.plan.takeoff_words import Words, by_name
from foundation.walls.openings import THROUGH
from foundation.walls.pieces import face_area

FIT = 1e-6
"""Stations and levels closer than a micrometre are equal. [m]"""
OUTSIDE = "lines are measured along the outside of concrete"
Pieces = tuple[Piece, ...]


@dataclass(frozen=True)
class FootingConcrete:
    """Concrete of the footings.

    Attributes
    ----------
    runs : tuple of Piece
        Level runs, along the outside face of concrete. [m³]
    legs : tuple of Piece
        Legs of the steps. [m³]
    corners : tuple of Piece
        What corners count twice or leave out. [m³]
    shared : tuple of Piece
        Where footings of two parts, or a pad, lie in each other. [m³]
    pads : tuple of Piece
        Pads, stoops and porch footings. [m³]
    """

    runs: Pieces
    legs: Pieces
    corners: Pieces
    shared: Pieces
    pads: Pieces

    @property
    def pieces(self) -> Pieces:
        """All of them."""
        return by_name([piece for each in fields(self) for piece in getattr(self, each.name)])


@dataclass(frozen=True)
class WallConcrete:
    """Concrete of the walls.

    Attributes
    ----------
    stretches : tuple of Piece
        Stretches of one height at full thickness, along the outside face of concrete. [m³]
    openings : tuple of Piece
        What doors, windows and sleeves take out. [m³]
    ledges : tuple of Piece
        What ledges take out above them. [m³]
    legs : tuple of Piece
        Where a step's leg, poured with the footing, stands in the wall. [m³]
    corners : tuple of Piece
        What corners count twice or leave out. [m³]
    shared : tuple of Piece
        Where a wall stands in another part's wall or footing. [m³]
    """

    stretches: Pieces
    openings: Pieces
    ledges: Pieces
    legs: Pieces
    corners: Pieces
    shared: Pieces

    @property
    def pieces(self) -> Pieces:
        """All of them."""
        return by_name([piece for each in fields(self) for piece in getattr(self, each.name)])


def footing_concrete(plan: Plan, answer: str, words: Words) -> FootingConcrete:
    """Concrete of the footings of one answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    words : Words
        The reader's units.

    Returns
    -------
    FootingConcrete
        Its pieces.
    """
    stepping = plan.stepping(answer)
    walls = {line.wall.name: line.wall for line in plan.lines}
    runs = []
    for run in stepping.runs:
        wall = walls[run.line]
        width, thick = wall.footing_width, wall.footing_thickness
        formula = f"{words.length(run.end - run.start)} × {words.size(width)} × {words.size(thick)}"
        volume = (run.end - run.start) * width * thick
        runs.append(Piece(words.span(run.line, run.start, run.end), formula, volume))
    legs = []
    for step in stepping.steps:
        wall = walls[step.line]
        leg = plan.rules.leg or wall.footing_thickness
        formula = f"{words.size(step.rise)} × {words.size(leg)} × {words.size(wall.footing_width)}"
        legs.append(Piece(f"leg of step {step.number}, {step.line}", formula, step.concrete))
    ends = ends_of_footings(plan, stepping)
    corners = []
    for first, second, start, end in ends:
        height = min(start.top, end.top) - max(start.bottom, end.bottom)
        gain = corner_of(first, second).area * max(0.0, height)
        corners.append(Piece(_corner(first[0]), OUTSIDE, gain))
    pads, solids = _pads(plan, words)
    shared = [
        Piece(f"{later.name} in {earlier.name}", "poured once", -volume)
        for earlier, later, volume in meetings([*footing_solids(plan, answer), *solids])
    ]
    return FootingConcrete(tuple(runs), tuple(legs), tuple(corners), tuple(shared), pads)


def footing_solids(plan: Plan, answer: str) -> list[Solid]:
    """Bodies of the footings' runs, mitred at the corners.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    list of Solid
        In the order of the runs.
    """
    beside = neighbours(plan)
    solids = []
    for run in plan.stepping(answer).runs:
        wall = plan.line(run.line).wall
        before, after = (_footing_end(other) for other in beside[wall.name])
        _, inner, outer = _sides(wall)
        first = before if run.start < FIT else None
        last = after if run.end > wall.length - FIT else None
        shape = strip(wall, run.start, run.end, inner, outer, first, last)
        name = f"footing of {wall.name}"
        solids.append(Solid(name, wall.part, shape, run.bottom, run.top))
    return solids


def wall_concrete(plan: Plan, answer: str, words: Words) -> WallConcrete:
    """Concrete of the walls of one answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    words : Words
        The reader's units.

    Returns
    -------
    WallConcrete
        Its pieces.
    """
    walls = plan.walls[answer]
    ledges = {ledge.line: ledge for ledge in walls.ledges}
    stretches: list[Piece] = []
    openings: list[Piece] = []
    ledged: list[Piece] = []
    for piece in walls.pieces:
        name = words.span(piece.line, piece.start, piece.end)
        long, high, thick = piece.end - piece.start, piece.top - piece.bottom, piece.thickness
        formula = f"{words.length(long)} × {words.length(high)} × {words.size(thick)}"
        stretches.append(Piece(name, formula, long * high * thick))
        low, high_up = _about_ledge(piece, ledges.get(piece.line))
        for hole in (hole for hole in walls.openings if hole.line == piece.line and hole.kind in THROUGH):
            openings.append(_opening(piece, low, high_up, hole, words))
        if high_up is not None:
            off = (thick - high_up.thickness) * (high_up.end - high_up.start)
            tall = high_up.top - high_up.bottom
            formula = f"{words.length(long)} × {words.length(tall)} × {words.size(thick - high_up.thickness)}"
            ledged.append(Piece(f"over the ledge, {name}", formula, -off * tall))
    corners = []
    for first, second in ends_of_walls(plan, walls.pieces):
        gain = _wall_corner(plan, first, second, ledges)
        corners.append(Piece(_corner(plan.line(first.line).wall), OUTSIDE, gain))
    # A wall also stands in another part's footing where that one's top is higher than its own.
    solids = wall_solids(plan, answer)
    shared = [
        Piece(f"{later.name} in {earlier.name}", "poured once", -volume)
        for earlier, later, volume in meetings([*footing_solids(plan, answer), *solids])
        if later in solids
    ]
    stepping = plan.stepping(answer)
    legs = [leg for step in stepping.steps if (leg := _leg(plan, stepping, step, walls.pieces, words))]
    return WallConcrete(
        tuple(stretches), tuple(openings), tuple(ledged), tuple(legs), tuple(corners), tuple(shared)
    )


def wall_solids(plan: Plan, answer: str) -> list[Solid]:
    """Bodies of the walls' pieces, below and above their ledge, mitred at the corners.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    list of Solid
        In the order of the pieces.
    """
    ledges, beside = {ledge.line: ledge for ledge in plan.walls[answer].ledges}, neighbours(plan)
    solids = []
    for piece in plan.walls[answer].pieces:
        wall, ledge = plan.line(piece.line).wall, ledges.get(piece.line)
        before, after = (
            (other, -other.wall_thickness, 0.0) if other is not None else None for other in beside[wall.name]
        )
        first = before if piece.start < FIT else None
        last = after if piece.end > wall.length - FIT else None
        for body in (body for body in _about_ledge(piece, ledge) if body is not None):
            faces = _faces(piece, ledge, (body.bottom + body.top) / 2)
            shape = strip(wall, piece.start, piece.end, *faces, first, last)
            solids.append(Solid(f"wall {wall.name}", wall.part, shape, body.bottom, body.top))
    return solids


def ends_of_footings(plan: Plan, stepping: Stepping) -> list[tuple[End, End, Run, Run]]:
    """Lines whose footings meet at a corner.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.

    Returns
    -------
    list of tuple
        The line that ends and the one that begins there, each with the sides of its footing [m], and their runs.
    """
    last = {run.line: run for run in stepping.runs}
    first = {run.line: run for run in reversed(stepping.runs)}
    return [
        (_sides(plan.line(name).wall), _sides(after), last[name], first[after.name])
        for name, (_, after) in neighbours(plan).items()
        if after is not None
    ]


def ends_of_walls(plan: Plan, pieces: Sequence[WallPiece]) -> list[tuple[WallPiece, WallPiece]]:
    """Pieces of wall that meet at a corner.

    Parameters
    ----------
    plan : Plan
        The plan.
    pieces : sequence of WallPiece
        The walls' pieces.

    Returns
    -------
    list of tuple
        The piece that ends and the one that begins there; none at a corner where one of them has no concrete.
    """
    found = []
    for name, (_, after) in neighbours(plan).items():
        wall = plan.line(name).wall
        if after is None:
            continue
        first = next((p for p in pieces if p.line == name and p.end > wall.length - FIT), None)
        second = next((p for p in pieces if p.line == after.name and p.start < FIT), None)
        if first is not None and second is not None:
            found.append((first, second))
    return found


def _sides(wall: WallLine) -> End:
    """A wall's footing in plan."""
    return wall, -wall.wall_thickness - wall.projection, wall.projection


def _footing_end(other: WallLine | None) -> End | None:
    return _sides(other) if other is not None else None


def _wall_corner(plan: Plan, first: WallPiece, second: WallPiece, ledges: dict[str, Ledge]) -> float:
    """Volume that a corner corrects, as high as both walls stand there; the rest is the higher wall's alone."""
    low, high = max(first.bottom, second.bottom), min(first.top, second.top)
    levels = {low, high}
    levels |= {ledges[p.line].level for p in (first, second) if p.line in ledges}
    cuts = sorted(level for level in levels if low <= level <= high)
    gain = 0.0
    for bottom, top in zip(cuts, cuts[1:], strict=False):
        ends = [
            (plan.line(piece.line).wall, *_faces(piece, ledges.get(piece.line), (bottom + top) / 2))
            for piece in (first, second)
        ]
        gain += (top - bottom) * corner_of(ends[0], ends[1]).area
    return gain


def _faces(piece: WallPiece, ledge: Ledge | None, level: float) -> tuple[float, float]:
    """Inner and outer face of a wall at a level, outward of its own outer face."""
    if ledge is None or level < ledge.level:
        return -piece.thickness, 0.0
    if ledge.veneer:
        return -piece.thickness, ledge.upper - piece.thickness
    return -ledge.upper, 0.0


def _about_ledge(piece: WallPiece, ledge: Ledge | None) -> tuple[WallPiece | None, WallPiece | None]:
    """What of a piece lies below its ledge, and what above."""
    if ledge is None or ledge.level > piece.top - FIT:
        return piece, None
    upper = replace(piece, bottom=max(piece.bottom, ledge.level), thickness=ledge.upper)
    return (replace(piece, top=ledge.level) if ledge.level > piece.bottom + FIT else None), upper


def _opening(
    piece: WallPiece, low: WallPiece | None, high: WallPiece | None, hole: Opening, words: Words
) -> Piece:
    """What an opening takes out of a piece."""
    out = sum(
        each.thickness * (face_area([each], []) - face_area([each], [hole]))
        for each in (low, high)
        if each is not None
    )
    area = face_area([piece], []) - face_area([piece], [hole])
    formula = f"{words.of(area, 'area')} × {words.size(piece.thickness)}"
    return Piece(f"{hole.kind} {hole.name}", formula, -out)


def _leg(
    plan: Plan, stepping: Stepping, step: FootingStep, pieces: Sequence[WallPiece], words: Words
) -> Piece | None:
    """The leg of a step in the wall over the lower run; none where the lower footing is another line's."""
    wall = plan.line(step.line).wall
    leg = plan.rules.leg or wall.footing_thickness
    side = -1.0 if step.before < step.after else 1.0
    middle = step.station + side * leg / 2
    over = next(
        (p for p in pieces if p.line == step.line and p.start - FIT < middle < p.end + FIT),
        None,
    )
    if over is None or not 0 < middle < wall.length:
        return None
    low = min(step.before, step.after) + wall.footing_thickness
    height = min(over.top, low + step.rise) - max(over.bottom, low)
    if height <= 0:
        return None
    formula = f"{words.size(height)} × {words.size(leg)} × {words.size(over.thickness)}"
    return Piece(f"leg of step {step.number} in the wall", formula, -height * leg * over.thickness)


def _pads(plan: Plan, words: Words) -> tuple[Pieces, list[Solid]]:
    pieces, solids = [], []
    for extra in plan.extras:
        formula = (
            f"{words.length(extra.length)} × {words.length(extra.width)} × {words.size(extra.thickness)}"
        )
        pieces.append(Piece(extra.name, formula, extra.length * extra.width * extra.thickness))
        half = extra.length / 2, extra.width / 2
        shape = shapely.box(
            extra.east - half[0], extra.north - half[1], extra.east + half[0], extra.north + half[1]
        )
        bottom = extra.bottom.level
        solids.append(Solid(extra.name, f"pad {extra.name}", shape, bottom, bottom + extra.thickness))
    return tuple(pieces), solids


def _corner(wall: WallLine) -> str:
    return f"corner {wall.end} of {wall.part}"
