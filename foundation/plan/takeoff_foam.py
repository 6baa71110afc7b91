"""Foam in whole sheets, by place: what the sections show, cut into pieces that sheets make, cut-offs used again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from foundation.model.concrete import Opening
from foundation.model.takeoff import Piece
from foundation.model.walls import WallLine
from foundation.packing.sheets import Cut, Sheet, cut_sheets, tiles
from foundation.plan.result import Plan
from foundation.plan.section_foam import LineFoam, line_foam
from foundation.plan.takeoff_concrete import footing_solids
from foundation.plan.takeoff_floors import EDGE, FloorShape, Side, foam_regions
from foundation.plan.takeoff_shapes import End, neighbours, strip
from foundation.plan.takeoff_words import AREA, Drawn, Words
from foundation.project.schema_heat import FoamLayer
from foundation.walls.openings import SHOWS_THROUGH

FIT = 1e-6
"""Stations and levels closer than a micrometre are equal. [m]"""
SLIVER = 0.005
"""Strips narrower than this are not cut. [m]"""
COVERED = 6 * 0.0254
"""Foam outside is covered down to this depth below grade, model code [read]. [m]"""
PLACES = {
    "wall-outside": "on walls, outside",
    "wall-inside": "on walls, inside",
    "slab-edge": "at slab edges",
    "under-slab": "under slabs",
    "under-footing": "under footings",
    "wing": "wings in the ground",
}
"""Places of foam, in the reader's words."""


@dataclass(eq=False)
class Laid:
    """Foam of one place, board and thickness.

    Attributes
    ----------
    pieces : list of Piece
        What is covered. [m²]
    upright : list of tuple
        Rectangles to cover: where, along and across. [m]
    lying : list of tuple
        Shapes in plan to cover: where, and the shape. [m]
    """

    pieces: list[Piece] = field(default_factory=list)
    upright: list[tuple[str, float, float]] = field(default_factory=list)
    lying: list[tuple[str, BaseGeometry]] = field(default_factory=list)


Array = NDArray[np.float64]
Corners = Mapping[str, tuple[WallLine | None, WallLine | None]]
"""For each line the ones that it meets at its two ends."""
Key = tuple[str, str, float]
"""Place, board and thickness [m]."""


def foam_laid(
    plan: Plan, answer: str, floors: Sequence[FloorShape], words: Words
) -> tuple[Mapping[Key, Laid], Piece]:
    """All foam of one answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    floors : sequence of FloorShape
        Its floors.
    words : Words
        The reader's units.

    Returns
    -------
    laid : mapping of tuple to Laid
        By place, board and thickness.
    cover : Piece
        Foam outside that shows, down to 6 in below grade. [m²]
    """
    laid: dict[Key, Laid] = {}

    def at(place: str, board: str, thickness: float) -> Laid:
        return laid.setdefault((place, board, round(thickness, 4)), Laid())

    cover = 0.0
    corners = neighbours(plan)
    sides = [side for floor in floors for side in floor.sides if side.own]
    for side in sides:
        foam, where = _foam_of(side), words.span(side.wall.name, side.stretch.start, side.stretch.end)
        if foam.outside is not None:
            outside = at("wall-outside", foam.outside.board, foam.outside.thickness)
            cover += _wall_outside(plan, answer, side, foam, outside, words)
        if foam.inside is not None:
            _wall_inside(
                side, foam.inside, at("wall-inside", foam.inside.board, foam.inside.thickness), words
            )
        for name in (EDGE, "foam at the edge of the slab beyond"):
            block = side.block(name)
            if block is not None:
                edge = at("slab-edge", block.material.name, block.right - block.left)
                high = block.top - block.bottom
                formula = f"{words.length(side.length)} × {words.size(high)}"
                edge.pieces.append(Piece(where, formula, side.length * high))
                edge.upright.append((where, side.length, high))
        if foam.wing is not None:
            wing = at("wing", foam.wing.board, foam.wing.thickness)
            shape = _wing(side, sides, corners)
            wing.pieces.append(Piece(where, words.of(shape.area, AREA), shape.area))
            wing.lying.append((where, shape))
    for floor in floors:
        for (board, thickness), shape in foam_regions(floor).items():
            under = at("under-slab", board, thickness)
            under.pieces.append(Piece(f"floor of {floor.part.name}", words.of(shape.area, AREA), shape.area))
            under.lying.append((f"floor of {floor.part.name}", shape))
    parts = {part.name: part for part in plan.project.parts}
    for solid in footing_solids(plan, answer):
        under_footing = parts[solid.owner].foam.under_footing
        if under_footing is not None:
            below = at("under-footing", under_footing.board, under_footing.thickness)
            below.pieces.append(Piece(solid.name, words.of(solid.plan.area, AREA), solid.plan.area))
            below.lying.append((solid.name, solid.plan))
    return laid, Piece("foam outside that shows", "from its top to 6 in below grade", cover)


