"""Slabs and what lies under them: concrete, stone, vapor retarder."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foundation.model.takeoff import Piece
from foundation.money.quantities import strips
from foundation.plan.section_standing import STONE
from foundation.plan.takeoff_floors import EDGE, FloorShape
from foundation.plan.takeoff_words import AREA, VOLUME, Drawn, Words, by_name


def slab_pieces(floor: FloorShape, words: Words) -> tuple[Piece, ...]:
    """Concrete of a floor's slab.

    Parameters
    ----------
    floor : FloorShape
        The floor.
    words : Words
        The reader's units.

    Returns
    -------
    tuple of Piece
        Between the walls, and over walls that are lowered for a door. [m³]
    """
    thick = floor.part.slab_thickness
    area = floor.slab.area
    pieces = [
        Piece(f"slab of {floor.part.name}", f"{words.of(area, AREA)} × {words.size(thick)}", area * thick)
    ]
    for side in floor.sides:
        over = side.block("slab over the wall") if side.own else None
        if over is None:
            continue
        edge = side.block(EDGE)
        width = over.right - over.left - (edge.right - edge.left if edge is not None else 0.0)
        tall = over.top - over.bottom
        name = (
            f"over the wall at the door, {words.span(side.wall.name, side.stretch.start, side.stretch.end)}"
        )
        formula = f"{words.length(side.length)} × {words.size(width)} × {words.size(tall)}"
        pieces.append(Piece(name, formula, side.length * width * tall))
    return by_name(pieces)


def stone_pieces(floor: FloorShape, words: Words) -> tuple[Piece, ...]:
    """Clean stone under a slab.

    Parameters
    ----------
    floor : FloorShape
        The floor.
    words : Words
        The reader's units.

    Returns
    -------
    tuple of Piece
        Between the footings, and what lies over them. [m³]
    """
    part = floor.part
    thick = part.stone_over_footing or STONE
    bands = [(side, band) for side in floor.sides if side.own and (band := side.over_footing) is not None]
    open_floor = floor.inside.difference(shapely.union_all([band for _, band in bands]))
    ledges = [ledge for side in floor.sides if side.own and (ledge := side.on_ledge) is not None]
    open_floor = open_floor.difference(shapely.union_all(ledges))
    area = open_floor.area
    pieces = [
        Piece(f"under the slab of {part.name}", f"{words.of(area, AREA)} × {words.size(thick)}", area * thick)
    ]
    seen: BaseGeometry = Polygon()
    for side, band in bands:
        over = side.section.floor - part.slab_thickness - part.foam_over_footing - side.footing_top
        area = band.intersection(floor.inside).difference(seen).area
        seen = seen.union(band)
        name = f"over the footing, {words.span(side.wall.name, side.stretch.start, side.stretch.end)}"
        pieces.append(Piece(name, f"{words.of(area, AREA)} × {words.size(over)}", area * max(0.0, over)))
    return by_name(pieces)


def retarder(floors: Sequence[FloorShape], roll: float, lap: float, words: Words) -> Drawn:
    """Vapor retarder under slabs, in strips off the roll with their laps.

    Parameters
    ----------
    floors : sequence of FloorShape
        The floors that have one.
    roll : float
        Width of the roll. [m]
    lap : float
        How far strips lap. [m]
    words : Words
        The reader's units.

    Returns
    -------
    Drawn
        Strips run the long way of each floor.
    """
    pieces = [
        Piece(f"floor of {floor.part.name}", words.of(floor.inside.area, AREA), floor.inside.area)
        for floor in floors
    ]
    order, told = 0.0, []
    for floor in floors:
        long, short = sides_of(floor.inside)
        count = strips(short, roll, lap)
        order += count * long * roll
        told.append(f"{count} strip{'s' if count > 1 else ''} of {words.length(long)}")
    said = f"{', '.join(told)} off a roll {words.length(roll)} wide"
    return Drawn(
        "retarder",
        "under the slab",
        "slabs",
        "vapor retarder",
        AREA,
        order,
        said,
        f"floors between the walls; strips the long way, laps {words.size(lap)}",
        by_name(pieces),
        "retarder",
    )


def stone(floors: Sequence[FloorShape], waste: float, words: Words) -> Drawn:
    """Clean stone under all slabs.

    Parameters
    ----------
    floors : sequence of FloorShape
        The floors.
    waste : float
        Over what is drawn. [-]
    words : Words
        The reader's units.

    Returns
    -------
    Drawn
        With its waste.
    """
    pieces = [piece for floor in floors for piece in stone_pieces(floor, words)]
    order = sum(piece.quantity for piece in pieces) * (1 + waste)
    return Drawn(
        "stone-slab",
        "under the slab",
        "slabs",
        "clean stone under slabs",
        VOLUME,
        order,
        words.of(order, VOLUME),
        f"area × thickness, and {waste:.0%} waste",
        tuple(pieces),
        "stone",
    )


def sides_of(shape: BaseGeometry) -> tuple[float, float]:
    """Sides of the smallest rectangle round a shape, turned as it lies.

    Parameters
    ----------
    shape : geometry
        The shape. [m]

    Returns
    -------
    tuple of float
        The longer and the shorter. [m]
    """
    corners = list(shapely.minimum_rotated_rectangle(shape).exterior.coords)
    first, second = (shapely.Point(corners[i]).distance(shapely.Point(corners[i + 1])) for i in (0, 1))
    return max(first, second), min(first, second)
