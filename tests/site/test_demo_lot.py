"""The demo lot against the table that came with it.

The lot and all its numbers are invented; the table of corner grades was worked out by hand beside the shots,
with a second interpolator, to 0.01 ft. So this is a regression test against an answer made elsewhere, not against
a publication.
"""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from foundation.model.ground import ShotKind
from foundation.site.checks import check_corners, check_walls
from foundation.site.profile import fall_away, gaps, profile_along
from foundation.site.shots import read_shots
from foundation.site.terrain import corner_grades, existing_surface, finished_surface
from tests.site.lot import CORNERS, FOOT, PARTS, demo_shots, demo_text, only

TABLE = {  # corner: existing, finished [ft]
    "A": (212.38, 213.83),
    "B": (212.69, 213.83),
    "E": (213.41, 213.85),
    "F": (213.15, 213.70),
    "G": (210.56, 209.90),
    "H": (210.01, 209.95),
    "C": (206.95, 205.45),
    "D": (206.68, 205.40),
}
HALF_DIGIT = 0.005  # of the table [ft]
SHOTS = demo_shots()
GROUND = [index for index, kind in enumerate(SHOTS.kind) if kind not in (ShotKind.MARK, ShotKind.STREET)]


def test_corner_grades_are_the_tables() -> None:
    existing, problems = existing_surface(SHOTS, FOOT)
    finished, more = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    assert not problems
    assert not more
    for surface, column in ((existing, 0), (finished, 1)):
        grades = corner_grades(surface, CORNERS, FOOT)
        found = [grades[corner] / FOOT for corner in TABLE]
        np.testing.assert_allclose(found, [row[column] for row in TABLE.values()], rtol=0, atol=HALF_DIGIT)


@pytest.mark.parametrize(("kind", "moved"), [(ShotKind.STREET, {"E"}), (ShotKind.MARK, {"E", "F"})])
def test_marks_and_street_lie_on_neither_surface(kind: ShotKind, moved: set[str]) -> None:
    """Taken as ground, either kind would move corners off the table: existing ground is EG and TIE alone."""
    kinds = tuple(ShotKind.EXISTING if each is kind else each for each in SHOTS.kind)
    existing, _ = existing_surface(dataclasses.replace(SHOTS, kind=kinds), FOOT)
    grades = corner_grades(existing, CORNERS, FOOT)
    assert {corner for corner, row in TABLE.items() if abs(grades[corner] / FOOT - row[0]) > 0.01} == moved


def test_walkout_dips_between_its_corners() -> None:
    finished, _ = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    profile = profile_along(finished, CORNERS["D"], CORNERS["C"])
    np.testing.assert_allclose(profile.station / FOOT, [0, 21, 44], rtol=0, atol=1e-6)
    np.testing.assert_allclose(profile.grade / FOOT, [205.40, 205.20, 205.45], rtol=0, atol=1e-6)


def test_plain_triangulation_reads_the_north_wall_wrong() -> None:
    """Without the shot in the middle of the wall, it is 2.6 ft below the outline's straight wall there."""
    keep = [point != "132" for point in SHOTS.point]
    without = only(SHOTS, keep)
    middle = (2122 * FOOT, 5220 * FOOT)
    plain, _ = finished_surface(without, {}, (), FOOT)
    held, _ = finished_surface(without, CORNERS, PARTS, FOOT)
    assert held.grade(*middle) / FOOT == pytest.approx(213.83, abs=HALF_DIGIT)
    assert (held.grade(*middle) - plain.grade(*middle)) / FOOT == pytest.approx(2.6, abs=0.05)


def test_no_finished_ground_inside() -> None:
    finished, _ = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    inside = np.array([(2122, 5205), (2156, 5218), (2144, 5213), (2101, 5219)]) * FOOT
    assert np.isnan(finished.grade(inside[:, 0], inside[:, 1])).all()
    existing, _ = existing_surface(SHOTS, FOOT)
    assert np.isfinite(existing.grade(inside[:, 0], inside[:, 1])).all()


