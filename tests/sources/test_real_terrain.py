"""Real terrain: the elevation model of a fault that matplotlib ships among its sample data.

Source: matplotlib, ``cbook.get_sample_data("jacksboro_fault_dem.npz")``, 344 × 403 heights in whole metres on a
grid of 3 arc seconds (about 93 × 74 m). Checked against two interpolators made elsewhere: matplotlib's
``LinearTriInterpolator`` on the same triangles, and on the full grid the two bilinear halves that any
triangulation of a grid's cell must choose between.
"""

from __future__ import annotations

import numpy as np
import pytest
from matplotlib.cbook import get_sample_data
from matplotlib.tri import LinearTriInterpolator, Triangulation
from scipy.interpolate import LinearNDInterpolator

from foundation.site.checks import odd_elevations
from foundation.site.profile import profile_along
from foundation.site.surface import Surface
from foundation.site.triangulation import delaunay, with_lines

EAST_STEP, NORTH_STEP = 74.0, 93.0  # of the grid [m]


@pytest.fixture(scope="module")
def heights() -> np.ndarray:
    with get_sample_data("jacksboro_fault_dem.npz") as model:
        return model["elevation"].astype(float)


def scattered(heights: np.ndarray, count: int) -> np.ndarray:
    """Some of the grid's points, moved off it so that no four lie on one circle; heights are still real."""
    generator = np.random.default_rng(11)
    row, column = np.divmod(generator.choice(heights.size, count, replace=False), heights.shape[1])
    place = np.column_stack([column * EAST_STEP, row * NORTH_STEP]) + generator.uniform(-20, 20, (count, 2))
    return np.column_stack([place, heights[row, column]])


LINES = [((3000, 2000), (27000, 29000)), ((28000, 3000), (2500, 24000)), ((15000, 1500), (15000, 30000))]


@pytest.mark.parametrize("line", LINES)
def test_profiles_against_two_interpolators(heights: np.ndarray, line: tuple) -> None:
    points = scattered(heights, 4000)
    surface = Surface("existing", points, delaunay(points[:, :2], "shots"), ("",) * len(points))
    profile = profile_along(surface, *line)
    assert len(profile.station) > 60
    share = np.linspace(0, 1, 5_001)[1:-1]
    place = np.array(line[0]) + share[:, None] * np.subtract(line[1], line[0])
    found = np.interp(share * profile.station[-1], profile.station, profile.grade)
    same_triangles = LinearTriInterpolator(Triangulation(*points[:, :2].T, surface.triangles), points[:, 2])
    np.testing.assert_allclose(found, same_triangles(*place.T), rtol=0, atol=1e-6)
    own_triangles = LinearNDInterpolator(points[:, :2], points[:, 2])
    np.testing.assert_allclose(found, own_triangles(place), rtol=0, atol=1e-6)
    np.testing.assert_allclose(surface.grade(*place.T), found, rtol=0, atol=1e-6)


def test_profile_on_the_full_grid(heights: np.ndarray) -> None:
    """Within each cell of the grid the profile is one of the two ways to fold the cell along a diagonal."""
    window = heights[100:180, 150:240]
    row, column = np.indices(window.shape)
    points = np.column_stack([column.ravel() * EAST_STEP, row.ravel() * NORTH_STEP, window.ravel()])
    surface = Surface("existing", points, delaunay(points[:, :2], "shots"), ("",) * len(points))
    start, end = np.array([130.0, 250.0]), np.array([6300.0, 7100.0])
    profile = profile_along(surface, tuple(start), tuple(end))
    share = np.linspace(0, 1, 5_001)[1:-1]
    place = (start + share[:, None] * (end - start)) / (EAST_STEP, NORTH_STEP)
    found = np.interp(share * profile.station[-1], profile.station, profile.grade)
    cell = np.floor(place).astype(int)
    u, v = (place - cell).T
    z00, z10, z01, z11 = (window[cell[:, 1] + j, cell[:, 0] + i] for i, j in ((0, 0), (1, 0), (0, 1), (1, 1)))
    rising = z00 + np.where(u > v, u * (z10 - z00) + v * (z11 - z10), v * (z01 - z00) + u * (z11 - z01))
    falling = np.where(
        u + v < 1,
        z00 + u * (z10 - z00) + v * (z01 - z00),
        z11 + (1 - u) * (z01 - z11) + (1 - v) * (z10 - z11),
    )
    off = np.minimum(np.abs(found - rising), np.abs(found - falling))
    assert off.max() < 1e-6
    corners = np.stack([z00, z10, z01, z11])
    assert (found <= corners.max(axis=0) + 1e-6).all()
    assert (found >= corners.min(axis=0) - 1e-6).all()


def test_breaklines_through_real_terrain(heights: np.ndarray) -> None:
    """Along a breakline the profile is straight between its shots, whatever the terrain beside it does."""
    points = scattered(heights, 3000)
    generator = np.random.default_rng(5)
    lines = [[int(k) for k in generator.choice(len(points), 2, replace=False)] for _ in range(3)]
    crossings_level: dict[int, list[tuple[float, float]]] = {}
    cut, triangles, crossings = with_lines(points, lines, ["one", "two", "three"], "shots")
    for crossing in crossings:
        for line in crossing.lines:
            start = points[lines[line][0], :2]
            station = float(np.hypot(*(crossing.position - start)))
            crossings_level.setdefault(line, []).append((station, min(crossing.levels)))
    surface = Surface("existing", cut, triangles, ("",) * len(cut))
    for number, (start, end) in enumerate(lines):
        profile = profile_along(surface, tuple(points[start, :2]), tuple(points[end, :2]))
        known = [
            (0.0, points[start, 2]),
            *sorted(crossings_level.get(number, [])),
            (profile.station[-1], points[end, 2]),
        ]
        straight = np.interp(profile.station, *np.array(known).T)
        np.testing.assert_allclose(profile.grade, straight, rtol=0, atol=1e-5)


def test_no_sound_height_is_odd_and_every_dropped_digit_is(heights: np.ndarray) -> None:
    points = scattered(heights, 20_000)
    triangles = delaunay(points[:, :2], "shots")
    sound, _ = odd_elevations(points, triangles)
    assert len(sound) == 0
    wrong = np.random.default_rng(2).choice(len(points), 25, replace=False)
    points[wrong, 2] /= 10
    found, _ = odd_elevations(points, triangles)
    assert set(found.tolist()) == set(wrong.tolist())