def foam_items(
    plan: Plan, answer: str, floors: Sequence[FloorShape], words: Words
) -> tuple[list[Drawn], dict[str, tuple[Sheet, ...]]]:
    """Foam to order, and how its sheets are cut.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    floors : sequence of FloorShape
        Its floors.
    words : Words
        The reader's units.

    Returns
    -------
    items : list of Drawn
        Sheets by place, board and thickness; laying, and cover of what shows.
    sheets : dict of str to tuple of Sheet
        Cutting of each, by the item's key.
    """
    waste = plan.project.waste
    long, wide = max(waste.sheet_length, waste.sheet_width), min(waste.sheet_length, waste.sheet_width)
    laid, cover = foam_laid(plan, answer, floors, words)
    items, cutting = [], {}
    for (place, board, thickness), each in laid.items():
        key = f"foam-{place}-{board}-{thickness * 1000:.0f}".replace(" ", "-").lower()
        sheets = sheets_of(each, long, wide)
        cutting[key] = sheets
        order = len(sheets) * long * wide
        said = f"{len(sheets)} sheets {_sheet(plan, words)}, {words.size(thickness)}"
        formula = (
            "each surface laid in whole sheets from one corner; the rest cut from sheets and their cut-offs"
        )
        items.append(
            Drawn(
                key,
                "foam",
                _pour(place),
                f"{board} {words.size(thickness)}, {PLACES[place]}",
                AREA,
                order,
                said,
                formula,
                tuple(each.pieces),
                "board",
                board,
                thickness,
            )
        )
    if items:
        pieces = tuple(Piece(item.what, item.order_words, item.quantity) for item in items)
        total = sum(piece.quantity for piece in pieces)
        said = words.of(total, AREA)
        items.append(
            Drawn(
                "foam-laying",
                "foam",
                "",
                "laying or fixing foam",
                AREA,
                total,
                said,
                "area of each layer",
                pieces,
                "laying",
            )
        )
    if cover.quantity > FIT:
        said = words.of(cover.quantity, AREA)
        items.append(
            Drawn(
                "foam-cover",
                "foam",
                "",
                "cover of foam outside that shows",
                AREA,
                cover.quantity,
                said,
                cover.formula,
                (cover,),
                "cover",
            )
        )
    return items, cutting


def sheets_of(laid: Laid, long: float, wide: float) -> tuple[Sheet, ...]:
    """Sheets that foam of one kind takes, the long way of the boards along or across, whichever takes fewer.

    Parameters
    ----------
    laid : Laid
        What is covered.
    long, wide : float
        Sides of a sheet. [m]

    Returns
    -------
    tuple of Sheet
        The sheets with their cuts.
    """
    best: tuple[Sheet, ...] | None = None
    for along, across in ((long, wide), (wide, long)):
        cuts = [
            cut
            for where, length, height in laid.upright
            for cut in tiles(where, length, height, along, across)
        ]
        cuts += [cut for where, shape in laid.lying for cut in _over(where, shape, along, across)]
        cuts = [cut for cut in cuts if min(cut.length, cut.width) > SLIVER]
        sheets = cut_sheets(cuts, long, wide)
        if best is None or len(sheets) < len(best):
            best = sheets
    return best or ()


def _over(where: str, shape: BaseGeometry, along: float, across: float) -> Iterator[Cut]:
    """Sheets laid over a shape, courses along its longer side from one corner; what hangs over is cut off."""
    box = np.array(shapely.minimum_rotated_rectangle(shape).exterior.coords)
    edges = np.diff(box[:3], axis=0)
    way = edges[int(np.argmax(np.hypot(*edges.T)))]
    turned = affinity.rotate(shape, -float(np.arctan2(way[1], way[0])), origin=(0.0, 0.0), use_radians=True)
    west, south, east, north = turned.bounds
    columns, rows = np.arange(west, east - SLIVER, along), np.arange(south, north - SLIVER, across)
    cells = shapely.box(
        *np.broadcast_arrays(*np.ix_(columns, rows), columns[:, None] + along, rows[None, :] + across)
    )
    for piece in shapely.get_parts(shapely.intersection(cells, turned).ravel()):
        left, low, right, high = piece.bounds if piece.area > FIT else (0.0,) * 4
        if min(right - left, high - low) > SLIVER:
            yield Cut(where, min(right - left, along), min(high - low, across))


