"""Profiles: gaps that stay gaps, lines on the rim, typed tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.ground import Profile
from foundation.site.profile import corner_profile, fall_away, gaps, profile_along, typed_profile
from foundation.site.surface import Surface
from foundation.site.terrain import finished_surface
from foundation.site.triangulation import delaunay
from tests.site.lot import FOOT, shots_of

HOUSE = {"A": (10.0, 30.0), "B": (40.0, 30.0), "C": (40.0, 10.0), "D": (10.0, 10.0)}
ROWS = [
    (f"{east}-{north}", north, east, 50 + 0.1 * north - 0.02 * east, "FG")
    for east in (0, 10, 25, 40, 50)
    for north in (0, 10, 30, 40)
]
SURFACE, _ = finished_surface(shots_of(ROWS), HOUSE, (("A", "B", "C", "D"),), 1.0)
coordinate = st.floats(-5, 55)


def plane(east: np.ndarray, north: np.ndarray) -> np.ndarray:
    return 50 + 0.1 * north - 0.02 * east


@given(coordinate, coordinate, coordinate, coordinate)
def test_profile_is_the_surface_along_the_line(e0: float, n0: float, e1: float, n1: float) -> None:
    length = np.hypot(e1 - e0, n1 - n0)
    if length < 0.1:
        return
    profile = profile_along(SURFACE, (e0, n0), (e1, n1))
    assert profile.station[0] == 0
    assert profile.station[-1] == pytest.approx(length, abs=1e-12)
    assert (np.diff(profile.station) > 0).all()
    station = (profile.station[1:] + profile.station[:-1]) / 2
    east, north = e0 + (e1 - e0) * station / length, n0 + (n1 - n0) * station / length
    found = np.interp(station, profile.station, profile.grade)
    ground = np.isfinite(found)
    inside = (east > 10.01) & (east < 39.99) & (north > 10.01) & (north < 29.99)
    outside = (east < -0.01) | (east > 50.01) | (north < -0.01) | (north > 40.01)
    assert not ground[inside | outside].any()
    clear = (east > 0.01) & (east < 49.99) & (north > 0.01) & (north < 39.99)
    clear &= (east < 9.99) | (east > 40.01) | (north < 9.99) | (north > 30.01)
    assert ground[clear].all()
    np.testing.assert_allclose(found[clear], plane(east, north)[clear], rtol=0, atol=1e-6)
    # On the rim up to a millimetre beside the ground, of slope 0.1.
    np.testing.assert_allclose(found[ground], plane(east, north)[ground], rtol=0, atol=2e-4)


def test_line_through_the_house() -> None:
    profile = profile_along(SURFACE, (25.0, 5.0), (25.0, 45.0))
    assert gaps(profile) == [(pytest.approx(5), pytest.approx(25)), (pytest.approx(35), pytest.approx(40))]
    assert np.isnan(np.interp([6, 15, 24, 36, 40], profile.station, profile.grade)).all()
    np.testing.assert_allclose(
        np.interp([0, 5, 25, 30, 35], profile.station, profile.grade),
        plane(np.full(5, 25.0), np.array([5.0, 10, 30, 35, 40])),
        rtol=0,
        atol=1e-9,
    )


@pytest.mark.parametrize("hair", [0.0, 1e-12, -1e-12, 1e-7, -1e-7, 5e-4, -5e-4])
def test_wall_line_is_on_the_rim(hair: float) -> None:
    """Drawn a hair inside, on, or outside the outline, the wall has its grade from corner to corner."""
    profile = profile_along(SURFACE, (10.0, 10 + hair), (40.0, 10 + hair))
    assert gaps(profile) == []
    east = 10 + profile.station
    np.testing.assert_allclose(profile.grade, plane(east, np.full(len(east), 10.0)), rtol=0, atol=1e-4)


def test_a_line_well_inside_is_not_on_the_rim() -> None:
    assert np.isnan(profile_along(SURFACE, (10.5, 10.005), (39.5, 10.005)).grade).all()


def test_wall_past_its_corners_and_off_the_ground() -> None:
    profile = profile_along(SURFACE, (0.0, 30.0), (60.0, 30.0))
    assert gaps(profile) == [(pytest.approx(50), pytest.approx(60))]


def test_both_ways_are_the_same() -> None:
    there = profile_along(SURFACE, (3.0, 2.0), (47.0, 38.0))
    back = profile_along(SURFACE, (47.0, 38.0), (3.0, 2.0))
    np.testing.assert_allclose(back.station[-1] - back.station[::-1], there.station, rtol=0, atol=1e-6)
    np.testing.assert_allclose(back.grade[::-1], there.grade, rtol=0, atol=1e-6)


def test_far_from_the_origin() -> None:
    """National grids run to millions of metres."""
    shift = np.array([6.1e6, 2.3e6, 0])
    moved = Surface("finished", SURFACE.points + shift, SURFACE.triangles, SURFACE.point_names)
    near = profile_along(SURFACE, (3.0, 2.0), (47.0, 6.0))
    far = profile_along(moved, (3.0 + shift[0], 2.0 + shift[1]), (47.0 + shift[0], 6.0 + shift[1]))
    np.testing.assert_allclose(np.interp(near.station, far.station, far.grade), near.grade, rtol=0, atol=1e-6)


def test_no_ground_at_all() -> None:
    profile = profile_along(SURFACE, (100.0, 0.0), (103.0, 4.0))
    assert profile.station.tolist() == [0.0, 5.0]
    assert np.isnan(profile.grade).all()
    assert gaps(profile) == [(0.0, 5.0)]


def test_no_line() -> None:
    with pytest.raises(ValueError, match="no length"):
        profile_along(SURFACE, (3.0, 3.0), (3.0, 3.0))


def test_gaps_of_a_whole_profile() -> None:
    assert gaps(Profile(np.array([0.0, 2.0, 5.0]), np.array([1.0, 2.0, 1.0]))) == []


def test_fall_away() -> None:
    south = fall_away(SURFACE, (25.0, 10.0), (0.0, -1.0), 10.0)
    assert south == pytest.approx(1.0, abs=1e-9)
    assert fall_away(SURFACE, (25.0, 30.0), (0.0, 1.0), 10.0) == pytest.approx(-1.0, abs=1e-9)
    assert np.isnan(fall_away(SURFACE, (25.0, 10.0), (0.0, -1.0), 10.5))  # the shots end
    assert np.isnan(fall_away(SURFACE, (25.0, 10.0), (0.0, 1.0), 5.0))  # into the house
    points = np.array([[0.0, 0, 5], [9, 0, 5], [0, 9, 8]])
    hill = Surface("finished", points, delaunay(points[:, :2], "shots"), ("1", "2", "3"))
    assert fall_away(hill, (0.0, 6.0), (0.0, -1.0)) == pytest.approx(10 * FOOT / 3, abs=1e-9)


def test_typed_table() -> None:
    profile, problems = typed_profile([0, 5.0, 13.0], [60, 61, 59.0], 12.0, FOOT)
    assert problems == ()
    assert profile is not None
    assert profile.station.tolist() == [0, 5, 12]
    assert profile.grade.tolist() == [60, 61, 59.25]


@pytest.mark.parametrize("last", [12.0 - 0.001, 12.0, 12.0 + 0.001])
def test_typed_table_meets_the_corner_within_a_sixteenth(last: float) -> None:
    profile, problems = typed_profile([0.0005, last], [60.0, 61.0], 12.0, FOOT)
    assert problems == ()
    assert profile is not None
    assert (profile.station[0], profile.station[-1]) == (0, 12)
    assert profile.grade[-1] == pytest.approx(61, abs=1e-3)


@pytest.mark.parametrize(
    ("stations", "grades", "says"),
    [
        ([0, 12], [60], "2 stations and 1 grades"),
        ([0], [60], "each end"),
        ([], [], "each end"),
        ([0, 5, 5, 12], [60, 60, 61, 61], "beyond the one before it, 5.00 m"),
        ([0, 7, 5, 12], [60, 60, 61, 61], "station 5.00 m: it must lie beyond"),
        ([1, 12], [60, 61], "the first must be 0"),
        ([-1, 12], [60, 61], "the first must be 0"),
        ([0, 11], [60, 61], "must reach the wall's other corner at 12.00 m"),
        ([0, 6, 12], [60, float("nan"), 61], "row 2: the station and the grade must both be numbers"),
        ([0, float("inf")], [60, 61], "row 2"),
    ],
)
def test_typed_table_with_a_fault(stations: list[float], grades: list[float], says: str) -> None:
    profile, problems = typed_profile(stations, grades, 12.0, 1.0, "wall A-B")
    assert profile is None
    assert any(says in problem.sentence for problem in problems), problems
    assert all(problem.fatal and problem.sentence.startswith("wall A-B") for problem in problems)


@pytest.mark.parametrize("bad", [(0, 1, 1), (-2, 1, 1), (float("inf"), 1, 1), (9, float("nan"), 1)])
def test_corner_grades_must_be_numbers(bad: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="length above 0"):
        corner_profile(*bad)