def test_common_wall_has_no_finished_grade() -> None:
    finished, _ = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    assert np.isnan(profile_along(finished, CORNERS["B"], CORNERS["H"]).grade).all()
    house_side = profile_along(finished, CORNERS["B"], CORNERS["C"])
    (start, end), *others = gaps(house_side)
    assert not others
    assert (start / FOOT, end / FOOT) == (0.0, pytest.approx(14.0, abs=1e-6))
    assert house_side.grade[-1] / FOOT == pytest.approx(205.45, abs=1e-6)


@pytest.mark.parametrize("wall", ["DC", "AB", "AD", "BE", "EF", "FG", "GH", "HC"])
def test_footing_edge_lies_on_the_finished_ground(wall: str) -> None:
    """Five inches out of the wall, corner to corner; at an inside corner the end is in the other wall."""
    finished, _ = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    start, end = np.array(CORNERS[wall[0]]), np.array(CORNERS[wall[1]])
    along = (end - start) / np.hypot(*(end - start))
    left = np.array([-along[1], along[0]])
    sides = []
    for out in (left, -left):
        offset = 5 * 0.0254 * out
        sides.append(profile_along(finished, tuple(start + offset), tuple(end + offset)))
    bare = [np.isnan(side.grade).all() for side in sides]
    assert sorted(bare) == [False, True]
    outside = sides[bare.index(False)]
    assert not gaps(outside)
    face = profile_along(finished, tuple(start), tuple(end))
    far = np.interp(outside.station, face.station, face.grade) - outside.grade
    assert np.abs(far).max() < 0.5 * FOOT


def test_fall_away_from_the_walls() -> None:
    """Too little fall at the west wall and at the inside corner, enough on the walkout (6 in in 10 ft)."""
    finished, _ = finished_surface(SHOTS, CORNERS, PARTS, FOOT)
    places = {
        "west": ((2100, 5205), (-1, 0)),
        "inside corner": ((2144, 5195), (1, 0)),
        "walkout": ((2121, 5190), (0, -1)),
    }
    fall = {
        name: fall_away(finished, (at[0] * FOOT, at[1] * FOOT), out) / 0.0254
        for name, (at, out) in places.items()
    }
    assert fall["walkout"] == pytest.approx((205.20 - 204.45) * 12, abs=1e-6)  # shots 125 and 126
    assert fall["west"] < 6
    assert fall["inside corner"] < 6
    facing_garage = fall_away(finished, (2143 * FOOT, 5220 * FOOT), (1.0, 0.0))
    assert np.isnan(facing_garage)


def test_every_dropped_digit_is_found_and_nothing_else() -> None:
    for index in GROUND:
        elevation = SHOTS.elevation.copy()
        elevation[index] /= 10
        wrong = dataclasses.replace(SHOTS, elevation=elevation)
        told = set[str]()
        if SHOTS.kind[index] is not ShotKind.FINISHED:
            told |= {problem.place for problem in existing_surface(wrong, FOOT)[1]}
        if SHOTS.kind[index] is not ShotKind.EXISTING:
            told |= {problem.place for problem in finished_surface(wrong, CORNERS, PARTS, FOOT)[1]}
        assert told == {f"point {SHOTS.point[index]}"}


def test_sound_lot_has_nothing_to_report() -> None:
    walls = {pair: (CORNERS[pair[0]], CORNERS[pair[1]]) for pair in ("AB", "HC", "CD", "DA", "EF", "FG")}
    assert not check_walls(SHOTS, walls, FOOT)
    assert not check_corners(SHOTS, CORNERS)


def test_swapped_columns_show() -> None:
    text = demo_text().replace("point,northing,easting", "point,easting,northing")
    swapped, problems = read_shots(text, FOOT)
    assert not problems
    (problem,) = check_corners(swapped, CORNERS)
    assert problem.fatal
    assert "swap" in problem.sentence
