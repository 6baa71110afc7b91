"""Surfaces whose grade is known in closed form: plane, ridge, cone [derived]."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.site.profile import profile_along
from foundation.site.surface import Surface
from foundation.site.terrain import existing_surface, finished_surface
from foundation.site.triangulation import delaunay
from tests.site.lot import shots_of

MICROMETRE = 1e-6  # nodes of a profile closer than this are one [m]


def surface_of(east: np.ndarray, north: np.ndarray, level: np.ndarray) -> Surface:
    points = np.column_stack([east, north, level])
    names = tuple(str(index) for index in range(len(points)))
    return Surface("existing", points, delaunay(points[:, :2], "shots"), names)


@given(st.floats(-2, 2), st.floats(-2, 2), st.floats(0, 2 * np.pi), st.integers(0, 20))
def test_plane(slope_east: float, slope_north: float, angle: float, seed: int) -> None:
    """On a plane every profile is one straight line, wherever its triangles lie."""
    generator = np.random.default_rng(seed)
    east, north = generator.uniform(0, 60, (2, 40))
    east, north = np.r_[east, 0, 60, 60, 0], np.r_[north, 0, 0, 60, 60]
    surface = surface_of(east, north, 210 + slope_east * east + slope_north * north)
    start = np.array([30 - 25 * np.cos(angle), 30 - 25 * np.sin(angle)])
    profile = profile_along(surface, tuple(start), tuple(60 - start))
    assert profile.station[0] == 0
    assert profile.station[-1] == pytest.approx(50, abs=1e-12)
    assert (np.diff(profile.station) > 0).all()
    rise = slope_east * np.cos(angle) + slope_north * np.sin(angle)
    exact = 210 + slope_east * start[0] + slope_north * start[1] + rise * profile.station
    np.testing.assert_allclose(profile.grade, exact, rtol=0, atol=MICROMETRE)


RIDGE = [
    ("1", -40.0, 0.0, 10.0, "EG line=crest"),
    ("2", 40.0, 0.0, 10.0, "EG line=crest"),
    *((f"w{north}", float(north), -6.0, 4.0, "EG") for north in range(-40, 41, 8)),
    *((f"e{north}", float(north), 4.0, 7.0, "EG") for north in range(-36, 37, 8)),
]
"""Crest along north at east 0 and level 10, falling 1 to the west and 0.75 to the east; shot at its ends only."""


def ridge(east: float | np.ndarray) -> float | np.ndarray:
    return 10 - np.where(np.asarray(east) < 0, -np.asarray(east), 0.75 * np.asarray(east))


def test_ridge_holds_with_its_breakline() -> None:
    surface, problems = existing_surface(shots_of(RIDGE), 1.0)
    assert not problems
    profile = profile_along(surface, (-5.0, -20.0), (3.0, 12.0))
    length = np.hypot(8, 32)
    east = -5 + 8 * profile.station / length
    np.testing.assert_allclose(profile.grade, ridge(east), rtol=0, atol=MICROMETRE)
    assert np.abs(east).min() == pytest.approx(0, abs=MICROMETRE)  # a node on the crest itself
    along_crest = profile_along(surface, (0.0, -30.0), (0.0, 30.0))
    np.testing.assert_allclose(along_crest.grade, 10, rtol=0, atol=MICROMETRE)


def test_ridge_is_lost_without_it() -> None:
    """Plain triangles span the valley shots across the crest: metres of error, which the breakline is for."""
    plain, _ = existing_surface(shots_of([(*row[:4], "EG") for row in RIDGE]), 1.0)
    assert plain.grade(0.0, 0.0) < 10 - 3


def cone(rings: int, spokes: int) -> Surface:
    angle = np.arange(spokes) * 2 * np.pi / spokes
    radius = np.arange(1, rings + 1) * 10 / rings
    east = np.r_[0, np.outer(radius, np.cos(angle)).ravel()]
    north = np.r_[0, np.outer(radius, np.sin(angle)).ravel()]
    return surface_of(east, north, 100 - 0.5 * np.hypot(east, north))


def test_cone_along_a_spoke_is_exact() -> None:
    """A line through the apex along two spokes follows edges: 100 − r/2 at every node, the apex one of them."""
    profile = profile_along(cone(5, 16), (-10.0, 0.0), (10.0, 0.0))
    np.testing.assert_allclose(
        profile.grade, 100 - 0.5 * np.abs(profile.station - 10), rtol=0, atol=MICROMETRE
    )
    assert 10.0 in profile.station.round(6)


def test_cone_converges_at_second_order() -> None:
    """Beside the apex, halving the triangles quarters the error of flat triangles."""
    station = np.linspace(0, 12, 400)
    exact = 100 - 0.5 * np.hypot(station - 6, 4)
    error = []
    for rings in (8, 16, 32):
        profile = profile_along(cone(rings, 5 * rings), (-6.0, 4.0), (6.0, 4.0))
        error.append(np.abs(np.interp(station, profile.station, profile.grade) - exact).max())
    rates = np.log2(np.divide(error[:-1], error[1:]))
    assert (rates > 1.7).all(), (error, rates)


def test_courtyard_and_building_on_a_plane() -> None:
    """A ring of four parts leaves its courtyard as ground; around and in it the plane stays exact."""
    rows = [
        (str(k), north, east, 50 + 0.1 * east - 0.2 * north, "FG")
        for k, (north, east) in enumerate((n, e) for n in range(-20, 21, 5) for e in range(-20, 21, 5))
    ]
    outer = {"A": (-10.3, -10.3), "B": (10.3, -10.3), "C": (10.3, 10.3), "D": (-10.3, 10.3)}
    inner = {"a": (-6.2, -6.2), "b": (6.2, -6.2), "c": (6.2, 6.2), "d": (-6.2, 6.2)}
    wings = [("A", "B", "b", "a"), ("B", "C", "c", "b"), ("C", "D", "d", "c"), ("D", "A", "a", "d")]
    surface, problems = finished_surface(shots_of(rows), outer | inner, wings, 1.0)
    told = [problem for problem in problems if "no finished shot" in problem.sentence]
    assert {problem.place for problem in told} == {f"corner {name}" for name in "ABCDabcd"}
    assert not any(problem.fatal for problem in problems)
    generator = np.random.default_rng(3)
    east, north = generator.uniform(-20, 20, (2, 4000))
    far = np.maximum(np.abs(east), np.abs(north))
    clear = (np.abs(far - 6.2) > 0.01) & (np.abs(far - 10.3) > 0.01)
    grade = surface.grade(east, north)
    built = (far > 6.2) & (far < 10.3)
    assert np.isnan(grade[clear & built]).all()
    ground = clear & ~built
    np.testing.assert_allclose(
        grade[ground], (50 + 0.1 * east - 0.2 * north)[ground], rtol=0, atol=MICROMETRE
    )
