"""Areas of walls against polygons: elevation of the concrete, minus openings, minus soil (shapely)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given

from foundation.model.concrete import WallPiece
from foundation.model.ground import Profile
from foundation.walls.bare import bare_concrete
from foundation.walls.pieces import face_area, pieces_of
from foundation.walls.top import GradedLine, tops_of
from tests.walls.walls import FOOT, HEIGHTS, INCH, Lot, inches, lots, opening, reversed_lot, run, wall_line

DEEP = -50.0


def box(each: object) -> shapely.Polygon:
    return shapely.box(each.start, each.bottom, each.end, each.top)  # type: ignore[attr-defined]


def concrete(lot: Lot) -> shapely.Geometry:
    """The elevation drawn independently: full wall down to the footing, less what overhead doors take away."""
    solid = shapely.union_all([shapely.box(r.start, r.top, r.end, lot.wall.wall_top) for r in lot.runs])
    for door in lot.openings:
        if door.kind == "overhead door" and door.top > lot.wall.wall_top - 1e-9:
            solid = solid.difference(shapely.box(door.start, door.bottom, door.end, 99.0))
    return solid


def soil(profile: Profile) -> shapely.Polygon:
    line = list(zip(profile.station, profile.grade, strict=True))
    return shapely.Polygon([(line[0][0], DEEP), *line, (line[-1][0], DEEP)])


def pieces(lot: Lot) -> tuple[WallPiece, ...]:
    return pieces_of(lot.wall, lot.runs, None, lot.openings, HEIGHTS)


def holes(lot: Lot, *kinds: str) -> shapely.Geometry:
    return shapely.union_all([box(each) for each in lot.openings if each.kind in kinds])


@given(lot=lots())
def test_pieces_are_the_elevation(lot: Lot) -> None:
    found = pieces(lot)
    drawn = shapely.union_all([box(piece) for piece in found])
    assert drawn.symmetric_difference(concrete(lot)).area == pytest.approx(0.0, abs=1e-6)
    assert drawn.area == pytest.approx(sum(box(piece).area for piece in found), abs=1e-9)
    for piece in found:
        formed = sum(piece.panels) + piece.filler - piece.over
        assert formed == pytest.approx(piece.top - piece.bottom, abs=INCH / 16 + 1e-9)
    for before, after in zip(found, found[1:], strict=False):
        assert (before.bottom, before.top) != (after.bottom, after.top) or before.end < after.start - 1e-9


@given(lot=lots())
def test_face_area(lot: Lot) -> None:
    through = holes(lot, "door", "window", "overhead door", "sleeve")
    expected = concrete(lot).difference(through).area
    assert face_area(pieces(lot), lot.openings) == pytest.approx(expected, abs=1e-9)


@given(lot=lots())
def test_bare_area_and_height(lot: Lot) -> None:
    station = inches(lot.wall.length)
    bare = bare_concrete("A-B", station, lot.grade, pieces(lot), lot.openings)
    shows = (
        concrete(lot).difference(holes(lot, "door", "window", "overhead door")).difference(soil(lot.grade))
    )
    assert bare.area == pytest.approx(shows.area, abs=1e-8)
    for x, height in list(zip(station, bare.height, strict=True))[1:-1:17]:
        cuts = [
            shapely.LineString([(x + side, DEEP), (x + side, 99.0)]).intersection(shows).length
            for side in (-1e-7, 1e-7)
        ]
        assert height == pytest.approx(max(cuts), abs=1e-4)


@given(lot=lots())
def test_the_same_from_the_other_end(lot: Lot) -> None:
    station = inches(lot.wall.length)
    back = reversed_lot(lot)
    there = bare_concrete("A-B", station, lot.grade, pieces(lot), lot.openings)
    again = bare_concrete("A-B", station, back.grade, pieces(back), back.openings)
    assert again.area == pytest.approx(there.area, abs=1e-9)
    assert again.height[::-1] == pytest.approx(there.height, abs=1e-5)
    assert len(pieces(back)) == len(pieces(lot))
    for one, other in zip(pieces(lot), pieces(back)[::-1], strict=True):
        assert (one.bottom, one.top, one.panels) == (other.bottom, other.top, other.panels)
        assert other.end == pytest.approx(lot.wall.length - one.start, abs=1e-9)


def test_a_dropped_wall_by_hand() -> None:
    """20 ft of 8 ft wall, footing step at 12 ft, dropped from 13'-4" on to 2 ft over the upper footing [derived]."""
    wall = wall_line(20 * FOOT, 104 * FOOT)
    runs = (run(0, 12 * FOOT, 96 * FOOT), run(12 * FOOT, 20 * FOOT, 94 * FOOT))
    grade = Profile(np.array([0.0, 20]) * FOOT, np.array([100.0, 96.0]) * FOOT)
    (top,) = tops_of([GradedLine("A-B", inches(wall.length), grade)], wall.wall_top, 98 * FOOT, 8 * INCH)
    found = pieces_of(wall, runs, top, (), HEIGHTS)
    cuts = [[round(v / FOOT, 4) for v in (p.start, p.end, p.bottom, p.top)] for p in found]
    assert cuts == [[0, 12, 96, 104], [12, 13.3333, 94, 104], [13.3333, 20, 94, 98]]
    assert [[round(p / FOOT) for p in piece.panels] for piece in found] == [[8], [8, 2], [4]]


def test_openings_that_cut_and_that_do_not() -> None:
    wall = wall_line(10.0, 3.0)
    whole = (run(0.0, 10.0, 0.0),)
    tall = opening("overhead door", 2.0, 6.0, 0.5, 3.5)
    found = pieces_of(wall, whole, None, (tall,), HEIGHTS)
    assert [(p.start, p.end, p.top) for p in found] == [(0.0, 2.0, 3.0), (2.0, 6.0, 0.5), (6.0, 10.0, 3.0)]
    # A door under a wall that goes on over it is a hole; so is any other opening.
    for hole in (replace(tall, top=2.5), replace(tall, kind="door"), replace(tall, kind="window")):
        (piece,) = pieces_of(wall, whole, None, (hole,), HEIGHTS)
        assert face_area([piece], [hole]) == pytest.approx(30.0 - 4.0 * (min(hole.top, 3.0) - 0.5))
    pocket = opening("beam pocket", 1.0, 1.2, 2.7, 3.0)
    assert face_area(found[:1], [pocket]) == pytest.approx(6.0)
