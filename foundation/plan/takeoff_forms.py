"""Forms: area of contact, panels by size, fillers, and the steps' hand work."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from foundation.model.concrete import WallPiece
from foundation.model.takeoff import Piece
from foundation.plan.result import Plan
from foundation.plan.takeoff_concrete import ends_of_footings, ends_of_walls
from foundation.plan.takeoff_shapes import corner_of
from foundation.plan.takeoff_words import AREA, NUMBER, Drawn, Words, by_name
from foundation.walls.openings import THROUGH
from foundation.walls.pieces import face_area

Pieces = tuple[Piece, ...]
FIT = 1e-6
"""Stations closer than a micrometre are equal. [m]"""


def form_items(plan: Plan, answer: str, words: Words) -> list[Drawn]:
    """Everything of the forms.

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
    list of Drawn
        Area of contact of walls and footings, panels by size, fillers, steps.
    """
    faces, corners = wall_forms(plan, answer, words)
    found = [
        _area("forms-walls", "walls", "wall forms, area of contact", (*faces, *corners), words),
        _area(
            "forms-footings",
            "footings",
            "footing forms, area of contact",
            footing_forms(plan, answer, words),
            words,
        ),
        *_panels(plan, answer, words),
    ]
    steps = [
        Piece(f"step {s.number}, {s.line} {words.length(s.station)}", words.size(s.rise), 1.0)
        for s in plan.stepping(answer).steps
    ]
    count = float(len(steps))
    found.append(
        Drawn(
            "steps",
            "forms",
            "footings",
            "footing steps: bulkhead, layout, hand work",
            NUMBER,
            count,
            f"{len(steps)} steps",
            "each step of the stepping",
            tuple(steps),
            "step",
        )
    )
    return [each for each in found if each.pieces]


def wall_forms(plan: Plan, answer: str, words: Words) -> tuple[Pieces, Pieces]:
    """Forms of the walls: both faces along the outside of concrete, and what corners save.

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
    faces : tuple of Piece
        Both faces of each piece, and what openings take out. [m²]
    corners : tuple of Piece
        Inner faces that are shorter than the outer ones, or longer at inside corners. [m²]
    """
    walls = plan.walls[answer]
    faces = []
    for piece in walls.pieces:
        name = words.span(piece.line, piece.start, piece.end)
        long, high = piece.end - piece.start, piece.top - piece.bottom
        faces.append(Piece(name, f"2 × {words.length(long)} × {words.length(high)}", 2 * long * high))
        for hole in (hole for hole in walls.openings if hole.line == piece.line and hole.kind in THROUGH):
            out = face_area([piece], []) - face_area([piece], [hole])
            faces.append(Piece(f"{hole.kind} {hole.name}", f"2 × {words.of(out, AREA)}", -2 * out))
    corners = []
    for first, second in ends_of_walls(plan, walls.pieces):
        wall, after = plan.line(first.line).wall, plan.line(second.line).wall
        longer = corner_of((wall, -first.thickness, 0.0), (after, -second.thickness, 0.0)).inner
        high = min(first.top, second.top) - max(first.bottom, second.bottom)
        formula = f"{words.length(longer)} of inner face × {words.length(high)}"
        corners.append(Piece(f"corner {wall.end} of {wall.part}", formula, longer * max(0.0, high)))
    return by_name(faces), by_name(corners)


def footing_forms(plan: Plan, answer: str, words: Words) -> Pieces:
    """Forms along both sides of the footings.

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
    tuple of Piece
        Runs, corners and pads; legs are cast against their bench, and their bulkheads are in the price of a step. [m²]
    """
    stepping = plan.stepping(answer)
    pieces = []
    for run in stepping.runs:
        long, thick = run.end - run.start, run.top - run.bottom
        formula = f"2 × {words.length(long)} × {words.size(thick)}"
        pieces.append(Piece(words.span(run.line, run.start, run.end), formula, 2 * long * thick))
    for first, second, end, start in ends_of_footings(plan, stepping):
        corner = corner_of(first, second)
        high = min(end.top, start.top) - max(end.bottom, start.bottom)
        longer = corner.inner + corner.outer
        formula = f"{words.length(longer)} × {words.size(high)}"
        wall = first[0]
        pieces.append(Piece(f"corner {wall.end} of {wall.part}", formula, longer * max(0.0, high)))
    for extra in plan.extras:
        round_it = 2 * (extra.length + extra.width)
        formula = f"{words.length(round_it)} × {words.size(extra.thickness)}"
        pieces.append(Piece(extra.name, formula, round_it * extra.thickness))
    return by_name(pieces)


def panel_counts(plan: Plan, answer: str) -> tuple[Counter[tuple[float, float]], float]:
    """Form panels by height and width, both faces, and the area that fillers close.

    A column of panels stands over its widest stretch of wall height; where a wall changes height within a column, the
    taller stack is set.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    counts : Counter
        For each height and width how many. [-]
    filler : float
        Area of fillers. [m²]
    """
    walls = plan.walls[answer]
    counts: Counter[tuple[float, float]] = Counter()
    filler = 0.0
    for row in walls.rows:
        pieces = [piece for piece in walls.pieces if piece.line == row.line]
        start = 0.0
        for width in row.widths:
            tallest = _tallest(pieces, start, start + width)
            for high in tallest.panels if tallest is not None else ():
                counts[round(high, 6), round(width, 6)] += 2
            start += width
        filler += sum(2 * piece.filler * (piece.end - piece.start) for piece in pieces)
        if row.filler > 0 and (last := _tallest(pieces, start, start + row.filler)) is not None:
            filler += 2 * row.filler * (last.top - last.bottom - last.filler)
    return counts, filler


def _tallest(pieces: Sequence[WallPiece], start: float, end: float) -> WallPiece | None:
    here = [piece for piece in pieces if piece.start < end - FIT and piece.end > start + FIT]
    return max(here, key=lambda piece: sum(piece.panels), default=None)


def _panels(plan: Plan, answer: str, words: Words) -> list[Drawn]:
    counts, filler = panel_counts(plan, answer)
    found = []
    for (high, wide), count in sorted(counts.items(), reverse=True):
        size = f"{words.length(high)} × {words.length(wide)}"
        found.append(
            Drawn(
                f"panels-{high / 0.0254:.0f}-{wide / 0.0254:.0f}",
                "forms",
                "walls",
                f"form panels {size}",
                NUMBER,
                float(count),
                f"{count} panels {size}",
                "both faces of every column that has one; reused, not bought",
                (Piece(f"panels {size}", "both faces", float(count)),),
                "",
            )
        )
    if filler > FIT:
        found.append(
            Drawn(
                "fillers",
                "forms",
                "walls",
                "fillers between panels",
                AREA,
                filler,
                words.of(filler, AREA),
                "height and length that whole panels leave, both faces",
                (Piece("fillers", "both faces", filler),),
                "",
            )
        )
    return found


def _area(key: str, pour: str, what: str, pieces: Pieces, words: Words) -> Drawn:
    total = sum(piece.quantity for piece in pieces)
    formula = "length × height of each side, along the outside of concrete, with what corners change"
    return Drawn(key, "forms", pour, what, AREA, total, words.of(total, AREA), formula, pieces, "forms")