def _foam_of(side: Side) -> LineFoam:
    line = side.line
    return line_foam(line.inside, line.sizes, line.shared)


def _wall_outside(plan: Plan, answer: str, side: Side, foam: LineFoam, laid: Laid, words: Words) -> float:
    """Foam on a wall's outer face, doors and windows left out; how much of it shows. [m²]"""
    block = side.block("foam outside")
    footing = side.block("footing")
    if block is None or footing is None:
        return 0.0
    wall, top, shown = side.wall, block.top, 0.0
    holes = [
        hole for hole in plan.walls[answer].openings if hole.line == wall.name and hole.kind in SHOWS_THROUGH
    ]
    whole = side.stretch
    pieces = list(side.line.by_grade(whole)) if foam.outside_depth is not None else [whole]
    cuts = {piece.start for piece in pieces} | {whole.end}
    cuts |= {x for h in holes for x in (h.start, h.end) if whole.start < x < whole.end}
    stations = sorted(cuts)
    for start, end in zip(stations, stations[1:], strict=False):
        if end - start < SLIVER:
            continue
        at, grade = _grade_along(side, start, end)
        low = np.full(len(at), footing.top)
        if foam.outside_depth is not None:
            low = np.maximum(low, grade - foam.outside_depth)
        middle = (start + end) / 2
        for bottom, high in _between(low, top, [h for h in holes if h.start < middle < h.end]):
            area = float(np.trapezoid(high - bottom, at))
            if area < FIT:
                continue
            shown += float(np.trapezoid(np.maximum(0.0, high - np.maximum(bottom, grade - COVERED)), at))
            where, tall = words.span(wall.name, start, end), float((high - bottom).max())
            formula = f"{words.length(end - start)} × {words.length(area / (end - start))}"
            laid.pieces.append(Piece(where, formula, area))
            laid.upright.append((where, end - start, tall))
    return shown if side.line.face is not None else 0.0


def _between(low: Array, top: float, holes: Sequence[Opening]) -> Iterator[tuple[Array, Array]]:
    """What doors and windows leave of a wall's face, from its foot up."""
    foot = low
    for hole in sorted(holes, key=lambda each: each.bottom):
        yield foot, np.maximum(foot, min(hole.bottom, top))
        foot = np.maximum(foot, min(hole.top, top))
    yield foot, np.maximum(foot, top)


def _grade_along(side: Side, start: float, end: float) -> tuple[Array, Array]:
    if side.line.face is None:
        level = side.line.grade_at(start)
        return np.array([start, end]), np.array([level, level])
    station, grade = side.line.face
    inner = station[(station > start + FIT) & (station < end - FIT)]
    at = np.concatenate([[start], inner, [end]])
    return at, np.interp(at, station, grade)


def _wall_inside(side: Side, layer: FoamLayer, laid: Laid, words: Words) -> None:
    where = words.span(side.wall.name, side.stretch.start, side.stretch.end)
    for block in (block for block in side.section.blocks if block.name == "foam inside"):
        high = block.top - block.bottom
        laid.pieces.append(
            Piece(where, f"{words.length(side.length)} × {words.length(high)}", side.length * high)
        )
        laid.upright.append((where, side.length, high))


def _wing(side: Side, sides: Sequence[Side], corners: Corners) -> BaseGeometry:
    """Plan of a wing, mitred with the wings round the corners."""

    def reach(other: Side) -> tuple[float, float] | None:
        block = other.block("wing")
        if block is None:
            return None
        low, high = sorted((other.out(block.left), other.out(block.right)))
        return low, high

    def end(wall: WallLine | None, last: bool) -> End | None:
        own = [other for other in sides if wall is not None and other.wall.name == wall.name]
        beside = reach(own[-1 if last else 0]) if own else None
        return (own[0].wall, *beside) if beside is not None else None

    found = reach(side)
    if found is None:
        return shapely.Polygon()
    (before, after), stretch = corners[side.wall.name], side.stretch
    first = end(before, True) if stretch.start < FIT else None
    last = end(after, False) if stretch.end > side.wall.length - FIT else None
    return strip(side.wall, stretch.start, stretch.end, *found, first, last)


def _pour(place: str) -> str:
    return {
        "wall-outside": "walls",
        "wall-inside": "walls",
        "under-footing": "footings",
        "wing": "walls",
    }.get(place, "slabs")


def _sheet(plan: Plan, words: Words) -> str:
    waste = plan.project.waste
    sides = sorted((waste.sheet_length, waste.sheet_width))
    return " × ".join(words.length(side) for side in sides)
