"""The concrete of a wall, cut into pieces of one height."""

from __future__ import annotations

from collections.abc import Sequence

from foundation.model.concrete import Opening, TopOfWall, WallPiece
from foundation.model.walls import Run, WallLine
from foundation.walls.openings import SLACK, THROUGH, lowers_wall
from foundation.walls.panels import stack

FIT = 1e-6
"""Levels and lengths closer than a micrometre are equal. [m]"""


def pieces_of(
    wall: WallLine,
    runs: Sequence[Run],
    top: TopOfWall | None,
    openings: Sequence[Opening],
    panels: Sequence[float],
    over: float = 0.0,
) -> tuple[WallPiece, ...]:
    """Stretches of one height: cut at footing steps, where the top drops, and beside overhead doors.

    Other openings cut no piece: the forms run on past them.

    Parameters
    ----------
    wall : WallLine
        The wall line.
    runs : sequence of Run
        Its footing, in order.
    top : TopOfWall or None
        Where it may drop to a framed wall, and does.
    openings : sequence of Opening
        Its openings.
    panels : sequence of float
        Heights of the form panels. [m]
    over : float
        How far panels may stand above the pour line to save a filler. [m]

    Returns
    -------
    tuple of WallPiece
        In order of station; a stretch without height has none.
    """
    drop = (top.drop_from, top.drop_to, top.low_top) if top is not None else (None, None, 0.0)
    cuts = {0.0, wall.length, *(run.end for run in runs)}
    cuts |= {station for station in drop[:2] if station is not None}
    cuts |= {side for door in openings if door.kind == "overhead door" for side in (door.start, door.end)}
    places = sorted(cut for cut in cuts if -FIT < cut < wall.length + FIT)
    stretches: list[list[float]] = []
    for start, end in zip(places, places[1:], strict=False):
        if end - start < FIT:
            continue
        middle = (start + end) / 2
        footing = next(run.top for run in runs if run.end > middle)
        concrete = _top_at(middle, wall.wall_top, drop, openings)
        before = stretches[-1] if stretches else None
        if before and abs(before[2] - footing) < FIT and abs(before[3] - concrete) < FIT:
            before[1] = end
        else:
            stretches.append([start, end, footing, concrete])
    found = []
    for start, end, bottom, concrete in stretches:
        if concrete - bottom < SLACK:
            continue
        forms = stack(concrete - bottom, panels, over)
        found.append(
            WallPiece(
                wall.name, start, end, bottom, concrete, wall.wall_thickness,
                forms.panels, forms.filler, forms.over,
            )
        )  # fmt: skip
    return tuple(found)


def _top_at(
    station: float,
    full_top: float,
    drop: tuple[float | None, float | None, float],
    openings: Sequence[Opening],
) -> float:
    start, end, low_top = drop
    top = low_top if start is not None and end is not None and start <= station <= end else full_top
    under = [each.bottom for each in openings if each.start <= station <= each.end and lowers_wall(each, top)]
    return min([top, *under])


def face_area(pieces: Sequence[WallPiece], openings: Sequence[Opening]) -> float:
    """Area of one face of a line's concrete, what goes through the wall taken out.

    Parameters
    ----------
    pieces : sequence of WallPiece
        Pieces of one wall line.
    openings : sequence of Opening
        Its openings, none overlapping another; doors, windows, overhead doors and sleeves are taken out, beam
        pockets are not: they do not go through.

    Returns
    -------
    float
        Area. [m²]
    """
    area = 0.0
    for piece in pieces:
        area += (piece.end - piece.start) * (piece.top - piece.bottom)
        for hole in openings:
            if hole.kind in THROUGH:
                along = min(piece.end, hole.end) - max(piece.start, hole.start)
                up = min(piece.top, hole.top) - max(piece.bottom, hole.bottom)
                area -= max(0.0, along) * max(0.0, up)
    return area
